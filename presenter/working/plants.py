"""Plants in a lesson: what must never be an ingredient, what a measure may hold at most, and what is not known.

In: the lesson's ingredients and the drinks served. Out: Problems for never-use plants; numbers of the serving; and
:class:`PlantLine` values, whole sentences that a sheet can print.
"""

from __future__ import annotations

from dataclasses import dataclass

from presenter.lesson.model import IngredientUse, Lesson
from presenter.lesson.steps import slug
from presenter.problems import Problem
from presenter.quantities import Origin
from presenter.science.plant_constituents import (
    ADULT,
    Constituent,
    constituent_in_drink,
    constituent_in_measure,
    constituent_of,
    look_alikes_of,
    tolerable_in_a_day,
)
from presenter.science.plants import harmful_plants_in, plant_named, plant_rows
from presenter.working.amounts import Measured, mass_of_amount
from presenter.working.ingredients import known_ingredient
from presenter.working.ledger import Figure
from presenter.working.vessels import Liquid, StepProblemError
from presenter.working.walk import Walk

__all__ = ["PlantLine", "constituents_in_measure", "never_use_problems", "plant_lines"]


@dataclass(frozen=True)
class PlantLine:
    """What a sheet says of one plant: the author's name for it, its Latin name, sentences, and their sources."""

    ingredient: str
    latin: str
    sentences: tuple[str, ...]
    sources: tuple[str, ...]


def _plant_of(use: IngredientUse) -> str:
    """The key of the plant that an ingredient is; empty for anything else."""
    known = known_ingredient(str(use.what))
    return known.plant if known is not None else (plant_named(str(use.what)) or "")


def never_use_problems(lesson: Lesson) -> list[Problem]:
    """A Problem for each ingredient that is, or names, a plant for show only."""
    problems = []
    for name, use in lesson.file.ingredients.items():
        found = (_plant_of(use), *(harmful_plants_in(str(use.what)) if known_ingredient(str(use.what)) is None else ()))
        never = [plant_rows()[key] for key in found if key and plant_rows()[key].level == "never"]
        if not never:
            continue
        row = never[0]
        plant = row.name.split(",")[0]
        wrong = f"{use.what} must never go into a drink: {plant} is for show only."
        remedy = "Leave it out. A step that shows things may name it under what, and tell its story."
        problems.append(Problem(use.what.place, f"ingredients.{name}.what", str(use.what), wrong, remedy))
    return problems


def constituents_in_measure(walk: Walk, said: str, liquid: Liquid, measure: Figure) -> None:
    """For each herb of the drink with a published content: the most in a litre and in one measure."""
    named = {slug(name) for name in liquid.ingredients}
    for key, use in walk.lesson.file.ingredients.items():
        plant = _plant_of(use)
        about = constituent_of(plant) if plant and slug(key) in named else None
        if about is None or about.most is None:
            continue
        _in_one_measure(walk, said, liquid, measure, str(key), use, about)


def _in_one_measure(
    walk: Walk, said: str, liquid: Liquid, measure: Figure, key: str, use: IngredientUse, about: Constituent
) -> None:
    ledger = walk.ledger
    assert about.most is not None
    name = f"{slug(said)}-{slug(key)}-{slug(about.name)}"
    mass = _mass(walk, name, key, use)
    if mass is None:
        reason = f"What {use.amount.written} of {use.what} weighs is not known, so nothing can be worked out: weigh it."
        ledger.withhold(walk.id, f"{name}-in-measure", f"{about.name} in one measure of {said}", reason)
        return
    content = ledger.state(
        walk.id, f"{name}-content", f"{about.name} in {use.what}, at most", about.most, "milligram / kilogram",
        origin=Origin("package", None, f"{about.most:g} mg/kg", about.basis), sources=(about.source,), on_sheets=False,
    )  # fmt: skip
    litre = ledger.work(
        walk.id, f"{name}-in-drink", f"{about.name} in the {said}, at most", constituent_in_drink,
        plant=mass, content=content, volume=liquid.volume, more_sources=(about.source,),
        remark=f"{about.basis}; all of the {use.what} counted",
    )  # fmt: skip
    ledger.work(
        walk.id, f"{name}-in-measure", f"{about.name} in one measure of {said}, at most", constituent_in_measure,
        concentration=litre, measure=measure, more_sources=(about.source,),
    )  # fmt: skip


def _mass(walk: Walk, name: str, key: str, use: IngredientUse) -> Figure | None:
    """What all of the plant weighs; None where nobody weighed it by that measure."""
    if f"lesson.{slug(key)}" in walk.ledger.entries:
        return walk.ledger.again(f"lesson.{slug(key)}")
    known = known_ingredient(str(use.what))
    of = Measured(
        walk.id, f"{name}-plant", f"{use.what}, all of it", known, f"ingredients.{key}.amount", key,
        str(use.from_ or "the author's own figure"),
    )  # fmt: skip
    try:
        return mass_of_amount(walk, use.amount, of)
    except StepProblemError:
        return None


def plant_lines(lesson: Lesson) -> tuple[PlantLine, ...]:
    """What is to be said of each plant among the ingredients that the table says more of than a kitchen herb's notice,
    or whose origin is anything but bought."""
    found = []
    for use in lesson.file.ingredients.values():
        plant = _plant_of(use)
        row = plant_rows().get(plant)
        if row is None or row.key == "honey":
            continue
        about = constituent_of(plant)
        gathered = _origin(use)
        if about is None and row.level == "notice" and gathered == "Bought.":
            continue
        alike, alike_source = look_alikes_of(plant)
        sentences = [gathered]
        sources = list(row.sources) if row.seen else []
        if alike:
            sentences.append(f"Easily taken for it: {alike}.")
            sources += [alike_source] if alike_source else []
        if about is not None:
            sentences += _of_constituent(about)
            sources += [about.source, about.intake_source, *(limit.source for limit in about.limits)]
        if row.advice and "from memory" not in row.advice:
            sentences.append(f"{row.advice[:1].upper()}{row.advice[1:]}.")
        found.append(
            PlantLine(str(use.what), row.latin, tuple(sentences), tuple(dict.fromkeys(key for key in sources if key)))
        )
    return tuple(found)


def _origin(use: IngredientUse) -> str:
    if use.origin is None:
        return "Whether it was bought or gathered is not stated, so it counts as gathered."
    words = str(use.origin).strip()
    if words.casefold() == "bought":
        return "Bought."
    return f"Origin: {words}."


def _of_constituent(about: Constituent) -> list[str]:
    sentences = []
    for limit in about.limits:
        sentences.append(f"Published limit for {about.name}: {limit.most:g} mg in a kilogram ({limit.what_for}).")
    if about.intake is not None:
        a_day = tolerable_in_a_day.plain(about.intake, ADULT)
        sentences.append(
            f"Published intake value: {about.intake:g} mg of {about.name} a day for each kilogram of a person,"
            f" {a_day:.1f} mg for an adult of {ADULT:g} kg."
        )
    return [*sentences, about.gap]
