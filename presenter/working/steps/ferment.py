"""Ferment: sugar becomes alcohol and carbon dioxide, as far as the mash made it fermentable."""

from __future__ import annotations

from presenter.lesson.steps import slug
from presenter.lesson.steps.ferment import Ferment
from presenter.science.balance import difference_of_masses, sum_of_masses
from presenter.science.balling import real_extract_balling
from presenter.science.fermentation import (
    alcohol_from_fermented_extract,
    carbon_dioxide_from_fermented_extract,
    carbon_dioxide_gas_volume,
    fermented_extract,
)
from presenter.science.gravity import degrees_plato_from_gravity, gravity_after_attenuation, gravity_drop
from presenter.science.strength import (
    alcohol_by_volume_balling,
    alcohol_by_volume_duty_table,
    alcohol_by_volume_rule_of_thumb,
)
from presenter.science.wort import volume_of_wort
from presenter.working.pouring import carried
from presenter.working.steps.pitch import KILLS_YEAST
from presenter.working.walk import Walk

__all__ = ["walk_ferment"]


def walk_ferment(step: Ferment, walk: Walk) -> None:
    """Let the yeast do its work, and say where the gravity should come to rest."""
    liquid = walk.vessels.liquid(slug(step.what))
    if not liquid.pitched or liquid.original_gravity is None or liquid.limit is None:
        raise walk.refuse(
            step.what, "what", f"No yeast has gone into the {step.what} yet.", "Add a step that pitches yeast."
        )
    walk.author("for", "days to ferment", step.for_, exact=True)
    room = walk.author("at", "room temperature", step.at)
    walk.must_lie(step.at, "at", room, 0, KILLS_YEAST, "yeast works at", f"0 to {KILLS_YEAST:.0f} degC")
    if liquid.fermented:
        raise walk.refuse(
            step.what, "what", f"The {step.what} has fermented already.", "Give the whole time in the first such step."
        )
    start = liquid.original_gravity
    ledger, here = walk.ledger, walk.id
    final = ledger.work(
        here,
        "final-gravity",
        "final gravity to expect",
        gravity_after_attenuation,
        original_gravity=start,
        attenuation=liquid.limit,
        remark="an expectation: measure it",
    )
    drop = ledger.work(
        here, "gravity-drop", "drop in gravity", gravity_drop, original_gravity=start, final_gravity=final
    )
    strength = ledger.work(
        here,
        "strength",
        "strength, by Balling's route",
        alcohol_by_volume_balling,
        original_gravity=start,
        final_gravity=final,
        remark="this sheet follows Balling's route with his own quotient",
    )
    ledger.work(
        here,
        "strength-duty-table",
        "strength, by the UK duty notice's table",
        alcohol_by_volume_duty_table,
        gravity_drop=drop,
    )
    if 0 <= drop.value <= 0.08 or not walk.ledger.watchful:
        ledger.work(
            here,
            "strength-rule-of-thumb",
            "strength, by the brewers' rule of thumb",
            alcohol_by_volume_rule_of_thumb,
            gravity_drop=drop,
        )
    original = ledger.work(
        here, "original-extract", "extract at the start", degrees_plato_from_gravity, gravity=start, on_sheets=False
    )
    apparent = ledger.work(
        here,
        "apparent-extract",
        "apparent extract at the end",
        degrees_plato_from_gravity,
        gravity=final,
        on_sheets=False,
    )
    real = ledger.work(
        here,
        "real-extract",
        "real extract at the end",
        real_extract_balling,
        original_extract=original,
        apparent_extract=apparent,
    )
    mass = ledger.work(
        here,
        "wort-mass",
        "mass of the wort",
        sum_of_masses,
        mass=liquid.extract,
        other_mass=liquid.water,
        on_sheets=False,
    )
    eaten = ledger.work(
        here,
        "fermented-extract",
        "extract that the yeast uses up",
        fermented_extract,
        wort_mass=mass,
        original_extract=original,
        real_extract=real,
    )
    alcohol = ledger.work(here, "alcohol", "alcohol made", alcohol_from_fermented_extract, fermented_extract=eaten)
    gas = ledger.work(
        here, "carbon-dioxide", "carbon dioxide made", carbon_dioxide_from_fermented_extract, fermented_extract=eaten
    )
    volume_of_gas = ledger.work(
        here,
        "gas-volume",
        "room that the carbon dioxide takes up",
        carbon_dioxide_gas_volume,
        mass=gas,
        temperature=room,
    )
    drink_mass = ledger.work(
        here, "drink-mass", "mass of the finished drink", difference_of_masses, mass=mass, taken=gas, on_sheets=False
    )
    volume = ledger.work(
        here, "drink-volume", "volume of the finished drink", volume_of_wort, mass=drink_mass, gravity=final
    )
    walk.compare("gravity", final)
    walk.compare("strength", strength)
    walk.vessels.liquids[liquid.name] = carried(
        liquid,
        fermented=True,
        final_gravity=final,
        gravity=final,
        strength=strength,
        alcohol=alcohol,
        carbon_dioxide=volume_of_gas,
        volume=volume,
        temperature=room,
        warmest=room,
        vessel=str(step.in_ or liquid.vessel),
    )
