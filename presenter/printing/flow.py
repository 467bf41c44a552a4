"""Blocks become pieces of a column, each with its element of the structure tree.

In: blocks, the style, the folder of pictures. Out: pieces in reading order, and the outline of the headings.
Heading levels are kept without gaps: the first is 1 and none is more than one below the heading before it.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from presenter.documents import blocks as b
from presenter.documents.blocks import Block, Span, Words, plain
from presenter.printing import drawn
from presenter.printing.fonts import clean, width_of
from presenter.printing.heads import Head, KeyNumber
from presenter.printing.lines import strong
from presenter.printing.pieces import Gap, PageStart, Paragraph, Piece, Stack
from presenter.printing.style import QUIET, Style, Type
from presenter.printing.surrounds import CautionSide, ItemSide, NoteSide, caution_heading
from presenter.printing.tables import Rows
from presenter.printing.tagging import Element

__all__ = ["Flow"]

_KINDS = {"science": "Science", "history": "History"}
_ADDRESS = re.compile(r"(https?://[^\s<>\u00a0]*[^\s<>\u00a0.,;:!?)\]'\"’”])")
_FIRST_WORDS = re.compile(r"[^.,:;]*")


class Flow:
    """Turns the blocks of one sheet into pieces and gathers the outline."""

    def __init__(self, style: Style, folder: Path, anchors: frozenset[str] = frozenset()) -> None:
        self.style = style
        self.folder = folder
        self.anchors = anchors
        self.outline: list[tuple[str, str, int]] = []
        self._level = 0

    def pieces(self, body: Sequence[Block], parent: Element) -> list[Piece]:
        """The pieces of a body; their elements become children of ``parent``."""
        made: list[Piece] = []
        rest = list(body)
        while rest:
            block = rest.pop(0)
            at, before = len(parent.kids), len(made)
            if isinstance(block, b.Heading):
                key: b.NumberRow | None = None
                if rest and isinstance(rest[0], b.Numbers):
                    key, left = _key_of(rest[0])
                    if key is not None:
                        rest[:1] = [left] if left.rows else []
                made += self._heading(block, key, parent)
            else:
                made += self._block(block, parent)
            for piece in made[before:]:
                piece.at = at
            if rest and len(made) > before and (_leads(block, rest[0]) or self._warned(block, made[-1], rest)):
                made[-1].with_next = True
        return made

    def _warned(self, block: Block, piece: Piece, rest: Sequence[Block]) -> bool:
        """Whether a step's numbers, and the line below them, stay with the first caution of the step. On a card all
        stands together as it is, and a table too long for a column is parted first."""
        if self.style.key is not None or piece.height(self.style.column) > self.style.depth * 0.4:
            return False
        if isinstance(block, b.Numbers) and isinstance(rest[0], b.Small) and len(rest) > 1:
            return isinstance(rest[1], b.Caution)
        return isinstance(block, b.Numbers | b.Small) and isinstance(rest[0], b.Caution)

    # --- words

    def _known(self, words: Words) -> Words:
        """The words with every printed address as a link, and without links to anchors that are not here."""
        made: list[Span] = []
        for span in words:
            if span.link is None:
                parts = _ADDRESS.split(span.text)
                made += [Span(part, span.strong, part if odd % 2 else None) for odd, part in enumerate(parts) if part]
            elif span.link.startswith("#") and span.link[1:] not in self.anchors:
                made.append(Span(span.text, span.strong))
            else:
                made.append(span)
        return tuple(made)

    def paragraph(self, words: Words, element: Element | None, type_: Type | None = None, **more: object) -> Paragraph:
        """A paragraph, half a line from its neighbours."""
        half = self.style.body.leading / 2
        made = Paragraph(self._known(words), type_ or self.style.body, element, before=half, after=half)
        for name, value in more.items():
            setattr(made, name, value)
        return made

    def _heading(self, heading: b.Heading, key: b.NumberRow | None, parent: Element) -> list[Piece]:
        """A head. Words that fill half a column are no heading: they stand as a strong paragraph."""
        level = max(1, min(heading.level, self._level + 1))
        unit = self.style.unit
        name = heading.anchor or f"part-{len(self.outline) + 1}"
        before, after = ((12, 4), (8, 3), (6, 1))[min(level, 3) - 1]
        head = Head(
            heading.words,
            heading.number,
            level,
            self.style,
            Element("P"),
            name,
            before=before * unit,
            after=after * unit,
        )
        lead = (Span(f"{heading.number} "),) if heading.number else ()
        if head.height(self.style.column) > self.style.depth * 0.5:
            words = self.paragraph(strong((*lead, *heading.words)), parent.child("P"))
            return [words, self._key(key, parent)] if key else [words]
        self._level = level
        head.element = parent.child(f"H{level}")
        head.key = self._key(key, parent) if key else None
        self.outline.append((name, clean(plain((*lead, *heading.words))), level - 1))
        return [head]

    def _key(self, row: b.NumberRow, parent: Element) -> KeyNumber:
        biggest = self.style.title if self.style.title.size > self.style.heading.size else self.style.heading
        half = self.style.body.leading / 2
        value, label = parent.child("P"), parent.child("P")
        small = self.style.label or self.style.small
        along = self.style.key is not None
        return KeyNumber(
            _bound(row), value, label, self.style.key or biggest, small, before=half, after=half, along=along
        )

    # --- blocks

    def _block(self, block: Block, parent: Element) -> list[Piece]:
        match block:
            case b.Text():
                return [self.paragraph(block.words, parent.child("P"))]
            case b.ListBlock():
                return self._list(block, parent)
            case b.Table():
                return self._table(block, parent)
            case b.Numbers():
                return self._numbers(block, parent)
            case b.Caution():
                return [self.caution(block, parent)]
            case b.Note():
                return [self._note(block, parent)]
            case b.Chart():
                return drawn.chart_pieces(self, block, parent)
            case b.Scale():
                return drawn.scale_pieces(self, block, parent)
            case b.Picture():
                return drawn.picture_pieces(self, block, parent)
            case b.QRCode():
                return drawn.code_pieces(self, block, parent)
            case b.AnswerSpace():
                return drawn.answer_pieces(self, block, parent)
            case b.Card():
                return [*self.pieces(block.front, parent), *self.pieces(block.back, parent), Gap(self.style.unit * 6)]
            case b.Small():
                return self._small(block, parent)
            case b.Rule():
                return [Gap(self.style.body.leading)]
            case b.PageBreak():
                return [PageStart()]
        raise AssertionError(f"no piece for {type(block).__name__}")

    def _small(self, block: b.Small, parent: Element) -> list[Piece]:
        """A body set as the smallest type of the page, its paragraphs close together."""
        whole = self.style
        self.style = replace(whole, body=whole.small)
        made = self.pieces(block.body, parent)
        self.style = whole
        for piece in made[1:]:
            piece.before = min(piece.before, whole.unit)
        for piece in made[:-1]:
            piece.after = min(piece.after, whole.unit)
        return made

    def _list(self, block: b.ListBlock, parent: Element) -> list[Piece]:
        unit, type_ = self.style.unit, self.style.body
        whole = parent.child("L", numbering="Decimal" if block.ordered else "Disc")
        labels = [f"{block.start + place}." if block.ordered else "•" for place in range(len(block.items))]
        inset = max(width_of(label, False, type_.size) for label in labels) + type_.size * 0.6
        items: list[Piece] = []
        for label, body in zip(labels, block.items, strict=True):
            item = whole.child("LI")
            side = ItemSide(label, item.child("Lbl"), type_)
            inner = self.pieces(body, item.child("LBody"))
            if inner:
                items.append(Stack(inner, inset, before=1.5 * unit, after=1.5 * unit, beside=side))
        if items:
            items[0].before = items[-1].after = type_.leading / 2
        return items

    def _table(self, block: b.Table, parent: Element) -> list[Piece]:
        element = parent.child("Table")
        type_, unit = self.style.small, self.style.unit
        above: list[Piece] = []
        if block.caption:
            caption = element.child("Caption")
            above = [self.paragraph(strong(block.caption), caption, with_next=True, after=unit)]
        right = block.right or (False,) * len(block.header)
        head = [
            Paragraph(strong(self._known(words)), type_, cell, right=side)
            for words, side, cell in self._cells(element, block.header, right, len(block.header), "Column")
        ]
        rows = []
        for row in block.rows:
            cells = self._cells(element, row, right, 1 if block.row_heads else 0, "Row")
            rows.append([Paragraph(self._known(words), type_, cell, right=side) for words, side, cell in cells])
        half = self.style.body.leading
        table = Rows(head, rows, block.widths, 6 * unit, 1.5 * unit, unit, before=half / 2, after=half)
        table.whole = len(rows) <= 6
        return [*above, table]

    def _cells(
        self, table: Element, row: Sequence[Words], right: Sequence[bool], heads: int, scope: str
    ) -> list[tuple[Words, bool, Element]]:
        line = table.child("TR")
        return [
            (words, side, line.child("TH", scope=scope) if place < heads else line.child("TD"))
            for place, (words, side) in enumerate(zip(row, right, strict=True))
        ]

    def _numbers(self, block: b.Numbers, parent: Element) -> list[Piece]:
        key, left = _key_of(block)
        made: list[Piece] = [self._key(key, parent)] if key else []
        if not left.rows:
            return made
        body, small, unit = self.style.body, self.style.small, self.style.unit
        element = parent.child("Table")
        sides = (False, False, False)
        gives = any(row.give_or_take for row in left.rows)
        columns = 3 if gives else 2
        head: list[Paragraph] = []
        if left.head:
            cells = self._cells(element, left.head[:columns], sides[:columns], columns, "Column")
            head = [Paragraph(strong(words), small, cell, QUIET) for words, _, cell in cells]
        rows = []
        for row in left.rows:
            row = _bound(row)
            words = (row.label, strong(row.value), row.give_or_take)[:columns]
            cells = self._cells(element, words, sides[:columns], 1, "Row")
            rows.append([Paragraph(self._known(cell[0]), body, cell[2]) for cell in cells])
        hints = (7.9, 1.75, 1.95)[:columns]
        table = Rows(head, rows, hints, 5 * unit, unit, unit, before=body.leading / 2, after=body.leading / 2)
        table.whole = len(rows) <= 8
        return [*made, table]

    def caution(self, block: b.Caution, parent: Element) -> Stack:
        """A caution: its bar, its sign, its word and its words; kept whole where a column can hold it."""
        body, unit = self.style.body, self.style.unit
        title = caution_heading(block)
        warns = plain(title)
        element = parent.child("Div", title=plain(title))
        inner: list[Piece] = []
        rest = list(block.body)
        if not block.heading and isinstance(rest[0], b.Text):
            lead = rest.pop(0)
            assert isinstance(lead, b.Text)
            inner.append(self.paragraph((Span(f"{plain(title)}: ", True), *lead.words), element.child("P")))
            first = _FIRST_WORDS.match(plain(lead.words))
            warns = f"{plain(title)}: {first[0].strip()[:60]}" if first else plain(title)
        else:
            inner.append(self.paragraph(strong(title), element.child("P"), with_next=True, after=unit))
        inner += self.pieces(rest, element)
        side = CautionSide(block.severity, body)

        def again() -> Piece:
            return self.paragraph((*strong(title), Span(", continued", True)), None, with_next=True, after=unit)

        gap = body.leading / 3
        if block.severity == "notice":
            warns = ""
        return Stack(inner, side.inset, gap, gap, whole=True, beside=side, repeated=again, warns=warns)

    def _note(self, block: b.Note, parent: Element) -> Stack:
        """A note: its kind and title lead its words; what they rest on stands below in the smallest type."""
        whole, unit = self.style, self.style.unit
        self.style = replace(whole, body=whole.note or whole.body)
        body = self.style.body
        kind = _KINDS[block.kind]
        element = parent.child("Div", title=f"{kind} note")
        lead: Words = strong((Span(f"{kind}. "), *block.title, Span("" if not block.title else ". ")))
        inner: list[Piece] = []
        rest = list(block.body)
        if rest and isinstance(rest[0], b.Text):
            first = rest.pop(0)
            assert isinstance(first, b.Text)
            inner.append(self.paragraph((*lead, *first.words), element.child("P"), after=unit))
        else:
            inner.append(self.paragraph(lead, element.child("P"), with_next=True, after=unit))
        inner += self.pieces(rest, element)
        words: list[Span] = []
        for part in (block.evidence, block.confidence, block.sources):
            if part:
                words += [Span(" · "), *part] if words else part
        if words:
            line = self.paragraph(tuple(words), element.child("P"), self.style.small, colour=QUIET, before=0.0)
            inner[-1].after = 0.0
            inner.append(line)
        self.style = whole
        gap = body.leading * 0.6
        return Stack(inner, NoteSide.inset, gap, gap, beside=NoteSide(), tail=bool(words))


def _leads(block: Block, following: Block) -> bool:
    """Whether a block stays with what follows it: a question with the room for its answer or with what is to be read,
    and words that end in a colon with the list or table they announce."""
    if isinstance(following, b.AnswerSpace | b.Scale):
        return True
    announced = isinstance(following, b.ListBlock | b.Table | b.Numbers)
    return announced and isinstance(block, b.Text) and plain(block.words).rstrip().endswith(":")


def _bound(row: b.NumberRow) -> b.NumberRow:
    """The row with its value and give-or-take each kept on one line where they are short."""

    def bind(words: Words) -> Words:
        if len(plain(words)) > 20:
            return words
        return tuple(Span(span.text.replace(" ", "\u00a0"), span.strong, span.link) for span in words)

    return b.NumberRow(row.label, bind(row.value), bind(row.give_or_take), row.key)


def _key_of(block: b.Numbers) -> tuple[b.NumberRow | None, b.Numbers]:
    """The number that matters, and the others."""
    key = next((row for row in block.rows if row.key), None)
    return key, b.Numbers(tuple(row for row in block.rows if row is not key), block.head)
