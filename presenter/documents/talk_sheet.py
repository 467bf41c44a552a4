"""The sheet for the edit desk: what was said in a talk that needs another take, a caption or a word more.

In: a worked lesson, its cautions, the records of a report on a talk. Out: one :class:`Document` in page text; it lies
outside ``DOCUMENTS``, since it belongs to a talk and not to the lesson alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from presenter.cautions import Cautioned
from presenter.documents.kind import DocumentKind
from presenter.documents.rendering import environment, render
from presenter.documents.sheet_view import SheetView
from presenter.documents.sheets import Document, content_mark, template_folders
from presenter.working import WorkedLesson

__all__ = ["talk_sheet"]

_TEMPLATE = "said.md.j2"
_FINE = {"agrees", "not in the lesson", "ambiguous", "cleared"}


def talk_sheet(
    worked: WorkedLesson, cautioned: Cautioned, records: Sequence[dict[str, Any]], talk: str, name: str = "said"
) -> Document:
    """The sheet on the talk called ``talk``, to be released as ``name``.pdf.

    Raises ProblemsFoundError for anything wrong in the template.
    """
    view = SheetView(worked, cautioned, "metric")
    records = [record | {"why": ""} if record["verdict"] == "contradicts itself" else record for record in records]
    values = {
        "sheet": view,
        "talk": talk,
        "amiss": [record for record in records if record["verdict"] not in {*_FINE, "not said"}],
        "unsaid": [record for record in records if record["verdict"] == "not said"],
        "cleared": [record for record in records if record["verdict"] == "cleared"],
        "open": [record for record in records if record["verdict"] == "ambiguous"],
        "right": sum(record["verdict"] == "agrees" for record in records),
    }
    text = render(environment(template_folders(worked.lesson)), _TEMPLATE, values)
    kind = DocumentKind(name, "Numbers said", _TEMPLATE, tells_steps=False)
    foot = f"Version {worked.lesson.file.version}, content mark {content_mark(worked)}"
    return Document(kind, text, worked.lesson, foot)
