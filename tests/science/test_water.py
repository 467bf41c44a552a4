"""Water against published lists and independent libraries."""

import pytest
from chemicals.iapws import iapws95_Tsat
from fluids.atmosphere import ATMOSPHERE_1976
from hypothesis import given
from hypothesis import strategies as st
from iapws import IAPWS95, IAPWS97

from presenter.quantities import Q
from presenter.science.boiling import (
    boiling_point_at_altitude,
    pressure_at_altitude,
    water_boiling_point,
    water_heat_of_vaporisation,
)
from presenter.science.formula import OutOfRangeError
from presenter.science.water import (
    volume_after_temperature_change,
    water_density,
    water_density_kell_1975,
    water_density_tanaka_2001,
    water_specific_heat,
)

LIQUID = st.floats(min_value=0, max_value=100)


def library_density(temperature):
    """Density in kg/L by the international equation of state for scientific use."""
    return IAPWS95(T=max(temperature, 0.001) + 273.15, P=0.101325).rho / 1000


def test_density_tanaka_matches_published(published, compared):
    """This test ensures that the 2001 formula gives the published list (water_density_list) up to 30 degC."""
    rows = [row for row in published("water_density") if float(row["temperature"]) <= 30]
    compared(
        water_density_tanaka_2001,
        [
            (
                row["temperature"],
                water_density_tanaka_2001.plain(float(row["temperature"])),
                float(row["density"]) / 1000,
            )
            for row in rows
        ],
        kind="published",
        against="water_density_list",
        what="four-decimal rows from 0 to 30 degC",
        tolerance=4e-6,
        because="the list is a compilation of its own; 0.004 kg/m3 covers its ends",
    )


def test_density_kell_matches_published(published, compared):
    """This test ensures that the 1975 formula gives the benchmarks that name it (kell1975) and, from 40 degC up,
    the published list (water_density_list)."""
    compared(
        water_density_kell_1975,
        [
            (row["temperature"], water_density_kell_1975.plain(float(row["temperature"])), float(row["density"]) / 1000)
            for row in published("water_density_kell_benchmarks")
        ],
        kind="published",
        against="kell1975",
        what="five benchmarks that name the paper",
        tolerance=1.1e-6,
        because="the benchmarks are printed to 0.001 kg/m3",
    )
    compared(
        water_density_kell_1975,
        [
            (row["temperature"], water_density_kell_1975.plain(float(row["temperature"])), float(row["density"]) / 1000)
            for row in published("water_density")
            if float(row["temperature"]) >= 40
        ],
        kind="published",
        against="water_density_list",
        what="one-decimal rows from 40 to 100 degC",
        tolerance=6e-5,
        because="the rows are printed to 0.1 kg/m3",
    )


def test_density_misprint_is_not_repeated():
    """This test ensures that the swapped digits of the 1992 paper, which give 997.936 at 20 degC, are not ours."""
    assert abs(water_density_kell_1975.plain(20) - 0.997936) > 2e-4


def test_density_matches_independent_library(compared):
    """This test ensures that the chosen density stays with IAPWS-95 (library iapws) over the whole range."""
    compared(
        water_density,
        [(t, water_density.plain(t), library_density(t)) for t in range(0, 100, 3)],
        kind="library",
        against="iapws, IAPWS-95",
        what="0 to 99 degC at 101.325 kPa",
        tolerance=2e-5,
        because="Kell's temperature scale is that of 1968, worth 0.015 kg/m3 near the boil",
    )


def test_specific_heat_matches_independent_library(compared):
    """This test ensures that the weak table of specific heats lies where IAPWS-97 (library iapws) has it."""
    compared(
        water_specific_heat,
        [(t, water_specific_heat.plain(t), IAPWS97(T=t + 273.15, P=0.102).cp) for t in range(10, 101, 5)],
        kind="library",
        against="iapws, IAPWS-97",
        what="10 to 100 degC",
        tolerance=0.004,
        because="the formula's stated error; the table's own standing is weak",
    )


def test_heat_of_vaporisation_matches_independent_library(compared):
    """This test ensures that the heat of vaporisation is that of IAPWS-95 (library iapws), ends carried on."""

    def library(temperature):
        kelvin = temperature + 273.15
        return IAPWS95(T=kelvin, x=1).h - IAPWS95(T=kelvin, x=0).h

    compared(
        water_heat_of_vaporisation,
        [(t, water_heat_of_vaporisation.plain(t), library(t)) for t in range(85, 102, 2)],
        kind="library",
        against="iapws, IAPWS-95",
        what="85 to 101 degC",
        tolerance=0.3,
        because="the formula's stated error",
    )


def test_pressure_at_altitude_matches_independent_library(compared):
    """This test ensures that the standard atmosphere is that of 1976 (library fluids)."""
    compared(
        pressure_at_altitude,
        [(h, pressure_at_altitude.plain(h), ATMOSPHERE_1976(float(h)).P / 1000) for h in range(0, 3001, 250)],
        kind="library",
        against="fluids, ATMOSPHERE_1976",
        what="0 to 3000 m",
        tolerance=0.014,
        because="the library takes height for geopotential, worth 0.013 kPa at 3000 m",
    )


def test_boiling_point_matches_independent_library(compared):
    """This test ensures that the boiling point under a pressure is IAPWS-95's (library chemicals)."""
    compared(
        water_boiling_point,
        [(p, water_boiling_point.plain(p), iapws95_Tsat(p * 1000.0) - 273.15) for p in range(70, 106, 3)],
        kind="library",
        against="chemicals, IAPWS-95",
        what="70 to 105 kPa",
        tolerance=0.05,
        because="what the pack allows its derived rows",
    )


def test_boiling_point_at_altitude_matches_published(published, compared):
    """This test ensures that water boils at each altitude where the public advice says (fsis_altitude,
    colorado_altitude), printed in whole degrees Fahrenheit."""
    compared(
        boiling_point_at_altitude,
        [
            (
                f"{row['altitude']} ft",
                boiling_point_at_altitude(Q(float(row["altitude"]), "ft")).magnitude,
                (float(row["boiling"]) - 32) / 1.8,
            )
            for row in published("boiling_point_by_altitude")
        ],
        kind="published",
        against="fsis_altitude",
        what="three altitudes from sea level to 5000 ft, the last from colorado_altitude",
        tolerance=0.6 / 1.8,
        because="printed in whole degrees Fahrenheit: 0.6 degF",
    )


def test_swelling_matches_published(published, compared):
    """This test ensures that wort swells between 15 and 20 degC as sucrose does (torun_sucrose)."""
    swollen = volume_after_temperature_change.plain(1.0, 15, 20)
    compared(
        volume_after_temperature_change,
        [
            (f"{row['percent']} %", swollen, float(row["density_15"]) / float(row["density_20"]))
            for row in published("sucrose_density_torun")
            if float(row["percent"]) <= 20
        ],
        kind="published",
        against="torun_sucrose",
        what="sucrose to 20 percent between 15 and 20 degC",
        tolerance=0.0005,
        because="sugar swells more than water; a quarter of the stated error",
    )


@given(temperature=LIQUID, other=LIQUID)
def test_warming_and_cooling_returns_the_volume(temperature, other):
    """This test ensures that a volume warmed and cooled again is the volume it was."""
    there = volume_after_temperature_change.plain(8.0, temperature, other)
    assert volume_after_temperature_change.plain(there, other, temperature) == pytest.approx(8.0, rel=1e-12)


@given(low=st.floats(-100, 3000), high=st.floats(-100, 3000))
def test_boiling_point_falls_with_altitude(low, high):
    """This test ensures that water never boils hotter on a higher hill."""
    low, high = sorted((low, high))
    assert boiling_point_at_altitude.plain(high) <= boiling_point_at_altitude.plain(low)


@pytest.mark.parametrize(
    ("formula", "value", "unit"),
    [
        (water_density_tanaka_2001, 40.1, "degC"),
        (water_density, -1, "degC"),
        (water_specific_heat, 9, "degC"),
        (boiling_point_at_altitude, 3001, "m"),
    ],
)
def test_outside_the_range_is_refused(formula, value, unit):
    """This test ensures that each formula refuses a value outside its range and clips none."""
    with pytest.raises(OutOfRangeError, match=formula.name):
        formula(Q(value, unit))
