"""Days at the invented Harrowmere for the tests of ``days``: a lesson from a few figures, and a day of it as text.

In: lines of a day file. Out: a checked day, or a worked one.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from presenter.days import WorkedDay, work_day
from presenter.lesson import Lesson, demo_folder, lesson_from_text, load_lesson, package_house
from presenter.lesson.day import Day, day_from_text

LESSON = """\
title: A small mash at Harrowmere (invented)
scene: Harrowmere, 1412 (invented)
date: 2026-05-02
kit:
  thermometer: {right within: 1 degC}
  hydrometer: {right within: 0.001, read to: 0.001, calibrated at: 20 degC}
  mash tub: {of: oak, holds: 25 L, weighs: 3 kg}
  kettle: {of: stainless steel, holds: 12 L, boils away: 2.4 L per hour}
ingredients:
  malt: {what: pale barley malt, amount: 3 kg}
  yeast: {what: dried ale yeast, amount: 11 g}
steps:
  - {name: Mash, do: mash, in: mash tub, with: [malt], water: 12 L, reach: 67 degC, hold: 60 min,
     say: "We reach {{ reach }}."}
  - {name: Draw, do: draw off, volume: 7 L, call it: strong, into: kettle}
  - {name: Boil, do: boil, what: strong, for: 15 min}
  - {name: Cool, do: cool, what: strong, to: 20 degC, within: 40 min}
  - {name: Pitch, do: pitch, what: strong, with: yeast}
  - {name: Ferment, do: ferment, what: strong, for: 7 days, at: 19 degC}
"""


class DayAtHarrowmere:
    """The lesson, and days of it."""

    LESSON = LESSON

    def lesson(self, *changes: tuple[str, str]) -> Lesson:
        """The checked lesson, with text exchanged."""
        text = LESSON
        for before, after in changes:
            assert before in text
            text = text.replace(before, after)
        return lesson_from_text(text, Path("harrowmere") / "lesson.yaml", package_house())

    def day(self, lines: str, lesson: Lesson | None = None) -> Day:
        """The checked day of some lines."""
        return day_from_text(f"date: 2026-05-02\n{lines}", Path("day.yaml"), lesson or self.lesson())

    def worked(self, lines: str, lesson: Lesson | None = None, spreads: bool = False) -> WorkedDay:
        """The worked day of some lines."""
        lesson = lesson or self.lesson()
        return work_day(lesson, self.day(lines, lesson), spreads=spreads)

    def demo(self, name: str) -> Lesson:
        """A lesson of the demo library."""
        return load_lesson(demo_folder("lessons_demo") / name)


@pytest.fixture(scope="session")
def harrowmere() -> DayAtHarrowmere:
    """The brewhouse of the tests."""
    return DayAtHarrowmere()
