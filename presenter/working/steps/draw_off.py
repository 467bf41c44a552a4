"""Draw off: the wort leaves the grain; what the grain keeps stays with it."""

from __future__ import annotations

from dataclasses import replace

from presenter.lesson.steps import slug
from presenter.lesson.steps.draw_off import DrawOff
from presenter.quantities import Origin
from presenter.science.balance import difference_of_volumes
from presenter.science.spent_grain import wort_held_by_grain
from presenter.science.water import volume_after_temperature_change
from presenter.working.bread import after_drawing_off
from presenter.working.pouring import measure, part_of, re_anchored
from presenter.working.vessels import Liquid
from presenter.working.walk import Walk, wort_called

__all__ = ["walk_draw_off"]

_COMPARED = Origin("package", None, "20 degC", "the reference temperature of gravity tables")
MEASURED_AT = 20.0  # degC, the temperature at which volumes of wort are compared


def walk_draw_off(step: DrawOff, walk: Walk) -> None:
    """Part the wort of the latest mash (or of the vessel named) from its grain."""
    name = slug(step.call_it)
    tub = str(step.from_vessel) if step.from_vessel else walk.vessels.last_bed
    if not walk.vessels.has_bed(tub):
        where = f"in the {tub}" if tub else "in any vessel"
        raise walk.refuse(
            step.from_vessel or step.call_it, "out of" if step.from_vessel else "call it",
            f"There is no mash {where} to draw the {wort_called(step.call_it)} from.",
            "Add a step that mashes before this one.",
        )  # fmt: skip
    bed = walk.vessels.bed(tub)
    kept_per_mass = walk.house("water kept by the grain")
    held = walk.ledger.work(
        walk.id,
        "held-by-grain",
        "wort that the drained grain keeps",
        wort_held_by_grain,
        grain=bed.grain,
        kept=kept_per_mass,
    )
    free = walk.ledger.work(
        walk.id,
        "can-be-drawn",
        "wort that can be drawn off, at 20 °C",
        difference_of_volumes,
        volume=bed.volume,
        taken=held,
    )
    if step.volume is None:
        taken = free
    else:
        hot = walk.author("volume", "wort to draw off, hot", step.volume)
        walk.must_be_some(step.volume, "volume", hot)
        cold = walk.ledger.state(
            walk.id, "measured-at", "temperature at which volumes are compared", MEASURED_AT, "degree_Celsius",
            origin=_COMPARED, on_sheets=False,
        )  # fmt: skip
        taken = walk.ledger.work(
            walk.id, "volume-cooled", "the same wort measured at 20 °C", volume_after_temperature_change,
            volume=hot, temperature=bed.temperature, new_temperature=cold, on_sheets=False,
        )  # fmt: skip
        if walk.ledger.watchful and taken.value > free.value:
            raise walk.refuse(
                step.volume, "volume",
                f"{step.volume.written} is more than the grain lets go: about {free.value:.1f} L can be drawn off.",
                "Draw off less, or mash with more water.",
            )  # fmt: skip
    if walk.ledger.watchful and free.value <= 0:
        raise walk.refuse(
            step.call_it, "call it",
            f"The grain keeps all of the wort: it holds {held.value:.1f} L of the {bed.volume.value:.1f} L there.",
            "Mash with more water.",
        )  # fmt: skip
    (extract, water), (extract_left, water_left, volume_left) = part_of(
        walk, bed.extract, bed.water, bed.volume, taken, "drawn off"
    )
    wort = measure(walk, extract, water, "wort-", f"the {wort_called(step.call_it)}", drawn=True)
    walk.compare("gravity", wort.gravity)
    walk.compare("volume", wort.volume)
    if wort.gravity.id in walk.ledger.held:  # what stays in the grain is the same wort
        extract_left, water_left = re_anchored(
            walk, wort.gravity, volume_left, extract_left, "left-", "the wort that the grain keeps"
        )
    share = walk.ledger.again(f"{walk.id}.drawn-off-share").value / 100.0
    walk.vessels.beds[bed.vessel] = replace(
        bed,
        extract=extract_left,
        water=water_left,
        gravity=wort.gravity,
        volume=volume_left,
        mash=after_drawing_off(bed.mash, share),
    )
    vessel = str(step.into) if step.into else ""
    if vessel:
        walk.must_fit(wort.volume.value, vessel, step.into, "into", f"The {wort_called(step.call_it)}")
    walk.vessels.liquids[name] = Liquid(
        name,
        wort.extract,
        wort.water,
        wort.gravity,
        wort.volume,
        bed.temperature,
        sugars=bed.sugars,
        vessel=vessel,
        ingredients=bed.ingredients,
        hottest=bed.temperature.value,
    )
