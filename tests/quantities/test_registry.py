"""The registry: scales of their own refuse to be added, and English and American measures are exact."""

from __future__ import annotations

import itertools

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import constants

from presenter.quantities import Q

OWN_SCALES = ("gravity", "degree_Plato", "percent_by_volume", "attenuation_percent", "pH", "volume_co2")


@pytest.mark.parametrize(("one", "other"), list(itertools.combinations([*OWN_SCALES, "percent", "litre"], 2)))
def test_scales_of_their_own_refuse_addition(one: str, other: str) -> None:
    """This test ensures that a gravity is never added to a percentage, nor any such scale to another."""
    with pytest.raises(pint.DimensionalityError):
        Q(1.0, one) + Q(1.0, other)


@pytest.mark.parametrize("unit", OWN_SCALES)
def test_scales_of_their_own_refuse_a_bare_number(unit: str) -> None:
    """This test ensures that a bare number cannot be added to a scale of its own."""
    with pytest.raises(pint.DimensionalityError):
        Q(1.0, unit) + 1.0


@pytest.mark.parametrize(
    ("unit", "international", "value"),
    [
        ("inch", "metre", constants.inch),
        ("foot", "metre", constants.foot),
        ("yard", "metre", constants.yard),
        ("mile", "metre", constants.mile),
        ("pound", "kilogram", constants.lb),
        ("ounce", "kilogram", constants.oz),
        ("us_gallon", "metre ** 3", constants.gallon_US),
        ("us_fluid_ounce", "metre ** 3", constants.fluid_ounce_US),
        ("imperial_gallon", "metre ** 3", constants.gallon_imp),
        ("imperial_fluid_ounce", "metre ** 3", constants.fluid_ounce_imp),
        ("psi", "pascal", constants.psi),
        ("atmosphere", "pascal", constants.atm),
        ("calorie", "joule", constants.calorie_th),
    ],
)
def test_measures_match_published(unit: str, international: str, value: float) -> None:
    """This test ensures that each measure has the size that an independent library gives it (scipy.constants).

    The library's figures are the definitions: yard and pound of 1959, gallon of 231 cubic inches (NIST Handbook 44,
    Appendix C), imperial gallon of 4.54609 litres.
    """
    assert Q(1, unit).to(international).magnitude == pytest.approx(value, rel=1e-15 * 8)


@settings(max_examples=200, deadline=None)
@given(st.floats(-200, 2000))
def test_temperatures_match_published(celsius: float) -> None:
    """This test ensures that degrees Celsius become Fahrenheit and kelvin as scipy.constants converts them."""
    for unit, scale in (("degF", "Fahrenheit"), ("kelvin", "Kelvin")):
        expected = float(constants.convert_temperature(celsius, "Celsius", scale))
        assert Q(celsius, "degC").to(unit).magnitude == pytest.approx(expected, abs=1e-9)


def test_a_difference_is_no_temperature() -> None:
    """This test ensures that ten degrees Celsius of difference are eighteen of Fahrenheit, without the offset."""
    assert Q(10, "delta_degC").to("delta_degF").magnitude == pytest.approx(18)


def test_gravity_points_and_gravity() -> None:
    """This test ensures that 48 points are a gravity of 1.048, and back."""
    assert Q(48, "gravity_point").to("gravity").magnitude == pytest.approx(1.048)
    assert Q(1.048, "gravity").to("gravity_point").magnitude == pytest.approx(48)
