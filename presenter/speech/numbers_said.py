"""Numbers as people say them and as captioning writes them.

In: the words of a talk. Out: :class:`Number` values: "sixty-six point five", "two and three-quarter", "half a",
"1 1/2", "a hundred and fifty billion", "ten forty-six", "one oh four six".

Number-word libraries were tried first: they leave "10 48", "one point oh 5 2", "ten forty-six" and fractions
unread, which are most of what a talk about brewing holds; so the grammar is our own.
"""

from __future__ import annotations

import re
from typing import NamedTuple

__all__ = [
    "HYPHENS",
    "NOUGHTS",
    "ONES",
    "STARTS",
    "TENS",
    "Number",
    "Words",
    "number_at",
    "share_at",
    "small_at",
    "words_of",
]

_TOKEN = re.compile(
    r"(?P<money>[£$€]\s?\d[\d,.]*\d|[£$€]\s?\d)"
    r"|(?P<clock>\d{1,2}:\d\d\b)"
    r"|(?P<decade>\b\d{3,4}s\b)"
    r"|(?P<ordinal>\d+(?:st|nd|rd|th)\b)"
    r"|(?P<number>\d{1,3}(?:,\d{3})+(?:\.\d+)?(?!\d)|\d+(?:\.\d+)?|(?<![\w.])\.\d+)"
    r"|(?P<word>co2\b|co₂|[^\W\d_]+(?:['’][^\W\d_]+)*)"
    r"|(?P<sign>[½¼¾⅓⅔⅛°%‰/\-–—−±.,;:?!()\"“”])",
    re.IGNORECASE,
)
ONES = {
    "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10,
    "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16, "seventeen": 17,
    "eighteen": 18, "nineteen": 19,
}  # fmt: skip
TENS = {
    "twenty": 20, "thirty": 30, "forty": 40, "fourty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80,
    "ninety": 90,
}  # fmt: skip
NOUGHTS = {"zero", "nought", "naught", "oh", "o"}
_SCALES = {"thousand": 1e3, "million": 1e6, "billion": 1e9, "trillion": 1e12}
_FRACTIONS = {
    "half": 2, "halves": 2, "third": 3, "thirds": 3, "quarter": 4, "quarters": 4, "fifth": 5, "fifths": 5,
    "eighth": 8, "eighths": 8, "tenth": 10, "tenths": 10,
}  # fmt: skip
_SIGNS = {"½": 0.5, "¼": 0.25, "¾": 0.75, "⅓": 1 / 3, "⅔": 2 / 3, "⅛": 0.125}
# "An hour's rest" speaks of an hour.
_OWNERS = {
    "hour",
    "day",
    "week",
    "month",
    "year",
    "minute",
    "fortnight",
    "century",
    "second",
    "pound",
}
HYPHENS = {"-", "–", "—", "−"}
STARTS = frozenset(
    {*ONES, *TENS, *_FRACTIONS, *_SIGNS, "zero", "nought", "naught", "oh", "hundred", "thousand", "point", "minus"}
    | {"a", "an", "couple", "dozen", "eleven"}
)


class Words(NamedTuple):
    """The words of a text in lower case, with their kinds and where each starts and ends."""

    text: str
    words: list[str]
    kinds: list[str]
    starts: list[int]
    ends: list[int]

    def word(self, index: int) -> str:
        """The word at ``index``, or an empty string beyond either end."""
        return self.words[index] if 0 <= index < len(self.words) else ""

    def joined(self, index: int) -> bool:
        """Whether nothing stands between the word at ``index`` and the one before it."""
        return 0 < index < len(self.words) and self.starts[index] == self.ends[index - 1]


class Number(NamedTuple):
    """A number said: its value, the index after its last word, and half of the last place that was said.

    ``rounded`` is half of the last place that is not nought; ``kind`` is plain, decimal, fraction, hundreds or article.
    """

    value: float
    end: int
    place: float
    rounded: float
    kind: str


def words_of(text: str) -> Words:
    """The words of ``text``, one pass, in time that grows with its length alone."""
    words: list[str] = []
    kinds: list[str] = []
    starts: list[int] = []
    ends: list[int] = []
    for found in _TOKEN.finditer(text):
        word = found.group().lower().replace("’", "'")
        words.append(word[:-2] if word.endswith("'s") and word[:-2] in _OWNERS else word)
        kinds.append(found.lastgroup or "sign")
        starts.append(found.start())
        ends.append(found.end())
    return Words(text, words, kinds, starts, ends)


def _half_of_last_digit(value: float) -> float:
    """Half of the last place of a whole number that is not nought: 5 for 60, 0.5 for 66."""
    place, whole = 1.0, round(abs(value))
    while whole and whole % 10 == 0:
        whole //= 10
        place *= 10
    return place / 2


def _plain(value: float, end: int, kind: str = "plain") -> Number:
    return Number(value, end, 0.5, _half_of_last_digit(value), kind)


def _digits(said: Words, index: int) -> Number | None:
    text = said.words[index].replace(",", "")
    if "." in text:
        place = 0.5 * 10.0 ** -(len(text) - text.index(".") - 1)
        return Number(float(text), index + 1, place, place, "decimal")
    return _plain(float(text), index + 1)


def _number_words(said: Words, index: int) -> Number | None:
    """A whole number in words: "a hundred and fifty-one", "sixty-seven thousand eight hundred"."""
    total, current, last, at, scale = 0.0, 0.0, "", index, 1e15
    hundreds = False
    word = said.word(at)
    if word in {"a", "an"} and said.word(at + 1) in {"hundred", *_SCALES}:
        current, at, last = 1.0, at + 1, "ones"
    while True:
        word = said.word(at)
        step = at + 1
        if (
            word in HYPHENS and last and (said.word(step) in ONES or said.word(step) in TENS) and said.joined(step)
        ) or (word == "and" and last in {"hundred", "scale"} and (said.word(step) in ONES or said.word(step) in TENS)):
            word, step = said.word(step), step + 1
        elif word == "," and last == "scale":
            small = small_at(said, step)  # "one thousand, one hundred"
            if small is not None and said.word(small[1]) in {"hundred", "thousand"} and said.kinds[step] == "word":
                word, step = said.word(step), step + 1
        ones, tens = ONES.get(word), TENS.get(word)
        if word == "and" and last == "hundred" and said.word(step).isdigit() and len(said.word(step)) == 2:
            current, last, at = current + int(said.word(step)), "ones", step + 1  # "a hundred and 50"
            continue
        if ones is not None and (last in {"", "hundred", "scale"} or (last == "tens" and ones < 10)):
            current, last = current + ones, "ones"
        elif tens is not None and last in {"", "hundred", "scale"}:
            current, last = current + tens, "tens"
        elif word == "hundred" and last in {"ones", "tens"} and 0 < current < 100:
            hundreds = current >= 10
            current, last = current * 100, "hundred"
        elif word in _SCALES and last in {"ones", "tens", "hundred"} and _SCALES[word] < scale:
            scale = _SCALES[word]
            total, current, last = total + current * scale, 0.0, "scale"
        else:
            break
        at = step
    if not last:
        return None
    value = total + current
    return _plain(value, at, "hundreds" if hundreds and value < 10_000 and value % 100 == 0 else "plain")


def _after_point(said: Words, index: int) -> tuple[str, int]:
    """The digits said after "point": "oh four six" is 046, "forty-six" is 46."""
    digits, at = "", index
    while True:
        word = said.word(at)
        if word in NOUGHTS:
            digits += "0"
        elif word in ONES and ONES[word] < 10:
            digits += str(ONES[word])
        elif word in TENS or (word in ONES and not digits):
            number = _number_words(said, at)
            if number is None or number.value >= 100:
                break
            digits += f"{number.value:.0f}"
            at = number.end
            continue
        elif at < len(said.kinds) and said.kinds[at] == "number" and "." not in word and "," not in word:
            digits += word
        else:
            break
        at += 1
    return digits, at


def _with_fraction(said: Words, number: Number) -> Number:
    """``number`` with "and a half", "and three-quarter", "and 3/4", "½" or "1/2" added."""
    at = number.end
    word = said.word(at)
    if word in _SIGNS:
        return Number(number.value + _SIGNS[word], at + 1, 0.05, 0.05, "fraction")
    if word in HYPHENS and said.word(at + 1) == "and":  # "two-and-a-half"
        at, word = at + 1, "and"
    start = at + 1 if word == "and" else at
    if word == "and" and said.word(start) in HYPHENS:
        start += 1
    slash = _slashed(said, start)
    if slash is not None:
        return Number(number.value + slash[0], slash[1], 0.05, 0.05, "fraction")
    if word != "and":
        return number
    share = share_at(said, start)
    if share is None:
        return number
    mixed = Number(number.value + share[0], share[1], 0.05, 0.05, "fraction")
    scale = _SCALES.get(said.word(share[1]))
    return mixed if scale is None else _scaled(mixed, scale, share[1] + 1)


def _slashed(said: Words, index: int) -> tuple[float, int] | None:
    if said.word(index + 1) != "/" or not said.joined(index + 1) or not said.joined(index + 2):
        return None
    upper, lower = said.word(index), said.word(index + 2)
    if not (upper.isdigit() and lower.isdigit()) or not 0 < int(upper) < int(lower) <= 16:
        return None
    return int(upper) / int(lower), index + 3


def share_at(said: Words, index: int) -> tuple[float, int] | None:
    """A fraction in words: "a half", "a third", "three quarters", "two-thirds"; not the unit after it."""
    word = said.word(index)
    above = 1 if word in {"a", "an"} else ONES.get(word, 0)
    if word.isdigit() and len(word) == 1 and said.word(index + 1) in _FRACTIONS:
        above = int(word)
    at = index + 1
    if said.word(at) in HYPHENS:
        at += 1
    below = _FRACTIONS.get(said.word(at))
    if below is None or not 0 < above < below:
        return None
    return above / below, at + 1


def number_at(said: Words, index: int) -> Number | None:
    """The number that begins at ``index``, with its decimals or fraction, or nothing."""
    word = said.word(index)
    if word in {"minus", "−", "-", "–"}:
        number = number_at(said, index + 1)
        return None if number is None else number._replace(value=-number.value)
    fraction = _fraction_at(said, index)
    if fraction is not None:
        return fraction
    if word == "point":
        digits, end = _after_point(said, index + 1)
        return _decimal(said, 0.0, digits, end) if digits else None
    number = _whole_at(said, index)
    if number is None:
        return None
    if said.word(number.end) == "point":
        digits, end = _after_point(said, number.end + 1)
        if digits:
            return _decimal(said, number.value, digits, end)
    scale = _SCALES.get(said.word(number.end))
    if scale is not None and said.kinds[index] == "number":
        number = _scaled(number, scale, number.end + 1)
    return _with_fraction(said, number)


def _whole_at(said: Words, index: int) -> Number | None:
    word = said.word(index)
    if index < len(said.kinds) and said.kinds[index] == "number":
        return _digits(said, index)
    if word in NOUGHTS - {"o"}:
        return _plain(0.0, index + 1)
    counted = index + 1 if word in {"a", "an"} else index
    if said.word(counted) == "couple":
        return _plain(2.0, counted + (2 if said.word(counted + 1) == "of" else 1))
    if said.word(counted) == "dozen":
        return _plain(12.0, counted + 1)
    number = _number_words(said, index)
    if number is not None and said.word(number.end) == "dozen":
        return _plain(number.value * 12, number.end + 1)
    return number


def _scaled(number: Number, scale: float, end: int) -> Number:
    return Number(number.value * scale, end, number.place * scale, number.rounded * scale, "decimal")


def _decimal(said: Words, whole: float, digits: str, end: int) -> Number:
    place = 0.5 * 10.0 ** -len(digits)
    number = Number(float(f"{whole:.0f}.{digits}"), end, place, place, "decimal")
    scale = _SCALES.get(said.word(end))
    return number if scale is None else _scaled(number, scale, end + 1)


def _fraction_at(said: Words, index: int) -> Number | None:
    """A fraction of a unit: "half an", "a third of a", "three quarters of an", "quarter", "3/4"; up to the unit."""
    word = said.word(index)
    if word in _SIGNS:
        return Number(_SIGNS[word], index + 1, 0.05, 0.05, "fraction")
    slash = _slashed(said, index)
    share = slash
    if share is None and word in {"half", "quarter"}:
        share = 1 / _FRACTIONS[word], index + 1
    if share is None:
        share = share_at(said, index)
    if share is None:
        return None
    value, at = share
    if said.word(at) == "of" and said.word(at + 1) in {"a", "an"}:
        at += 2
    elif (said.word(at) in {"a", "an"} and word == "half") or (said.word(at) in HYPHENS and said.joined(at)):
        at += 1
    scale = {**_SCALES, "dozen": 12.0}.get(said.word(at))
    if scale is not None:
        return Number(value * scale, at + 1, 0.05 * scale, 0.05 * scale, "decimal")
    return Number(value, at, 0.05, 0.05, "fraction")


def small_at(said: Words, index: int) -> tuple[int, int] | None:
    """A whole number below a hundred and the index after it."""
    word = said.word(index)
    if index < len(said.kinds) and said.kinds[index] == "number":
        return (int(word), index + 1) if word.isdigit() and len(word) <= 2 else None
    if word in ONES:
        return ONES[word], index + 1
    if word in TENS:
        at = index + 1
        if said.word(at) in HYPHENS and said.joined(at):
            at += 1
        ones = ONES.get(said.word(at), 0)
        return (TENS[word] + ones, at + 1) if 0 < ones < 10 else (TENS[word], index + 1)
    return None
