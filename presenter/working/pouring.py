"""Pouring: how liquids and grain beds are made, parted and put together, with every mass accounted for.

In: the walk and figures. Out: new :class:`Liquid` and :class:`GrainBed` values; the numbers go into the ledger.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from presenter.lesson.steps import slug
from presenter.quantities import Origin
from presenter.science.balance import (
    difference_of_masses,
    difference_of_volumes,
    part_of_mass,
    share_drawn,
    sum_of_masses,
)
from presenter.science.wort import gravity_from_extract_and_water, volume_of_wort
from presenter.working.ledger import Figure
from presenter.working.vessels import Liquid
from presenter.working.walk import Walk

__all__ = ["measure", "part_of", "zero"]


def zero(walk: Walk, name: str, label: str, unit: str) -> Figure:
    """Nothing at all, as a figure: there is no alcohol in a wort that has not fermented."""
    return walk.ledger.state(
        walk.id, name, label, 0.0, unit, origin=Origin("package", None, "0", "nothing yet"), on_sheets=False
    )


def measure(
    walk: Walk, extract: Figure, water: Figure, prefix: str = "", of: str = "the wort"
) -> tuple[Figure, Figure]:
    """Gravity and volume (at 20 degC) of a liquid made of ``extract`` and ``water``."""
    gravity = walk.ledger.work(
        walk.id, f"{prefix}gravity", f"gravity of {of}", gravity_from_extract_and_water, extract=extract, water=water
    )
    mass = walk.ledger.work(
        walk.id, f"{prefix}mass", f"mass of {of}", sum_of_masses, mass=extract, other_mass=water, on_sheets=False
    )
    volume = walk.ledger.work(
        walk.id, f"{prefix}volume", f"volume of {of}, at 20 °C", volume_of_wort, mass=mass, gravity=gravity
    )
    return gravity, volume


def part_of(
    walk: Walk, extract: Figure, water: Figure, volume: Figure, taken: Figure, what: str
) -> tuple[tuple[Figure, Figure], tuple[Figure, Figure, Figure]]:
    """Draw ``taken`` from a well-mixed liquid: (extract, water) drawn, and (extract, water, volume) that stay."""
    share = walk.ledger.work(
        walk.id,
        f"{slug(what)}-share",
        f"share of the liquid that is {what}",
        share_drawn,
        volume=taken,
        whole=volume,
        on_sheets=False,
    )
    drawn = [
        walk.ledger.work(
            walk.id,
            f"{slug(what)}-{name}",
            f"{name} {what}",
            part_of_mass,
            mass=mass,
            share=share,
            on_sheets=name == "extract",
        )
        for name, mass in (("extract", extract), ("water", water))
    ]
    kept = [
        walk.ledger.work(
            walk.id,
            f"{name}-left",
            f"{name} that stays behind",
            difference_of_masses,
            mass=mass,
            taken=part,
            on_sheets=False,
        )
        for (name, mass), part in zip((("extract", extract), ("water", water)), drawn, strict=True)
    ]
    volume_left = walk.ledger.work(
        walk.id,
        "volume-left",
        "volume that stays behind",
        difference_of_volumes,
        volume=volume,
        taken=taken,
        on_sheets=False,
    )
    return (drawn[0], drawn[1]), (kept[0], kept[1], volume_left)


def carried(liquid: Liquid, **changes: Any) -> Liquid:
    """``liquid`` after a step, with what the step changed."""
    return replace(liquid, **changes)
