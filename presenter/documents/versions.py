"""Versions of a worksheet: the lesson changed a little and worked out again, so that neighbours cannot copy.

In: a worked lesson, a version's letter and a seed. Out: the changed lesson, worked, and what was changed in words.
Version A is the lesson as it stands (of a day, with that day's changes). Whatever a change makes impossible is left
out.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from string import ascii_uppercase
from typing import Any

from presenter.days.changing import lesson_tree
from presenter.days.made import worked_silently
from presenter.lesson import Lesson, slug
from presenter.lesson.checking import lesson_from_tree
from presenter.lesson.reading import MappingNode, SequenceNode, Written
from presenter.problems import ProblemsFoundError
from presenter.working import WorkedLesson

__all__ = ["Version", "chance", "version_of"]

# By how much a version changes what the author wrote; neighbouring letters take neighbouring rows, which all differ.
_FACTORS = {
    "water": ("1.08", "0.93", "1.04", "0.96"),
    "cools": ("0.8", "1.2", "0.6", "1.4"),
    "boils away": ("1.25", "0.75", "1.1", "0.9"),
    "hold": ("0.8", "1.2", "0.9", "1.1"),
    "until core": ("0.97", "0.94", "0.98", "0.95"),
}
_FIGURE = re.compile(r"^(\d+(?:\.\d+)?)(\s.*)$")
_MOST_KEPT = 64


@dataclass(frozen=True)
class Version:
    """A lesson as one version asks about it. ``changes`` pairs words with the number that is changed; none in A."""

    letter: str
    worked: WorkedLesson
    changes: tuple[tuple[str, str], ...]

    def changes_in_words(self, measures: str) -> list[str]:
        """Each change with its figure."""
        numbers = self.worked.numbers
        return [f"{words} {numbers[id_].words(measures)}" for words, id_ in self.changes if id_ in numbers]


def chance(*words: str) -> int:
    """A number that follows from words alone, the same on every machine."""
    return int(hashlib.sha256("/".join(words).encode()).hexdigest()[:12], 16)


_KEPT: dict[tuple[str, str, str, str], Version] = {}


def version_of(worked: WorkedLesson, letter: str, seed: str) -> Version:
    """The lesson of one version; "" and "A" are the lesson as it stands."""
    if letter in ("", "A"):
        return Version(letter, worked, ())
    lesson = worked.lesson
    key = (str(lesson.path), f"{lesson_tree(lesson)} {lesson.house.values}", letter, seed)
    if key not in _KEPT:
        if len(_KEPT) >= _MOST_KEPT:
            _KEPT.clear()
        _KEPT[key] = _made(lesson, letter, seed) or Version(letter, worked, ())
    return _KEPT[key]


def _made(lesson: Lesson, letter: str, seed: str) -> Version | None:
    """The changed lesson; with fewer changes where the lesson cannot take all of them."""
    row = (chance(seed) + ascii_uppercase.index(letter)) % 4
    wanted = list(_FACTORS)
    while wanted:
        tree = lesson_tree(lesson)
        changes = tuple(_change(tree, wanted, row))
        try:
            changed = lesson_from_tree(tree, lesson.text, lesson.path, lesson.house, others=lesson.others)
            return Version(letter, worked_silently(changed), changes) if changes else None
        except ProblemsFoundError:
            wanted.pop()
    return None


def _change(tree: MappingNode, wanted: list[str], row: int) -> Iterator[tuple[str, str]]:
    """Change the tree in place; words for each change, and the id of the number it changes."""
    for name, item in tree.get("kit", {}).items():
        for key in ("cools", "boils away"):
            if key in wanted and isinstance(item, MappingNode) and _scaled(item, key, _FACTORS[key][row]):
                yield f"the {name} {key}", f"lesson.{slug(str(name))}-{slug(key)}"
    for step in tree["steps"]:
        if "until core" in wanted and str(step.get("do", "")).strip() == "bake":
            yield from _cooler_core(step, _FACTORS["until core"][row])
        if str(step.get("do", "")).strip() != "mash":
            continue
        for key in ("water", "hold"):
            holder: Any = step
            inner = key
            if isinstance(step.get(key), MappingNode):
                holder, inner = step[key], "amount"
            if key in wanted and _scaled(holder, inner, _FACTORS[key][row]):
                words = "takes water," if key == "water" else "rests for"
                yield f"“{step['name']}” {words}", f"{slug(str(step['name']))}.{key}"
        return


def _cooler_core(step: MappingNode, factor: str) -> Iterator[tuple[str, str]]:
    """Take the loaf out at a cooler core; of several loaves, the first."""
    cores: Any = step.get("until core")
    loaves: Any = step.get("call it")
    several = isinstance(cores, SequenceNode) and len(cores) > 1 and isinstance(loaves, SequenceNode)
    one = MappingNode({Written("core", step.place): cores[0]}) if several else step
    if not _scaled(one, "core" if several else "until core", factor):
        return
    name = str(loaves[0]) if several else "loaf"
    if several:
        cores[0] = one["core"]
    number = f"{slug(str(step['name']))}.{slug(name) + '-' if several else ''}core"
    yield f"“{step['name']}” takes out the {name} at", number


def _scaled(holder: MappingNode, key: str, factor: str) -> bool:
    """Multiply a figure that the author wrote, kept to the decimals it had, one more where it is small."""
    written = holder.get(key)
    found = _FIGURE.match(str(written).strip()) if isinstance(written, Written) else None
    if found is None or not isinstance(written, Written):
        return False
    value = Decimal(found[1]) * Decimal(factor)
    places = max(-int(Decimal(found[1]).as_tuple().exponent), 1 if value < 10 else 0)
    scaled = f"{round(value, places):f}"
    if scaled == found[1]:
        return False
    old = next(each for each in holder if str(each) == key)
    holder[old] = Written(f"{scaled}{found[2]}", written.place)
    return True
