"""Build every lesson of a library: over several processes, and only what has changed since last time.

In: a shelf, where the sheets go, and what is wanted. Out: one :class:`Outcome` for each lesson, as they are done. A
lesson with problems is told and passed by; it never stops the others.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path

from presenter.cautions import cautions_of
from presenter.documents import Asked, documents_for
from presenter.lesson import load_lesson
from presenter.lesson.reading import as_user_knows
from presenter.library.facts import LessonFacts, facts_when_worked, facts_with_problems, told_of
from presenter.library.index import Index
from presenter.library.pooled import in_processes
from presenter.library.shelves import LessonShelf, combined_mark
from presenter.problems import ProblemsFoundError
from presenter.releasing import problems_of_letters, release
from presenter.working import work_out

__all__ = ["Job", "Outcome", "Sheet", "Wanted", "build_all", "build_lesson"]


@dataclass(frozen=True)
class Wanted:
    """What is wanted of every lesson; an empty paper or measures means each lesson's own."""

    only: tuple[str, ...] = ()
    paper: str = ""
    measures: str = ""
    print_size: str = "ordinary"
    asked: Asked = field(default_factory=Asked)

    def mark(self) -> str:
        """A mark of all that is wanted."""
        return combined_mark([repr(self)])


@dataclass(frozen=True)
class Sheet:
    """One sheet that was written."""

    kind: str
    path: str
    pages: int
    size: int


@dataclass(frozen=True)
class Outcome:
    """What became of one lesson: "built", "unchanged", "problems", or "broke down" by a mistake of the program."""

    lesson: str
    became: str
    sheets: tuple[Sheet, ...] = ()
    told: tuple[str, ...] = ()


@dataclass(frozen=True)
class Job:
    """One lesson to build: its file, the folder of its sheets, what is wanted."""

    path: Path
    folder: Path
    wanted: Wanted


@dataclass(frozen=True)
class _Made:
    """What a process sends back: the sheets or the problems, and the facts for the index."""

    sheets: tuple[Sheet, ...]
    told: tuple[str, ...]
    facts: LessonFacts
    passing: bool = False  # a problem of the moment (a full disk), not of the lesson


def build_lesson(job: Job) -> _Made:
    """Build the sheets of one lesson, all of them or none."""
    wanted = job.wanted
    try:
        lesson = load_lesson(job.path)
        worked = work_out(lesson)
    except ProblemsFoundError as error:
        return _Made((), told_of(error.problems), facts_with_problems(job.path, error.problems))
    cautioned = cautions_of(worked)
    facts = facts_when_worked(worked, cautioned, with_spreads=True)
    try:
        letters = problems_of_letters(lesson.text, as_user_knows(job.path))
        if letters:
            raise ProblemsFoundError(tuple(letters))
        asked = replace(wanted.asked, measures=wanted.measures or lesson.measures)
        documents = documents_for(worked, cautioned, wanted.only, asked)
        released = release(
            documents, cautioned, job.folder, paper=wanted.paper or lesson.paper, print_size=wanted.print_size
        )
    except ProblemsFoundError as error:
        told = told_of(error.problems)
        return _Made((), told, replace(facts, problems=told))
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        return _Made((), (f"The sheets cannot be written to {job.folder}: {why}.",), facts, passing=True)
    return _Made(tuple(Sheet(sheet.kind, str(sheet.path), sheet.pages, sheet.size) for sheet in released), (), facts)


def build_all(index: Index, out: Path, wanted: Wanted, *, workers: int = 1, anew: bool = False) -> Iterator[Outcome]:
    """Each lesson's outcome: first those with nothing to do, then the others as they are done.

    ``anew`` builds every lesson, changed or not. A lesson's sheets go to a folder of its name in ``out``.
    """
    changed = {lesson.name for lesson in index.changed()}
    kept = {row[0]: row[1:] for row in index.ask("SELECT lesson, mark, files FROM built WHERE out = ?", [_key(out)])}
    marks = dict(index.ask("SELECT name, mark FROM lessons"))
    wish = wanted.mark()
    kept_now: set[str] = set()
    jobs: dict[str, Job] = {}
    lessons: dict[str, LessonShelf] = {}
    for lesson in index.shelf.lessons:
        folder = os.path.join(out, lesson.name)
        if not anew and lesson.name not in changed and lesson.name in kept:
            mark, files = kept[lesson.name]
            record = json.loads(files)
            there = all(os.path.isfile(os.path.join(folder, name)) for name in record["files"])
            if mark == _mark(marks[lesson.name], wish) and there:
                told = tuple(record["problems"])
                yield Outcome(lesson.name, "problems" if told else "unchanged", (), told)
                continue
        jobs[lesson.name], lessons[lesson.name] = Job(lesson.path, Path(folder), wanted), lesson
    for name, made in in_processes(build_lesson, jobs, workers):
        if isinstance(made, str):
            yield Outcome(name, "broke down", (), (made,))
            continue
        index.keep(lessons[name], made.facts)
        kept_now.add(name)
        if not made.passing:
            record = {"files": [Path(sheet.path).name for sheet in made.sheets], "problems": list(made.told)}
            index.ask(
                "REPLACE INTO built VALUES (?,?,?,?)",
                [name, _key(out), _mark(index.mark(lessons[name]), wish), json.dumps(record)],
            )
        yield Outcome(name, "problems" if made.told else "built", made.sheets, made.told)
    if not changed - kept_now:
        index.all_kept()


def _key(out: Path) -> str:
    return str(out.resolve())


def _mark(lesson_mark: str, wish: str) -> str:
    return f"{lesson_mark} {wish}"
