"""Hydrometer and refractometer against published tables and the physics of water and glass."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from presenter.quantities import Q
from presenter.science.formula import OutOfRangeError
from presenter.science.hydrometer import (
    brix_from_refractive_index,
    corrected_gravity,
    gravity_from_refractometer,
    hydrometer_temperature_correction,
)
from presenter.science.water import water_density

GLASS = 2.5e-5  # cubic expansion of soda-lime glass per degree, as R 22's tables VIII and IX take it (oiml_r22)


def water_and_glass(celsius):
    """What a glass float made for 20 degC misses in water of another temperature."""
    return water_density.plain(20) / water_density.plain(celsius) * (1 + GLASS * (celsius - 20)) ** -1 - 1


def test_correction_matches_published(published, compared):
    """This test ensures that the correction is the printed one at five spots (bigelow_stevenson), that it lies with
    water and glass over the table, and with the sucrose densities at 15 degC (torun_sucrose)."""
    compared(
        hydrometer_temperature_correction,
        [
            (
                f"{row['temperature']} degF",
                hydrometer_temperature_correction(Q(float(row["temperature"]), "degF")).magnitude,
                float(row["gravity"]),
            )
            for row in published("hydrometer_correction_spots")
        ],
        kind="published",
        against="bigelow_stevenson",
        what="five printed rows",
        tolerance=0.00005,
        because="half of the last digit",
    )
    sucrose = published("sucrose_density_torun")[10]
    shrunk = 1 - float(sucrose["density_15"]) / float(sucrose["density_20"]) * (1 - GLASS * 5)
    compared(
        hydrometer_temperature_correction,
        [("15 degC, 10 % sucrose", hydrometer_temperature_correction.plain(15), shrunk)],
        kind="published",
        against="torun_sucrose",
        what="10 percent sucrose at 15 degC with a glass float",
        tolerance=0.0002,
        because="the table's step is 0.0001 and its liquids varied",
    )
    compared(
        hydrometer_temperature_correction,
        [
            (f"{t} degC", hydrometer_temperature_correction.plain(t), water_and_glass(t))
            for t in (10, 12.5, 15, 17.5, 20, 22.5, 25, 27.5, 31)
        ],
        kind="closed form",
        against="expansion of water and of glass (oiml_r22)",
        what="10 to 31 degC",
        tolerance=0.0006,
        because="wort is not water; what the pack's index allows",
    )


def test_corrected_gravity_matches_published(published, compared):
    """This test ensures that a reading plus its correction is the gravity (bigelow_stevenson)."""
    compared(
        corrected_gravity,
        [
            (
                f"1.040 at {row['temperature']} degF",
                corrected_gravity(Q(1.040, "gravity"), Q(float(row["temperature"]), "degF")).magnitude,
                1.040 + float(row["gravity"]),
            )
            for row in published("hydrometer_correction_spots")
        ],
        kind="published",
        against="bigelow_stevenson",
        what="1.040 at five printed temperatures",
        tolerance=0.00005,
        because="half of the last digit",
    )


@given(temperature=st.floats(10, 31.1), other=st.floats(10, 31.1))
def test_warmer_sample_reads_too_low(temperature, other):
    """This test ensures that the correction never falls as the sample gets warmer, and is nothing at 20 degC."""
    cool, warm = sorted((temperature, other))
    assert hydrometer_temperature_correction.plain(cool) <= hydrometer_temperature_correction.plain(warm)
    assert hydrometer_temperature_correction.plain(20.0) == pytest.approx(0, abs=1e-12)


@pytest.mark.parametrize("temperature", [9, 32, 66])
def test_hot_sample_is_refused(temperature):
    """This test ensures that a sample outside 50 to 88 degF is refused, never clipped."""
    with pytest.raises(OutOfRangeError, match="temperature is"):
        corrected_gravity(Q(1.050, "gravity"), Q(temperature, "degC"))


def test_refractive_index_matches_published(published, compared):
    """This test ensures that the sugar from a refractive index is the French order's (french_order_2011) and that
    water shows none."""
    compared(
        brix_from_refractive_index,
        [
            (f"{row['percent']} %", brix_from_refractive_index.plain(float(row["index"])), float(row["percent"]))
            for row in published("must_sucrose_french_order")
        ],
        kind="published",
        against="french_order_2011",
        what="201 rows from 10 to 30 percent",
        tolerance=0.025,
        because="an older and a newer sugar table, about 0.00003 apart in the index",
    )


def test_refractometer_matches_published(published, compared):
    """This test ensures that a Brix reading of unfermented sugar gives its apparent gravity (usda_135_a_50)."""
    compared(
        gravity_from_refractometer,
        [
            (f"{row['brix']} Brix", gravity_from_refractometer.plain(float(row["brix"])), float(row["gravity"]))
            for row in published("sucrose_gravity_usda")
        ],
        kind="published",
        against="usda_135_a_50",
        what="twelve five-decimal rows, 0 to 7.9 Brix",
        tolerance=2e-5,
        because="the cubic misses zero by 0.003 degrees Plato, 0.000012 in gravity",
    )
