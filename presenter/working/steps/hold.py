"""Hold: a mash goes on resting; its enzymes go on at the heat of the tub, which falls as the tub cools."""

from __future__ import annotations

from presenter.lesson.steps.hold import Hold
from presenter.working.mashing import rest_of_mash
from presenter.working.steps.mash import bed_settles, cooled
from presenter.working.walk import Walk

__all__ = ["walk_hold"]


def walk_hold(step: Hold, walk: Walk) -> None:
    """Leave the mash as it is for a time."""
    vessel = str(step.in_)
    if not walk.vessels.has_bed(vessel):
        raise walk.refuse(
            step.in_, "in", f"There is no mash in the {vessel} yet.", "Add a step that mashes before this one."
        )
    bed = walk.vessels.bed(vessel)
    time, ended = cooled(step.for_, walk, vessel, bed.temperature, "for")
    mash, freed = rest_of_mash(
        walk, bed.mash, start=bed.temperature, end=ended, time=time, water=bed.volume, grain=bed.grain, at=step.for_,
        field="for", time_at=step.for_, water_at=step.for_,
    )  # fmt: skip
    bed_settles(walk, bed, mash, freed, bed.water, ended, "the wort in the mash")
