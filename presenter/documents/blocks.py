"""The blocks that a sheet is made of: what `page_text` reads and `printing` draws.

In: nothing. Out: frozen values that hold words and figures, never ink: no size, colour or place on a page.
Every text is a tuple of :class:`Span`; a body is a tuple of blocks in reading order.
"""

from __future__ import annotations

from dataclasses import dataclass

__all__ = [
    "SCALE_SPAN",
    "AnswerSpace",
    "Axis",
    "Band",
    "Block",
    "Card",
    "Caution",
    "Chart",
    "Heading",
    "Line",
    "ListBlock",
    "Mark",
    "Note",
    "NumberRow",
    "Numbers",
    "PageBreak",
    "Picture",
    "QRCode",
    "Rule",
    "Scale",
    "Small",
    "Span",
    "Table",
    "Text",
    "Words",
    "plain",
]


@dataclass(frozen=True)
class Span:
    """A run of text in one weight. ``link`` is an address; a line break is written ``"\\n"`` in ``text``."""

    text: str
    strong: bool = False
    link: str | None = None


Words = tuple[Span, ...]


def plain(words: Words) -> str:
    """The words without weight or links, a line break as a space."""
    return "".join(span.text for span in words).replace("\n", " ")


@dataclass(frozen=True)
class Heading:
    """A heading of ``level`` 1 to 6. ``number`` is a step's number as printed ("3", "3a"); ``anchor`` an id."""

    level: int
    words: Words
    number: str | None = None
    anchor: str | None = None


@dataclass(frozen=True)
class Text:
    """One paragraph."""

    words: Words


@dataclass(frozen=True)
class ListBlock:
    """A list; each item is a body of its own. ``start`` counts an ordered list's first item."""

    ordered: bool
    items: tuple[tuple[Block, ...], ...]
    start: int = 1


@dataclass(frozen=True)
class Table:
    """A table of one-paragraph cells; every row has as many cells as ``header``.

    ``widths`` are relative column widths (empty: from the words), ``right`` tells which columns stand at the
    right, ``row_heads`` that the first cell of each row names the row.
    """

    header: tuple[Words, ...]
    rows: tuple[tuple[Words, ...], ...]
    widths: tuple[float, ...] = ()
    right: tuple[bool, ...] = ()
    caption: Words = ()
    row_heads: bool = False


@dataclass(frozen=True)
class Caution:
    """A caution at its place. ``id`` is permanent; ``duty`` is "mandatory" or "advice"; ``at`` "step" or "sheet".

    ``severity`` is one of "never", "danger", "warning", "caution", "notice"; ``heading`` may be empty.
    """

    id: str
    duty: str
    severity: str
    at: str
    heading: Words
    body: tuple[Block, ...]


@dataclass(frozen=True)
class NumberRow:
    """One worked number, already worded. ``key`` marks the number that matters most in its step."""

    label: Words
    value: Words
    give_or_take: Words = ()
    key: bool = False


@dataclass(frozen=True)
class Numbers:
    """Worked numbers. ``head`` words the three columns, or is empty where the sheet has worded them once."""

    rows: tuple[NumberRow, ...]
    head: tuple[Words, Words, Words] | None = None


@dataclass(frozen=True)
class Axis:
    """An axis: what it shows with its unit, and the range to draw (None: from the data)."""

    label: str
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True)
class Line:
    """A course to draw: (across, up) points in order; ``spread`` holds (across, low, high) or is empty."""

    name: str
    points: tuple[tuple[float, float], ...]
    spread: tuple[tuple[float, float, float], ...] = ()


@dataclass(frozen=True)
class Band:
    """A named range of the upright axis, such as the working range of an enzyme."""

    name: str
    low: float
    high: float


@dataclass(frozen=True)
class Mark:
    """A named moment on the level axis, such as the start of a step."""

    name: str
    at: float


@dataclass(frozen=True)
class Chart:
    """A chart of one or more courses. ``says`` is the alternative text: what the chart shows, in words.

    ``size`` is "ordinary" (part of a page) or "wall" (as much of the page as there is).
    """

    says: str
    across: Axis
    up: Axis
    lines: tuple[Line, ...]
    bands: tuple[Band, ...] = ()
    marks: tuple[Mark, ...] = ()
    caption: Words = ()
    size: str = "ordinary"


@dataclass(frozen=True)
class AnswerSpace:
    """Room to write: ``lines`` ruled lines, or a field of ``squares`` (across, down). ``marks`` is worded."""

    lines: int = 0
    squares: tuple[int, int] | None = None
    marks: Words = ()


@dataclass(frozen=True)
class Note:
    """A science or history note. ``evidence`` and ``confidence`` are words for the reader, possibly empty."""

    kind: str
    title: Words
    evidence: Words
    confidence: Words
    body: tuple[Block, ...]
    sources: Words = ()


@dataclass(frozen=True)
class Picture:
    """A picture file; ``says`` is its alternative text."""

    path: str
    says: str
    caption: Words = ()


@dataclass(frozen=True)
class QRCode:
    """A code for ``address``, which is printed beside it in full under ``words``."""

    address: str
    words: Words = ()


SCALE_SPAN = 0.03  # gravity that a drawn stem shows


@dataclass(frozen=True)
class Scale:
    """The stem of a hydrometer in a liquid: a mark every 0.001 from ``low`` on, the surface at ``reading``."""

    says: str
    label: str
    low: float
    reading: float


@dataclass(frozen=True)
class Small:
    """A body in the smallest type of the page: lists that are looked up, such as sources."""

    body: tuple[Block, ...]


@dataclass(frozen=True)
class Card:
    """A card to cut out: ``front`` and ``back`` are bodies; the back may be empty."""

    front: tuple[Block, ...]
    back: tuple[Block, ...] = ()


@dataclass(frozen=True)
class Rule:
    """A pause between parts."""


@dataclass(frozen=True)
class PageBreak:
    """What follows starts a page."""


Block = (
    Heading
    | Text
    | ListBlock
    | Table
    | Caution
    | Numbers
    | Chart
    | AnswerSpace
    | Note
    | Picture
    | QRCode
    | Card
    | Small
    | Scale
    | Rule
    | PageBreak
)
