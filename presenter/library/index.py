"""The index of a library: what was found in its files last time, kept in a cache folder, safe to delete.

In: a :class:`~presenter.library.shelves.Shelf`. Out: an :class:`Index`, brought up to date: only lessons whose own
files, named notes and sources, library file or package have changed are worked again. Change is noticed by content.

It is one SQLite file, which commits wholly or not at all; a damaged one is thrown away and made anew.
"""

from __future__ import annotations

import json
import os
import sqlite3
from collections import ChainMap
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import platformdirs

from presenter.lesson.notes import NOWHERE, Note, notes_near, sources_near
from presenter.lesson.reading import as_user_knows
from presenter.library.facts import LessonFacts, facts_of_lesson
from presenter.library.pooled import in_processes
from presenter.library.shelves import LessonShelf, Shelf, combined_mark, marks_of, package_mark
from presenter.problems import ProblemsFoundError
from presenter.sources import Bibliography, package_bibliography

__all__ = ["Index", "cache_folder", "index_of", "index_opened", "plain"]

TABLES = """
CREATE TABLE IF NOT EXISTS marks (about TEXT PRIMARY KEY, mark TEXT) WITHOUT ROWID;
CREATE TABLE IF NOT EXISTS lessons (name TEXT PRIMARY KEY, path TEXT, own TEXT, mark TEXT, spreads INT, facts TEXT,
                                    searched TEXT);
CREATE TABLE IF NOT EXISTS named (lesson TEXT, kind TEXT, id TEXT, step TEXT, line INT);
CREATE TABLE IF NOT EXISTS texts (kind TEXT, lesson TEXT, id TEXT, title TEXT, file TEXT, line INT, words TEXT,
                                  searched TEXT);
CREATE TABLE IF NOT EXISTS labels (label INTEGER PRIMARY KEY, words TEXT UNIQUE, searched TEXT);
CREATE TABLE IF NOT EXISTS numbers (lesson TEXT, id TEXT, step TEXT, label INT, words TEXT, kind TEXT, value REAL);
CREATE TABLE IF NOT EXISTS shared (about TEXT, id TEXT, mark TEXT, sourced INT, title TEXT, file TEXT, line INT,
                                   cites TEXT, PRIMARY KEY (about, id));
CREATE TABLE IF NOT EXISTS built (lesson TEXT, out TEXT, mark TEXT, files TEXT, PRIMARY KEY (lesson, out));
CREATE INDEX IF NOT EXISTS named_by_id ON named (id);
CREATE INDEX IF NOT EXISTS named_by_lesson ON named (lesson);
CREATE INDEX IF NOT EXISTS texts_by_lesson ON texts (lesson);
CREATE INDEX IF NOT EXISTS numbers_by_value ON numbers (kind, value);
CREATE INDEX IF NOT EXISTS numbers_by_label ON numbers (label);
CREATE INDEX IF NOT EXISTS numbers_by_lesson ON numbers (lesson);
"""


def plain(text: str) -> str:
    """``text`` as it is searched: lower case, hyphens and spaces alike."""
    return " ".join(text.casefold().replace("-", " ").replace("\u00a0", " ").split())


def cache_folder() -> Path:
    """Where indexes are kept: the folder that PRESENTER_CACHE names, else the user's own cache folder."""
    named = os.environ.get("PRESENTER_CACHE", "")
    return Path(named) if named else platformdirs.user_cache_path("historical-brewing-presenter")


def index_of(
    shelf: Shelf, *, workers: int = 1, progress: Callable[[str, int, int], None] = lambda _, __, ___: None
) -> Index:
    """The index of a library, brought up to date. ``progress`` is told each lesson that is read, its count and all."""
    index = index_opened(shelf)
    index.refresh(workers, progress)
    return index


def index_opened(shelf: Shelf) -> Index:
    """The index of a library as it was left, not yet brought up to date."""
    where = combined_mark([str(shelf.folder.resolve())])[:16]
    try:
        cache_folder().mkdir(parents=True, exist_ok=True)
        file = str(cache_folder() / f"library-{where}.sqlite")
    except OSError:  # nowhere to keep it: worked out anew each time
        file = ":memory:"
    try:
        return Index(shelf, _connected(file))
    except sqlite3.DatabaseError:
        Path(file).unlink(missing_ok=True)
        return Index(shelf, _connected(file if Path(file).parent.is_dir() else ":memory:"))


def _connected(file: str) -> sqlite3.Connection:
    connection = sqlite3.connect(file, isolation_level=None)
    try:
        connection.execute("PRAGMA journal_mode = WAL")
        connection.execute("PRAGMA synchronous = NORMAL")
        connection.executescript(TABLES)
        connection.execute("SELECT count(*) FROM lessons").fetchone()
    except sqlite3.DatabaseError:
        connection.close()
        raise
    return connection


class Index:
    """The index of one library. Ask it through :mod:`presenter.library.searching` and the like."""

    def __init__(self, shelf: Shelf, connection: sqlite3.Connection) -> None:
        self.shelf = shelf
        self.connection = connection
        self.marks: dict[str, str] = {}
        self.shared_problems: tuple[str, ...] = ()
        self._files: dict[str, str] = {}
        self._known = ""
        self._settled = False

    def file_of(self, kept: str) -> str:
        """A file as the user knows it, from how it is kept."""
        if kept not in self._files:
            self._files[kept] = as_user_knows(Path(kept))
        return self._files[kept]

    def ask(self, question: str, values: Iterable[Any] = ()) -> list[tuple[Any, ...]]:
        """The rows that answer a question in SQL."""
        return self.connection.execute(question, tuple(values)).fetchall()

    def facts(self) -> dict[str, dict[str, Any]]:
        """What is kept of each lesson, by its name: the record of its LessonFacts, and its path."""
        found = self.ask("SELECT name, path, facts FROM lessons ORDER BY name")
        return {name: {"name": name, "path": self.file_of(path), **json.loads(record)} for name, path, record in found}

    # ---- bringing it up to date

    def refresh(self, workers: int = 1, progress: Callable[[str, int, int], None] = lambda _, __, ___: None) -> None:
        """Hash every file, and work again the lessons that something has changed for."""
        changed = self.changed()
        jobs = {lesson.name: lesson.path for lesson in changed}
        marks = {lesson.name: lesson for lesson in changed}
        for done, (name, facts) in enumerate(in_processes(facts_of_lesson, jobs, workers), start=1):
            progress(name, done, len(jobs))
            if isinstance(facts, LessonFacts):
                self.keep(marks[name], facts)
            else:
                self.keep(marks[name], LessonFacts(title=name, problems=(facts,)))
        self.all_kept()

    def changed(self) -> list[LessonShelf]:
        """The lessons to be worked again; what has gone is forgotten, what is shared is read anew where it changed."""
        self.marks = marks_of(self.shelf.files())
        self._mark_bakers()
        self._known = self._everything()
        self._settled = self.ask("SELECT mark FROM marks WHERE about = 'everything'") == [(self._known,)]
        if self._settled:
            return []
        self._refresh_shared()
        kept = {name: (own, mark) for name, own, mark in self.ask("SELECT name, own, mark FROM lessons")}
        named = self._named()
        for gone in kept.keys() - {lesson.name for lesson in self.shelf.lessons}:
            self._forget(gone)
        base, shared = self._base(), self._shared_marks()
        return [
            lesson
            for lesson in self.shelf.lessons
            if kept.get(lesson.name)
            != (own := self.own_mark(lesson), self._whole(lesson, base, own, named.get(lesson.name, []), shared))
        ]

    def all_kept(self) -> None:
        """Say that all that :meth:`changed` named has been kept: until a file changes, nothing need be compared."""
        if not self._settled and not self.shared_problems:  # a broken shared file is told, and so read, each time
            self.ask("REPLACE INTO marks VALUES ('everything', ?)", [self._known])

    def _everything(self) -> str:
        top = len(str(self.shelf.folder))
        names = "\n".join(lesson.name for lesson in self.shelf.lessons)
        return combined_mark([package_mark(), names, *(f"{path[top:]} {mark}" for path, mark in self.marks.items())])

    def own_mark(self, lesson: LessonShelf) -> str:
        """The content mark of a lesson's own files together."""
        return combined_mark(f"{path.removeprefix(lesson.folder)} {self.marks.get(path, '')}" for path in lesson.files)

    def _mark_bakers(self) -> None:
        """Mark the files of lessons whose loaves others use; they need not lie on this shelf."""
        folders = {lesson.name: lesson.folder for lesson in self.shelf.lessons}
        named = self.ask("SELECT DISTINCT lesson, id FROM named WHERE kind = 'file' ORDER BY lesson, id")
        self.marks |= marks_of(_from(folders[lesson], path) for lesson, path in named if lesson in folders)

    def _whole(self, lesson: LessonShelf, base: str, own: str, ids: Sequence[str], shared: Mapping[str, str]) -> str:
        """The mark of all that a lesson is made of; ``ids`` are what it names, also files of lessons it rests on."""
        files = {path: _from(lesson.folder, path) for path in ids if path.endswith(".yaml")}
        self.marks |= marks_of(file for file in files.values() if file not in self.marks)
        bakers = {path: self.marks.get(file, "") for path, file in files.items()}
        return _mark(base, own, ids, ChainMap(bakers, dict(shared)) if bakers else shared)

    def mark(self, lesson: LessonShelf) -> str:
        """The mark of everything that a lesson is made of, as far as it is indexed."""
        return str(self.ask("SELECT mark FROM lessons WHERE name = ?", [lesson.name])[0][0])

    def _named(self) -> dict[str, list[str]]:
        found: dict[str, list[str]] = {}
        for lesson, named_id in self.ask("SELECT DISTINCT lesson, id FROM named ORDER BY lesson, id"):
            found.setdefault(lesson, []).append(named_id)
        return found

    def _shared_marks(self) -> dict[str, str]:
        return dict(self.ask("SELECT id, mark FROM shared"))

    def _base(self) -> str:
        """The mark of what touches every lesson: the package, the library's file and its templates."""
        touching = [
            f"{name} {self.marks.get(path, '')}"
            for path in self.shelf.shared
            if (name := self.shelf.from_top(path)) == "library.yaml" or name.startswith("templates")
        ]
        return combined_mark([package_mark(), *touching])

    def keep(self, lesson: LessonShelf, facts: LessonFacts) -> None:
        """Put what was found of one lesson in place of what was kept of it."""
        own = self.own_mark(lesson)
        ids = sorted({use.id for use in facts.uses})
        mark = self._whole(lesson, self._base(), own, ids, self._shared_marks())
        file = str(lesson.path.resolve())
        about = [facts.title, facts.scene, facts.about, facts.author, *facts.ingredients]
        with self.connection:
            self.connection.execute("BEGIN")
            self._forget(lesson.name)
            self.connection.execute(
                "INSERT INTO lessons VALUES (?,?,?,?,?,?,?)",
                (lesson.name, file, own, mark, facts.with_spreads, json.dumps(facts.record(), ensure_ascii=False),
                 plain(" ".join(about))),
            )  # fmt: skip
            self.connection.executemany(
                "INSERT INTO named VALUES (?,?,?,?,?)",
                [(lesson.name, use.kind, use.id, use.step, use.line) for use in facts.uses],
            )
            self.connection.executemany(
                "INSERT INTO texts VALUES ('step',?,?,?,?,?,?,?)",
                [(lesson.name, s.id, s.name, file, s.line, s.text, plain(s.text)) for s in facts.steps],
            )
            labels = {label: plain(label) for label in {number.label for number in facts.numbers}}
            self.connection.executemany("INSERT OR IGNORE INTO labels (words, searched) VALUES (?,?)", labels.items())
            self.connection.executemany(
                "INSERT INTO numbers SELECT ?,?,?,label,?,?,? FROM labels WHERE words = ?",
                [(lesson.name, n.id, n.step, n.words, n.kind, n.value, n.label) for n in facts.numbers],
            )
            self.connection.execute("COMMIT")

    def _forget(self, name: str) -> None:
        for table, column in (("lessons", "name"), ("named", "lesson"), ("texts", "lesson"), ("numbers", "lesson")):
            self.connection.execute(f"DELETE FROM {table} WHERE {column} = ?", (name,))

    def _refresh_shared(self) -> None:
        """Read the shared notes and sources again, if any of their files has changed."""
        marks = [
            f"{name} {self.marks.get(path, '')}"
            for path in self.shelf.shared
            if (name := self.shelf.from_top(path)).startswith("notes") or name == "sources.yaml"
        ]
        mark = combined_mark([package_mark(), *marks])
        if self.ask("SELECT mark FROM marks WHERE about = 'shared'") == [(mark,)]:
            return
        problems: list[str] = []
        notes: Mapping[str, Note] = {}
        bibliography: Bibliography = package_bibliography()
        try:
            notes = notes_near([self.shelf.top])
        except ProblemsFoundError as error:
            problems += [problem.told() for problem in error.problems]
        try:
            bibliography = sources_near([self.shelf.top], bibliography)
        except ProblemsFoundError as error:
            problems += [problem.told() for problem in error.problems]
        self.shared_problems = tuple(problems)
        with self.connection:
            self.connection.execute("BEGIN")
            self._keep_shared(notes, bibliography)
            # a broken file is read again each time, so that it is told each time
            self.connection.execute("REPLACE INTO marks VALUES ('shared', ?)", ("" if problems else mark,))
            self.connection.execute("COMMIT")

    def _keep_shared(self, notes: Mapping[str, Note], bibliography: Bibliography) -> None:
        self.connection.execute("DELETE FROM shared")
        self.connection.execute("DELETE FROM texts WHERE kind IN ('note', 'source')")
        file_of_sources = str((self.shelf.top / "sources.yaml").resolve())
        shared, texts = [], []
        for note in notes.values():
            cited = [repr(bibliography.sources.get(key)) for key, _ in note.cites]
            mark = combined_mark([repr(replace(note, place=NOWHERE)), *cited])
            place, words = note.place, f"{note.say} {note.do_not_say} {note.say_instead}".strip()
            sourced = bool(note.cites) or bool(note.rests_on)
            cites = json.dumps([key for key, _ in note.cites])
            shared.append(
                (
                    f"{note.about} note",
                    note.id,
                    mark,
                    sourced,
                    note.title,
                    str(Path(place.file).resolve()),
                    place.line,
                    cites,
                )
            )
            file = str(Path(place.file).resolve())
            searched = plain(f"{note.id} {note.title} {words} {' '.join(key for key, _ in note.cites)}")
            texts.append(("note", "", note.id, note.title, file, place.line, words, searched))
        for key, source in bibliography.sources.items():
            if source.topic == "library":
                shared.append(
                    ("source", key, combined_mark([repr(source)]), True, source.title, file_of_sources, 0, "[]")
                )
                words = source.citation()
                searched = plain(f"{key} {words} {source.how}")
                texts.append(("source", "", key, source.title, file_of_sources, 0, words, searched))
            else:
                shared.append(("package source", key, combined_mark([repr(source)]), True, source.title, "", 0, "[]"))
        self.connection.executemany("REPLACE INTO shared VALUES (?,?,?,?,?,?,?,?)", shared)
        self.connection.executemany("INSERT INTO texts VALUES (?,?,?,?,?,?,?,?)", texts)


def _mark(base: str, own: str, named: Iterable[str], shared: Mapping[str, str]) -> str:
    return combined_mark([base, own, *(f"{named_id} {shared.get(named_id, '')}" for named_id in named)])


def _from(folder: str, path: str) -> str:
    """A path that is told from a lesson's folder."""
    return os.path.normpath(os.path.join(os.path.realpath(folder), path))
