"""Read page text into blocks.

In: page text, which is CommonMark with tables and with named fences. Out: blocks in reading order, or one
:class:`PageTextError` that names the line. The fences themselves are read in `fences`.

**Plain Markdown.** Headings ``# …`` to ``###### …``; a step's number stands first in brackets and an anchor last in
braces: ``## (3) First mash {#first-mash}``. Paragraphs, bullet and numbered lists, tables, ``**strong**``
(``*stress*`` is printed strong too: sheets have no italics), ``[words](address)``, ``![alternative text](path)``
alone in a paragraph, ``---`` for a pause. No raw HTML, indented code, quotations or reference links.

**Fences.** A fence holds Markdown or YAML. Attributes stand on its first line as ``key=value`` or
``key="some words"``. Every text value, in an attribute or in YAML, is itself inline Markdown, so author text that
went through :func:`escaped` is right everywhere (in YAML: as a plain or double-quoted value). A fence that holds other
fences is written with more backticks than they are.

===========  ==============================================================================  ==================
fence        attributes (* must be there)                                                    content
===========  ==============================================================================  ==================
caution      id*, severity* (never, danger, warning, caution, notice), duty* (mandatory,     Markdown: the words
             advice), at (step, sheet), heading
note         kind* (science, history), title, evidence, confidence, sources                  Markdown
small        none; in the smallest type of the page: lists that are looked up                Markdown
card         none; may hold one ``back`` fence, whose Markdown goes on the back              Markdown
table        caption, widths (``"3 1 1"``), row-heads (yes, no)                              one Markdown table
numbers      what, worth, give-or-take (the words over the columns: all three, or none)      YAML: list of rows
                                                                                             label*, value*,
                                                                                             give or take, key
key          none                                                                            YAML: label*, value*,
                                                                                             give or take
chart        none                                                                            YAML: says*, across*,
                                                                                             up*, lines*, bands,
                                                                                             marks, caption, size
scale        none                                                                            YAML: says*, label*,
                                                                                             from*, reading*
picture      none                                                                            YAML: path*, says*,
                                                                                             caption
qr           none                                                                            YAML: address*, words
answer       lines, or squares (``"20x8"``); marks                                           nothing
page-break   none                                                                            nothing
===========  ==============================================================================  ==================

In a chart, ``across`` and ``up`` hold ``label*``, ``low``, ``high``; a line ``name*``, ``points*`` (a list of
``[across, up]``) and ``spread`` (a list of ``[across, low, high]``); a band ``name*``, ``low*``, ``high*``; a mark
``name*``, ``at*``. ``size`` is ``ordinary``, ``half`` or ``wall`` (of the page).
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from markdown_it import MarkdownIt
from markdown_it.token import Token

from presenter.documents.blocks import (
    Block,
    Card,
    Caution,
    Heading,
    ListBlock,
    Note,
    Picture,
    Rule,
    Small,
    Span,
    Table,
    Text,
    Words,
    plain,
)
from presenter.documents.chart_fences import drawn_block
from presenter.documents.escaping import escaped
from presenter.documents.fences import Fence, PageTextError, data_block, unescaped

__all__ = ["PageTextError", "escaped", "read_page_text", "read_words"]

_MARKDOWN = (
    MarkdownIt("commonmark", {"html": False, "maxNesting": 40})
    .enable("table")
    .disable(["code", "reference", "lheading", "html_block", "html_inline", "autolink"])
)
_STEP = re.compile(r"^\((\w{1,6})\)\s+")
_ANCHOR = re.compile(r"\s+\{#([\w.-]+)\}$")


def read_words(text: str, line: int = 1) -> Words:
    """One line of inline Markdown as spans."""
    return _words(_MARKDOWN.parseInline(text)[0].children or [], line)


def read_page_text(text: str) -> tuple[Block, ...]:
    """The blocks of a page text, in reading order.

    Raises
    ------
    PageTextError : something is not page text; the message names the line.
    """
    return _read(text, 0)


def _read(text: str, before: int) -> tuple[Block, ...]:
    """Blocks of a text that starts after line ``before`` of the whole."""
    return _body(_MARKDOWN.parse(text), before)


def _body(tokens: Sequence[Token], before: int) -> tuple[Block, ...]:
    blocks: list[Block] = []
    at = 0
    while at < len(tokens):
        end = _end(tokens, at)
        blocks.append(_block(tokens[at : end + 1], before))
        at = end + 1
    return tuple(blocks)


def _end(tokens: Sequence[Token], at: int) -> int:
    """Where the element closes that opens at ``at``."""
    depth = 0
    for place in range(at, len(tokens)):
        depth += tokens[place].nesting
        if depth == 0:
            return place
    raise AssertionError("the Markdown reader left an element open")


def _line(token: Token, before: int) -> int:
    return before + (token.map[0] if token.map else 0) + 1


def _block(tokens: Sequence[Token], before: int) -> Block:
    head = tokens[0]
    line = _line(head, before)
    match head.type:
        case "heading_open":
            return _heading(int(head.tag[1]), tokens[1], line)
        case "paragraph_open":
            return _paragraph(tokens[1], line)
        case "bullet_list_open" | "ordered_list_open":
            return _list(tokens, before)
        case "table_open":
            return _table(tokens, line)
        case "hr":
            return Rule()
        case "fence":
            return _fence(Fence.opened(head.info, head.content, line), before + (head.map or [0])[0] + 1)
    raise PageTextError(line, "a quotation mark '>' starts this line; page text has no quotations, use a note")


def _heading(level: int, inline: Token, line: int) -> Heading:
    content = inline.content
    number = _STEP.match(content)
    content = content[number.end() :] if number else content
    anchor = _ANCHOR.search(content)
    content = content[: anchor.start()] if anchor else content
    words = read_words(content, line)
    if not plain(words).strip():
        raise PageTextError(line, "a heading has no words")
    return Heading(level, words, number[1] if number else None, anchor[1] if anchor else None)


def _paragraph(inline: Token, line: int) -> Text | Picture:
    children = inline.children or []
    if len(children) == 1 and children[0].type == "image":
        return Picture(str(children[0].attrs["src"]), children[0].content)
    return Text(_words(children, line))


def _list(tokens: Sequence[Token], before: int) -> ListBlock:
    items: list[tuple[Block, ...]] = []
    at = 1
    while at < len(tokens) - 1:
        end = _end(tokens, at)
        items.append(_body(tokens[at + 1 : end], before))
        at = end + 1
    return ListBlock(tokens[0].type == "ordered_list_open", tuple(items), int(tokens[0].attrs.get("start", 1)))


def _table(tokens: Sequence[Token], line: int) -> Table:
    rows: list[tuple[Words, ...]] = []
    right: list[bool] = []
    row: list[Words] = []
    for place, token in enumerate(tokens):
        if token.type == "tr_open":
            row = []
        elif token.type in ("th_open", "td_open"):
            row.append(_words(tokens[place + 1].children or [], line))
            if token.type == "th_open":
                right.append("right" in str(token.attrs.get("style", "")))
        elif token.type == "tr_close":
            rows.append(tuple(row))
    return Table(rows[0], tuple(rows[1:]), right=tuple(right))


def _words(children: Sequence[Token], line: int) -> Words:
    spans: list[Span] = []
    strong = 0
    link: str | None = None
    for child in children:
        match child.type:
            case "text" | "code_inline" | "text_special":
                spans.append(Span(child.content, strong > 0, link))
            case "softbreak":
                spans.append(Span(" ", strong > 0, link))
            case "hardbreak":
                spans.append(Span("\n", strong > 0, link))
            case "strong_open" | "em_open":
                strong += 1
            case "strong_close" | "em_close":
                strong -= 1
            case "link_open":
                link = str(child.attrs["href"])
            case "link_close":
                link = None
            case _:
                raise PageTextError(line, "a picture stands among words; give it a paragraph of its own")
    joined: list[Span] = []
    for span in spans:
        if joined and (joined[-1].strong, joined[-1].link) == (span.strong, span.link):
            joined[-1] = Span(joined[-1].text + span.text, span.strong, span.link)
        elif span.text:
            joined.append(span)
    return tuple(joined)


def _fence(fence: Fence, before: int) -> Block:
    """The block of a fence whose content starts after line ``before`` of the whole."""
    match fence.name:
        case "caution":
            fence.allow("id", "severity", "duty", "at", "heading")
            body = _read(fence.content, before)
            if not body:
                raise PageTextError(fence.line, "a caution has no words")
            return Caution(
                unescaped(fence.needed("id")),
                fence.chosen("duty", ("mandatory", "advice")),
                fence.chosen("severity", ("never", "danger", "warning", "caution", "notice")),
                fence.chosen("at", ("step", "sheet"), "step"),
                read_words(fence.attributes.get("heading", ""), fence.line),
                body,
            )
        case "note":
            words = ("title", "evidence", "confidence", "sources")
            fence.allow("kind", *words)
            title, evidence, confidence, sources = (
                read_words(fence.attributes.get(key, ""), fence.line) for key in words
            )
            kind = fence.chosen("kind", ("science", "history"))
            return Note(kind, title, evidence, confidence, _read(fence.content, before), sources)
        case "card":
            fence.allow()
            return _card(fence, before)
        case "small":
            fence.allow()
            return Small(_read(fence.content, before))
        case "table":
            return _titled_table(fence, before)
        case "chart" | "scale":
            return drawn_block(fence, before, read_words)
        case "back":
            raise PageTextError(fence.line, "a 'back' fence stands outside a card")
    return data_block(fence, before, read_words)


def _card(fence: Fence, before: int) -> Card:
    front: list[Block] = []
    back: tuple[Block, ...] | None = None
    tokens = _MARKDOWN.parse(fence.content)
    at = 0
    while at < len(tokens):
        end = _end(tokens, at)
        inner = (
            Fence.opened(tokens[at].info, tokens[at].content, _line(tokens[at], before))
            if tokens[at].type == "fence"
            else None
        )
        if inner is not None and inner.name == "back":
            if back is not None:
                raise PageTextError(inner.line, "a card has two backs")
            inner.allow()
            back = _read(inner.content, inner.line)
        else:
            front.append(_block(tokens[at : end + 1], before))
        at = end + 1
    if not front:
        raise PageTextError(fence.line, "a card has nothing on its front")
    return Card(tuple(front), back or ())


def _titled_table(fence: Fence, before: int) -> Table:
    fence.allow("caption", "widths", "row-heads")
    inner = _read(fence.content, before)
    if len(inner) != 1 or not isinstance(inner[0], Table):
        raise PageTextError(fence.line, "a 'table' fence holds one Markdown table and nothing else")
    table = inner[0]
    widths = tuple(fence.figures("widths"))
    if widths and (len(widths) != len(table.header) or min(widths) <= 0):
        raise PageTextError(fence.line, f"'widths' needs {len(table.header)} numbers above nought")
    caption = read_words(fence.attributes.get("caption", ""), fence.line)
    heads = fence.chosen("row-heads", ("yes", "no"), "no") == "yes"
    return Table(table.header, table.rows, widths, table.right, caption, heads)
