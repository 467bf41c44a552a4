"""Notes: the science and history that a lesson attaches to its steps, used by id.

In: YAML files in ``notes/science`` and ``notes/history`` beside the lesson or in its library. Out: frozen
:class:`Note` values, the nearest file winning; a Problem for each note that is not whole.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from presenter.lesson.reading import MappingNode, SequenceNode, Written, as_user_knows, read_yaml, text_of_file
from presenter.problems import Place, Problem, ProblemsFoundError, nearest
from presenter.sources import Bibliography, Source, SourceRecordError, source_from_record

__all__ = ["READERS", "Note", "notes_near", "sources_near"]

READERS = ("younger", "older", "adult")  # whom a note is written for; the plainest first


NOWHERE = Place("")


@dataclass(frozen=True)
class Note:
    """One note. ``kind_of_evidence`` and ``confidence`` are words; ``cites`` pairs a source key with a place.

    ``reader`` is whom it is written for, one of :data:`READERS`, or empty for everybody.
    """

    id: str
    about: str
    title: str
    say: str
    kind_of_evidence: str
    confidence: str
    cites: tuple[tuple[str, str], ...]
    rests_on: str = ""
    do_not_say: str = ""
    say_instead: str = ""
    sums: str = ""
    reader: str = ""
    place: Place = NOWHERE


def _several(value: Any) -> Any:
    """A list as it stands; one thing alone as a list of one."""
    return value if isinstance(value, SequenceNode | tuple) else (value,)


def _one(note_id: Written, tree: Any, about: str, problems: list[Problem]) -> Note | None:
    where = f"{about} note {note_id}"
    if not isinstance(tree, MappingNode):
        problems.append(Problem(note_id.place, where, str(note_id), "A note needs at least a title and what to say."))
        return None
    words: dict[str, str] = {str(k): str(v) for k, v in tree.items() if isinstance(v, Written)}
    for needed in ("title", "say"):
        if not words.get(needed):
            problems.append(Problem(note_id.place, where, str(note_id), f"The note has no {needed}."))
    cites = tuple(
        (str(entry.get("key", "")), str(entry.get("locator", "")))
        if isinstance(entry, MappingNode)
        else (str(entry), "")
        for entry in _several(tree.get("sources", ()))
    )
    if not cites and not words.get("rests_on"):
        problems.append(
            Problem(
                note_id.place,
                where,
                str(note_id),
                "The note names no source.",
                "Add sources, or rests_on: common practice.",
            )
        )
    reader = words.get("reader", "")
    if reader and reader not in READERS:
        close = nearest(reader, READERS)
        remedy = f"Did you mean {close}?" if close else ""
        wrong = f"A note is for younger, older or adult readers; there are no {reader} ones."
        problems.append(Problem(note_id.place, f"{where}, reader", reader, wrong, remedy))
    myth = tree.get("myth")
    myth_words = {str(k): str(v) for k, v in myth.items()} if isinstance(myth, MappingNode) else {}
    return Note(
        id=str(note_id),
        about=about,
        title=words.get("title", ""),
        say=words.get("say", ""),
        kind_of_evidence=words.get("kind_of_evidence", "") or ("common practice" if words.get("rests_on") else ""),
        confidence=words.get("confidence", ""),
        cites=cites,
        rests_on=words.get("rests_on", ""),
        do_not_say=myth_words.get("do_not_say", ""),
        say_instead=myth_words.get("say_instead", ""),
        sums=words.get("sums", ""),
        reader=reader,
        place=note_id.place,
    )


def _as_it_stands(path: Path) -> tuple[str, int, int]:
    """How the user knows a file, and what changes when the file does: a file is read once, however many lessons ask."""
    found = path.stat()
    return as_user_knows(path), found.st_size, found.st_mtime_ns


@lru_cache(maxsize=512)
def _notes_of_file(
    path: Path, about: str, shown: str, _size: int, _changed: int
) -> tuple[tuple[Note, ...], tuple[Problem, ...]]:
    problems: list[Problem] = []
    try:
        tree = read_yaml(text_of_file(path), shown)
    except ProblemsFoundError as error:
        return (), error.problems
    notes = [_one(note_id, entry, about, problems) for note_id, entry in tree.items()]  # type: ignore[arg-type]
    return tuple(note for note in notes if note is not None), tuple(problems)


@lru_cache(maxsize=512)
def _sources_of_file(
    path: Path, shown: str, _size: int, _changed: int
) -> tuple[dict[str, Source], tuple[Problem, ...]]:
    problems: list[Problem] = []
    nearer: dict[str, Source] = {}
    try:
        tree = read_yaml(text_of_file(path), shown)
    except ProblemsFoundError as error:
        return {}, error.problems
    for key, record in tree.items():
        place = key.place  # type: ignore[attr-defined]
        if not isinstance(record, MappingNode):
            problems.append(Problem(place, str(key), str(key), "A source needs at least a title."))
            continue
        try:
            nearer[str(key)] = source_from_record(str(key), record, topic="library")
        except SourceRecordError as error:
            problems.append(Problem(place, str(key), "", f"{str(error)[0].upper()}{str(error)[1:]}."))
    return nearer, tuple(problems)


def notes_near(folders: list[Path]) -> dict[str, Note]:
    """Every note in ``folders``, farthest first, so that the nearest wins.

    Raises ProblemsFoundError with everything wrong in any of the files.
    """
    found: dict[str, Note] = {}
    problems: list[Problem] = []
    for folder in folders:
        for about in ("science", "history"):
            for path in sorted((folder / "notes" / about).glob("*.yaml")):
                notes, wrong = _notes_of_file(path, about, *_as_it_stands(path))
                problems += wrong
                found.update((note.id, note) for note in notes)
    if problems:
        raise ProblemsFoundError(tuple(problems))
    return found


def sources_near(folders: list[Path], bibliography: Bibliography) -> Bibliography:
    """``bibliography`` with the sources of each folder's ``sources.yaml`` laid over it, the nearest winning."""
    problems: list[Problem] = []
    for folder in folders:
        path = folder / "sources.yaml"
        if not path.is_file():
            continue
        nearer, wrong = _sources_of_file(path, *_as_it_stands(path))
        problems += wrong
        bibliography = bibliography.with_nearer(nearer)
    if problems:
        raise ProblemsFoundError(tuple(problems))
    return bibliography
