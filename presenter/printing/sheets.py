"""Print a sheet: blocks become a tagged PDF.

In: blocks, what the sheet is about, and the setting. Out: the bytes of a PDF, the same for the same input; nothing
is read from the clock. Running heads, feet, page numbers and cut marks are artifacts.
"""

from __future__ import annotations

import dataclasses
import datetime
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from presenter.documents import blocks as b
from presenter.documents.blocks import Block, Span, Words, plain
from presenter.printing.flow import Flow
from presenter.printing.fonts import clean, missing_letters, width_of
from presenter.printing.heads import Head
from presenter.printing.imposition import CardSide, card_sides, cut_marks, lay
from presenter.printing.lines import break_lines, strong
from presenter.printing.pieces import Piece, Placed, draw_line, draw_placed, fill
from presenter.printing.style import QUIET, Setting, Style, card_plan, style_for
from presenter.printing.surrounds import caution_heading
from presenter.printing.tagging import Pen
from presenter.problems import BrewingPresenterError

__all__ = ["MissingLettersError", "SheetAbout", "print_sheet"]


class MissingLettersError(BrewingPresenterError):
    """Letters that the type lacks reached the printer. ``letters`` holds each once."""

    def __init__(self, letters: tuple[str, ...]) -> None:
        self.letters = letters
        named = ", ".join(f"{letter} (U+{ord(letter):04X})" for letter in letters)
        super().__init__(f"No sheet can print these letters, because the type lacks them: {named}.")


@dataclass(frozen=True)
class SheetAbout:
    """What a sheet says of itself.

    ``kind`` is its name in words ("Handout"); ``date`` the lesson's; ``foot`` its version and content mark;
    ``running_head`` stands over each page; pictures are looked for in ``folder``.
    """

    title: str
    author: str
    subject: str
    kind: str
    date: datetime.date
    foot: str = ""
    running_head: str = ""
    language: str = "en-GB"
    folder: Path = Path()


def _drawn(thing: object) -> Iterator[str]:
    """Every text that is drawn."""
    match thing:
        case tuple():
            for part in thing:
                yield from _drawn(part)
        case Span():
            yield thing.text
        case b.Axis():
            yield thing.label
        case b.QRCode():
            yield thing.address
            yield from _drawn(thing.words)
        case b.Line() | b.Band() | b.Mark():
            yield thing.name
        case b.Heading():
            yield thing.number or ""
            yield from _drawn(thing.words)
        case _ if dataclasses.is_dataclass(thing):
            for field in dataclasses.fields(thing):
                yield from _drawn(getattr(thing, field.name))


def _anchors(thing: object) -> Iterator[str]:
    match thing:
        case b.Heading():
            if thing.anchor:
                yield thing.anchor
        case tuple():
            for part in thing:
                yield from _anchors(part)
        case _ if dataclasses.is_dataclass(thing):
            for field in dataclasses.fields(thing):
                yield from _anchors(getattr(thing, field.name))


def print_sheet(blocks: Sequence[Block], about: SheetAbout, setting: Setting) -> bytes:
    """The sheet as a PDF, tagged for screen readers (PDF/UA-1).

    Raises
    ------
    MissingLettersError : the type lacks letters; ask :func:`~presenter.printing.fonts.missing_letters` before.
    PictureError : a picture is missing or is not a picture; the message names it.
    SettingError : a paper, print or layout that there is none of (raised by :class:`Setting`).
    """
    lacking = missing_letters("".join([*_drawn(tuple(blocks)), about.foot, about.running_head]))
    if lacking:
        raise MissingLettersError(lacking)
    style = style_for(setting)
    one_line = [" ".join(clean(text).split()) for text in (about.title, about.author, about.subject)]
    pen = Pen(one_line[0], one_line[1], one_line[2], about.language, about.date)
    flow = Flow(style, about.folder, frozenset(_anchors(tuple(blocks))))
    if setting.layout == "pages":
        _print_pages(blocks, about, pen, flow, style)
    else:
        _print_cards(blocks, about, pen, flow, style, setting)
    return pen.finish(flow.outline)


def _print_pages(blocks: Sequence[Block], about: SheetAbout, pen: Pen, flow: Flow, style: Style) -> None:
    pieces = flow.pieces(blocks, pen.root)
    columns: list[Placed] = []
    while pieces or not columns:
        placed, pieces, _ = fill(pieces, style.column, style.depth, style.depth)
        columns.append(placed)
    for number, placed in enumerate(columns, 1):
        pen.start_page((style.width, style.height))
        head_y = style.height - style.top * 0.55
        _furniture(pen, style, about.running_head, style.left, head_y, style.column, upwards=False)
        draw_placed(pen, placed, style.left, style.height - style.top, style.column)
        _foot(pen, style, about.foot, f"Page {number} of {len(columns)}", style.left, 0.0)
        pen.end_page()


def _furniture(
    pen: Pen, style: Style, text: str, x: float, y: float, width: float, upwards: bool
) -> None:
    """Quiet words of the page itself; ``upwards`` sets the last line at ``y``, else the first."""
    lines = break_lines((Span(text),), style.small.size, width)
    with pen.artifact():
        for place, line in enumerate(lines):
            step = len(lines) - 1 - place if upwards else -place
            draw_line(pen, line.runs, x, y + step * style.small.leading, style.small.size, QUIET)


def _foot(pen: Pen, style: Style, foot: str, count: str, x: float, low: float) -> None:
    """The version at the left and the count at the right of the foot, as large as the smallest type of the page."""
    y = low + style.bottom * 0.45
    wide = width_of(count, False, style.small.size)
    _furniture(pen, style, foot, x, y, style.column - wide - style.unit * 6, upwards=True)
    _furniture(pen, style, count, x + style.column - wide, y, wide + 1, upwards=True)


# --- cards


def _cards_of(blocks: Sequence[Block]) -> list[b.Card]:
    """The cards of a sheet; what stands between card fences becomes cards of its own."""
    cards: list[b.Card] = []
    loose: list[Block] = []
    for block in [*blocks, None]:
        if isinstance(block, b.Card) or block is None:
            if any(not isinstance(part, b.PageBreak | b.Rule) for part in loose):
                cards.append(b.Card(tuple(loose)))
            loose = []
            if block is not None:
                cards.append(block)
        else:
            loose.append(block)
    return cards


def _continued(card: b.Card, flow: Flow) -> list[Piece]:
    """What a card that goes on repeats: the step's name and the headings of its cautions, as artifacts."""
    style = flow.style
    made: list[Piece] = []
    heading = next((block for block in card.front if isinstance(block, b.Heading)), None)
    if heading is not None:
        words: Words = (*heading.words, Span(", continued"))
        made.append(Head(words, heading.number, 3, style, None, after=style.unit))
    for block in card.front:
        if isinstance(block, b.Caution):
            title = plain(caution_heading(block))
            words = strong((Span(f"⚠ {title}, see the card before" if block.severity != "notice" else title),))
            made.append(flow.paragraph(words, None, with_next=True, before=0.0, after=style.unit))
    return made


def _print_cards(
    blocks: Sequence[Block], about: SheetAbout, pen: Pen, flow: Flow, style: Style, setting: Setting
) -> None:
    plan = card_plan(setting)
    cards: list[tuple[CardSide, CardSide]] = []
    for card in _cards_of(blocks):
        element = pen.root.child("Sect")
        front = flow.pieces(card.front, element)
        back = flow.pieces(card.back, element)

        def heads(card: b.Card = card) -> list[Piece]:
            return _continued(card, flow)

        cards += card_sides(front, back, style, heads, len(cards) + 1)
    total = len(cards)
    for page in lay(cards, plan):
        pen.start_page(plan.sheet)
        for laid in page:
            left, low = laid.corner
            side = laid.side
            draw_placed(pen, side.placed, left + style.left, low + style.height - style.top, style.column)
            where = f"Card {side.card} of {total}" + (", back" if side.back else "")
            _foot(pen, style, about.foot, where, left + style.left, low)
        if plan.places > 1:
            cut_marks(pen, plan)
        pen.end_page()
