"""One number with its unit, however it is put together.

In: the words of a talk and an index. Out: a :class:`Term`: "a pound and a half", "two pounds four ounces",
"five grams a litre", "three degrees cooler", "half a litre a minute"; or a number that still lacks its unit.
"""

from __future__ import annotations

from typing import NamedTuple

from presenter.speech.figures_said import pair_at
from presenter.speech.numbers_said import Number, Words, number_at, share_at, small_at
from presenter.speech.rates_said import lower_part
from presenter.speech.units_said import UnitSaid, unit_at

__all__ = ["Term", "term_at"]

_OF_A = {("of", "a"), ("of", "an")}
_AFTER_A_DEGREE = {
    ("or", "two"), ("and", "a"), ("a", "minute"), ("an", "hour"), ("per", "minute"), ("per", "hour"), ("a", "day"),
}  # fmt: skip
_FILLERS = {
    "more", "extra", "further", "whole", "full", "good", "odd", "level", "heaped", "solid", "short", "long", "scant",
    "ish", "decent",
}  # fmt: skip
_GRAINS = {"malt", "barley", "oats", "wheat", "grain", "rye", "dredge", "corn", "drage", "malted", "bere", "beans"}
_COMPARED = {
    "cooler", "warmer", "hotter", "colder", "higher", "lower", "more", "less", "apart", "difference", "either", "short",
    "too", "off", "of",
}  # fmt: skip
_LOSSES = {"lose", "loses", "lost", "losing", "gain", "gains", "gained", "gaining", "drops", "rises", "by"}
_LOOSELY = {
    "about",
    "around",
    "roughly",
    "some",
    "maybe",
    "nearly",
    "almost",
    "another",
    "only",
    "just",
    "perhaps",
    "a",
}
_GRAVITY_BESIDE = {
    "gravity", "wort", "hydrometer", "extract", "yeast", "reading", "drop", "dropped", "lost", "lose", "loses", "fell",
    "attenuation", "sugar", "ale", "mash", "runnings", "kettle", "started", "finished", "kvass", "boil",
}  # fmt: skip
# A unit and the smaller units that may follow it: "two pounds four ounces", "an hour and twenty minutes".
_SMALLER: dict[str, dict[str, float]] = {
    "hour": {"minute": 60}, "minute": {"second": 60}, "day": {"hour": 24}, "week": {"day": 7},
    "month": {"week": 4.348125},
    "year_span": {"month": 12}, "pound": {"ounce": 16}, "stone": {"pound": 14}, "gallon": {"pint": 8, "quart": 4},
    "imperial_gallon": {"imperial_pint": 8, "pint": 8}, "quart": {"pint": 2}, "kilogram": {"gram": 1000},
    "litre": {"millilitre": 1000}, "foot": {"inch": 12}, "metre": {"centimetre": 100}, "quarter": {"bushel": 8},
    "bushel": {"peck": 4}, "hundredweight": {"pound": 112}, "fortnight": {"day": 14}, "mile": {"yard": 1760},
}  # fmt: skip
_LOWER_PARTS = {
    "hour", "minute", "day", "week", "month", "year_span", "litre", "kilogram", "gallon", "quarter", "bushel",
    "pint", "pound",
    "millilitre", "gram", "second", "metre", "metre ** 3", "us_gallon", "imperial_gallon", "quart", "barrel",
    "fortnight",
    "degree_bare", "degPlato", "hectolitre", "peck", "imperial_pint", "us_pint", "ale_gallon", "stone", "tonne",
    "teaspoon", "cup",
    "us_quart",
}  # fmt: skip


_TIMES = {"second", "minute", "hour", "day", "week", "fortnight", "month", "year_span"}


class Term(NamedTuple):
    """A number and its unit (empty while none is known), with the indexes of its words and its roundness."""

    value: float
    unit: str
    start: int
    end: int
    place: float
    rounded: float
    kind: str

    @classmethod
    def bare(cls, value: float, unit: str, start: int, end: int, place: float = 0.5) -> Term:
        """A gravity or a year, which need no unit word."""
        fine = place if place < 0.5 else 0.0005
        half = fine if unit == "gravity" else 0.5
        return cls(value, unit, start, end, half, half, "bare")

    def with_unit(self, unit: str) -> Term:
        """The same number in the unit that the other end of its range or list was given."""
        return self._replace(unit=unit)


def term_at(said: Words, at: int) -> Term | None:
    """The number at ``at`` with its unit; a number without one has an empty unit; nothing where there is no number."""
    number = number_at(said, at)
    if number is None:
        return _article(said, at)
    number = _hundreds(said, at, number)
    if number.kind == "fraction":
        grain = _quarter_of_grain(said, at, number)
        if grain is not None:
            return grain
    unit = _unit_after(said, at, number)[1]
    if unit is None:
        return None if number.kind == "fraction" and number.value < 1 else _term(number, "", at, number.end)
    if unit.id == "quarter" and said.word(unit.end) == "of" and said.word(unit.end + 1) not in _GRAINS | {"good"}:
        return None
    if unit.id == "bare-points" and (
        number.value < 2 or (number.value < 10 and not _speaks_of_gravity(said, at, unit.end))
    ):
        return None
    return _finished(said, at, number, unit)


def _term(number: Number, unit: str, start: int, end: int) -> Term:
    return Term(number.value, unit, start, end, number.place, number.rounded, number.kind)


def _article(said: Words, at: int) -> Term | None:
    """ "A litre", "an hour": one of a unit that may stand alone after an article."""
    if said.word(at) not in {"a", "an"}:
        return None
    index = at + 1
    while said.word(index) in {"good", "full", "further", "level", "whole", "single", "heaped", "scant"}:
        index += 1
    unit = unit_at(said, index, False)
    if unit is None or (not unit.alone and not _measures_alone(said, at, unit)):
        return None
    if unit.means == "degree_bare" and said.word(unit.end) in {"in", "of", "from"}:
        return None
    before = said.word(at - 1)
    if unit.means in {"day", "week", "month", "year_span", "hour"} and (
        (len(before) > 4 and before.endswith("s") and at > 1 and _counted(said, at - 1)) or before in {"what", "such"}
    ):
        return None
    return _finished(said, at, Number(1.0, index, 0.5, 0.5, "article"), unit)


def _measures_alone(said: Words, at: int, unit: UnitSaid) -> bool:
    """Whether the words after say that "a degree", "a foot", "a unit" is an amount."""
    after = tuple(said.words[unit.end : unit.end + 2])
    if unit.id in {"bare-degrees", "celsius", "fahrenheit"}:
        return _compared(said, at, unit.end) or after in _AFTER_A_DEGREE or after[:1] == ("every",)
    if unit.id in {"foot", "alcohol-units", "barrel", "stone", "gravity-points"}:
        sized = after in _AFTER_A_DEGREE or after[:1] in {
            (word,) for word in ("deep", "long", "wide", "high", "across")
        }
        return sized or unit.end - at > 2 or (unit.id == "barrel" and after[:1] == ("of",))
    return False


def _counted(said: Words, index: int) -> bool:
    """Whether a number stands within three words before ``index``: "two loaves a day" counts loaves."""
    return any(number_at(said, back) is not None for back in range(max(0, index - 3), index))


def _hundreds(said: Words, at: int, number: Number) -> Number:
    """ "One fifty-two degrees" is 152; "two twenty-minute rests" is not."""
    if number.value not in {1, 2} or number.kind != "plain" or said.word(number.end) in {"-", "–"}:
        return number
    small = small_at(said, number.end)
    if small is None or small[0] < 10 or said.kinds[at] == "number":
        return number
    unit = unit_at(said, small[1])
    if unit is None or unit.means not in {"degree_bare", "degC", "degF"}:
        return number
    return Number(number.value * 100 + small[0], small[1], 0.5, 0.5, "plain")


def _quarter_of_grain(said: Words, at: int, number: Number) -> Term | None:
    """ "A quarter of malt" is the period measure; "a quarter of the malt" is a fraction of a thing."""
    if said.word(number.end - 1) not in {"quarter", "quarters"} or said.word(number.end) != "of":
        return None
    if said.word(number.end + 1) not in _GRAINS:
        return None
    value = round(number.value * 4)
    if said.word(at) == "half":
        return None
    end = number.end + (2 if value == 1 else 0)
    return Term(float(value), "quarter", at, end, 0.5, 0.5, "plain")


def _unit_after(said: Words, at: int, number: Number) -> tuple[int, UnitSaid | None]:
    index = number.end
    if said.word(index) in {"-", "–"} and said.joined(index):
        index += 1
    digits = said.kinds[number.end - 1] == "number" or said.words[number.end - 1] in "½¼¾⅓⅔⅛"
    unit = unit_at(said, index, digits)
    if (
        number.value < 1
        and number.kind == "decimal"
        and said.word(index) == "of"
        and said.word(index + 1) in {"a", "an"}
    ):
        return index + 2, unit_at(said, index + 2)  # "point two five of a kilo"
    steps = 0
    while unit is None and steps < 2:
        if tuple(said.words[index : index + 2]) == ("or", "so"):
            index += 2
        elif tuple(said.words[index : index + 3]) in {("and", "a", "bit"), ("or", "so", "of")}:
            index += 3
        elif said.word(index) in _FILLERS:
            index += 1
        else:
            break
        steps += 1
        unit = unit_at(said, index, digits)
    if unit is None:
        unit = _unit_of_tolerance(said, number.end)
    if unit is None and said.word(number.end) in {"ph", "p"} and 0 < number.value <= 14 and number.kind != "fraction":
        end = number.end + (1 if said.word(number.end) == "ph" else 2)
        if (
            (said.word(end - 1) in {"ph", "h"})
            and number_at(said, end) is None
            and said.word(end) not in {"of", "is", "was"}
        ):
            return number.end, UnitSaid("pH", 1.0, end, False, "acidity")
    return index, unit


def _unit_of_tolerance(said: Words, index: int) -> UnitSaid | None:
    """The unit in "sixty-six plus or minus two degrees", which the number before it shares."""
    for opening in (("plus", "or", "minus"), ("give", "or", "take"), ("±",), ("plus", "minus")):
        if tuple(said.words[index : index + len(opening)]) == opening:
            number = number_at(said, index + len(opening))
            unit = None if number is None else unit_at(said, number.end)
            return None if unit is None else unit._replace(end=index)
    return None


def _speaks_of_gravity(said: Words, start: int, end: int) -> bool:
    beside = said.words[max(0, start - 12) : start] + said.words[end : end + 8]
    return not _GRAVITY_BESIDE.isdisjoint(beside)


def _compared(said: Words, start: int, end: int) -> bool:
    after = said.word(end)
    if after == "every" and said.word(start) in {"a", "an", "one"}:  # "a degree every ten minutes"
        return True
    if after in _COMPARED and not (after == "of" and said.word(end + 1) not in {"difference"}):
        return True
    before = start - 1
    while said.word(before) in _LOOSELY:
        before -= 1
    return said.word(before) in _LOSSES


def _finished(said: Words, at: int, number: Number, unit: UnitSaid) -> Term:
    """The term with what may follow its unit: a fraction, a smaller unit, the lower part of a rate."""
    means, end = unit.means, unit.end
    number = number._replace(
        value=number.value * unit.times, place=number.place * unit.times, rounded=number.rounded * unit.times
    )
    if means in {"degree_bare", "degC", "degF"} and _compared(said, at, end):
        means = {"degree_bare": "delta_degree_bare", "degC": "delta_degC", "degF": "delta_degF"}[means]
    if said.word(end) == "and" and number.kind in {"plain", "article"}:
        share = share_at(said, end + 1)
        if share is not None and unit_at(said, share[1]) is None and not _of_a_unit(said, share[1]):
            number = Number(number.value + share[0] * unit.times, share[1], 0.05, 0.05, "fraction")
            return _rate(said, _term(number, means, at, share[1]))
    if (
        means in {"degree_bare", "degC", "degF"}
        and said.word(end) == "below"
        and said.word(end + 1) in {"zero", "freezing"}
    ):
        return _term(number._replace(value=-abs(number.value)), means, at, end + 2)
    term = _rate(said, _term(number, means, at, end))
    return _with_smaller(said, term) if term.end == end else term


def _of_a_unit(said: Words, index: int) -> bool:
    """Whether "of a litre" or "of malt" follows, so that the fraction before it is a quantity of its own."""
    if said.word(index) != "of":
        return False
    after = index + 2 if said.word(index + 1) in {"a", "an"} else index + 1
    return after == index + 2 and unit_at(said, after) is not None


def _with_smaller(said: Words, term: Term) -> Term:
    smaller = _SMALLER.get(term.unit)
    if smaller is None:
        return term
    if said.word(term.end) == "," and said.word(term.start - 1) in {"not", "isn't", "wasn't"}:
        return term  # "not two days, twelve hours"
    index = term.end + 1 if said.word(term.end) in {"and", ","} else term.end
    number = number_at(said, index)
    if number is not None and index == term.end and number.kind == "plain" and unit_at(said, number.end) is None:
        after = number.value
        if term.unit == "hour" and 5 <= after < 60 and said.kinds[index] == "word" and pair_at(said, index) is None:
            return Term(term.value * 60 + after, "minute", term.start, number.end, 0.5, number.rounded, "plain")
        if term.unit == "kilogram" and after in {100.0 * step for step in range(1, 10)}:
            return Term(term.value * 1000 + after, "gram", term.start, number.end, 0.5, number.rounded, "plain")
    if number is None or number.value <= 0 or (said.word(term.end) == "," and number.kind != "plain"):
        article = _article(said, index) if said.word(term.end) == "and" else None
        if article is None or article.unit not in smaller or article.value != 1:
            return term
        value = term.value * smaller[article.unit] + 1
        return Term(value, article.unit, term.start, article.end, 0.5, 0.5, "plain")
    unit = unit_at(said, number.end)
    if unit is not None and term.unit == "hour" and said.word(number.end) == "m":
        unit = unit._replace(means="minute")
    if unit is None or unit.means not in smaller or number.value >= smaller[unit.means]:
        return term
    value = term.value * smaller[unit.means] + number.value
    return Term(value, unit.means, term.start, unit.end, number.place, number.place, "plain")


def _rate(said: Words, term: Term) -> Term:
    """The term with "a litre", "per kilo", "to the quarter" after it, if that is there."""
    index = lower_part(said, term.end)
    if index is None:
        return term
    bracket = said.word(index) == "("
    index += bracket
    unit = unit_at(said, index, False)
    if unit is not None and said.word(index) == "second" and said.word(index - 1) not in {"a", "per", "every", "/"}:
        return term  # "litres of water for the second mash"
    if unit is None and said.word(index) == "quarter":
        unit = UnitSaid("quarter", 1.0, index + 1, False, "quarter")
    if unit is None and said.word(index) in {"l", "g", "h", "s", "ml", "kg"}:
        unit = unit_at(said, index)
    if unit is not None and unit.means == "degC" and term.unit == "kilojoule":
        return term._replace(unit="kilojoule / delta_degC", end=unit.end)
    if unit is None or unit.means not in _LOWER_PARTS or unit.times != 1:
        return term
    if {term.unit, unit.means} <= _TIMES:
        return term
    upper = {"degree_bare": "delta_degree_bare", "degC": "delta_degC", "degF": "delta_degF"}.get(term.unit, term.unit)
    lower = {"degree_bare": "delta_degC"}.get(unit.means, unit.means)
    made, end = f"{upper} / {lower}", unit.end
    if upper == "kilojoule" and (said.word(end), said.word(end + 1)) in {("and", "degree"), ("°", "c")}:
        made, end = f"{made} / delta_degC", end + 2 + bracket
    return term._replace(unit=made, end=end)
