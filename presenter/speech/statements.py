"""Sentences that say something wrong of the trade, repeat a myth of the lesson's list, or need official advice.

In: one sentence and the lesson's view. Out: :class:`Remark` values with the place of the words in the sentence.
"""

from __future__ import annotations

import functools
import re
from importlib.resources import files
from typing import Any, NamedTuple

import yaml

from presenter.speech.directions import directions, wrong_way
from presenter.speech.hearing import heard
from presenter.speech.lesson_view import LessonView, Myth
from presenter.speech.word_lists import word_lists, words_of_talks

__all__ = ["Remark", "remarks", "statements"]

_COMMON = {
    "the", "a", "an", "of", "and", "is", "was", "were", "it", "in", "to", "by", "this", "that", "how", "because",
    "be", "so",
    "have", "has", "had", "been", "on", "for", "as", "at", "just", "very", "from", "they", "their", "must",
    "always", "are",
    "there", "you", "i", "we", "did", "do", "its", "with", "or", "any", "all", "more", "than", "people",
}  # fmt: skip
_WORD = re.compile(r"\w+")
_OTHER_CLAUSE = re.compile(r"[,;:]|\b(?:and|but|while|whereas|then|from|of)\b")
_MYTH_DENIAL = words_of_talks("myth_denial")

_NEGATED = re.compile(r"\b(?:not|wasn't|isn't|weren't|didn't|aren't|doesn't)\b")


class Remark(NamedTuple):
    """A remark on a sentence: verdict, place of its words, what it is about, what to say instead, and the source."""

    verdict: str
    start: int
    end: int
    about: str
    say_instead: str
    source: str


@functools.cache
def statements() -> dict[str, Any]:
    """The table as it stands in the file."""
    text = files("presenter.speech").joinpath("statements.yaml").read_text(encoding="utf-8")
    loaded: dict[str, Any] = yaml.load(text, Loader=getattr(yaml, "CBaseLoader", yaml.BaseLoader))
    return loaded


class _Row(NamedTuple):
    """An entry of the table, its expressions ready; ``when`` and ``needs`` fit everything where there are none."""

    id: str
    cue: re.Pattern[str]
    when: re.Pattern[str]
    says: re.Pattern[str]
    needs: re.Pattern[str]
    unless: re.Pattern[str] | None
    right: str
    source: str
    agent: bool


def _makers() -> list[_Row]:
    """The table of what makes what, as statements: a maker said to make what it does not, or the other way about."""
    table = directions()["makers"]
    rows = []
    for name, maker in table["things"].items():
        things = "|".join(table["products"][product] for product in maker["never"])
        does = re.compile(rf"\b{table['verbs']} (?:(?!not\b|no\b|from\b|into\b|to\b)\w+ ){{0,4}}?(?:{things})\b")
        done = re.compile(
            rf"\b(?:{things}) (?:\w+ ){{0,4}}?(?:{table['passive']}) (?:\w+ ){{0,2}}?(?:{maker['names']})\b"
        )
        cue, named, empty = (
            re.compile(rf"(?:{maker['names']})"),
            re.compile(rf"\b(?:{maker['names']})\b"),
            re.compile(""),
        )
        source = "common practice"
        rows.append(_Row(f"what {name} makes", cue, named, does, empty, None, maker["right"], source, True))
        rows.append(_Row(f"what {name} makes", cue, named, done, empty, None, maker["right"], source, False))
    return rows


@functools.cache
def _rows(kind: str) -> tuple[_Row, ...]:
    made = _makers() if kind == "wrong" else []
    return (*_rows_of_table(kind), *made)


def _rows_of_table(kind: str) -> tuple[_Row, ...]:
    return tuple(
        _Row(
            row["id"],
            re.compile(rf"(?:{row['cue']})"),
            re.compile(row.get("when", "")),
            re.compile(row["says"]),
            re.compile(row.get("needs", "")),
            re.compile(row["unless"]) if "unless" in row else None,
            row.get("right", ""),
            row.get("source", ""),
            row.get("agent") == "yes",
        )
        for row in statements()[kind]
    )


@functools.lru_cache(maxsize=16384)
def _cued(kind: str, word: str) -> frozenset[int]:
    """The entries that a word lets be looked at, by their number; so most sentences meet few expressions."""
    return frozenset(number for number, row in enumerate(_rows(kind)) if row.cue.match(word))


def _rows_for(kind: str, words: frozenset[str]) -> list[_Row]:
    numbers: set[int] = set()
    for word in words:
        numbers |= _cued(kind, word)
    rows = _rows(kind)
    return [rows[number] for number in sorted(numbers)]


@functools.cache
def _expression(name: str) -> re.Pattern[str]:
    return re.compile(statements()[name])


def remarks(sentence: str, lesson: LessonView) -> list[Remark]:
    """The remarks on one sentence, myths first, then remarks for official advice, then wrong statements."""
    lower = sentence.lower().replace("’", "'")
    words = frozenset(_WORD.findall(lower))
    found = [remark for remark in (_myth(lower, myth) for myth in lesson.myths) if remark is not None]
    deferred = _deferred(lower, words)
    if deferred is not None:
        found.append(deferred)
    wrong = _wrong(lower, words)
    if wrong is not None:
        found.append(wrong)
    return [
        one
        for index, one in enumerate(found)
        if not any(one.start < first.end and first.start < one.end for first in found[:index])  # the earlier wins
    ]


def _deferred(lower: str, words: frozenset[str]) -> Remark | None:
    """The remarks of a sentence on which official advice must speak, as one, from the first to the last."""
    found: list[tuple[str, int, int]] = []
    for row in _rows_for("defer", words):
        if row.unless is not None and row.unless.search(lower):
            continue
        if row.when.search(lower) is None or row.needs.search(lower) is None:
            continue
        found += [(row.id, match.start(), match.end()) for match in row.says.finditer(lower)]
    if not found or _expression("official").search(lower):
        return None
    start, end = min(one[1] for one in found), max(one[2] for one in found)
    advice = "Leave this to official advice; say where people can find it."
    return Remark("defer", start, end, found[0][0], advice, "")


def _wrong(lower: str, words: frozenset[str]) -> Remark | None:
    """A statement of the table, or two things of which one is said to push the other the wrong way."""
    for row in _rows_for("wrong", words):
        cause = row.when.search(lower)
        effect = None if cause is None else row.says.search(lower)
        if cause is None or effect is None or row.needs.search(lower) is None:
            continue
        if _denied(lower, cause.span(), effect.span()) or (row.agent and not _does_it(row.when, effect.start(), lower)):
            continue
        start, end = min(cause.start(), effect.start()), max(cause.end(), effect.end())
        return Remark("wrong direction or wrong thing", start, end, row.id, row.right, row.source)
    pushed = wrong_way(lower, words)
    if pushed is None or _expression("called_wrong").search(lower):
        return None
    return Remark("wrong direction or wrong thing", pushed.start, pushed.end, pushed.id, pushed.right, pushed.source)


def _does_it(agent: re.Pattern[str], effect: int, lower: str) -> bool:
    """Whether the agent stands before its deed with no other clause between: "enzymes make sugar and yeast ..."."""
    before = [match.end() for match in agent.finditer(lower, 0, effect + 1)]
    return bool(before) and _OTHER_CLAUSE.search(lower, before[-1], effect) is None


def _denied(lower: str, cause: tuple[int, int], effect: tuple[int, int]) -> bool:
    """Whether a denial stands close before the effect, outside it, or the whole sentence is called wrong."""
    if _expression("called_wrong").search(lower):
        return True
    beside = lower[max(0, effect[0] - 18) : effect[0]]
    if cause[1] <= effect[0]:
        beside = lower[cause[1] : effect[0]]
    beside = re.split(r"[,;:]", beside)[-1]
    return _expression("denial").search(beside) is not None


def _stem(word: str) -> str:
    return re.sub(r"(?:ing|ed|es|s)$", "", word) if len(word) > 4 else word


@functools.lru_cache(maxsize=512)
def _myth_words(do_not_say: str) -> tuple[tuple[re.Pattern[str], bool], ...]:
    """An expression for each telling word of a myth, and whether the myth was not told without it."""
    words = [word for word in re.findall(r"[a-z]+", do_not_say.lower()) if word not in _COMMON or word == "people"]
    return tuple(
        (
            re.compile(r"\b(?:" + (word_lists()["alike"].get(word) or re.escape(_stem(word)) + r"\w*") + r")\b"),
            word in word_lists()["claims"],
        )
        for word in dict.fromkeys(words)
    )


@functools.lru_cache(maxsize=512)
def _numbers_in(text: str) -> frozenset[float]:
    said = {round(found.middle, 3) for found in heard(text)}
    return frozenset(said | {float(digits) for digits in re.findall(r"(?<![\d.,])\d{3,4}(?![\d.,]\d)", text)})


def _myth(lower: str, myth: Myth) -> Remark | None:
    if _MYTH_DENIAL.search(lower):
        return None
    patterns = _myth_words(myth.do_not_say)
    hits = []
    for pattern, needed in patterns:
        match = pattern.search(lower)
        if match is not None:
            hits.append(match)
        elif needed:
            return None
    rest = lower
    for hit in hits:
        rest = rest[: hit.start()] + " " * (hit.end() - hit.start()) + rest[hit.end() :]
    if _NEGATED.search(rest):
        return None
    numbers = _numbers_in(myth.do_not_say)
    if numbers and not numbers <= _numbers_in(lower):
        return None
    wanted = len(patterns)
    if len(numbers) < 2 and (len(hits) < 2 or len(hits) < (0.65 * wanted if wanted > 2 else wanted)):
        return None
    start, end = min(hit.start() for hit in hits), max(hit.end() for hit in hits)
    for quantity in heard(lower):
        if round(quantity.middle, 3) in numbers:
            start, end = min(start, quantity.start), max(end, quantity.end)
    return Remark("myth", start, end, myth.id, myth.say_instead, "")
