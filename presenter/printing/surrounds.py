"""What stands beside pieces: the bar and sign of a caution, the hairline of a note, the label of a list item.

In: the pen and the place of the part that is drawn. Out: strokes. Bars and signs are artifacts: the words beside
them say the same. Labels are read.
"""

from __future__ import annotations

from dataclasses import dataclass

from reportlab.lib.colors import HexColor

from presenter.documents.blocks import Caution, Span, Words
from presenter.printing.pieces import baseline
from presenter.printing.style import ACCENT, CAUTION_RULES, HAIRLINE, INK, SEVERITY_WORDS, Type
from presenter.printing.symbols import severity_sign
from presenter.printing.tagging import Element, Pen

__all__ = ["CautionSide", "ItemSide", "NoteSide", "caution_heading"]


def caution_heading(block: Caution) -> Words:
    """The severity's word, then the caution's own heading if it has one."""
    word = SEVERITY_WORDS[block.severity]
    return (Span(f"{word}: "), *block.heading) if block.heading else (Span(word),)


@dataclass(frozen=True)
class CautionSide:
    """A bar as thick as the caution is severe, and its sign at the first line of every part."""

    severity: str
    type: Type

    @property
    def sign(self) -> float:
        """The size of the sign."""
        return self.type.leading * 1.25

    @property
    def inset(self) -> float:
        """How far the words stand from the left edge."""
        bar = CAUTION_RULES["never"]
        return bar + self.type.size * 0.7 + self.sign + self.type.size * 0.5

    def __call__(self, pen: Pen, x: float, top: float, tall: float, first: bool) -> None:
        bar = CAUTION_RULES[self.severity]
        with pen.artifact():
            pen.canvas.saveState()
            pen.canvas.setFillColor(HexColor(ACCENT))
            pen.canvas.rect(x, top - tall, bar, tall, stroke=0, fill=1)
            pen.canvas.restoreState()
            left = x + CAUTION_RULES["never"] + self.type.size * 0.7
            low = top - self.type.leading / 2 - self.sign / 2
            severity_sign(pen.canvas, self.severity, left, low, self.sign, HexColor(INK))


@dataclass(frozen=True)
class NoteSide:
    """A hairline at the left of a note."""

    inset = 14.0

    def __call__(self, pen: Pen, x: float, top: float, tall: float, first: bool) -> None:
        with pen.artifact():
            pen.canvas.saveState()
            pen.canvas.setStrokeColor(HexColor(HAIRLINE))
            pen.canvas.setLineWidth(0.75)
            pen.canvas.line(x + 0.5, top, x + 0.5, top - tall)
            pen.canvas.restoreState()


@dataclass(frozen=True)
class ItemSide:
    """The bullet or number of a list item, beside its first line."""

    label: str
    element: Element
    type: Type

    def __call__(self, pen: Pen, x: float, top: float, tall: float, first: bool) -> None:
        if first:
            with pen.marked(self.element):
                pen.words(x, baseline(top, self.type), [(self.label + " ", False, INK)], self.type.size)
