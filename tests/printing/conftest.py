"""The sample sheets that the printing tests read: one of a few pages, one of more than forty, a long table, cards."""

from __future__ import annotations

import datetime
import re
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest

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
