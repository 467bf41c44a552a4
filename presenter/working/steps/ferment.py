"""Ferment: sugar becomes alcohol and carbon dioxide, as far as the yeast takes the sugars that are there.

A drink that was fed after it had fermented ferments again: what went in earlier and what went in now are worked
together as one wort, and what the yeast has used up already is taken off the gas and the alcohol.
"""

from __future__ import annotations

from presenter.lesson.steps import slug
from presenter.lesson.steps.ferment import Ferment
from presenter.science.attenuation import apparent_attenuation_from_fermentable
from presenter.science.balance import difference_of_masses, part_of_mass, share_of_mass, sum_of_masses
from presenter.science.balling import real_extract_balling
from presenter.science.fermentation import (
    alcohol_from_fermented_extract,
    carbon_dioxide_from_fermented_extract,
    carbon_dioxide_gas_volume,
    fermented_extract,
)
from presenter.science.formula import Formula
from presenter.science.gravity import degrees_plato_from_gravity, gravity_after_attenuation, gravity_drop
from presenter.science.strength import (
    alcohol_by_volume_balling,
    alcohol_by_volume_duty_table,
    alcohol_by_volume_rule_of_thumb,
)
from presenter.science.wort import volume_of_wort
from presenter.working.ledger import Figure
from presenter.working.pouring import carried
from presenter.working.steps.pitch import KILLS_YEAST
from presenter.working.vessels import Liquid
from presenter.working.walk import Walk
from presenter.working.yeasts import ceiling_of, fermented_by, gas_in_room

__all__ = ["walk_ferment"]


def walk_ferment(step: Ferment, walk: Walk) -> None:
    """Let the yeast do its work, and say where the gravity should come to rest."""
    liquid = walk.vessels.liquid(slug(step.what))
    if not liquid.pitched or liquid.original_gravity is None or liquid.sugars is None:
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
    final, original = _final_gravity(walk, liquid, start)
    drop = walk.ledger.work(
        walk.id, "gravity-drop", "drop in gravity", gravity_drop, original_gravity=start, final_gravity=final
    )
    strength = walk.ledger.work(
        walk.id, "strength", "strength, by Balling's route", alcohol_by_volume_balling,
        original_gravity=start, final_gravity=final,
        remark="; ".join(("this sheet follows Balling's route with his own quotient", *liquid.sugars.remarks)),
    )  # fmt: skip
    for name, words, rule in (
        ("strength-duty-table", "strength, by the UK duty notice's table", alcohol_by_volume_duty_table),
        ("strength-rule-of-thumb", "strength, by the brewers' rule of thumb", alcohol_by_volume_rule_of_thumb),
    ):
        if _holds(rule, drop) or not walk.ledger.watchful:
            walk.ledger.work(walk.id, name, words, rule, gravity_drop=drop)
    ceiling_of(walk, step, liquid, strength, start, final)
    walk.compare("gravity", final)
    walk.compare("strength", strength)
    walk.vessels.liquids[liquid.name] = _drink(walk, step, liquid, original, final, strength, room)


def _holds(rule: Formula, drop: Figure) -> bool:
    """Whether a rule that stands beside the one followed holds for so large a drop."""
    low, high = rule.valid["gravity_drop"]
    return low <= drop.value <= high


def _final_gravity(walk: Walk, liquid: Liquid, start: Figure) -> tuple[Figure, Figure]:
    """The gravity where this yeast comes to rest, and the extract at the start."""
    assert liquid.sugars is not None
    ledger, here, remarks = walk.ledger, walk.id, liquid.sugars.remarks
    original = ledger.work(
        here, "original-extract", "extract at the start", degrees_plato_from_gravity, gravity=start, on_sheets=False
    )
    attenuation = ledger.work(
        here, "attenuation", "attenuation to expect of this yeast", apparent_attenuation_from_fermentable,
        fermentable=fermented_by(walk, liquid), original_extract=original, remark="; ".join(remarks),
    )  # fmt: skip
    final = ledger.work(
        here, "final-gravity", "final gravity to expect", gravity_after_attenuation,
        original_gravity=start, attenuation=attenuation, remark="; ".join(("an expectation: measure it", *remarks)),
    )  # fmt: skip
    return final, original


def _drink(
    walk: Walk, step: Ferment, liquid: Liquid, original: Figure, final: Figure, strength: Figure, room: Figure
) -> Liquid:
    """The drink: the extract used up, the alcohol, the gas and the room it takes, the volume that is left."""
    ledger, here = walk.ledger, walk.id
    apparent = ledger.work(
        here, "apparent-extract", "apparent extract at the end", degrees_plato_from_gravity, gravity=final,
        on_sheets=False,
    )  # fmt: skip
    real = ledger.work(
        here, "real-extract", "real extract at the end", real_extract_balling, original_extract=original,
        apparent_extract=apparent,
    )  # fmt: skip
    mass = ledger.work(
        here, "wort-mass", "mass of the wort", sum_of_masses, mass=liquid.extract, other_mass=liquid.water,
        on_sheets=False,
    )  # fmt: skip
    again = liquid.eaten is not None
    eaten = whole = ledger.work(
        here, "fermented-extract-in-all" if again else "fermented-extract",
        "extract that the yeast uses up" + (", both times together" if again else ""), fermented_extract,
        wort_mass=mass, original_extract=original, real_extract=real,
    )  # fmt: skip
    if liquid.eaten is not None:
        earlier = ledger.work(
            here, "fermented-extract-earlier", "extract that the yeast had used up already", part_of_mass,
            mass=liquid.extract, share=liquid.eaten, on_sheets=False,
        )  # fmt: skip
        eaten = ledger.work(
            here, "fermented-extract", "extract that the yeast uses up now", difference_of_masses, mass=whole,
            taken=earlier,
        )  # fmt: skip
    made = ledger.work(here, "alcohol", "alcohol made", alcohol_from_fermented_extract, fermented_extract=eaten)
    alcohol = made if liquid.alcohol is None else ledger.work(
        here, "alcohol-in-all", "alcohol in the drink", alcohol_from_fermented_extract, fermented_extract=whole
    )  # fmt: skip
    gas = ledger.work(
        here, "carbon-dioxide", "carbon dioxide made", carbon_dioxide_from_fermented_extract, fermented_extract=eaten
    )
    volume_of_gas = ledger.work(
        here, "gas-volume", "room that the carbon dioxide takes up", carbon_dioxide_gas_volume, mass=gas,
        temperature=room,
    )  # fmt: skip
    gas_in_room(walk, volume_of_gas)
    all_gas = gas if not again else ledger.work(
        here, "carbon-dioxide-in-all", "carbon dioxide made, both times together",
        carbon_dioxide_from_fermented_extract, fermented_extract=whole, on_sheets=False,
    )  # fmt: skip
    drink_mass = ledger.work(
        here, "drink-mass", "mass of the finished drink", difference_of_masses, mass=mass, taken=all_gas,
        on_sheets=False,
    )  # fmt: skip
    volume = ledger.work(
        here, "drink-volume", "volume of the finished drink", volume_of_wort, mass=drink_mass, gravity=final
    )
    share = ledger.work(
        here, "eaten", "share of its extract that the yeast has used up", share_of_mass, part=whole,
        whole=liquid.extract, on_sheets=False,
    )  # fmt: skip
    return carried(
        liquid, fermented=True, final_gravity=final, gravity=final, strength=strength, alcohol=alcohol, eaten=share,
        carbon_dioxide=volume_of_gas, volume=volume, temperature=room, warmest=room, ph=None,
        vessel=str(step.in_ or liquid.vessel),
    )  # fmt: skip
