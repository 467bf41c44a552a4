"""The sample sheets that the printing tests read: one of a few pages, one of more than forty, a long table, cards."""

from __future__ import annotations

import datetime
import io
import re
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest
from pypdf import PdfReader
from pypdf.generic import ArrayObject, IndirectObject

from presenter.documents.page_text import read_page_text
from presenter.printing import Setting, SheetAbout, print_sheet

HERE = Path(__file__).parent
SHORT = (HERE / "two_ales.md").read_text(encoding="utf-8")
TIMES = ("First", "Second", "Third", "Fourth", "Fifth", "Sixth", "Seventh", "Eighth", "Ninth", "Tenth", "Eleventh")
TEXTS = {
    "short": SHORT,
    "cards": (HERE / "two_ales_cards.md").read_text(encoding="utf-8"),
    "long": "\n\n".join(
        re.sub(r"(?m)^(#+ (?:\(\d\) )?|\d\. |- |\| )?(?=[A-Z][a-z]+ )", rf"\g<0>{time} time: ", SHORT)
        .replace("## Sources", f"## {time} sources")
        .replace("temperature, °C", f"{time} temperature, °C")
        .replace(" {#heat}", "")
        .replace(" {#first-mash}", "")
        for time in TIMES
    ),
    "rows": "# Rows\n\n| Row | Words | Value |\n| --- | --- | ---: |\n"
    + "\n".join(f"| row {row} | words that wrap in their cell on a narrow paper | {row * 3} |" for row in range(200)),
}
ABOUT = SheetAbout(
    title="Two ales from one mash: handout",
    author="Maud Tilling, Harrowmere Open-Air Museum (invented)",
    subject="Brewing as at Netherfold, a manor household of 1412 (invented)",
    kind="Handout",
    date=datetime.date(2026, 5, 2),
    foot="Two ales, version 3 · content mark 4f2a 91cc",
    running_head="Two ales from one mash · Harrowmere Open-Air Museum",
    folder=HERE,
)


@cache
def _printed(name: str, setting: Setting) -> bytes:
    return print_sheet(read_page_text(TEXTS[name]), ABOUT, setting)


@pytest.fixture(scope="session")
def printed() -> Callable[[str, Setting], bytes]:
    """A sample sheet by name, printed once for all tests."""
    return _printed


@pytest.fixture(scope="session")
def about() -> SheetAbout:
    """What the sample sheets say of themselves."""
    return ABOUT


def _marks_in_tree(reader: PdfReader) -> dict[tuple[int, int], IndirectObject]:
    """(page, mark) -> the element that holds it, walked from the root; every element's parent is checked."""
    pages = {page.indirect_reference.idnum: number for number, page in enumerate(reader.pages)}
    found: dict[tuple[int, int], IndirectObject] = {}
    root = reader.trailer["/Root"]["/StructTreeRoot"]
    todo = [root.raw_get("/K")]
    while todo:
        reference = todo.pop()
        element = reference.get_object()
        raw = element.raw_get("/K") if "/K" in element else ArrayObject()
        for kid in list(raw) if isinstance(raw, ArrayObject) else [raw]:
            target = kid.get_object() if isinstance(kid, IndirectObject) else kid
            if isinstance(target, int):
                place = (pages[element.raw_get("/Pg").idnum], int(target))
            elif target.get("/Type") == "/MCR":
                place = (pages[target.raw_get("/Pg").idnum], int(target["/MCID"]))
            elif target.get("/Type") == "/OBJR":
                continue
            else:
                assert target.raw_get("/P").idnum == reference.idnum
                todo.append(kid)
                continue
            assert place not in found
            found[place] = reference
    return found


def _marks_hold(pdf: bytes) -> int:
    """How many marks there are; fails where one does not lead through the parent tree to its element and back."""
    reader = PdfReader(io.BytesIO(pdf))
    tree = _marks_in_tree(reader)
    numbers = reader.trailer["/Root"]["/StructTreeRoot"]["/ParentTree"]["/Nums"]
    parents = {int(numbers[place]): numbers[place + 1] for place in range(0, len(numbers), 2)}
    seen = 0
    for number, page in enumerate(reader.pages):
        assert page["/Tabs"] == "/S"
        stream = page.get_contents().get_data().decode("latin-1")
        marks = [int(mark) for mark in re.findall(r"/MCID (\d+)>> BDC", stream)]
        assert marks
        assert marks == list(range(len(marks)))
        owners = parents[int(page["/StructParents"])].get_object()
        assert len(owners) == len(marks)
        for mark in marks:
            assert owners[mark].get_object() == tree[number, mark].get_object()
            seen += 1
        for annotation in page.get("/Annots", []):
            link = parents[int(annotation.get_object()["/StructParent"])].get_object()
            assert link["/S"] == "/Link"
            assert annotation.get_object()["/Contents"]
    assert seen == len(tree)
    return seen


@pytest.fixture(scope="session")
def marks_hold() -> Callable[[bytes], int]:
    """Follows each marked content of a sheet to its element and back."""
    return _marks_hold
