"""Pouring: how liquids and grain beds are made, parted and put together, with every mass accounted for.

In: the walk and figures. Out: new :class:`Liquid` and :class:`GrainBed` values; the numbers go into the ledger.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
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
from presenter.science.formula import Formula
from presenter.science.water import mass_of_water
from presenter.science.wort import (
    extract_in_volume,
    gravity_from_extract_and_water,
    mass_of_wort,
    volume_of_wort,
)
from presenter.working.ledger import Figure
from presenter.working.vessels import Liquid
from presenter.working.walk import Walk

__all__ = ["Measured", "added", "carried", "measure", "nothing_more", "part_of", "re_anchored"]


def nothing_more(walk: Walk, name: str, step: str = "", unit: str = "kilogram") -> Figure:
    """Nothing at all, as a figure to be added where a sum has one part only."""
    return walk.ledger.state(
        step or walk.id, f"{name}-nothing-more", "nothing more", 0.0, unit, on_sheets=False,
        origin=Origin("package", None, "0", "there is only one"),
    )  # fmt: skip


def added(
    walk: Walk, name: str, label: str, formula: Formula, figures: list[Figure], *, on_sheets: bool = True
) -> Figure:
    """Masses added one after the other; the last sum bears the name. One alone is added to nothing, to bear it."""
    total = figures[0]
    if len(figures) == 1:
        figures = [total, nothing_more(walk, name)]
    for count, more in enumerate(figures[1:], start=2):
        last = count == len(figures)
        total = walk.ledger.work(
            walk.id, name if last else f"{name}-{count}", label, formula, mass=total, other_mass=more,
            on_sheets=last and on_sheets,
        )  # fmt: skip
    return total


@dataclass(frozen=True)
class Measured:
    """A liquid of extract and water, with its gravity and its volume at 20 degC. A reading may have changed any."""

    extract: Figure
    water: Figure
    gravity: Figure
    volume: Figure


def measure(
    walk: Walk, extract: Figure, water: Figure, prefix: str = "", of: str = "the wort", drawn: bool = False
) -> Measured:
    """Gravity and volume (at 20 degC) of a liquid made of ``extract`` and ``water``.

    Where the gravity is held as read, the liquid is anchored to it: the volume stays unless it was read too, and
    extract and water become what the reading says (:func:`re_anchored`). Where the volume alone is held, the
    difference is water; in a liquid that was ``drawn`` it is more or less of the same liquid.
    """
    ledger, here = walk.ledger, walk.id
    planned = None
    gravity_read, volume_read = (f"{here}.{prefix}{name}" in ledger.held for name in ("gravity", "volume"))
    if volume_read and not gravity_read and not drawn:
        water, planned = _water_as_read(walk, extract, water, prefix, of)
    gravity = worked = ledger.work(
        here, f"{prefix}gravity", f"gravity of {of}", gravity_from_extract_and_water, extract=extract, water=water
    )
    if gravity_read:
        worked = ledger.work(
            here, f"{prefix}gravity-as-worked", f"gravity of {of}, had nobody read it", gravity_from_extract_and_water,
            extract=extract, water=water, on_sheets=False,
        )  # fmt: skip
    mass = ledger.work(
        here, f"{prefix}mass", f"mass of {of}", sum_of_masses, mass=extract, other_mass=water, on_sheets=False
    )
    volume = ledger.work(
        here, f"{prefix}volume", f"volume of {of}, at 20 °C", volume_of_wort, mass=mass, gravity=worked
    )
    if planned is not None:  # the gap is from what was planned, not from what was made to agree
        ledger.gaps[volume.id] = volume.value - planned.value
    if gravity_read or (volume_read and drawn):
        extract, water = re_anchored(walk, gravity, volume, extract, prefix, of)
    return Measured(extract, water, gravity, volume)


def re_anchored(
    walk: Walk, gravity: Figure, volume: Figure, extract: Figure, prefix: str = "", of: str = "the wort"
) -> tuple[Figure, Figure]:
    """Extract and water of a liquid whose gravity was read, at its volume; the gap in extract is kept as a number."""
    ledger, here = walk.ledger, walk.id
    read = ledger.work(
        here, f"{prefix}extract-as-read", f"extract in {of}, by the reading", extract_in_volume,
        volume=volume, gravity=gravity, on_sheets=False,
    )  # fmt: skip
    mass = ledger.work(
        here, f"{prefix}mass-as-read", f"mass of {of}, by the reading", mass_of_wort,
        volume=volume, gravity=gravity, on_sheets=False,
    )  # fmt: skip
    water = ledger.work(
        here, f"{prefix}water-as-read", f"water in {of}, by the reading", difference_of_masses,
        mass=mass, taken=read, on_sheets=False,
    )  # fmt: skip
    ledger.work(
        here, f"{prefix}extract-gap", f"extract in {of} that nothing explains", difference_of_masses,
        mass=read, taken=extract, remark="what the reading says, less what was worked out",
    )  # fmt: skip
    return read, water


def _water_as_read(walk: Walk, extract: Figure, water: Figure, prefix: str, of: str) -> tuple[Figure, Figure]:
    """The water of a liquid whose volume alone was read, and the volume it would have had."""
    ledger, here = walk.ledger, walk.id
    gravity = ledger.work(
        here, f"{prefix}gravity-as-worked", f"gravity of {of}, had nobody read its volume",
        gravity_from_extract_and_water, extract=extract, water=water, on_sheets=False,
    )  # fmt: skip
    mass = ledger.work(
        here, f"{prefix}mass-as-worked", f"mass of {of}, had nobody read its volume", sum_of_masses,
        mass=extract, other_mass=water, on_sheets=False,
    )  # fmt: skip
    worked = ledger.work(
        here, f"{prefix}volume-as-worked", f"volume of {of}, had nobody read it", volume_of_wort,
        mass=mass, gravity=gravity, on_sheets=False,
    )  # fmt: skip
    read, spread = ledger.held[f"{here}.{prefix}volume"]
    seen = ledger.state(
        here, f"{prefix}volume-read", f"volume of {of}, as read", read, "litre", on_sheets=False,
        origin=Origin("reading", None, "", "a reading"),
        influences={f"the reading of volume of {of}, at 20 °C": spread},
    )  # fmt: skip
    ledger.work(
        here, f"{prefix}volume-gap", f"water in {of} that nothing explains", difference_of_volumes,
        volume=seen, taken=worked,
    )  # fmt: skip
    at = ledger.state(
        here, f"{prefix}read-at", "temperature at which volumes are compared", 20.0, "degree_Celsius", on_sheets=False,
        origin=Origin("package", None, "20 degC", "the reference temperature of gravity tables"),
    )  # fmt: skip
    masses = [
        ledger.work(
            here, f"{prefix}{name}-as-water", f"mass of so much water as {said}", mass_of_water,
            volume=figure, temperature=at, on_sheets=False,
        )
        for name, said, figure in (("read", "was read", seen), ("worked", "was worked out", worked))
    ]  # fmt: skip
    gap = ledger.work(
        here, f"{prefix}water-gap", f"mass of the water in {of} that nothing explains", difference_of_masses,
        mass=masses[0], taken=masses[1], on_sheets=False,
    )  # fmt: skip
    as_read = ledger.work(
        here, f"{prefix}water-as-read", f"water in {of}, by the reading", sum_of_masses,
        mass=water, other_mass=gap, on_sheets=False,
    )  # fmt: skip
    return as_read, worked


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
