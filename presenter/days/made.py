"""A day worked again: the lesson as planned, the lesson as it was made, and every reading at its place.

In: a lesson and a day of it. Out: :class:`WorkedDay`. Readings replace worked numbers where they were taken, what they
leave unexplained is kept as a gap, and two that disagree are reported: never averaged; the later one is worked with.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from presenter.days.changing import changed_lesson, without_sayings
from presenter.days.correcting import Corrected, corrected_readings
from presenter.days.fermenting import bottling_held, finished_readings
from presenter.lesson import Lesson
from presenter.lesson.day import Day
from presenter.problems import ProblemsFoundError
from presenter.quantities import WorkedNumber
from presenter.working import Held, WorkedLesson, work_out

__all__ = ["Disagreement", "WorkedDay", "disagreements", "work_day", "worked_silently"]


@dataclass(frozen=True)
class Disagreement:
    """Two readings of one number that lie further apart than both together may be off."""

    number: str
    first: Corrected
    later: Corrected
    apart: float
    allowed: float


@dataclass(frozen=True)
class WorkedDay:
    """A day of a lesson: what was planned, what was made, what was read.

    ``expected`` are the numbers of the lesson as made before any fermentation was read: what each drink was to reach.
    """

    day: Day
    plan: WorkedLesson
    made: WorkedLesson
    readings: tuple[Corrected, ...]
    disagreements: tuple[Disagreement, ...] = ()
    expected: Mapping[str, WorkedNumber] = field(default_factory=dict)

    @property
    def held(self) -> tuple[Held, ...]:
        """The readings that stand in place of worked numbers."""
        return held_of(self.readings)

    def latest(self, number: str) -> Corrected | None:
        """The latest reading held for a number, or nothing."""
        return next((each for each in reversed(self.readings) if each.number == number and each.held), None)


def held_of(readings: Iterable[Corrected]) -> tuple[Held, ...]:
    """One held reading for each number: the latest."""
    latest = {each.number: each for each in readings if each.held and each.number}
    return tuple(each.as_held() for each in latest.values())


def disagreements(readings: Iterable[Corrected]) -> tuple[Disagreement, ...]:
    """Every pair of readings of one number, one after the other, that disagree by more than their give-or-take."""
    earlier: dict[str, Corrected] = {}
    found = []
    for each in readings:
        if not (each.held and each.number):
            continue
        before = earlier.get(each.number)
        if before is not None and not each.number.endswith(".to"):  # a cooling log is no disagreement
            apart = abs(float((each.quantity - before.quantity).magnitude))
            allowed = math.hypot(float(each.spread.magnitude), float(before.spread.magnitude))
            if apart > allowed:
                found.append(Disagreement(each.number, before, each, apart, allowed))
        earlier[each.number] = each
    return tuple(found)


def worked_silently(lesson: Lesson, held: Iterable[Held] = (), *, spreads: bool = True) -> WorkedLesson:
    """The lesson worked out; spoken lines that name a number which a change did away with are left out."""
    held = tuple(held)
    try:
        return work_out(lesson, held, spreads=spreads)
    except ProblemsFoundError as error:
        quiet = without_sayings(lesson, error)
        if quiet is None:
            raise
        return work_out(quiet, held, spreads=spreads)


def work_day(lesson: Lesson, day: Day, *, spreads: bool = True) -> WorkedDay:
    """The day worked again from its changes and its readings.

    Raises ProblemsFoundError with each Problem of the changes, of the readings, or of the lesson as made.
    """
    plan = work_out(lesson, spreads=spreads)
    changed = changed_lesson(lesson, day)
    unread = worked_silently(changed, spreads=False)
    readings, problems = corrected_readings(day, unread)
    if problems:
        raise ProblemsFoundError(tuple(problems))
    before = held_of(readings)
    made = expected = worked_silently(changed, before, spreads=spreads)
    readings = finished_readings(day, readings, expected)
    held = (*held_of(readings), *bottling_held(day, readings, expected))
    if len(held) > len(before):
        made = worked_silently(changed, held, spreads=spreads)
    return WorkedDay(day, plan, made, tuple(readings), disagreements(readings), expected.numbers)
