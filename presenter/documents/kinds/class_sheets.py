"""The sheets for a class: the worksheet and its answers, which ask and answer the same questions."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from presenter.documents.kind import DocumentKind, Filling
from presenter.documents.questions import questions_for

__all__ = ["KINDS"]


def _questions(filling: Filling) -> Mapping[str, Any]:
    return {"questions": questions_for(filling.view, filling.environment, list(filling.folders))}


KINDS = (
    DocumentKind("worksheet", "Worksheet", "worksheet.md.j2", tells_steps=False, values=_questions, in_versions=True),
    DocumentKind("answers", "Answers", "answers.md.j2", tells_steps=False, values=_questions, in_versions=True),
)
