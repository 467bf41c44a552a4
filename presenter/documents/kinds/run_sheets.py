"""The run sheet in two forms, to plan by and to read at the stove; and the script that is read aloud."""

from __future__ import annotations

from presenter.documents.kind import DocumentKind
from presenter.documents.papers.run_sheet import run_values
from presenter.documents.papers.script import script_text, script_values

__all__ = ["KINDS"]

KINDS = (
    DocumentKind("run-sheet", "Run sheet", "run-sheet.md.j2", tells_steps=True, values=run_values, by_default=False),
    DocumentKind(
        "stove-sheet",
        "Stove sheet",
        "stove-sheet.md.j2",
        tells_steps=True,
        layout="stove",
        values=run_values,
        by_default=False,
    ),
    DocumentKind(
        "script",
        "Script",
        "script.md.j2",
        tells_steps=True,
        values=script_values,
        by_default=False,
        beside=script_text,
        print="large",
    ),
)
