"""The ``say`` lines: the author's sentences with worked numbers in them, worded for the voice.

In: ``"We hold it at {{ reach }}"`` and the numbers. Out: ``"We hold it at about sixty-six degrees"``; a Problem at the
author's line for each name that no number bears. A number of another step is ``{{ first_mash.strike_heat }}``.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from presenter.lesson.model import Lesson
from presenter.lesson.reading import Written
from presenter.problems import Place, Problem, nearest
from presenter.quantities import WorkedNumber

__all__ = ["problems_in_sayings", "sayings"]

_NAME = re.compile(r"\{\{\s*(.*?)\s*\}\}")


def _lines(lesson: Lesson) -> Iterable[tuple[int, str, Written]]:
    for index, step in enumerate(lesson.steps):
        if step.say is not None:
            yield index, step.id, step.say


def _number_id(step_id: str, name: str) -> str:
    """The id that a name in a ``say`` line stands for."""
    words = name.replace("_", "-").replace(" ", "-")
    return words if "." in words else f"{step_id}.{words}"


def problems_in_sayings(lesson: Lesson, numbers: Iterable[str]) -> list[Problem]:
    """A Problem for each name in a ``say`` line that no number bears."""
    known = set(numbers)
    problems = []
    for index, step_id, text in _lines(lesson):
        where = f"steps[{index + 1}].say"
        for match in _NAME.finditer(text):
            number_id = _number_id(step_id, match[1])
            if number_id in known:
                continue
            own = [number.split(".", 1)[1].replace("-", "_") for number in known if number.startswith(f"{step_id}.")]
            close = nearest(match[1], own) or nearest(number_id, known).replace("-", "_")
            remedy = (
                f"Did you mean {{{{ {close} }}}}?" if close else f"Numbers of this step: {', '.join(sorted(own)[:8])}."
            )
            problems.append(Problem(text.place, where, match[0], f"No number is called {match[1]}.", remedy))
        rest = _NAME.sub("", text)
        if "{{" in rest or "}}" in rest or "{%" in rest:
            problems.append(
                Problem(
                    Place(text.place.file, text.place.line, text.place.column),
                    where,
                    str(text),
                    "A pair of braces is not closed here.",
                    "Write {{ name }}.",
                )
            )
    return problems


def sayings(lesson: Lesson, numbers: Mapping[str, WorkedNumber], measures: str = "metric") -> dict[str, str]:
    """Each step's ``say`` line with its numbers worded for the voice, by step id."""
    said = {}
    for _, step_id, text in _lines(lesson):

        def word(match: re.Match[str], here: str = step_id) -> str:
            return numbers[_number_id(here, match[1])].say(measures)

        said[step_id] = re.sub(r"\b(?:about|around|roughly|some)\s+about\b", "about", _NAME.sub(word, text))
    return said
