"""Top up: water thins a wort; its extract stays as it was."""

from __future__ import annotations

from presenter.lesson.steps import slug
from presenter.lesson.steps.top_up import TopUp
from presenter.science.balance import sum_of_masses
from presenter.science.water import mass_of_water
from presenter.working.blending import warmth_together
from presenter.working.dechlorination import MAINS
from presenter.working.pouring import carried, measure, nothing_more
from presenter.working.walk import Walk, wort_called

__all__ = ["walk_top_up"]


def walk_top_up(step: TopUp, walk: Walk) -> None:
    """Add water to an unfermented wort."""
    liquid = walk.vessels.liquid(slug(step.what))
    if liquid.pitched:
        raise walk.refuse(
            step.what,
            "what",
            f"Yeast is in the {step.what} already; its original gravity would no longer hold.",
            "Top up before the yeast goes in.",
        )
    source = walk.lesson.file.site.water
    unboiled = liquid.boiled and not step.boiled
    if walk.ledger.watchful and unboiled and source is not None and not MAINS.search(str(source).casefold()):
        wrong = f"Water from {source} that nobody has boiled would go into the {step.what}, which has been boiled."
        remedy = "Boil it first and write boiled: yes, or top up before the boil."
        raise walk.refuse(step.what, "what", wrong, remedy)
    cold = walk.house("cold water")
    litres = walk.author("water", "water added", step.water)
    mass = walk.ledger.work(
        walk.id,
        "water-mass",
        "mass of the water added",
        mass_of_water,
        volume=litres,
        temperature=cold,
        on_sheets=False,
    )
    water = walk.ledger.work(
        walk.id,
        "water-in-wort",
        "water in the wort",
        sum_of_masses,
        mass=liquid.water,
        other_mass=mass,
        on_sheets=False,
    )
    none = nothing_more(walk, "water-extract")
    warmth = warmth_together(walk, (liquid.extract, liquid.water, liquid.temperature), (none, mass, cold))
    wort = measure(walk, liquid.extract, water, of=f"the {wort_called(step.what)}, thinned")
    walk.compare("gravity", wort.gravity)
    walk.compare("volume", wort.volume)
    if liquid.vessel:
        walk.must_fit(wort.volume.value, liquid.vessel, step.water, "water", f"The {step.what} with its water")
    walk.vessels.liquids[liquid.name] = carried(
        liquid,
        extract=wort.extract,
        water=wort.water,
        gravity=wort.gravity,
        volume=wort.volume,
        temperature=warmth,
        boiled=liquid.boiled and step.boiled,
    )
