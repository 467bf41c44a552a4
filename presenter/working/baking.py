"""The heat of a bake: when the middle of the loaf is hot enough, and what that leaves of the dough's amylases.

In: the walk, a bake and the mass of one loaf. Out: :class:`Heat`, and each loaf's :class:`BakedLoaf` with its numbers
and courses. What is left is told three ways: by the decay laws of wet mash, and by two printed readings that disagree.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from presenter.lesson.fields import Stated
from presenter.lesson.steps.bake import Bake
from presenter.quantities import Course, Origin
from presenter.science.baked_loaf import LONGEST_BAKE, BakedLoaf, Oven, baked_loaf, minutes_to_core
from presenter.science.bread import ball_core_temperature, crumb_diffusivity
from presenter.science.loaf import ball_half_thickness, crumb_density, half_of_thickness
from presenter.science.loaf_enzymes import RELIABLE_BELOW, amylase_readings
from presenter.working.ledger import Figure
from presenter.working.steps.boil import boiling_point
from presenter.working.walk import Walk

__all__ = ["TEACHING", "Heat", "heat_of_bake", "out_of_the_oven", "readings", "record_courses", "tell"]

TEACHING = "teaching model"
THINNEST, THICKEST = 20.0, 400.0  # mm
CLOSE_TO_BOIL = 0.5  # degC: the middle creeps up on the boil and never gets there
_FACTOR_OF_TWO = 0.5  # survival of enzymes, good to a factor of two away from 65 degC
_CALLED = {"rye flour": "a handbook on rye flour", "dough": "a textbook on dough"}
_LEFT_OUT = "crust, swelling and steam moving inward are not in it"
_DECAY = "the decay of amylases in wet mash, fitted at 65 degC and carried on to the oven's heat; a lower bound"
RELY = (
    f"a loaf whose middle passed {RELIABLE_BELOW:.0f} degC is treated as holding no enzyme to rely on;"
    " the sources disagree on whether dry crumb shelters it"
)


@dataclass(frozen=True)
class Heat:
    """The figures that a loaf's temperatures are worked from."""

    shape: str
    half: Figure
    diffusivity: Figure
    start: Figure
    boil: Figure
    warms: Figure
    cools: Figure
    room: Figure
    left_out: Figure

    @property
    def oven(self) -> Oven:
        """The same, as the science takes it."""
        return Oven(
            self.shape, self.half.value, self.diffusivity.value, self.start.value, self.boil.value,
            max(self.warms.value, 0.0), max(self.cools.value, 1.0), self.room.value,
        )  # fmt: skip

    @property
    def inputs(self) -> dict[str, Figure]:
        """What went in, for the chain of ``--why``."""
        return {
            "half_thickness": self.half, "diffusivity": self.diffusivity, "dough": self.start, "boil": self.boil,
            "crust_warms_in": self.warms, "crust_cools_in": self.cools, "room": self.room,
        }  # fmt: skip


def _within(walk: Walk, at: Stated, field: str, value: float, low: float, high: float, words: str) -> None:
    if walk.ledger.watchful and not low <= value <= high:
        raise walk.refuse(at, field, f"{at.written} is outside the range for this step: {words}.")


def heat_of_bake(step: Bake, walk: Walk, piece: Figure) -> Heat:
    """Half of the loaf's thickness, how fast its crumb warms, and the temperatures around it."""
    ledger, here = walk.ledger, walk.id
    gas = walk.house("gas in the crumb")
    if step.gas_in_the_crumb is not None:
        gas = walk.author("gas in the crumb", "share of the crumb that is gas", step.gas_in_the_crumb, exact=True)
        _within(walk, step.gas_in_the_crumb, "gas in the crumb", gas.value, 30.0, 70.0,
                "the crumb whose warming is published holds 30 to 70 percent of gas")  # fmt: skip
    spreads = ledger.work(here, "crumb-diffusivity", "how fast warmth spreads in the crumb", crumb_diffusivity,
                          porosity=gas, on_sheets=False)  # fmt: skip
    if step.thickness is not None:
        thick = walk.author("thickness", "thickness of the baked loaf", step.thickness)
        _within(walk, step.thickness, "thickness", thick.value, THINNEST, THICKEST,
                f"a loaf is {THINNEST:.0f} to {THICKEST:.0f} mm thick")  # fmt: skip
        half = ledger.work(here, "half-thickness", "from the crust to the middle of the loaf", half_of_thickness,
                           thickness=thick)  # fmt: skip
    elif step.shape == "ball":
        density = ledger.work(here, "crumb-density", "mass of a litre of crumb", crumb_density, porosity=gas,
                              on_sheets=False)  # fmt: skip
        half = ledger.work(here, "half-thickness", "from the crust to the middle of the loaf", ball_half_thickness,
                           mass=piece, density=density)  # fmt: skip
    else:
        raise walk.refuse(
            None, "thickness", f"How soon a {step.shape} is baked through depends on how thick it is.",
            "Add thickness: 90 mm, that of the baked loaf.",
        )  # fmt: skip
    start = walk.house("dough at")
    if step.dough_at is not None:
        start = walk.author("dough at", "the dough as it goes in", step.dough_at)
        walk.must_lie(step.dough_at, "dough at", start, 0, 45, "dough goes into the oven at", "0 to 45 degC")
    boiling_point(walk)
    left_out = ledger.state(
        here, "left-out", "what conduction alone leaves out", 0.0, "delta_degree_Celsius", on_sheets=False,
        origin=Origin("package", None, "0 degC", ball_core_temperature.error_because),
        influences={"what conduction in a loaf leaves out": ball_core_temperature.error},
    )  # fmt: skip
    return Heat(
        str(step.shape), half, spreads, start, ledger.again("lesson.boiling-point"), walk.house("crust warms in"),
        walk.house("crust cools in"), walk.house("room temperature"), left_out,
    )  # fmt: skip


def readings(walk: Walk) -> dict[tuple[str, str], Figure]:
    """The heat at which each amylase is gone, by each printed reading; kept once under the lesson."""
    found = {}
    for reading, printed in amylase_readings()["readings"].items():
        for amylase in ("alpha-amylase", "beta-amylase"):
            name = f"{amylase}-gone-in-{reading.replace(' ', '-')}"
            row = printed[amylase]
            known = f"lesson.{name}" in walk.ledger.entries
            found[reading, amylase] = walk.ledger.again(f"lesson.{name}") if known else walk.ledger.state(
                "lesson", name, f"{amylase} is gone, by {_CALLED[reading]}", float(row["gone"]), "degree_Celsius",
                origin=Origin("package", None, str(row["printed"]), f"{printed['place']}, {_CALLED[reading]}"),
                influences={f"the heat at which {_CALLED[reading]} has {amylase} gone": float(row["within"])},
                sources=(str(printed["source"]),), on_sheets=False,
            )  # fmt: skip
    return found


def out_of_the_oven(
    step: Bake, walk: Walk, heat: Heat, core: Stated | None, prefix: str, of: str, passed: Sequence[float]
) -> tuple[Figure, BakedLoaf]:
    """How long ``of`` is in the oven (its core's heat, where that was given a time), and the loaf that comes out."""
    ledger, here, oven = walk.ledger, walk.id, heat.oven
    if core is None:
        assert step.for_ is not None
        minutes = walk.author("for", "time in the oven", step.for_, exact=True)
        _within(walk, step.for_, "for", minutes.value, 1.0, LONGEST_BAKE, "a loaf bakes for 1 min to 12 h")
        loaf = baked_loaf(oven, minutes.value, tuple(passed))
        ledger.found(
            here, f"{prefix}core", f"middle of {of} as it comes out ({TEACHING})",
            loaf.core + heat.left_out.value, "degree_Celsius", inputs=heat.inputs | {"time": minutes},
            sources=("bread_diffusivity1995", "long_term_experiments"),
            rests_on=f"heat conduction in a loaf, a {TEACHING}", remark=_LEFT_OUT,
        )  # fmt: skip
        return minutes, loaf
    wanted = walk.author(f"{prefix}core", f"middle of {of} as it comes out", core,
                         evidence=step.evidence_for("until core"))  # fmt: skip
    if walk.ledger.watchful and not heat.start.value < wanted.value <= heat.boil.value - CLOSE_TO_BOIL:
        raise walk.refuse(
            core, "until core",
            f"The middle of a loaf lies between its dough, {heat.start.value:.0f} degC, and the heat at which water"
            f" boils here, {heat.boil.value:.1f} degC; {core.written} does not.",
            "Bread is baked to a core of 90 to 98 degC.",
        )  # fmt: skip
    reachable = min(wanted.value, heat.boil.value - CLOSE_TO_BOIL / 2)  # only a shifted walk can lie above
    took = minutes_to_core(oven, reachable)
    if took is None:
        raise walk.refuse(
            core, "until core", f"The middle of {of} would not reach {core.written} in 12 hours.",
            "Bake a smaller or a flatter loaf.",
        )  # fmt: skip
    late = minutes_to_core(oven, min(reachable - heat.left_out.value, heat.boil.value - CLOSE_TO_BOIL / 4))
    time = ledger.found(
        here, f"{prefix}core-time", f"time for {of} ({TEACHING})",
        late if late is not None else LONGEST_BAKE, "minute",
        inputs=heat.inputs | {"core": wanted, "left_out": heat.left_out},
        sources=("bread_diffusivity1995", "long_term_experiments"),
        rests_on=f"heat conduction in a loaf, a {TEACHING}", remark=f"{_LEFT_OUT}; go by the probe, not by the clock",
    )  # fmt: skip
    return time, baked_loaf(oven, took, tuple(passed))


def tell(
    walk: Walk,
    heat: Heat,
    gone: Mapping[tuple[str, str], Figure],
    time: Figure,
    loaf: BakedLoaf,
    prefix: str,
    of: str,
) -> Figure:
    """The numbers of one baked loaf; the last of them is the amylase that a later mash counts on."""
    ledger, here = walk.ledger, walk.id
    inputs = heat.inputs | {"time": time}
    hottest = ledger.found(
        here, f"{prefix}hottest", f"hottest that the middle of {of} gets ({TEACHING})", loaf.hottest,
        "degree_Celsius", inputs=inputs,
        influences={"what conduction in a loaf leaves out": ball_core_temperature.error},
        sources=("bread_diffusivity1995",), rests_on=f"heat conduction in a loaf, a {TEACHING}",
        remark="the crust's warmth goes on moving inward after the loaf is out",
    )  # fmt: skip
    for amylase, left in loaf.left.items():
        for where, words, share in (
            ("middle", f"in the middle of {of}", left.middle), ("halfway", f"halfway into {of}", loaf.halfway[amylase]),
            ("whole", f"in all of {of}", left.whole),
        ):  # fmt: skip
            ledger.found(
                here, f"{prefix}{amylase}-{where}", f"{amylase} left {words}, of the dough's ({TEACHING})",
                100.0 * share, "percent", inputs=inputs, rests_on=_DECAY, remark=f"{TEACHING}: {_DECAY}",
                influences={"the survival of enzymes in a loaf": 100.0 * min(_FACTOR_OF_TWO * share, 1.0 - share)},
                sources=("muller1990", "brandam2003"),
            )  # fmt: skip
    for ((reading, amylase), at), share in zip(gone.items(), loaf.never_passed, strict=False):
        printed = amylase_readings()["readings"][reading]
        ledger.found(
            here, f"{prefix}{amylase}-by-{reading.replace(' ', '-')}",
            f"part of {of} too cool to end {amylase}, by {_CALLED[reading]}", 100.0 * share, "percent",
            inputs=inputs | {"gone_at": at}, sources=(str(printed["source"]),),
            rests_on="the part of the loaf that never passed the heat at which the amylase is said to be gone",
            remark=f"printed: {printed[amylase]['printed']} degC; no minutes are printed; the two readings disagree",
        )  # fmt: skip
    sure = loaf.hottest < RELIABLE_BELOW
    return ledger.found(
        here, f"{prefix}enzyme-counted", f"amylase of {of} that a later mash can rely on, of the dough's",
        100.0 * loaf.left["alpha-amylase"].whole if sure else 0.0, "percent", inputs={"hottest": hottest},
        sources=("hamelman_bread",), rests_on=_DECAY if sure else "the heat at which activity in a loaf ceases",
        remark=RELY,
    )  # fmt: skip


def record_courses(walk: Walk, heat: Heat, loaf: BakedLoaf, marks: Sequence[tuple[float, str]]) -> None:
    """The temperatures over the longest bake and its cooling, at three depths; ``marks`` where loaves come out."""
    if not walk.ledger.watchful:
        return
    course = loaf.course
    depths = {
        "core": ("middle of the loaf", 0),
        "halfway": ("halfway to the crust", int(np.abs(course.depths - heat.half.value / 2).argmin())),
        "skin": ("just behind the crust", -1),
    }
    for name, (label, shell) in depths.items():
        walk.courses[f"{walk.id}.{name}-course"] = Course(
            f"{walk.id}.{name}-course", walk.id, f"{label}, its temperature ({TEACHING})",
            tuple(float(minute) for minute in course.times),
            tuple(float(value) for value in course.temperatures[:, shell]), "degree_Celsius",
            sources=("bread_diffusivity1995", "long_term_experiments"), remark=f"{TEACHING}; {_LEFT_OUT}",
            marks=tuple(marks),
        )  # fmt: skip
