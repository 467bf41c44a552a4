"""A lesson that starts from another one: its text scaled to another batch, kit or number of groups.

In: a checked lesson, and what is wanted. Out: its text with the author's own words and comments; only amounts of
ingredients and volumes of liquids are written anew, each at its place. Times, heats and tastes stay as they are.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any

from presenter.lesson import Lesson
from presenter.lesson.amounts import counted
from presenter.lesson.day import Day
from presenter.lesson.reading import MappingNode, SequenceNode, Written, as_user_knows, read_yaml
from presenter.problems import Place, Problem, ProblemsFoundError, nearest
from presenter.quantities import KINDS, UnreadableQuantityError, quantity_from_text
from presenter.working import WorkedLesson

__all__ = ["batch_of", "factor_for_kit", "learned", "scaled_text", "shopping"]

SCALED_KINDS = ("mass", "volume", "pieces")
IN_STEPS = ("volume", "water", "amount")
QUARTERED = 3.0  # pieces; fewer than that are parted into quarters (common practice with packets, eggs and slices)
_QUANTITY = re.compile(r"\d+(?:[.,]\d+)?\s*[A-Za-z_]+")


def batch_of(worked: WorkedLesson) -> float:
    """Litres of everything that is in the vessels at the end."""
    return sum(liquid.volume.value for liquid in worked.vessels.liquids.values())


def _stated(text: str) -> tuple[float, str] | None:
    """The number and the kind of a mass, a volume or a count; nothing for other words."""
    for kind in SCALED_KINDS:
        try:
            return float(quantity_from_text(text, KINDS[kind]).magnitude), kind
        except UnreadableQuantityError:
            continue
    in_pieces = counted(text)
    return None if in_pieces is None else (in_pieces.number(), "pieces")


def _scaled(text: str, factor: float) -> str:
    """A quantity times ``factor`` in the author's unit, to three figures; text that is none as it stands."""
    if text.casefold().startswith("enough for"):  # a wish: only "enough for 9 L at ..." grows with the batch
        return _QUANTITY.sub(lambda found: _scaled(found[0], factor), text, count=1)
    found = _stated(text)
    if found is None:
        return text
    number, kind = found[0] * factor, found[1]
    unit = re.sub(r"^[\d\s.,/½¼¾⅓⅔⅛+]+", "", text)
    figure = _count(number) if kind == "pieces" else f"{number:.3g}"
    if "e" in figure:
        figure = f"{number:.0f}"
    return f"{figure} {unit}".strip()


def _count(number: float) -> str:
    """A number of pieces: whole ones, and of few pieces quarters, never none."""
    return f"{max(0.25, round(number * 4) / 4):g}" if number < QUARTERED else f"{round(number)}"


def _amounts(tree: MappingNode) -> Iterator[Written]:
    """Every amount of an ingredient and every volume in a step."""
    listed = tree.get("ingredients")
    for use in listed.values() if isinstance(listed, MappingNode) else ():
        if isinstance(use, MappingNode) and isinstance(use.get("amount"), Written):
            yield use["amount"]
    steps = tree.get("steps")
    for step in steps if isinstance(steps, SequenceNode) else ():
        if not isinstance(step, MappingNode):
            continue
        for key in IN_STEPS:
            found: Any = step.get(key)
            found = found.get("amount") if isinstance(found, MappingNode) else found
            if isinstance(found, Written):
                yield found
        expected = step.get("expect")
        if isinstance(expected, MappingNode) and isinstance(expected.get("volume"), Written):
            yield expected["volume"]


def factor_for_kit(lesson: Lesson, kit: Mapping[str, str]) -> float:
    """How much the batch grows when the vessels named have other sizes: as much as the tightest of them allows.

    Raises ProblemsFoundError for a vessel that the lesson does not have, or a size that is no volume.
    """
    factors, problems = [], []
    known = {str(name): item for name, item in lesson.file.kit.items() if item.holds is not None}
    for name, size in kit.items():
        place = Place("--kit", 0, 0)
        if name not in known:
            close = nearest(name, known)
            remedy = f"Did you mean {close}?" if close else f"Its vessels are {', '.join(known)}."
            problems.append(
                Problem(place, "", "", f"The lesson has no vessel called {name} that says what it holds.", remedy)
            )
            continue
        try:
            litres = float(quantity_from_text(size, KINDS["volume"]).to("litre").magnitude)
            holds = known[name].holds
            assert holds is not None
            factors.append(litres / holds.number())
        except UnreadableQuantityError as error:
            problems.append(Problem(place, "", "", error.wrong, error.remedy))
    if problems:
        raise ProblemsFoundError(tuple(problems))
    return min(factors, default=1.0)


def scaled_text(lesson: Lesson, factor: float, kit: Mapping[str, str], said: Mapping[str, str]) -> str:
    """The lesson's text with every amount times ``factor``, the sizes under ``kit`` and the top keys under ``said``."""
    tree = read_yaml(lesson.text, as_user_knows(lesson.path))
    changes: list[tuple[Written, str]] = []
    if factor != 1.0:
        changes += [(written, _scaled(str(written), factor)) for written in _amounts(tree)]
    items = tree.get("kit")
    for name, size in kit.items():
        item = items.get(name) if isinstance(items, MappingNode) else None
        if isinstance(item, MappingNode) and isinstance(item.get("holds"), Written):
            changes.append((item["holds"], size))
    changes += [(tree[key], new) for key, new in said.items() if isinstance(tree.get(key), Written)]
    return _rewritten(lesson.text, changes)


def _rewritten(text: str, changes: Iterable[tuple[Written, str]]) -> str:
    """``text`` with each value replaced where it stands; the last place first, so that earlier places still hold."""
    lines = text.removeprefix("\ufeff").split("\n")
    for written, new in sorted(changes, key=lambda change: change[0].place, reverse=True):
        row, column = written.place.line - 1, written.place.column - 1
        head, tail = lines[row][:column], lines[row][column:]
        if str(written) in tail:
            lines[row] = head + tail.replace(str(written), new, 1)
    return "\n".join(lines)


def shopping(lesson: Lesson, factor: float, groups: int) -> list[str]:
    """What to buy for so many groups, a line for each ingredient."""
    return [
        f"{use.what}: {_scaled(use.amount.written, factor * groups)}"
        for use in lesson.file.ingredients.values()
        if _stated(use.amount.written) is not None
    ]


def learned(day: Day) -> list[str]:
    """What a day left for the next lesson: its own words, and what was read where."""
    lines = [str(line) for line in day.file.next_time]
    for reading in day.file.readings:
        read = ", ".join(f"{name} {value.written}" for name, value in reading.read().items())
        lines.append(f"read at {reading.at}: {read}")
    lines += [f"changed: {change.because}" for change in day.file.changes]
    return lines


def with_head(text: str, head: Iterable[str]) -> str:
    """``text`` below its schema's line and the comment lines of ``head``."""
    body = text.split("\n")
    if body and body[0].startswith("# yaml-language-server:"):
        body = body[1:]
    top = ["# yaml-language-server: $schema=.lesson.schema.json", *(f"# {line}".rstrip() for line in head)]
    return "\n".join([*top, *body])


def near(lesson: Lesson, folder: Path) -> bool:
    """Whether a new folder finds the same notes and sources as the lesson that it starts from."""
    top = lesson.house.folder
    return top is None or folder.resolve().is_relative_to(top.resolve())
