"""Join: liquids poured together keep every gram of their extract and water."""

from __future__ import annotations

from presenter.lesson.steps import slug
from presenter.lesson.steps.join import Join
from presenter.science.balance import sum_of_masses
from presenter.working.blending import blended, warmth_together
from presenter.working.pouring import measure
from presenter.working.vessels import Liquid
from presenter.working.walk import Walk, wort_called

__all__ = ["walk_join"]


def walk_join(step: Join, walk: Walk) -> None:
    """Pour unfermented worts together."""
    liquids = [walk.vessels.liquid(slug(name)) for name in step.what]
    for liquid, said in zip(liquids, step.what, strict=True):
        if liquid.pitched:
            raise walk.refuse(
                said,
                "what",
                f"Yeast is in the {said} already; its original gravity would no longer hold.",
                "Join worts before the yeast goes in.",
            )
    if len(liquids) < 2:
        raise walk.refuse(step.what[0] if step.what else None, "what", "Joining needs two liquids or more.")
    first = liquids[0]
    extract, water, sugars = first.extract, first.water, first.sugars
    for count, other in enumerate(liquids[1:], start=2):
        sugars = blended(walk, extract, sugars, other.extract, other.sugars, str(count))
        extract = walk.ledger.work(
            walk.id,
            f"extract-{count}",
            "extract together",
            sum_of_masses,
            mass=extract,
            other_mass=other.extract,
            on_sheets=False,
        )
        water = walk.ledger.work(
            walk.id,
            f"water-{count}",
            "water together",
            sum_of_masses,
            mass=water,
            other_mass=other.water,
            on_sheets=False,
        )
    temperature = warmth_together(walk, *((each.extract, each.water, each.temperature) for each in liquids))
    wort = measure(walk, extract, water, of=f"the {wort_called(step.call_it)}")
    walk.compare("gravity", wort.gravity)
    walk.compare("volume", wort.volume)
    vessel = str(step.in_) if step.in_ else ""
    if vessel:
        walk.must_fit(wort.volume.value, vessel, step.in_, "in", f"The {step.call_it}")
    for liquid in liquids:
        walk.vessels.liquids.pop(liquid.name)
    name = slug(step.call_it)
    walk.vessels.liquids[name] = Liquid(
        name,
        wort.extract,
        wort.water,
        wort.gravity,
        wort.volume,
        temperature,
        sugars=sugars,
        enzymes_ended=all(liquid.enzymes_ended for liquid in liquids),
        boiled=all(liquid.boiled for liquid in liquids),
        hottest=min(liquid.hottest for liquid in liquids),
        vessel=vessel,
        minutes_warm=max(liquid.minutes_warm for liquid in liquids),
        ingredients=tuple(dict.fromkeys(name for liquid in liquids for name in liquid.ingredients)),
    )
