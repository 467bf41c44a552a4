"""A reading as the instrument showed it, into the number it stands for, with its own give-or-take.

In: a day's reading and the lesson worked as it was made. Out: :class:`Corrected` values that name the worked number
they replace; or a Problem where nothing can be made of the reading ("cool it and read again"). A hydrometer is
corrected by the published table for the warmth of its sample, over the table's range and no further.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from presenter.lesson.day import Day, Reading
from presenter.lesson.fields import Stated
from presenter.lesson.house import Instrument, spread_of
from presenter.lesson.steps import Step, slug
from presenter.problems import BrewingPresenterError, Problem
from presenter.quantities import Q, Quantity, give_or_take_in_words, in_words
from presenter.science.hydrometer import (
    corrected_gravity,
    gravity_from_refractometer,
    hydrometer_temperature_correction,
)
from presenter.science.water import volume_after_temperature_change
from presenter.working import Held, WorkedLesson
from presenter.working.vessels import GrainBed, Liquid

__all__ = ["REFRACTOMETER_WITHIN", "Corrected", "UnusableReadingError", "corrected_readings", "hydrometer_gravity"]

REFRACTOMETER_WITHIN = 0.2  # Brix; our choice: the smallest division of a hand refractometer
MEASURED_AT = 20.0  # degC, at which volumes of wort are compared
HOT = 40.0  # degC, above which wort drawn off counts as measured hot
ASKS = {
    "stirred": "Was the wort stirred before the sample was taken? Sugar lies at the bottom.",
    "strained": "Was the sample strained? Grain and froth hold a hydrometer up.",
    "degassed": "Was the gas shaken out of the sample? Bubbles hold a hydrometer up.",
}


@dataclass
class UnusableReadingError(BrewingPresenterError):
    """Nothing can be made of a reading; the problem says why, at its place."""

    problem: Problem


@dataclass(frozen=True)
class Corrected:
    """One thing read, corrected: the worked number that it replaces (empty where there is none) and its worth.

    ``how`` says in words what the instrument showed and what was added; ``asks`` what the person should look to.
    ``held`` is false for a reading that is kept and told but replaces nothing (a fermentation under way);
    ``fermenting`` is true for what was read of a drink at work.
    """

    reading: Reading
    index: int
    what: str
    number: str
    quantity: Quantity
    spread: Quantity
    how: str
    asks: tuple[str, ...] = ()
    held: bool = True
    fermenting: bool = False

    @property
    def step(self) -> str:
        """The id of the step it was read at."""
        return self.reading.step

    def as_held(self) -> Held:
        """The reading in place of its worked number."""
        return Held(self.number, self.quantity, self.spread)

    def words(self, measures: str = "metric") -> str:
        """The value and its give-or-take as printed."""
        told = in_words(self.quantity, self.spread, measures)
        return f"{told} {give_or_take_in_words(self.quantity, self.spread, measures)}"


def hydrometer_gravity(
    shown: float, sample: float, hydrometer: Instrument, thermometer_within: float
) -> tuple[float, float, float]:
    """Gravity, its give-or-take (k = 2), and what was added, from what a hydrometer showed in a sample.

    A float made for another temperature than 20 degC is first brought there by the same table.
    Raises OutOfRangeError where the sample lies outside the table.
    """
    made_for = 20.0 if hydrometer.calibrated_at is None else hydrometer.calibrated_at.number()
    gravity = float(corrected_gravity(Q(shown, "gravity"), Q(sample, "degree_Celsius")).magnitude)
    if abs(made_for - 20.0) > 1e-9:
        gravity -= float(hydrometer_temperature_correction(Q(made_for, "degree_Celsius")).magnitude)
    low, high = corrected_gravity.valid["temperature"]
    beside = [min(max(sample + move, low), high) for move in (-0.5, 0.5)]
    slope = [hydrometer_temperature_correction.plain(each) for each in beside]
    by_warmth = abs(slope[1] - slope[0]) / (beside[1] - beside[0]) * thermometer_within
    read_to = 0.0 if hydrometer.read_to is None else hydrometer.read_to.number() / 2
    spread = math.sqrt(spread_of(hydrometer, gravity) ** 2 + corrected_gravity.error**2 + by_warmth**2 + read_to**2)
    return gravity, spread, gravity - shown


def corrected_readings(day: Day, made: WorkedLesson) -> tuple[list[Corrected], list[Problem]]:
    """Every reading of the day against the lesson as it was made, and a Problem for each that cannot be used."""
    found: list[Corrected] = []
    problems: list[Problem] = []
    for index, reading in enumerate(day.file.readings):
        for what in reading.read():
            try:
                found.append(_corrected(index, reading, what, made))
            except UnusableReadingError as error:
                problems.append(error.problem)
    return found, problems


def _refuse(index: int, reading: Reading, key: str, wrong: str, remedy: str = "") -> UnusableReadingError:
    value = getattr(reading, key.lower(), None)
    place, written = (value.place, value.written) if isinstance(value, Stated) else (reading.at.place, "")
    return UnusableReadingError(Problem(place, f"readings[{index + 1}].{key}", written, wrong, remedy))


def _corrected(index: int, reading: Reading, what: str, made: WorkedLesson) -> Corrected:
    step = next(each for each in made.lesson.steps if each.id == reading.step)
    return {
        "gravity": _gravity, "brix": _brix, "temperature": _temperature, "volume": _volume, "pH": _acidity,
    }[what](index, reading, step, made)  # fmt: skip


def contents_at(index: int, reading: Reading, step: Step, made: WorkedLesson) -> Liquid | GrainBed:
    """What the reading was taken of: the liquid named, the step's own, or the mash."""
    after = made.after[step.id]
    if reading.of is not None:
        liquid = after.liquids.get(slug(reading.of))
        if liquid is None:
            known = ", ".join(after.liquids) or "none"
            raise _refuse(
                index, reading, "of", f"There is no {reading.of} at this step; the liquids there are: {known}."
            )
        return liquid
    names = [slug(name) for name in (*step.makes(), *step.uses())]
    there = [after.liquids[name] for name in dict.fromkeys(names) if name in after.liquids]
    if len(there) > 1:
        known = ", ".join(each.name for each in there)
        raise _refuse(index, reading, "at", f"This step has several liquids: {known}.", f"Add of: {there[0].name}.")
    if there:
        return there[0]
    bed = after.beds.get(str(getattr(step, "in_", "") or ""))
    if bed is None:
        raise _refuse(
            index, reading, "at", f"There is nothing at the step {step.name} that this could be read of.",
            "Write it at the step that made or changed the liquid.",
        )  # fmt: skip
    return bed


def _pitched(contents: Liquid | GrainBed) -> bool:
    return isinstance(contents, Liquid) and contents.fermented


def _asks(reading: Reading, contents: Liquid | GrainBed) -> tuple[str, ...]:
    said = {str(word) for word in reading.sample_was}
    wanted = ("degassed",) if _pitched(contents) else ("stirred", "strained")
    return tuple(ASKS[word] for word in wanted if word not in said)


def _gravity(index: int, reading: Reading, step: Step, made: WorkedLesson) -> Corrected:
    contents = contents_at(index, reading, step, made)
    assert reading.gravity is not None
    assert reading.sample is not None
    instruments = made.lesson.instruments
    low, high = corrected_gravity.valid["temperature"]
    sample = reading.sample.number()
    if not low <= sample <= high:
        remedy = "Cool it and read again." if sample > high else "Warm it and read again."
        raise _refuse(
            index, reading, "sample",
            f"The published table corrects samples from {low:.0f} to {high:.0f} degC; this one is at"
            f" {reading.sample.written}.", remedy,
        )  # fmt: skip
    within = float(instruments["thermometer"].within.quantity.magnitude)
    value, spread, added = hydrometer_gravity(
        reading.gravity.number(), sample, instruments["hydrometer"], within
    )  # fmt: skip
    sign = "added" if added >= 0 else "taken off"
    sample_words = in_words(reading.sample.quantity, written=reading.sample.written)
    how = f"{reading.gravity.written} in a sample at {sample_words}"
    if abs(added) >= 0.00005:
        how += f", {abs(added):.4f} {sign}"
    return Corrected(
        reading, index, "gravity", contents.gravity.id, Q(value, "gravity"), Q(spread, "gravity"), how,
        _asks(reading, contents), held=not _pitched(contents), fermenting=_pitched(contents),
    )  # fmt: skip


def _brix(index: int, reading: Reading, step: Step, made: WorkedLesson) -> Corrected:
    contents = contents_at(index, reading, step, made)
    assert reading.brix is not None
    if _pitched(contents):
        raise _refuse(
            index, reading, "brix", "Yeast has been at work here, and alcohol bends light too.",
            "Read the gravity with a hydrometer.",
        )  # fmt: skip
    low, high = gravity_from_refractometer.valid["reading"]
    shown = reading.brix.number()
    if not low <= shown <= high:
        raise _refuse(
            index, reading, "brix", f"A refractometer's reading is used from {low:g} to {high:g} Brix.",
            "Thin a sample with as much water by weight, read again, and double.",
        )  # fmt: skip
    value = gravity_from_refractometer.plain(shown)
    edge = min(shown + REFRACTOMETER_WITHIN, high)
    beside = max(shown - REFRACTOMETER_WITHIN, low)
    by_scale = (gravity_from_refractometer.plain(edge) - gravity_from_refractometer.plain(beside)) / 2
    spread = math.hypot(by_scale, gravity_from_refractometer.error)
    how = f"{reading.brix.written} on a refractometer's Brix scale"
    return Corrected(
        reading, index, "gravity", contents.gravity.id, Q(value, "gravity"), Q(spread, "gravity"), how
    )  # fmt: skip


def _first(step: Step, made: WorkedLesson, names: Iterable[str]) -> str:
    return next((f"{step.id}.{name}" for name in names if f"{step.id}.{name}" in made.numbers), "")


def _temperature(index: int, reading: Reading, step: Step, made: WorkedLesson) -> Corrected:
    assert reading.temperature is not None
    value = reading.temperature.number()
    within = spread_of(made.lesson.instruments["thermometer"], value)
    late = False
    hold = _first(step, made, ("hold", "for"))
    if reading.after is not None and hold:
        late = reading.after.number() > float(made.numbers[hold].quantity.magnitude) / 2
    order = ("end-heat", "mash-heat", "to", "at") if late else ("mash-heat", "end-heat", "to", "at")
    number = _first(step, made, order)
    when = "" if reading.after is None else f" after {reading.after.written}"
    return Corrected(
        reading, index, "temperature", number, Q(value, "degree_Celsius"), Q(within, "delta_degree_Celsius"),
        f"{reading.temperature.written} on the thermometer{when}", held=bool(number) and step.do != "ferment",
    )  # fmt: skip


def _volume(index: int, reading: Reading, step: Step, made: WorkedLesson) -> Corrected:
    assert reading.volume is not None
    shown = reading.volume.number()
    jug = made.lesson.instruments["jug"]
    warm = reading.temperature.number() if reading.temperature is not None else None
    how = f"{reading.volume.written} in the jug"
    hot = _first(step, made, ("volume",)) if step.do == "draw off" else ""
    number = _first(step, made, ("water",)) if step.do in {"mash", "top up"} and reading.of is None else ""
    if hot and (warm is None or warm >= HOT):
        number, value, how = hot, shown, f"{how}, hot"
    elif number:
        value = shown
    else:
        contents = contents_at(index, reading, step, made)
        number = contents.volume.id
        value = shown
        if warm is not None:
            value = volume_after_temperature_change.plain(shown, warm, MEASURED_AT)
            how = f"{how} at {warm:g} °C, as it would be at {MEASURED_AT:g} °C"
        else:
            how = f"{how}, taken as measured at {MEASURED_AT:g} °C"
    return Corrected(
        reading, index, "volume", number, Q(value, "litre"), Q(spread_of(jug, value), "litre"), how
    )  # fmt: skip


def _acidity(index: int, reading: Reading, step: Step, made: WorkedLesson) -> Corrected:
    assert reading.ph is not None
    number = _first(step, made, ("ph", "ph-reached"))
    return Corrected(
        reading, index, "pH", number, Q(reading.ph.number(), "pH"), Q(0.1, "pH"),
        f"{reading.ph.written}, give or take a tenth (our choice, for a meter set that day)", held=bool(number),
    )  # fmt: skip
