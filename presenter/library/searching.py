"""Search a library: words in lessons, steps, notes and sources; numbers above, below or between what is asked.

In: an index brought up to date, and the words ("juniper", "beta amylase", "above 5 percent"). Out: :class:`Hit` values.
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from typing import Any, NamedTuple

from presenter.library.index import Index, plain
from presenter.problems import BrewingPresenterError
from presenter.quantities import KINDS, UnreadableQuantityError, quantity_from_text

__all__ = ["SHOWN", "Asked", "Hit", "UnclearSearchError", "asked_for", "found_in"]

SHOWN = 200  # hits of each kind, where nobody asks for all
MOST_WORDS = 160  # characters of a hit's words that are shown


class UnclearSearchError(BrewingPresenterError):
    """The search asks for a number that cannot be read."""


class Hit(NamedTuple):
    """One thing found. ``kind`` is lesson, step, number, note or source; ``lesson`` is empty for what is shared."""

    kind: str
    lesson: str
    id: str
    title: str
    words: str
    file: str = ""
    line: int = 0


@dataclass(frozen=True)
class Asked:
    """What a search asks for: words that must all stand there, and a range that a number of one kind lies in."""

    words: tuple[str, ...]
    kinds: tuple[str, ...] = ()
    above: float | None = None
    below: float | None = None


_ABOVE = r"above|over|more than|at least|stronger than|hotter than|longer than|from"
_BELOW = r"below|under|less than|at most|weaker than|cooler than|shorter than|up to"
_AMOUNT = r"[\d.,/]+\s*[^\d\s]*(?:\s+per\s+\w+)?"
_RANGE = re.compile(rf"\bbetween\s+(?P<low>{_AMOUNT})\s+and\s+(?P<high>{_AMOUNT})", re.IGNORECASE)
_ONE = re.compile(rf"\b(?:(?P<above>{_ABOVE})|(?P<below>{_BELOW}))\s+(?P<amount>{_AMOUNT})", re.IGNORECASE)
# A unit that several kinds share means the first of these, unless a word beside it names another number.
_FIRST = ("strength", "mass", "volume", "temperature", "time", "gravity")
_MORE = ("degrees Plato", "carbonation", "share", "attenuation", "power", "length", "pressure", "energy")


def asked_for(text: str) -> Asked:
    """A search in words, understood.

    Raises UnclearSearchError where "above" or the like is followed by a number that is no quantity.
    """
    rest, low, high = text, "", ""
    ranged = _RANGE.search(text)
    if ranged is not None:
        low, high = ranged["low"], ranged["high"]
        rest = text[: ranged.start()] + text[ranged.end() :]
        if not re.search(r"[^\d\s.,/]", low):  # "between 5 and 7 percent"
            unit = re.sub(r"^[\d.,/]+", "", high)
            low = f"{low} {unit}".strip()
    else:
        for one in _ONE.finditer(text):
            if one["above"]:
                low = one["amount"]
            else:
                high = one["amount"]
            rest = rest.replace(one[0], " ")
    words = tuple(plain(rest).split())
    if not low and not high:
        return Asked(words)
    named = [kind for kind in KINDS if kind in " ".join(words)]
    for kinds in ([*named], list(_FIRST), list(_MORE)):
        for kind in kinds:
            above, below = _value(low, kind), _value(high, kind)
            if (above is None) == (not low) and (below is None) == (not high):
                alike = tuple(other for other in KINDS if KINDS[other].unit == KINDS[kind].unit)
                wide = ("strength", "share", "attenuation") if words and kind == "strength" else alike
                return Asked(words, wide, above, below)
    raise UnclearSearchError(f"{low or high} is no quantity; write it as in: above 5 percent, or below 20 degC.")


def _value(text: str, kind: str) -> float | None:
    if not text:
        return None
    try:
        return float(quantity_from_text(text, KINDS[kind]).to(KINDS[kind].unit).magnitude)
    except UnreadableQuantityError:
        return None


def found_in(index: Index, asked: Asked, at_most: int = SHOWN) -> list[Hit]:
    """Everything in a library that answers, at most so many of each kind: lessons, steps, numbers, notes, sources."""
    if asked.kinds:
        return _numbers(index, asked, at_most)
    if not asked.words:
        return []
    return [*_lessons(index, asked, at_most), *_texts(index, asked, at_most), *_numbers(index, asked, at_most)]


def _all_stand(column: str, words: tuple[str, ...]) -> str:
    return " AND ".join(f"instr({column}, ?) > 0" for _ in words) or "1"


def _lessons(index: Index, asked: Asked, at_most: int) -> list[Hit]:
    question = (
        f"SELECT name, path, facts FROM lessons WHERE {_all_stand('searched', asked.words)} ORDER BY name LIMIT ?"
    )
    found = []
    for name, path, record in index.ask(question, (*asked.words, at_most)):
        facts = json.loads(record)
        found.append(Hit("lesson", name, name, facts["title"], _short(facts["scene"]), index.file_of(path), 1))
    return found


def _texts(index: Index, asked: Asked, at_most: int) -> list[Hit]:
    question = (
        "SELECT kind, lesson, id, title, words, file, line FROM texts"
        f" WHERE {_all_stand('searched', asked.words)} ORDER BY kind, lesson, file, line LIMIT ?"
    )
    order = {"step": 0, "note": 1, "source": 2}
    rows = sorted(index.ask(question, (*asked.words, at_most)), key=lambda row: order[row[0]])
    return [
        Hit(kind, lesson, hit_id, title, _short(words, asked.words), index.file_of(file), line)
        for kind, lesson, hit_id, title, words, file, line in rows
    ]


def _numbers(index: Index, asked: Asked, at_most: int) -> list[Hit]:
    words = _all_stand("searched", asked.words)
    values: list[Any]
    if not asked.kinds:
        labels = [row[0] for row in index.ask(f"SELECT label FROM labels WHERE {words}", asked.words)]
        told, values = [f"n.label IN ({','.join('?' * len(labels))})"], list(labels)
    else:
        told, values = [f"n.kind IN ({','.join('?' * len(asked.kinds))})"], list(asked.kinds)
        for limit, sign in ((asked.above, ">="), (asked.below, "<=")):
            if limit is not None:
                told.append(f"n.value {sign} ?")
                values.append(limit)
        if asked.words:
            told.append(words.replace("searched", "l.searched"))
            values += asked.words
    question = (
        "SELECT n.lesson, n.id, l.words, n.words, t.path FROM numbers n JOIN labels l ON l.label = n.label"
        f" JOIN lessons t ON t.name = n.lesson WHERE {' AND '.join(told)} LIMIT ?"
    )
    return sorted(
        Hit("number", lesson, number_id, label, words, index.file_of(path))
        for lesson, number_id, label, words, path in index.ask(question, (*values, at_most))
    )


def _short(text: str, words: tuple[str, ...] = ()) -> str:
    """The part of ``text`` round the first of ``words``, whole words only."""
    if len(text) <= MOST_WORDS:
        return text
    places = [at for word in words if (at := text.casefold().find(word)) >= 0]
    start = max(0, min(places) - MOST_WORDS // 3) if places else 0
    part = text[start : start + MOST_WORDS]
    if start:
        part = "… " + part.partition(" ")[2]
    return part.rpartition(" ")[0] + " …" if start + MOST_WORDS < len(text) else part
