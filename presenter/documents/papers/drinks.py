"""The drinks of a day: what went into each as made, which allergens that brings, its strength, and its label.

In: a worked lesson (as planned or as made) and the plan of its day. Out: :class:`Drink` values in words. Nothing is
rounded away: what is likely or possible counts as present, and what no table knows is named.
"""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from presenter.documents.kind import Filling
from presenter.documents.number_blocks import capital
from presenter.documents.papers.clock import DayPlan, day_plan
from presenter.lesson import Lesson, Step, slug
from presenter.lesson.model import IngredientUse
from presenter.quantities.clock import DAY
from presenter.science.allergens import allergen_facts
from presenter.working import WorkedLesson
from presenter.working.allergens import allergen_lines, ingredients_unknown_to_allergens
from presenter.working.ingredients import known_ingredient
from presenter.working.vessels import Liquid

__all__ = ["Drink", "drinks_of", "drinks_values", "ingredients_of"]

_SURE = {"always": "", "likely": " (likely)", "possible": " (possibly: read its pack)"}


@dataclass(frozen=True)
class Drink:
    """One drink. ``contains`` pairs an allergen group with what brings it; ``unknown`` are ingredients of no table."""

    name: str
    made: str
    ingredients: tuple[str, ...]
    contains: tuple[tuple[str, str], ...]
    exempt: tuple[str, ...]
    unknown: tuple[str, ...]
    strength: str
    alcoholic: bool
    use_by: str

    @property
    def groups(self) -> str:
        """The allergen groups in one line."""
        return ", ".join(group for group, _ in self.contains)

    @property
    def contains_lines(self) -> list[dict[str, str]]:
        """The allergen groups, each with what brings it."""
        return [{"group": capital(group), "from_what": brings} for group, brings in self.contains]


def _lineage(worked: WorkedLesson, name: str) -> set[str]:
    """Every liquid that went into one, its own name among them."""
    found = {name}
    for step in reversed(worked.lesson.steps):
        if {str(made) for made in step.makes()} & found:
            found |= {slug(used) for used in step.uses()}
    return found


def ingredients_of(worked: WorkedLesson, liquid: Liquid) -> tuple[str, ...]:
    """The keys of what is in one drink, in the lesson's order; what no step names counts for every drink."""
    inside = {slug(name) for name in liquid.ingredients}
    lineage = _lineage(worked, liquid.name)
    uses = worked.lesson.file.ingredients
    named: set[str] = set()
    for step in worked.lesson.steps:
        goods = _goods(step)
        named |= goods
        if lineage & {slug(used) for used in step.uses()}:
            inside |= goods
    loaves = {slug(use.what) for key, use in uses.items() if slug(str(key)) in inside and use.made_in is None}
    for step in worked.lesson.steps:
        if step.do == "bake" and loaves & {slug(str(loaf)) for loaf in getattr(step, "call_it", ())}:
            inside |= _goods(step)
    return tuple(str(key) for key in uses if slug(str(key)) in inside or slug(str(key)) not in named)


def _goods(step: Step) -> set[str]:
    """The ingredients that a step takes, as they stand in ids."""
    with_ = getattr(step, "with_", None) or ()
    return {slug(with_)} if isinstance(with_, str) else {slug(str(name)) for name in with_}


def drinks_of(worked: WorkedLesson, plan: DayPlan) -> list[Drink]:
    """The drinks that are served, in that order; where none is, all that is left at the end."""
    liquids = worked.vessels.liquids
    served = [slug(name) for step in worked.lesson.steps if step.do == "serve" for name in step.uses()]
    names = [name for name in dict.fromkeys(served) if name in liquids] or list(liquids)
    return [_drink(worked, plan, liquids[name]) for name in names]


def _drink(worked: WorkedLesson, plan: DayPlan, liquid: Liquid) -> Drink:
    file, inside = worked.lesson.file, ingredients_of(worked, liquid)
    uses = {key: use for key, use in file.ingredients.items() if str(key) in inside}
    lesson = replace(worked.lesson, file=file.model_copy(update={"ingredients": uses}))
    words = [str(use.what) for use in uses.values()]
    contains = [
        (line.group, ", ".join(dict.fromkeys(f"{what}{_SURE.get(sure, '')}" for what, sure in line.brought_by)))
        for line in allergen_lines(lesson)
    ]
    every = [*words, *(str(each.what) for use in uses.values() for each in lesson.dough_of(use))]
    known = [(what, found) for what in every if (found := known_ingredient(what)) is not None]
    facts = [(what, fact) for what, found in known for fact in allergen_facts([found.name])]
    remarked = [f"{what}: {fact.remark}" for what, fact in facts if fact.how_sure == "exempt" and fact.remark]
    strength = liquid.strength
    number = worked.numbers.get(strength.id) if strength is not None else None
    said = f"{number.words()} {number.spread_words()}".strip() if number is not None else ""
    kept = worked.lesson.file.keeps
    last = max((slot.begins for slot in plan.slots if slot.step.do == "serve"), default=plan.slots[-1].ends)
    use_by = ""
    if kept is not None:
        use_by = _date(worked, int(last // DAY) + int(kept.number() // DAY))
    return Drink(
        name=capital(liquid.name.replace("-", " ")),
        made=_date(worked, _made_on(worked, plan, liquid)),
        ingredients=tuple(_with_dough(lesson, use) for use in uses.values()),
        contains=tuple(contains),
        exempt=tuple(dict.fromkeys(remarked)),
        unknown=ingredients_unknown_to_allergens(lesson),
        strength=said,
        alcoholic=liquid.pitched,
        use_by=use_by,
    )


def _with_dough(lesson: Lesson, use: IngredientUse) -> str:
    """An ingredient, and in brackets what another lesson baked it of."""
    dough = ", ".join(dict.fromkeys(str(each.what) for each in lesson.dough_of(use)))
    return f"{use.what} ({dough})" if dough else str(use.what)


def _made_on(worked: WorkedLesson, plan: DayPlan, liquid: Liquid) -> int:
    """The day, counted from nought, on which the drink's last wort was made, or its yeast went in."""
    lineage = _lineage(worked, liquid.name)
    days = [
        slot.day - 1
        for slot in plan.slots
        if slot.step.do in {"mash", "draw off", "boil", "pitch"}
        and lineage & {slug(name) for name in (*slot.step.uses(), *slot.step.makes())}
    ]
    return max(days, default=0)


def _date(worked: WorkedLesson, days: int) -> str:
    date = worked.lesson.file.date + datetime.timedelta(days=days)
    return f"{date.day} {date:%B %Y}"


def drinks_values(filling: Filling) -> Mapping[str, Any]:
    """The values of the allergen and label templates."""
    worked = filling.view.worked
    return {"drinks": drinks_of(worked, day_plan(worked, filling.asked.begins))}
