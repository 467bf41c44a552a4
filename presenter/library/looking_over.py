"""Look a library over: where notes and sources are used, what is named and missing, what nobody uses, what is due.

In: an index brought up to date, and the day on which it is asked. Out: :class:`Overview`, in plain values.
"""

from __future__ import annotations

import datetime
import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from presenter.lesson import LibraryFile, house_for
from presenter.lesson.finding import lesson_beside
from presenter.library.index import Index

__all__ = ["LawDue", "Missing", "Overview", "looked_over", "used_where"]


@dataclass(frozen=True)
class Missing:
    """Something that is named and not there: what names it, the kind of thing, its id, and where."""

    named_by: str
    kind: str
    id: str
    file: str
    line: int


@dataclass(frozen=True)
class LawDue:
    """A line on the law to look at again; ``due`` is empty where the line names no date at all."""

    words: str
    due: str


@dataclass(frozen=True)
class Overview:
    """What wants attention in a library."""

    missing: tuple[Missing, ...] = ()
    unused_notes: tuple[str, ...] = ()
    unused_sources: tuple[str, ...] = ()
    notes_without_source: tuple[str, ...] = ()
    law_due: tuple[LawDue, ...] = ()
    series: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    shared_problems: tuple[str, ...] = ()


def used_where(index: Index, named_id: str) -> list[tuple[str, str, int]]:
    """Each lesson, step and line that names a note or source; a note that cites the source stands with no lesson."""
    found = [
        (lesson, step, line)
        for lesson, step, line in index.ask(
            "SELECT DISTINCT lesson, step, line FROM named WHERE id = ? AND kind != 'beneath' ORDER BY lesson, line",
            [named_id],
        )
    ]
    citing = [
        ("", note, line)
        for note, cites, line in index.ask("SELECT id, cites, line FROM shared WHERE about LIKE '% note' ORDER BY id")
        if named_id in json.loads(cites)
    ]
    return found + citing


def looked_over(index: Index, today: datetime.date) -> Overview:
    """What wants attention, on the day ``today``."""
    notes = {
        row[0]: row for row in index.ask("SELECT id, sourced, cites, file, line FROM shared WHERE about LIKE '% note'")
    }
    sources = {row[0] for row in index.ask("SELECT id FROM shared WHERE about = 'source'")}
    package = {row[0] for row in index.ask("SELECT id FROM shared WHERE about = 'package source'")}
    named = index.ask(
        "SELECT n.lesson, n.kind, n.id, n.line, l.path FROM named n JOIN lessons l ON l.name = n.lesson"
        " WHERE n.kind IN ('note', 'evidence', 'lesson') ORDER BY n.lesson, n.line"
    )
    used = {named_id for _, _, named_id, _, _ in named}
    own = _notes_of_lessons(index)
    missing = [
        Missing(lesson, "note or source" if kind == "evidence" else kind, named_id, index.file_of(path), line)
        for lesson, kind, named_id, line, path in named
        if not _there(kind, named_id, Path(path).parent, index, notes.keys() | own, sources | package)
    ]
    cited = used.copy()
    for note_id, _, cites, file, line in notes.values():
        keys = json.loads(cites)
        cited.update(keys)
        missing += [
            Missing(f"note {note_id}", "source", key, index.file_of(file), line)
            for key in keys
            if key not in sources | package
        ]
    shared = house_for(index.shelf.top.resolve()).shared
    missing += _missing_of_series(index, shared)
    return Overview(
        missing=tuple(missing),
        unused_notes=tuple(sorted(notes.keys() - used)),
        unused_sources=tuple(sorted(sources - cited)),
        notes_without_source=tuple(sorted(note_id for note_id, row in notes.items() if not row[1])),
        law_due=_law_due(shared, today),
        series={} if shared is None else {str(name): tuple(map(str, ones)) for name, ones in shared.series.items()},
        shared_problems=index.shared_problems,
    )


def _there(kind: str, named_id: str, folder: Path, index: Index, notes: set[str], sources: set[str]) -> bool:
    if kind == "lesson":
        return lesson_beside(named_id, folder, index.shelf.top) is not None
    return named_id in notes or (kind == "evidence" and named_id in sources)


def _notes_of_lessons(index: Index) -> set[str]:
    """The notes and sources that lessons keep in their own folders; their own check looks after those."""
    keeping = [lesson for lesson in index.shelf.lessons if len(lesson.files) > 1]
    found: set[str] = set()
    for lesson in keeping:
        if any("notes" in Path(path).parts or path.endswith("sources.yaml") for path in lesson.files):
            found.update(row[0] for row in index.ask("SELECT id FROM named WHERE lesson = ?", [lesson.name]))
    return found


def _missing_of_series(index: Index, shared: LibraryFile | None) -> list[Missing]:
    known = {lesson.name for lesson in index.shelf.lessons}
    file = index.file_of(str((index.shelf.top / "library.yaml").resolve()))
    return [
        Missing(f"series {name}", "lesson", str(lesson), file, lesson.place.line)
        for name, lessons in (shared.series.items() if shared is not None else ())
        for lesson in lessons
        if str(lesson) not in known
    ]


def _law_due(shared: LibraryFile | None, today: datetime.date) -> tuple[LawDue, ...]:
    lines = shared.law if shared is not None else ()
    return tuple(
        LawDue(str(line.say), line.look_again.isoformat() if line.look_again is not None else "")
        for line in lines
        if line.look_again is None or line.look_again <= today
    )
