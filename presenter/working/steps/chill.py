"""Chill: what the cold does to a wort's germs on the way, and to the pressure in a bottle."""

from __future__ import annotations

from presenter.lesson.steps import slug
from presenter.lesson.steps.chill import Chill
from presenter.science.carbon_dioxide import bottle_pressure
from presenter.science.lukewarm import minutes_lukewarm
from presenter.working.ledger import Figure
from presenter.working.pouring import carried
from presenter.working.steps.prime_and_bottle import MOST_GAS
from presenter.working.vessels import Liquid
from presenter.working.walk import Walk

__all__ = ["walk_chill"]

COLD = 15.0  # degC; warmer is no chilling


def _workable(liquid: Liquid, at: Figure) -> bool:
    """Whether the gas and the cold lie where the pressure can be worked out."""
    return liquid.carbonation is not None and liquid.carbonation.value <= MOST_GAS and at.value >= 0


def walk_chill(step: Chill, walk: Walk) -> None:
    """Keep a liquid cold; count the lukewarm minutes of a wort that no yeast holds yet."""
    liquid = walk.vessels.liquid(slug(step.what))
    walk.must_go_into(liquid.name, liquid.volume.value, step.in_, "in", f"The {step.what}")
    at = walk.author("at", "temperature to keep it at", step.at)
    walk.must_lie(step.at, "at", at, -2, COLD, "a cold place is at", f"-2 to {COLD:.0f} degC")
    walk.author("for", "time in the cold", step.for_, exact=True)
    lukewarm = liquid.minutes_warm
    if not liquid.pitched:
        if step.within is None and walk.ledger.watchful and liquid.temperature.value > 5:
            wrong = f"The {step.what} has no yeast in it yet, and the step does not say how long it takes to get cold."
            raise walk.refuse(step.what, "what", wrong, "Add within: and the time that it takes.")
        if step.within is not None:
            within = walk.author("within", "time to get cold in", step.within, exact=True)
            spent = walk.ledger.work(
                walk.id, "lukewarm", "time between 57 and 5 °C while cooling", minutes_lukewarm,
                start=liquid.temperature, end=at, time=within,
            )  # fmt: skip
            lukewarm += spent.value
        if at.value > 5:
            lukewarm += step.for_.number()
    elif step.within is not None:
        walk.author("within", "time to get cold in", step.within, exact=True)
    if liquid.carbonation is not None and walk.ledger.goes(walk.id, "bottle-pressure", _workable(liquid, at)):
        walk.ledger.work(
            walk.id, "bottle-pressure", "pressure in the bottle once it is cold", bottle_pressure,
            carbonation=liquid.carbonation, temperature=at, remark="over the air's; it rises again in the warm",
        )  # fmt: skip
    walk.vessels.liquids[liquid.name] = carried(
        liquid, temperature=at, minutes_warm=lukewarm, vessel=str(step.in_ or liquid.vessel)
    )
