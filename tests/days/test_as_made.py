"""Sheets of a day as it was made: what was different, the run of the rest, the description for a web page."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from presenter.cautions import cautions_of
from presenter.days import WorkedDay, work_day
from presenter.days.departing import differences
from presenter.documents import Asked, documents_for
from presenter.lesson.day import day_from_text, load_day
from presenter.releasing.reading_back import folded

GOLDEN = Path(__file__).parent / "golden"


@pytest.fixture(scope="module")
def demo(harrowmere: Any) -> WorkedDay:
    lesson = harrowmere.demo("netherfold-two-ales")
    return work_day(lesson, load_day("2026-05-02", lesson))


@pytest.fixture(scope="module")
def as_made(demo: WorkedDay) -> Any:
    (document,) = documents_for(demo.made, cautions_of(demo.made), ["as-made"], Asked(day=demo))
    return document


def test_as_made_unchanged(as_made: Any, golden: Any) -> None:
    """This test ensures that the sheet of the demo day says what it said when last read."""
    golden(GOLDEN / "as-made-netherfold.md", as_made.page_text)


def test_the_description_carries_every_caution_and_source(as_made: Any, demo: WorkedDay) -> None:
    """This test ensures that a description for a web page loses no caution of the lesson, short or in full."""
    text = folded(dict(as_made.beside)["description.md"])
    cautioned = cautions_of(demo.made)
    for line in cautioned.lines_on_sheet().lines:
        assert folded(line.words) in text
    for placed in cautioned.full_words:
        assert folded(placed.say)[:60] in text
    assert "&colon;" not in text


def test_the_handout_says_what_was_different(demo: WorkedDay) -> None:
    """This test ensures that the handout of a day tells the miss and prints the numbers as made, not as planned."""
    cautioned = cautions_of(demo.made)
    (made,) = documents_for(demo.made, cautioned, ["handout"], Asked(day=demo))
    (planned,) = documents_for(demo.plan, cautions_of(demo.plan), ["handout"])
    assert "What we did differently on the day" in made.page_text
    assert "read 1.051, planned 1.058" in made.page_text
    assert "What we did differently" not in planned.page_text
    assert "as made on 2 May 2026" in made.foot


def test_the_rest_of_the_day_begins_at_the_latest_reading(as_made: Any) -> None:
    """This test ensures that no step already done is told again, and that the next one has the clock of the reading."""
    table = as_made.page_text.split("The steps that remain")[1].split("```")[0]
    rows = [line for line in table.splitlines() if line.startswith("| ") and "(" in line]
    assert rows[0].startswith("| 11:15 | (3) Draw off the strong wort |")
    assert "First mash" not in table


def test_every_kind_of_change_is_told_with_its_reason(harrowmere: Any) -> None:
    """This test ensures that a figure, an ingredient, a step left out and a step put in are each said in a sentence."""
    lesson = harrowmere.lesson()
    text = (
        "date: 2026-05-02\nchanges:\n"
        "  - {at: Mash, now: {hold: 90 min}, because: the lid was off}\n"
        "  - {ingredient: malt, now: {amount: 2500 g}, because: the bag was short}\n"
        "  - {skip: Boil, because: the gas ran out}\n"
        "  - {after: Draw, step: {name: Thin, do: top up, what: strong, water: 1 L}, because: it was strong}\n"
    )
    worked = work_day(lesson, day_from_text(text, Path("day.yaml"), lesson), spreads=False)
    said = {(each.step, each.says, each.because) for each in differences(worked)}
    assert said == {
        ("Mash", "hold: 90 min instead of 60 min", "the lid was off"),
        ("", "malt: amount 2500 g instead of 3 kg of pale barley malt", "the bag was short"),
        ("Boil", "left out", "the gas ran out"),
        ("Thin", "put in (top up: what strong, water 1 L)", "it was strong"),
    }
