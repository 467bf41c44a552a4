"""Gravity, extract and wort against published sucrose tables, with the properties that must hold."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from presenter.quantities import Q
from presenter.science.formula import OutOfRangeError, WrongUnitError
from presenter.science.gravity import (
    apparent_attenuation,
    degrees_plato_asbc,
    degrees_plato_from_gravity,
    degrees_plato_nbs,
    gravity_after_attenuation,
    gravity_drop,
    gravity_from_degrees_plato,
)
from presenter.science.wort import (
    blended_gravity,
    extract_in_volume,
    gravity_from_extract_and_water,
    mass_of_wort,
    volume_of_wort,
    wort_density,
)

GRAVITIES = st.floats(min_value=0.98, max_value=1.17)
WORTS = st.floats(min_value=1.0, max_value=1.12)
VOLUMES = st.floats(min_value=0.1, max_value=200)
TORUN_WATER, AIR = 998.23, 1.2


def apparent_gravity(density):
    """Apparent gravity 20/20 from a true density in kg/m3, on the table's own water, as the pack gives it."""
    return (density - AIR) / (TORUN_WATER - AIR)


def sound(rows, highest):
    """The rows of the laboratory table to ``highest`` percent, without the cell it misprints at 34 percent."""
    return [row for row in rows if float(row["percent"]) <= highest and row["percent"] != "34"]


def extracts(formula, rows):
    return [
        (f"{row['percent']} %", formula.plain(apparent_gravity(float(row["density_20"]))), float(row["percent"]))
        for row in rows
    ]


def test_plato_cubics_match_published(published, compared):
    """This test ensures that both cubics, and the choice between them, give the percent of the laboratory's sucrose
    densities (torun_sucrose) turned to apparent gravity."""
    rows = published("sucrose_density_torun")
    for formula, highest, tolerance in (
        (degrees_plato_asbc, 20, 0.01),
        (degrees_plato_nbs, 37, 0.015),
        (degrees_plato_from_gravity, 37, 0.015),
    ):
        compared(
            formula,
            extracts(formula, sound(rows, highest)),
            kind="published",
            against="torun_sucrose",
            what=f"sucrose 0 to {highest} percent at 20 degC",
            tolerance=tolerance,
            because="the fits' own error on the table: 0.01 up to 26 percent, a few thousandths more above",
        )


def test_plato_from_pounds_per_gallon_matches_published(published, compared):
    """This test ensures that weights per gallon in air (nbs_c440) give their degrees Brix."""
    compared(
        degrees_plato_from_gravity,
        [
            (f"{row['brix']} Brix", degrees_plato_from_gravity.plain(float(row["pounds"]) / 8.322), float(row["brix"]))
            for row in published("sucrose_pounds_per_gallon")
        ],
        kind="published",
        against="nbs_c440",
        what="pounds per US gallon in air, 0 to 5.2 Brix",
        tolerance=0.036,
        because="0.001 lb is 0.031 Brix, of which half may be in the row and half in the water row",
    )


def test_plato_at_forty_matches_published(compared):
    """This test ensures that 1.040 gives the printed 9.99359 and 9.99325 of the article on the Brix scale
    (asbc_cubic, nbs_cubic)."""
    for formula, printed, source in (
        (degrees_plato_asbc, 9.99359, "asbc_cubic"),
        (degrees_plato_nbs, 9.99325, "nbs_cubic"),
    ):
        compared(
            formula,
            [("1.040", formula.plain(1.040), printed)],
            kind="published",
            against=source,
            what="anchor value at 1.040",
            tolerance=0.0002,
            because="rounding of the printed coefficients",
        )


def test_gravity_from_plato_matches_published(published, compared):
    """This test ensures that degrees Brix give the five-decimal apparent gravities of usda_135_a_50."""
    compared(
        gravity_from_degrees_plato,
        [
            (f"{row['brix']} Brix", gravity_from_degrees_plato.plain(float(row["brix"])), float(row["gravity"]))
            for row in published("sucrose_gravity_usda")
        ],
        kind="published",
        against="usda_135_a_50",
        what="twelve five-decimal rows, 0 to 7.9 Brix",
        tolerance=2e-5,
        because="the cubic misses zero by 0.003 degrees Plato, 0.000012 in gravity",
    )


def test_wort_density_matches_published(published, compared):
    """This test ensures that the density from apparent gravity is the laboratory's (torun_sucrose) once its older
    water is exchanged for today's."""
    compared(
        wort_density,
        [
            (
                f"{row['percent']} %",
                wort_density.plain(apparent_gravity(float(row["density_20"]))),
                (float(row["density_20"]) - TORUN_WATER + 998.2067) / 1000,
            )
            for row in sound(published("sucrose_density_torun"), 37)
        ],
        kind="published",
        against="torun_sucrose",
        what="sucrose 0 to 37 percent at 20 degC",
        tolerance=2e-5,
        because="0.02 kg/m3, which the pack's index gives after the change of water",
    )


def test_extract_per_volume_matches_published(published, compared):
    """This test ensures that grams of sucrose in a litre are the laboratory's (torun_sucrose), cell 29 left out."""
    rows = [row for row in sound(published("sucrose_density_torun"), 37) if row["percent"] not in {"29", "0"}]
    compared(
        extract_in_volume,
        [
            (
                f"{row['percent']} %",
                extract_in_volume.plain(1.0, gravity_from_degrees_plato.plain(float(row["percent"]))),
                float(row["concentration"]) / 1000,
            )
            for row in rows
        ],
        kind="published",
        against="torun_sucrose",
        what="grams in a litre, 1 to 37 percent at 20 degC",
        tolerance=0.0005,
        because="the table's water is 0.0023 percent heavier and the cubic adds up to 0.0006 of the answer",
        relative=True,
    )


def test_extract_per_barrel_matches_published(compared):
    """This test ensures that 12 degrees Plato are 12.56 g in 100 mL, as MEBAK's method is quoted, and 32.45 lb in a
    US barrel weighed in air, as Mallett's Malt quotes the brewing chemists' tables."""
    gravity = gravity_from_degrees_plato.plain(12)
    compared(
        extract_in_volume,
        [
            ("12 P, kg/L by MEBAK", extract_in_volume.plain(1.0, gravity), 0.1256),
            ("12 P, kg/L by Mallett", extract_in_volume.plain(1.0, gravity), 32.45 * 0.45359237 / 117.348),
        ],
        kind="published",
        against="asbc_cubic",
        what="12 degrees Plato by MEBAK B-400.32.530 and by Mallett 2014, both secondary",
        tolerance=0.0015,
        because="the pounds were weighed in air, worth 0.1 percent",
        relative=True,
    )


def test_mass_and_volume_of_wort_match_published(published, compared):
    """This test ensures that a mass of sucrose solution takes the room that its density gives (torun_sucrose)."""
    rows = sound(published("sucrose_density_torun"), 20)
    compared(
        volume_of_wort,
        [
            (
                f"{row['percent']} %",
                volume_of_wort.plain(1.0, apparent_gravity(float(row["density_20"]))),
                1000 / (float(row["density_20"]) - TORUN_WATER + 998.2067),
            )
            for row in rows
        ],
        kind="published",
        against="torun_sucrose",
        what="one kilogram of sucrose solution, 0 to 20 percent",
        tolerance=2e-5,
        because="0.02 kg/m3 in the density",
    )
    compared(
        mass_of_wort,
        [
            (
                f"{row['percent']} %",
                mass_of_wort.plain(1.0, apparent_gravity(float(row["density_20"]))),
                (float(row["density_20"]) - TORUN_WATER + 998.2067) / 1000,
            )
            for row in rows
        ],
        kind="published",
        against="torun_sucrose",
        what="one litre of sucrose solution, 0 to 20 percent",
        tolerance=2e-5,
        because="0.02 kg/m3 in the density",
    )


def test_sugar_and_water_match_published(published, compared):
    """This test ensures that sugar and water weighed together give the apparent gravity of their percent
    (torun_sucrose)."""
    compared(
        gravity_from_extract_and_water,
        [
            (
                f"{row['percent']} %",
                gravity_from_extract_and_water.plain(float(row["percent"]), 100 - float(row["percent"])),
                apparent_gravity(float(row["density_20"])),
            )
            for row in sound(published("sucrose_density_torun"), 37)
        ],
        kind="published",
        against="torun_sucrose",
        what="sucrose 0 to 37 percent at 20 degC",
        tolerance=0.00008,
        because="0.015 degrees Plato, the cubics' error on the table",
    )


def test_blend_keeps_extract(compared):
    """This test ensures that a blend holds the extract and the mass of its two parts, to the last bits."""
    points = []
    for gravity in (1.0, 1.010, 1.040, 1.090):
        for other in (1.0, 1.030, 1.070):
            blend = blended_gravity.plain(3.0, gravity, 5.0, other)
            mass = mass_of_wort.plain(3.0, gravity) + mass_of_wort.plain(5.0, other)
            held = extract_in_volume.plain(3.0, gravity) + extract_in_volume.plain(5.0, other)
            whole = extract_in_volume.plain(volume_of_wort.plain(mass, blend), blend)
            points.append((f"{gravity} with {other}", blend + (whole - held), blend))
    compared(
        blended_gravity,
        points,
        kind="balance",
        against="mass balance of extract and of the whole",
        what="twelve blends from water to 1.090",
        tolerance=1e-9,
        because="a conserved total",
    )


def test_attenuation_and_final_gravity_close(compared):
    """This test ensures that the final gravity for an attenuation has that attenuation, and that nothing fermented
    changes nothing."""
    finals = [
        (f"{og} at {a} %", apparent_attenuation.plain(og, gravity_after_attenuation.plain(og, a)), a)
        for og in (1.010, 1.040, 1.083, 1.110)
        for a in (0, 40, 75, 100)
    ]
    compared(
        apparent_attenuation,
        finals,
        kind="balance",
        against="what apparent attenuation means",
        what="there and back on sixteen drinks",
        tolerance=1e-8,
        because="a definition",
    )
    compared(
        gravity_after_attenuation,
        [(f"{og} unfermented", gravity_after_attenuation.plain(og, 0), og) for og in (1.010, 1.040, 1.083, 1.110)],
        kind="balance",
        against="what apparent attenuation means",
        what="no attenuation leaves the gravity alone",
        tolerance=1e-9,
        because="a definition",
    )


def test_drop_is_a_difference(compared):
    """This test ensures that the drop from 1.052 to 1.012 is forty thousandths."""
    compared(
        gravity_drop,
        [("1.052 to 1.012", gravity_drop.plain(1.052, 1.012), 0.040)],
        kind="balance",
        against="difference of two readings",
        what="one pair",
        tolerance=1e-9,
        because="a definition",
    )


@given(gravity=GRAVITIES)
def test_gravity_to_plato_and_back_closes(gravity):
    """This test ensures that a gravity turned into degrees Plato and back is the gravity it was."""
    back = gravity_from_degrees_plato.plain(degrees_plato_from_gravity.plain(gravity))
    assert back == pytest.approx(gravity, abs=1e-9)


@given(low=GRAVITIES, high=GRAVITIES)
def test_more_gravity_is_more_extract(low, high):
    """This test ensures that a heavier wort never holds less extract, over the join of the two cubics too."""
    low, high = sorted((low, high))
    assert degrees_plato_from_gravity.plain(low) <= degrees_plato_from_gravity.plain(high)


@given(volume=VOLUMES, other_volume=VOLUMES, gravity=WORTS, other=WORTS)
def test_blend_stays_between(volume, other_volume, gravity, other):
    """This test ensures that a blend is never lighter than its lighter part nor heavier than its heavier."""
    blend = blended_gravity.plain(volume, gravity, other_volume, other)
    assert min(gravity, other) - 1e-9 <= blend <= max(gravity, other) + 1e-9


@given(gravity=st.floats(1.01, 1.1), less=st.floats(0, 110), more=st.floats(0, 110))
def test_further_fermentation_is_lighter(gravity, less, more):
    """This test ensures that more attenuation never leaves the heavier drink."""
    less, more = sorted((less, more))
    assert gravity_after_attenuation.plain(gravity, more) <= gravity_after_attenuation.plain(gravity, less) + 1e-12


@given(volume=VOLUMES, gravity=GRAVITIES)
def test_mass_and_volume_close(volume, gravity):
    """This test ensures that a volume turned into mass and back is the volume it was."""
    assert volume_of_wort.plain(mass_of_wort.plain(volume, gravity), gravity) == pytest.approx(volume, rel=1e-12)


def test_true_gravity_is_not_apparent():
    """This test ensures that the basis matters: true gravity in the cubic costs 0.02 to 0.04 degrees Plato at 26
    percent (the pack's finding 2)."""
    true = degrees_plato_asbc.plain(1108.17 / TORUN_WATER) - degrees_plato_asbc.plain(apparent_gravity(1108.17))
    assert -0.04 < true < -0.02


@pytest.mark.parametrize("gravity", [0.97, 1.18])
def test_gravity_outside_is_refused(gravity):
    """This test ensures that a gravity outside the cubics is refused, never clipped."""
    with pytest.raises(OutOfRangeError, match=r"holds from 0\.98 to 1\.17874"):
        degrees_plato_from_gravity(Q(gravity, "gravity"))


def test_too_much_extract_for_the_water_is_refused():
    """This test ensures that a syrup over the cubics' end is refused where extract and water are weighed."""
    with pytest.raises(OutOfRangeError):
        gravity_from_extract_and_water(Q(5, "kg"), Q(5, "kg"))


def test_plato_is_no_gravity():
    """This test ensures that degrees Plato are refused where a gravity is meant."""
    with pytest.raises(WrongUnitError, match="gravity is a gravity"):
        degrees_plato_from_gravity(Q(12, "degPlato"))


def test_temperature_is_no_difference():
    """This test ensures that a thermometer reading is refused where a difference is meant, in words."""
    from presenter.science.strike_heat import strike_heat

    malt, cold, tub = Q(1.675, "kJ/kg/delta_degC"), Q(20, "degC"), Q(0, "kJ/delta_degC")
    with pytest.raises(WrongUnitError, match="slaking_rise is a difference of temperature"):
        strike_heat(Q(3, "kg"), malt, cold, Q(9, "kg"), tub, cold, Q(2, "degC"), Q(66, "degC"))
