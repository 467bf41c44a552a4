"""The sheets for a class: the worksheet and its answers, which ask and answer the same questions."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from presenter.documents.kind import DocumentKind, Filling
from presenter.documents.questions import questions_for
from presenter.documents.sheet_view import SheetView
from presenter.documents.versions import version_of

__all__ = ["KINDS"]


def _questions(filling: Filling) -> Mapping[str, Any]:
    """The questions of one version, with what is changed in it; ``sheet`` and ``steps`` stay the lesson as it is."""
    seed = filling.asked.seed or filling.view.title
    version = version_of(filling.view.worked, filling.version, seed)
    view = SheetView(version.worked, filling.view.cautioned, filling.view.measures, filling.view.reader)
    questions = questions_for(view, filling.environment, list(filling.folders), version, seed)
    return {
        "questions": questions,
        "changes": version.changes_in_words(view.measures),
        "marks": sum(each.marks for each in questions),
    }


KINDS = (
    DocumentKind("worksheet", "Worksheet", "worksheet.md.j2", tells_steps=False, values=_questions, in_versions=True),
    DocumentKind("answers", "Answers", "answers.md.j2", tells_steps=False, values=_questions, in_versions=True),
)
