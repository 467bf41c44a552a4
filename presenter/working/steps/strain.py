"""Strain or rack: the clear liquid moves on, the dregs stay with some of it."""

from __future__ import annotations

from presenter.lesson.steps import slug
from presenter.lesson.steps.strain import Strain
from presenter.science.balance import difference_of_volumes
from presenter.working.pouring import carried, part_of
from presenter.working.walk import Walk

__all__ = ["walk_strain"]


def walk_strain(step: Strain, walk: Walk) -> None:
    """Leave a little behind and carry the rest over."""
    liquid = walk.vessels.liquid(slug(step.what))
    left = (
        walk.author("leave", "left behind with the dregs", step.leave)
        if step.leave is not None
        else walk.house("left behind")
    )
    if walk.ledger.watchful and left.value >= liquid.volume.value:
        raise walk.refuse(
            step.leave or step.what,
            "leave",
            f"That leaves nothing: there are {liquid.volume.value:.1f} L of {step.what}.",
        )
    volume = walk.ledger.work(
        walk.id, "volume", f"{step.what} carried over", difference_of_volumes, volume=liquid.volume, taken=left
    )
    over = "carried over, reckoned as wort" if liquid.fermented else "carried over"
    (extract, water), _ = part_of(walk, liquid.extract, liquid.water, liquid.volume, volume, over)
    walk.vessels.liquids[liquid.name] = carried(
        liquid, volume=volume, extract=extract, water=water, vessel=str(step.into or liquid.vessel)
    )
