"""Fill the templates: every document of a lesson as page text.

In: a worked lesson, its cautions, and what was asked for. Out: :class:`Document` values holding page text; no ink.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from presenter.cautions import Cautioned
from presenter.documents.kind import Asked, DocumentKind, Filling
from presenter.documents.kinds import DAY_DOCUMENTS, DOCUMENTS
from presenter.documents.papers.rest_of_day import date_in_words, day_view
from presenter.documents.rendering import environment, render
from presenter.documents.sheet_view import SheetView
from presenter.lesson import Lesson, demo_folder
from presenter.problems import Problem, ProblemsFoundError, nearest
from presenter.working import WorkedLesson

__all__ = ["Document", "content_mark", "documents_for", "papers_of", "template_folders"]


@dataclass(frozen=True)
class Document:
    """One document of a lesson, in page text. ``template`` is the file that it was made of; ``beside`` pairs the
    names of files to lie beside the PDF with their text."""

    kind: DocumentKind
    page_text: str
    lesson: Lesson
    foot: str
    template: Path = Path()
    version: str = ""
    beside: tuple[tuple[str, str], ...] = ()

    @property
    def name(self) -> str:
        """The name of its file, without an ending."""
        return f"{self.kind.name}-{self.version.lower()}" if self.version else self.kind.name

    @property
    def words(self) -> str:
        """Its name in print."""
        return f"{self.kind.words}, version {self.version}" if self.version else self.kind.words


def template_folders(lesson: Lesson) -> list[Path]:
    """Where templates are looked for: beside the lesson, in its library, in the package."""
    near = [lesson.folder / "templates"]
    if lesson.house.folder is not None:
        near.append(lesson.house.folder / "templates")
    return [folder for folder in (*near, demo_folder("templates")) if folder.is_dir()]


def _nearest_file(folders: Sequence[Path], name: str) -> Path:
    return next((folder / name for folder in folders if (folder / name).is_file()), Path("templates") / name)


def content_mark(worked: WorkedLesson) -> str:
    """Eight signs that change whenever the lesson's text or any of its numbers does."""
    digest = hashlib.sha256(worked.lesson.text.encode())
    for number in worked.numbers.values():
        digest.update(f"{number.id}={number.words()}{number.spread_words()};".encode())
    for kept in worked.withheld:
        digest.update(f"{kept.id}: {kept.reason};".encode())
    return digest.hexdigest()[:8]


def papers_of(lesson: Lesson) -> tuple[str, ...]:
    """The names of the documents that a lesson makes: those that it or its library lists under papers, or the usual.

    Raises ProblemsFoundError for each name under papers that no document bears.
    """
    listed = lesson.file.papers
    problems = []
    for name in listed:
        if str(name) not in DOCUMENTS:
            close = nearest(str(name), DOCUMENTS)
            remedy = f"Did you mean {close}?" if close else f"The papers are {', '.join(DOCUMENTS)}."
            problems.append(Problem(name.place, "papers", str(name), f"There is no paper called {name}.", remedy))
    if problems:
        raise ProblemsFoundError(tuple(problems))
    return tuple(dict.fromkeys(map(str, listed))) or tuple(kind.name for kind in DOCUMENTS.values() if kind.by_default)


def documents_for(
    worked: WorkedLesson, cautioned: Cautioned, names: Iterable[str] = (), asked: Asked | None = None
) -> list[Document]:
    """The documents called ``names`` (where none is named, those that the lesson makes), each in page text.

    A kind that comes in versions gives one document for each version asked for.

    Raises ProblemsFoundError for anything wrong in a template.
    """
    asked = asked or Asked()
    folders = template_folders(worked.lesson)
    env = environment(folders)
    mark = content_mark(worked)
    foot = f"Version {worked.lesson.file.version}, content mark {mark}"
    known, usual = DOCUMENTS, papers_of(worked.lesson)
    if asked.day is not None:
        foot = f"Version {worked.lesson.file.version}, as made on {date_in_words(asked.day)}, mark {mark}"
        known, usual = {**DOCUMENTS, **DAY_DOCUMENTS}, (*usual, *DAY_DOCUMENTS)
    wanted = tuple(names) or usual
    together = tuple(dict.fromkeys((*papers_of(worked.lesson), *wanted)))
    found = []
    for name in wanted:
        kind = known[name]
        for version in asked.version_letters if kind.in_versions else ("",):
            view = SheetView(worked, cautioned, asked.measures, asked.reader)
            values = {"sheet": view, "steps": view.steps, "version": version}
            others = tuple(known[other].words for other in together if other != name)
            filling = Filling(view, asked, env, tuple(folders), version, mark, others)
            values |= {"day": day_view(filling), **kind.values(filling)}
            text = render(env, kind.template, values)
            template = _nearest_file(folders, kind.template)
            beside = tuple(kind.beside(filling).items())
            found.append(Document(kind, text, worked.lesson, foot, template, version, beside))
    return found
