"""The demo days: each reads, is told on a screen, and makes its sheet."""

from __future__ import annotations

from pathlib import Path

import pytest

from presenter.days import WorkedDay, work_day
from presenter.days.against_plan import latest_miss
from presenter.days.learning import measured_on
from presenter.days.remedies import remedies_of
from presenter.days.told import WIDTH, now_lines
from presenter.lesson import demo_folder, load_lesson
from presenter.lesson.day import load_day

LESSONS = sorted(path.parent for path in demo_folder("lessons_demo").glob("*/lesson.yaml"))
DAYS = [day for lesson in LESSONS for day in sorted((lesson / "days").glob("*.yaml"))]


def worked(path: Path) -> WorkedDay:
    lesson = load_lesson(path.parent.parent)
    return work_day(lesson, load_day(path, lesson), spreads=False)


@pytest.mark.parametrize("path", DAYS, ids=lambda path: f"{path.parent.parent.name}-{path.stem}")
def test_every_demo_day_is_told(path: Path) -> None:
    """This test ensures that each demo day says what is invented, reads without a problem and fits the screen."""
    assert "invented" in path.read_text(encoding="utf-8").splitlines()[0]
    day = worked(path)
    assert day.readings
    lines = now_lines(day)
    assert max(map(len, lines)) <= WIDTH
    assert len(lines) <= 40


def test_one_demo_day_has_a_miss_and_its_remedy() -> None:
    """This test ensures that the public day at Netherfold missed its gravity and can reach it again in two ways."""
    day = worked(demo_folder("lessons_demo") / "netherfold-two-ales" / "days" / "2026-05-02.yaml")
    miss = latest_miss(day)
    assert miss is not None
    assert miss.verdict == "low"
    assert {each.id for each in remedies_of(day, miss) if each.reaches} == {"boil-longer", "add-sugar"}


def test_a_raw_drink_that_stands_still_is_not_called_finished() -> None:
    """This test ensures that where nothing boiled the grain's enzymes, equal readings are not said to prove the end."""
    path = demo_folder("lessons_demo") / "storhaug-juniper-raw-ale" / "days" / "2026-06-06.yaml"
    text = " ".join(" ".join(now_lines(worked(path))).split())
    assert "Nothing has boiled this drink" in text
    assert "equal readings prove little" in text


def test_a_wort_of_two_mashes_tells_no_yield() -> None:
    """This test ensures that a wort drawn after fresh grain and water came in is not taken for the first grain's own:
    the maize of the Sara house gave next to nothing by itself, and its yield was once suggested as 9128 percent."""
    path = demo_folder("lessons_demo") / "sara-house-sprouted-maize" / "days" / "2026-06-20.yaml"
    assert [each for each in measured_on(worked(path)) if each.name == "mash yield"] == []
