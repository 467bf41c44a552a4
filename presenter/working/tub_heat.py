"""Heat of a tub and of what is mashed in it: what warms each by a degree, and the warmth of wetting dry malt.

In: the walk, a vessel of the kit, a grist with its moisture. Out: figures, each kept once.
"""

from __future__ import annotations

from presenter.quantities import Origin
from presenter.science.balance import share_of_mass, sum_of_masses
from presenter.science.mash_heat import (
    grist_specific_heat,
    heat_capacity,
    mash_heat_capacity,
    slaking_rise,
    specific_heat_of_moist_grist,
)
from presenter.science.specific_heats import specific_heat_of_wall
from presenter.science.water import water_specific_heat
from presenter.working.ledger import Figure
from presenter.working.pouring import added
from presenter.working.vessels import GrainBed
from presenter.working.walk import Walk

__all__ = ["grist_heat", "heat_of_bed", "moist_heat", "vessel_heat"]


def vessel_heat(walk: Walk, vessel: str) -> tuple[Figure, Figure]:
    """Heat that warms the vessel's wall by one degree, and the temperature at which it starts."""
    key = f"{vessel.replace(' ', '-')}"
    item = walk.kit(vessel)
    if f"lesson.{key}-heat" not in walk.ledger.entries:
        material = str(item.of).casefold() if item is not None and item.of else ""
        specific, off = specific_heat_of_wall(material)
        warm = walk.ledger.state(
            "lesson",
            f"{key}-specific-heat",
            f"specific heat of the {vessel}",
            specific,
            "kilojoule / delta_degree_Celsius / kilogram",
            origin=Origin(
                "package", None, f"{specific} kJ/(kg degC)", "from memory of handbook tables; not published here"
            ),
            influences={f"the specific heat of the {vessel}": off},
            on_sheets=False,
        )
        weight = walk.of_vessel(vessel, "weighs", "vessel heat")
        walk.ledger.work(
            "lesson",
            f"{key}-heat",
            f"heat that warms the {vessel} by one degree",
            heat_capacity,
            mass=weight,
            specific_heat=warm,
            on_sheets=False,
        )
    start = walk.of_vessel(vessel, "starts at", "room temperature")
    return walk.ledger.again(f"lesson.{key}-heat"), start


def grist_heat(walk: Walk) -> tuple[Figure, Figure]:
    """Specific heat of the grist and the warmth of slaking, from the house's moisture; kept once."""
    if "lesson.grist-specific-heat" not in walk.ledger.entries:
        moisture = walk.house("grist moisture")
        walk.ledger.work(
            "lesson", "grist-specific-heat", "specific heat of the grist", grist_specific_heat, moisture=moisture
        )
        walk.ledger.work(
            "lesson", "slaking", "warmth that wetting the grist sets free", slaking_rise, moisture=moisture
        )
    return walk.ledger.again("lesson.grist-specific-heat"), walk.ledger.again("lesson.slaking")


def moist_heat(walk: Walk, grain: Figure, waters: list[Figure]) -> tuple[Figure, Figure]:
    """Specific heat of a grist with bread in it, dry matter and water side by side; wetting it sets no warmth free."""
    ledger, here = walk.ledger, walk.id
    water = added(walk, "grist-water", "water in the grist and the bread", sum_of_masses, waters, on_sheets=False)
    moisture = ledger.work(here, "grist-moisture", "moisture of the grist with the bread", share_of_mass, part=water,
                           whole=grain, on_sheets=False)  # fmt: skip
    bone_dry = ledger.state(
        here, "no-moisture", "moisture of dry matter", 0.0, "percent", on_sheets=False,
        origin=Origin("package", None, "0 percent", "dry matter holds no water"),
    )  # fmt: skip
    dry = ledger.work(here, "dry-specific-heat", "specific heat of dry grist", grist_specific_heat, moisture=bone_dry,
                      on_sheets=False)  # fmt: skip
    at = ledger.state(
        here, "specific-heat-at", "temperature at which water's specific heat is taken", 65.0, "degree_Celsius",
        on_sheets=False, origin=Origin("package", None, "65 degC", "our choice: a mash's heat"),
    )  # fmt: skip
    wet = ledger.work(here, "water-specific-heat", "specific heat of water", water_specific_heat, temperature=at,
                      on_sheets=False)  # fmt: skip
    specific = ledger.work(
        here, "grist-specific-heat", "specific heat of the grist with the bread", specific_heat_of_moist_grist,
        moisture=moisture, dry_specific_heat=dry, water_specific_heat=wet,
    )  # fmt: skip
    no_warmth = ledger.state(
        here, "slaking", "warmth that wetting moist bread sets free", 0.0, "delta_degree_Celsius", on_sheets=False,
        origin=Origin("package", None, "none", "our choice: only dry malt warms as it is wetted"),
    )  # fmt: skip
    return specific, no_warmth


def heat_of_bed(walk: Walk, bed: GrainBed) -> Figure:
    """Heat that warms what is in the tub, and the tub, by one degree."""
    wall, _ = vessel_heat(walk, bed.vessel)
    specific = bed.specific_heat or grist_heat(walk)[0]
    return walk.ledger.work(
        walk.id, "bed-heat", "heat that warms the mash and its tub by one degree", mash_heat_capacity, on_sheets=False,
        grist_mass=bed.grain, grist_specific_heat=specific, water_mass=bed.water, vessel_heat_capacity=wall,
    )  # fmt: skip
