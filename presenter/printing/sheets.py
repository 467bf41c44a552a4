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
from presenter.printing.lines import Run, TextLine, break_lines, strong
from presenter.printing.pieces import Piece, Placed, Stack, draw_line, draw_placed, fill
from presenter.printing.style import CARD_LAYOUTS, QUIET, Setting, Style, card_plan, card_styles, style_for
from presenter.printing.tagging import Element, Pen
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
        case b.Axis() | b.Scale():
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
    """The places that links may lead to: the anchors of headings short enough to stand as headings."""
    match thing:
        case b.Heading():
            if thing.anchor and len(plain(thing.words)) <= 80:
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
    style = style.with_foot(len(_foot_lines(style, about.foot)))
    one_line = [" ".join(clean(text).split()) for text in (about.title, about.author, about.subject)]
    pen = Pen(one_line[0], one_line[1], one_line[2], about.language, about.date)
    flow = Flow(style, about.folder, frozenset(_anchors(tuple(blocks))))
    if setting.layout not in CARD_LAYOUTS:
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
    # What stands on every page is an artifact. On a sheet of one page it is not repeated: it is content.
    foot = pen.root.child("P") if len(columns) == 1 else None
    head = pen.root.child("P", -1) if len(columns) == 1 else None
    for number, placed in enumerate(columns, 1):
        pen.start_page((style.width, style.height))
        _running_head(pen, style, about.running_head, head)
        draw_placed(pen, placed, style.left, style.height - style.top, style.column)
        _foot(pen, style, about.foot, f"Page {number} of {len(columns)}", style.left, 0.0, foot)
        pen.end_page()


def _running_head(pen: Pen, style: Style, text: str, element: Element | None) -> None:
    lines = break_lines((Span(text),), style.small.size, style.column)
    if not lines:
        return
    y = style.height - style.top * 0.55 + (len(lines) - 1) * style.small.leading / 2
    with pen.marked(element, -1) if element else pen.artifact():
        for line in lines:
            draw_line(pen, line.runs, style.left, y, style.small.size, QUIET)
            y -= style.small.leading


def _foot_lines(style: Style, foot: str) -> list[TextLine]:
    """The lines of the foot, which leave room for the longest count beside them."""
    widest = width_of("Card 88 of 88, back", False, style.small.size) + 2
    return break_lines((Span(foot),), style.small.size, style.column - widest)


def _foot(pen: Pen, style: Style, foot: str, count: str, x: float, low: float, element: Element | None = None) -> None:
    """The version at the left and the count at the right of the foot, as large as the smallest type of the page.

    On pages it is an artifact. A card has an element for it: cut out, its number is part of what it says.
    """
    size, y = style.small.size, low + style.foot
    lines = _foot_lines(style, foot)
    with pen.marked(element) if element else pen.artifact():
        for place, line in enumerate(lines, 1):
            runs = [*line.runs, Run(" ", False, None)] if place == len(lines) else line.runs
            draw_line(pen, runs, x, y + (len(lines) - place) * style.small.leading, size, QUIET)
        left = x + style.column - width_of(count, False, size)
        draw_line(pen, [Run(count, False, None)], left, y, size, QUIET)


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


def _continued(card: b.Card, flow: Flow, body: Element, before: list[Piece], order: float) -> list[Piece]:
    """What a side that goes on repeats: the step's name and the headings of the cautions before it."""
    style = flow.style
    made: list[Piece] = []
    heading = next((block for block in card.front if isinstance(block, b.Heading)), None)
    if heading is not None:
        name = plain(heading.words)
        words: Words = (Span((name if len(name) <= 80 else name[:79] + "…") + ", continued"),)
        made.append(Head(words, heading.number, 3, style, body.child("P", order), after=style.unit))
    warned = dict.fromkeys(piece.warns for piece in before if isinstance(piece, Stack) and piece.warns)
    if warned:
        words = strong((Span("⚠ Read first: " + " · ".join(warned)),))
        made.append(flow.paragraph(words, body.child("P", order), with_next=True, before=0.0))
    return made


def _roomiest(body: Sequence[Block], about: SheetAbout, flow: Flow, setting: Setting) -> Style:
    """The style with the largest body in which one side of a card holds all of ``body``; else the least."""
    styles = card_styles(setting, style_for(setting).with_foot(len(_foot_lines(flow.style, about.foot))))
    for style in styles:
        trial = Flow(style, about.folder, flow.anchors)
        pieces = trial.pieces(body, Element("Div"))
        if not pieces or not fill(pieces, style.column, style.depth, style.depth)[1]:
            return style
    return styles[-1]


def _print_cards(
    blocks: Sequence[Block], about: SheetAbout, pen: Pen, flow: Flow, style: Style, setting: Setting
) -> None:
    plan = card_plan(setting)
    cards: list[tuple[CardSide, CardSide]] = []
    for card in _cards_of(blocks):
        element = pen.root.child("Sect")
        front, back = element.child("Div"), element.child("Div")
        front_style, back_style = (_roomiest(body, about, flow, setting) for body in (card.front, card.back))

        def heads(body: Element, before: list[Piece], order: float, card: b.Card = card) -> list[Piece]:
            return _continued(card, flow, body, before, order)

        flow.style = front_style
        fronts = flow.pieces(card.front, front)
        flow.style = back_style
        backs = flow.pieces(card.back, back)
        flow.style = front_style
        cards += card_sides((fronts, front), (backs, back), style, heads, len(cards) + 1)
    for page in lay(cards, plan):
        pen.start_page(plan.sheet)
        for laid in page:
            left, low = laid.corner
            side = laid.side
            draw_placed(pen, side.placed, left + style.left, low + style.height - style.top, style.column)
            where = f"Card {side.card} of {len(cards)}" + (", back" if side.back else "")
            _foot(pen, style, about.foot, where, left + style.left, low, side.foot)
        if plan.places > 1:
            cut_marks(pen, plan)
        pen.end_page()
