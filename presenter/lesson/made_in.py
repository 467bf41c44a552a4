"""The lessons that a lesson rests on: a loaf made in one is an ingredient of another.

In: a lesson's ingredients with ``made in``, where the lesson lies, and how to load another. Out: the other lessons,
loaded and checked, by the name that the author wrote; and every Problem, each at the line that names the lesson.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping
from pathlib import Path

from presenter.lesson.finding import lesson_beside, lessons_beside
from presenter.lesson.model import IngredientUse, Lesson, LessonFile
from presenter.lesson.steps import slug
from presenter.problems import Problem, ProblemsFoundError, nearest

__all__ = ["GoesRoundError", "Load", "of_another_lesson", "others_of"]

Load = Callable[[Path, tuple[Path, ...]], Lesson]
"""Loads the lesson of a file; the second argument is every lesson that is being loaded, from the first one on."""

WORKED_THERE = ("extract", "moisture", "enzymes")


class GoesRoundError(Exception):
    """Lessons that rest on one another in a circle: the file where it closes, and the lessons on the way there."""

    def __init__(self, closes: Path, names: tuple[str, ...]) -> None:
        super().__init__(" ".join(names))
        self.closes = closes
        self.names = names


def of_another_lesson(name: str, problems: tuple[Problem, ...], use: IngredientUse, key: str) -> Problem:
    """The one Problem of a lesson that rests on another one with ``problems``."""
    assert use.made_in is not None
    first = problems[0]
    many = "a problem of its own" if len(problems) == 1 else f"{len(problems)} problems of its own, of which the first"
    wrong = f"The lesson {name} has {many}, at {first.place}: {first.wrong}"
    return Problem(use.made_in.place, f"ingredients.{key}.made in", name, wrong, "Mend that lesson first.")


def others_of(
    file: LessonFile, path: Path, top: Path | None, load: Load, trail: tuple[Path, ...], known: Mapping[str, Lesson]
) -> tuple[dict[str, Lesson], list[Problem]]:
    """The lessons that the one in ``path`` rests on, and the Problems with them; one that is ``known`` is not loaded.

    Raises GoesRoundError where a lesson further up the ``trail`` rests on this one.
    """
    found: dict[str, Lesson] = {}
    problems: list[Problem] = []
    told: set[str] = set()  # one mistake gives one problem, however often the lesson is named
    for key, use in file.ingredients.items():
        if use.made_in is None or (name := str(use.made_in).strip()) in told:
            continue
        if name not in found:
            other = known.get(name) or _loaded(name, use, str(key), path, top, load, trail)
            if isinstance(other, Problem):
                told.add(name)
                problems.append(other)
                continue
            found[name] = other
        problems += _no_such_loaf(found[name], name, str(key), use)
    return found, problems


def _loaded(
    name: str, use: IngredientUse, key: str, given: Path, top: Path | None, load: Load, trail: tuple[Path, ...]
) -> Lesson | Problem:
    """The lesson called ``name``, or the one Problem with it."""
    assert use.made_in is not None
    where = f"ingredients.{key}.made in"
    here = given.resolve()
    path = lesson_beside(name, here.parent, top)
    if path is None:
        beside = lessons_beside(here.parent, top)
        close = nearest(name, beside)
        remedy = f"Did you mean {close}?" if close else f"The others here are {', '.join(beside)}." if beside else ""
        wrong = f"There is no lesson in a folder called {name}, beside this one or in its library."
        return Problem(use.made_in.place, where, name, wrong, remedy)
    closes = path.resolve()
    if closes == here:
        wrong = f"{name} is this lesson itself."
        return Problem(use.made_in.place, where, name, wrong, "Leave out made in: where this lesson bakes the loaf.")
    if closes in trail:
        raise GoesRoundError(closes, (name,))
    try:
        return load(path if given.is_absolute() else Path(os.path.relpath(path)), (*trail, here))
    except GoesRoundError as error:
        if error.closes != here:
            raise GoesRoundError(error.closes, (name, *error.names)) from None
        return Problem(use.made_in.place, where, name, _round((name, *error.names)), "Bake the loaf in one of them.")
    except ProblemsFoundError as error:
        return of_another_lesson(name, error.problems, use, key)


def _round(names: tuple[str, ...]) -> str:
    """A circle of lessons in words; the last name is that of the lesson itself."""
    rest = ", which rests on ".join(names[:-1])
    return f"This goes round in a circle: this lesson rests on {rest}, which rests on this lesson."


def _no_such_loaf(other: Lesson, name: str, key: str, use: IngredientUse) -> list[Problem]:
    """The Problems of a loaf that the other lesson does not bake, or of which more is said than it takes."""
    if slug(use.what) not in other.loaves:
        baked = [str(loaf) for step in other.steps for loaf in step.bakes()]
        close = nearest(str(use.what), baked)
        remedy = f"Did you mean {close}?" if close else f"It bakes {', '.join(baked)}." if baked else ""
        wrong = f"The lesson {name} bakes no loaf called {use.what}."
        return [Problem(use.what.place, f"ingredients.{key}.what", str(use.what), wrong, remedy)]
    problems = []
    for field in WORKED_THERE:
        stated = getattr(use, field)
        if stated is not None:
            wrong = f"The {field} of the {use.what} is worked out in the lesson {name}."
            problems.append(
                Problem(stated.place, f"ingredients.{key}.{field}", stated.written, wrong, f"Leave out {field}:.")
            )
    return problems
