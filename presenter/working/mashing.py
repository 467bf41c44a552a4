"""What goes on in a mash tub, by the mash model: starch dissolved, sugars by kind, enzymes left, attenuation to expect.

In: the walk, what is in the tub, and one rest (its heat at both ends and its minutes). Out: the tub after the rest, and
its numbers in the ledger. A teaching model: every label says so, and every remark names the misses that touch it.

Walks only need the end of a rest; the plan walk also records the courses over the mash. The same rest worked again by
a walk in which nothing about it was shifted is remembered, so a give-or-take stays quick.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache
from types import MappingProxyType

from presenter.lesson.fields import Stated
from presenter.quantities import Origin
from presenter.science.attenuation import apparent_attenuation_from_fermentable
from presenter.science.balance import difference_of_masses, part_of_mass, sum_of_masses
from presenter.science.gravity import degrees_plato_from_gravity
from presenter.science.mash import mash_course, mash_end
from presenter.science.mash_model import COLDEST, HOTTEST, mash_model
from presenter.science.mash_state import MashState, boiled
from presenter.science.mash_sugars import (
    MashAttenuation,
    mash_attenuation,
    mash_sugars,
    starch_converted,
    starch_dissolved,
)
from presenter.working.bread import dissolved_part, locked_up
from presenter.working.gristing import opening_shift
from presenter.working.ledger import Figure
from presenter.working.mash_courses import SOURCES_OF_MODEL, TEACHING, record_boil, record_rest
from presenter.working.mash_misses import remark_on
from presenter.working.vessels import GrainBed, MashInTub, Spectrum
from presenter.working.walk import Walk

__all__ = [
    "TEACHING",
    "attenuation_to_expect",
    "boiled_through",
    "no_extract",
    "no_share_boils_free",
    "remembered_ends",
    "rest_of_mash",
]

_THINNEST, _THICKEST = 8.0, 2.0  # litres of water to a kilogram of grist
_NOTHING = 1e-9  # a share of the starch below which nothing is left in granules

# Bands (k = 2) of the sugars it was fitted to, in percent of the extract; dextrin takes what the three leave.
_SUGAR_BANDS = {"glucose": 1.0, "maltose": 2.0, "maltotriose": 1.0, "dextrin": 4.0}
_FACTOR_OF_TWO = 0.5  # survival of enzymes: good to a factor of two away from 65 degC


_NUMBERS = (
    "gelatinised", "dextrin", "glucose", "maltose", "maltotriose", "alpha", "beta_fast", "beta_slow", "strength",
    "widened", "made_hot",
)  # fmt: skip
_Points = tuple[tuple[float, float], ...]


@lru_cache(maxsize=1024)
def remembered_ends(
    granules: tuple[tuple[str, float], ...], numbers: tuple[float, ...], points: _Points, ratio: float, moved: float
) -> MashState:
    """The end of a rest by the mash model; the same rest asked for again is remembered."""
    state = MashState(granules=MappingProxyType(dict(granules)), **dict(zip(_NUMBERS, numbers, strict=True)))
    return mash_end(
        state, points, water_to_grist=ratio, gelatinises_at=dict.fromkeys((name for name, _ in granules), moved)
    )


def _ended(state: MashState, points: _Points, ratio: float, moved: float) -> MashState:
    numbers = tuple(getattr(state, name) for name in _NUMBERS)
    return remembered_ends(tuple(state.granules.items()), numbers, points, ratio, moved)


def _held_for(walk: Walk, start: Figure, end: Figure, at: Stated | None, field: str, for_: Stated | None) -> None:
    """Refuse a rest outside what the model holds for."""
    where = f"The mash model holds from {COLDEST:.0f} to {HOTTEST:.0f} degC"
    if not COLDEST <= round(start.value, 6) <= HOTTEST:
        raise walk.refuse(
            at, field, f"{where}; this rest is at {start.value:.0f} degC.",
            f"Rest between {COLDEST:.0f} and {HOTTEST:.0f} degC.",
        )  # fmt: skip
    if not COLDEST <= round(end.value, 6) <= HOTTEST:
        raise walk.refuse(
            for_ or at, "for" if for_ else field, f"{where}; this rest ends at {end.value:.0f} degC.",
            "Rest for less time, or say that the tub cools more slowly.",
        )  # fmt: skip


def _thickness(walk: Walk, water: Figure, grain: Figure, at: Stated | None) -> float:
    """Litres of water to a kilogram of grist, refused where the model does not hold."""
    ratio = water.value / grain.value
    if walk.ledger.watchful and not _THICKEST <= ratio <= _THINNEST:
        raise walk.refuse(
            at, "water",
            f"The mash model holds from {_THICKEST:g} to {_THINNEST:g} litres of water to a kilogram of grist;"
            f" this mash has {ratio:.1f}.",
            "Use more water." if ratio < _THICKEST else "Use less water, or more grain.",
        )  # fmt: skip
    return min(max(ratio, _THICKEST), _THINNEST)  # only a shifted walk can lie outside


def rest_of_mash(
    walk: Walk,
    mash: MashInTub,
    *,
    start: Figure,
    end: Figure,
    time: Figure,
    water: Figure,
    grain: Figure,
    at: Stated | None,
    field: str = "reach",
    time_at: Stated | None = None,
    water_at: Stated | None = None,
) -> tuple[MashInTub, Figure]:
    """One rest, its heat falling or rising in a straight line: the tub after it, and the extract it dissolved.

    ``water`` is what the grain stands in, in litres; ``at`` and the others say where the author wrote them.
    """
    if _nothing_works(mash):
        stood = replace(mash, minutes=mash.minutes + time.value)
        found = _numbers_of(walk, stood, {"before": mash.from_before} if mash.from_before else {})
        return replace(stood, from_before=found), no_extract(walk, mash)
    if walk.ledger.watchful:
        _held_for(walk, start, end, at, field, time_at)
    ratio = _thickness(walk, water, grain, water_at)
    moved = opening_shift(walk)
    before, after, minutes = mash.state, mash.state, time.value
    if minutes > _NOTHING:
        first, last = (min(max(each.value, COLDEST), HOTTEST) for each in (start, end))  # as above
        after = _ended(before, ((0.0, first), (minutes, last)), ratio, moved.value)
        if walk.ledger.watchful:
            moves = dict.fromkeys(before.granules, moved.value)
            record_rest(walk, mash, mash_course(before, ((0.0, first), (minutes, last)), water_to_grist=ratio,
                                            gelatinises_at=moves))  # fmt: skip
    inputs = {"temperature": start, "temperature_at_the_end": end, "time": time, "water": water, "grain": grain}
    inputs |= {"gelatinisation": moved} | ({"before": mash.from_before} if mash.from_before else {})
    held = locked_up(before, mash.crumb)
    went = 100.0 if held <= _NOTHING else 100.0 * (1.0 - locked_up(after, mash.crumb) / held)
    still = "locked up" if mash.crumb else "in its granules"
    opened = _found(
        walk, mash, "starch", "granules-opened", f"starch that this rest frees, of what was still {still}",
        min(max(went, 0.0), 100.0), inputs, on_sheets=False,
    )  # fmt: skip
    freed = walk.ledger.work(
        walk.id, "extract-freed", "extract from the starch that this rest frees", part_of_mass,
        mass=mash.undissolved, share=opened, on_sheets=False,
    )  # fmt: skip
    left = walk.ledger.work(
        walk.id, "extract-undissolved", "extract still locked up in starch", difference_of_masses,
        mass=mash.undissolved, taken=freed, on_sheets=False,
    )  # fmt: skip
    now = replace(mash, state=after, undissolved=left, minutes=mash.minutes + minutes)
    found = _numbers_of(walk, now, inputs)
    return replace(now, from_before=found), freed


def _nothing_works(mash: MashInTub) -> bool:
    """Whether a boil left neither enzyme nor starch in granules, so that a further rest at any heat changes nothing."""
    return mash.from_before is not None and mash.state.in_granules <= _NOTHING and mash.state.alpha <= 0.0


def no_extract(walk: Walk, mash: MashInTub) -> Figure:
    """The extract that a cooked mash frees while it stands: none is left to free."""
    return walk.ledger.work(
        walk.id, "extract-freed", "extract from the starch that this rest frees", difference_of_masses,
        mass=mash.undissolved, taken=mash.undissolved, on_sheets=False,
    )  # fmt: skip


def no_share_boils_free(walk: Walk) -> Figure:
    """The share of its starch that a boil frees from bread: none, since only an enzyme thins what is swollen."""
    return walk.ledger.state(
        walk.id, "boil-frees", "share of the starch that a boil frees from bread", 0.0, "percent", on_sheets=False,
        origin=Origin("package", None, "none", "our choice: only an enzyme thins the starch of bread"),
    )  # fmt: skip


def boiled_through(
    walk: Walk, mash: MashInTub, bed: GrainBed, *, end: Figure, time: Figure
) -> tuple[MashInTub, Figure]:
    """A whole mash brought to the boil: its starch opened, its enzymes gone; and the extract then in its wort.

    On the way up the enzymes are followed as far as the model holds, :data:`HOTTEST`.
    """
    ratio, moved = _thickness(walk, bed.volume, bed.grain, None), opening_shift(walk)
    start, state = bed.temperature, mash.state
    first = max(start.value, COLDEST)
    if time.value > _NOTHING and first < HOTTEST < end.value:
        minutes = time.value * (HOTTEST - first) / (end.value - first)
        points = ((0.0, first), (minutes, HOTTEST))
        state = _ended(state, points, ratio, moved.value)
        if walk.ledger.watchful:
            moves = dict.fromkeys(state.granules, moved.value)
            record_rest(walk, mash, mash_course(mash.state, points, water_to_grist=ratio, gelatinises_at=moves))
            record_boil(walk, mash, time.value, end.value)
    whole = walk.ledger.state(
        walk.id, "share-boiled", "share of the mash that boils", 100.0, "percent", on_sheets=False,
        origin=Origin("package", None, "", "the whole mash boils"),
    )  # fmt: skip
    if mash.crumb:
        whole = no_share_boils_free(walk)
    freed = walk.ledger.work(
        walk.id, "extract-boiled-free", "extract that the boil frees from its starch", part_of_mass,
        mass=mash.undissolved, share=whole, on_sheets=False,
    )  # fmt: skip
    left = walk.ledger.work(
        walk.id, "extract-still-bound", "extract that the boil left in starch", difference_of_masses,
        mass=mash.undissolved, taken=freed, on_sheets=False,
    )  # fmt: skip
    extract = walk.ledger.work(
        walk.id, "extract-after-boil", "extract in the mash after its boil", sum_of_masses, mass=bed.extract,
        other_mass=freed, on_sheets=False,
    )  # fmt: skip
    inputs = {"temperature": start, "temperature_at_the_end": end, "time": time}
    inputs |= {"before": mash.from_before} if mash.from_before else {}
    now = replace(mash, state=boiled(state), undissolved=left, minutes=mash.minutes + time.value)
    return replace(now, from_before=_numbers_of(walk, now, inputs)), extract


def _numbers_of(walk: Walk, mash: MashInTub, inputs: Mapping[str, Figure]) -> Figure:
    """The numbers of the tub at the end of a rest; the last of them stands for the tub in later rests' inputs."""
    state = mash.state
    _found(walk, mash, "starch", "starch-dissolved", "starch dissolved",
        100.0 * (1.0 - locked_up(state, True)) if mash.crumb else starch_dissolved(state), inputs,
    )  # fmt: skip
    _found(
        walk, mash, "starch", "starch-converted", "starch turned to dextrin and sugar",
        starch_converted(state), inputs,
    )  # fmt: skip
    wide = state.widened / state.sugars if state.sugars > _NOTHING else mash_model().widening(60.0)
    given = mash_sugars(dissolved_part(mash))
    if given.total <= _NOTHING:
        wide = 0.0  # nothing to be unsure about
    for kind, share in given.by_kind.items():
        _found(
            walk, mash, kind, kind, f"{kind}, of what the starch has given", share, inputs, sources="sugars",
            influences={"the mash model": _SUGAR_BANDS[kind] * wide},
        )  # fmt: skip
    for name, share in (("beta-amylase", state.beta_left), ("alpha-amylase", state.alpha_left)):
        off = min(_FACTOR_OF_TWO * share, 1.0 - share)  # never past what the malt brought
        last = _found(
            walk, mash, name, f"{name}-left", f"{name} left at the end", 100.0 * share, inputs, sources="enzymes",
            influences={"the survival of enzymes in a mash": 100.0 * off},
        )  # fmt: skip
    return last


def _found(
    walk: Walk,
    mash: MashInTub,
    topic: str,
    name: str,
    label: str,
    value: float,
    inputs: Mapping[str, Figure],
    *,
    sources: str = "starch",
    influences: Mapping[str, float] | None = None,
    on_sheets: bool = True,
) -> Figure:
    return walk.ledger.found(
        walk.id, name, f"{label} ({TEACHING})", value, "percent", inputs=inputs, influences=influences,
        sources=SOURCES_OF_MODEL[sources], rests_on=f"the mash model, a {TEACHING}", remark=remark_on(topic, mash),
        on_sheets=on_sheets,
    )  # fmt: skip


def _spectrum(mash: MashInTub) -> MashAttenuation:
    """Fermentable share of the extract in the tub, and the band."""
    if mash_sugars(dissolved_part(mash)).total > _NOTHING:
        return mash_attenuation(dissolved_part(mash), sugars_brought=mash.brought, other_extract=mash.other)
    together = mash.brought + mash.other
    share = 100.0 * mash.brought / together if together > 0.0 else 0.0
    return MashAttenuation(share, mash_model().band, share, False)


def attenuation_to_expect(walk: Walk, mash: MashInTub, gravity: Figure) -> Spectrum:
    """What yeast finds in the wort now in the tub; how far one that leaves no sugar takes it is a number beside."""
    found = _spectrum(mash)
    extract = walk.ledger.work(
        walk.id, "wort-extract", "extract of the wort in the mash", degrees_plato_from_gravity, gravity=gravity,
        on_sheets=False,
    )  # fmt: skip
    quotient = apparent_attenuation_from_fermentable.plain(1.0, extract.value)
    remark = remark_on("attenuation", mash, found.qualitative)
    fermentable = walk.ledger.found(
        walk.id, "fermentable", f"extract that yeast can use ({TEACHING})",
        found.fermentable_percent, "percent", inputs={"mash": mash.from_before} if mash.from_before else {},
        influences={"the mash model": found.band / quotient}, sources=SOURCES_OF_MODEL["attenuation"],
        rests_on=f"the mash model, a {TEACHING}", remark=remark,
    )  # fmt: skip
    walk.ledger.work(
        walk.id, "attenuation-limit", f"attenuation to expect ({TEACHING})",
        apparent_attenuation_from_fermentable, fermentable=fermentable, original_extract=extract, remark=remark,
    )  # fmt: skip
    return Spectrum(fermentable, _of_extract(walk, mash, "maltose"), _of_extract(walk, mash, "maltotriose"), (remark,))


def _of_extract(walk: Walk, mash: MashInTub, kind: str) -> Figure:
    """How much of the whole extract in the tub is one sugar that some yeasts leave."""
    made = mash_sugars(dissolved_part(mash))
    whole = made.total + mash.brought + mash.other
    share = 100.0 * getattr(made, kind) / whole if whole > 0.0 else 0.0
    wide = mash.state.widened / mash.state.sugars if mash.state.sugars > _NOTHING else 1.0
    return _found(
        walk, mash, kind, f"{kind}-of-extract", f"{kind}, of the extract in the wort", share,
        {"mash": mash.from_before} if mash.from_before else {}, sources="sugars",
        influences={"the mash model": _SUGAR_BANDS[kind] * wide * (made.total / whole if whole > 0.0 else 0.0)},
        on_sheets=False,
    )  # fmt: skip
