"""The patterns of ``patterns.yaml``: units, hedges and numbers that measure nothing.

In: the words of a talk and a place in them. Out: the unit said there, the hedge beside it, and the stretches of the
talk whose numbers are to be left alone.
"""

from __future__ import annotations

import functools
import re
from importlib.resources import files
from typing import Any, NamedTuple

import yaml

from presenter.speech.numbers_said import Words

__all__ = ["UnitSaid", "hedge_around", "left_alone", "patterns", "unit_at", "unit_openers", "unit_or_number"]

_NUMBER_WORDS = (
    "one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen"
    "|eighteen|nineteen|twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety|hundred|thousand|million|billion|oh"
    r"|zero|nought|point|dozen|half|\d[\d,]*(?:\.\d+)?(?::\d\d)?"
)
_NUMBER = (
    rf"(?:(?:a (?=hundred|thousand|million|dozen|half))?(?:{_NUMBER_WORDS})\b(?:(?:-| and | )(?:{_NUMBER_WORDS})\b)*)"
)
_ONLY_AFTER_DIGITS = {"l", "g", "m", "s", "h", "w", "log", "sec"}


class UnitSaid(NamedTuple):
    """A unit that was said: its name in the registry, how many of it one is, the index after it."""

    means: str
    times: float
    end: int
    alone: bool
    id: str


@functools.cache
def patterns() -> dict[str, Any]:
    """The patterns as they stand in the file."""
    text = files("presenter.speech").joinpath("patterns.yaml").read_text(encoding="utf-8")
    loaded: dict[str, Any] = yaml.load(text, Loader=getattr(yaml, "CBaseLoader", yaml.BaseLoader))
    return loaded


@functools.cache
def _units() -> dict[str, list[tuple[tuple[str, ...], str, float, bool, str]]]:
    """Under each first word the phrases that begin with it, longest first."""
    found: dict[str, list[tuple[tuple[str, ...], str, float, bool, str]]] = {}
    for entry in patterns()["units"]:
        for phrase in entry["hears"]:
            parts = tuple(re.findall(r"[^\W_]+|[%°-]", phrase))
            row = (parts, entry["means"], float(entry.get("times", 1)), entry["alone"] == "yes", entry["id"])
            found.setdefault(parts[0], []).append(row)
    for rows in found.values():
        rows.sort(key=lambda row: -len(row[0]))
    return found


@functools.cache
def _alone() -> tuple[re.Pattern[str], ...]:
    """One expression for each kind of number that measures nothing."""
    words = {phrase for entry in patterns()["units"] for phrase in entry["hears"] if len(phrase) > 1}
    unit = "|".join(sorted((re.escape(word) for word in words), key=len, reverse=True))
    return tuple(
        re.compile(r"(?<!\w)(?:" + entry["says"].replace("{unit}", unit).replace("{number}", _NUMBER) + r")(?!\w)")
        for entry in patterns()["left_alone"]
    )


@functools.cache
def _hedges(side: str) -> frozenset[tuple[str, ...]]:
    return frozenset(tuple(phrase.split()) for phrase in patterns()["hedges"][side])


def unit_at(said: Words, index: int, after_digits: bool = True) -> UnitSaid | None:
    """The unit whose words begin at ``index``, the longest that fits, or nothing."""
    for parts, means, times, alone, name in _units().get(said.word(index), ()):
        if all(said.word(index + step) == part for step, part in enumerate(parts)):
            if not after_digits and " ".join(parts) in _ONLY_AFTER_DIGITS:
                continue
            return UnitSaid(means, times, index + len(parts), alone, name)
    return None


@functools.cache
def unit_openers() -> frozenset[str]:
    """The first words of all units."""
    return frozenset(_units())


@functools.cache
def unit_or_number(word: str) -> bool:
    """Whether a word is part of a unit or of a number."""
    return any(word in row[0] for rows in _units().values() for row in rows) or bool(
        re.fullmatch(rf"(?:{_NUMBER_WORDS}|quarters?|thirds?|couple)(?:-(?:{_NUMBER_WORDS}))*", word)
    )


def left_alone(text: str) -> list[tuple[int, int]]:
    """Where in ``text`` numbers measure nothing: times of day, money, scores, figures of speech; sorted, joined."""
    lower = text.lower()
    if len(lower) != len(text):  # a letter whose small form is longer would shift every place after it
        lower = "".join(letter.lower() if len(letter.lower()) == 1 else letter for letter in text)
    lower = lower.replace("’", "'").replace("\n", " ")
    spans = sorted(found.span() for pattern in _alone() for found in pattern.finditer(lower))
    joined: list[tuple[int, int]] = []
    for start, end in spans:
        if joined and start < joined[-1][1]:
            joined[-1] = (joined[-1][0], max(end, joined[-1][1]))
        else:
            joined.append((start, end))
    return joined


def hedge_around(said: Words, start: int, end: int) -> str:
    """The words beside a quantity that loosen it: "about", "a touch over", "or so"; or an empty string."""
    for length in (3, 2, 1):
        before = tuple(said.words[max(0, start - length) : start])
        if len(before) == length and before in _hedges("before"):
            return " ".join(before)
    if said.word(start - 1) == "of" and said.word(start - 2) in {"order", "region", "neighbourhood"}:
        return "around"
    for length in (3, 2, 1):
        after = tuple(said.words[end : end + length])
        if len(after) == length and after in _hedges("after"):
            return " ".join(after)
    return ""
