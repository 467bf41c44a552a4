"""Whether a drink is shown finished: two equal readings, days apart, near the gravity to expect.

In: the readings that a step states or a day has held, and the drink. Out: :class:`Finish`, with a sentence that says
what is wanting; a Problem where the lesson's own readings say that the yeast is still at work, or were read hot.

Why readings and not a rule: a lesson is a plan, and a plan cannot know that its ale has finished. So a plan prints no
weight of sugar, but the reason and what to do; the weight comes when the readings are there, in the lesson's own file
or held from a day. Where enzymes of grain may still be at work (nothing has boiled them), no reading settles it.
"""

from __future__ import annotations

from dataclasses import dataclass

from presenter.lesson.steps import slug
from presenter.lesson.steps.prime_and_bottle import GravityReading, PrimeAndBottle
from presenter.quantities import Origin
from presenter.science.hydrometer import corrected_gravity
from presenter.working.ingredients import known_ingredient
from presenter.working.ledger import Figure
from presenter.working.vessels import Liquid
from presenter.working.walk import Walk

__all__ = ["Finish", "finish_of", "may_hold_enzymes"]

DAYS_APART = 2.0  # common practice: two readings at least two days apart
NEAR = 0.005  # of gravity above the end to expect: about what the mash model may miss in an ale of 1.050
COOL_SAMPLE = (10.0, 31.12)  # degC, the range of the published correction
_GRAIN = frozenset({"malt", "unmalted grain", "flour", "bread"})
_READINGS = ("first-reading", "second-reading")


@dataclass(frozen=True)
class Finish:
    """Whether the drink is proven finished, what is wanting if not, and the last gravity read (None: none was)."""

    proven: bool
    wanting: str
    last: Figure | None


def may_hold_enzymes(walk: Walk, liquid: Liquid) -> bool:
    """Whether enzymes of grain may still work in ``liquid``: it is of grain, and nothing has boiled them."""
    if liquid.enzymes_ended:
        return False
    used = [use for key, use in walk.lesson.file.ingredients.items() if slug(key) in map(slug, liquid.ingredients)]
    families = [known.family if (known := known_ingredient(str(use.what))) else "" for use in used]
    return not families or not _GRAIN.isdisjoint(families) or "" in families


def finish_of(step: PrimeAndBottle, walk: Walk, liquid: Liquid) -> Finish:
    """Judge ``liquid`` by the readings of this step."""
    _must_make_sense(step, walk)
    figures: list[Figure] = []
    stated = () if _read_on_the_day(walk) else step.readings[-2:]
    for number, name in enumerate(_READINGS):
        reading = stated[number] if number < len(stated) else None
        if reading is not None:
            figures.append(_as_stated(walk, name, reading))
        elif f"{walk.id}.{name}" in walk.ledger.held:
            figures.append(_as_held(walk, name, liquid))
        else:
            break
    last = figures[-1] if figures else None
    if may_hold_enzymes(walk, liquid):
        wanting = (
            "Nothing has boiled this drink, so enzymes of the grain may free more sugar in the bottle, and equal"
            " readings prove little. Use open vessels or plastic pressure bottles, and drink it fresh."
        )
        return Finish(False, wanting, last)
    return Finish(*_proof(step, walk, liquid, [figure.value for figure in figures]), last)


def _proof(step: PrimeAndBottle, walk: Walk, liquid: Liquid, values: list[float]) -> tuple[bool, str]:
    assert liquid.final_gravity is not None
    expected = liquid.final_gravity.value
    do_this = (
        f"Read the gravity, and again {DAYS_APART:.0f} days later or more. Weigh sugar only when both read the same,"
        f" near {expected:.3f}."
    )
    if len(values) < 2:
        have = "No reading shows" if not values else "One reading does not show"
        return False, f"{have} that this drink has finished. {do_this}"
    apart = _days_apart(step, walk)
    mark = _read_to(walk)
    if abs(values[1] - values[0]) > 0.9 * mark:
        return False, f"The gravity went from {values[0]:.3f} to {values[1]:.3f}: the yeast is still at work. {do_this}"
    if apart < DAYS_APART:
        return False, f"The two readings are {apart:.1f} days apart, which shows too little. {do_this}"
    if values[1] > expected + NEAR:
        return False, (
            f"Both readings are {values[1]:.3f}, well above the {expected:.3f} to expect: the yeast may only have"
            " stopped for a while, and start again in the bottle. Warm it, rouse the yeast, and read again."
        )
    return True, ""


def _days_apart(step: PrimeAndBottle, walk: Walk) -> float:
    """Days between the two readings; those of a day file say so themselves."""
    name = f"{walk.id}.readings-apart"
    if name in walk.ledger.held:
        return float(walk.ledger.held[name][0]) / 1440
    if len(step.readings) < 2 or _read_on_the_day(walk):
        return 0.0
    return float(step.readings[-1].after.number() - step.readings[-2].after.number()) / 1440


def _read_on_the_day(walk: Walk) -> bool:
    """Whether a day of this lesson read the drink itself; what the lesson states is then of another batch."""
    return any(f"{walk.id}.{name}" in walk.ledger.held for name in _READINGS)


def _read_to(walk: Walk) -> float:
    hydrometer = walk.lesson.instruments["hydrometer"]
    return 0.001 if hydrometer.read_to is None else hydrometer.read_to.number()


def _must_make_sense(step: PrimeAndBottle, walk: Walk) -> None:
    """Refuse readings of hot samples, readings out of order, and two that show the yeast at work."""
    if not walk.ledger.watchful:
        return
    for number, reading in enumerate(step.readings, start=1):
        low, high = COOL_SAMPLE
        if reading.at is not None and not low <= reading.at.number() <= high:
            wrong = (
                f"A sample at {reading.at.written} does not give its gravity: the published correction holds from"
                f" {low:.0f} to {high:.0f} degC."
            )
            raise walk.refuse(
                reading.at, f"readings[{number}].at", wrong, "Cool the sample to about 20 degC, and read it again."
            )
    if len(step.readings) < 2 or _read_on_the_day(walk):
        return
    first, second = step.readings[-2:]
    where = f"readings[{len(step.readings)}]"
    if second.after.number() <= first.after.number():
        wrong = f"The reading after {second.after.written} stands behind the one after {first.after.written}."
        raise walk.refuse(second.after, f"{where}.after", wrong, "Write the readings in the order of the days.")
    if step.with_ is None:
        return
    fell = _cool(first) - _cool(second)
    if abs(fell) > 0.9 * _read_to(walk):
        wrong = (
            f"The gravity went from {first.gravity.written} to {second.gravity.written}, so the yeast is still at"
            " work, and no sugar can be weighed for it."
        )
        remedy = f"Wait until two readings {DAYS_APART:.0f} days apart are the same."
        raise walk.refuse(second.gravity, f"{where}.gravity", wrong, remedy)
    days = _days_apart(step, walk)
    if days < DAYS_APART:
        wrong = f"The last two readings are {days:.1f} days apart, which shows too little."
        raise walk.refuse(
            second.after, f"{where}.after", wrong, f"Read again, {DAYS_APART:.0f} days or more after the one before."
        )


def _cool(reading: GravityReading) -> float:
    """A stated reading as it would be at 20 degC."""
    read = reading.gravity.number()
    return float(read if reading.at is None else corrected_gravity.plain(read, reading.at.number()))


def _as_stated(walk: Walk, name: str, reading: GravityReading) -> Figure:
    label = f"{name.split('-')[0]} reading of the gravity, after {reading.after.written}"
    evidence = walk.step.evidence_for("readings") if walk.step is not None else ""
    if reading.at is None:
        return walk.author(name, label, reading.gravity, evidence=evidence)
    raw = walk.author(f"{name} as read", f"{label}, as read", reading.gravity, evidence=evidence, on_sheets=False)
    warmth = walk.author(f"{name} warmth", f"{label}: warmth of the sample", reading.at, on_sheets=False)
    return walk.ledger.work(walk.id, name, f"{label}, as at 20 °C", corrected_gravity, reading=raw, temperature=warmth)


def _as_held(walk: Walk, name: str, liquid: Liquid) -> Figure:
    assert liquid.final_gravity is not None
    origin = Origin("reading", None, "", "a reading")
    label = f"{name.split('-')[0]} reading of the gravity"
    return walk.ledger.state(walk.id, name, label, liquid.final_gravity.value, "gravity", origin=origin)
