"""The ``say`` lines: the author's sentences with worked numbers in them, worded for the voice.

In: ``"We hold it at {{ reach }}"`` and the numbers. Out: ``"We hold it at about sixty-six degrees"``; a Problem at the
author's line for each name that no number bears. A number of another step is ``{{ first_mash.strike_heat }}``.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping

from presenter.lesson.model import Lesson
from presenter.lesson.reading import Written
from presenter.problems import Place, Problem, nearest
from presenter.quantities import WorkedNumber

__all__ = ["figures_said", "problems_in_sayings", "sayings"]

NOT_GIVEN = "an amount that is not given yet"
_NAME = re.compile(r"\{\{\s*([^{}]*?)\s*\}\}")
_STRAY = re.compile(r"\{\{[^{}]*|\}\}|\{%[^{}]*")


def _lines(lesson: Lesson) -> Iterable[tuple[int, str, Written]]:
    for index, step in enumerate(lesson.steps):
        if step.say is not None:
            yield index, step.id, step.say


def _number_id(step_id: str, name: str) -> str:
    """The id that a name in a ``say`` line stands for."""
    words = name.replace("_", "-").replace(" ", "-")
    return words if "." in words else f"{step_id}.{words}"


def problems_in_sayings(lesson: Lesson, numbers: Iterable[str], silent: Collection[str] = ()) -> list[Problem]:
    """A Problem for each name in a ``say`` line that no number bears.

    The numbers of the ``silent`` steps are not known because of an earlier Problem; nothing is said of them.
    """
    known = set(numbers)
    problems = []
    for index, step_id, text in _lines(lesson):
        where = f"steps[{index + 1}].say"
        for match in _NAME.finditer(text):
            number_id = _number_id(step_id, match[1])
            if number_id in known or number_id.split(".")[0] in silent:
                continue
            own = [number.split(".", 1)[1].replace("-", "_") for number in known if number.startswith(f"{step_id}.")]
            close = nearest(match[1], own) or nearest(number_id, known).replace("-", "_")
            remedy = (
                f"The numbers of this step are {', '.join(sorted(own)[:8])}." if own else "This step has no numbers."
            )
            if close:
                remedy = f"Did you mean {{{{ {close} }}}}?"
            wrong = f"No number is called {match[1]}." if match[1] else "The braces name no number."
            problems.append(Problem(_place_within(lesson, text, match[0]), where, match[0], wrong, remedy))
        rest = _NAME.sub("", text)
        stray = _STRAY.search(rest)
        if stray is not None:
            wrong = "Braces stand here that do not open and close a name."
            remedy = "Write a name between two pairs of braces, as in {{ reach }}."
            problems.append(Problem(_place_within(lesson, text, stray[0]), where, stray[0], wrong, remedy))
    return problems


def _place_within(lesson: Lesson, text: Written, piece: str) -> Place:
    """Where ``piece`` of the author's ``text`` stands in the file; where the text begins if it was folded apart."""
    lines = lesson.text.split("\n")
    for number in range(text.place.line, min(len(lines), text.place.line + text.count("\n") + 40) + 1):
        begin = text.place.column - 1 if number == text.place.line else 0
        column = lines[number - 1].find(piece, begin)
        if column >= 0:
            return Place(text.place.file, number, column + 1)
    return text.place


def figures_said(lesson: Lesson, numbers: Mapping[str, WorkedNumber]) -> list[tuple[str, str]]:
    """Each step's ``say`` line as it is said, paired with each figure that was worded into it."""
    lines = sayings(lesson, numbers)
    return [
        (lines[step_id], numbers[_number_id(step_id, match[1])].say())
        for _, step_id, text in _lines(lesson)
        for match in _NAME.finditer(text)
    ]


def sayings(lesson: Lesson, numbers: Mapping[str, WorkedNumber], measures: str = "metric") -> dict[str, str]:
    """Each step's ``say`` line with its numbers worded for the voice, by step id."""
    said = {}
    for _, step_id, text in _lines(lesson):

        def word(match: re.Match[str], here: str = step_id) -> str:
            found = numbers.get(_number_id(here, match[1]))
            return NOT_GIVEN if found is None else found.say(measures)  # every other name was refused before

        said[step_id] = re.sub(r"\b(?:about|around|roughly|some)\s+about\b", "about", _NAME.sub(word, text))
    return said
