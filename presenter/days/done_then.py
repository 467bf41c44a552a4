"""Whether a remedy was done then: the history note that a library names for it, or "no record".

In: a lesson, and ``notes/remedies.yaml`` beside it or in its library (remedy: id of a history note). Out: the kind of
evidence, the source and the note's title; or "no record".
"""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import Any

import yaml

from presenter.lesson import Lesson
from presenter.lesson.reading import Written, as_user_knows, read_yaml, text_of_file
from presenter.problems import Place, Problem, ProblemsFoundError, nearest

__all__ = ["NO_RECORD", "done_then", "remedy_book"]

NO_RECORD = "no record"


@cache
def remedy_book() -> dict[str, dict[str, str]]:
    """Every remedy by its id: its title, when it is for, what to mind."""
    text = files("presenter.days").joinpath("remedies.yaml").read_text(encoding="utf-8")
    found: dict[str, dict[str, str]] = yaml.safe_load(text)["remedies"]
    return found


def _notes_named(lesson: Lesson) -> dict[str, Any]:
    """Remedy ids and the notes named for them, the lesson's own file before its library's."""
    found: dict[str, Any] = {}
    for folder in (lesson.house.folder, lesson.folder):
        path = None if folder is None else folder / "notes" / "remedies.yaml"
        if path is not None and path.is_file():
            found |= read_yaml(text_of_file(path), as_user_knows(path))
    return found


def done_then(lesson: Lesson, remedy: str) -> str:
    """Whether ``remedy`` was done then, in words. Raises ProblemsFoundError where the file names no note there is."""
    named = _notes_named(lesson)
    for key, value in named.items():
        place = getattr(key, "place", Place("notes/remedies.yaml"))
        if str(key) not in remedy_book():
            close = nearest(str(key), remedy_book())
            remedy_words = f"Did you mean {close}?" if close else f"The remedies are {', '.join(remedy_book())}."
            wrong = f"There is no remedy called {key}."
            raise ProblemsFoundError((Problem(place, str(key), str(key), wrong, remedy_words),))
        if lesson.notes and (not isinstance(value, Written) or str(value) not in lesson.notes):
            close = nearest(str(value), lesson.notes)
            wrong = f"There is no note called {value}."
            raise ProblemsFoundError(
                (Problem(place, str(key), str(value), wrong, f"Did you mean {close}?" if close else ""),)
            )
    note = lesson.notes.get(str(named.get(remedy, "")))
    if note is None:
        return NO_RECORD
    cites = [
        f"{lesson.bibliography[key].short_form()}{f', {locator}' if locator else ''}"
        for key, locator in note.cites
        if key in lesson.bibliography
    ]
    return f"{note.kind_of_evidence} ({'; '.join(cites)}): {note.title}" if cites else note.kind_of_evidence
