"""Sentences that say something wrong of the trade, repeat a myth of the lesson's list, or need official advice.

In: one sentence and the lesson's view. Out: :class:`Remark` values with the place of the words in the sentence.
"""

from __future__ import annotations

import functools
import re
from importlib.resources import files
from typing import Any, NamedTuple

import yaml

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
    loaded: dict[str, Any] = yaml.load(text, Loader=yaml.BaseLoader)
    return loaded


@functools.cache
def _wrong() -> tuple[tuple[dict[str, str], re.Pattern[str], re.Pattern[str], re.Pattern[str]], ...]:
    return tuple(
        (row, re.compile(row["when"]), re.compile(row["says"]), re.compile(row.get("needs", "")))
        for row in statements()["wrong"]
    )


@functools.cache
def _defer() -> tuple[tuple[str, re.Pattern[str], re.Pattern[str]], ...]:
    return tuple((row["id"], re.compile(row["says"]), re.compile(row["unless"])) for row in statements()["defer"])


@functools.cache
def _expression(name: str) -> re.Pattern[str]:
    return re.compile(statements()[name])


def remarks(sentence: str, lesson: LessonView) -> list[Remark]:
    """The remarks on one sentence, myths first, then remarks for official advice, then wrong statements."""
    lower = sentence.lower().replace("’", "'")
    found = [remark for remark in (_myth(lower, myth) for myth in lesson.myths) if remark is not None]
    if not _expression("official").search(lower):
        for name, says, unless in _defer():
            match = says.search(lower)
            if match is not None and not unless.search(lower):
                words = "Leave this to official advice; say where people can find it."
                found.append(Remark("defer", match.start(), match.end(), name, words, ""))
                break
    for row, when, says, needs in _wrong():
        cause, effect = when.search(lower), says.search(lower)
        if cause is None or effect is None or needs.search(lower) is None:
            continue
        if _denied(lower, cause.span(), effect.span()):
            continue
        start, end = min(cause.start(), effect.start()), max(cause.end(), effect.end())
        found.append(Remark("wrong direction or wrong thing", start, end, row["id"], row["right"], row["source"]))
        break
    return found


def _denied(lower: str, cause: tuple[int, int], effect: tuple[int, int]) -> bool:
    """Whether a denial stands close before the effect, outside it, or the whole sentence is called wrong."""
    if _expression("called_wrong").search(lower):
        return True
    beside = lower[max(0, effect[0] - 18) : effect[0]]
    if cause[1] <= effect[0]:
        beside = lower[cause[1] : effect[0]]
    return _expression("denial").search(beside) is not None


def _stem(word: str) -> str:
    return re.sub(r"(?:ing|ed|es|s)$", "", word) if len(word) > 4 else word


@functools.lru_cache(maxsize=512)
def _myth_words(do_not_say: str) -> tuple[re.Pattern[str], ...]:
    words = [word for word in re.findall(r"[a-z]+", do_not_say.lower()) if word not in _COMMON or word == "people"]
    return tuple(
        re.compile(r"\b(?:" + (word_lists()["alike"].get(word) or re.escape(_stem(word)) + r"\w*") + r")\b")
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
    hits = [match for match in (pattern.search(lower) for pattern in patterns) if match is not None]
    rest = lower
    for hit in hits:
        rest = rest[: hit.start()] + " " * (hit.end() - hit.start()) + rest[hit.end() :]
    if _NEGATED.search(rest):
        return None
    numbers = _numbers_in(myth.do_not_say)
    if numbers and not numbers <= _numbers_in(lower):
        return None
    wanted = len(patterns)
    if len(hits) < 2 or len(hits) < (0.65 * wanted if wanted > 3 else wanted):
        return None
    start, end = min(hit.start() for hit in hits), max(hit.end() for hit in hits)
    for quantity in heard(lower):
        if round(quantity.middle, 3) in numbers:
            start, end = min(start, quantity.start), max(end, quantity.end)
    return Remark("myth", start, end, myth.id, myth.say_instead, "")
