"""Blocks in, tagged PDF out; nothing here knows brewing.

In: blocks of page text, what the sheet is about, and the setting. Out: the bytes of a PDF whose structure a screen
reader can follow, with all its type embedded; the same bytes for the same input.
"""

from presenter.printing.figures import PictureError
from presenter.printing.fonts import missing_letters
from presenter.printing.sheets import MissingLettersError, SheetAbout, print_sheet
from presenter.printing.style import Setting, SettingError

__all__ = [
    "MissingLettersError",
    "PictureError",
    "Setting",
    "SettingError",
    "SheetAbout",
    "missing_letters",
    "print_sheet",
]
