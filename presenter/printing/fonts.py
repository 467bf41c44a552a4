"""The two weights of type, embedded, and the letters they lack.

In: words. Out: their width, or the letters that could not be printed. The type is Roboto (Apache licence), as
packaged by ``font-roboto``; it has the letters that scholars need (thorn, wynn, yogh, transliteration, Greek,
Cyrillic). A few signs that it lacks are drawn by `symbols`.
"""

from __future__ import annotations

import unicodedata
from functools import cache

import font_roboto
from reportlab.graphics import shapes
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from presenter.printing.symbols import DRAWN

__all__ = ["BOLD", "REGULAR", "clean", "font_of", "missing_letters", "ready", "width_of"]

REGULAR = "SheetRegular"
BOLD = "SheetBold"
_DROPPED = dict.fromkeys(map(ord, "\u00ad\u200c\u200d\u2060\ufeff\ufe0e\ufe0f"))
_DROPPED[0x200B] = None
_SPACES = dict.fromkeys(
    (
        code
        for code in (*range(0x2000, 0x200B), 0x1680, 0x205F, 0x3000, 9, 11, 12, 13, 0x85, 0x2028, 0x2029)
        if code != 0x2007
    ),
    " ",
)
_SPACES.update({0x2007: "\u00a0", 0x202F: "\u00a0"})


@cache
def ready() -> None:
    """Register the type once, also as what the graphics library falls back on (else Helvetica creeps in)."""
    for name, file in ((REGULAR, font_roboto.Roboto), (BOLD, font_roboto.RobotoBold)):
        pdfmetrics.registerFont(TTFont(name, file))
    shapes.STATE_DEFAULTS["fontName"] = REGULAR


def font_of(strong: bool) -> str:
    """The name of the weight."""
    return BOLD if strong else REGULAR


def clean(text: str) -> str:
    """``text`` composed (NFC), without invisible joiners, and with every odd space as a plain or no-break one."""
    return unicodedata.normalize("NFC", text).translate(_DROPPED).translate(_SPACES)


def width_of(text: str, strong: bool, size: float) -> float:
    """The width of ``text`` in points; drawn signs are one em wide."""
    ready()
    signs = sum(letter in DRAWN for letter in text)
    if signs:
        text = "".join(letter for letter in text if letter not in DRAWN)
    return float(pdfmetrics.stringWidth(text, font_of(strong), size)) + signs * size


@cache
def _letters() -> frozenset[int]:
    ready()
    both = (set(pdfmetrics.getFont(name).face.charToGlyph) for name in (REGULAR, BOLD))
    return frozenset(set.intersection(*both))


def missing_letters(text: str) -> tuple[str, ...]:
    """The letters of ``text`` that no sheet can print, each once, in order of appearance.

    Letters that are written from right to left or joined need a shaping that this printer does not do; the type
    holds none of them, so they are among the missing.
    """
    held = _letters()
    found = (
        letter
        for letter in clean(text)
        if letter != "\n" and letter not in DRAWN and (ord(letter) not in held or ord(letter) < 32)
    )
    return tuple(dict.fromkeys(found))
