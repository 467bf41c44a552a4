"""What may lie behind a miss, ranked by what the model says that each would do, with the check that tells them apart.

In: a worked day and a reading that missed. Out: :class:`Cause` values, the likeliest first. Each is worked through the
lesson as made, without the reading itself, with one input moved as far as it easily goes wrong.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

import yaml

from presenter.days.against_plan import Standing
from presenter.days.made import WorkedDay, held_of, worked_silently
from presenter.lesson import slug
from presenter.lesson.steps.boil import Boil
from presenter.lesson.steps.draw_off import DrawOff
from presenter.lesson.steps.mash import Mash
from presenter.problems import ProblemsFoundError
from presenter.quantities import Q
from presenter.science.hydrometer import corrected_gravity, hydrometer_temperature_correction
from presenter.working import Held, WorkedLesson

__all__ = ["Cause", "causes_of"]

LEAST = 0.1  # of the miss; what would do less is not worth a line


@dataclass(frozen=True)
class Cause:
    """One likely cause: what it would do to the number, the share of the miss that is, and how to tell.

    ``size`` is how far the input was moved, ``wanted`` how far it would have to go to explain the whole miss (in
    ``unit``); both are 0 where the model can give no size.
    """

    id: str
    says: str
    check: str
    effect: float
    share: float
    size: float = 0.0
    wanted: float = 0.0
    unit: str = ""
    ruled_out: bool = False


@cache
def _book() -> Mapping[str, Any]:
    text = files("presenter.days").joinpath("causes.yaml").read_text(encoding="utf-8")
    found: Mapping[str, Any] = yaml.safe_load(text)
    return found


def causes_of(worked: WorkedDay, miss: Standing) -> tuple[Cause, ...]:
    """The likely causes of ``miss``, those that would explain most of it first; then those that a reading rules out."""
    if miss.read.what != "gravity":
        return ()
    number = miss.read.number
    held = [each for each in held_of(worked.readings) if each.id != number]
    base = worked_silently(worked.made.lesson, held, spreads=False)
    stands = _value(base, number)
    gap = float(miss.read.quantity.magnitude) - stands
    if abs(gap) < 1e-6:
        return ()
    found = [*_moved(worked, base, held, number, gap), *_of_samples(worked, miss, gap)]
    likely = [each for each in found if not each.ruled_out and each.share >= LEAST]
    return (
        *sorted(likely, key=lambda each: -each.share),
        *(each for each in found if each.ruled_out and each.share >= LEAST),
    )


def _value(worked: WorkedLesson, number: str) -> float:
    return float(worked.numbers[number].quantity.magnitude)


def _names(worked: WorkedDay, number: str) -> Iterator[dict[str, str]]:
    """What the placeholders stand for: the step that was read and what came before it, one grain after the other."""
    steps = list(worked.made.lesson.steps)
    here = next((index for index, step in enumerate(steps) if number.startswith(f"{step.id}.")), len(steps) - 1)
    before = steps[: here + 1]
    mash = next((step for step in reversed(before) if isinstance(step, Mash)), None)
    boil = next((step for step in reversed(before) if isinstance(step, Boil)), None)
    draw = next((step for step in reversed(before) if isinstance(step, DrawOff)), None)
    grains = [str(name) for step in before if isinstance(step, Mash) for name in step.with_] or [""]
    for grain in grains:
        yield {
            "mash": mash.id if mash else "", "grain": slug(grain), "draw": draw.id if draw else "",
            "kettle": slug(str(boil.in_)) if boil else "",
        }  # fmt: skip


def _moved(worked: WorkedDay, base: WorkedLesson, held: list[Held], number: str, gap: float) -> Iterator[Cause]:
    read = {each.id for each in held}
    tried: set[str] = set()
    for entry in _book()["causes"]:
        for names in _names(worked, number):
            target = entry["moves"].format(**names)
            if (mark := f"{entry['id']} {target}") in tried or target not in base.numbers:
                continue
            tried.add(mark)
            yield from _one(worked, base, held, number, gap, entry, target, target in read)


def _one(
    worked: WorkedDay, base: WorkedLesson, held: list[Held], number: str, gap: float, entry: Mapping[str, Any],
    target: str, was_read: bool,
) -> Iterator[Cause]:  # fmt: skip
    planned = base.numbers[target]
    value, unit = float(planned.quantity.magnitude), str(planned.quantity.units)
    step = float(entry["easily"]["by"]) * (value / 100.0 if entry["easily"]["of"] == "percent" else 1.0)
    says = entry["says"]
    ways = [(step, says)] + ([(-step, entry["both_ways"])] if "both_ways" in entry else [])
    for size, words in ways:
        difference = {"degree_Celsius": "delta_degree_Celsius"}.get(unit, unit)
        moved = Held(target, Q(value + size, unit), Q(0.0, difference))
        try:
            after = worked_silently(worked.made.lesson, [*(h for h in held if h.id != target), moved], spreads=False)
        except ProblemsFoundError:
            continue  # moved so far, the lesson could not be done at all
        effect = _value(after, number) - _value(base, number)
        share = effect / gap
        if share <= 0:
            continue
        yield Cause(
            entry["id"], words, entry["check"], effect, min(share, 1.0), size, size / share, difference, was_read
        )


def _of_samples(worked: WorkedDay, miss: Standing, gap: float) -> Iterator[Cause]:
    """Causes in the sample: how much a warmer one would hide is known to the end of the published table."""
    samples = {entry["id"]: entry for entry in _book()["samples"]}
    reading = miss.read.reading
    if reading.sample is not None and gap < 0:
        hottest = corrected_gravity.valid["temperature"][1]
        hidden = hydrometer_temperature_correction.plain(hottest) - hydrometer_temperature_correction.plain(
            reading.sample.number()
        )
        entry = samples["sample-hot"]
        yield Cause(
            entry["id"], entry["says"], entry["check"], -hidden, min(hidden / -gap, 1.0),
            hottest - reading.sample.number(), 0.0, "delta_degree_Celsius",
        )  # fmt: skip
    if "stirred" not in {str(word) for word in reading.sample_was}:
        entry = samples["not-mixed"]
        yield Cause(entry["id"], entry["says"], entry["check"], 0.0, LEAST)
