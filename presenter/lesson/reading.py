"""YAML text that remembers its place: every scalar stays the author's own text, with line and column.

In: the text of a YAML file and the name that the user knows it by. Out: a tree of :class:`Mapping`,
:class:`Sequence` and :class:`Written`; or every Problem of the file's form (bad YAML, a doubled key).
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import yaml

from presenter.problems import Place, Problem, ProblemsFoundError

__all__ = ["MappingNode", "SequenceNode", "Written", "place_of", "read_yaml", "written_at"]

LARGEST_FILE = 2_000_000


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


def read_yaml(text: str, file: str) -> MappingNode:
    """The tree of one YAML file whose top level is a mapping.

    Raises ProblemsFoundError with every doubled key, or with the one place where the YAML breaks off.
    """
    if len(text) > LARGEST_FILE:
        _refuse(Place(file), "", f"The file has more than {LARGEST_FILE:,} characters; a lesson is never that long.")
    unprintable = next((i for i, c in enumerate(text) if not (c.isprintable() or c in "\n\r\t\ufeff")), None)
    if unprintable is not None and ord(text[unprintable]) < 32:
        line = text.count("\n", 0, unprintable) + 1
        column = unprintable - (text.rfind("\n", 0, unprintable) + 1) + 1
        _refuse(Place(file, line, column), "", "There is a character here that no text file should hold.")
    try:
        node = yaml.compose(text, _PlainLoader)
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        place = Place(file, mark.line + 1, mark.column + 1) if mark else Place(file)
        said = (error.problem or error.context or "it cannot be read").replace("'<stream end>'", "the end of the file")
        raise ProblemsFoundError(
            (
                Problem(
                    place,
                    "",
                    _line(text, place.line),
                    f"This is not YAML from here on: {said}.",
                    "Look for a missing colon, quotation mark or closing bracket, or a tab used to indent.",
                ),
            )
        ) from None
    except (yaml.reader.ReaderError, RecursionError):
        _refuse(Place(file), "", "The file cannot be read as YAML text.")
    if not isinstance(node, yaml.MappingNode):
        _refuse(Place(file), "", "The file must begin with keys and values, such as title: Two ales from one mash.")
    problems: list[Problem] = []
    tree = _tree(node, file, problems, "", 0)
    if problems:
        raise ProblemsFoundError(tuple(problems))
    assert isinstance(tree, MappingNode)
    return tree


def _refuse(place: Place, written: str, wrong: str) -> None:
    raise ProblemsFoundError((Problem(place, "", written, wrong),))


def _line(text: str, number: int) -> str:
    lines = text.splitlines()
    return lines[number - 1].strip() if 0 < number <= len(lines) else ""


def _tree(node: yaml.Node, file: str, problems: list[Problem], path: str, depth: int) -> Any:
    place = Place(file, node.start_mark.line + 1, node.start_mark.column + 1)
    if depth > 40:
        problems.append(Problem(place, path, "", "This is nested too deeply, or refers to itself."))
        return Written("", place)
    if isinstance(node, yaml.ScalarNode):
        return Written(node.value, place)
    if isinstance(node, yaml.SequenceNode):
        sequence = SequenceNode(
            _tree(item, file, problems, f"{path}[{i}]", depth + 1) for i, item in enumerate(node.value)
        )
        sequence.place = place
        return sequence
    mapping = MappingNode()
    mapping.place = place
    for key_node, value_node in node.value:
        key_place = Place(file, key_node.start_mark.line + 1, key_node.start_mark.column + 1)
        if not isinstance(key_node, yaml.ScalarNode):
            problems.append(Problem(key_place, path, "", "A key must be a plain word or words."))
            continue
        key = Written(key_node.value, key_place)
        here = f"{path}.{key}" if path else str(key)
        if key in mapping:
            first = next(known.place.line for known in mapping if known == key and isinstance(known, Written))
            problems.append(
                Problem(
                    key_place, here, "", f"The key {key} stands here a second time; it was first written on line {first}.",
                    "Keep one of the two.",
                )
            )  # fmt: skip
            continue
        mapping[key] = _tree(value_node, file, problems, here, depth + 1)
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
