"""Whether a drink has finished, from readings over days; and the readings that a bottling step asks for.

In: a day's corrected readings at a step that ferments. Out: which of them settle the final gravity. A drink is taken as
finished when two readings at least two days apart agree within the hydrometer's own last digit and stand near the
gravity to expect (common practice, as the note on finishing says); one reading never settles it, and neither does a
drink that stands still well above.
"""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import replace

from presenter.days.correcting import Corrected
from presenter.lesson import slug
from presenter.lesson.day import Day, Reading
from presenter.lesson.steps.prime_and_bottle import PrimeAndBottle
from presenter.quantities import Q
from presenter.working import Held, WorkedLesson
from presenter.working.finished import DAYS_APART, NEAR

__all__ = ["MAY_MOVE", "bottling_held", "date_after", "days_into", "finished_readings", "still_since"]

MAY_MOVE = 0.0009  # gravity; less than the last digit of a brewing float, as bottling judges it


def days_into(day: Day, reading: Reading) -> float:
    """Days from the day's beginning to a reading; by its clock where one was written, else at the same hour."""
    whole = (day.date_of(reading) - day.date).days
    began = day.file.began or 0
    return whole + ((reading.time - began) / 1440.0 if reading.time is not None else 0.0)


def date_after(day: Day, days: float) -> datetime.date:
    """The date so many days after the day's beginning."""
    return day.date + datetime.timedelta(days=round(days))


def still_since(log: Sequence[tuple[float, float]]) -> float | None:
    """The earliest day since when (days, gravity) readings, in their order, stand where the last one stands."""
    if not log:
        return None
    last = log[-1][1]
    since = None
    for when, value in reversed(log[:-1]):
        if abs(value - last) > MAY_MOVE + 1e-9:
            break
        since = when
    return since


def _logs(day: Day, readings: Sequence[Corrected]) -> dict[str, list[tuple[float, int]]]:
    """(days, place among the readings) of every gravity read in a fermentation, by the number it bears on."""
    found: dict[str, list[tuple[float, int]]] = {}
    for index, each in enumerate(readings):
        if each.what == "gravity" and each.fermenting:
            found.setdefault(each.number, []).append((days_into(day, each.reading), index))
    return {number: sorted(entries) for number, entries in found.items()}


def finished_readings(day: Day, readings: Sequence[Corrected], expected: WorkedLesson) -> list[Corrected]:
    """The readings, the last of each finished fermentation held in place of the final gravity that was expected."""
    found = list(readings)
    for number, entries in _logs(day, readings).items():
        log = [(when, float(readings[index].quantity.magnitude)) for when, index in entries]
        since = still_since(log)
        end = float(expected.numbers[number].quantity.magnitude)
        if since is not None and log[-1][0] - since >= DAYS_APART - 1e-9 and log[-1][1] <= end + NEAR:
            last = entries[-1][1]
            found[last] = replace(found[last], held=True)
    return found


def bottling_held(day: Day, readings: Sequence[Corrected], made: WorkedLesson) -> tuple[Held, ...]:
    """The last two readings of a fermentation, as the step that bottles that drink asks for them.

    They stand in place of readings that the lesson itself states: those are of another batch, or of another day.
    """
    found: list[Held] = []
    logs = _logs(day, readings)
    for step in made.lesson.steps:
        if not isinstance(step, PrimeAndBottle):
            continue
        drink = made.after[step.id].liquids.get(slug(step.what))
        # by the number that it ended at, which a drink keeps when it is split or called otherwise
        entries = logs.get(drink.final_gravity.id, []) if drink is not None and drink.final_gravity is not None else []
        if not entries:
            continue
        log = [(when, float(readings[index].quantity.magnitude)) for when, index in entries]
        since = still_since(log)
        first = next((at for at, (when, _) in enumerate(log) if when == since), max(len(log) - 2, 0))
        for name, at in (("first-reading", first), ("second-reading", len(log) - 1)):
            if name == "second-reading" and len(log) < 2:
                continue
            read = readings[entries[at][1]]
            found.append(Held(f"{step.id}.{name}", read.quantity, read.spread))
        if len(log) > 1:
            apart = (log[-1][0] - log[first][0]) * 1440.0
            found.append(Held(f"{step.id}.readings-apart", Q(apart, "minute"), Q(0.0, "minute")))
    return tuple(found)
