"""Quantities in words, on paper and aloud. The rounding rule is our own and is held against its own statement."""

from __future__ import annotations

import re
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from presenter.quantities import Q, give_or_take_in_words, in_words, said_aloud
from presenter.quantities.wording import MEASURES, PRINTED, decimals_for, unit_sign

NO_BREAK = "\u00a0"


def plain(text: str) -> str:
    return text.replace(NO_BREAK, " ").replace("\u2212", "-")


@pytest.mark.parametrize(
    ("value", "spread", "unit", "words", "give"),
    [
        (73.46, 1.14, "degree_Celsius", "73.5 °C", "± 1.1 °C"),
        (73.46, 2.94, "degree_Celsius", "73.5 °C", "± 2.9 °C"),
        (73.46, 2.96, "degree_Celsius", "73 °C", "± 3 °C"),
        (73.46, 9.96, "degree_Celsius", "73 °C", "± 10 °C"),
        (1.05762, 0.0027, "gravity", "1.058", "± 0.003"),
        (301.3, 38.2, "litre", "300 L", "± 40 L"),
        (301.3, 13.2, "litre", "301 L", "± 13 L"),
        (1.0, 0.02, "day", "1 day", "± 1 days"),
        (7.0, 0.02, "day", "7 days", "± 1 days"),
        (-3.25, 0.5, "degree_Celsius", "-3.2 °C", "± 0.5 °C"),
    ],
)
def test_rounding_follows_the_rule(value: float, spread: float, unit: str, words: str, give: str) -> None:
    """This test ensures that the spread is rounded first and the value to match: our own rule, by hand."""
    difference = {"degree_Celsius": "delta_degree_Celsius"}.get(unit, unit)
    assert plain(in_words(Q(value, unit), Q(spread, difference))) == words
    assert plain(give_or_take_in_words(Q(value, unit), Q(spread, difference))) == give


@settings(max_examples=300, deadline=None)
@given(value=st.floats(-1e4, 1e4), spread=st.floats(1e-4, 1e3), unit=st.sampled_from(sorted(set(PRINTED) - {"minute"})))
def test_words_stay_within_half_a_printed_digit(value: float, spread: float, unit: str) -> None:
    """This test ensures that what is printed is the value to half its last digit, which is no finer than the spread."""
    decimals = decimals_for(unit, spread)
    assert decimals <= PRINTED[unit].decimals
    assert 10.0**-decimals >= min(spread / 30, 1.0) or decimals == PRINTED[unit].decimals
    if unit in {"kilogram", "litre", "kilojoule", "cell / millilitre"} or unit.startswith("degree"):
        return
    text = plain(in_words(Q(value, unit), Q(spread, unit)))
    number = float(re.match(r"-?[\d.]+", text)[0])  # type: ignore[index]
    assert abs(number - value) <= 0.5 * 10.0**-decimals + 1e-9 * abs(value)


@settings(max_examples=300, deadline=None)
@given(spread=st.floats(0.02, 4e3))
def test_a_spread_is_printed_with_one_or_two_digits(spread: float) -> None:
    """This test ensures that a give-or-take has two digits when it begins with 1 or 2, and one otherwise."""
    words = plain(give_or_take_in_words(Q(5e3, "kilogram"), Q(spread, "kilogram")))
    number = Decimal(re.search(r"[\d.]+", words)[0])  # type: ignore[index]
    digits = str(number).lstrip("0.").replace(".", "")
    assert len(digits.rstrip("0")) <= (2 if digits[0] in "12" else 1)
    assert abs(float(number) - spread) <= max(0.5 * 0.01, 0.17 * spread)


@pytest.mark.parametrize(
    ("value", "unit", "spread", "said"),
    [
        (1.005, "gravity", None, "ten oh five"),
        (1.048, "gravity", None, "ten forty-eight"),
        (1.0, "gravity", None, "one thousand"),
        (0.998, "gravity", None, "nine ninety-eight"),
        (1.1, "gravity", None, "eleven hundred"),
        (1.112, "gravity", 0.002, "about eleven twelve"),
        (0.05, "gravity", None, "fifty points"),
        (0.001, "gravity", None, "one point"),
        (66, "degree_Celsius", None, "sixty-six degrees"),
        (66.2, "degree_Celsius", 1.0, "about sixty-six degrees"),
        (73.46, "degree_Celsius", 1.0, "about seventy-three and a half degrees"),
        (0.6, "delta_degree_Celsius", 0.6, "about half a degree"),
        (1.1, "delta_degree_Celsius", 0.6, "about one degree"),
        (-3.4, "degree_Celsius", 1.0, "about minus three and a half degrees"),
        (75, "minute", None, "seventy-five minutes"),
        (1, "minute", None, "one minute"),
        (12, "litre", None, "twelve litres"),
        (1, "litre", None, "one litre"),
        (8.4, "litre", 0.2, "about eight point four litres"),
        (6.7, "percent_by_volume", 0.8, "about six point seven percent"),
        (5.4, "pH", None, "p H five point four"),
        (0.5, "kilogram", None, "five hundred grams"),
        (168 * 60, "minute", None, "seven days"),
        (1.05, "kilogram", None, "one point oh five kilograms"),
    ],
)
def test_numbers_said_aloud(value: float, unit: str, spread: float | None, said: str) -> None:
    """This test ensures that numbers are said as presenters say them (common practice)."""
    difference = {"degree_Celsius": "delta_degree_Celsius"}.get(unit, unit)
    assert said_aloud(Q(value, unit), None if spread is None else Q(spread, difference)) == said


@settings(max_examples=300, deadline=None)
@given(value=st.floats(-5, 500), spread=st.one_of(st.none(), st.floats(0, 50)), unit=st.sampled_from(sorted(PRINTED)))
def test_anything_can_be_said(value: float, spread: float | None, unit: str) -> None:
    """This test ensures that whatever can be printed can be said, in letters alone, without doubled spaces."""
    difference = unit.replace("degree_", "delta_degree_") if unit in {"degree_Celsius", "degree_Fahrenheit"} else unit
    said = said_aloud(Q(value, unit), None if spread is None else Q(spread, difference))
    assert said
    assert not re.search(r"\d|  |\s$|^\s", said)


@pytest.mark.parametrize(
    ("value", "unit", "measures", "words"),
    [
        (20, "litre", "us", "5.28 US gal"),  # 20 / 3.785411784 = 5.2834
        (20, "litre", "imperial", "4.40 imp gal"),  # 20 / 4.54609 = 4.3994
        (3, "kilogram", "us", "6.61 lb"),  # 3 / 0.45359237 = 6.6139
        (66, "degree_Celsius", "us", "151 °F"),  # 66 * 1.8 + 32 = 150.8
        (66, "degree_Celsius", "imperial", "66.0 °C"),
        (0.05, "litre", "us", "1.7 US fl oz"),  # 50 / 29.5735 = 1.6907
        (0.1, "kilogram", "us", "3.5 oz"),  # 100 / 28.3495 = 3.5274
    ],
)
def test_other_measures_by_hand(value: float, unit: str, measures: str, words: str) -> None:
    """This test ensures that US and imperial words are right by hand, from the defined gallons, pounds and degrees."""
    assert plain(in_words(Q(value, unit), measures=measures)) == words


@pytest.mark.parametrize("measures", MEASURES)
@pytest.mark.parametrize("unit", sorted(PRINTED))
def test_every_unit_prints_in_every_measure(unit: str, measures: str) -> None:
    """This test ensures that every unit that can be printed can be printed for every reader, never split over lines."""
    words = in_words(Q(2.0, unit), measures=measures)
    assert words
    assert " " not in words
    assert unit_sign(unit) == PRINTED[unit].sign
