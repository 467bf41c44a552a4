"""The grist as the mash model takes it: starch, enzymes and gelatinisation of each grain in the mash.

In: the portions of a mash. Out: what is in the tub at the moment the grist meets the water, with the remarks that every
number of the model must carry: enzymes that are unpublished and counted as none, grains that borrow barley's heat.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import cache

from presenter.lesson.reading import Written
from presenter.lesson.steps import slug
from presenter.quantities import Origin
from presenter.science.balance import difference_of_masses, part_of_mass, sum_of_masses
from presenter.science.composition import HYDROLYSIS
from presenter.science.gelatinisation import UnknownGrainError, gelatinisation_shift, gelatinisation_table
from presenter.science.ingredients import Ingredient, ingredient_named
from presenter.science.mash_model import mash_model
from presenter.science.mash_state import MashPart, fresh, mixed
from presenter.working.bread import NO_ENZYME, SWOLLEN, sugars_of_bread
from presenter.working.ingredients import Portion
from presenter.working.ledger import Figure
from presenter.working.vessels import MashInTub
from presenter.working.walk import Walk

__all__ = [
    "COUNTED_AS_NONE",
    "STAYS_STARCH",
    "grain_of",
    "grist_in_tub",
    "is_bread",
    "opening_shift",
    "poured_together",
    "starch_of",
    "strength_of",
]

REFERENCE_MALT = "pale barley malt"
COUNTED_AS_NONE = "unpublished and counted as none"
STAYS_STARCH = "nothing in this mash brings enzymes, so its starch stays starch"


@cache
def _reference() -> Ingredient:
    return ingredient_named(REFERENCE_MALT)


def starch_of(each: Portion, extract: float) -> float:
    """The starch behind so much ``extract`` of an ingredient; pale malt's share where the tables do not know it."""
    known = each.known
    if each.loaf is not None:
        return each.loaf.starch * each.mass.value
    if known is not None and known.attenuable is not None:
        return 0.0  # sugar and syrup
    found = known if known is not None and known.extract_share and known.starch_share is not None else _reference()
    return extract * (found.starch_share or 0.0) / (found.extract_share or 1.0)


def strength_of(walk: Walk, each: Portion, starch_share: float) -> tuple[float, str]:
    """Enzymes against pale malt for each kilogram of starch, and a remark where they had to be guessed as none."""
    if each.use.enzymes is not None:
        number_id = f"lesson.{slug(each.name)}-enzymes"
        if number_id in walk.ledger.entries:
            figure = walk.ledger.again(number_id)
        else:
            figure = walk.author(
                f"{each.name}-enzymes", f"enzymes of {each.use.what}, against {REFERENCE_MALT}", each.use.enzymes,
                step="lesson", exact=True,
            )  # fmt: skip
        by_mass, remark = figure.value / 100.0, ""
    elif each.known is not None and each.known.family == "bread":
        by_mass, remark = 0.0, ""  # the oven has killed them
    elif each.known is None or each.known.enzyme_strength is None:
        by_mass = 0.0
        remark = f"the enzymes of {each.use.what} are {COUNTED_AS_NONE} (write enzymes: to give your own)"
    else:
        by_mass, remark = each.known.enzyme_strength, ""
    if starch_share <= 0.0:
        return 0.0, remark
    return by_mass * (_reference().starch_share or 0.0) / starch_share, remark


def grain_of(each: Portion) -> tuple[str, str]:
    """The grain whose law of gelatinisation holds, and a remark where barley's is borrowed."""
    grain = each.known.grain if each.known is not None else ""
    try:
        gelatinisation_shift(grain)
    except UnknownGrainError:
        cooked = each.known is not None and each.known.family == "bread"
        borrowed = f"no heat of gelatinisation is published here for {each.use.what}; barley's is taken"
        return "barley", "" if cooked else borrowed
    return grain, ""


def grist_in_tub(
    walk: Walk, portions: Iterable[Portion], all_extract: Figure, at: Written | None
) -> tuple[MashInTub, Figure]:
    """The tub at the moment of mixing, and the part of the extract that dissolves at once, without a rest."""
    model = mash_model()
    parts: list[MashPart] = []
    remarks: list[str] = []
    brought = other = whole = locked = 0.0
    crumb = False
    for each in portions:
        extract = each.mass.value * each.extract_share.value / 100.0
        whole += extract
        if is_bread(each):
            crumb = True
            part, sugars = _bread(walk, each, extract)
            parts.append(part)
            brought += sugars
            other += max(0.0, extract - HYDROLYSIS * part.starch - sugars)
            locked += min(extract, HYDROLYSIS * part.starch)
            continue
        if each.known is not None and each.known.attenuable is not None:
            brought += extract * each.known.attenuable
            other += extract * (1.0 - each.known.attenuable)
            continue
        starch = starch_of(each, extract)
        strength, unknown = strength_of(walk, each, starch / each.mass.value)
        if starch <= 0.0:
            other += extract
            continue
        grain, borrowed = grain_of(each)
        remarks += [remark for remark in (unknown, borrowed) if remark and remark not in remarks]
        parts.append(MashPart(grain, starch, strength))
        brought += model.sugars_brought * starch
        other += model.other_extract * starch
        locked += min(extract, HYDROLYSIS * starch)
    total = sum(part.starch for part in parts)
    if total <= 0.0:
        raise walk.refuse(
            at, "with", "There is no starch in this mash, so a rest would change nothing.",
            "Mash grain, or steep without a mash.",
        )  # fmt: skip
    state = fresh(parts)
    if crumb:
        remarks.append(SWOLLEN)
    if state.alpha + state.beta_fast + state.beta_slow <= 0.0:
        remarks.append(NO_ENZYME if crumb else STAYS_STARCH)
    share = walk.ledger.state(
        walk.id, "starch-of-extract", "share of the extract that is locked up in starch", 100.0 * locked / whole,
        "percent", origin=Origin("package", None, "", "the ingredients' starch against their extract, from the tables"),
        on_sheets=False,
    )  # fmt: skip
    undissolved = walk.ledger.work(
        walk.id, "extract-in-starch", "extract locked up in starch", part_of_mass, mass=all_extract, share=share,
        on_sheets=False,
    )  # fmt: skip
    at_once = walk.ledger.work(
        walk.id, "extract-at-once", "extract that dissolves without a rest", difference_of_masses,
        mass=all_extract, taken=undissolved, on_sheets=False,
    )  # fmt: skip
    tub = MashInTub(
        state, brought / total, other / total, undissolved, walk.id, total, remarks=tuple(remarks), crumb=crumb
    )  # fmt: skip
    return tub, at_once


def poured_together(walk: Walk, before: MashInTub, added: MashInTub) -> MashInTub:
    """One mash of what is in the tub and of fresh grain put to it; the rests are counted on from the first."""
    total = before.starch + added.starch
    share = before.starch / total
    state = mixed(before.state, added.state, share)
    remarks = [*before.remarks, *added.remarks]
    if state.alpha + state.beta_fast + state.beta_slow > 0.0:  # what one of the two was told of itself holds no longer
        remarks = [remark for remark in remarks if remark not in {STAYS_STARCH, NO_ENZYME}]
    undissolved = walk.ledger.work(
        walk.id, "extract-in-all-starch", "extract locked up in the starch of both", sum_of_masses,
        mass=before.undissolved, other_mass=added.undissolved, on_sheets=False,
    )  # fmt: skip
    return replace(
        before,
        state=state,
        brought=share * before.brought + (1.0 - share) * added.brought,
        other=share * before.other + (1.0 - share) * added.other,
        undissolved=undissolved,
        starch=total,
        crumb=before.crumb or added.crumb,
        remarks=tuple(dict.fromkeys(remarks)),
    )


def is_bread(each: Portion) -> bool:
    """Whether an ingredient is bread: a loaf of this lesson or one of the tables."""
    return each.loaf is not None or (each.known is not None and each.known.family == "bread")


def _bread(walk: Walk, each: Portion, extract: float) -> tuple[MashPart, float]:
    """A bread as a part of the mash, and the sugars that it brings, in kilograms."""
    key = slug(each.name)
    if each.loaf is not None:
        loaf = each.loaf
        part = MashPart(loaf.grain, loaf.starch * each.mass.value, loaf.enzymes, loaf.swollen, loaf.alive)
        share = loaf.sugars
    else:
        grain = "rye" if each.known is not None and "rye" in each.known.caution_words else "wheat"
        share = sugars_of_bread(walk, "lesson", f"{key}-sugars", str(each.use.what), grain, each.moisture)
        strength, _ = strength_of(walk, each, starch_of(each, extract) / each.mass.value)
        part = MashPart(grain, starch_of(each, extract), strength, 1.0)
    sugars = walk.ledger.work(
        walk.id, f"{key}-sugars", f"sugar that the {each.use.what} brings of itself", part_of_mass,
        mass=each.mass, share=share,
    )  # fmt: skip
    return part, sugars.value


def opening_shift(walk: Walk) -> Figure:
    """How much warmer than the table's figures the starch gelatinises: none, give or take barley's own figure."""
    if "lesson.gelatinisation" in walk.ledger.entries:
        return walk.ledger.again("lesson.gelatinisation")
    barley = gelatinisation_table()["rows"]["barley"]
    return walk.ledger.state(
        "lesson", "gelatinisation", "how much warmer than its table's figure the starch gelatinises", 0.0,
        "delta_degree_Celsius", origin=Origin("package", None, "", "the table's figures, taken as they stand"),
        influences={"the heat at which starch gelatinises": float(barley["give_or_take"])},
        sources=(str(barley["source"]),), on_sheets=False,
    )  # fmt: skip
