"""Bread as a mash finds it: swollen starch, no enzyme to rely on, and the little sugar that it brings.

In: an ingredient that names a loaf of the same lesson, or a bread of the tables. Out: portions and shares.
"""

from __future__ import annotations

from dataclasses import replace
from types import MappingProxyType

from presenter.lesson.model import IngredientUse
from presenter.lesson.steps import slug
from presenter.problems import Problem
from presenter.quantities import Origin
from presenter.science.composition import food
from presenter.science.loaf import mass_of_pieces, sugars_in_moist_bread
from presenter.science.mash_state import MashState, drawn_off
from presenter.working.amounts import Measured, mass_of_amount
from presenter.working.brought import loaf_brought
from presenter.working.ledger import Figure
from presenter.working.vessels import Loaf, MashInTub, StepProblemError
from presenter.working.walk import Walk

__all__ = [
    "NO_ENZYME",
    "SWOLLEN",
    "after_drawing_off",
    "dissolved_part",
    "loaf_taken",
    "locked_up",
    "sugars_of_bread",
]

_CRUMB = "crumb"
_NOTHING = 1e-9  # a share of the wort

SWOLLEN = (
    "bread: its starch is swollen by the oven, and is counted as dissolved only where an enzyme has thinned it;"
    " dextrins that the oven itself made are not counted"
)
NO_ENZYME = "no enzyme: this rest makes no sugar, and what is sweet came with the bread"

# Breads of the food table from which the sugars of a home loaf of that grain are read; the first list is for the rest.
_BREADS = {
    "rye": ("bread_pumpernickel", "bread_rye"),
    "wheat": ("bread_french_or_sourdough", "bread_wholewheat_commercial", "bread_white_commercial"),
}


def sugars_of_bread(walk: Walk, step: str, name: str, of: str, grain: str, moisture: Figure) -> Figure:
    """The sugars in a bread, percent of its mass: between those of the food table's breads of that grain."""
    number_id = f"{step}.{name}"
    if number_id in walk.ledger.entries:
        return walk.ledger.again(number_id)
    breads = [food(key) for key in _BREADS.get(grain, _BREADS["wheat"])]
    dry = [100.0 * (each.sugars or 0.0) / (100.0 - each.water) for each in breads]
    low, high = min(dry), max(dry)
    words = f"{low:.1f} to {high:.1f} percent of dry bread"
    shares = walk.ledger.state(
        step, f"{name}-dry", f"sugars in {of}, of its dry matter", (low + high) / 2, "percent", on_sheets=False,
        origin=Origin("package", None, words, f"the food table: {', '.join(each.described for each in breads)}"),
        influences={"the sugars that bread brings": max((high - low) / 2, 0.2 * high)}, sources=("usda_sr28",),
    )  # fmt: skip
    return walk.ledger.work(
        step, name, f"sugars in {of}, as it is", sugars_in_moist_bread, dry_sugars=shares, moisture=moisture,
        remark="between breads of the food table, which are other loaves than this one",
    )  # fmt: skip


def loaf_taken(walk: Walk, name: str, use: IngredientUse) -> tuple[Loaf, Figure] | None:
    """The loaf that an ingredient names and the mass of it that is taken; nothing where it names none.

    Raises StepProblemError where more is taken than was baked, and UnknownContentsError where its bake failed.
    """
    loaf = walk.vessels.loaf(slug(use.what)) if use.made_in is None else loaf_brought(walk, use)
    if loaf is None:
        return None
    key, where = slug(name), f"ingredients.{name}.amount"
    evidence = str(use.from_ or "the author's own figure")
    number_id = f"lesson.{key}"
    if use.amount.kind == "volume":
        wrong = f"{use.amount.written} is a volume; bread is weighed or counted by the loaf."
        raise StepProblemError(Problem(use.amount.place, where, use.amount.written, wrong, "Write it as 600 g or 1."))
    if number_id in walk.ledger.entries:
        taken = walk.ledger.again(number_id)
    elif use.amount.kind == "pieces":
        pieces = walk.author(f"{key}-pieces", f"loaves of {use.what}", use.amount, evidence=evidence, step="lesson",
                             exact=True, on_sheets=False)  # fmt: skip
        taken = walk.ledger.work("lesson", key, f"{use.what}", mass_of_pieces, pieces=pieces,
                                 piece_mass=loaf.piece_mass)  # fmt: skip
    else:
        taken = mass_of_amount(walk, use.amount, Measured("lesson", key, str(use.what), None, where, name, evidence))
    baked = loaf.pieces * loaf.piece_mass.value
    if walk.ledger.watchful and loaf.used + taken.value > baked * (1 + 1e-9):
        there = f", {loaf.used_there:.2f} kg of it in {loaf.lesson} itself" if loaf.used_there > 0 else ""
        bakes = f"{loaf.lesson} bakes {loaf.pieces}, together" if loaf.lesson else "the bake gives"
        wrong = (
            f"{use.what.strip().capitalize()}: {loaf.used + taken.value:.2f} kg is used by here{there}; {bakes}"
            f" {baked:.2f} kg."
        )
        more = f"Bake more in {loaf.lesson}" if loaf.lesson else "Bake more"
        raise StepProblemError(
            Problem(use.amount.place, where, use.amount.written, wrong, f"{more}, or use less of it.")
        )
    walk.vessels.loaves[loaf.name] = replace(loaf, used=loaf.used + taken.value)
    return loaf, taken


def locked_up(state: MashState, crumb: bool) -> float:
    """Starch that has given the wort nothing yet: in granules, and in bread the swollen starch that is still whole."""
    return state.in_granules + (state.gelatinised if crumb else 0.0)


def dissolved_part(mash: MashInTub) -> MashState:
    """The state as the wort sees it: swollen starch that bread holds on to is no part of it."""
    return replace(mash.state, gelatinised=0.0) if mash.crumb else mash.state


def after_drawing_off(mash: MashInTub, share: float) -> MashInTub:
    """The tub after a share of its wort (0 to 1) has left: what was dissolved goes, starch in granules stays."""
    share = min(max(share, 0.0), 1.0 - _NOTHING)
    held = mash.state.gelatinised if mash.crumb else 0.0  # in the crumbs, which stay behind as granules do
    before = replace(dissolved_part(mash), granules=MappingProxyType({**mash.state.granules, _CRUMB: held}))
    state, stays = drawn_off(before, share)
    granules = dict(state.granules)
    state = replace(
        state, gelatinised=state.gelatinised + granules.pop(_CRUMB), granules=MappingProxyType(granules)
    )  # fmt: skip
    kept = (1.0 - share) / stays
    return replace(mash, state=state, starch=mash.starch * stays, brought=mash.brought * kept, other=mash.other * kept)
