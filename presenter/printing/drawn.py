"""Blocks that are drawn, as pieces: charts, instruments to read, pictures, codes, room to write.

In: a block, the flow of its sheet, and the element it belongs to. Out: pieces in reading order.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.graphics.shapes import Drawing

from presenter.documents import blocks as b
from presenter.documents.blocks import Span, Words
from presenter.printing import figures
from presenter.printing.charts import chart_drawing
from presenter.printing.fonts import clean
from presenter.printing.lines import strong
from presenter.printing.pieces import Piece, Stack
from presenter.printing.scales import scale_drawing
from presenter.printing.style import QUIET
from presenter.printing.tagging import Element

if TYPE_CHECKING:
    from presenter.printing.flow import Flow

__all__ = ["answer_pieces", "chart_pieces", "code_pieces", "picture_pieces", "scale_pieces"]

_MILLIMETRE = 72 / 25.4


def _caption(flow: Flow, words: Words, parent: Element) -> list[Piece]:
    if not words:
        return []
    return [flow.paragraph(words, parent.child("P"), flow.style.small, colour=QUIET, before=flow.style.unit * 2)]


def chart_pieces(flow: Flow, block: b.Chart, parent: Element) -> list[Piece]:
    half = flow.style.body.leading / 2
    wide = flow.style.column
    tall = min(wide * 0.56, flow.style.depth * 0.6)
    if block.size != "ordinary":
        tall = flow.style.depth * {"half": 0.44, "wall": 0.76}[block.size]
    drawing = chart_drawing(block, wide, tall, flow.style.small)
    element = parent.child("Figure", alternative=clean(block.says))
    small = flow.style.small

    def redraw(lower: float) -> Drawing:
        return chart_drawing(block, wide, lower, small)

    figure = figures.Drawn(drawing, element, wide, tall, half, half, bool(block.caption), redraw)
    return [figure, *_caption(flow, block.caption, parent)]


def scale_pieces(flow: Flow, block: b.Scale, parent: Element) -> list[Piece]:
    half = flow.style.body.leading / 2
    drawing = scale_drawing(block, flow.style.small)
    element = parent.child("Figure", alternative=clean(block.says))
    return [figures.Drawn(drawing, element, drawing.width, drawing.height, half, half, with_next=True)]


def picture_pieces(flow: Flow, block: b.Picture, parent: Element) -> list[Piece]:
    half = flow.style.body.leading / 2
    data = figures.read_picture(block.path, flow.folder)
    element = parent.child("Figure", alternative=clean(block.says))
    most = flow.style.depth * 0.6
    figure = figures.Pixels.of(
        data, element, flow.style.column, most, before=half, after=half, with_next=bool(block.caption)
    )
    return [figure, *_caption(flow, block.caption, parent)]


def code_pieces(flow: Flow, block: b.QRCode, parent: Element) -> list[Piece]:
    side = min(flow.style.column, max(30 * _MILLIMETRE, len(figures.code_modules(block.address)) * 2.4))
    element = parent.child("Figure", alternative=f"Code to scan: leads to {block.address}")
    half = flow.style.body.leading / 2
    made: list[Piece] = [figures.Code(block.address, element, side, side, half, half * 2)]
    if block.words:
        made.append(flow.paragraph(block.words, parent.child("P"), with_next=True, after=0.0))
    link = (Span(block.address, False, block.address),)
    made.append(flow.paragraph(link, parent.child("P"), before=0.0))
    return [Stack(made, whole=True, before=half, after=half)]


def answer_pieces(flow: Flow, block: b.AnswerSpace, parent: Element) -> list[Piece]:
    half, unit = flow.style.body.leading / 2, flow.style.unit
    made: list[Piece] = []
    if block.marks:
        marks = flow.paragraph(strong(block.marks), parent.child("P"), right=True, with_next=True)
        marks.before = marks.after = 0.0
        made.append(marks)
    if block.squares:
        side = 5 * _MILLIMETRE
        down = min(block.squares[1], int(flow.style.depth * 0.85 // side))
        return [*made, figures.WritingSquares(block.squares[0], down, side, half, half)]
    pitch = max(8.5 * _MILLIMETRE, flow.style.body.leading * 1.25) // unit * unit
    return [*made, figures.WritingLines(block.lines, pitch, 0.0, half * 2)]
