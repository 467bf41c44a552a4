"""YAML text that remembers its place: every scalar stays the author's own text, with line and column.

In: a YAML file, or its text and the name that the user knows it by. Out: a tree of :class:`Mapping`,
:class:`Sequence` and :class:`Written`; or every Problem of the file's form (bad YAML, a doubled key).
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, NoReturn

import yaml

from presenter.lesson.broken_yaml import told_in_words
from presenter.problems import Place, Problem, ProblemsFoundError

__all__ = [
    "MappingNode",
    "SequenceNode",
    "Written",
    "as_user_knows",
    "place_of",
    "read_yaml",
    "read_yaml_file",
    "text_of_file",
    "written_at",
]

LARGEST_FILE = 2_000_000  # characters
MOST_VALUES = 200_000
DEEPEST = 40
_HIDDEN = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ufffe\uffff]")
_SURROGATE = re.compile("[\ud800-\udfff]")


class Written(str):
    """A text exactly as the author wrote it, with the place where it stands."""

    place: Place

    def __new__(cls, text: str, place: Place) -> Written:
        new = super().__new__(cls, text)
        new.place = place
        return new


class MappingNode(dict[str, Any]):
    """A mapping whose keys are :class:`Written`; ``place`` is where its value begins."""

    place: Place


class SequenceNode(list[Any]):
    """A list that knows its place."""

    place: Place


class _PlainLoader(yaml.SafeLoader):
    """Every scalar is text; the model decides what it means."""

    yaml_implicit_resolvers: dict[str, Any] = {}  # noqa: RUF012 - PyYAML's own way to say it


def as_user_knows(path: Path) -> str:
    """``path`` as a user finds it: beneath the folder they stand in, from there; otherwise in full."""
    here = Path.cwd()
    return str(path.relative_to(here)) if path.is_absolute() and path.is_relative_to(here) else str(path)


def text_of_file(path: Path) -> str:
    """The text of a file in UTF-8, without its byte order mark.

    Raises ProblemsFoundError, at the place, where it is not UTF-8 or cannot be read.
    """
    file = as_user_knows(path)
    try:
        raw = path.read_bytes()
    except OSError as error:
        reason = (error.strerror or "it cannot be opened").lower()
        _refuse(Place(file), f"The file cannot be read: {reason}.")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = raw[: error.start].decode("utf-8-sig", errors="replace")
        place = Place(file, before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1)
        _refuse(place, "The file is not UTF-8 text from here on.", "Save it as UTF-8 and try again.")


def read_yaml_file(path: Path) -> MappingNode:
    """The tree of the YAML file at ``path``. Raises ProblemsFoundError like :func:`read_yaml`."""
    return read_yaml(text_of_file(path), as_user_knows(path))


def read_yaml(text: str, file: str) -> MappingNode:
    """The tree of one YAML file whose top level is a mapping.

    Raises ProblemsFoundError with every doubled key, or with the one place where the YAML breaks off.
    """
    text = text.removeprefix("\ufeff")
    if len(text) > LARGEST_FILE:
        _refuse(
            Place(file),
            f"The file has more than {LARGEST_FILE:,} characters; a lesson is never that long.",
            "Look whether another file was saved under this name.",
        )
    hidden = _HIDDEN.search(text)
    if hidden is not None:
        line = text.count("\n", 0, hidden.start()) + 1
        column = hidden.start() - (text.rfind("\n", 0, hidden.start()) + 1) + 1
        _refuse(
            Place(file, line, column),
            f"Here stands a character that no text file should hold (code {ord(hidden[0]):04X}).",
            "Delete it, or type the line again.",
        )
    if not text.strip():
        _refuse(
            Place(file), "The file is empty.", "Begin with a key and a value, such as title: Two ales from one mash."
        )
    try:
        node = yaml.compose(text, _PlainLoader)
    except yaml.MarkedYAMLError as error:
        line, column, wrong, remedy = told_in_words(text, error)
        place = Place(file, line, column)
        raise ProblemsFoundError((Problem(place, "", _line(text, line), wrong, remedy),)) from None
    except RecursionError:
        _refuse(Place(file), "This is nested too deeply to be a lesson.", "Look for a run of opening brackets.")
    except (yaml.YAMLError, ValueError, OverflowError):  # an escape such as "\UFFFFFFFF" that is no character
        _refuse(
            Place(file),
            "The file cannot be read as YAML text.",
            "Look for a backslash inside double quotation marks, and write that text without the quotation marks.",
        )
    if not isinstance(node, yaml.MappingNode):
        mark = node.start_mark if node is not None else None
        place = Place(file, mark.line + 1, mark.column + 1) if mark is not None else Place(file)
        found = "a list" if isinstance(node, yaml.SequenceNode) else "a line of words"
        if node is None:
            found = "nothing"
        _refuse(
            place,
            f"The file must hold keys and values at its top; here stands {found}.",
            "Begin with a key and a value, such as title: Two ales from one mash.",
        )
    builder = _Builder(file)
    tree = builder.tree(node, "", 0)
    if builder.problems:
        raise ProblemsFoundError(tuple(builder.problems))
    assert isinstance(tree, MappingNode)
    return tree


def _refuse(place: Place, wrong: str, remedy: str = "") -> NoReturn:
    raise ProblemsFoundError((Problem(place, "", "", wrong, remedy),))


def _line(text: str, number: int) -> str:
    lines = text.splitlines()
    return lines[number - 1].strip() if 0 < number <= len(lines) else ""


@dataclass
class _Builder:
    """Makes the tree of one file. An alias repeats what its anchor holds; ``left`` bounds how often."""

    file: str
    problems: list[Problem] = field(default_factory=list)
    left: int = MOST_VALUES
    within: list[int] = field(default_factory=list)

    def place(self, node: yaml.Node) -> Place:
        return Place(self.file, node.start_mark.line + 1, node.start_mark.column + 1)

    def tree(self, node: yaml.Node, path: str, depth: int) -> Any:
        place = self.place(node)
        self.left -= 1
        if self.left < 0:
            raise ProblemsFoundError(
                (
                    Problem(
                        place, path, "", f"The file holds more than {MOST_VALUES:,} values, aliases counted in full."
                    ),
                )
            )
        if depth > DEEPEST or id(node) in self.within:
            wrong = "This refers to itself." if id(node) in self.within else "This is nested too deeply to be a lesson."
            self.problems.append(Problem(place, path, "", wrong))
            return Written("", place)
        if isinstance(node, yaml.ScalarNode):
            if _SURROGATE.search(node.value):
                self.problems.append(
                    Problem(place, path, "", "This text holds half of a character, and nothing can show it.")
                )
            return Written(node.value, place)
        self.within.append(id(node))
        try:
            if isinstance(node, yaml.SequenceNode):
                sequence = SequenceNode(
                    self.tree(item, f"{path}[{number}]", depth + 1) for number, item in enumerate(node.value, start=1)
                )
                sequence.place = place
                return sequence
            return self.mapping(node, path, depth)
        finally:
            self.within.pop()

    def mapping(self, node: yaml.Node, path: str, depth: int) -> MappingNode:
        mapping = MappingNode()
        mapping.place = self.place(node)
        for key_node, value_node in node.value:
            key_place = self.place(key_node)
            if not isinstance(key_node, yaml.ScalarNode):
                remedy = "Put quotation marks around a value that begins with a brace or a bracket."
                self.problems.append(Problem(key_place, path, "", "A key must be a plain word or words.", remedy))
                continue
            key = Written(key_node.value, key_place)
            here = f"{path}.{key}" if path else str(key)
            if key in mapping:
                first = next(known.place.line for known in mapping if isinstance(known, Written) and known == key)
                wrong = f"The key {key} stands here a second time; it was first written on line {first}."
                self.problems.append(Problem(key_place, here, "", wrong, "Keep one of the two."))
                continue
            mapping[key] = self.tree(value_node, here, depth + 1)
        return mapping


def place_of(tree: Any, path: Iterable[str | int], file: str = "") -> Place:
    """The place of the value at ``path``; of the nearest enclosing value where the path breaks off."""
    place: Place = getattr(tree, "place", Place(file))
    for key in path:
        if isinstance(tree, MappingNode) and key in tree:
            tree = tree[str(key)]
        elif isinstance(tree, SequenceNode) and isinstance(key, int) and 0 <= key < len(tree):
            tree = tree[key]
        else:
            continue
        place = getattr(tree, "place", place)
    return place


def written_at(tree: Any, path: Iterable[str | int]) -> str:
    """The author's text at ``path``, or an empty string where there is a list, a mapping or nothing."""
    for key in path:
        if isinstance(tree, MappingNode) and key in tree:
            tree = tree[str(key)]
        elif isinstance(tree, SequenceNode) and isinstance(key, int) and 0 <= key < len(tree):
            tree = tree[key]
        else:
            return ""
    return str(tree) if isinstance(tree, Written) else ""
