"""Heads: the name of a part with its step number, and the number that matters beside it.

In: a heading, perhaps with its key number, and their elements. Out: one piece that is never the last of a column.
The number of a step stands in the margin where the style hangs it there; the key number is the largest thing on
the line and ends at the right edge, with what it is in small type below.
"""

from __future__ import annotations

from dataclasses import dataclass

from presenter.documents.blocks import NumberRow, Span, Words
from presenter.printing.fonts import width_of
from presenter.printing.lines import break_lines, natural_width, strong
from presenter.printing.pieces import Piece, baseline, draw_line
from presenter.printing.style import ACCENT, INK, QUIET, Style, Type
from presenter.printing.tagging import Element, Pen

__all__ = ["Head", "KeyNumber", "key_label"]


def key_label(row: NumberRow) -> Words:
    """What a key number is, with its give-or-take."""
    return (*row.label, Span(", "), *row.give_or_take) if row.give_or_take else row.label


@dataclass
class KeyNumber(Piece):
    """A value in the largest type with its label below, both at the right edge or both at the left; or, ``along``,
    the value with its label to its right."""

    row: NumberRow
    value_element: Element
    label_element: Element
    type: Type
    small: Type
    right: bool = False
    before: float = 0.0
    after: float = 0.0
    whole: bool = True
    along: bool = False

    def _beside(self, width: float) -> float:
        """The room for a label to the right of its value; none where it would be a narrow column."""
        room = width - natural_width(strong(self.row.value), self.type.size) - self.type.size * 0.35
        return room if self.along and room > width * 0.3 else 0.0

    def natural(self, column: float) -> float:
        """The width it asks for in a column: the value's, or the label's in a third of the column."""
        value = natural_width(strong(self.row.value), self.type.size)
        label = natural_width(key_label(self.row), self.small.size)
        return max(value, min(label, column * 0.5)) + 1

    def height(self, width: float) -> float:
        room = self._beside(width)
        if room:
            return max(
                self.type.leading, len(break_lines(key_label(self.row), self.small.size, room)) * self.small.leading
            )
        values = break_lines(strong(self.row.value), self.type.size, width)
        labels = break_lines(key_label(self.row), self.small.size, width)
        return len(values) * self.type.leading + len(labels) * self.small.leading

    def draw(self, pen: Pen, x: float, top: float, width: float) -> None:
        room = self._beside(width)
        if room:
            self._draw_along(pen, x, top, width, room)
            return
        for words, type_, element, colour in (
            (strong(self.row.value), self.type, self.value_element, INK),
            (key_label(self.row), self.small, self.label_element, QUIET),
        ):
            with pen.marked(element):
                for line in break_lines(words, type_.size, width):
                    left = x + width - line.width if self.right else x
                    draw_line(pen, line.runs, left, baseline(top, type_), type_.size, colour)
                    top -= type_.leading

    def _draw_along(self, pen: Pen, x: float, top: float, width: float, room: float) -> None:
        """The value at the left; its label to its right, the last line on the value's own baseline."""
        low = baseline(top - max(0.0, self.height(width) - self.type.leading), self.type)
        with pen.marked(self.value_element):
            for line in break_lines(strong(self.row.value), self.type.size, width):
                draw_line(pen, line.runs, x, low, self.type.size, INK)
        labels = break_lines(key_label(self.row), self.small.size, room)
        with pen.marked(self.label_element):
            for place, line in enumerate(labels):
                up = (len(labels) - 1 - place) * self.small.leading
                draw_line(pen, line.runs, x + width - room, low + up, self.small.size, QUIET)


@dataclass
class Head(Piece):
    """A heading, or (as a paragraph) the name repeated on a card that goes on."""

    words: Words
    number: str | None
    level: int
    style: Style
    element: Element
    bookmark: str = ""
    key: KeyNumber | None = None
    before: float = 0.0
    after: float = 0.0
    with_next: bool = True

    @property
    def type(self) -> Type:
        """The type of this level: title, heading, and below them the body's in the heavier weight."""
        return (self.style.title, self.style.heading)[self.level - 1] if self.level <= 2 else self.style.body

    def _inset(self) -> float:
        if self.number is None or self.style.hang:
            return 0.0
        return width_of(self.number + "\u00a0\u00a0", True, self.type.size)

    def _split_column(self, width: float) -> tuple[float, float, bool]:
        """The width for the name, the width for the key number, and whether they stand side by side."""
        if self.key is None:
            return width - self._inset(), 0.0, False
        wide = self.key.natural(width)
        if wide > width * 0.5 or self.key.along:
            return width - self._inset(), width, False
        return width - self._inset() - wide - self.style.unit * 4, wide, True

    def _drop(self) -> float:
        """How far the name stands below the top so that it shares the key number's baseline."""
        if self.key is None:
            return 0.0
        return max(0.0, baseline(0, self.type) - baseline(0, self.key.type))

    def height(self, width: float) -> float:
        name, wide, beside = self._split_column(width)
        tall = len(break_lines(strong(self.words), self.type.size, name)) * self.type.leading
        if self.key is None:
            return tall
        if beside:
            return max(tall + self._drop(), self.key.height(wide))
        return tall + self.style.unit + self.key.height(wide)

    def draw(self, pen: Pen, x: float, top: float, width: float) -> None:
        name, wide, beside = self._split_column(width)
        start = top - (self._drop() if beside else 0.0)
        if self.bookmark:
            pen.bookmark(self.bookmark, x, top + self.style.unit * 2)
        tall = len(break_lines(strong(self.words), self.type.size, name)) * self.type.leading
        if self.level == 1 and self.style.hang:
            with pen.artifact():
                pen.rule(x, top + self.style.unit * 2, self.style.title.size * 1.5, self.style.unit, ACCENT)
        with pen.marked(self.element):
            self._name(pen, x, start, name)
        if self.key is not None and beside:
            self.key.right = True
            self.key.draw(pen, x + width - wide, top, wide)
        elif self.key is not None:
            self.key.draw(pen, x, top - tall - self.style.unit, wide)

    def _name(self, pen: Pen, x: float, top: float, width: float) -> None:
        size, y = self.type.size, baseline(top, self.type)
        if self.number is not None:
            wide = width_of(self.number, True, size)
            left = x - self.style.unit * 4 - wide if self.style.hang else x
            pen.words(left, y, [(self.number + " ", True, ACCENT)], size)
        for line in break_lines(strong(self.words), size, width):
            draw_line(pen, line.runs, x + self._inset(), y, size, INK)
            y -= self.type.leading
