"""Loaves that another lesson bakes, brought into this one with what may be off about them.

In: a lesson whose others are loaded. Out: each other lesson worked once, as the caller works it; and in a walk a
:class:`~presenter.working.vessels.Loaf` whose figures stand in this lesson's ledger and lead back to that lesson.

What may be off there may be off here too (the scales are wrong the same way in both): a walk that is shifted takes the
loaf of the other lesson's walk with the same shift, so that one loaf has the same give-or-take in one lesson or two.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TypeVar

from presenter.lesson.made_in import of_another_lesson
from presenter.lesson.model import IngredientUse, Lesson
from presenter.lesson.steps import slug
from presenter.problems import Problem, ProblemsFoundError
from presenter.quantities import Origin
from presenter.working.ledger import Figure
from presenter.working.vessels import Loaf, UnknownContentsError
from presenter.working.walk import Walk

__all__ = ["loaf_brought", "others_worked"]

Worked = TypeVar("Worked")


def others_worked(lesson: Lesson, work: Callable[[Lesson], Worked]) -> tuple[dict[str, Worked], list[Problem]]:
    """Each lesson whose loaves are used, worked, by the name that the author wrote; one Problem for each that fails."""
    found: dict[str, Worked] = {}
    problems: dict[str, Problem] = {}
    for key, use in lesson.file.ingredients.items():
        name = str(use.made_in).strip()
        if use.made_in is None or name in found or name in problems:
            continue
        try:
            found[name] = work(lesson.others[name])
        except ProblemsFoundError as error:
            problems[name] = of_another_lesson(name, error.problems, use, str(key))
    return found, list(problems.values())


def loaf_brought(walk: Walk, use: IngredientUse) -> Loaf:
    """The loaf of another lesson that an ingredient names, its figures kept once under the lesson's numbers.

    Raises UnknownContentsError where that lesson has problems.
    """
    lesson, loaf = str(use.made_in).strip(), slug(use.what)
    name = f"{lesson}/{loaf}"
    known = walk.vessels.loaf(name)
    if known is not None:
        return known
    baked = walk.brought.get(lesson)
    if baked is None:
        raise UnknownContentsError(name)
    there = baked.loaf(loaf, walk.ledger.shifts)
    walk.ledger.may_be_off(baked.may_be_off())
    assert use.made_in is not None
    place = use.made_in.place

    def again(figure: Figure, of_it: str, label: str, *, on_sheets: bool = True) -> Figure:
        evidence = f"worked out in the lesson {lesson}, which bakes it"
        origin = Origin("made", place, "", evidence, lesson, figure.id)
        return walk.ledger.state(
            "lesson", f"{slug(lesson)}-{loaf}-{of_it}", label, figure.value, figure.unit, origin=origin,
            on_sheets=on_sheets,
        )  # fmt: skip

    brought = replace(
        there,
        name=name,
        lesson=lesson,
        used_there=there.used,
        piece_mass=again(there.piece_mass, "mass", f"one {use.what}, cooled"),
        extract=again(there.extract, "extract", f"extract in the {use.what}, if all its starch were turned to sugar",
                      on_sheets=False),
        moisture=again(there.moisture, "moisture", f"water in the {use.what}, of its mass"),
        sugars=again(there.sugars, "sugars", f"sugars in the {use.what}, as it is"),
    )  # fmt: skip
    walk.vessels.loaves[name] = brought
    return brought
