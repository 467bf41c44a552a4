"""Parts against the total said of them, and what is left against what there was and what went.

In: a sentence, what was heard in it and just before. Out: :class:`Checked`, the quantities that the others
contradict, each with the reason in words, and those that the others bear out. The words that announce a total, what
went and what is left are data (``sums`` in ``words.yaml``).
"""

from __future__ import annotations

import functools
import re
from dataclasses import dataclass, field
from typing import NamedTuple

from presenter.speech.agreement import line_between
from presenter.speech.hearing import Heard, heard
from presenter.speech.numbers_said import STARTS, Words, number_at, words_of
from presenter.speech.units_said import left_alone
from presenter.speech.word_lists import word_lists

__all__ = ["Checked", "check_sums", "in_unit", "numbers_alone", "sums_words", "without_units"]

_UNITS = ("minute", "gram", "litre")
_CLAUSE = re.compile(r"[,;:.!?]")
_OPENS = STARTS - {"a", "an"}


@dataclass
class Checked:
    """Quantities that others contradict, with the reason; and those that follow from the others."""

    against: dict[Heard, str] = field(default_factory=dict)
    upheld: set[Heard] = field(default_factory=set)

    def settle(self, quantity: Heard, fits: bool, reason: str) -> None:
        """Enter a quantity that was held against the others."""
        if fits:
            self.upheld.add(quantity)
        else:
            self.against[quantity] = reason


class _Part(NamedTuple):
    """A quantity of one dimension: its value and its roundness in the unit, the words before and after it."""

    heard: Heard
    value: float
    round: float
    lead: str
    tail: str


@functools.cache
def sums_words(name: str) -> re.Pattern[str]:
    """One of the expressions under ``sums`` in ``words.yaml``."""
    return re.compile(rf"(?:{word_lists()['sums'][name]})")


def in_unit(quantity: Heard, unit: str) -> float | None:
    """The value in ``unit``; nothing for a range, a year, a bare degree or another dimension."""
    if quantity.unit == "year" or quantity.value is None or "degree_bare" in quantity.unit:
        return None
    line = line_between(quantity.unit, unit)
    return None if line is None else line[0] + line[1] * quantity.value


def _roundness(quantity: Heard, unit: str) -> float:
    line = line_between(quantity.unit, unit)
    return 0.0 if line is None else line[1] * (quantity.rounded if quantity.hedge else quantity.place)


def check_sums(lower: str, found: list[Heard], recent: list[Heard], last_group: list[Heard]) -> Checked:
    """Totals and remainders of a sentence; ``recent`` was heard in the two before, ``last_group`` in the last."""
    checked = Checked()
    if not found or sums_words("unless").search(lower):
        return checked
    if len(found) == 1 and sums_words("any").search(lower) is None:
        return checked
    everything = sorted([*found, *without_units(lower, found)], key=lambda one: one.start)
    for unit in _UNITS:
        parts = _parts(lower, everything, unit)
        if not parts or any(one.value is None and line_between(one.unit, unit) for one in found if one.unit != "year"):
            continue
        before = [value for value in (in_unit(one, unit) for one in recent) if value is not None]
        just_before = [value for value in (in_unit(one, unit) for one in last_group) if value is not None]
        if _left(parts, before, unit, checked) or _times_over(lower, parts, unit, checked):
            continue
        if len(parts) >= 3:
            _total(parts, unit, checked)
        elif len(parts) == 1 and len(found) == 1:
            _total_of_before(parts[0], before, just_before, unit, checked)
    return checked


def without_units(lower: str, found: list[Heard]) -> list[Heard]:
    """Numbers that share the unit said before them: "thirty for the second", "another two in the jug"."""
    said = words_of(lower)
    shared: list[Heard] = []
    silent: list[tuple[int, int]] | None = None
    end = 0
    for at, word in enumerate(said.words):
        start = said.starts[at]
        if at < end or not (said.kinds[at] == "number" or word in _OPENS):
            continue
        if any(one.start <= start < one.end for one in found) or found[0].start > start:
            continue
        number = number_at(said, at)
        if number is None or not _stands_alone(said, at, number.end):
            continue
        silent = left_alone(lower) if silent is None else silent
        if number.kind != "decimal" and any(first <= start < last for first, last in silent):
            continue  # but "lost one point two" is no score
        end = number.end
        unit = next(one.unit for one in reversed(found) if one.end <= start)
        if any(line_between(unit, wanted) for wanted in _UNITS if unit != "year"):
            close = said.ends[end - 1]
            words = said.text[start:close]
            shared.append(Heard(words, start, close, unit, number.value, place=number.place, rounded=number.rounded))
    return shared


def numbers_alone(text: str) -> list[float]:
    """The numbers of a sentence that no unit was said with, more than one in worth."""
    said, found, end = words_of(text), heard(text), 0
    values = []
    for at, word in enumerate(said.words):
        if at < end or not (said.kinds[at] == "number" or word in _OPENS):
            continue
        if any(one.start <= said.starts[at] < one.end for one in found):
            continue
        number = number_at(said, at)
        if number is not None and number.value > 1:
            values.append(number.value)
            end = number.end
    return values


def _stands_alone(said: Words, at: int, end: int) -> bool:
    """Whether a number without a unit counts no things of its own."""
    if end == at + 1 and said.word(at) == "one":  # "three kilos of one, two of the other"
        return False
    return said.word(end) in word_lists()["after_shared_unit"] and said.word(at - 1) not in word_lists()["labels"]


def _parts(lower: str, everything: list[Heard], unit: str) -> list[_Part]:
    alike = [(one, value) for one in everything if (value := in_unit(one, unit)) is not None]
    made = []
    for index, (one, value) in enumerate(alike):
        start = alike[index - 1][0].end if index else 0
        stop = alike[index + 1][0].start if index + 1 < len(alike) else len(lower)
        made.append(_Part(one, value, _roundness(one, unit), lower[start : one.start], lower[one.end : stop]))
    return made


def _fits(worked: float, said: _Part, others: list[_Part]) -> bool:
    loose = sum(0.5 * one.round for one in others if one.heard.hedge)
    return abs(worked - said.value) <= 0.04 * abs(worked) + said.round + loose + 1e-9


def _left(parts: list[_Part], before: list[float], unit: str, checked: Checked) -> bool:
    """What there was, what went, what is left; the first of them may have been said in a sentence before."""
    if len(parts) < 2:
        return False
    last, gone = parts[-1], parts[-2]
    if not sums_words("left").search(last.lead + " " + _CLAUSE.split(last.tail)[0]):
        return False
    if not sums_words("gone").search(gone.lead + " " + gone.tail):
        return False
    if len(parts) >= 3:
        amounts = sorted(part.value for part in parts[:-1])
        if len(amounts) > 2 and sum(amounts[:-1]) > amounts[-1]:
            return False
        whole, went, others = amounts[-1], sum(amounts[:-1]), parts[:-1]
    else:
        larger = [value for value in before if value > gone.value]
        if not larger:
            return False
        whole, went, others = larger[-1], gone.value, [gone]
    remains = whole - went
    checked.settle(last.heard, _fits(remains, last, others), f"{whole:g} less {went:g} leaves {remains:g} {unit}s")
    return True


def _times_over(lower: str, parts: list[_Part], unit: str, checked: Checked) -> bool:
    """So many of an amount, against their total: "three jugs of two litres make eight"."""
    if len(parts) != 2:
        return False
    one, total = parts
    counted = sums_words("counted").search(one.lead)
    after = sums_words("counted_after").match(one.tail)
    found = counted or after
    if found is None or not (_strong(total) or _weak(total)):
        return False
    number = number_at(words_of(found.group(1)), 0)
    if number is None or number.value < 2:
        return False
    whole = number.value * one.value
    checked.settle(
        total.heard, _fits(whole, total, [one]), f"{number.value:g} times {one.value:g} is {whole:g} {unit}s"
    )
    return True


def _strong(part: _Part) -> bool:
    return sums_words("total").search(part.lead + " | " + _CLAUSE.split(part.tail)[0]) is not None


def _weak(part: _Part) -> bool:
    return sums_words("makes").search(part.lead) is not None


def _total(parts: list[_Part], unit: str, checked: Checked) -> None:
    first, last = parts[0], parts[-1]
    if _strong(last) or _weak(last):
        total, others = last, parts[:-1]
    elif _strong(first) and sums_words("made_of").search(first.tail):
        total, others = first, parts[1:]
    else:
        return
    whole = sum(part.value for part in others)
    checked.settle(total.heard, _fits(whole, total, others), f"the parts add up to {whole:g} {unit}s")


def _total_of_before(total: _Part, before: list[float], just_before: list[float], unit: str, checked: Checked) -> None:
    """A total said in a sentence of its own, against the parts said just before."""
    parts = before if _strong(total) else just_before if sums_words("opens_total").match(total.lead) else []
    if len(parts) < 2:
        return
    whole = sum(parts)
    checked.settle(
        total.heard,
        abs(whole - total.value) <= 0.06 * total.value + total.round,
        f"the parts add up to {whole:g} {unit}s",
    )
