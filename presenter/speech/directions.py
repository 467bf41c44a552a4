"""Which way one thing pushes another, and sentences that have it run the wrong way.

In: one sentence in lower case. Out: a :class:`WrongWay` where a cause and its effect are said to move against what
``directions.yaml`` states, or nothing.
"""

from __future__ import annotations

import functools
import re
from collections.abc import Iterable
from importlib.resources import files
from typing import Any, NamedTuple

import yaml

__all__ = ["WrongWay", "directions", "wrong_way"]

_APART = 90  # letters within which a cause and its effect are taken to belong together
_APART_SIGN = re.compile(r"[;:.!?]")
_BACKWARDS = re.compile(r"\b(?:so|therefore|hence|which is why|that's why|that is why|but|and|than)\b")
_BECAUSE = re.compile(r"\b(?:because|since|although|but|unless)\b")
_NOT = re.compile(r"\b(?:not|never|n't|isn't|doesn't|don't|won't|cannot|can't|nor|no longer)\b[^,;.]{0,25}$")


class WrongWay(NamedTuple):
    """A pair said the wrong way: its id, the place of its words, what to say instead, and the source."""

    id: str
    start: int
    end: int
    right: str
    source: str


class _Thing(NamedTuple):
    cue: re.Pattern[str]
    more: re.Pattern[str] | None
    less: re.Pattern[str] | None


class _Push(NamedTuple):
    id: str
    cause: str
    effect: str
    same: bool
    when: re.Pattern[str]
    right: str
    source: str


@functools.cache
def directions() -> dict[str, Any]:
    """The table as it stands in the file."""
    text = files("presenter.speech").joinpath("directions.yaml").read_text(encoding="utf-8")
    loaded: dict[str, Any] = yaml.load(text, Loader=getattr(yaml, "CBaseLoader", yaml.BaseLoader))
    return loaded


def _beside(names: str, way: str) -> list[str]:
    """A thing's names with a direction before or after them: "the gravity slowly falls", "a higher gravity"."""
    words = directions()["directions"][way]
    ahead = words.removeprefix("up|").removeprefix("down|")
    moves = "puts?|brings?|push|pushes|takes?|drags?|sends?|gets?"
    return [
        rf"(?:{names}) (?:(?!and\b|so\b|but\b|or\b|when\b|as\b)\w+ ){{0,3}}?(?:{words})",
        rf"(?:{ahead}) (?:the |its |your |a |of |in )*(?:{names})",
        rf"(?:{moves}) (?:\w+ )?(?:{names}) (?:right )?{'up' if way == 'more' else 'down'}",
        rf"{'up' if way == 'more' else 'down'} (?:goes|comes|shoots|creeps|slides) (?:the |its |your )?(?:{names})",
    ]


@functools.cache
def _things() -> dict[str, _Thing]:
    made = {}
    for name, entry in directions()["things"].items():
        ways: dict[str, re.Pattern[str] | None] = {}
        for way in ("more", "less"):
            parts = [entry[way]] if way in entry else []
            if "names" in entry:
                parts += _beside(entry["names"], way)
            if "process" in entry and way == "more":
                parts.append(entry["process"])
            ways[way] = re.compile(r"\b(?:" + "|".join(parts) + r")(?!\w)") if parts else None
        made[name] = _Thing(re.compile(rf"(?:{entry['cue']})"), ways["more"], ways["less"])
    return made


@functools.cache
def _pushes() -> tuple[_Push, ...]:
    return tuple(
        _Push(
            row["id"], row["cause"], row["effect"], row["way"] == "same", re.compile(row.get("when", "")), row["right"],
            row["source"],
        )
        for row in directions()["pushes"]
    )  # fmt: skip


@functools.lru_cache(maxsize=8192)
def _cued(word: str) -> frozenset[str]:
    """The things that a word may be about."""
    return frozenset(name for name, thing in _things().items() if thing.cue.match(word))


def wrong_way(lower: str, words: Iterable[str]) -> WrongWay | None:
    """The first pair that the sentence has the wrong way round; ``words`` are the sentence's, in lower case."""
    cued: set[str] = set()
    for word in words:
        cued |= _cued(word)
    if len(cued) < 2:
        return None
    for push in _pushes():
        if push.cause not in cued or push.effect not in cued or push.when.search(lower) is None:
            continue
        found = _said_wrong(push, lower)
        if found is not None:
            return WrongWay(push.id, found[0], found[1], push.right, push.source)
    return None


def _ways(thing: _Thing, lower: str) -> list[tuple[int, int, int]]:
    """Where a sentence gives a thing a direction: its start, its end, and 1 for more or -1 for less.

    Where both fit one place the longer words have it: "less sweet" is not "sweet".
    """
    found = []
    for sign, pattern in ((1, thing.more), (-1, thing.less)):
        if pattern is not None:
            found += [(match.start(), match.end(), sign) for match in pattern.finditer(lower)]
    found.sort(key=lambda one: one[0] - one[1])
    kept: list[tuple[int, int, int]] = []
    for one in found:
        if not any(one[0] < other[1] and other[0] < one[1] for other in kept):
            kept.append(one)
    return sorted(kept)


def _said_wrong(push: _Push, lower: str) -> tuple[int, int] | None:
    causes = _ways(_things()[push.cause], lower)
    if not causes:
        return None
    effects = _ways(_things()[push.effect], lower)
    wrong = None
    for effect in effects:
        near = [cause for cause in causes if cause[1] <= effect[0] or effect[1] <= cause[0]]
        near = [cause for cause in near if _belong(cause, effect, lower)]
        if not near:
            continue
        cause = min(near, key=lambda one: min(abs(one[0] - effect[1]), abs(effect[0] - one[1])))
        runs_same = cause[2] == effect[2]
        if runs_same == push.same:
            return None  # said rightly somewhere in the sentence
        if not _NOT.search(lower[: effect[0]]):
            start, end = wrong or (effect[0], effect[1])
            wrong = (min(start, cause[0], effect[0]), max(end, cause[1], effect[1]))
    return wrong


def _belong(cause: tuple[int, int, int], effect: tuple[int, int, int], lower: str) -> bool:
    """Whether the words between let the first be read as what moves the second."""
    if _APART_SIGN.search(lower, min(cause[1], effect[1]), max(cause[0], effect[0])):
        return False
    if cause[1] <= effect[0]:
        between = lower[cause[1] : effect[0]]
        return len(between) <= _APART and not _BECAUSE.search(between)
    between = lower[effect[1] : cause[0]]
    return len(between) <= _APART and not _BACKWARDS.search(between)
