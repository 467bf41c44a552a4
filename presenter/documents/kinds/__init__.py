"""The kinds of document, by name, in the order in which they are printed.

To add one: a template in ``templates/``; a :class:`~presenter.documents.kind.DocumentKind` in a file of this folder,
named after its subject, with ``KINDS``; a line below. A kind whose template needs more than the lesson and its steps
gives ``values``, a function from a :class:`~presenter.documents.kind.Filling`. Golden page text, the checkers and the
read-back of cautions then take it in by themselves.
"""

from __future__ import annotations

from collections.abc import Mapping

from presenter.documents.kind import DocumentKind
from presenter.documents.kinds import (
    class_sheets,
    day_papers,
    day_sheets,
    lesson_sheets,
    reference_sheets,
    run_sheets,
)

__all__ = ["DAY_DOCUMENTS", "DOCUMENTS"]

DOCUMENTS: Mapping[str, DocumentKind] = {
    kind.name: kind
    for folder in (lesson_sheets, class_sheets, reference_sheets, run_sheets, day_papers, day_sheets)
    for kind in folder.KINDS
}
# Those that tell of a day, and so need one.
DAY_DOCUMENTS: Mapping[str, DocumentKind] = {kind.name: kind for kind in day_sheets.DAY_KINDS}
