"""What the days teach: yield, boil-off, water kept by the grain and cooling, as house values that a library may take.

In: worked days of any lessons. Out: :class:`Learnt` values: each with the number of days that it rests
on, and a line for ``library.yaml``. One day suggests a value and keeps the house's own give-or-take; from two days on
the give-or-take is what the days themselves scatter by (k = 2), and never less than the readings could show.
"""

from __future__ import annotations

import math
import statistics
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from presenter.days.made import WorkedDay
from presenter.lesson import House, slug
from presenter.lesson.steps.boil import Boil
from presenter.lesson.steps.draw_off import DrawOff
from presenter.lesson.steps.mash import Mash
from presenter.science.gravity import degrees_plato_from_gravity

__all__ = ["Learnt", "Measured", "learnt_from", "measured_on", "suggestion_lines"]

UNITS = {
    "mash yield": "percent", "boils away": "L per hour", "water kept by the grain": "L/kg", "cools": "degC per hour",
}  # fmt: skip


@dataclass(frozen=True)
class Measured:
    """One house value as one day measured it, in its working unit, with its give-or-take and the day's date."""

    name: str
    value: float
    spread: float
    date: str


@dataclass(frozen=True)
class Learnt:
    """One house value as the days suggest it: ``within`` is k = 2; ``house`` what the house takes now."""

    name: str
    value: float
    within: float
    house: float
    days: tuple[str, ...]


def _value(worked: WorkedDay, number: str) -> float | None:
    found = worked.made.numbers.get(number)
    return None if found is None else float(found.quantity.magnitude)


def measured_on(worked: WorkedDay) -> tuple[Measured, ...]:
    """Everything that one day measured: only what was read counts, never what was worked out."""
    date = worked.day.date.isoformat()
    found: list[Measured] = []
    first = next((step.id for step in worked.made.lesson.steps if isinstance(step, Mash)), "")
    drawn = poured_on = False
    for step in worked.made.lesson.steps:
        if isinstance(step, Mash):
            found += _cooling(worked, step, date)
            poured_on = poured_on or step.id != first
            if step.id == first:
                found += _yield(worked, first, f"{first}.gravity", date)
        elif isinstance(step, DrawOff):
            if not (drawn or poured_on) and not any(each.name == "mash yield" for each in found):
                found += _yield(worked, first, f"{step.id}.wort-gravity", date)
            drawn = True
            found += _kept(worked, step, date)
        elif isinstance(step, Boil):
            found += _boil_off(worked, step, date)
    return tuple(found)


def _yield(worked: WorkedDay, mash: str, number: str, date: str) -> Iterator[Measured]:
    """The yield that makes the extract what the gravity says it is, in the water that was there.

    The wort of a mash holds its extract in known water, so E = W p / (100 - p) with p the extract by weight in percent.
    """
    house, water, extract = (
        _value(worked, each) for each in ("lesson.mash-yield", f"{mash}.all-water", f"{mash}.extract")
    )
    read = worked.latest(number)
    if house is None or water is None or extract is None or read is None or read.what != "gravity":
        return

    def brought(gravity: float) -> float:
        percent = degrees_plato_from_gravity.plain(gravity)
        return float(house * water * percent / (100.0 - percent) / extract)

    gravity, off = float(read.quantity.magnitude), float(read.spread.magnitude)
    yield Measured("mash yield", brought(gravity), abs(brought(gravity + off) - brought(gravity - off)) / 2, date)


def _cooling(worked: WorkedDay, step: Mash, date: str) -> Iterator[Measured]:
    start, end = worked.latest(f"{step.id}.mash-heat"), worked.latest(f"{step.id}.end-heat")
    hours = (_value(worked, f"{step.id}.hold") or 0.0) / 60.0
    if start is None or end is None or hours <= 0:
        return
    if end.reading.after is not None:
        hours = end.reading.after.number() / 60.0
    fell = float(start.quantity.magnitude) - float(end.quantity.magnitude)
    # One thermometer is wrong the same way at both ends; what is left is reading it, half a degree each time.
    yield Measured("cools", fell / hours, math.hypot(0.5, 0.5) / hours, date)


def _kept(worked: WorkedDay, step: DrawOff, date: str) -> Iterator[Measured]:
    """Water kept by the grain, where all that would run was drawn and measured."""
    read = worked.latest(f"{step.id}.wort-volume")
    held, grain = _value(worked, f"{step.id}.held-by-grain"), _value(worked, "lesson.water-kept-by-the-grain")
    if step.volume is not None or read is None or held is None or grain is None or grain <= 0:
        return
    kilograms = held / grain
    gap = worked.made.gaps.get(f"{step.id}.wort-volume", 0.0)
    yield Measured("water kept by the grain", (held - gap) / kilograms, float(read.spread.magnitude) / kilograms, date)


def _boil_off(worked: WorkedDay, step: Boil, date: str) -> Iterator[Measured]:
    """Boil-off, where the volume was read before the boil and after it."""
    read = worked.latest(f"{step.id}.volume")
    hours = (_value(worked, f"{step.id}.for") or 0.0) / 60.0
    gone = _value(worked, f"{step.id}.boiled-away")
    before = [
        each
        for draw in worked.made.lesson.steps
        if isinstance(draw, DrawOff) and slug(draw.call_it) == slug(step.what)
        for name in ("volume", "wort-volume")
        if (each := worked.latest(f"{draw.id}.{name}")) is not None
    ]
    if read is None or not before or hours <= 0 or gone is None:
        return
    gap = worked.made.gaps.get(f"{step.id}.volume", 0.0)
    off = math.hypot(float(read.spread.magnitude), float(before[0].spread.magnitude))
    yield Measured("boils away", (gone - gap) / hours, off / hours, date)


def learnt_from(days: Iterable[WorkedDay], house: House) -> tuple[Learnt, ...]:
    """The house values that the days suggest, each with how many days it rests on."""
    by_name: dict[str, list[Measured]] = {}
    for worked in days:
        of_day: dict[str, list[Measured]] = {}
        for each in measured_on(worked):
            of_day.setdefault(each.name, []).append(each)
        for name, several in of_day.items():  # two kettles of one day are one day
            value = statistics.fmean(each.value for each in several)
            spread = statistics.fmean(each.spread for each in several)
            by_name.setdefault(name, []).append(Measured(name, value, spread, several[0].date))
    found = []
    for name, measured in by_name.items():
        values = [each.value for each in measured]
        known = house.values[name]
        reading = statistics.fmean(each.spread for each in measured)
        within = known.within if len(values) == 1 else max(2 * statistics.stdev(values), reading)
        dates = tuple(each.date for each in measured)
        found.append(Learnt(name, statistics.fmean(values), within, known.value.number(), dates))
    return tuple(found)


def suggestion_lines(learnt: Iterable[Learnt]) -> list[str]:
    """The suggestions as lines for ``library.yaml``, each saying what it rests on."""
    lines = []
    for each in learnt:
        decimals = 0 if each.name == "mash yield" else 2 if each.name == "water kept by the grain" else 1
        unit = UNITS[each.name]
        days = "one of our own days" if len(each.days) == 1 else f"{len(each.days)} of our own days"
        value, within = f"{each.value:.{decimals}f}", f"{max(each.within, 0.1**decimals):.{decimals}f}"
        rests_on = f"{days}: {', '.join(each.days)}"
        lines.append(f'  {each.name}: {{value: {value} {unit}, within: {within} {unit}, rests on: "{rests_on}"}}')
    return (["values:"] if lines else []) + lines
