"""Mash: the strike heat, what dissolves, and how far yeast will be able to take it.

What the rest makes of the starch comes from the mash model, a teaching model. A second water on the same grain rinses
out what the first mash made and keeps its make-up; whatever enzymes are left go on at the new heat.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from presenter.lesson.fields import Stated
from presenter.lesson.steps.mash import Mash
from presenter.quantities import Origin
from presenter.science.balance import sum_of_masses, sum_of_volumes
from presenter.science.cooling import cooling_over_hold
from presenter.science.mash_bulk import mash_volume, temperature_after_loss
from presenter.science.portion import extract_of_ingredient, water_in_ingredient
from presenter.science.raising import temperature_after_hot_water
from presenter.science.strike_heat import mash_temperature, strike_heat
from presenter.science.water import mass_of_water
from presenter.working.germs import germs_along
from presenter.working.gristing import grist_in_tub, is_bread, poured_together
from presenter.working.ingredients import Portion, portion
from presenter.working.ledger import Figure
from presenter.working.mashing import attenuation_to_expect, rest_of_mash
from presenter.working.pouring import added, measure
from presenter.working.tub_heat import grist_heat, heat_of_bed, moist_heat, vessel_heat
from presenter.working.vessels import GrainBed, MashInTub
from presenter.working.walk import Walk

__all__ = ["bed_settles", "cooled", "thermometer", "walk_mash"]


def walk_mash(step: Mash, walk: Walk) -> None:
    """A first mash of grain and water, fresh grain in a mash that is there, or more water on it."""
    vessel = str(step.in_)
    if step.with_:
        _grain_and_water(step, walk, vessel)
    else:
        _water_again(step, walk, vessel)


def _grain_and_water(step: Mash, walk: Walk, vessel: str) -> None:
    ledger, here = walk.ledger, walk.id
    before = walk.vessels.bed(vessel) if walk.vessels.has_bed(vessel) else None
    if step.reach is None and step.water.at is None:
        raise walk.refuse(
            None, "reach", "The mash says neither what heat to reach nor how hot its water is.", "Add reach: 66 degC."
        )
    _sensible(walk, step.reach)
    _must_not_be_mashed_yet(step, walk)
    everything = [portion(walk, str(name)) for name in step.with_]
    portions = [each for each in everything if not each.flavours_only]
    if not portions:
        raise walk.refuse(
            step.with_[0], "with", "There is no starch in this mash, so a rest would change nothing.",
            "Mash grain, or steep without a mash.",
        )  # fmt: skip
    grain = added(walk, "grain", "grain in the mash", sum_of_masses, [each.mass for each in portions])
    all_extract = added(
        walk, "all-extract", "extract that the grain can give here", sum_of_masses,
        [_dissolved(walk, each) for each in portions],
    )  # fmt: skip
    cold = walk.house("cold water")
    litres = walk.author("water", "water, measured cold", step.water.amount)
    walk.must_be_some(step.water.amount, "water", litres)
    liquor = ledger.work(
        here, "water-mass", "mass of the mash water", mass_of_water, volume=litres, temperature=cold, on_sheets=False
    )
    moist = [
        ledger.work(
            here,
            f"{each.mass.id.split('.')[1]}-water",
            f"water in the {each.use.what}",
            water_in_ingredient,
            mass=each.mass,
            moisture=each.moisture,
            on_sheets=False,
        )
        for each in portions
    ]
    water = added(walk, "all-water", "water in the mash, with the grain's own", sum_of_masses, [liquor, *moist])
    fresh, names = grain, tuple(each.name for each in everything)
    if before is not None:
        grain = _both(walk, "grain-in-tub", "grain in the tub, old and fresh", before.grain, grain)
        water = _both(walk, "water-in-tub", "water in the tub, old and fresh", before.water, water)
        litres = _together(walk, before.volume, litres)
        names = tuple(dict.fromkeys((*before.ingredients, *names)))
    bulk = ledger.work(here, "mash-volume", "room that the mash takes", mash_volume, grain=grain, water=litres)
    walk.must_fit(bulk.value, vessel, step.water.amount, "water", "The mash")
    damp = moist_heat(walk, fresh, moist) if any(is_bread(each) for each in portions) else None
    reached = _heat_of_mash(step, walk, vessel, fresh, liquor, before, damp)
    hold, ended = cooled(step.hold, walk, vessel, reached)
    mash, at_once = grist_in_tub(walk, portions, all_extract, step.with_[0])
    if before is not None:
        mash = poured_together(walk, before.mash, mash)
        at_once = _both(walk, "extract-there", "extract in the wort before the rest", before.extract, at_once)
    mash, freed = rest_of_mash(
        walk, mash, start=reached, end=ended, time=hold, water=litres, grain=grain, time_at=step.hold,
        at=step.reach or step.water.at, field="reach" if step.reach else "water.at", water_at=step.water.amount,
    )  # fmt: skip
    extract = ledger.work(here, "extract", "extract that dissolves", sum_of_masses, mass=at_once, other_mass=freed)
    wort = measure(walk, extract, water, of="the wort in the mash")
    sugars = attenuation_to_expect(walk, mash, wort.gravity)
    walk.compare("gravity", wort.gravity)
    walk.compare("temperature", ended)
    walk.vessels.beds[vessel] = GrainBed(
        vessel, grain, wort.extract, wort.water, wort.gravity, wort.volume, ended, sugars, mash, names,
        damp[0] if damp is not None else None,
    )  # fmt: skip
    walk.vessels.last_bed = vessel


def _must_not_be_mashed_yet(step: Mash, walk: Walk) -> None:
    """Refuse an ingredient that an earlier mash took: a mash takes the whole of what the ingredients list."""
    for earlier in walk.lesson.steps[: walk.index]:
        if not isinstance(earlier, Mash) or not walk.ledger.watchful:
            continue
        for name in step.with_:
            if str(name) in {str(other) for other in earlier.with_}:
                wrong = f"The step {earlier.name} has mashed all of the {name} already."
                remedy = "List it as two ingredients, each with the amount that its mash takes."
                raise walk.refuse(name, "with", wrong, remedy)


def _both(walk: Walk, name: str, label: str, there: Figure, fresh: Figure) -> Figure:
    """What was in the tub and what is put to it."""
    return walk.ledger.work(walk.id, name, label, sum_of_masses, mass=there, other_mass=fresh, on_sheets=False)


def _sensible(walk: Walk, reach: Stated | None) -> None:
    if reach is None or not walk.ledger.watchful:
        return
    degrees = reach.number()
    if 30 <= degrees <= 95:
        return
    tenth = float(reach.quantity.magnitude) / 10
    unit = "degF" if "ahrenheit" in str(reach.quantity.units) else "degC"
    celsius = (tenth - 32) / 1.8 if unit == "degF" else tenth
    remedy = f"Did you mean {tenth:.1f} {unit}?" if 30 <= celsius <= 95 else "Mashes rest between 45 and 80 degC."
    side = "above the hottest" if degrees > 95 else "below the coolest"
    limit = "95 degC" if degrees > 95 else "30 degC"
    raise walk.refuse(reach, "reach", f"{reach.written} is {side} mash this toolkit works with, {limit}.", remedy)


def _dissolved(walk: Walk, each: Portion) -> Figure:
    mash_yield = walk.house("mash yield")
    key = each.mass.id.split(".")[1]
    return walk.ledger.work(
        walk.id, f"{key}-extract", f"extract from the {each.use.what}", extract_of_ingredient,
        mass=each.mass, extract_share=each.extract_share, mash_yield=mash_yield,
    )  # fmt: skip


def _heat_of_mash(
    step: Mash,
    walk: Walk,
    vessel: str,
    grain: Figure,
    liquor: Figure,
    before: GrainBed | None,
    damp: tuple[Figure, Figure] | None,
) -> Figure:
    """The temperature at which the rest begins; the strike heat is a setting, worked out where it is not given.

    A mash that is there ``before`` counts as the vessel does: so much heat for a degree, and at its own temperature.
    """
    ledger, here = walk.ledger, walk.id
    wall, wall_start = vessel_heat(walk, vessel)
    specific, slaking = grist_heat(walk) if damp is None else damp
    if before is not None:
        wall, wall_start = heat_of_bed(walk, before), before.temperature
    grist_temperature = walk.house("grist temperature")
    common: dict[str, Any] = {
        "grist_mass": grain, "grist_specific_heat": specific, "grist_temperature": grist_temperature,
        "water_mass": liquor, "vessel_heat_capacity": wall, "vessel_temperature": wall_start, "slaking_rise": slaking,
    }  # fmt: skip
    if step.water.at is not None:
        strike = walk.author("at", "temperature of the mash water", step.water.at)
        walk.must_lie(step.water.at, "water.at", strike, 0, 100, "the water of a mash is", "0 to 100 degC")
        return ledger.work(
            here,
            "mash-heat",
            "mash temperature when mixed",
            mash_temperature,
            **common,
            water_temperature=strike,
        )
    assert step.reach is not None
    target = walk.author("reach", "mash temperature", step.reach, exact=True)
    strike = ledger.work(
        here,
        "strike-heat",
        "strike heat of the water",
        strike_heat,
        setting=True,
        **common,
        target=target,
    )
    if ledger.watchful and strike.value > 100:
        raise walk.refuse(
            step.reach,
            "reach",
            f"To reach {step.reach.written} the water would have to be at {strike.value:.0f} degC,"
            " above its boiling point.",
            "Use more water, warm the vessel first, or rest cooler.",
        )
    if ledger.watchful and strike.value < 0:
        raise walk.refuse(
            step.reach, "reach",
            f"To come down to {step.reach.written} the water would have to be at {strike.value:.0f} degC, ice.",
            "Use more water, or let the mash stand until it is cooler.",
        )  # fmt: skip
    as_read = ledger.state(
        here, "strike-heat-as-read", "strike heat as the thermometer shows it", strike.value, "degree_Celsius",
        origin=Origin("package", None, "", "the strike heat, set by thermometer"),
        influences={"the thermometer": thermometer(walk)}, on_sheets=False,
    )  # fmt: skip
    return ledger.work(
        here, "mash-heat", "mash temperature when mixed", mash_temperature, **common, water_temperature=as_read
    )


def thermometer(walk: Walk) -> float:
    return float(walk.lesson.instruments["thermometer"].within.quantity.magnitude)


def cooled(hold_for: Stated, walk: Walk, vessel: str, reached: Figure, name: str = "hold") -> tuple[Figure, Figure]:
    """The time of the rest, and the temperature at its end."""
    rate = walk.of_vessel(vessel, "cools", "cools")
    hold = walk.author(name, "time of the rest", hold_for, exact=True)
    lost = walk.ledger.work(
        walk.id, "heat-lost", "degrees lost over the rest", cooling_over_hold, cooling_rate=rate, hold=hold
    )
    ended = walk.ledger.work(
        walk.id,
        "end-heat",
        "mash temperature at the end",
        temperature_after_loss,
        temperature=reached,
        loss=lost,
    )
    course = {"start": reached, "end": ended, "time": hold}
    germs_along(walk, (0.0, hold.value), (reached.value, ended.value), course)
    return hold, ended


def _water_again(step: Mash, walk: Walk, vessel: str) -> None:
    if not walk.vessels.has_bed(vessel):
        raise walk.refuse(
            step.in_, "in", f"There is no grain in the {vessel} yet.", "Name the grain, as in with: [malt], to mash in."
        )
    bed = walk.vessels.bed(vessel)
    ledger, here = walk.ledger, walk.id
    if step.reach is not None:
        raise walk.refuse(
            step.reach,
            "reach",
            "A mash that is there already is raised to a further rest; water on drained grain is given its own heat.",
            "Write do: raise with reach: and by: to go on to a hotter rest, or water: {amount: 7 L, at: 80 degC}.",
        )
    litres = walk.author("water", "water, measured cold", step.water.amount)
    walk.must_be_some(step.water.amount, "water", litres)
    cold = walk.house("cold water")
    liquor = ledger.work(
        here, "water-mass", "mass of the water", mass_of_water, volume=litres, temperature=cold, on_sheets=False
    )
    if step.water.at is None:
        raise walk.refuse(
            step.water.amount,
            "water",
            "Water for a second mash needs its heat.",
            "Write water: {amount: 7 L, at: 80 degC}.",
        )
    hot = walk.author("at", "temperature of the second water", step.water.at)
    walk.must_lie(step.water.at, "water.at", hot, 0, 100, "the water of a mash is", "0 to 100 degC")
    together = _together(walk, bed.volume, litres)
    bulk = ledger.work(
        here,
        "mash-volume",
        "room that the mash takes",
        mash_volume,
        grain=bed.grain,
        water=together,
    )
    walk.must_fit(bulk.value, vessel, step.water.amount, "water", "The mash")
    capacity = heat_of_bed(walk, bed)
    reached = ledger.work(
        here, "mash-heat", "temperature of the second mash", temperature_after_hot_water,
        heat_capacity=capacity, temperature=bed.temperature, water_mass=liquor, water_temperature=hot,
    )  # fmt: skip
    water = ledger.work(here, "all-water", "water in the second mash", sum_of_masses, mass=bed.water, other_mass=liquor)
    hold, ended = cooled(step.hold, walk, vessel, reached)
    mash, freed = rest_of_mash(
        walk, bed.mash, start=reached, end=ended, time=hold, water=together, grain=bed.grain, time_at=step.hold,
        at=step.water.at, field="water.at", water_at=step.water.amount,
    )  # fmt: skip
    bed_settles(walk, bed, mash, freed, water, ended, "the wort in the second mash")


def bed_settles(
    walk: Walk, bed: GrainBed, mash: MashInTub, freed: Figure, water: Figure, ended: Figure, of: str
) -> None:
    """The bed after a rest on what was there: the extract that was freed joins its wort, which is measured again."""
    extract = walk.ledger.work(
        walk.id, "extract-in-mash", f"extract in {of}", sum_of_masses, mass=bed.extract, other_mass=freed,
        on_sheets=False,
    )  # fmt: skip
    wort = measure(walk, extract, water, of=of)
    sugars = attenuation_to_expect(walk, mash, wort.gravity)
    walk.compare("gravity", wort.gravity)
    walk.compare("temperature", ended)
    walk.vessels.beds[bed.vessel] = replace(
        bed, extract=wort.extract, water=wort.water, gravity=wort.gravity, volume=wort.volume, temperature=ended,
        sugars=sugars, mash=mash,
    )  # fmt: skip
    walk.vessels.last_bed = bed.vessel


def _together(walk: Walk, volume: Figure, litres: Figure) -> Figure:
    return walk.ledger.work(
        walk.id,
        "liquid-volume",
        "liquid in the tub",
        sum_of_volumes,
        volume=volume,
        other_volume=litres,
        on_sheets=False,
    )
