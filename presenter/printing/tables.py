"""Tables: columns as wide as their words ask for, level rules only, the head repeated on each page.

In: rows of cells and their elements. Out: a piece that is parted between rows, and inside a row only when the row
is taller than a page. Repeated heads and all rules are artifacts.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from presenter.printing.lines import longest_word, natural_width
from presenter.printing.pieces import Paragraph, Piece
from presenter.printing.style import HAIRLINE, INK
from presenter.printing.tagging import Pen

__all__ = ["Rows", "column_widths"]

Row = list[Paragraph]


def column_widths(rows: Sequence[Row], width: float, gap: float, hints: Sequence[float] = ()) -> list[float]:
    """The width of each column, without the gaps: from the hints if every word fits, or from the words.

    Every column gets its widest word where that is possible; what is left is shared by what the words would like.
    """
    count = len(rows[0])
    room = width - gap * (count - 1)
    columns = list(zip(*rows, strict=True))
    least = [
        min(max(longest_word(cell.words, cell.type.size) for cell in column) + 1, room * 0.6) for column in columns
    ]
    hinted = [room * hint / sum(hints) for hint in hints]
    if hinted and all(wide >= low - 1 for wide, low in zip(hinted, least, strict=True)):
        return hinted
    wished = [max(natural_width(cell.words, cell.type.size) for cell in column) + 1 for column in columns]
    if sum(wished) <= room:
        spare = room - sum(wished)
        return [wide + spare * wide / sum(wished) for wide in wished]
    if sum(least) >= room:
        return [room * wide / sum(least) for wide in least]
    over = [min(wish, room) - low for wish, low in zip(wished, least, strict=True)]
    spare = room - sum(least)
    return [low + spare * more / (sum(over) or 1) for low, more in zip(least, over, strict=True)]


@dataclass
class Rows(Piece):
    """A table or the part of one that stands on a page. ``head`` may be empty; ``pad`` is above and below words."""

    head: Row
    rows: list[Row]
    hints: tuple[float, ...]
    gap: float
    pad: float
    unit: float
    before: float = 0.0
    after: float = 0.0
    whole: bool = False
    continued: bool = False
    widths: list[float] | None = None

    def _widths(self, width: float) -> list[float]:
        if self.widths is None:
            rows = [self.head, *self.rows] if self.head else self.rows
            self.widths = column_widths(rows, width, self.gap, self.hints)
        return self.widths

    def _tall(self, row: Row, width: float) -> float:
        if not row:
            return 0.0
        cells = zip(row, self._widths(width), strict=True)
        high = max(cell.height(wide) for cell, wide in cells)
        return max(high, row[0].type.leading) + 2 * self.pad

    def height(self, width: float) -> float:
        return self._tall(self.head, width) + sum(self._tall(row, width) for row in self.rows)

    def least(self, width: float) -> float:
        return self._tall(self.head, width) + sum(self._tall(row, width) for row in self.rows[:2])

    def split(self, width: float, room: float, fresh: float) -> tuple[Piece, Piece] | None:
        used = head = self._tall(self.head, width)
        for place, row in enumerate(self.rows):
            tall = self._tall(row, width)
            if used + tall <= room + 0.01:
                used += tall
                continue
            if tall > fresh - head:
                parts = self._parted(row, width, room - used - 2 * self.pad)
                if parts is not None:
                    return self._halves([*self.rows[:place], parts[0]], [parts[1], *self.rows[place + 1 :]])
            if place == len(self.rows) - 1 and place > 2:
                place -= 1  # no row alone on the last page
            if place == 0 or (place == 1 and len(self.rows) > 2 and not self.continued and room < fresh):
                return None
            return self._halves(self.rows[:place], self.rows[place:])
        return None

    def _halves(self, first: list[Row], rest: list[Row]) -> tuple[Rows, Rows]:
        repeated = [replace(cell, element=None, known=None) for cell in self.head]
        return (
            replace(self, rows=first, after=0.0),
            replace(self, head=repeated, rows=rest, before=0.0, continued=True),
        )

    def _parted(self, row: Row, width: float, room: float) -> tuple[Row, Row] | None:
        fits = int(room // row[0].type.leading)
        if fits < 2:
            return None
        pairs = [cell.part(wide, fits) for cell, wide in zip(row, self._widths(width), strict=True)]
        return [first for first, _ in pairs], [rest for _, rest in pairs]

    def draw(self, pen: Pen, x: float, top: float, width: float) -> None:
        top = self._row(pen, self.head, x, top, width)
        with pen.artifact():
            pen.rule(x, top, width, 1.0 if self.head else 0.5, INK if self.head else HAIRLINE)
        for place, row in enumerate(self.rows):
            top = self._row(pen, row, x, top, width)
            last = place == len(self.rows) - 1
            with pen.artifact():
                pen.rule(x, top, width, 0.5, INK if last and self.head else HAIRLINE)

    def _row(self, pen: Pen, row: Row, x: float, top: float, width: float) -> float:
        for cell, wide in zip(row, self._widths(width) if row else (), strict=True):
            cell.draw(pen, x, top - self.pad, wide)
            x += wide + self.gap
        return top - self._tall(row, width)
