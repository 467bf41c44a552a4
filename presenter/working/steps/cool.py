"""Cool: from the kettle's heat to where yeast lives; the minutes spent lukewarm are counted."""

from __future__ import annotations

from presenter.lesson.steps import slug
from presenter.lesson.steps.cool import Cool
from presenter.science.lukewarm import minutes_lukewarm
from presenter.working.germs import germs_along, while_it_cools
from presenter.working.pouring import carried
from presenter.working.walk import Walk, wort_called

__all__ = ["walk_cool"]


def walk_cool(step: Cool, walk: Walk) -> None:
    """Bring a liquid down to a temperature within a time."""
    liquid = walk.vessels.liquid(slug(step.what))
    walk.must_go_into(liquid.name, liquid.volume.value, step.in_, "in", f"The {step.what}")
    to = walk.author("to", "temperature to cool to", step.to)
    walk.must_lie(step.to, "to", to, 0, 100, "a liquid is cooled to", "0 to 100 degC")
    within = walk.author("within", "time to cool in", step.within, exact=True)
    if walk.ledger.watchful and to.value >= liquid.temperature.value:
        raise walk.refuse(
            step.to,
            "to",
            f"{step.to.written} is not below the {liquid.temperature.value:.0f} degC"
            f" that the {wort_called(step.what)} has already.",
            "Leave this step out, or cool further.",
        )
    lukewarm = walk.ledger.work(
        walk.id, "lukewarm", "time between 57 and 5 °C while cooling", minutes_lukewarm,
        start=liquid.temperature, end=to, time=within,
    )  # fmt: skip
    if within.value > 0 and liquid.temperature.value > to.value:
        course = while_it_cools(liquid.temperature.value, to.value, within.value)
        germs_along(walk, *course, {"start": liquid.temperature, "end": to, "time": within})
    walk.vessels.liquids[liquid.name] = carried(
        liquid, temperature=to, minutes_warm=liquid.minutes_warm + lukewarm.value, vessel=str(step.in_ or liquid.vessel)
    )
