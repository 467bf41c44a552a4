"""Figures and fields: charts, pictures, codes to scan, room to write.

In: the block and the element it belongs to. Out: pieces of a column. A figure is one mark with its alternative
text and its rectangle; ruled lines and squares are artifacts.
"""

from __future__ import annotations

import io
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from PIL import Image, ImageOps, UnidentifiedImageError
from reportlab.graphics import renderPDF
from reportlab.graphics.barcode.qrencoder import QRCode as QRCodeMaker
from reportlab.graphics.barcode.qrencoder import QRErrorCorrectLevel
from reportlab.lib.colors import HexColor
from reportlab.lib.utils import ImageReader

from presenter.printing.pieces import Piece
from presenter.printing.style import HAIRLINE, INK
from presenter.printing.tagging import Element, Pen
from presenter.problems import BrewingPresenterError

__all__ = ["Code", "Drawn", "PictureError", "Pixels", "WritingLines", "WritingSquares", "code_modules", "read_picture"]

_LOWEST = 0.66  # of a chart's height; lower than that it goes on to the next page
_MOST_PIXELS = 50_000_000
_PRINTED_PIXELS = 2400


class PictureError(BrewingPresenterError):
    """A picture that is missing or is not a picture; the message names it. ``path`` is as the author wrote it."""

    def __init__(self, path: str, wrong: str) -> None:
        self.path = path
        super().__init__(f"The picture '{path}' {wrong}.")


def read_picture(path: str, folder: Path) -> bytes:
    """The picture ``path`` in ``folder`` as a PNG on white, upright, no finer than print can show."""
    place = folder / path
    try:
        with Image.open(place) as opened:
            if opened.width * opened.height > _MOST_PIXELS:
                raise PictureError(path, "has more than 50 million pixels; save it smaller")
            upright = ImageOps.exif_transpose(opened).convert("RGBA")
    except FileNotFoundError:
        raise PictureError(path, "is not there") from None
    except UnidentifiedImageError:
        raise PictureError(path, "is not a picture that can be read; PNG and JPEG can") from None
    except (OSError, ValueError, SyntaxError, Image.DecompressionBombError):
        raise PictureError(path, "cannot be opened as a picture; the file may be damaged") from None
    upright.thumbnail((_PRINTED_PIXELS, _PRINTED_PIXELS))
    flat = Image.new("RGB", upright.size, "white")
    flat.paste(upright, mask=upright.getchannel("A"))
    out = io.BytesIO()
    flat.save(out, "PNG")
    return out.getvalue()


class _Figure(Piece):
    """A piece that is one figure of a fixed size."""

    element: Element
    wide: float
    tall: float

    def height(self, width: float) -> float:
        return self.tall * min(1.0, width / self.wide)

    def draw(self, pen: Pen, x: float, top: float, width: float) -> None:
        scale = min(1.0, width / self.wide)
        low = top - self.tall * scale
        self.element.box = (x, low, x + self.wide * scale, top)
        with pen.marked(self.element):
            pen.canvas.saveState()
            pen.canvas.translate(x, low)
            pen.canvas.scale(scale, scale)
            self.ink(pen)
            pen.canvas.restoreState()

    def ink(self, pen: Pen) -> None:
        """Draw from the origin."""
        raise NotImplementedError


@dataclass
class Drawn(_Figure):
    """A vector drawing; ``redraw`` makes it anew at another height, its words as large as before."""

    drawing: Any
    element: Element
    wide: float
    tall: float
    before: float = 0.0
    after: float = 0.0
    with_next: bool = False
    redraw: Callable[[float], Any] | None = None

    def squeezed(self, room: float) -> Piece | None:
        if self.redraw is None or not self.tall * _LOWEST <= room < self.tall:
            return None
        return replace(self, drawing=self.redraw(room), tall=room)

    def ink(self, pen: Pen) -> None:
        renderPDF.draw(self.drawing, pen.canvas, 0, 0)


@dataclass
class Pixels(_Figure):
    """A picture, as wide as the column allows and no taller than ``most``."""

    data: bytes
    element: Element
    wide: float
    tall: float
    before: float = 0.0
    after: float = 0.0
    with_next: bool = False

    @classmethod
    def of(cls, data: bytes, element: Element, column: float, most: float, **more: Any) -> Pixels:
        """Fit a picture: at most 150 points per printed inch fewer pixels stay small instead of coarse."""
        with Image.open(io.BytesIO(data)) as picture:
            across, down = picture.size
        scale = min(column / across, most / down, 72 / 100)
        return cls(data, element, across * scale, down * scale, **more)

    def ink(self, pen: Pen) -> None:
        pen.canvas.drawImage(ImageReader(io.BytesIO(self.data)), 0, 0, self.wide, self.tall)


def code_modules(address: str) -> list[list[bool]]:
    """The dark squares of the code for ``address``, row by row (ISO/IEC 18004, error correction level M)."""
    maker = QRCodeMaker(None, QRErrorCorrectLevel.M)
    maker.addData(address)
    maker.make()
    return [[bool(dark) for dark in row] for row in maker.modules]


@dataclass
class Code(_Figure):
    """A code to scan. At the left the margin of the page is the quiet space that a reader needs."""

    address: str
    element: Element
    wide: float
    tall: float
    before: float = 0.0
    after: float = 0.0

    def ink(self, pen: Pen) -> None:
        rows = code_modules(self.address)
        side = self.wide / len(rows)
        pen.canvas.setFillColor(HexColor(INK))
        for down, row in enumerate(rows):
            start = None
            for across, dark in enumerate([*row, False]):
                if dark and start is None:
                    start = across
                elif not dark and start is not None:
                    low = self.tall - (down + 1) * side
                    pen.canvas.rect(start * side, low, (across - start) * side, side, stroke=0, fill=1)
                    start = None


@dataclass
class WritingLines(Piece):
    """Ruled lines to write on, ``pitch`` apart: with their question and on one page wherever a page holds them."""

    count: int
    pitch: float
    before: float = 0.0
    after: float = 0.0
    whole: bool = True

    def height(self, width: float) -> float:
        return self.count * self.pitch

    def least(self, width: float) -> float:
        return min(self.count, 2) * self.pitch

    def split(self, width: float, room: float, fresh: float) -> tuple[Piece, Piece] | None:
        fits = min(int(room // self.pitch), self.count - 1)
        if fits < 2:
            return None
        return replace(self, count=fits), replace(self, count=self.count - fits, before=0.0)

    def draw(self, pen: Pen, x: float, top: float, width: float) -> None:
        with pen.artifact():
            for line in range(1, self.count + 1):
                pen.rule(x, top - line * self.pitch + 0.5, width, 0.6, HAIRLINE)


@dataclass
class WritingSquares(Piece):
    """Squares of five millimetres to draw a graph in; no wider than the column."""

    across: int
    down: int
    side: float
    before: float = 0.0
    after: float = 0.0

    def height(self, width: float) -> float:
        return self.down * self.side

    def draw(self, pen: Pen, x: float, top: float, width: float) -> None:
        across = min(self.across, int(width // self.side))
        with pen.artifact():
            pen.canvas.saveState()
            pen.canvas.setStrokeColor(HexColor(HAIRLINE))
            pen.canvas.setLineWidth(0.4)
            for line in range(self.down + 1):
                y = top - line * self.side
                pen.canvas.line(x, y, x + across * self.side, y)
            for line in range(across + 1):
                left = x + line * self.side
                pen.canvas.line(left, top, left, top - self.down * self.side)
            pen.canvas.restoreState()
