"""Attenuation after one rest, from the repeated table."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from presenter.quantities import Q
from presenter.science.attenuation import attenuation_from_rest_table
from presenter.science.formula import OutOfRangeError, WrongUnitError
from presenter.sources import package_bibliography

RESTS = st.floats(min_value=65.0, max_value=80.0)


@pytest.mark.parametrize(("temperature", "attenuation"), [(65, 82), (70, 70), (75, 50), (80, 30)])
def test_rest_table_meets_the_points_it_repeats(temperature, attenuation):
    """This test ensures that the interpolation passes through the four figures the page repeats
    (chandrasekhar: secondary, study not identified, band 4 points)."""
    assert attenuation_from_rest_table(Q(temperature, "degC")).magnitude == pytest.approx(attenuation, abs=1e-9)


def test_rest_table_best_rest_matches_published():
    """This test ensures that the best rest of the range is 65 degC, as Evans and others found for mashes of
    62.5 to 75 degC (evans2012, read in the abstract)."""
    rests = [65 + step / 4 for step in range(61)]
    assert max(rests, key=attenuation_from_rest_table.plain) == 65


@given(cooler=RESTS, warmer=RESTS)
def test_rest_table_falls_as_the_rest_is_warmer(cooler, warmer):
    """This test ensures that a warmer rest never gives the higher attenuation."""
    cooler, warmer = sorted((cooler, warmer))
    assert attenuation_from_rest_table.plain(warmer) <= attenuation_from_rest_table.plain(cooler) + 1e-9


@pytest.mark.parametrize("temperature", [64.99, 80.01, 20])
def test_rest_table_refuses_what_it_does_not_hold(temperature):
    """This test ensures that a rest outside 65 to 80 degC is refused, never clipped."""
    with pytest.raises(OutOfRangeError, match="holds from 65 to 80 degree_Celsius"):
        attenuation_from_rest_table(Q(temperature, "degC"))


def test_rest_table_takes_a_temperature_only():
    """This test ensures that a mass is refused by name."""
    with pytest.raises(WrongUnitError, match="temperature is a temperature"):
        attenuation_from_rest_table(Q(3, "kg"))


def test_rest_table_source_is_never_called_identified():
    """This test ensures that the source's record says that the study is not identified."""
    assert "study not identified" in package_bibliography()["chandrasekhar"].citation()
