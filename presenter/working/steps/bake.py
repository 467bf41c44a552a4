"""Bake: dough becomes loaves; how long the middle takes to be hot, and what that leaves of the dough's enzymes.

Conduction in a loaf is a teaching model: the crumb's skin is held where water boils, however hot the oven is.
"""

from __future__ import annotations

from presenter.lesson.steps import slug
from presenter.lesson.steps.bake import Bake
from presenter.science.gelatinisation import gelatinisation_table
from presenter.science.loaf_enzymes import RELIABLE_BELOW
from presenter.working.baking import heat_of_bake, out_of_the_oven, readings, record_courses, tell
from presenter.working.dough import dough_of, loaf_masses
from presenter.working.vessels import Loaf
from presenter.working.walk import Walk

__all__ = ["walk_bake"]

_COOLEST, _HOTTEST = 130.0, 320.0  # degC: cooler, and the crust does not hold the crumb's skin at the boil


def _swells_at(grain: str) -> float:
    """The heat (degC) at which a grain's starch swells, as its table has it: the middle, or else the beginning."""
    row = gelatinisation_table()["rows"][grain]
    return float(row["onset"] if row.get("by_onset") else row["centre"])


def walk_bake(step: Bake, walk: Walk) -> None:
    """Weigh the dough, bake it, and keep the loaves by name."""
    pieces = len(step.until_core) if len(step.until_core) > 1 else 1 if step.loaves is None else step.loaves
    if pieces < 1:
        raise walk.refuse(None, "loaves", "No loaf at all is no bake.", "Write loaves: 1.")
    dough = dough_of(walk, step)
    loss = walk.house("bake loss")
    if step.loses is not None:
        loss = walk.author("loses", "share of the dough that the oven takes", step.loses, exact=True)
    masses = loaf_masses(walk, dough, pieces, loss, step.loses)
    oven = walk.author("oven", "oven", step.oven, exact=True)
    walk.must_lie(
        step.oven, "oven", oven, _COOLEST, _HOTTEST, "an oven for bread is at",
        f"{_COOLEST:.0f} to {_HOTTEST:.0f} degC",
    )  # fmt: skip
    heat = heat_of_bake(step, walk, masses.piece)
    gone = readings(walk)
    passed = [*(figure.value for figure in gone.values()), _swells_at(dough.grain)]
    marks = []
    longest = None
    for number, said in enumerate(step.call_it):
        name = slug(said)
        alone = len(step.call_it) == 1
        prefix, of = ("", "the loaf") if alone else (f"{name}-", f"the {said}")
        core = step.until_core[number] if step.until_core else None
        time, loaf = out_of_the_oven(step, walk, heat, core, prefix, of, passed)
        tell(walk, heat, gone, time, loaf, prefix, of)
        marks.append((loaf.minutes, f"{said} out"))
        longest = loaf if longest is None or loaf.minutes > longest.minutes else longest
        alpha, beta = loaf.left["alpha-amylase"], loaf.left["beta-amylase"]
        alive = (alpha.whole, beta.whole_fast, beta.whole_slow) if loaf.hottest < RELIABLE_BELOW else (0.0, 0.0, 0.0)
        walk.vessels.loaves[name] = Loaf(
            name, pieces if alone else 1, masses.piece, masses.extract, masses.moisture, masses.sugars,
            masses.starch, dough.grain, 1.0 - loaf.never_passed[-1], dough.enzymes, alive, loaf.hottest,
            tuple(str(each) for each in step.with_),
        )  # fmt: skip
    if longest is not None:
        record_courses(walk, heat, longest, sorted(marks))
