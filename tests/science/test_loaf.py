"""Loaves: their masses and size, what a bake leaves of the amylases, and the two printed readings of it."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from presenter.science.bake import SHELLS, bake_course, share_never_hotter
from presenter.science.baked_loaf import LONGEST_BAKE, Oven, baked_loaf, minutes_to_core
from presenter.science.bread import SHAPES, slab_core_temperature
from presenter.science.loaf import (
    ball_half_thickness,
    crumb_density,
    half_of_thickness,
    mass_of_one_piece,
    mass_of_pieces,
    sugars_in_moist_bread,
)
from presenter.science.loaf_enzymes import RELIABLE_BELOW, amylase_left, amylase_readings
from presenter.science.mash_heat import grist_specific_heat, specific_heat_of_moist_grist
from presenter.science.rests import alpha_amylase_left, beta_amylase_left
from presenter.science.water import water_specific_heat

CRUMB = 0.393
BALANCES = [
    (half_of_thickness, (90.0,), 45.0, "a loaf of 90 mm"),
    (mass_of_one_piece, (2.4, 3.0), 0.8, "2.4 kg as three loaves"),
    (mass_of_pieces, (2.0, 0.8), 1.6, "two loaves of 800 g"),
    (sugars_in_moist_bread, (5.0, 40.0), 3.0, "60 g of dry bread in 100 g"),
    (ball_half_thickness, (4 / 3 * math.pi, 1000.0), 100.0, "a ball of one decimetre's radius, as heavy as water"),
]


@pytest.mark.parametrize(
    ("formula", "given_", "expected", "what"), BALANCES, ids=lambda each: getattr(each, "name", "")
)
def test_balances_of_a_loaf_close(formula, given_, expected, what, compared):
    """This test ensures that masses, shares and sizes of loaves come out as they do on paper."""
    compared(
        formula, [(what, formula.plain(*given_), expected)], kind="balance", against="arithmetic", what=what,
        tolerance=1e-9, because="both are exact",
    )  # fmt: skip


def test_crumb_density_matches_published(compared):
    """This test ensures that crumb weighs what the quoted conductivity, heat and diffusivity of bread need
    (bread_diffusivity1995 against the values after Rask, as quoted on a discussion page)."""
    conductivity, heat = (0.23, 0.25), (2740.0, 2800.0)
    porosity, diffusivity = 60.0, math.exp(0.01 * 60.0 - 15.25)
    dense = [k / (c * diffusivity) for k in conductivity for c in heat]
    compared(
        crumb_density,
        [("porosity 60 %, the quoted middle", crumb_density.plain(porosity), 2 * sum(dense) / 4)],
        kind="published",
        against="bread_diffusivity1995",
        what="within a factor of two of what warmth in the same crumb needs",
        tolerance=0.5,
        because="the conductivity and the heat are of unnamed breads, quoted second hand",
        relative=True,
    )


def test_heat_of_bread_matches_published(compared):
    """This test ensures that moist grist, worked for bread as the food table has it, takes the heat quoted for bread
    (2.74 to 2.80 kJ/(kg degC) after Rask, as quoted on a discussion page; rye bread of usda_sr28 at 37.3 percent)."""
    worked = specific_heat_of_moist_grist.plain(37.3, grist_specific_heat.plain(0.0), water_specific_heat.plain(65.0))
    compared(
        specific_heat_of_moist_grist,
        [("rye bread", worked, 2.77)],
        kind="published",
        against="usda_sr28",
        what="heat quoted for bread after Rask, at the moisture of the food table's rye bread",
        tolerance=specific_heat_of_moist_grist.error,
        because="the formula's own error: the bread of the quotation is not described",
    )


def test_readings_match_published():
    """This test ensures that both printed readings stand in the table as their sources print them: 85 and 70 degC in
    rye flour (chizhova_handbook), 97 to 98 and 82 to 84 degC in dough (nntu_biochemistry, p. 181)."""
    read = amylase_readings()["readings"]
    flour, dough = read["rye flour"], read["dough"]
    assert (flour["alpha-amylase"]["gone"], flour["beta-amylase"]["gone"]) == (85, 70)
    for row, low, high in ((dough["alpha-amylase"], 97, 98), (dough["beta-amylase"], 82, 84)):
        assert (row["gone"] - row["within"], row["gone"] + row["within"]) == (low, high)
    finished = amylase_readings()["core_of_a_finished_loaf"]
    assert finished["finished"]["low"] == finished["activity_ceases"]["high"] == RELIABLE_BELOW


@pytest.mark.parametrize("shape", SHAPES)
def test_loaf_meets_a_general_solver(shape, compared):
    """This test ensures that a loaf whose skin climbs, stays and falls is what a general solver of stiff equations
    makes of the same shells, within 0.001 degC."""
    half, skin_at, skin = 45.0, [0.0, 12.0, 60.0, 90.0], [22.0, 99.0, 99.0, 18.0]
    times = np.linspace(0.0, 150.0, 31)
    course = bake_course(shape, half, CRUMB, 22.0, skin_at, skin, times)
    power = SHAPES[shape] + 1
    faces = np.linspace(0, 1, SHELLS + 1)
    volumes, areas = np.diff(faces**power), power * faces ** (power - 1)

    def change(minute, state):
        outside = np.interp(minute, skin_at, skin)
        steps = np.append(np.diff(state), 2 * (outside - state[-1])) * SHELLS
        flow = areas[1:] * steps
        return 60 * CRUMB / half**2 * np.diff(np.append(0.0, flow)) / volumes

    solved = solve_ivp(
        change, (0, 150), np.full(SHELLS, 22.0), method="LSODA", t_eval=times, rtol=1e-10, atol=1e-10, lband=1,
        uband=1, max_step=1.0,
    )  # fmt: skip
    assert np.abs(solved.y.T - course.temperatures).max() < 1e-3


@pytest.mark.parametrize(
    ("amylase", "formula"), [("alpha-amylase", alpha_amylase_left), ("beta-amylase", beta_amylase_left)]
)
def test_steady_heat_is_a_rest(amylase, formula):
    """This test ensures that a loaf held at one heat all through keeps what a mash's rest of that heat keeps."""
    course = bake_course("ball", 40.0, CRUMB, 66.0, [0.0, 30.0], [66.0, 66.0], np.linspace(0, 30, 31))
    left = amylase_left(course)[amylase]
    assert left.whole == pytest.approx(formula.plain(66.0, 30.0) / 100, rel=1e-6)
    assert left.middle == pytest.approx(left.whole, rel=1e-6)


def test_time_to_core_meets_the_series():
    """This test ensures that the time until a core is hot is the one at which the closed-form series is there too."""
    oven = Oven("slab", 30.0, CRUMB, 25.0, 100.0, 0.0, 30.0, 18.0)
    for core in (60.0, 80.0, 96.0):
        minutes = minutes_to_core(oven, core)
        assert slab_core_temperature.plain(25.0, 100.0, 30.0, CRUMB, minutes) == pytest.approx(core, abs=0.1)
    assert minutes_to_core(oven, 20.0) == 0.0
    assert minutes_to_core(Oven("slab", 400.0, CRUMB, 25.0, 100.0, 0.0, 30.0, 18.0), 99.0) is None
    assert LONGEST_BAKE == 720.0


@settings(max_examples=40, deadline=None)
@given(
    shape=st.sampled_from(sorted(SHAPES)), half=st.floats(20, 80), core=st.floats(60, 97), more=st.floats(1, 2),
    cools=st.floats(5, 60),
)  # fmt: skip
def test_hotter_cores_leave_less(shape, half, core, more, cools):
    """This test ensures that a loaf baked to a hotter core takes longer, gets hotter and keeps less of either amylase,
    and that its middle never ends colder than it left the oven."""
    oven = Oven(shape, half, CRUMB, 25.0, 99.7, 10.0, cools, 18.0)
    passed = (70.0, 85.0, 97.5)
    first, second = (baked_loaf(oven, minutes_to_core(oven, heat), passed) for heat in (core, core + more))
    assert first.minutes < second.minutes
    assert first.core == pytest.approx(core, abs=0.01)
    assert first.hottest >= first.core - 1e-6
    assert second.hottest >= first.hottest - 1e-6
    for name, left in first.left.items():
        assert 0.0 <= second.left[name].whole <= left.whole + 1e-12 <= 1.0 + 1e-9
        assert left.at_depths.min() >= 0.0
        assert left.middle >= first.halfway[name] - 1e-12
    assert all(0.0 <= part <= 1.0 for part in first.never_passed)
    assert list(first.never_passed) == sorted(first.never_passed)
    assert all(b <= a for a, b in zip(first.never_passed, second.never_passed, strict=True))


def test_never_hotter_counts_every_shell():
    """This test ensures that no part of a loaf is too cool for its coolest start, and all of it for the boil."""
    course = bake_course("ball", 50.0, CRUMB, 25.0, [0, 20], [100, 100], [0, 10, 20])
    assert share_never_hotter(course, 20.0) == 0.0
    assert share_never_hotter(course, 101.0) == pytest.approx(1.0)
