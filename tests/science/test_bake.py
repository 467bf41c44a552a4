"""Warmth in a loaf: the closed-form series against tabulated limits, and the whole loaf against the series."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.special import erfc

from presenter.quantities import Q
from presenter.science.bake import bake_course, share_left_at_depths, share_left_in_whole
from presenter.science.bread import (
    SHAPES,
    ball_core_temperature,
    crumb_diffusivity,
    cylinder_core_temperature,
    slab_core_temperature,
)
from presenter.science.formula import OutOfRangeError

CORES = {"slab": slab_core_temperature, "cylinder": cylinder_core_temperature, "ball": ball_core_temperature}
CRUMB = 0.39
TIMES = np.linspace(0, 120, 61)


def fourier(minutes, half):
    return 60 * minutes * CRUMB / half**2


def oven(shape, half=50.0, times=TIMES):
    return bake_course(shape, half, CRUMB, 25.0, [0.0, float(times[-1])], [100.0, 100.0], times)


def test_diffusivity_matches_published(compared):
    """This test ensures that the crumb's diffusivity is the abstract's at three porosities (bread_diffusivity1995)."""
    printed = {30: 0.322, 50: 0.393, 70: 0.480}
    compared(
        crumb_diffusivity,
        [(f"{share} %", crumb_diffusivity.plain(share), figure) for share, figure in printed.items()],
        kind="published",
        against="bread_diffusivity1995",
        what="three porosities",
        tolerance=0.0006,
        because="half of the last digit",
    )


def test_series_meet_their_early_forms(compared):
    """This test ensures that the slab's and the ball's series equal their short-time forms in error functions, an
    independent solution of the same conduction."""
    half = 50.0
    slab, ball = [], []
    for minutes in (5.0, 15.0, 40.0, 90.0):
        root = math.sqrt(fourier(minutes, half))
        images = sum((-1) ** n * erfc((2 * n + 1) / (2 * root)) for n in range(30))
        slab.append(
            (f"{minutes} min", slab_core_temperature.plain(25, 100, half, CRUMB, minutes), 25 + 75 * 2 * images)
        )
        waves = sum(math.exp(-((2 * n + 1) ** 2) / (4 * root**2)) for n in range(30))
        middle = 25 + 75 * 2 / (math.sqrt(math.pi) * root) * waves
        ball.append((f"{minutes} min", ball_core_temperature.plain(25, 100, half, CRUMB, minutes), middle))
    for formula, points in ((slab_core_temperature, slab), (ball_core_temperature, ball)):
        compared(
            formula,
            points,
            kind="closed form",
            against="short-time solution in error functions",
            what="5 to 90 minutes in a loaf of 50 mm",
            tolerance=1e-6,
            because="two closed forms of one conduction",
        )


@pytest.mark.parametrize("shape", SHAPES)
def test_whole_loaf_meets_the_series(shape, compared):
    """This test ensures that the middle of the whole loaf, worked shell by shell, is the series' within 0.1 degC."""
    course = oven(shape)
    compared(
        CORES[shape],
        [
            (f"{shape}, {minutes:.0f} min", CORES[shape].plain(25, 100, 50, CRUMB, float(minutes)), float(core))
            for minutes, core in zip(course.times, course.core(), strict=True)
        ],
        kind="closed form",
        against="the loaf worked shell by shell",
        what=f"{shape} of 50 mm, every two minutes to 120",
        tolerance=0.1,
        because="what the issue allows between series and shells",
    )


@pytest.mark.parametrize("shape", SHAPES)
def test_energy_closes(shape):
    """This test ensures that the warmth in the loaf is what came through its skin, in the oven and cooling, to 1e-9."""
    times = np.linspace(0, 240, 49)
    course = bake_course(shape, 60.0, CRUMB, 25.0, [0, 60, 61, 240], [100, 100, 25, 25], times)
    assert course.mean() - 25.0 == pytest.approx(course.heat_taken, abs=1e-9)
    assert course.shares.sum() == pytest.approx(1, abs=1e-12)
    assert course.heat_taken[-1] < course.heat_taken[12]


@pytest.mark.parametrize("shape", SHAPES)
def test_loaf_stays_between_start_and_skin(shape):
    """This test ensures that nowhere in the loaf is it colder than the start or hotter than the skin, and that the
    skin's side leads."""
    course = oven(shape)
    assert course.temperatures.min() >= 25 - 1e-5
    assert course.temperatures.max() <= 100 + 1e-5
    assert np.all(np.diff(course.temperatures, axis=1) >= -1e-5)
    assert np.all(np.diff(course.core()) >= -1e-5)
    assert course.depths[0] > course.depths[-1] > 0


@given(minutes=st.floats(0, 180), more=st.floats(0, 60), half=st.floats(10, 80))
def test_round_loaves_warm_sooner(minutes, more, half):
    """This test ensures that of one thickness the ball warms before the long loaf and that before the flat, and that
    no core ever cools in the oven."""
    slab, cylinder, ball = (CORES[shape].plain(25, 100, half, CRUMB, minutes) for shape in ("slab", "cylinder", "ball"))
    assert slab - 1e-6 <= cylinder <= ball + 1e-6
    assert CORES["slab"].plain(25, 100, half, CRUMB, minutes + more) >= slab - 1e-9


@settings(max_examples=20, deadline=None)
@given(rate=st.floats(0.001, 1.0))
def test_steady_decay_is_exponential(rate):
    """This test ensures that something decaying alike at every temperature is left in one share everywhere."""
    course = oven("ball", times=np.linspace(0, 30, 16))
    expected = math.exp(-rate * 30)
    assert share_left_at_depths(course, lambda _: rate) == pytest.approx(expected, rel=1e-9)
    assert share_left_in_whole(course, lambda _: rate) == pytest.approx(expected, rel=1e-9)


def test_middle_keeps_most():
    """This test ensures that what dies by heat is left most in the middle, least under the crust."""
    course = oven("slab")
    left = share_left_at_depths(course, lambda temperature: math.exp((temperature - 75) / 5))
    assert np.all(np.diff(left) <= 1e-9)
    assert left[-1] <= share_left_in_whole(course, lambda temperature: math.exp((temperature - 75) / 5)) <= left[0]


def test_a_loaf_of_no_known_shape_is_refused():
    """This test ensures that an unknown shape or a course that does not start at 0 is refused."""
    with pytest.raises(ValueError, match="slab, cylinder, ball"):
        bake_course("brick", 50, CRUMB, 25, [0, 60], [100, 100], [0, 60])
    with pytest.raises(ValueError, match="starts at 0"):
        bake_course("slab", 50, CRUMB, 25, [0, 60], [100, 100], [5, 60])


def test_dense_dough_is_refused():
    """This test ensures that a porosity outside the abstract's is refused, never clipped."""
    with pytest.raises(OutOfRangeError, match="porosity is 10"):
        crumb_diffusivity(Q(10, "percent"))
