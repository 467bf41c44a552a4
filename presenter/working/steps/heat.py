"""Heat: the energy that a liquid takes on its way to a temperature, and the time at the kettle's power."""

from __future__ import annotations

from presenter.lesson.steps import slug
from presenter.lesson.steps.heat import Heat
from presenter.science.balance import sum_of_masses
from presenter.science.heating import heating_energy
from presenter.science.mash_heat import heat_capacity
from presenter.working.blending import heat_of_wort
from presenter.working.germs import germs_along
from presenter.working.ledger import Figure
from presenter.working.pouring import carried
from presenter.working.vessels import Liquid
from presenter.working.walk import Walk

__all__ = ["heat_up", "walk_heat"]


def heat_up(walk: Walk, liquid: Liquid, target: Figure) -> Figure:
    """Record the energy that brings ``liquid`` to ``target``."""
    ledger, here = walk.ledger, walk.id
    mass = ledger.work(
        here,
        "mass-to-heat",
        "mass to heat",
        sum_of_masses,
        mass=liquid.extract,
        other_mass=liquid.water,
        on_sheets=False,
    )
    specific = heat_of_wort(walk, "specific-heat")
    capacity = ledger.work(
        here,
        "heat-capacity",
        "heat that warms the wort by one degree",
        heat_capacity,
        mass=mass,
        specific_heat=specific,
        on_sheets=False,
    )
    return ledger.work(
        here,
        "energy",
        "heat that the wort takes up on its way",
        heating_energy,
        heat_capacity=capacity,
        temperature=liquid.temperature,
        target=target,
    )


def walk_heat(step: Heat, walk: Walk) -> None:
    """Bring a liquid to a temperature."""
    liquid = walk.vessels.liquid(slug(step.what))
    if liquid.container:
        raise walk.refuse(
            step.what, "what",
            f"The {step.what} is in its {liquid.container} already; gas that is shut in and heated bursts bottles.",
            "Heat it before bottling.",
        )  # fmt: skip
    walk.must_fit(liquid.volume.value, str(step.in_), step.what, "what", f"The {step.what}")
    reach = walk.author("reach", "temperature to reach", step.reach)
    walk.must_lie(step.reach, "reach", reach, 0, 101, "a kettle heats to", "0 to 101 degC")
    heat_up(walk, liquid, reach)
    if step.for_ is not None:
        held = walk.author("for", "time to hold", step.for_, exact=True)
        germs_along(walk, (0.0, held.value), (reach.value, reach.value), {"temperature": reach, "time": held})
    walk.vessels.liquids[liquid.name] = carried(
        liquid, temperature=reach, hottest=max(liquid.hottest, reach.value), vessel=str(step.in_)
    )
