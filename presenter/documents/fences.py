"""Read the named fences of page text whose content is data, and the attributes of all of them.

In: the first line and the content of a fence, with its place. Out: a block, or a :class:`PageTextError`. The table
of fences stands in `page_text`.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import yaml
from markdown_it.common.utils import unescapeAll

from presenter.documents.blocks import (
    AnswerSpace,
    Block,
    NumberRow,
    Numbers,
    PageBreak,
    Picture,
    QRCode,
    Words,
    plain,
)
from presenter.problems import BrewingPresenterError, nearest

__all__ = ["Entry", "Fence", "PageTextError", "data_block", "unescaped", "yaml_of"]

FENCES = (
    "caution",
    "note",
    "card",
    "back",
    "small",
    "table",
    "numbers",
    "key",
    "chart",
    "scale",
    "picture",
    "qr",
    "answer",
    "page-break",
)
_ATTRIBUTE = re.compile(r'\s*([\w-]+)=("(?:[^"]*)"|[^\s"]+)')
ReadWords = Callable[[str, int], Words]


class PageTextError(BrewingPresenterError):
    """Page text that cannot be read. ``line`` counts from 1; ``wrong`` is one sentence without a full stop."""

    def __init__(self, line: int, wrong: str) -> None:
        self.line = line
        self.wrong = wrong
        super().__init__(f"page text, line {line}: {wrong}")


class _PlainLoader(yaml.SafeLoader):
    """Every scalar is text; the fence decides what it means."""


_PlainLoader.yaml_implicit_resolvers = {}
# A value may begin with an entity such as "&ast;", where YAML would see an anchor: page text has no anchors.
_AND = "\ue000"


def _text_of(node: yaml.Node) -> str:
    return str(node.value).replace(_AND, "&")


def unescaped(text: str) -> str:
    """Text whose Markdown escapes and entities are resolved."""
    return unescapeAll(text)


@dataclass(frozen=True)
class Fence:
    """A fence as written: its name, its attributes still escaped, its content, and the line it opens on."""

    name: str
    attributes: dict[str, str]
    content: str
    line: int

    @classmethod
    def opened(cls, info: str, content: str, line: int) -> Fence:
        """Read a fence's first line."""
        info = info.strip()
        name = re.split(r"\s", info, maxsplit=1)[0]
        if name not in FENCES:
            near = nearest(name, FENCES)
            hint = f"; did you mean '{near}'?" if near else f"; the fences are {', '.join(FENCES)}"
            raise PageTextError(line, f"there is no fence named '{name}'{hint}")
        attributes: dict[str, str] = {}
        rest = info[len(name) :]
        while rest.strip():
            found = _ATTRIBUTE.match(rest)
            if found is None:
                raise PageTextError(line, f"'{rest.strip()}' does not read as key=value or key=\"some words\"")
            if found[1] in attributes:
                raise PageTextError(line, f"'{found[1]}' is written twice")
            attributes[found[1]] = found[2].strip('"')
            rest = rest[found.end() :]
        return cls(name, attributes, content, line)

    def allow(self, *keys: str) -> None:
        """Refuse any other attribute."""
        for key in self.attributes:
            if key not in keys:
                _unknown(self.line, self.name, key, keys)

    def needed(self, key: str) -> str:
        """An attribute that must be there, still escaped."""
        if not self.attributes.get(key):
            raise PageTextError(self.line, f"the fence '{self.name}' needs '{key}'")
        return self.attributes[key]

    def chosen(self, key: str, allowed: Sequence[str], otherwise: str = "") -> str:
        """An attribute that is one word of a few."""
        value = self.attributes.get(key, otherwise) if otherwise else self.needed(key)
        if value not in allowed:
            raise PageTextError(self.line, f"'{key}' is '{unescaped(value)}'; it may be {', '.join(allowed)}")
        return value

    def figures(self, key: str) -> list[float]:
        """Numbers with spaces between them."""
        return [_figure(part, self.line, key) for part in self.attributes.get(key, "").split()]

    def count(self, key: str, most: int) -> int:
        """A whole number from 0 to ``most``; 0 where it is not written."""
        text = self.attributes.get(key, "0")
        if not text.isascii() or not text.isdigit() or int(text[:6]) > most:
            raise PageTextError(self.line, f"'{key}' is '{text}'; it is a whole number up to {most}")
        return int(text)


@dataclass
class Entry:
    """A YAML mapping whose values are asked for one by one; each knows its line."""

    node: yaml.MappingNode
    before: int
    what: str
    read: ReadWords
    asked: dict[str, yaml.Node] = field(default_factory=dict)

    @property
    def line(self) -> int:
        return _line_of(self.node, self.before)

    @classmethod
    def of(cls, node: yaml.Node | None, before: int, what: str, read: ReadWords, keys: Sequence[str]) -> Entry:
        if not isinstance(node, yaml.MappingNode):
            raise PageTextError(_line_of(node, before), f"{what} is written as keys and values: {', '.join(keys)}")
        entry = cls(node, before, what, read)
        for key, value in node.value:
            name = _text_of(key)
            line = _line_of(key, before)
            if name not in keys:
                _unknown(line, what, name, keys)
            if name in entry.asked:
                raise PageTextError(line, f"'{name}' is written twice")
            entry.asked[name] = value
        return entry

    def text(self, key: str, needed: bool = False) -> str:
        node = self.asked.get(key)
        if node is None:
            if needed:
                raise PageTextError(self.line, f"{self.what} needs '{key}'")
            return ""
        if not isinstance(node, yaml.ScalarNode) or (needed and not node.value.strip()):
            raise PageTextError(_line_of(node, self.before), f"'{key}' is one line of words")
        return _text_of(node)

    def words(self, key: str, needed: bool = False) -> Words:
        return self.read(self.text(key, needed), self.line)

    def plain(self, key: str, needed: bool = False) -> str:
        return plain(self.words(key, needed))

    def figure(self, key: str) -> float:
        return _figure(self.text(key, needed=True), self.line, key)

    def figure_or_none(self, key: str) -> float | None:
        return self.figure(key) if key in self.asked else None

    def entries(self, key: str, what: str, keys: Sequence[str], needed: bool = False) -> list[Entry]:
        if key not in self.asked and not needed:
            return []
        node = self.asked.get(key)
        if not isinstance(node, yaml.SequenceNode) or (needed and not node.value):
            raise PageTextError(_line_of(node, self.before) if node else self.line, f"'{key}' is a list")
        return [Entry.of(item, self.before, what, self.read, keys) for item in node.value]

    def tuples(self, key: str, size: int) -> list[list[float]]:
        node = self.asked.get(key)
        rows = node.value if isinstance(node, yaml.SequenceNode) else None
        if rows is None:
            raise PageTextError(self.line, f"{self.what} needs '{key}', a list of lists of {size} numbers")
        out: list[list[float]] = []
        for row in rows:
            line = _line_of(row, self.before)
            if not isinstance(row, yaml.SequenceNode) or len(row.value) != size:
                raise PageTextError(line, f"'{key}' is a list of lists of {size} numbers")
            out.append([_figure(_text_of(item), line, key) for item in row.value])
        return out


def _line_of(node: yaml.Node | None, before: int) -> int:
    return before + 1 + (node.start_mark.line if node is not None else 0)


def _unknown(line: int, what: str, key: str, keys: Sequence[str]) -> None:
    near = nearest(key, keys)
    hint = f"; did you mean '{near}'?" if near else f"; it may hold {', '.join(keys) or 'none'}"
    raise PageTextError(line, f"{what} has no '{key}'{hint}")


def _figure(text: str, line: int, key: str) -> float:
    try:
        value = float(unescaped(text).strip().replace("\N{MINUS SIGN}", "-"))
    except ValueError:
        value = math.nan
    if not math.isfinite(value):
        raise PageTextError(line, f"'{key}' holds '{unescaped(text)}', which is not a number")
    return value


def yaml_of(fence: Fence, before: int) -> yaml.Node | None:
    try:
        node: yaml.Node | None = yaml.compose(fence.content.replace("&", _AND), _PlainLoader)
    except yaml.MarkedYAMLError as error:
        line = error.problem_mark.line if error.problem_mark else 0
        raise PageTextError(before + 1 + line, f"the fence '{fence.name}' is not good YAML: {error.problem}") from None
    except yaml.YAMLError:
        raise PageTextError(fence.line, f"the fence '{fence.name}' holds a character that YAML refuses") from None
    return node


def data_block(fence: Fence, before: int, read: ReadWords) -> Block:
    """The block of a data fence whose content starts after line ``before``; ``read`` reads inline Markdown."""
    match fence.name:
        case "answer":
            return _answer(fence, read)
        case "page-break":
            fence.allow()
            return PageBreak()
        case "numbers":
            return _numbers(fence, before, read)
    fence.allow()
    node = yaml_of(fence, before)
    match fence.name:
        case "key":
            entry = Entry.of(node, before, "a key number", read, ("label", "value", "give or take"))
            return Numbers((_row(entry, key=True),))
        case "picture":
            entry = Entry.of(node, before, "a picture", read, ("path", "says", "caption"))
            return Picture(entry.plain("path", True), entry.plain("says", True), entry.words("caption"))
        case "qr":
            entry = Entry.of(node, before, "a code", read, ("address", "words"))
            return QRCode(entry.plain("address", True), entry.words("words"))
    raise AssertionError(f"the fence '{fence.name}' is read elsewhere")


def _row(entry: Entry, key: bool) -> NumberRow:
    return NumberRow(entry.words("label", True), entry.words("value", True), entry.words("give or take"), key)


def _numbers(fence: Fence, before: int, read: ReadWords) -> Numbers:
    heads = ("what", "worth", "give-or-take")
    fence.allow(*heads)
    node = yaml_of(fence, before)
    if not isinstance(node, yaml.SequenceNode) or not node.value:
        raise PageTextError(fence.line, "'numbers' is a list of rows with label and value")
    rows: list[NumberRow] = []
    for item in node.value:
        entry = Entry.of(item, before, "a row of numbers", read, ("label", "value", "give or take", "key"))
        key = entry.text("key") or "no"
        if key not in ("yes", "no"):
            raise PageTextError(entry.line, f"'key' is '{key}'; it may be yes or no")
        rows.append(_row(entry, key == "yes"))
    if sum(row.key for row in rows) > 1:
        raise PageTextError(fence.line, "two rows are marked as the number that matters; one may be")
    if not fence.attributes:
        return Numbers(tuple(rows))
    what, worth, give = (read(fence.needed(key), fence.line) for key in heads)
    return Numbers(tuple(rows), (what, worth, give))


def _answer(fence: Fence, read: ReadWords) -> AnswerSpace:
    fence.allow("lines", "squares", "marks")
    marks = read(fence.attributes.get("marks", ""), fence.line)
    squares = fence.attributes.get("squares")
    if squares is not None:
        found = re.fullmatch(r"(\d{1,3})x(\d{1,3})", squares)
        if found is None or min(int(found[1]), int(found[2])) < 1:
            raise PageTextError(fence.line, f"'squares' is '{squares}'; it is written like 20x8")
        return AnswerSpace(0, (int(found[1]), int(found[2])), marks)
    lines = fence.count("lines", 200)
    if not lines:
        raise PageTextError(fence.line, "an answer needs lines or squares")
    return AnswerSpace(lines, None, marks)
