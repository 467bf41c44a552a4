"""Pieces of a column: things with a height that may be parted between pages, and the filling of a column.

In: pieces in reading order and the room there is. Out: which stand where, and what is left for the next column.
A piece knows its element of the structure tree; both parts of a parted piece write into the same element.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from reportlab.lib.colors import HexColor

from presenter.documents.blocks import Words
from presenter.printing.fonts import width_of
from presenter.printing.lines import Run, TextLine, break_lines
from presenter.printing.style import ACCENT, INK, Type
from presenter.printing.symbols import DRAWN, SPOKEN, draw_sign
from presenter.printing.tagging import Element, Pen

__all__ = ["Gap", "PageStart", "Paragraph", "Piece", "Placed", "Stack", "draw_line", "draw_placed", "fill"]


class Piece:
    """Something that stands in a column. ``before`` and ``after`` are the least white space around it."""

    before: float = 0.0
    after: float = 0.0
    whole: bool = False  # not parted if a column can hold it
    with_next: bool = False  # not the last in a column
    at: int = 0  # which child of its body's element it begins with

    def height(self, width: float) -> float:
        """The height at this width, without the white space around it."""
        raise NotImplementedError

    def least(self, width: float) -> float:
        """The height of the least part that may end a column."""
        return self.height(width)

    def split(self, width: float, room: float, fresh: float) -> tuple[Piece, Piece] | None:
        """The part that fits in ``room`` and the rest, or nothing; ``fresh`` is the room of an empty column."""
        return None

    def squeezed(self, room: float) -> Piece | None:
        """The same made lower so that it fits in ``room``, or nothing; for charts, whose words keep their size."""
        return None

    def draw(self, pen: Pen, x: float, top: float, width: float) -> None:
        """Draw with the upper left corner at (x, top)."""
        raise NotImplementedError


Placed = list[tuple[Piece, float]]


def fill(pieces: Sequence[Piece], width: float, room: float, fresh: float) -> tuple[Placed, list[Piece], float]:
    """Fill a column from the top: the pieces with their distance from it, the rest, and the height used."""
    placed: Placed = []
    used = after = 0.0
    for place, piece in enumerate(pieces):
        if isinstance(piece, PageStart):
            if placed:
                return placed, list(pieces[place + 1 :]), used
            continue
        gap = max(after, piece.before) if placed else 0.0
        high = piece.height(width)
        needed = high + _followed(pieces, place, width) if piece.with_next else high
        if used + gap + needed <= room + 0.01 or (piece.with_next and not placed and high <= room):
            placed.append((piece, used + gap))
            used += gap + high
            after = piece.after
            continue
        lower = piece.squeezed(room - used - gap - (needed - high))
        if lower is not None:
            lower.at = piece.at
            placed.append((lower, used + gap))
            used += gap + lower.height(width)
            after = lower.after
            continue
        parts = None
        if not piece.with_next and not (piece.whole and high <= fresh):
            parts = piece.split(width, room - used - gap, fresh)
        if parts is not None:
            placed.append((parts[0], used + gap))
            used += gap + parts[0].height(width)
            parts[0].at = parts[1].at = piece.at
            return placed, [parts[1], *pieces[place + 1 :]], used
        if not placed and room >= fresh - 0.01:
            return [(piece, 0.0)], list(pieces[place + 1 :]), high
        return placed, list(pieces[place:]), used
    return placed, [], used


def _followed(pieces: Sequence[Piece], place: int, width: float) -> float:
    """The height that must still fit below a piece that may not be the last in its column."""
    total = 0.0
    for earlier, piece in zip(pieces[place:], pieces[place + 1 :], strict=False):
        if isinstance(piece, PageStart):
            break
        total += max(earlier.after, piece.before)
        if not piece.with_next:
            return total + (piece.height(width) if piece.whole else piece.least(width))
        total += piece.height(width)
    return total


def draw_placed(pen: Pen, placed: Placed, x: float, top: float, width: float) -> None:
    """Draw a filled column."""
    for piece, down in placed:
        piece.draw(pen, x, top - down, width)


class PageStart(Piece):
    """What follows starts a column."""

    def height(self, width: float) -> float:
        return 0.0

    def draw(self, pen: Pen, x: float, top: float, width: float) -> None:
        return


@dataclass
class Gap(Piece):
    """White space that stands for a pause."""

    tall: float

    def height(self, width: float) -> float:
        return self.tall

    def draw(self, pen: Pen, x: float, top: float, width: float) -> None:
        return


def baseline(top: float, type_: Type) -> float:
    """Where the first line's letters stand when its leading starts at ``top``."""
    return top - type_.leading / 2 - type_.size * 0.355


def draw_line(pen: Pen, line: Sequence[Run], x: float, y: float, size: float, colour: str) -> None:
    """Draw runs from (x, y) on; signs that the type lacks are drawn as lines with words to be spoken."""
    pending: list[tuple[str, bool, str]] = []
    start = x
    for run in line:
        ink = ACCENT if run.link else colour
        text = run.text
        while text:
            cut = next((place for place, letter in enumerate(text) if letter in DRAWN), len(text))
            if cut:
                pending.append((text[:cut], run.strong, ink))
                x += width_of(text[:cut], run.strong, size)
            text = text[cut:]
            if text:
                if pending:
                    pen.words(start, y, pending, size)
                with pen.spoken(SPOKEN[text[0]] + " "):
                    draw_sign(pen.canvas, text[0], x, y, size, HexColor(ink))
                x += size
                text, pending, start = text[1:], [], x
    if pending:
        pen.words(start, y, pending, size)


@dataclass
class Paragraph(Piece):
    """Words in lines. At a page end at least two lines stand together, before and after.

    Without an ``element`` the words are an artifact (a head that is repeated).
    """

    words: Words
    type: Type
    element: Element | None
    colour: str = INK
    before: float = 0.0
    after: float = 0.0
    with_next: bool = False
    whole: bool = False
    right: bool = False
    order: int = 0
    known: tuple[float, list[TextLine]] | None = None

    def lines(self, width: float) -> list[TextLine]:
        """The lines at this width; once parted, the lines that were dealt out."""
        if self.known is None or (self.known[0] != width and not self.order):
            self.known = (width, break_lines(self.words, self.type.size, width))
        return self.known[1]

    def height(self, width: float) -> float:
        return len(self.lines(width)) * self.type.leading

    def least(self, width: float) -> float:
        count = len(self.lines(width))
        return (count if count <= 3 else 2) * self.type.leading

    def split(self, width: float, room: float, fresh: float) -> tuple[Piece, Piece] | None:
        lines = self.lines(width)
        fits = min(int((room + 0.01) // self.type.leading), len(lines) - 2)
        return self.part(width, fits) if fits >= 2 else None

    def part(self, width: float, fits: int) -> tuple[Paragraph, Paragraph]:
        """The first ``fits`` lines, and the rest."""
        lines = self.lines(width)
        first = replace(self, known=(width, lines[:fits]), after=0.0, order=self.order or 1)
        rest = replace(self, known=(width, lines[fits:]), before=0.0, order=(self.order or 1) + fits)
        return first, rest

    def draw(self, pen: Pen, x: float, top: float, width: float) -> None:
        y = baseline(top, self.type)
        rows: list[tuple[TextLine, float]] = []
        for line in self.lines(width):
            rows.append((line, y))
            y -= self.type.leading
        if self.element is None:
            with pen.artifact():
                for line, at in rows:
                    draw_line(pen, line.runs, self._left(line, x, width), at, self.type.size, self.colour)
        elif any(run.link for line, _ in rows for run in line.runs):
            self._draw_linked(pen, rows, x, width)
        elif rows:
            with pen.marked(self.element, self.order):
                for line, at in rows:
                    draw_line(pen, line.runs, self._left(line, x, width), at, self.type.size, self.colour)

    def _left(self, line: TextLine, x: float, width: float) -> float:
        return x + width - line.width if self.right else x

    def _draw_linked(self, pen: Pen, rows: list[tuple[TextLine, float]], x: float, width: float) -> None:
        """Each stretch of words in its own mark, so that a link holds its words and its rectangle."""
        assert self.element is not None
        size = self.type.size
        for number, (line, y) in enumerate(rows):
            left = self._left(line, x, width)
            for run in line.runs:
                wide = width_of(run.text, run.strong, size)
                if run.link:
                    element = self.element.child("Link", self.order + number)
                    with pen.marked(element):
                        draw_line(pen, [run], left, y, size, self.colour)
                    box = (left, y - size * 0.25, left + wide, y + size * 0.85)
                    pen.link(element, box, run.link, run.text.strip() or run.link)
                else:
                    with pen.marked(self.element, self.order + number):
                        draw_line(pen, [run], left, y, size, self.colour)
                left += wide


Decoration = Callable[[Pen, float, float, float, bool], None]


@dataclass
class Stack(Piece):
    """Pieces under one another, set in from the left, with something drawn beside them.

    ``beside`` is called with the pen, the left edge, top, height, and whether this is the first part.
    ``repeated`` makes the head of a later part; ``warns`` is the heading of a caution.
    """

    pieces: list[Piece]
    inset: float = 0.0
    before: float = 0.0
    after: float = 0.0
    whole: bool = False
    with_next: bool = False
    beside: Decoration | None = None
    repeated: Callable[[], Piece] | None = None
    warns: str = ""
    first: bool = True
    tail: bool = False  # the last piece never stands alone on a later part

    def height(self, width: float) -> float:
        return fill(self.pieces, width - self.inset, 1e9, 1e9)[2]

    def least(self, width: float) -> float:
        inner = width - self.inset
        lead = self.pieces[0]
        return lead.height(inner) + _followed(self.pieces, 0, inner) if lead.with_next else lead.least(inner)

    def split(self, width: float, room: float, fresh: float) -> tuple[Piece, Piece] | None:
        placed, rest, _ = fill(self.pieces, width - self.inset, room, fresh)
        if not placed or not rest:
            return None
        if self.tail and len(rest) == 1:
            inner, (last, _) = width - self.inset, placed.pop()
            parts = last.split(inner, last.height(inner), fresh)
            rest = [*(parts[1:] if parts else (last,)), *rest]
            placed += [(parts[0], 0.0)] if parts else []
            for part in parts or ():
                part.at = last.at
        if all(piece.with_next for piece, _ in placed):
            return None
        later = [self.repeated(), *rest] if self.repeated else rest
        taken = [piece for piece, _ in placed]
        return replace(self, pieces=taken, after=0.0), replace(self, pieces=later, before=0.0, first=False)

    def draw(self, pen: Pen, x: float, top: float, width: float) -> None:
        placed, _, used = fill(self.pieces, width - self.inset, 1e9, 1e9)
        if self.beside is not None:
            self.beside(pen, x, top, used, self.first)
        draw_placed(pen, placed, x + self.inset, top, width - self.inset)
