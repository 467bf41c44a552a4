"""The sheets that tell the lesson: the handout and the step cards."""

from __future__ import annotations

from presenter.documents.kind import DocumentKind

__all__ = ["KINDS"]

KINDS = (
    DocumentKind("handout", "Handout", "handout.md.j2", tells_steps=True),
    DocumentKind("step-cards", "Step cards", "step-cards.md.j2", tells_steps=True, layout="cards"),
)
