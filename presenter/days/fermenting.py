"""The fermentation log: what readings over days say of a drink, and whether it has finished.

In: a day's corrected readings at a step that ferments. Out: which of them settle the final gravity. A drink is taken as
finished when two readings at least two days apart agree within the hydrometer's own last digit (common practice, as the
note on finishing says); one reading never settles it.
"""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import replace

from presenter.days.correcting import Corrected
from presenter.lesson.day import Day, Reading

__all__ = ["DAYS_APART", "MAY_MOVE", "days_into", "finished_readings", "is_finished"]

DAYS_APART = 2.0  # common practice
MAY_MOVE = 0.001  # gravity; the last digit of a brewing float. Common practice


def days_into(day: Day, reading: Reading) -> float:
    """Days from the day's beginning to a reading; by its clock where one was written, else at the same hour."""
    whole = (day.date_of(reading) - day.date).days
    began = day.file.began or 0
    return whole + ((reading.time - began) / 1440.0 if reading.time is not None else 0.0)


def is_finished(log: Sequence[tuple[float, float]]) -> bool:
    """Whether (days, gravity) readings show that nothing moves any more."""
    if len(log) < 2:
        return False
    last_day, last = log[-1]
    return any(
        last_day - when >= DAYS_APART - 1e-9
        and all(abs(value - last) <= MAY_MOVE + 1e-9 for at, value in log if at >= when)
        for when, _ in log[:-1]
    )


def finished_readings(day: Day, readings: Sequence[Corrected]) -> list[Corrected]:
    """The readings, the last of each finished fermentation held in place of the final gravity that was expected."""
    by_number: dict[str, list[tuple[float, int]]] = {}
    for index, each in enumerate(readings):
        if each.what == "gravity" and not each.held:
            by_number.setdefault(each.number, []).append((days_into(day, each.reading), index))
    found = list(readings)
    for entries in by_number.values():
        ordered = sorted(entries)
        log = [(when, float(readings[index].quantity.magnitude)) for when, index in ordered]
        if is_finished(log):
            last = ordered[-1][1]
            found[last] = replace(found[last], held=True)
    return found


def date_after(day: Day, days: float) -> datetime.date:
    """The date so many days after the day's beginning."""
    return day.date + datetime.timedelta(days=round(days))
