"""Sheets hold what they should, however odd the words: type embedded, cautions whole, nothing lost or clipped."""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageDraw
from pypdf import PdfReader

from presenter.documents.blocks import Span, plain
from presenter.documents.page_text import read_page_text
from presenter.printing import (
    MissingLettersError,
    PictureError,
    Setting,
    SettingError,
    SheetAbout,
    missing_letters,
    print_sheet,
)
from presenter.printing import style as look
from presenter.printing.charts import ticks
from presenter.printing.figures import code_modules
from presenter.printing.lines import break_lines

Printed = Callable[[str, Setting], bytes]
PAPERS = [Setting(paper, size) for paper in ("A4", "Letter", "A3", "A5", "A6") for size in ("ordinary", "large")]
CARDS = [Setting(paper, size, "cards") for paper in ("A4", "Letter") for size in ("ordinary", "large")]


def words_of(data: bytes) -> str:
    """The extracted words of all pages, whitespace as single spaces."""
    return " ".join(" ".join(page.extract_text() for page in PdfReader(io.BytesIO(data)).pages).split())


def sheet(text: str, about: SheetAbout, setting: Setting | None = None) -> bytes:
    """A sheet of page text."""
    return print_sheet(read_page_text(text), about, setting or Setting())


@pytest.mark.parametrize("setting", [*PAPERS, *CARDS], ids=str)
def test_words_are_printed_once_and_in_order(setting: Setting, about: SheetAbout) -> None:
    """Every word of a long note is on the sheet, in order, on every paper, in both prints and on cards."""
    counted = [f"word{number}" for number in range(3000)]
    bare = replace(about, foot="", running_head="")
    found = re.findall(
        r"word\d+", words_of(sheet("# Long\n\n```note kind=history\n" + " ".join(counted) + "\n```", bare, setting))
    )
    assert found == counted


@pytest.mark.parametrize("setting", PAPERS, ids=str)
def test_nothing_is_drawn_outside_the_page(setting: Setting, about: SheetAbout) -> None:
    """Long words, tall cells and long headings stay between the margins."""
    text = (
        "# W\n\n"
        + "x" * 900
        + "\n\n| a | b |\n| --- | --- |\n| "
        + "y" * 300
        + " | "
        + "word " * 900
        + "|\n\n## "
        + "heading" * 30
        + "\n\n"
        + "a" * 80
        + "-"
        + "b" * 80
    )
    style = look.style_for(setting)
    for page in PdfReader(io.BytesIO(sheet(text, about, setting))).pages:
        places: list[tuple[float, float, str]] = []

        def see(
            words: str, _: object, matrix: list[float], *__: object, places: list[tuple[float, float, str]] = places
        ) -> None:
            if words.strip():
                places.append((matrix[4], matrix[5], words))

        page.extract_text(visitor_text=see)
        assert places
        assert all(0 < x < style.width - style.right and 0 < y < style.height for x, y, _ in places)


def test_lines_fit_the_column() -> None:
    """No line is wider than its column, words are kept unless they are wider, and no letter is lost."""

    @settings(max_examples=300, deadline=None)
    @given(st.text(st.sampled_from("abc dé-–/\u00a0W.\n1"), max_size=120), st.floats(30, 300), st.booleans())
    def check(text: str, width: float, strong: bool) -> None:
        lines = break_lines((Span(text, strong), Span("tail", not strong)), 12, width)
        assert all(line.width <= width + 0.02 for line in lines)
        drawn = "".join(run.text for line in lines for run in line.runs)
        assert re.sub(r"[ \n]", "", drawn) == re.sub(r"[ \n]", "", text + "tail")

    check()


def test_rows_of_a_long_table_are_all_there(printed: Printed) -> None:
    """A table of 200 rows prints each row once and repeats its head on each page."""
    reader = PdfReader(io.BytesIO(printed("rows", Setting())))
    assert [int(row) for row in re.findall(r"row (\d+)", words_of(printed("rows", Setting())))] == list(range(200))
    assert all("Row Words Value" in " ".join(page.extract_text().split()) for page in reader.pages)


@pytest.mark.parametrize("setting", [*PAPERS[:4], *CARDS], ids=str)
def test_caution_words_read_whole(setting: Setting, printed: Printed) -> None:
    """The exact words of each caution stand whole, in order, in the extracted text of one page."""
    name = "short" if setting.layout == "pages" else "cards"
    pages = [" ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(printed(name, setting))).pages]
    wanted = {
        "short": [
            "Danger: Scalding liquid Liquid at this heat scalds at once. Nobody but the presenter stands within arm’s "
            "reach, and the tub stands on the floor behind the rope.",
            "Warning: Do not lift or carry a full hot pot alone. Empty it by tap, jug or siphon, let it cool, or use "
            "two people, a clear path and a firm table.",
            "Never: No old glazed pots Never hold ale or wort in old or unknown glazed earthenware. Glaze may hold "
            "lead, and sour liquid draws it out.",
        ],
        "cards": ["Danger: Scalding liquid Nobody but the presenter within arm’s reach."],
    }[name]
    for words in wanted:
        assert any(words in page for page in pages), words


def test_a_card_that_goes_on_repeats_its_caution(printed: Printed) -> None:
    """The second card of a step repeats the step's name and the heading of its caution."""
    text = words_of(printed("cards", Setting("A4", "large", "cards")))
    assert "First mash, continued" in text
    assert "Read first: Danger: Scalding liquid" in text


def test_printed_addresses_are_links(about: SheetAbout) -> None:
    """An address printed in words leads where it says, without the full stop or bracket after it."""
    data = sheet("# A\n\nSee (https://harrowmere.example/a_b?c=1), or https://harrowmere.example/d.", about)
    links = [note.get_object()["/A"]["/URI"] for note in PdfReader(io.BytesIO(data)).pages[0]["/Annots"]]
    assert links == ["https://harrowmere.example/a_b?c=1", "https://harrowmere.example/d"]


@pytest.mark.parametrize("setting", [Setting(), Setting("Letter", "large"), *CARDS], ids=str)
def test_type_is_embedded_and_no_letter_is_blank(setting: Setting, printed: Printed) -> None:
    """Every font of every page is embedded, and no letter extracts as nothing or as a black box."""
    data = printed("short" if setting.layout == "pages" else "cards", setting)
    fonts = 0
    for page in PdfReader(io.BytesIO(data)).pages:
        for font in page["/Resources"].get("/Font", {}).values():
            assert "/FontFile2" in font.get_object()["/FontDescriptor"], font.get_object()["/BaseFont"]
            fonts += 1
        text = page.extract_text()
        assert "\u0000" not in text
        assert "\u25a0" not in text
        assert "\ufffd" not in text
    assert fonts


def test_same_input_same_bytes(about: SheetAbout, printed: Printed) -> None:
    """Printing the same page text twice gives the same bytes, and another date gives others."""
    text = (Path(__file__).parent / "two_ales.md").read_text(encoding="utf-8")
    assert sheet(text, about) == printed("short", Setting()) == sheet(text, about)
    assert sheet(text, replace(about, date=about.date.replace(year=2027))) != printed("short", Setting())


def test_missing_letters_are_found_before_drawing(about: SheetAbout) -> None:
    """Letters that the type lacks are named; those of medieval English, Greek and Cyrillic are there."""
    assert missing_letters("þorn ƿynn ȝogh ǣ ḫ α ж → ☐ ⚠ e\u0301") == ()
    assert missing_letters("ale בירה \U0001f37a ale") == ("ב", "י", "ר", "ה", "\U0001f37a")
    with pytest.raises(MissingLettersError, match=r"because the type lacks them: \N{BEER MUG} \(U\+1F37A\)"):
        sheet("A \N{BEER MUG}", about)


def test_pictures_are_printed_or_named(tmp_path: Path, about: SheetAbout) -> None:
    """A picture prints with its alternative text; a missing, false or cut-off one is named."""
    picture = Image.new("RGBA", (80, 40), (255, 0, 0, 0))
    ImageDraw.Draw(picture).rectangle((10, 10, 60, 30), fill="black")
    picture.save(tmp_path / "tub.png")
    (tmp_path / "false.png").write_text("not a picture")
    (tmp_path / "cut.png").write_bytes((tmp_path / "tub.png").read_bytes()[:60])
    here = replace(about, folder=tmp_path)
    data = sheet("# A\n\n![The tub](tub.png)", here)
    assert len(PdfReader(io.BytesIO(data)).pages[0].images) == 1
    assert b"(The tub)" in data
    for path, wrong in (
        ("none.png", "is not there"),
        ("false.png", "is not a picture that can be read; PNG and JPEG can"),
        ("cut.png", "cannot be opened as a picture; the file may be damaged"),
    ):
        with pytest.raises(PictureError) as caught:
            sheet(f"![x]({path})", here)
        assert str(caught.value) == f"The picture '{path}' {wrong}."
        assert caught.value.path == path


def test_wrong_settings_are_refused() -> None:
    """A paper that there is none of, and cards on a paper without a plan, give a clear message."""
    with pytest.raises(SettingError, match=r"There is no paper 'Leter'; .* Did you mean Letter\?"):
        Setting("Leter")
    with pytest.raises(SettingError, match="Cards are laid out on A4 or Letter, not on A3"):
        Setting("A3", layout="cards")


# --- the design


def _luminance(colour: str) -> float:
    """Relative luminance of a colour as defined by WCAG 2.2."""
    parts = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.parametrize("colour", [look.INK, look.QUIET, look.ACCENT])
@pytest.mark.parametrize("ground", [look.GROUND, look.SHADE, look.DEEP_SHADE])
def test_contrast_matches_published_minimum(colour: str, ground: str) -> None:
    """Each colour of words on each ground has the contrast of 4.5 to 1 that WCAG 2.2 asks for (criterion 1.4.3)."""
    light, dark = sorted((_luminance(colour), _luminance(ground)), reverse=True)
    assert (light + 0.05) / (dark + 0.05) >= 4.5


def test_severities_differ_without_colour() -> None:
    """On a grey copy severities differ by their words and by the thickness of their bars, in the order of severity."""
    order = ["never", "danger", "warning", "caution", "notice"]
    assert len({look.SEVERITY_WORDS[severity] for severity in order}) == 5
    bars = [look.CAUTION_RULES[severity] for severity in order]
    assert bars == sorted(bars, reverse=True)
    assert len(set(bars)) == 5


@pytest.mark.parametrize("setting", [*PAPERS, *CARDS], ids=str)
def test_sizes_match_published_minimum(setting: Setting) -> None:
    """Type is at least as large as UKAAF MS03 (2012) and G003 (2019) ask, cards as large as our design allows."""
    style = look.style_for(setting)
    kinds = [style.small, style.body, style.heading, style.title]
    small = setting.layout == "cards" or setting.paper == "A6"
    least = 16 if setting.print == "large" else 11 if small else 12
    assert min(kind.size for kind in kinds) >= least
    assert style.body.size >= (18 if setting.print == "large" else least)
    for kind in kinds:
        assert 1.3 <= kind.leading / kind.size <= 1.45
        assert kind.leading / style.unit == pytest.approx(round(kind.leading / style.unit), abs=1e-9)


@pytest.mark.parametrize("setting", [setting for setting in PAPERS if setting.paper in ("A4", "Letter")], ids=str)
def test_line_length_is_readable(setting: Setting) -> None:
    """A full line of running words holds 45 to 75 characters (Bringhurst's range, as the design quotes it)."""
    style = look.style_for(setting)
    first = next(block for block in read_page_text(PROSE))
    lines = break_lines(first.words, style.body.size, style.column)  # type: ignore[union-attr]
    lengths = [len(plain(tuple(Span(run.text) for run in line.runs)).strip()) for line in lines[:-1]]
    assert 45 <= sum(lengths) / len(lengths) <= 75


PROSE = (
    "Household accounts name the grain and the ale but no temperature. A later writer lets the water stand until the "
    "brewer sees a face in it. That tells us that it was judged by eye, not how hot it was. Two portions settle "
    "between their temperatures, nearer to the one that holds more of the heat."
)


# --- charts and codes


@given(st.floats(-1000, 1000), st.floats(0.01, 5000), st.integers(2, 15))
def test_ticks_lie_in_range_evenly(low: float, spread: float, most: int) -> None:
    """Ticks lie inside the range, evenly spaced, no more than asked for."""
    found = ticks(low, low + spread, most)
    assert len(found) <= most
    assert all(low - spread * 1e-6 - 1e-9 <= tick <= low + spread * (1 + 1e-6) + 1e-9 for tick in found)
    steps = [after - before for before, after in pairwise(found)]
    assert all(step == pytest.approx(steps[0], rel=1e-6, abs=1e-9) for step in steps)


def test_code_matches_published_patterns() -> None:
    """A code has the three finder patterns and the timing pattern of ISO/IEC 18004 (shapes from memory)."""
    rows = code_modules("https://harrowmere.example/two-ales")
    size = len(rows)
    assert (size - 17) % 4 == 0
    finder = ["1111111", "1000001", "1011101", "1011101", "1011101", "1000001", "1111111"]
    for down, across in ((0, 0), (0, size - 7), (size - 7, 0)):
        assert ["".join("01"[dark] for dark in row[across : across + 7]) for row in rows[down : down + 7]] == finder
    assert [rows[6][place] for place in range(8, size - 8)] == [place % 2 == 0 for place in range(8, size - 8)]
