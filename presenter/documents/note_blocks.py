"""Notes as blocks of page text, with their kind of evidence and their sources by number.

In: a note and the citations of the sheet. Out: a ``note`` block.
"""

from __future__ import annotations

from presenter.documents.citing import Citations
from presenter.documents.page_text import escaped
from presenter.documents.rendering import PageText
from presenter.lesson import Note

__all__ = ["note_block"]


def note_block(note: Note, citations: Citations) -> PageText:
    """One note as a block."""
    cites = "; ".join(citations.mark(key) + (f" {locator}" if locator else "") for key, locator in note.cites)
    evidence = note.kind_of_evidence or note.rests_on
    parts = [f"```note kind={note.about} title={_quoted(note.title)}"]
    if evidence:
        parts.append(f"evidence={_quoted(evidence)}")
    if note.confidence:
        parts.append(f"confidence={_quoted(f'confidence: {note.confidence}')}")
    word = "Sources" if len(note.cites) > 1 else "Source"
    body = escaped(f"{note.say} {word}: {cites}." if cites else note.say)
    return PageText(" ".join(parts) + f"\n{body}\n```\n")


def _quoted(text: str) -> str:
    return '"' + escaped(text).replace('"', "”") + '"'
