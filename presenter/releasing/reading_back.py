"""Read a printed sheet back as a reader sees it: only letters that are large enough and dark enough count.

In: the bytes of a PDF. Out: its visible text in reading order, white space folded.
"""

from __future__ import annotations

import io
import re
from typing import Any

import pypdf

__all__ = ["SMALLEST_TYPE", "folded", "visible_text"]

SMALLEST_TYPE = 8.0  # points; anything smaller is not there for a reader
LIGHTEST = 0.75  # of white; anything lighter is not there on a black-and-white copy


def folded(text: str) -> str:
    """``text`` without white space and soft hyphens, so that a line broken anywhere reads as it was written."""
    return re.sub(r"\s+", "", text.replace("\u00ad", "").replace("\u00a0", ""))


class _Eye:
    """Gathers what is drawn in type that can be read."""

    def __init__(self) -> None:
        self.parts: list[str] = []
        self.lightness = 0.0
        self.stack: list[float] = []
        self.hidden = False

    def operand(self, operator: bytes, operands: Any, _cm: Any, _tm: Any) -> None:
        name = operator.decode("latin-1") if isinstance(operator, bytes) else str(operator)
        if name == "q":
            self.stack.append(self.lightness)
        elif name == "Q" and self.stack:
            self.lightness = self.stack.pop()
        elif name == "g":
            self.lightness = float(operands[0])
        elif name == "rg":
            red, green, blue = (float(value) for value in operands[:3])
            self.lightness = 0.2126 * red + 0.7152 * green + 0.0722 * blue
        elif name == "k":
            cyan, magenta, yellow, black = (float(value) for value in operands[:4])
            self.lightness = max(0.0, 1 - black - (cyan + magenta + yellow) / 3)
        elif name == "Tr":
            self.hidden = int(operands[0]) in {3, 7}

    def text(self, text: str, cm: Any, tm: Any, _font: Any, size: Any) -> None:
        if not text or self.hidden or self.lightness > LIGHTEST:
            return
        scale = abs(float(tm[3] or tm[0])) * abs(float(cm[3] or cm[0]))
        if text.strip() and abs(float(size or 0)) * scale < SMALLEST_TYPE:
            return
        self.parts.append(text)


def visible_text(pdf: bytes) -> str:
    """The text of every page that a reader can see, in order, folded."""
    pages = []
    for page in pypdf.PdfReader(io.BytesIO(pdf)).pages:
        eye = _Eye()
        page.extract_text(visitor_operand_before=eye.operand, visitor_text=eye.text)
        pages.append("".join(eye.parts))
    return folded("\n".join(pages))
