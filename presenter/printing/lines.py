"""Break words into lines.

In: spans of text, a size and a width. Out: lines of runs with their widths. Lines break at spaces and after a
hyphen or dash between letters, never at a no-break space; a word wider than the column breaks between letters.
Each line but the last of a paragraph ends with its space, so that whoever extracts the text finds words apart.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from presenter.documents.blocks import Span, Words
from presenter.printing.fonts import clean, width_of

__all__ = ["Run", "TextLine", "break_lines", "longest_word", "natural_width", "strong"]

_PIECES = re.compile(r"\n| +|[^ \n]+")
_AFTER_DASH = re.compile(r"(?<=[^\W\d_][-–—/])(?=[^\W\d_])")


@dataclass(frozen=True)
class Run:
    """Text of one weight on one line, possibly part of a link."""

    text: str
    strong: bool
    link: str | None


@dataclass(frozen=True)
class TextLine:
    """The runs of one line and the width of what is seen."""

    runs: tuple[Run, ...]
    width: float


_Word = list[Run]  # what may not be parted, over spans


def _atoms(words: Words) -> list[_Word | str]:
    """Words, with " " and newline between them."""
    atoms: list[_Word | str] = []
    for span in words:
        text = span.text.replace("\r", "")
        for piece in _PIECES.findall("".join(part if part == "\n" else clean(part) for part in re.split("(\n)", text))):
            if piece == "\n" or piece.startswith(" "):
                if piece == "\n" or (atoms and not isinstance(atoms[-1], str)):
                    atoms.append(piece[0])
                continue
            for place, part in enumerate(_AFTER_DASH.split(piece)):
                last = atoms[-1] if atoms else " "
                if place == 0 and isinstance(last, list):
                    last.append(Run(part, span.strong, span.link))
                else:
                    atoms.append([Run(part, span.strong, span.link)])
    while atoms and isinstance(atoms[-1], str):
        atoms.pop()
    return atoms


def _wide(word: _Word, size: float) -> float:
    return sum(width_of(run.text, run.strong, size) for run in word)


def _parted(word: _Word, size: float, room: float) -> tuple[_Word, _Word]:
    """The part of a word that fits, at least one letter, and the rest."""
    taken: _Word = []
    used = 0.0
    for place, run in enumerate(word):
        wide = width_of(run.text, run.strong, size)
        if used + wide <= room:
            taken.append(run)
            used += wide
            continue
        low, high = 0, len(run.text)
        while high - low > 1:
            middle = (low + high) // 2
            if used + width_of(run.text[:middle], run.strong, size) <= room:
                low = middle
            else:
                high = middle
        keep = low if low or taken else 1
        if keep:
            taken.append(Run(run.text[:keep], run.strong, run.link))
        rest = [Run(run.text[keep:], run.strong, run.link), *word[place + 1 :]]
        return taken, [run for run in rest if run.text]
    return taken, []


def break_lines(words: Words, size: float, width: float) -> list[TextLine]:
    """The lines of a paragraph in a column of ``width`` points; no words give no lines."""
    lines: list[TextLine] = []
    line: _Word = []
    used = 0.0
    gap: Run | None = None

    def close(space: bool) -> None:
        nonlocal line, used, gap
        if line and space:
            line.append(Run(" ", line[-1].strong, line[-1].link))
        lines.append(TextLine(_merged(line), used))
        line, used, gap = [], 0.0, None

    atoms = _atoms(words)
    for place, atom in enumerate(atoms):
        if atom == "\n":
            close(True)
            continue
        if isinstance(atom, str):
            follows = atoms[place + 1]
            if line and isinstance(follows, list):
                linked = line[-1].link if line[-1].link == follows[0].link else None
                gap = Run(" ", line[-1].strong, linked)
            continue
        wide = _wide(atom, size)
        before = width_of(" ", gap.strong, size) if gap else 0.0
        if line and used + before + wide > width + 0.01:
            close(gap is not None)
            before = 0.0
        elif gap:
            line.append(gap)
        gap = None
        used += before
        while wide > width + 0.01:
            taken, atom = _parted(atom, size, width - used)
            line += taken
            used += _wide(taken, size)
            close(False)
            wide = _wide(atom, size)
        line += atom
        used += wide
    if line:
        close(False)
    return lines


def _merged(line: _Word) -> tuple[Run, ...]:
    merged: list[Run] = []
    for run in line:
        if merged and (merged[-1].strong, merged[-1].link) == (run.strong, run.link):
            merged[-1] = Run(merged[-1].text + run.text, run.strong, run.link)
        else:
            merged.append(run)
    return tuple(merged)


def natural_width(words: Words, size: float) -> float:
    """The width of the words on as few lines as they were written."""
    return max((line.width for line in break_lines(words, size, 1e9)), default=0.0)


def longest_word(words: Words, size: float) -> float:
    """The width of the widest word."""
    return max((_wide(atom, size) for atom in _atoms(words) if isinstance(atom, list)), default=0.0)


def strong(words: Words) -> Words:
    """The same words, all in the heavier weight."""
    return tuple(Span(span.text, True, span.link) for span in words)
