"""Add: what goes into a liquid brings its extract, its water and its allergens, and the whole is measured again.

A drink that has fermented starts again: all that it was made from is worked as one wort, and how far that has gone
already is kept.
"""

from __future__ import annotations

from dataclasses import replace

from presenter.lesson.steps import slug
from presenter.lesson.steps.add import Add
from presenter.quantities import Origin
from presenter.science.attenuation import apparent_attenuation_from_fermentable
from presenter.science.balance import difference_of_volumes, part_of_mass, sum_of_masses, sum_of_volumes
from presenter.science.blending import mixed_share
from presenter.science.gravity import degrees_plato_from_gravity, gravity_after_attenuation
from presenter.science.mash_heat import heat_capacity
from presenter.science.mixing_heat import specific_heat_of_goods, temperature_of_two
from presenter.science.portion import water_in_ingredient
from presenter.science.water import mass_of_water
from presenter.science.wort import gravity_from_extract_and_water, volume_of_wort
from presenter.working.amounts import Measured, mass_of_amount
from presenter.working.blending import blended, heat_of_wort
from presenter.working.ingredients import Portion, portion
from presenter.working.ledger import Figure
from presenter.working.pouring import carried, measure, nothing_more
from presenter.working.sweetening import brought_sugars, extract_without_a_mash
from presenter.working.vessels import Liquid
from presenter.working.walk import Walk, wort_called

__all__ = ["walk_add"]

KILLS_GERMS = 75.0  # degC; common practice: what goes into a wort hotter than this is scalded by it


def walk_add(step: Add, walk: Walk) -> None:
    """Put ingredients into a wort or a drink."""
    liquid = _fresh_water(step, walk) if step.what is None else walk.vessels.liquid(slug(step.what))
    if liquid.container:
        raise walk.refuse(
            step.liquid, "what",
            f"The {step.liquid} is in its {liquid.container} already; sugar added now bursts bottles.",
            "Add it before bottling, or prime with a weighed amount.",
        )  # fmt: skip
    before = liquid
    sweet = False
    for name in step.with_:
        each = _portion(step, walk, str(name))
        _may_go_in(step, walk, each)
        _must_have_been_bought(step, walk, each)
        _tell_amount(walk, each)
        if each.flavours_only:
            continue
        liquid, sweet = _poured_in(walk, liquid, each), True
    names = tuple(dict.fromkeys((*before.ingredients, *(str(name) for name in step.with_))))
    boiled = before.boiled and before.temperature.value >= KILLS_GERMS
    liquid = carried(liquid, ingredients=names, boiled=boiled)
    if sweet:
        liquid = _settled(step, walk, before, liquid)
        walk.compare("gravity", liquid.gravity)
        walk.compare("volume", liquid.volume)
        if liquid.vessel:
            what = f"The {step.liquid} with what goes in"
            walk.must_fit(liquid.volume.value, liquid.vessel, step.with_[0], "with", what)
    walk.vessels.liquids[liquid.name] = liquid


def _fresh_water(step: Add, walk: Walk) -> Liquid:
    """Water with nothing in it yet, to make a drink without a mash."""
    assert step.water is not None
    name, cold = slug(step.liquid), walk.house("cold water")
    litres = walk.author("water", "water, measured cold", step.water.amount)
    walk.must_be_some(step.water.amount, "water", litres)
    warmth = cold
    if step.water.at is not None:
        warmth = walk.author("water heat", "temperature of the water", step.water.at)
        walk.must_lie(step.water.at, "water.at", warmth, 0, 100, "water is", "0 to 100 degC")
    if name in walk.vessels.liquids:
        raise walk.refuse(
            step.call_it,
            "call it",
            f"There is a {step.liquid} already.",
            "Name it under what:, or choose another name.",
        )
    walk.must_go_into(name, litres.value, step.in_, "in", f"The {step.liquid}")
    mass = walk.ledger.work(
        walk.id, "water-mass", "mass of the water", mass_of_water, volume=litres, temperature=cold, on_sheets=False
    )
    none = nothing_more(walk, "extract")
    plain = walk.ledger.state(
        walk.id, "gravity-of-water", "gravity of water", 1.0, "gravity", on_sheets=False,
        origin=Origin("package", None, "1.000", "gravity is reckoned against water"),
    )  # fmt: skip
    return Liquid(name, none, mass, plain, litres, warmth, vessel=str(step.in_ or ""))


def _portion(step: Add, walk: Walk, name: str) -> Portion:
    """The ingredient as this step puts it in: all of it, or the step's own amount of it."""
    each = portion(walk, name)
    if step.amount is None:
        return each
    measured = Measured(walk.id, "amount", str(each.use.what), each.known, f"steps[{walk.index + 1}].amount")
    mass = mass_of_amount(walk, step.amount, measured)
    walk.must_be_some(step.amount, "amount", mass)
    return replace(each, mass=mass)


def _may_go_in(step: Add, walk: Walk, each: Portion) -> None:
    """Refuse what another kind of step is for."""
    known, said = each.known, next(name for name in step.with_ if str(name) == each.name)
    if known is None:
        return
    if known.yeast and known.family == "yeast":
        raise walk.refuse(said, "with", f"{each.use.what} is yeast, which is pitched.", "Write do: pitch.")
    if known.family == "water":
        raise walk.refuse(said, "with", "Water is no ingredient to add.", "Write do: top up with water:.")
    if known.needs_mash and known.family != "bread":
        raise walk.refuse(
            said, "with", f"{each.use.what} holds starch, which yeast cannot use until a mash has split it.",
            "Put it in a mash, under with:.",
        )  # fmt: skip


def _must_have_been_bought(step: Add, walk: Walk, each: Portion) -> None:
    """Refuse to add more of an ingredient, over all such steps so far, than the ingredients list."""
    listed = walk.ledger.entries.get(f"lesson.{slug(each.name)}")
    if listed is None or not walk.ledger.watchful:
        return
    earlier = [
        entry.value
        for other in walk.lesson.steps[: walk.index]
        if isinstance(other, Add) and each.name in {str(name) for name in other.with_}
        for key in ("amount", f"{slug(each.name)}-amount")
        if (entry := walk.ledger.entries.get(f"{other.id}.{key}")) is not None and entry.unit == "kilogram"
    ]
    needed = each.mass.value + sum(earlier)
    if needed > listed.value * (1 + 1e-6):
        wrong = f"The steps so far take {needed:.3g} kg of {each.name}; the ingredients list {each.use.amount.written}."
        said = next(name for name in step.with_ if str(name) == each.name)
        remedy = "Raise the amount there, or give each of the steps an amount of its own."
        raise walk.refuse(said, "with", wrong, remedy)


def _tell_amount(walk: Walk, each: Portion) -> None:
    """The step's own line for the amount, where the whole of an ingredient goes in."""
    if f"{walk.id}.amount" not in walk.ledger.entries:
        walk.ledger.found(
            walk.id, f"{slug(each.name)}-amount", f"{each.use.what}, all of it", each.mass.value, "kilogram",
            inputs={"mass": each.mass}, rests_on="the whole amount under ingredients",
        )  # fmt: skip


def _poured_in(walk: Walk, liquid: Liquid, each: Portion) -> Liquid:
    """The liquid with one ingredient's extract, water, sugars and warmth."""
    ledger, here, key = walk.ledger, walk.id, slug(each.name)
    share = extract_without_a_mash(walk, each)
    extract = ledger.work(
        here, f"{key}-extract", f"extract from the {each.use.what}", part_of_mass, mass=each.mass, share=share
    )
    water = ledger.work(
        here, f"{key}-water", f"water in the {each.use.what}", water_in_ingredient, mass=each.mass,
        moisture=each.moisture, on_sheets=False,
    )  # fmt: skip
    sugars = blended(walk, liquid.extract, liquid.sugars, extract, brought_sugars(walk, each), key)
    together = {
        name: ledger.work(
            here, f"{name}-with-{key}", f"{name} together", sum_of_masses, mass=mass, other_mass=more, on_sheets=False
        )
        for name, mass, more in (("extract", liquid.extract, extract), ("water", liquid.water, water))
    }
    eaten = liquid.eaten
    if eaten is not None:
        none = ledger.state(
            here, f"{key}-eaten", f"share of the {each.use.what} used up so far", 0.0, "percent", on_sheets=False,
            origin=Origin("package", None, "0", "it has only just gone in"),
        )  # fmt: skip
        eaten = ledger.work(
            here, f"eaten-with-{key}", "share of the whole extract that the yeast has used up", mixed_share,
            extract=liquid.extract, share=eaten, other_extract=extract, other_share=none, on_sheets=False,
        )  # fmt: skip
    temperature = _warmth(walk, liquid, each)
    return carried(liquid, **together, sugars=sugars, eaten=eaten, temperature=temperature)


def _warmth(walk: Walk, liquid: Liquid, each: Portion) -> Figure:
    """The temperature with the ingredient in it, where the step says how warm that is."""
    assert isinstance(walk.step, Add)
    if walk.step.at is None:
        return liquid.temperature
    ledger, here, key = walk.ledger, walk.id, slug(each.name)
    number_id = f"{here}.at"
    at = ledger.again(number_id) if number_id in ledger.entries else walk.author(
        "at", "temperature of what goes in", walk.step.at
    )  # fmt: skip
    walk.must_lie(walk.step.at, "at", at, -20, 110, "what goes into a liquid is", "-20 to 110 degC")
    mass = ledger.work(
        here, f"mass-before-{key}", "mass of the liquid", sum_of_masses, mass=liquid.extract, other_mass=liquid.water,
        on_sheets=False,
    )  # fmt: skip
    specific = heat_of_wort(walk, f"specific-heat-before-{key}")
    goods = ledger.work(
        here, f"{key}-specific-heat", f"specific heat of the {each.use.what}", specific_heat_of_goods,
        moisture=each.moisture, on_sheets=False,
    )  # fmt: skip
    heats = [
        ledger.work(here, name, label, heat_capacity, mass=weight, specific_heat=heat, on_sheets=False)
        for name, label, weight, heat in (
            (f"heat-before-{key}", "heat that warms the liquid by one degree", mass, specific),
            (f"{key}-heat", f"heat that warms the {each.use.what} by one degree", each.mass, goods),
        )
    ]
    last = str(walk.step.with_[-1]) == each.name
    return ledger.work(
        here, "temperature" if last else f"temperature-with-{key}", "temperature when mixed", temperature_of_two,
        heat_capacity=heats[0], temperature=liquid.temperature, other_heat_capacity=heats[1], other_temperature=at,
    )  # fmt: skip


def _settled(step: Add, walk: Walk, before: Liquid, liquid: Liquid) -> Liquid:
    """The liquid measured again; one that had fermented starts again."""
    if not before.fermented:
        wort = measure(walk, liquid.extract, liquid.water, of=f"the {wort_called(step.liquid)} with what went in")
        return carried(
            liquid, extract=wort.extract, water=wort.water, gravity=wort.gravity, volume=wort.volume,
            original_gravity=wort.gravity if before.pitched else None,
        )  # fmt: skip
    ledger, here = walk.ledger, walk.id
    restarts = "fermentation restarts: there is sugar for the yeast again"
    whole = ledger.work(
        here, "original-gravity", "gravity of it all, had it been one wort", gravity_from_extract_and_water,
        extract=liquid.extract, water=liquid.water, remark=restarts,
    )  # fmt: skip
    plato = ledger.work(
        here, "original-extract", "extract of it all, had it been one wort", degrees_plato_from_gravity,
        gravity=whole, on_sheets=False,
    )  # fmt: skip
    assert liquid.eaten is not None
    gone = ledger.work(
        here, "attenuation-so-far", "attenuation so far of it all", apparent_attenuation_from_fermentable,
        fermentable=liquid.eaten, original_extract=plato, on_sheets=False,
    )  # fmt: skip
    now = ledger.work(
        here, "gravity", f"gravity of the {step.liquid} with what went in: fermentation restarts",
        gravity_after_attenuation,
        original_gravity=whole, attenuation=gone, remark=restarts,
    )  # fmt: skip
    assert before.original_gravity is not None
    rooms = []
    for mark, words, held, gravity in (
        ("as-one-wort", "it all, had it been one wort", liquid, whole),
        ("as-wort-before", "what was there, as wort", before, before.original_gravity),
    ):
        mass = ledger.work(
            here, f"mass-{mark}", f"mass of {words}", sum_of_masses, mass=held.extract, other_mass=held.water,
            on_sheets=False,
        )  # fmt: skip
        rooms.append(
            ledger.work(
                here, f"volume-{mark}", f"volume of {words}", volume_of_wort, mass=mass, gravity=gravity,
                on_sheets=False,
            )
        )  # fmt: skip
    more = ledger.work(
        here, "volume-that-went-in", "room that what went in takes", difference_of_volumes, volume=rooms[0],
        taken=rooms[1], on_sheets=False,
    )  # fmt: skip
    volume = ledger.work(
        here, "volume", f"volume of the {step.liquid} with what went in", sum_of_volumes, volume=before.volume,
        other_volume=more,
    )  # fmt: skip
    return carried(
        liquid, fermented=False, original_gravity=whole, gravity=now, volume=volume, final_gravity=None, strength=None,
        finished=False,
    )  # fmt: skip
