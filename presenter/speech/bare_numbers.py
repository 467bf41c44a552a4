"""Numbers without a unit: gravities told apart from calendar years and from mere counts.

In: a number said and the words around it. Out: its value with ``gravity`` or ``year``, or nothing.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from presenter.speech.numbers_said import Words

__all__ = ["Bare", "bare_number", "years_named"]

_GRAVITY_WORDS = {
    "gravity", "gravities", "hydrometer", "sg", "og", "fg", "reads", "reading", "readings", "refractometer",
    "saccharometer",
}  # fmt: skip
_WORTS = {"wort", "worts", "runnings", "ale", "kvass"}
_YEAR_BEFORE = {"dated", "in", "since", "year", "circa", "anno", "c"}
_YEAR_LOOSELY = _YEAR_BEFORE | {
    "of",
    "around",
    "about",
    "by",
    "until",
    "till",
    "before",
    "after",
    "from",
    "to",
    "between",
    "and",
}
_YEAR_SURELY = _YEAR_BEFORE | {"by", "until", "till", "before", "after"}
_PAPERS = {
    "letter", "book", "roll", "rolls", "account", "accounts", "rule", "rules", "bill", "will", "inventory", "map",
    "law", "register", "charter", "diary", "deed", "survey", "chronicle", "recipe", "statute", "record", "note", "list",
}  # fmt: skip
_SEASONS = {
    "spring", "summer", "autumn", "winter", "year", "january", "february", "march", "april", "may", "june", "july",
    "august", "september", "october", "november", "december", "michaelmas", "christmas", "easter", "lent", "plague",
    "statute", "assize", "harvest", "book", "account", "accounts", "roll", "rolls", "household", "battle", "edition",
}  # fmt: skip
_THINGS = {
    "people", "men", "women", "folk", "children", "loaves", "visitors", "guests", "bottles", "casks", "tubs", "bags",
    "sacks", "brewings", "times", "words", "pages", "souls", "monks", "nuns", "sheep", "cattle", "sherds", "pieces",
    "documents", "records", "manuscripts", "households", "brewers", "houses", "steps",
}  # fmt: skip
_NOT_PLURAL = {
    "was", "is", "has", "this", "his", "its", "as", "us", "yes", "always", "perhaps", "plus", "less", "does", "says",
    "reads", "gives", "makes", "means", "brings", "sits", "goes", "comes", "stays", "tells", "shows", "minus",
    "sometimes", "looks", "seems", "leaves", "starts", "london's", "lets", "tastes",
}  # fmt: skip
_DECADES = {
    "twenties": 20, "thirties": 30, "forties": 40, "fifties": 50, "sixties": 60, "seventies": 70, "eighties": 80,
    "nineties": 90,
}  # fmt: skip
_LOOSE = {"about", "around", "roughly", "nearly", "almost", "say", "maybe", "just", "exactly", "a", "the"}


class Bare(NamedTuple):
    """A number that needs no unit word: its value, and ``gravity`` or ``year``."""

    value: float
    unit: str


def _near(said: Words, start: int, end: int, before: int = 8, after: int = 10) -> bool:
    beside = said.words[max(0, start - before) : start] + said.words[end : end + after]
    return not _GRAVITY_WORDS.isdisjoint(beside)


def _before(said: Words, start: int) -> tuple[str, str]:
    """The two words before, loosening words passed over."""
    at = start - 1
    while at >= 0 and said.words[at] in _LOOSE:
        at -= 1
    return said.word(at), said.word(at - 1)


def _counts_things(word: str) -> bool:
    return word in _THINGS or (len(word) > 3 and word.endswith("s") and word not in _NOT_PLURAL)


def bare_number(said: Words, value: float, start: int, end: int, style: str) -> Bare | None:
    """What a number without a unit is: a gravity, a calendar year, or nothing.

    ``style`` is pair ("ten forty-six"), figures ("one oh four six"), digits ("1046"), decimal, words or hundreds.
    """
    before, earlier = _before(said, start)
    after = said.word(end)
    if style == "decimal":
        return _decimal(said, value, start, end)
    if before == "year" or after in {"ad", "ce", "bce", "bc"} or before in {"ad", "bc"}:
        return Bare(value, "year") if 1 <= value <= 2100 else None
    if 2 <= value <= 130 and style in {"digits", "words"}:
        if (
            before in {"of", "is", "was", "at"}
            and earlier == "gravity"
            and not _counts_things(after)
            and after != "point"
        ):
            return Bare(1 + value / 1000, "gravity")
        return None
    lowest = 900 if before in _YEAR_BEFORE and style == "pair" else 980
    if not lowest <= value <= 2100 or (value != int(value) and style not in {"pair", "figures"}):
        return None
    if after in _THINGS - {"of", "or"} or (
        style not in {"pair", "figures"}
        and _counts_things(after)
        and after not in {"or"}
        and not (style == "digits" and ((value > 1130 and before in _YEAR_SURELY) or _dated(before, earlier)))
    ):
        return None
    if value <= 1130:
        return _gravity_or_year(said, value, start, end, style, before, earlier)
    return _year(said, value, start, end, style, before, earlier)


def _dated(before: str, earlier: str) -> bool:
    """Whether the words before a number are those before the year of a writing: "a letter of 1740"."""
    return before == "of" and earlier in _PAPERS


def _gravity_or_year(
    said: Words, value: float, start: int, end: int, style: str, before: str, earlier: str
) -> Bare | None:
    if before in _YEAR_BEFORE and earlier not in {"came", "come", "comes", "coming"} and value >= 1000:
        return Bare(value, "year") if value != 1000 or style == "digits" or "year" in (before, earlier) else None
    if value < 990 and before in _YEAR_BEFORE:
        return Bare(value, "year")
    if value == 1000 and style == "digits" and before in {"before", "after", "until", "since"}:
        return Bare(value, "year")
    if before == "of" and (earlier in _SEASONS or (style != "words" and _dated(before, earlier))):
        return Bare(value, "year")
    if before == "in" and style == "digits" and value < 1000:
        return Bare(value, "year")
    if (
        value > 1100
        and style in {"pair", "digits"}
        and said.word(start - 1) in _YEAR_LOOSELY
        and not _near(said, start, end)
    ):
        return Bare(value, "year")
    if style in {"pair", "figures"}:
        return Bare(value / 1000, "gravity")
    if style == "digits":
        return Bare(value / 1000, "gravity") if value > 1000 or _near(said, start, end) else None
    if _near(said, start, end):
        return Bare(value / 1000, "gravity")
    if style == "hundreds" and before in _YEAR_LOOSELY:
        return Bare(value, "year")
    return None


def _year(said: Words, value: float, start: int, end: int, style: str, before: str, earlier: str) -> Bare | None:
    if value <= 1200 and before not in _YEAR_BEFORE and _near(said, start, end, 6, 4):
        return Bare(value / 1000, "gravity")
    if style == "pair":
        return None if before == "at" and value % 100 < 60 and value < 1300 else Bare(value, "year")
    if style == "digits":
        return Bare(value, "year")
    if style == "hundreds" and not {before, said.word(start - 1)}.isdisjoint(_YEAR_LOOSELY):
        return Bare(value, "year")
    loosely = {before, said.word(start - 1)}
    if style == "words" and earlier == "year" and before in {"is", "was"}:
        return Bare(value, "year")
    if style == "words" and said.word(start + 1) == "hundred" and not loosely.isdisjoint(_YEAR_LOOSELY):
        return Bare(value, "year")
    if style == "words" and (before in _YEAR_BEFORE or (before in {"of", "by", "until"} and earlier in _SEASONS)):
        return Bare(value, "year")
    return None


def _decimal(said: Words, value: float, start: int, end: int) -> Bare | None:
    digits = re.search(r"(?:\.|point )", said.text[said.starts[start] : said.ends[end - 1]].lower())
    if digits is None:
        return None
    shown = f"{value:.6f}".rstrip("0")
    places = max(len(shown) - shown.index(".") - 1, _places_said(said, start, end))
    if places >= 3 and 0.98 <= value <= 1.2:
        return Bare(value, "gravity")
    beside = said.words[max(0, start - 8) : start]
    spoken_of = _near(said, start, end) or not _WORTS.isdisjoint(beside)
    if places >= 2 and 0.98 <= value < 2 and (spoken_of or (places == 2 and 1 <= value <= 1.13)):
        return Bare(value, "gravity")
    return None


def _places_said(said: Words, start: int, end: int) -> int:
    if end - start == 1:
        text = said.words[start]
        return len(text) - text.index(".") - 1 if "." in text else 0
    return end - start - 2


def years_named(said: Words, index: int) -> tuple[float, float, int] | None:
    """A decade or a century named in the plural: "the thirteen thirties", "1680s", "the seventeen hundreds"."""
    if said.kinds[index] == "decade":
        first = float(said.words[index][:-1])
        if not 100 <= first <= 2100:
            return None
        return first, first + (99 if first % 100 == 0 else 9), index + 1
    century = {
        "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16, "seventeen": 17,
        "eighteen": 18, "nineteen": 19, "twenty": 20,
    }.get(said.words[index])  # fmt: skip
    if century is None:
        return None
    after = said.word(index + 1)
    if after == "hundreds":
        return century * 100.0, century * 100.0 + 99, index + 2
    if after in _DECADES:
        first = century * 100.0 + _DECADES[after]
        return first, first + 9, index + 2
    return None
