"""Bad input: a clear Problem at its place, or sheets that still read; never a blank, a clipped line or a trace."""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable
from pathlib import Path

import pypdf
import pytest
from PIL import Image

from presenter.cautions import cautions_of
from presenter.documents import documents_for
from presenter.lesson import demo_folder, load_lesson
from presenter.problems import ProblemsFoundError
from presenter.releasing import problems_of_letters, release
from presenter.working import work_out

Change = Callable[[str], str]


def released(
    folder: Path, *, lesson: Change = str, handout: Change = str, notes: str = "", library: Change | None = None,
    names: tuple[str, ...] = ("handout",),
) -> dict[str, str]:  # fmt: skip
    """The text of the demo lesson's sheets after changes to its file, its own template, its notes or its library."""
    shutil.copytree(demo_folder("lessons_demo"), folder / "library")
    own = folder / "library" / "netherfold-two-ales"
    path = own / "lesson.yaml"
    path.write_text(lesson(path.read_text(encoding="utf-8")), encoding="utf-8")
    template = (demo_folder("templates") / "handout.md.j2").read_text(encoding="utf-8")
    (own / "templates").mkdir()
    if handout is not str:
        (own / "templates" / "handout.md.j2").write_text(handout(template), encoding="utf-8")
    if library is not None:
        (folder / "library" / "templates").mkdir()
        (folder / "library" / "templates" / "handout.md.j2").write_text(library(template), encoding="utf-8")
    if notes:
        (own / "notes" / "science").mkdir(parents=True)
        (own / "notes" / "science" / "own.yaml").write_text(notes, encoding="utf-8")
    Image.new("RGB", (40, 20), "black").save(own / "tub.png")
    (own / "false.png").write_text("not a picture", encoding="utf-8")
    worked = work_out(load_lesson(own), spreads=False)
    cautioned = cautions_of(worked)
    sheets = release(documents_for(worked, cautioned, names), cautioned, folder / "out")
    return {
        sheet.path.stem: "\n".join(page.extract_text() for page in pypdf.PdfReader(sheet.path).pages)
        for sheet in sheets
    }


@pytest.mark.parametrize(
    ("picture", "wrong"),
    [
        ("none.png", "The picture 'none.png' is not there."),
        ("false.png", "The picture 'false.png' is not a picture that can be read; PNG and JPEG can."),
    ],
)
def test_a_missing_or_false_picture_is_told(picture: str, wrong: str, tmp_path: Path) -> None:
    """This test ensures that a picture which is missing, or is none, gives a Problem at the template that wants it."""
    with pytest.raises(ProblemsFoundError) as caught:
        released(tmp_path, handout=lambda text: text + f"\n\n![The tub]({picture})\n")
    (problem,) = caught.value.problems
    assert problem.wrong == wrong
    assert problem.place.file.endswith("handout.md.j2")
    assert not list((tmp_path / "out").glob("*")) if (tmp_path / "out").exists() else True


def test_a_picture_is_printed(tmp_path: Path) -> None:
    """This test ensures that a picture which is there is printed, so that the refusals above are not of all."""
    assert released(tmp_path, handout=lambda text: text + "\n\n![The tub](tub.png)\n")["handout"]


@pytest.mark.parametrize("names", [("handout", "step-cards", "numbers-sheet")])
def test_a_long_word_is_all_there(names: tuple[str, ...], tmp_path: Path) -> None:
    """This test ensures that a word longer than the column is broken, not clipped, on pages, cards and in tables."""
    word = "Grossbottichaufhackmaschinenwart" * 6
    found = released(
        tmp_path, names=names, lesson=lambda text: text.replace("Scrub the tub", f"{word} Scrub the tub", 1)
    )
    for name in ("handout", "step-cards"):
        assert word in re.sub(r"\s+", "", found[name])


def test_a_note_of_three_thousand_words_reads(tmp_path: Path) -> None:
    """This test ensures that a note of 3,000 words is printed whole and in order."""
    said = " ".join(f"word{number}" for number in range(3000))
    notes = f"cool-fast:\n  title: A very long note\n  say: {said}\n  rests_on: common practice\n  reader: younger\n"
    text = released(tmp_path, notes=notes)["handout"]
    assert [int(number) for number in re.findall(r"word(\d+)", text)] == list(range(3000))


@pytest.mark.parametrize("letters", ["\N{BEER MUG}", "בירה"])
def test_letters_the_type_lacks_are_told_at_their_note(letters: str, tmp_path: Path) -> None:
    """This test ensures that an emoji or a right-to-left word in a note is told at the note, and nothing is drawn."""
    notes = f"cool-fast:\n  title: Cool fast\n  say: Cool it {letters} fast.\n  rests_on: common practice\n"
    with pytest.raises(ProblemsFoundError) as caught:
        released(tmp_path, notes=notes)
    (problem,) = caught.value.problems
    assert problem.place.file.endswith("own.yaml")
    assert problem.place.line == 1
    lacking = ", ".join(dict.fromkeys(letters))
    assert problem.wrong.startswith(f"No sheet can print {lacking}: the type lacks ")
    assert not (tmp_path / "out").exists()


def test_letters_the_type_lacks_are_told_at_their_line() -> None:
    """This test ensures that a right-to-left word in a lesson is told at its line and column."""
    (problem,) = problems_of_letters("title: Ale\nscene: a yard in בירה\n", "lesson.yaml")
    assert (problem.place.line, problem.place.column) == (2, 18)
    assert problem.wrong == "No sheet can print ב, י, ר, ה: the type lacks them."


def test_a_table_of_two_hundred_rows_reads(tmp_path: Path) -> None:
    """This test ensures that a table of 200 rows in a template is printed whole, its head on each of its pages."""
    rows = "\n".join(f"| row {number} | some words |" for number in range(200))
    text = released(tmp_path, handout=lambda text: text + f"\n\n| Rows | Words |\n| --- | --- |\n{rows}\n")["handout"]
    assert [int(number) for number in re.findall(r"row (\d+)", text)] == list(range(200))
    assert len(re.findall(r"Rows\s+Words", text)) >= 5


def test_the_librarys_template_wins_and_the_lessons_wins_over_it(tmp_path: Path) -> None:
    """This test ensures that a template in the library's folder is taken, and one in the lesson's before it."""
    one = released(tmp_path / "one", library=lambda text: text + "\n\nFrom the library.\n")
    assert "From the library." in one["handout"]
    both = released(
        tmp_path / "both",
        library=lambda text: text + "\n\nFrom the library.\n",
        handout=lambda text: text + "\n\nFrom the lesson.\n",
    )
    assert "From the lesson." in both["handout"]
    assert "From the library." not in both["handout"]


def test_the_librarys_template_cannot_move_a_caution(tmp_path: Path) -> None:
    """This test ensures that a library's template without a step's cautions releases nothing."""
    with pytest.raises(ProblemsFoundError) as caught:
        released(tmp_path, library=lambda text: text.replace("{{ step.cautions() }}", ""))
    assert "lacks the mandatory caution" in caught.value.told()
    assert not (tmp_path / "out").exists()


def test_us_sheets_turn_the_figures_in_labels(tmp_path: Path) -> None:
    """This test ensures that in US measures a label's temperature turns too, and the sheet says once what does not."""
    from presenter.documents import Asked

    worked = work_out(load_lesson(demo_folder("lessons_demo") / "netherfold-two-ales"), spreads=False)
    cautioned = cautions_of(worked)
    (document,) = documents_for(worked, cautioned, ["handout"], Asked("us"))
    text = document.page_text.replace("\u00a0", " ")
    assert "at 68 °F" in text
    assert "at 20 °C" not in text
    assert text.count("keep those they were written in") == 1
