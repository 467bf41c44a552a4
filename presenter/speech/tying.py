"""Which worked number a quantity speaks of: by its dimension, by the words around it, by the lesson's own sayings.

In: a quantity heard, the sentence it stands in, what was said before, and the lesson. Out: :class:`Tie`, the
numbers it may mean in order of evidence, and whether one of them stands out.
"""

from __future__ import annotations

import functools
import math
import re
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
    "total",
    "rye",
    "strike",
}


@dataclass(frozen=True)
class Tie:
    """The numbers a quantity may mean, best first, with the evidence for each; ``clear`` when the first stands out."""

    candidates: tuple[tuple[NumberView, float], ...]
    clear: bool


@functools.cache
def _patterns() -> dict[str, re.Pattern[str]]:
    return {name: re.compile(rf"\b(?:{pattern})\b") for name, pattern in word_lists()["concepts"].items()}


@functools.lru_cache(maxsize=4096)
def concepts(text: str) -> frozenset[str]:
    """The things of the brewing day that a text names."""
    lower = text.lower()
    return frozenset(name for name, pattern in _patterns().items() if pattern.search(lower))


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


def _concepts_of(number: NumberView) -> frozenset[str]:
    return concepts(f"{number.label} {number.step} {number.say} {number.id.replace('.', ' ').replace('-', ' ')}")


def tie(heard: Heard, near: str, sentence: str, before: str, lesson: LessonView) -> Tie:
    """The numbers of the quantity's dimension, in the order of the evidence that the words give.

    ``near`` are the words between the quantities beside it, ``sentence`` the whole sentence, ``before`` what was
    said just before.
    """
    kind = dimension_of(heard.unit)
    same = [number for number in lesson.numbers if dimension_of(number.unit) == kind]
    if heard.unit in {"gravity_point", "degPlato"}:
        both = {"gravity", dimension_of("degPlato")}
        same = [number for number in lesson.numbers if dimension_of(number.unit) in both]
    if not same:
        return Tie((), False)
    named = {number.id: _concepts_of(number) for number in same}
    counts: dict[str, int] = {}
    for found in named.values():
        for concept in found:
            counts[concept] = counts.get(concept, 0) + 1
    close, wide, earlier = concepts(near), concepts(sentence), concepts(before)

    def weight(concept: str) -> float:
        base = math.log(1 + len(same) / counts.get(concept, 1))
        return base * (0.5 if concept in _WEAK else 1.0)

    scored = []
    for number in same:
        mine = named[number.id]
        score = sum(weight(c) * (1.0 if c in close else 0.6) for c in mine & wide)
        if not wide & (set(counts) - _WEAK):
            score += sum(weight(c) * 0.7 for c in mine & earlier - wide)
        score -= sum(0.35 * weight(c) for c in mine - wide - earlier if c not in _FREE)
        score -= sum(0.3 for c in close - mine if c not in _WEAK and c in counts)
        scored.append((number, score))
    scored.sort(key=lambda pair: -pair[1])
    best = scored[0][1]
    second = scored[1][1] if len(scored) > 1 else -1.0
    alone = len(scored) == 1 and bool(wide & named[scored[0][0].id])
    clear = alone or (best >= 0.5 and best - second >= 0.15)
    return Tie(tuple(scored), clear)
