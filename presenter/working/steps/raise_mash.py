"""Raise: how much hot water, stones, fire or drawn mash brings a mash to its next rest, and what happens on the way.

The amount is a setting, worked out once. Hot water makes the mash thinner, stones drive off a little steam, and a
drawn part that is boiled goes back with its starch opened and its enzymes dead.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from presenter.lesson.steps.raise_mash import Raise
from presenter.quantities import Origin
from presenter.science.balance import difference_of_masses, part_of_mass, sum_of_masses, sum_of_volumes
from presenter.science.heating import heating_energy
from presenter.science.mash_bulk import mash_volume
from presenter.science.mash_heat import mash_heat_capacity
from presenter.science.mash_state import boiled, mixed
from presenter.science.raising import (
    drawn_mash_share,
    hot_stones_to_raise,
    hot_water_to_raise,
    temperature_after_hot_stones,
    temperature_after_hot_water,
)
from presenter.science.wort import volume_of_wort
from presenter.working.ledger import Figure
from presenter.working.mashing import boiled_through, no_extract, no_share_boils_free, rest_of_mash
from presenter.working.steps.boil import boiling_point
from presenter.working.steps.mash import bed_settles, thermometer
from presenter.working.tub_heat import grist_heat, heat_of_bed, vessel_heat
from presenter.working.vessels import GrainBed, MashInTub
from presenter.working.walk import Walk

__all__ = ["walk_raise"]

STONE_HEAT = 0.84  # kJ/(kg degC). From memory of handbook tables for hard rock; wide give-or-take for that reason.
BOILS_FROM = 95.0  # degC: a mash brought this far over a fire counts as boiled
STEAM = 0.05  # kg driven off as stones go in; nobody weighs it


def walk_raise(step: Raise, walk: Walk) -> None:
    """Bring the mash in a tub to its next rest."""
    vessel = str(step.in_)
    if not walk.vessels.has_bed(vessel):
        raise walk.refuse(
            step.in_, "in", f"There is no mash in the {vessel} yet.", "Add a step that mashes before this one."
        )
    bed = walk.vessels.bed(vessel)
    reach = walk.author("reach", "temperature to reach in the mash", step.reach, exact=True)
    if walk.ledger.watchful and reach.value <= bed.temperature.value:
        raise walk.refuse(
            step.reach, "reach", f"The mash is at {bed.temperature.value:.0f} degC already; a raise goes up.",
            "Name a hotter rest, or leave this step out.",
        )  # fmt: skip
    if step.at is not None and str(step.by) in {"fire", "drawn mash"}:
        raise walk.refuse(
            step.at, "at", f"A raise by {step.by} takes no heat of its own: a drawn mash is boiled, a fire is a fire.",
            "Leave out at.",
        )  # fmt: skip
    to_the_boil = str(step.by) == "fire" and reach.value >= BOILS_FROM
    bed, reached, mash = _WAYS[str(step.by)](step, walk, bed, reach)
    if step.for_ is not None:
        time = walk.author("for", "time that the raise takes", step.for_, exact=True)
    else:
        time = walk.ledger.state(
            walk.id, "for", "time that the raise takes", 0.0, "minute", on_sheets=False,
            origin=Origin("package", None, "", "not stated; taken as no time at all"),
        )  # fmt: skip
    if to_the_boil:
        mash, extract = boiled_through(walk, mash, bed, end=reached, time=time)
        nothing = no_extract(walk, mash)
        bed_settles(walk, replace(bed, extract=extract), mash, nothing, bed.water, reached, "the wort in the mash")
        return
    start = walk.vessels.bed(vessel).temperature
    mash, freed = rest_of_mash(
        walk, mash, start=start, end=reached, time=time, water=bed.volume, grain=bed.grain, at=step.reach,
        time_at=None, water_at=step.reach,
    )  # fmt: skip
    bed_settles(walk, bed, mash, freed, bed.water, reached, "the wort in the mash")


def _by_thermometer(walk: Walk, reach: Figure) -> Figure:
    """The heat of a mash that is warmed until the thermometer shows the wanted one."""
    return walk.ledger.state(
        walk.id, "mash-heat", "temperature of the mash after the raise", reach.value, "degree_Celsius",
        origin=Origin("package", None, "", "warmed until the thermometer shows it"),
        influences={"the thermometer": thermometer(walk)},
    )  # fmt: skip


def _hot_water(step: Raise, walk: Walk, bed: GrainBed, reach: Figure) -> tuple[GrainBed, Figure, MashInTub]:
    ledger, here = walk.ledger, walk.id
    if step.at is None:
        boiling_point(walk)
        hot = ledger.again("lesson.boiling-point")
    else:
        hot = walk.author("at", "temperature of the hot water", step.at)
        walk.must_lie(step.at, "at", hot, 0, 100, "the water of a mash is", "0 to 100 degC")
    if ledger.watchful and hot.value <= reach.value:
        raise walk.refuse(
            step.at or step.reach, "at" if step.at else "reach",
            f"No amount of water at {hot.value:.0f} degC raises a mash to {step.reach.written}.", "Use hotter water.",
        )  # fmt: skip
    capacity = heat_of_bed(walk, bed)
    mass = ledger.work(
        here, "hot-water-mass", "hot water to add", hot_water_to_raise, setting=True, heat_capacity=capacity,
        temperature=bed.temperature, water_temperature=hot, target=reach,
    )  # fmt: skip
    one = ledger.state(
        here, "gravity-of-water", "gravity of water", 1.0, "gravity", on_sheets=False,
        origin=Origin("package", None, "", "water, by definition of the scale"),
    )  # fmt: skip
    litres = ledger.work(here, "hot-water", "hot water to add, measured cold", volume_of_wort, mass=mass, gravity=one)
    together = ledger.work(
        here, "liquid-volume", "liquid in the tub", sum_of_volumes, volume=bed.volume, other_volume=litres,
        on_sheets=False,
    )  # fmt: skip
    bulk = ledger.work(here, "mash-volume", "room that the mash takes", mash_volume, grain=bed.grain, water=together)
    walk.must_fit(bulk.value, bed.vessel, step.reach, "reach", "The mash with the hot water")
    reached = ledger.work(
        here, "mash-heat", "temperature of the mash after the raise", temperature_after_hot_water,
        heat_capacity=capacity, temperature=bed.temperature, water_mass=mass, water_temperature=hot,
    )  # fmt: skip
    water = ledger.work(here, "all-water", "water in the mash", sum_of_masses, mass=bed.water, other_mass=mass)
    return replace(bed, water=water, volume=together), reached, bed.mash


def _fire(step: Raise, walk: Walk, bed: GrainBed, reach: Figure) -> tuple[GrainBed, Figure, MashInTub]:
    capacity = heat_of_bed(walk, bed)
    walk.ledger.work(
        walk.id, "energy", "heat that the mash takes up on its way", heating_energy, heat_capacity=capacity,
        temperature=bed.temperature, target=reach,
    )  # fmt: skip
    return bed, _by_thermometer(walk, reach), bed.mash


def _hot_stones(step: Raise, walk: Walk, bed: GrainBed, reach: Figure) -> tuple[GrainBed, Figure, MashInTub]:
    ledger, here = walk.ledger, walk.id
    if step.at is None:
        raise walk.refuse(step.by, "by", "The raise does not say how hot its stones are.", "Add at: 400 degC.")
    hot = walk.author(
        "at", "temperature of the stones", step.at, exact=True, influences={"the heat of the stones": 50.0}
    )
    walk.must_lie(step.at, "at", hot, 100, 900, "stones go in at", "100 to 900 degC")
    specific = ledger.state(
        here, "stone-specific-heat", "specific heat of the stones", STONE_HEAT,
        "kilojoule / delta_degree_Celsius / kilogram", on_sheets=False,
        origin=Origin(
            "package", None, f"{STONE_HEAT} kJ/(kg degC)", "from memory of handbook tables; not published here"
        ),
        influences={"the specific heat of the stones": 0.2 * STONE_HEAT},
    )  # fmt: skip
    steam = ledger.state(
        here, "steam", "steam driven off by the stones", STEAM, "kilogram", on_sheets=False,
        origin=Origin("package", None, f"{STEAM} kg", "our choice: nobody weighs it"),
        influences={"steam driven off by the stones": STEAM},
    )  # fmt: skip
    given: dict[str, Any] = {
        "heat_capacity": heat_of_bed(walk, bed), "temperature": bed.temperature, "stone_specific_heat": specific,
        "stone_temperature": hot, "steam_mass": steam,
    }  # fmt: skip
    stones = ledger.work(here, "stones", "stones to put in", hot_stones_to_raise, setting=True, target=reach, **given)
    reached = ledger.work(
        here, "mash-heat", "temperature of the mash after the raise", temperature_after_hot_stones, stone_mass=stones,
        **given,
    )  # fmt: skip
    water = ledger.work(
        here, "all-water", "water in the mash", difference_of_masses, mass=bed.water, taken=steam, on_sheets=False
    )
    return replace(bed, water=water), reached, bed.mash


def _drawn_mash(step: Raise, walk: Walk, bed: GrainBed, reach: Figure) -> tuple[GrainBed, Figure, MashInTub]:
    ledger, here = walk.ledger, walk.id
    boiling_point(walk)
    hot = ledger.again("lesson.boiling-point")
    wall, _ = vessel_heat(walk, bed.vessel)
    specific = bed.specific_heat or grist_heat(walk)[0]
    none = ledger.state(
        here, "no-vessel", "heat of no vessel at all", 0.0, "kilojoule / delta_degree_Celsius", on_sheets=False,
        origin=Origin("package", None, "", "the tub is counted by itself"),
    )  # fmt: skip
    alone = ledger.work(
        here, "bed-heat", "heat that warms the mash alone by one degree", mash_heat_capacity, on_sheets=False,
        grist_mass=bed.grain, grist_specific_heat=specific, water_mass=bed.water, vessel_heat_capacity=none,
    )  # fmt: skip
    share = ledger.work(
        here, "drawn-share", "share of the mash to draw, boil and put back", drawn_mash_share, setting=True,
        mash_heat_capacity=alone, vessel_heat_capacity=wall, temperature=bed.temperature, drawn_temperature=hot,
        target=reach,
    )  # fmt: skip
    if ledger.watchful and share.value >= 100.0:
        raise walk.refuse(
            step.reach, "reach", f"Even the whole mash, boiled, does not reach {step.reach.written} in this tub.",
            "Rest cooler, or warm the tub.",
        )  # fmt: skip
    part = min(max(share.value / 100.0, 0.0), 1.0)
    boils_free = no_share_boils_free(walk) if bed.mash.crumb else share
    freed = ledger.work(
        here, "extract-boiled-free", "extract that the boil frees from its starch", part_of_mass,
        mass=bed.mash.undissolved, share=boils_free, on_sheets=False,
    )  # fmt: skip
    left = ledger.work(
        here, "extract-still-bound", "extract that the boil left in starch", difference_of_masses,
        mass=bed.mash.undissolved, taken=freed, on_sheets=False,
    )  # fmt: skip
    extract = ledger.work(
        here, "extract-after-boil", "extract in the mash with the boiled part", sum_of_masses, mass=bed.extract,
        other_mass=freed, on_sheets=False,
    )  # fmt: skip
    state = mixed(boiled(bed.mash.state), bed.mash.state, part)
    mash = replace(bed.mash, state=state, undissolved=left)
    return replace(bed, extract=extract), _by_thermometer(walk, reach), mash


_WAYS = {"hot water": _hot_water, "fire": _fire, "hot stones": _hot_stones, "drawn mash": _drawn_mash}
