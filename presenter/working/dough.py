"""Dough and the loaves it makes: what goes in, what the oven takes, and what a later mash finds in the bread.

In: the walk and a bake. Out: :class:`Dough` and :class:`LoafMasses`, their numbers in the ledger.
"""

from __future__ import annotations

from dataclasses import dataclass

from presenter.lesson.fields import Stated
from presenter.lesson.steps.bake import Bake
from presenter.quantities import Origin
from presenter.science.balance import difference_of_masses, part_of_mass, share_of_mass, sum_of_masses
from presenter.science.composition import HYDROLYSIS
from presenter.science.loaf import mass_of_one_piece
from presenter.science.portion import extract_of_ingredient, water_in_ingredient
from presenter.science.water import mass_of_water
from presenter.working.bread import sugars_of_bread
from presenter.working.gristing import grain_of, starch_of, strength_of
from presenter.working.ingredients import portion
from presenter.working.ledger import Figure
from presenter.working.pouring import added
from presenter.working.walk import Walk

__all__ = ["Dough", "LoafMasses", "dough_of", "loaf_masses"]


@dataclass(frozen=True)
class Dough:
    """All the dough of a bake: its figures in kilograms, and what its flours are made of.

    ``other`` is the extract that is neither starch nor sugar, in kilograms; ``enzymes`` the amylase that malt in it
    brought, against pale barley malt for each kilogram of starch; ``grain`` that of most of its starch.
    """

    mass: Figure
    water: Figure
    extract: Figure
    starch: float
    other: float
    enzymes: float
    grain: str


@dataclass(frozen=True)
class LoafMasses:
    """One loaf of several alike: its mass, and shares of it in percent; ``starch`` in kilograms a kilogram of loaf."""

    piece: Figure
    extract: Figure
    moisture: Figure
    sugars: Figure
    starch: float


def dough_of(walk: Walk, step: Bake) -> Dough:
    """The dough of ``step``, every ingredient whole."""
    ledger, here = walk.ledger, walk.id
    portions = [portion(walk, str(name)) for name in step.with_]
    whole = ledger.state(
        here, "whole-yield", "share of the flour that stays in the dough", 100.0, "percent", on_sheets=False,
        origin=Origin("package", None, "100 percent", "nothing is drawn off from a dough"),
    )  # fmt: skip
    masses, waters, extracts = [], [], []
    starch = other = enzymes = 0.0
    by_grain: dict[str, float] = {}
    for each in portions:
        key = each.mass.id.split(".")[1]
        masses.append(each.mass)
        waters.append(
            ledger.work(here, f"{key}-water", f"water in the {each.use.what}", water_in_ingredient, mass=each.mass,
                        moisture=each.moisture, on_sheets=False)
        )  # fmt: skip
        extracts.append(
            ledger.work(here, f"{key}-extract", f"extract in the {each.use.what}", extract_of_ingredient,
                        mass=each.mass, extract_share=each.extract_share, mash_yield=whole, on_sheets=False)
        )  # fmt: skip
        found = starch_of(each, extracts[-1].value)
        sugars = (each.known.sugar_share or 0.0) * each.mass.value if each.known is not None else 0.0
        other += max(0.0, extracts[-1].value - HYDROLYSIS * found - sugars)
        if found > 0.0:
            starch += found
            enzymes += found * strength_of(walk, each, found / each.mass.value)[0]
            grain = grain_of(each)[0]
            by_grain[grain] = by_grain.get(grain, 0.0) + found
    if step.water is not None:
        litres = walk.author("water", "water for the dough", step.water)
        walk.must_be_some(step.water, "water", litres)
        waters.append(
            ledger.work(here, "water-mass", "mass of the dough water", mass_of_water, volume=litres,
                        temperature=walk.house("cold water"), on_sheets=False)
        )  # fmt: skip
        masses.append(waters[-1])
    if starch <= 0.0:
        raise walk.refuse(
            step.with_[0] if step.with_ else None, "with", "There is no flour in this dough, so nothing would set.",
            "Name a flour, such as rye flour, among the ingredients.",
        )  # fmt: skip
    return Dough(
        added(walk, "dough", "dough", sum_of_masses, masses),
        added(walk, "dough-water", "water in the dough", sum_of_masses, waters, on_sheets=False),
        added(walk, "dough-extract", "extract in the dough, if all its starch were turned to sugar", sum_of_masses,
              extracts, on_sheets=False),
        starch, other, enzymes / starch, max(by_grain, key=lambda name: by_grain[name]),
    )  # fmt: skip


def loaf_masses(walk: Walk, dough: Dough, pieces: int, loss: Figure, loss_at: Stated | None) -> LoafMasses:
    """The loaves after the oven took its water: mass of one, and what it is made of."""
    ledger, here = walk.ledger, walk.id
    lost = ledger.work(here, "water-lost", "water that the oven takes", part_of_mass, mass=dough.mass, share=loss)
    if ledger.watchful and lost.value >= dough.water.value:
        raise walk.refuse(
            loss_at, "loses",
            f"The oven would take {lost.value:.2f} kg of water; the dough holds {dough.water.value:.2f} kg.",
            "Write a smaller share, such as 12 percent.",
        )  # fmt: skip
    bread = ledger.work(here, "bread", "bread from the oven, cooled", difference_of_masses, mass=dough.mass, taken=lost)
    water = ledger.work(here, "bread-water", "water in the bread", difference_of_masses, mass=dough.water, taken=lost,
                        on_sheets=False)  # fmt: skip
    number = ledger.state(
        here, "loaves", "loaves", float(pieces), "piece", on_sheets=False,
        origin=Origin("lesson", None, str(pieces), "as many as are baked"),
    )  # fmt: skip
    piece = ledger.work(here, "loaf-mass", "one baked loaf, cooled", mass_of_one_piece, mass=bread, pieces=number)
    moisture = ledger.work(here, "moisture", "water in the baked loaf, of its mass", share_of_mass, part=water,
                           whole=bread)  # fmt: skip
    extract = ledger.work(here, "extract-share", "extract in the loaf, if all its starch were turned to sugar",
                          share_of_mass, part=dough.extract, whole=bread, on_sheets=False)  # fmt: skip
    sugars = sugars_of_bread(walk, walk.id, "sugar-share", "the loaf", dough.grain, moisture)
    starch = (extract.value - sugars.value) / 100.0 - dough.other / bread.value
    return LoafMasses(piece, extract, moisture, sugars, max(0.0, starch / HYDROLYSIS))
