"""Blending: what yeast finds in two liquids put together, and how warm they are.

In: the walk, and the extract and sugars of each, or the two liquids. Out: the sugars of both, each extract keeping its
own make-up; their temperature by the heat that each brings; the numbers go into the ledger.
"""

from __future__ import annotations

from presenter.quantities import Origin
from presenter.science.balance import sum_of_masses
from presenter.science.blending import mixed_share
from presenter.science.mash_heat import heat_capacity
from presenter.science.mixing_heat import temperature_of_two
from presenter.working.ledger import Figure
from presenter.working.vessels import Spectrum
from presenter.working.walk import Walk

__all__ = ["Warm", "blended", "heat_of_wort", "warmth_together"]

WORT_HEAT = 4.0  # kJ/(kg degC): water's 4.18 less about a twentieth for the dissolved extract

Warm = tuple[Figure, Figure, Figure]
"""Extract, water and temperature of a liquid."""


def blended(
    walk: Walk, extract: Figure, sugars: Spectrum | None, other_extract: Figure, other: Spectrum | None, mark: str
) -> Spectrum | None:
    """The sugars of two extracts together; ``mark`` tells several blends of one step apart.

    Where one of the two was never known, the other's stand for both.
    """
    if sugars is None or other is None:
        return sugars or other
    shares = {
        name: walk.ledger.work(
            walk.id, f"{name}-{mark}", f"{label} of the whole", mixed_share, on_sheets=False,
            extract=extract, share=getattr(sugars, name), other_extract=other_extract, other_share=getattr(other, name),
        )
        for name, label in (
            ("fermentable", "extract that yeast can use"), ("maltose", "maltose in the extract"),
            ("maltotriose", "maltotriose in the extract"),
        )
    }  # fmt: skip
    return Spectrum(**shares, remarks=tuple(dict.fromkeys((*sugars.remarks, *other.remarks))))


def heat_of_wort(walk: Walk, name: str) -> Figure:
    """The specific heat of a wort, under ``name`` of the step in hand."""
    return walk.ledger.state(
        walk.id, name, "specific heat of wort", WORT_HEAT, "kilojoule / delta_degree_Celsius / kilogram",
        origin=Origin("package", None, "4.0 kJ/(kg degC)", "common practice: water's, less a twentieth"),
        influences={"the specific heat of wort": 0.15}, on_sheets=False,
    )  # fmt: skip


def warmth_together(walk: Walk, first: Warm, *others: Warm) -> Figure:
    """The temperature of liquids poured together; that of the first where all are equally warm."""
    temperature = first[2]
    if not walk.ledger.goes(walk.id, "temperature", any(other[2].value != temperature.value for other in others)):
        return temperature
    ledger, here, heat = walk.ledger, walk.id, heat_of_wort(walk, "specific-heat")
    masses = [
        ledger.work(
            here, f"mass-{number}", "mass of one of the liquids", sum_of_masses, mass=extract, other_mass=water,
            on_sheets=False,
        )
        for number, (extract, water, _) in enumerate((first, *others), start=1)
    ]  # fmt: skip
    so_far = masses[0]
    for number, other in enumerate(others, start=2):
        capacities = [
            ledger.work(here, name, label, heat_capacity, mass=mass, specific_heat=heat, on_sheets=False)
            for name, label, mass in (
                (f"heat-before-{number}", "heat that warms the liquids so far by one degree", so_far),
                (f"heat-{number}", "heat that warms the next by one degree", masses[number - 1]),
            )
        ]
        last = number == len(others) + 1
        temperature = ledger.work(
            here, "temperature" if last else f"temperature-{number}", "temperature once poured together",
            temperature_of_two, heat_capacity=capacities[0], temperature=temperature,
            other_heat_capacity=capacities[1], other_temperature=other[2], on_sheets=last,
            remark="the vessels take no heat in this sum",
        )  # fmt: skip
        if not last:
            so_far = ledger.work(
                here, f"mass-so-far-{number}", "mass of the liquids so far", sum_of_masses, mass=so_far,
                other_mass=masses[number - 1], on_sheets=False,
            )  # fmt: skip
    return temperature
