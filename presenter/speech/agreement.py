"""Whether what was said agrees with a worked number, or is that number with its scale slipped.

In: a quantity heard and a worked number. Out: yes or no, the slip in words, and how far off it is.
"""

from __future__ import annotations

import functools
import re

import pint

from presenter.quantities import Q
from presenter.speech.hearing import Heard
from presenter.speech.lesson_view import NumberView
from presenter.speech.word_lists import word_lists

__all__ = ["agrees", "in_unit_of", "line_between", "slip", "tolerance"]

_LOOSE = frozenset(word_lists()["loose"])
_SHARES = {"percent", "percent_by_volume", "attenuation_percent"}
_DEGREES = {"degree_bare", "degC", "degF", "degree_Celsius", "degree_Fahrenheit"}


_ODD = re.compile(r"\bodd\b")  # "seventy-odd minutes"
_TIMES = {"minute", "hour", "day", "week"}
_ROUNDEST = 0.4  # of a number: "an hour" is no half hour
_WIDEST = 0.35  # of a number: a slip is known by its figures, however wide the give-or-take


def _scaled(unit: str, scale: str) -> str:
    whole = {"degree_bare": scale, "fortnight": "week"}.get(unit, unit)
    return whole.replace("delta_degree_bare", "delta_degC")


def in_unit_of(value: float, unit: str, number: NumberView, scale: str) -> float | None:
    """``value`` in the unit of the worked number, or nothing where their kinds differ."""
    if unit in _SHARES and number.unit in _SHARES:
        return value
    if unit == number.unit:
        return value
    if "year" in (unit, number.unit):
        return None
    line = line_between(_scaled(unit, scale), number.unit)
    return None if line is None else line[0] + line[1] * value * (2 if unit == "fortnight" else 1)


@functools.lru_cache(maxsize=4096)
def line_between(unit: str, wanted: str) -> tuple[float, float] | None:
    """What nought of ``unit`` is in ``wanted``, and what each one adds."""
    try:
        nought, one = (float(Q(value, unit).to(wanted).magnitude) for value in (0.0, 1.0))
    except (pint.PintError, AttributeError):
        return None
    return nought, one - nought


def tolerance(heard: Heard, number: NumberView, scale: str) -> float:
    """Give-or-take and half of the last place said, in the unit of the worked number."""
    place = heard.rounded if heard.hedge in _LOOSE or _ODD.search(heard.words.lower()) else heard.place
    if not heard.hedge and heard.unit in _TIMES:
        place = min(place, _ROUNDEST * abs(heard.middle))
    low = in_unit_of(heard.middle, heard.unit, number, scale)
    high = in_unit_of(heard.middle + place, heard.unit, number, scale)
    return number.give_or_take + (abs(high - low) if low is not None and high is not None else 0.0)


def agrees(heard: Heard, number: NumberView, scale: str) -> bool:
    """Whether the worked number lies within its give-or-take and the roundness of what was said."""
    if heard.value is None:
        low = in_unit_of(heard.low or 0.0, heard.unit, number, scale)
        high = in_unit_of(heard.high or 0.0, heard.unit, number, scale)
        if low is None or high is None:
            return False
        return low - number.give_or_take - 1e-9 <= number.value <= high + number.give_or_take + 1e-9
    value = in_unit_of(heard.value, heard.unit, number, scale)
    return value is not None and abs(value - number.value) <= tolerance(heard, number, scale) * (1 + 1e-9) + 1e-9


def _fits(value: float, number: NumberView) -> bool:
    spread = min(number.give_or_take, _WIDEST * abs(number.value))
    return abs(value - number.value) <= max(spread, 0.012 * abs(number.value)) + 1e-9


def slip(heard: Heard, number: NumberView, scale: str) -> str:
    """The slip of scale that turns the worked number into what was said, in words; or an empty string."""
    raw = heard.middle
    if heard.unit in _DEGREES and number.unit in _DEGREES:
        other = (raw - 32) / 1.8 if _scaled(heard.unit, scale) != "degF" else raw
        if _fits(other, number):
            return "Fahrenheit for Celsius" if heard.unit != "degF" else "Celsius for Fahrenheit"
        return "a factor of ten" if any(_fits(raw * factor, number) for factor in (10, 0.1)) else ""
    if heard.unit == "gravity_point" and number.unit in {"degPlato", "degree_Plato"}:
        return "degrees Plato read as gravity points" if _fits(raw, number) else ""
    if heard.unit in {"degPlato", "degree_Plato"} and number.unit == "gravity":
        return "gravity points read as degrees Plato" if _fits(1 + raw / 1000, number) else ""
    if heard.unit == "gravity" and number.unit in {"degPlato", "degree_Plato"}:
        return "degrees Plato read as gravity" if _fits((raw - 1) * 1000, number) else ""
    if heard.unit == "gravity" and number.unit == "gravity":
        shifted = any(_fits(1 + (raw - 1) * factor, number) for factor in (0.1, 0.01)) and raw - 1 > 0.05
        too_small = heard.place < 1e-4 and _fits(1 + (raw - 1) * 10, number)  # "one point oh oh six eight"
        return "a shifted decimal" if (shifted and raw > 1.12) or too_small else ""
    if number.unit in {"gravity", "pH", "year"}:
        return ""
    value = in_unit_of(raw, heard.unit, number, scale)
    if value is None or value == 0:
        return ""
    factors = {10: "a factor of ten", 100: "a factor of a hundred", 1000: "a factor of a thousand"}
    if number.unit in {"second", "minute", "hour", "day", "week"}:
        factors |= {
            7: "weeks for days or the reverse",
            60: "one unit of time for another",
            24: "hours for days or the reverse",
            1440: "minutes for days",
        }
    for factor, words in factors.items():
        if _fits(value * factor, number) or _fits(value / factor, number):
            return words
    return ""
