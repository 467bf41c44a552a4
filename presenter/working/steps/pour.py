"""Pour: extract and water go with the volume poured, and add up to what there was."""

from __future__ import annotations

from presenter.lesson.steps import slug
from presenter.lesson.steps.pour import Pour
from presenter.science.balance import sum_of_masses
from presenter.working.blending import blended, warmth_together
from presenter.working.pouring import carried, measure, part_of
from presenter.working.walk import Walk, wort_called

__all__ = ["walk_pour"]


def walk_pour(step: Pour, walk: Walk) -> None:
    """Move a part of one unfermented wort into another."""
    source, target = (walk.vessels.liquid(slug(name)) for name in (step.what, step.onto))
    for liquid, said in ((source, step.what), (target, step.onto)):
        if liquid.pitched:
            raise walk.refuse(
                said, "what" if said is step.what else "onto",
                f"Yeast is in the {said} already; its original gravity would no longer hold.",
                "Pour worts together before the yeast goes in.",
            )  # fmt: skip
    if source.name == target.name:
        raise walk.refuse(step.onto, "onto", f"The {step.what} cannot be poured onto itself.", "Name another wort.")
    taken = walk.author(
        "poured", f"{step.what}, poured onto the {step.onto}", step.volume, evidence=step.evidence_for("volume")
    )
    walk.must_be_some(step.volume, "volume", taken)
    if walk.ledger.watchful and taken.value >= source.volume.value:
        wrong = f"There are {source.volume.value:.1f} L of the {step.what}; {step.volume.written} would leave nothing."
        raise walk.refuse(step.volume, "volume", wrong, "Pour less, or join the two.")
    (extract, water), (extract_left, water_left, volume_left) = part_of(
        walk, source.extract, source.water, source.volume, taken, "poured"
    )
    sugars = blended(walk, target.extract, target.sugars, extract, source.sugars, "poured")
    together = [
        walk.ledger.work(
            walk.id, f"{name}-together", f"{name} together", sum_of_masses, mass=mass, other_mass=more, on_sheets=False
        )
        for name, mass, more in (("extract", target.extract, extract), ("water", target.water, water))
    ]
    temperature = warmth_together(
        walk, (target.extract, target.water, target.temperature), (extract, water, source.temperature)
    )
    wort = measure(walk, together[0], together[1], of=f"the {wort_called(step.onto)} with what was poured")
    walk.compare("gravity", wort.gravity)
    walk.compare("volume", wort.volume)
    if target.vessel:
        walk.must_fit(wort.volume.value, target.vessel, step.volume, "volume", f"The {step.onto} with what is poured")
    walk.vessels.liquids[source.name] = carried(source, extract=extract_left, water=water_left, volume=volume_left)
    walk.vessels.liquids[target.name] = carried(
        target, extract=wort.extract, water=wort.water, gravity=wort.gravity, volume=wort.volume, sugars=sugars,
        temperature=temperature, boiled=source.boiled and target.boiled, hottest=min(source.hottest, target.hottest),
        enzymes_ended=source.enzymes_ended and target.enzymes_ended,
        minutes_warm=max(source.minutes_warm, target.minutes_warm),
        ingredients=tuple(dict.fromkeys((*target.ingredients, *source.ingredients))),
    )  # fmt: skip
