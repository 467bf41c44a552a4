"""Sheets are tagged so that a screen reader can follow them: two checkers, our own walk, and poppler's reading."""

from __future__ import annotations

import io
import re
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

import outloud
import pdfua
import pytest
from pypdf import PdfReader

from presenter.printing import Setting

Printed = Callable[[str, Setting], bytes]
SETTINGS = [Setting(paper, size) for paper in ("A4", "Letter") for size in ("ordinary", "large")]
CARD_SETTINGS = [
    Setting(paper, size, layout)
    for paper in ("A4", "Letter")
    for size in ("ordinary", "large")
    for layout in ("cards", "single cards")
]
SHEETS = [
    *(("short", setting) for setting in SETTINGS),
    ("long", SETTINGS[0]),
    ("long", SETTINGS[3]),
    ("rows", SETTINGS[0]),
    *(("cards", setting) for setting in CARD_SETTINGS),
]
# Warnings of `outloud` that we let stand, with the reason. Its errors never stand.
ALLOWED = {
    # A card is cut out and read by itself: its foot says which card it is, so it is content, and it stands on each.
    ("cards", "PAG-001"),
    # Samples that say the same lines again and again: by chance some stand at the head of three pages.
    ("long", "PAG-001"),
    ("rows", "PAG-001"),
    # A list that goes on to a second card is one element; the name repeated on that card is read after the list.
    ("cards", "ORD-001"),
}


def named(value: object) -> str:
    """A short name for a sheet."""
    return f"{value.paper}-{value.print}-{value.layout}" if isinstance(value, Setting) else str(value)


@pytest.mark.parametrize(("text", "setting"), SHEETS, ids=named)
def test_checkers_find_no_error(text: str, setting: Setting, tmp_path: Path, printed: Printed) -> None:
    """Both PDF/UA checkers find no error, skip no rule, and warn only of what is allowed with a reason."""
    path = tmp_path / "sheet.pdf"
    path.write_bytes(printed(text, setting))
    report = pdfua.validate(str(path))
    assert [f"{found.rule_id}: {found.message}" for found in report.findings] == []
    assert [f"{outcome.rule_id}: {outcome.skipped_reason}" for outcome in report.skipped] == []
    result = outloud.check(str(path))
    assert result.error is None
    found = [(finding.rule, finding.severity, finding.message) for finding in result.findings]
    names = {text, "pages" if setting.layout == "pages" else "cards"}
    allowed = {rule for name, rule in ALLOWED if name in names}
    assert [line for line in found if line[1] == "error"] == []
    assert [line for line in found if line[1] == "warning" and line[0] not in allowed] == []


def test_the_long_sheet_is_long(printed: Printed) -> None:
    """The sample of more than forty pages has them, so that the checks above reach page ends and repeated heads."""
    assert len(PdfReader(io.BytesIO(printed("long", SETTINGS[0]))).pages) > 40


@pytest.mark.parametrize(
    ("text", "setting"), [SHEETS[0], SHEETS[3], ("long", SETTINGS[0]), ("cards", CARD_SETTINGS[0])], ids=named
)
def test_each_mark_leads_to_its_element_and_back(
    text: str, setting: Setting, printed: Printed, marks_hold: Callable[[bytes], int]
) -> None:
    """Each marked content leads through the parent tree to the element that holds it, on the last page too."""
    assert marks_hold(printed(text, setting)) > 10


def test_document_says_what_it_is(printed: Printed) -> None:
    """The title, language, PDF/UA part and the lesson's date stand in the document, the title to be shown."""
    reader = PdfReader(io.BytesIO(printed("short", SETTINGS[0])))
    root = reader.trailer["/Root"]
    assert root["/Lang"] == "en-GB"
    assert root["/MarkInfo"]["/Marked"]
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert b"<pdfuaid:part>1</pdfuaid:part>" in root["/Metadata"].get_data()
    assert reader.metadata.title == "Two ales from one mash: handout"
    assert reader.metadata["/CreationDate"] == "D:20260502120000+00'00'"


def test_bookmarks_follow_the_headings(printed: Printed) -> None:
    """The outline lists the headings in order, with their step numbers."""
    reader = PdfReader(io.BytesIO(printed("short", SETTINGS[0])))
    flat = [entry for group in reader.outline for entry in (group if isinstance(group, list) else [group])]
    titles = [entry.title for part in flat for entry in (part if isinstance(part, list) else [part])]
    assert titles == [
        "Two ales from one mash",
        "1 Heat the water",
        "2 First mash",
        "What we changed",
        "3 Draw off the strong wort",
        "Sources",
    ]


@pytest.mark.skipif(shutil.which("pdfinfo") is None, reason="poppler's pdfinfo is not installed here")
def test_structure_reads_as_the_page_text(tmp_path: Path, printed: Printed) -> None:
    """Poppler reads headings, paragraphs, cautions, tables and notes in the order of the page text, words apart."""
    path = tmp_path / "sheet.pdf"
    path.write_bytes(printed("short", SETTINGS[0]))
    output = subprocess.run(["pdfinfo", "-struct-text", str(path)], capture_output=True, check=True).stdout.decode()
    spoken = " ".join("".join(re.findall(r'^\s*"(.*)"$', output, re.MULTILINE)).split())
    at = 0
    for words in (
        "Two ales from one mash",
        "Harrowmere Open-Air Museum (invented) shows how the household of Netherfold",
        "the Four Brewhouses trail",
        "Danger: Scalding liquid",
        "Liquid at this heat scalds at once. Nobody but the presenter stands within arm’s reach, and the tub stands on "
        "the floor behind the rope.",
        "mash and draw off",
        "1 Heat the water",
        "74.3\u00a0°C",
        "strike water, kettle to tub, ±\u00a01.6\u00a0°C",
        "What",
        "Worked",
        "Water for the first mash",
        "12.0\u00a0L",
        "Fill the kettle",
        "History. The brewer’s face in the steam. Household accounts",
        "attested in a primary source · we are sure",
        "2 First mash",
        "75\u00a0min",
        "Warning: Do not lift or carry a full hot pot alone.",
        "Never: No old glazed pots",
        "Departures from the record",
        "no thermometer; the brewer judged by face and finger",
        "3 Draw off",
        "Sources",
    ):
        wanted = " ".join(words.split())
        place = spoken.replace("\u00a0", " ").find(wanted.replace("\u00a0", " "), at)
        assert place >= 0, wanted
        at = place
