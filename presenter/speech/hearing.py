"""Quantities as people say them, heard in a script or in captions.

In: a text. Out: one :class:`Heard` for each quantity in it, in the order said, with its place in the text.
The time it takes grows with the length of the text alone.
"""

from __future__ import annotations

import functools
from dataclasses import dataclass, replace

from presenter.quantities import Q
from presenter.quantities.registry import registry
from presenter.speech.bare_numbers import bare_number, years_named
from presenter.speech.figures_said import pair_at
from presenter.speech.lists_said import list_of_terms
from presenter.speech.numbers_said import STARTS, Words, number_at, words_of
from presenter.speech.terms import Term, term_at
from presenter.speech.units_said import hedge_around, left_alone, unit_at, unit_openers

__all__ = ["Heard", "heard"]

_CHANGES = {
    "fell", "falls", "fall", "falling", "fallen", "rise", "rises", "rose", "risen", "rising", "raise", "raises",
    "raised",
    "drop", "drops", "dropped", "dropping", "go", "goes", "went", "going", "gone", "climb", "climbs", "climbed", "cool",
    "cools", "cooled", "cooling", "heat", "heats", "heated", "heating", "bring", "brings", "brought", "bringing",
    "take",
    "takes", "took", "taking", "ferment", "ferments", "fermented", "come", "comes", "came", "warm", "warms", "warmed",
    "move", "moves", "moved", "turn", "turns", "turned", "lower", "lowers", "lowered", "step", "steps", "stepped",
    "jump", "jumps", "jumped", "sink", "sinks", "sank", "creep", "creeps", "crept", "slid", "slides", "slips",
    "slipped",
    "reduce", "reduces", "reduced", "increase", "increased", "changed", "ramp", "ramps", "grew", "grows", "down", "up",
    "work", "works", "worked", "get", "gets", "got", "swing", "swings", "swung", "shift", "shifts", "shifted",
    "concentrate", "concentrates", "boil", "boils", "boiled", "push", "pushes", "pushed", "pull", "pulls", "carry",
}  # fmt: skip
_STARTS = STARTS | {"ph", "p", "plato", "-", "−"}
_BETWEEN = {
    "million",
    "billion",
    "trillion",
    "good",
    "full",
    "further",
    "level",
    "whole",
    "single",
    "heaped",
    "scant",
}  # "a good pint"
_LINKS = {"to", "or", "-", "–", "—"}
_PASSED_OVER = {"about", "around", "roughly", "maybe", "perhaps", "even", "say", "nearly", "almost", "possibly", "at"}
_AFTER_SCALE = {
    "of", "is", "was", "at", "reading", "about", "around", "roughly", "nearly", "to", "below", "above", "under", "over",
    "came", "come", "comes", "down", "fell", "falls", "drops", "dropped", "up", "went", "goes", "be", "should", "sits",
    "reads", "near", "between", "from", "by", "has", "had", "settles", "settled", "it's", "its", "here", "now", "just",
    "value", "level", "finished", "ended", "ends", "end", "reaches", "reached", "rises", "rose", "measured", "measures",
    "a", "say", "in", "somewhere", "starts", "started", "stood", "stands", "will", "would", "might", "can", "that",
    "got",
    "all", "out", "the", "way", "wants", "lies", "range", "comfortably", "well", "close", "only", "almost", "still",
    "like",
    "scale", "right", "round", "falling", "dropping", "rising", "mash", "wort", "ale", "kvass", "water", "this",
}  # fmt: skip


@dataclass(frozen=True)
class Heard:
    """One quantity heard: its words and their place, a value or a range, its unit, and what loosens it.

    ``start`` and ``end`` count characters of the text. ``place`` is half of the last place that was said, in the
    unit; ``rounded`` is half of the last place that is not nought. ``unit`` is spelled as the registry spells it;
    ``degree_bare`` is a degree whose scale was not said.
    """

    words: str
    start: int
    end: int
    unit: str
    value: float | None = None
    low: float | None = None
    high: float | None = None
    hedge: str = ""
    place: float = 0.0
    rounded: float = 0.0

    @property
    def middle(self) -> float:
        """The value, or the middle of the range."""
        if self.value is not None:
            return self.value
        return ((self.low or 0.0) + (self.high or 0.0)) / 2


def heard(text: str) -> list[Heard]:
    """Every quantity said in ``text``, in order.

    >>> [(found.value, found.unit) for found in heard("an hour and a quarter at ten forty-six")]
    [(1.25, 'hour'), (1.046, 'gravity')]
    """
    return list(_heard_in(text))


@functools.lru_cache(maxsize=4096)
def _heard_in(text: str) -> tuple[Heard, ...]:
    said = words_of(text)
    found: list[Heard] = []
    spans: list[tuple[int, int]] | None = None
    after = span = 0
    for at, (word, kind) in enumerate(zip(said.words, said.kinds, strict=True)):
        if at < after or not (kind in {"number", "decade"} or word in _STARTS):
            continue
        if word in {"a", "an"} and not _may_open(said, at + 1):
            continue
        if spans is None:
            spans = left_alone(text)
        start = said.starts[at]
        while span < len(spans) and spans[span][1] <= start:
            span += 1
        if span < len(spans) and spans[span][0] <= start:
            continue
        quantities, after = _quantities_at(said, at)
        found.extend(quantities)
    return tuple(found)


def _may_open(said: Words, index: int) -> bool:
    """Whether an article's next words can be a number or a unit; most of them open neither."""
    word = said.word(index)
    return word in STARTS or word in _BETWEEN or word in unit_openers()


def _heard(said: Words, term: Term, start: int | None = None) -> Heard:
    first = term.start if start is None else start
    begin, end = said.starts[first], said.ends[term.end - 1]
    return Heard(
        said.text[begin:end], begin, end, term.unit, term.value, hedge=hedge_around(said, first, term.end),
        place=term.place, rounded=term.rounded,
    )  # fmt: skip


def _range(said: Words, low: Term, high: Term, start: int) -> Heard:
    begin, end = said.starts[start], said.ends[high.end - 1]
    return Heard(
        said.text[begin:end], begin, end, high.unit, None, low.value, high.value,
        hedge=hedge_around(said, start, high.end), place=high.place, rounded=high.rounded,
    )  # fmt: skip


def _quantities_at(said: Words, at: int) -> tuple[list[Heard], int]:
    """The quantities that begin at ``at`` and the index after them."""
    word = said.words[at]
    if word in {"-", "−"} and (said.joined(at) or not said.joined(at + 1)):
        return [], at + 1
    if word in {"ph", "plato"} or (word == "p" and "h" in (said.word(at + 1), said.word(at + 2))):
        return _on_a_scale(said, at)
    if word == "p":
        return [], at + 1
    years = years_named(said, at)
    if years is not None:
        begin, end = said.starts[at], said.ends[years[2] - 1]
        return [Heard(said.text[begin:end], begin, end, "year", None, years[0], years[1])], years[2]
    term = _one(said, at)
    if term is None:
        return [], _past(said, at)
    return _linked(said, term)


def _past(said: Words, at: int) -> int:
    """The index after a number that measures nothing, so that its tail is not heard as another number."""
    pair = pair_at(said, at)
    if pair is not None and pair[2] > at and unit_at(said, pair[1]) is not None:
        return pair[2]
    if (
        pair is not None
        and said.word(pair[1]) in {"-", "–"}
        and unit_at(said, pair[1] + 1) is not None
        and pair[2] > at
    ):
        return pair[2]
    if pair is not None:
        return pair[1]
    number = number_at(said, at)
    return at + 1 if number is None else number.end


def _one(said: Words, at: int) -> Term | None:
    """The single quantity at ``at``: with its unit, or a gravity or a year."""
    pair = pair_at(said, at)
    if pair is not None:
        value, end, second = pair
        hyphen = said.word(end) in {"-", "–"} and said.joined(end)
        unit = unit_at(said, end + 1 if hyphen else end, True)
        if unit is None or (unit.id == "bare-points" and said.word(end) == "point"):
            if value < 200:
                return None
            exact, end = _with_tenth(said, value, end)
            bare = bare_number(said, exact, at, end, "pair" if second > at else "figures")
            return None if bare is None else Term.bare(bare.value, bare.unit, at, end)
        if second == at and value < 1000 and not hyphen:
            return Term(float(value), unit.means, at, unit.end, 0.5, 0.5, "plain")
        if second > at:
            return None
    term = term_at(said, at)
    if term is None or term.unit:
        if term is not None and term.value < 0 and "deg" not in term.unit:  # "minus two litres" takes them away
            return term._replace(value=-term.value, start=at + 1)
        return term
    style = {"decimal": "decimal", "hundreds": "hundreds"}.get(term.kind, "words")
    if said.kinds[at] == "number" and term.end == at + 1 and style == "words":
        style = "digits"
    bare = bare_number(said, term.value, at, term.end, style)
    return term if bare is None else Term.bare(bare.value, bare.unit, at, term.end, term.place)


def _with_tenth(said: Words, value: float, end: int) -> tuple[float, int]:
    """ "Ten forty-six point five", or "and a half", is half a point above 1.046."""
    if tuple(said.words[end : end + 3]) == ("and", "a", "half") and unit_at(said, end + 3) is None:
        return value + 0.5, end + 3
    tenth = number_at(said, end) if said.word(end) == "point" else None
    return (value + tenth.value, tenth.end) if tenth is not None else (value, end)


def _link(said: Words, at: int, between: bool) -> tuple[int, str] | None:
    """The index after a word that joins two numbers, and that word."""
    word = said.word(at)
    if word == "up" and said.word(at + 1) == "to" and not _changes(said, at):
        return at + 2, "to"  # "from three up to five days"
    if word in {"down", "up", "right", "all"}:
        for length, phrase in (
            (2, ("to",)),
            (3, ("down", "to")),
            (4, ("the", "way", "to")),
            (5, ("the", "way", "down", "to")),
        ):
            if tuple(said.words[at + 1 : at + length]) == phrase:
                return at + length, "down to"
        return None
    if word in _LINKS or (between and word == "and"):
        end = at + 1
        while said.word(end) in _PASSED_OVER and said.word(end) != "at":
            end += 1
        return end, "to" if word in {"-", "–", "—"} else word
    return None


def _changes(said: Words, start: int) -> bool:
    for index in range(start - 1, max(-1, start - 9), -1):
        if said.kinds[index] == "sign" and said.words[index] in ".,;:?!":
            return False
        if said.words[index] in _CHANGES:
            return True
    return False


def _linked(said: Words, first: Term) -> tuple[list[Heard], int]:
    """One quantity, a range of two ends, or several that share a unit."""
    before = said.word(first.start - 1)
    if before in _PASSED_OVER:
        before = said.word(first.start - 2)
    opened = before in {"between", "from"}
    start = first.start
    if opened:
        start = first.start - (1 if said.word(first.start - 1) == before else 2)
    link = _link(said, first.end, before == "between")
    second = None if link is None else _one(said, link[0])
    if link is not None and second is not None:
        joined = _joined(said, first, second, link[1], before, start)
        if joined is not None:
            return joined, second.end
    if not first.unit:
        shared = list_of_terms(said, first, lambda at: _one(said, at))
        return [_heard(said, term) for term in shared], shared[-1].end if shared else first.end
    return [_heard(said, first)], first.end


def _joined(said: Words, first: Term, second: Term, link: str, before: str, start: int) -> list[Heard] | None:
    """Two linked numbers as a range or as two quantities; nothing when they do not belong together."""
    if not first.unit and not second.unit:
        return None
    if not first.unit and second.unit in {"gravity", "year"}:
        return None
    if not second.unit:
        if first.unit in {"gravity", "year"} or link == "down to" or second.kind == "article":
            return None
        second = second.with_unit(first.unit)
    if not first.unit:
        if said.word(first.start) == "one" and link != "to" and second.value != 2:
            return None
        first = first.with_unit(second.unit)
    if first.unit != second.unit:
        converted = _in_unit(first, second.unit)
        if converted is None or link == "down to" or (link == "or" and converted.value >= second.value):
            return None
        if before == "from" and _changes(said, start):
            return None
        first = converted
    if link == "down to" or (before == "from" and link == "to" and _changes(said, start)):
        return [_heard(said, first), _heard(said, second)]
    if first.value >= second.value:
        return [_heard(said, first), _heard(said, second)] if link != "and" else None
    return [_range(said, first, second, start)]


def _in_unit(term: Term, unit: str) -> Term | None:
    if term.unit == "day" and unit == "fortnight":
        return term._replace(value=term.value / 14, unit=unit)
    if term.unit not in registry or unit not in registry or "year" in (term.unit, unit):
        return None
    source = Q(term.value, term.unit)
    if source.dimensionality != Q(1, unit).dimensionality or "deg" in unit:
        return None
    return term._replace(value=float(source.to(unit).magnitude), unit=unit)


def _on_a_scale(said: Words, at: int) -> tuple[list[Heard], int]:
    """A reading of pH or of degrees Plato whose number follows the name of the scale."""
    name = at + 1
    if said.words[at] == "p":  # "p h", "p.h."
        name = at + 2 if said.word(at + 1) == "h" else at + 3
        if name == at + 3 and said.word(at + 1) != ".":
            return [], at + 1
        name += 1 if name == at + 3 and said.word(name) == "." else 0
    unit, highest = ("degPlato", 40.0) if said.words[at] == "plato" else ("pH", 14.0)
    index = name
    while index < min(len(said.words), name + 8) and said.words[index] in _AFTER_SCALE:
        if said.words[index] == "a" and said.word(index + 1) == "couple":
            break
        index += 1
    number = number_at(said, index)
    if number is None or not 0 < number.value <= highest:
        return [], name
    if unit_at(said, number.end) is not None and said.word(number.end) not in {"c", "f", "second", "point", "points"}:
        return [], name
    first = Term(number.value, unit, index, number.end, number.place, number.rounded, number.kind)
    between = said.word(index - 1) == "between"
    link = _link(said, first.end, between)
    if link is not None:
        other = number_at(said, link[0])
        if other is not None and 0 < other.value <= highest and unit_at(said, other.end) is None:
            second = Term(other.value, unit, link[0], other.end, other.place, other.rounded, other.kind)
            moving = said.word(index - 1) == "from" and _changes(said, index - 1)
            if link[1] == "down to" or moving or second.value <= first.value:
                return [_heard(said, first, at), _heard(said, second)], second.end
            return [replace(_range(said, first, second, at))], second.end
    result = _heard(said, first, at)
    hedge = hedge_around(said, index, first.end) or result.hedge
    return [replace(result, hedge=hedge)], first.end
