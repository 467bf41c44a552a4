"""The papers that others sign, see or take home: risks, allergens, labels, the class plan, home card and slip."""

from __future__ import annotations

from presenter.documents.kind import DocumentKind
from presenter.documents.papers.classes import class_values
from presenter.documents.papers.drinks import drinks_values
from presenter.documents.papers.home import home_values, slip_values
from presenter.documents.papers.risks import risk_csv, risk_values

__all__ = ["KINDS"]

KINDS = (
    DocumentKind(
        "risk-assessment",
        "Risk assessment draft",
        "risk-assessment.md.j2",
        layout="wide",
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
    DocumentKind(
        "class-plan", "Class plan", "class-plan.md.j2", tells_steps=False, values=class_values, by_default=False
    ),
    DocumentKind(
        "home-card", "Try-at-home card", "home-card.md.j2", tells_steps=True, values=home_values, by_default=False
    ),
    DocumentKind(
        "return-slip", "Return slip", "return-slip.md.j2", tells_steps=False, values=slip_values, by_default=False
    ),
)
