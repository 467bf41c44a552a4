"""What a lesson names: notes, sources, ingredients, and lessons whose loaves it uses, with all that those name.

In: the tree of a lesson's file, read as text. Out: :class:`Use` values, also for a lesson that has problems.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from presenter.lesson import slug
from presenter.lesson.across import OWN_CHOICES
from presenter.lesson.finding import USUAL, lesson_beside
from presenter.lesson.library_file import library_above
from presenter.lesson.reading import MappingNode, SequenceNode, Written, as_user_knows, read_yaml, text_of_file
from presenter.problems import ProblemsFoundError

__all__ = ["Use", "steps_in", "uses_beneath", "uses_in", "words_in"]


@dataclass(frozen=True)
class Use:
    """One place where a lesson names a note, a source, an ingredient or another lesson: what it is, its id and line.

    Of the lessons whose loaves it uses there are also the files (kind "file", the path from the lesson's own folder),
    and what these name (kind "beneath"): a change in any of it is a change of this lesson.
    """

    kind: str
    id: str
    step: str
    line: int


def words_in(tree: Any, key: str) -> str:
    """The words under a key, on one line; nothing where there are none."""
    found = tree.get(key) if isinstance(tree, MappingNode) else None
    return " ".join(str(found).split()) if isinstance(found, Written) else ""


def steps_in(tree: MappingNode) -> list[MappingNode]:
    """The steps of a lesson that are mappings, whatever else is wrong with them."""
    listed = tree.get("steps")
    return [step for step in listed if isinstance(step, MappingNode)] if isinstance(listed, SequenceNode) else []


def _several(found: Any) -> Iterator[Written]:
    if isinstance(found, Written):
        yield found
    elif isinstance(found, SequenceNode):
        yield from (item for item in found if isinstance(item, Written))


def _evidence(found: Any) -> Iterator[Written]:
    if isinstance(found, MappingNode):
        yield from (answer for answer in found.values() if isinstance(answer, Written))
    else:
        yield from _several(found)


def uses_in(tree: MappingNode) -> Iterator[Use]:
    """Every note, source, ingredient and lesson that a lesson names. "evidence" is a note's id or a source's key."""
    for note_id in _several(tree.get("myths")):
        yield Use("note", str(note_id), "", note_id.place.line)
    listed = tree.get("ingredients")
    for use in listed.values() if isinstance(listed, MappingNode) else ():
        if not isinstance(use, MappingNode):
            continue
        for key, kind in (("what", "ingredient"), ("made in", "lesson"), ("from", "evidence")):
            for said in _several(use.get(key)):
                if kind != "evidence" or _is_evidence(said):
                    yield Use(kind, str(said), "", said.place.line)
    for step in steps_in(tree):
        step_id = slug(words_in(step, "name"))
        for about in ("science", "history"):
            for note_id in _several(step.get(about)):
                yield Use("note", str(note_id), step_id, note_id.place.line)
        for said in _evidence(step.get("from")):
            if _is_evidence(said):
                yield Use("evidence", str(said), step_id, said.place.line)


def _is_evidence(said: Written) -> bool:
    return str(said).split(":")[0].strip() not in OWN_CHOICES


def uses_beneath(tree: MappingNode, path: Path) -> Iterator[Use]:
    """The files of every lesson whose loaves the one in ``path`` uses, or will once it is there; and what these name.

    Paths are from the lesson's own folder, so that they hold wherever the library lies.
    """
    folder = path.resolve().parent
    found: dict[tuple[str, str], Use] = {}
    _go_beneath(tree, folder, folder, found, {path.resolve()})
    yield from found.values()


def _go_beneath(
    tree: MappingNode, folder: Path, first: Path, found: dict[tuple[str, str], Use], seen: set[Path]
) -> None:
    library = library_above(folder)
    top = library.parent if library is not None else None
    for said in _bakers(tree):
        name, line = str(said).strip(), said.place.line
        other = lesson_beside(name, folder, top)
        likely = [above / name / USUAL for above in (folder.parent, top) if above is not None]
        for file in (*likely, *([other.resolve()] if other is not None else [])):
            at = os.path.relpath(file, first)
            found.setdefault(("file", at), Use("file", at, "", line))
        if other is None or other.resolve() in seen:
            continue
        seen.add(other.resolve())
        try:
            inner = read_yaml(text_of_file(other), as_user_knows(other))
        except ProblemsFoundError:
            continue  # told when the lesson is read; its file is followed all the same
        for use in uses_in(inner):
            if use.kind in {"note", "evidence"}:
                found.setdefault(("beneath", use.id), Use("beneath", use.id, "", line))
        _go_beneath(inner, other.resolve().parent, first, found, seen)


def _bakers(tree: MappingNode) -> Iterator[Written]:
    listed = tree.get("ingredients")
    for use in listed.values() if isinstance(listed, MappingNode) else ():
        if isinstance(use, MappingNode):
            yield from _several(use.get("made in"))
