"""Split: one liquid becomes two; extract and water go with the volume, and add up to what there was."""

from __future__ import annotations

from dataclasses import replace

from presenter.lesson.steps import slug
from presenter.lesson.steps.split import Split
from presenter.science.balance import difference_of_masses, part_of_mass
from presenter.working.ledger import Figure
from presenter.working.pouring import part_of
from presenter.working.vessels import Liquid
from presenter.working.walk import Walk

__all__ = ["walk_split"]


def walk_split(step: Split, walk: Walk) -> None:
    """Part a volume of a liquid from the rest of it."""
    whole = walk.vessels.liquid(slug(step.what))
    taken = walk.author("volume", f"{step.call_it}, parted from the {step.what}", step.volume)
    walk.must_be_some(step.volume, "volume", taken)
    if walk.ledger.watchful and taken.value >= whole.volume.value:
        wrong = f"There are {whole.volume.value:.1f} L of the {step.what}; {step.volume.written} would leave nothing."
        raise walk.refuse(step.volume, "volume", wrong, "Part off less.")
    (extract, water), (extract_left, water_left, volume_left) = part_of(
        walk, whole.extract, whole.water, whole.volume, taken, "parted off"
    )
    alcohol, alcohol_left = _alcohol(walk, whole)
    del walk.vessels.liquids[whole.name]
    parts = (
        (step.call_it, step.into, "into", extract, water, taken, alcohol),
        (step.call_the_rest, step.rest_into, "rest into", extract_left, water_left, volume_left, alcohol_left),
    )
    for called, vessel, field_name, own_extract, own_water, volume, own_alcohol in parts:
        name = slug(called)
        walk.must_go_into(name, volume.value, vessel, field_name, f"The {called}")
        walk.vessels.liquids[name] = replace(
            whole, name=name, extract=own_extract, water=own_water, volume=volume, alcohol=own_alcohol,
            carbon_dioxide=None, vessel=str(vessel or (whole.vessel if field_name == "rest into" else "")),
        )  # fmt: skip


def _alcohol(walk: Walk, whole: Liquid) -> tuple[Figure | None, Figure | None]:
    """The alcohol that each part takes with it, once there is any."""
    if whole.alcohol is None:
        return None, None
    share = walk.ledger.again(f"{walk.id}.parted-off-share")
    taken = walk.ledger.work(
        walk.id, "parted-off-alcohol", "alcohol parted off", part_of_mass, mass=whole.alcohol, share=share,
        on_sheets=False,
    )  # fmt: skip
    left = walk.ledger.work(
        walk.id, "alcohol-left", "alcohol that stays behind", difference_of_masses, mass=whole.alcohol, taken=taken,
        on_sheets=False,
    )  # fmt: skip
    return taken, left
