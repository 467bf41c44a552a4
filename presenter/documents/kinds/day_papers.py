"""The papers that others must sign or see: the risk assessment draft, the allergen card and table, the batch label."""

from __future__ import annotations

from presenter.documents.kind import DocumentKind
from presenter.documents.papers.drinks import drinks_values
from presenter.documents.papers.risks import risk_csv, risk_values

__all__ = ["KINDS"]

KINDS = (
    DocumentKind(
        "risk-assessment",
        "Risk assessment draft",
        "risk-assessment.md.j2",
        tells_steps=True,
        values=risk_values,
        by_default=False,
        beside=risk_csv,
        cautions_by="{{ step.risks() }}",
    ),
    DocumentKind(
        "allergen-card",
        "Allergen card",
        "allergen-card.md.j2",
        tells_steps=False,
        layout="cards",
        values=drinks_values,
        by_default=False,
    ),
    DocumentKind(
        "allergen-table",
        "Allergen table",
        "allergen-table.md.j2",
        tells_steps=False,
        values=drinks_values,
        by_default=False,
    ),
    DocumentKind(
        "batch-label",
        "Batch label",
        "batch-label.md.j2",
        tells_steps=False,
        layout="cards",
        values=drinks_values,
        by_default=False,
    ),
)
