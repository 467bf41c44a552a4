"""The documents: which template makes each, which steps it tells, and how it is laid out.

In: a worked lesson, its cautions, the measures. Out: :class:`Document` values holding page text; no ink.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from presenter.cautions import Cautioned
from presenter.documents.questions import questions_for
from presenter.documents.rendering import environment, render
from presenter.documents.views import SheetView
from presenter.lesson import Lesson, demo_folder
from presenter.working import WorkedLesson

__all__ = ["DOCUMENTS", "Document", "DocumentKind", "content_mark", "documents_for", "template_folders"]


@dataclass(frozen=True)
class DocumentKind:
    """One kind of document. ``tells_steps``: it says how to do each step, so it carries each step's cautions."""

    name: str
    words: str
    template: str
    tells_steps: bool
    layout: str = "pages"
    wants_questions: bool = False


DOCUMENTS: Mapping[str, DocumentKind] = {
    kind.name: kind
    for kind in (
        DocumentKind("handout", "Handout", "handout.md.j2", tells_steps=True),
        DocumentKind("step-cards", "Step cards", "step-cards.md.j2", tells_steps=True, layout="cards"),
        DocumentKind("worksheet", "Worksheet", "worksheet.md.j2", tells_steps=False, wants_questions=True),
        DocumentKind("answers", "Answers", "answers.md.j2", tells_steps=False, wants_questions=True),
    )
}


@dataclass(frozen=True)
class Document:
    """One document of a lesson, in page text."""

    kind: DocumentKind
    page_text: str
    lesson: Lesson
    foot: str


def template_folders(lesson: Lesson) -> list[Path]:
    """Where templates are looked for: beside the lesson, in its library, in the package."""
    near = [lesson.folder / "templates"]
    if lesson.house.folder is not None:
        near.append(lesson.house.folder / "templates")
    return [folder for folder in (*near, demo_folder("templates")) if folder.is_dir()]


def content_mark(worked: WorkedLesson) -> str:
    """Eight signs that change whenever the lesson's text or any of its numbers does."""
    digest = hashlib.sha256(worked.lesson.text.encode())
    for number in worked.numbers.values():
        digest.update(f"{number.id}={number.words()}{number.spread_words()};".encode())
    return digest.hexdigest()[:8]


def documents_for(
    worked: WorkedLesson, cautioned: Cautioned, names: Iterable[str] = (), measures: str = "metric"
) -> list[Document]:
    """The documents called ``names`` (all of them where none is named), each in page text.

    Raises ProblemsFoundError for anything wrong in a template.
    """
    folders = template_folders(worked.lesson)
    env = environment(folders)
    foot = f"Version {worked.lesson.file.version}, content mark {content_mark(worked)}"
    found = []
    for name in names or DOCUMENTS:
        kind = DOCUMENTS[name]
        view = SheetView(worked, cautioned, measures)
        values: dict[str, Any] = {"sheet": view, "steps": view.steps}
        if kind.wants_questions:
            values["questions"] = questions_for(view, env, folders)
        found.append(Document(kind, render(env, kind.template, values), worked.lesson, foot))
    return found
