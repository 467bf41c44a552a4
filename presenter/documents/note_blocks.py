"""Notes: which of them suit a sheet's readers, and each as a block with its evidence and its sources by number.

In: a step's notes, whom the sheet is for, and the citations of the sheet. Out: the notes to print; ``note`` blocks.
"""

from __future__ import annotations

from collections.abc import Sequence

from presenter.documents.citing import Citations
from presenter.documents.page_text import escaped
from presenter.documents.rendering import PageText
from presenter.lesson import READERS, Lesson, Note

__all__ = ["EVERYTHING", "note_block", "notes_for", "reader_of"]

EVERYTHING = "all"
_MOST = 4  # notes beside one step
_YOUNGER_BELOW, _OLDER_BELOW = 14, 18  # common practice: schools that finish at fourteen, and the age of majority


def reader_of(lesson: Lesson) -> str:
    """Whom a lesson's sheets are for, by the youngest that its author expects; adults where none is named."""
    youngest = lesson.file.audience.youngest
    if youngest is None:
        return "adult"
    age = int(str(youngest))
    return "younger" if age < _YOUNGER_BELOW else "older" if age < _OLDER_BELOW else "adult"


def notes_for(notes: Sequence[Note], reader: str) -> list[Note]:
    """Those of a step's notes that suit a reader, in the author's order.

    Notes written for the reader, or for everybody, four at most; where a step has none, the one that is written for
    the reader nearest in age stands in, so that no step loses what its author wanted told.
    """
    if reader == EVERYTHING:
        return list(notes)
    own = [note for note in notes if note.reader in ("", reader)]
    if own:
        return own[:_MOST]
    at = READERS.index(reader)
    return sorted(notes, key=lambda note: abs(READERS.index(note.reader) - at))[:1]


def note_block(note: Note, citations: Citations) -> PageText:
    """One note as a block."""
    cites = "; ".join(citations.mark(key) + (f" {locator}" if locator else "") for key, locator in note.cites)
    parts = {
        "title": note.title,
        "evidence": note.kind_of_evidence or note.rests_on,
        "confidence": f"confidence {note.confidence}" if note.confidence else "",
        "sources": f"{'sources' if len(note.cites) > 1 else 'source'} {cites}" if cites else "",
    }
    written = "".join(f" {key}={_quoted(words)}" for key, words in parts.items() if words)
    return PageText(f"```note kind={note.about}{written}\n{escaped(note.say)}\n```\n")


def _quoted(text: str) -> str:
    return '"' + escaped(text).replace('"', "”") + '"'
