"""The stem of a hydrometer as it stands in a liquid, to be read off.

In: a :class:`~presenter.documents.blocks.Scale`. Out: a reportlab drawing. Numbers grow downwards, as on the glass; the
liquid is a tint below one firm line, so a copier keeps it.
"""

from __future__ import annotations

from reportlab.graphics.shapes import Drawing, Line, Rect, String
from reportlab.lib.colors import HexColor

from presenter.documents.blocks import SCALE_SPAN, Scale
from presenter.printing.fonts import REGULAR, clean
from presenter.printing.style import GROUND, INK, QUIET, SHADE, Type

__all__ = ["scale_drawing"]

_STEP = 0.001
_MARKS = round(SCALE_SPAN / _STEP)


def scale_drawing(scale: Scale, type_: Type) -> Drawing:
    """The stem, its marks and the liquid's surface, the words in ``type_``."""
    size = type_.size
    pitch = size * 0.52
    tall, wide = pitch * _MARKS + size * 2.4, size * 19
    stem, breadth = size * 5.5, size * 2.2
    first = tall - size * 1.2
    drawing = Drawing(wide, tall)

    def down(value: float) -> float:
        return first - (value - scale.low) / _STEP * pitch

    ink = HexColor(INK)
    surface = down(scale.reading)
    drawing.add(Rect(0, 0, wide, surface, fillColor=HexColor(SHADE), strokeColor=None))
    drawing.add(Rect(stem, 0, breadth, tall, fillColor=HexColor(GROUND), strokeColor=ink, strokeWidth=1.0))
    for mark in range(_MARKS + 1):
        y = first - mark * pitch
        share = 0.75 if mark % 10 == 0 else 0.5 if mark % 5 == 0 else 0.28
        thick = 1.1 if mark % 5 == 0 else 0.6
        drawing.add(Line(stem, y, stem + breadth * share, y, strokeColor=ink, strokeWidth=thick))
        if mark % 10 == 0:
            word = f"{scale.low + mark * _STEP:.3f}"
            drawing.add(
                String(stem - size * 0.5, y - size * 0.35, word, fontName=REGULAR, fontSize=size, fillColor=ink,
                       textAnchor="end")
            )  # fmt: skip
    for left, right in ((0.0, stem), (stem + breadth, wide)):
        drawing.add(Line(left, surface, right, surface, strokeColor=ink, strokeWidth=1.6))
    drawing.add(
        String(stem + breadth + size, surface - size * 1.3, clean(scale.label), fontName=REGULAR, fontSize=size,
               fillColor=HexColor(QUIET))
    )  # fmt: skip
    return drawing
