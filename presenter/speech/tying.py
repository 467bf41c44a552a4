"""Which worked number a quantity speaks of: by its dimension, by the words around it, by the lesson's own sayings.

In: a quantity heard, the sentence it stands in, what was said before, and the lesson. Out: :class:`Tie`, the
numbers it may mean in order of evidence, and whether one of them stands out.
"""

from __future__ import annotations

import functools
import math
import re
from collections import Counter
from dataclasses import dataclass

from presenter.quantities.registry import registry
from presenter.speech.hearing import Heard
from presenter.speech.lesson_view import LessonView, NumberView
from presenter.speech.word_lists import word_lists

__all__ = ["Tie", "concepts", "dimension_of", "tie"]

_WEAK = {"heat", "length", "gravity", "wort", "ale", "kvass", "cells", "ph", "scene", "grain", "hold"}
_FREE = {
    "first",
    "heat",
    "length",
    "gravity",
    "wort",
    "ale",
    "kvass",
    "off",
    "grain",
    "malt",
    "hold",
    "rye",
    "strike",
    "start",
}
_CONFLICT = 2.0
_WHOLE_LESSON = 0.8  # a figure for the whole lesson is seldom meant beside a step's own
_WHOLE_LABEL = 0.9  # for a number whose own label stands beside the quantity, word for word
_LONG_WORD = re.compile(r"[^\W\d_]{4,}")
_WORD = re.compile(r"\w+")


@dataclass(frozen=True)
class Tie:
    """The numbers a quantity may mean, best first, with the evidence for each; ``clear`` when the first stands out.

    ``borrowed`` where the sentence itself names nothing, so that the evidence comes from what was said before.
    """

    candidates: tuple[tuple[NumberView, float], ...]
    clear: bool
    borrowed: bool = False


@functools.cache
def _patterns() -> dict[str, re.Pattern[str]]:
    return {name: re.compile(rf"\b(?:{pattern})\b") for name, pattern in word_lists()["concepts"].items()}


@functools.lru_cache(maxsize=8192)
def _concepts_of_word(word: str) -> frozenset[str]:
    return frozenset(name for name, pattern in _patterns().items() if pattern.fullmatch(word))


@functools.cache
def _of_several_words() -> tuple[tuple[str, re.Pattern[str]], ...]:
    """The concepts that more than one word may name, which no single word can show."""
    several = word_lists()["concepts"].items()
    return tuple((name, _patterns()[name]) for name, pattern in several if " " in pattern)


@functools.lru_cache(maxsize=4096)
def concepts(text: str) -> frozenset[str]:
    """The things of the brewing day that a text names."""
    lower = text.lower()
    found: set[str] = set()
    for word in set(_WORD.findall(lower)):
        found |= _concepts_of_word(word)
    found.update(name for name, pattern in _of_several_words() if name not in found and pattern.search(lower))
    return frozenset(found)


@functools.lru_cache(maxsize=1024)
def dimension_of(unit: str) -> str:
    """What a unit measures, in one word; degrees whose scale was not said measure heat."""
    if unit in {"degree_bare", "degC", "degF", "kelvin", "degree_Celsius", "degree_Fahrenheit"}:
        return "heat"
    if unit.startswith("delta_deg"):
        return "cooling" if "/" in unit else "warmth"
    if unit in {"percent", "percent_by_volume", "attenuation_percent"}:
        return "share"
    if unit in {"gravity", "gravity_point"}:
        return "gravity"
    if unit in {"quarter", "bushel", "peck", "barrel", "wine_gallon", "us_pint"}:
        return "measure"
    if unit == "fortnight":
        return "[time]"
    if unit in registry:
        return str(registry.Unit(unit).dimensionality)
    return unit


@dataclass(frozen=True)
class _Alike:
    """The numbers of one dimension, the concepts of each, and what each concept is worth as evidence among them."""

    numbers: tuple[NumberView, ...]
    named: tuple[frozenset[str], ...]
    labels: tuple[frozenset[str], ...]
    worth: dict[str, float]
    strong: frozenset[str]


def _concepts_of(number: NumberView) -> frozenset[str]:
    return concepts(f"{number.label} {number.step} {number.say} {number.id.replace('.', ' ').replace('-', ' ')}")


@functools.cache
def _common_words() -> frozenset[str]:
    """Words of labels that name nothing in particular."""
    return frozenset(word_lists()["plain"]) | {"heat", "water", "time", "wort", "first", "second", "lost", "degrees"}


def _kind_of(number: NumberView) -> str:
    """What a worked number measures; a drop in gravity is no gravity."""
    kind = dimension_of(number.unit)
    return "gravity drop" if kind == "gravity" and number.unit == "gravity" and number.value < 0.5 else kind


def _alike(unit: str, lesson: LessonView) -> _Alike:
    """The numbers of the lesson that a quantity in ``unit`` may speak of; reckoned once for each lesson."""
    tables: dict[str, _Alike] = lesson.__dict__.setdefault("_alike", {})
    kind = dimension_of(unit)
    key = "gravity or Plato" if unit in {"gravity_point", "degPlato"} else kind
    if key in tables:
        return tables[key]
    kinds = {"gravity", "gravity drop", dimension_of("degPlato")} if key != kind else {kind}
    same = tuple(number for number in lesson.numbers if _kind_of(number) in kinds)
    named = tuple(_concepts_of(number) for number in same)
    counts = Counter(concept for found in named for concept in found)
    worth = {
        name: math.log(1 + len(same) / counts.get(name, 1)) * (0.5 if name in _WEAK else 1.0) for name in _patterns()
    }
    labels = tuple(frozenset(_LONG_WORD.findall(number.label.lower())) - _common_words() for number in same)
    tables[key] = _Alike(same, named, labels, worth, frozenset(counts) - _WEAK)
    return tables[key]


@functools.cache
def _apart() -> tuple[frozenset[str], ...]:
    """Groups of concepts of which one number can be about one alone: the first mash or the second."""
    return tuple(frozenset(group) for group in word_lists()["apart"])


def _named_here(
    group: frozenset[str], close: frozenset[str], wide: frozenset[str]
) -> tuple[frozenset[str], frozenset[str]]:
    """The group, and those of it that the words speak of: beside the quantity, else in its sentence."""
    return group, (group & close) or (group & wide)


def _same_worth(one: NumberView, other: NumberView) -> bool:
    """Whether two numbers are one figure told twice, so that it does not matter which of them is meant."""
    return one.unit == other.unit and abs(one.value - other.value) <= 1e-6 * abs(other.value)


def tie(heard: Heard, near: str, sentence: str, before: str, lesson: LessonView) -> Tie:
    """The numbers of the quantity's dimension, in the order of the evidence that the words give.

    ``near`` are the words between the quantities beside it, ``sentence`` the whole sentence, ``before`` what was
    said just before.
    """
    alike = _alike(heard.unit, lesson)
    if not alike.numbers:
        return Tie((), False)
    worth = alike.worth
    close, wide, earlier = concepts(near), concepts(sentence), concepts(before)
    leans_back = not wide & alike.strong
    stray = (close - _WEAK) & frozenset.union(*alike.named)
    told_of = [_named_here(group, close, wide) for group in _apart()]
    beside = frozenset(_WORD.findall(near.lower()))
    scored = []
    for number, mine, label in zip(alike.numbers, alike.named, alike.labels, strict=True):
        score = 0.0
        for group, here in told_of:
            if here and mine & group and not mine & here:
                score -= _CONFLICT  # the words speak of the other of the two
        for name in mine:
            if name in wide:
                score += worth[name] if name in close else 0.6 * worth[name]
            elif leans_back and name in earlier:
                score += 0.7 * worth[name]
            elif name not in _FREE:
                score -= (0.15 if name in earlier else 0.35) * worth[name]
        score += _WHOLE_LABEL if len(label) > 1 and label <= beside else 0.0
        if number.id.startswith("lesson.") and "total" in mine and "total" not in wide:
            score -= _WHOLE_LESSON
        scored.append((number, score - 0.3 * len(stray - mine)))
    scored.sort(key=lambda pair: -pair[1])
    best = scored[0][1]
    second = next((score for number, score in scored[1:] if not _same_worth(number, scored[0][0])), -1.0)
    alone = len(scored) == 1 and bool(wide & alike.named[0])
    clear = alone or (best >= 0.5 and best - second >= 0.15)
    return Tie(tuple(scored), clear, leans_back)
