"""Bread in the oven: how warmth spreads in crumb, and the temperature in the middle of a loaf.

In: shape, size, diffusivity, temperatures, minutes. Out: a temperature, by closed-form series.
"""

from __future__ import annotations

import math

import numpy as np
from scipy.special import jn_zeros, jv

from presenter.science.formula import formula

__all__ = [
    "ball_core_temperature",
    "crumb_diffusivity",
    "cylinder_core_temperature",
    "slab_core_temperature",
]


SHAPES = {"slab": 0, "cylinder": 1, "ball": 2}
"""The shapes of loaf, with the power of the radius that their surface grows with."""
TERMS = 200
"""Terms of a series: at the shortest time it is used for, the last is below 1e-100."""
SHORTEST = 0.005
"""Fourier number below which the middle has not felt the oven: the difference is under 1e-11."""


def _core(shape: str, start: float, surface: float, half_thickness: float, diffusivity: float, time: float) -> float:
    """Temperature in the middle, by the closed-form series of the shape."""
    fourier = 60 * time * diffusivity / half_thickness**2
    if fourier < SHORTEST:
        return start
    terms = np.arange(1, TERMS + 1)
    if shape == "slab":
        odd = 2 * terms - 1
        left = 4 / np.pi * np.sum(-((-1.0) ** terms) / odd * np.exp(-(odd**2) * np.pi**2 * fourier / 4))
    elif shape == "cylinder":
        roots = jn_zeros(0, TERMS)
        left = 2 * np.sum(np.exp(-(roots**2) * fourier) / (roots * jv(1, roots)))
    else:
        left = 2 * np.sum(-((-1.0) ** terms) * np.exp(-(terms**2) * np.pi**2 * fourier))
    return float(surface + (start - surface) * left)


@formula(
    porosity="percent",
    gives="millimetre ** 2 / second",
    valid={"porosity": (30.0, 70.0)},
    relative_error=0.2,
    error_because="a fit quoted from an abstract, its scatter not seen; a dense dough from memory lies at half of it",
)
def crumb_diffusivity(porosity: float) -> float:
    r"""How fast warmth spreads in bread crumb.

    .. math:: a = e^{0.01\,\varepsilon - 15.25}\ \text{m}^2/\text{s}

    Parameters
    ----------
    porosity : percent, share of the crumb that is gas

    Returns
    -------
    millimetre ** 2 / second

    Raises
    ------
    WrongUnitError : the argument is no share.
    OutOfRangeError : the porosity lies outside 30 to 70 percent.

    Notes
    -----
    Valid for crumb; dense flat loaves are slower, at about 0.15 mm2/s from memory, which no source was seen for.

    Examples
    --------
    >>> round(crumb_diffusivity(Q(50, "percent")).magnitude, 3)
    0.393

    References
    ----------
    - `bread_diffusivity1995`
    """
    return 1e6 * math.exp(0.01 * porosity - 15.25)


@formula(
    start="degree_Celsius",
    surface="degree_Celsius",
    half_thickness="millimetre",
    diffusivity="millimetre ** 2 / second",
    time="minute",
    gives="degree_Celsius",
    valid={
        "start": (-20.0, 120.0),
        "surface": (-20.0, 120.0),
        "half_thickness": (1.0, 500.0),
        "diffusivity": (0.05, 2.0),
        "time": (0.0, 1440.0),
    },
    error=3.0,
    error_because="an oven does not hold the crumb's skin at the boil from the first minute, and dough swells as it "
    "bakes",
    rests_on="heat conduction in a solid whose skin is held at one temperature",
)
def slab_core_temperature(
    start: float, surface: float, half_thickness: float, diffusivity: float, time: float
) -> float:
    r"""Temperature in the middle of a flat loaf in the oven.

    .. math:: \Theta = \frac{4}{\pi} \sum_{n=0}^{\infty} \frac{(-1)^n}{2n+1} e^{-(2n+1)^2 \pi^2 Fo / 4}

    Parameters
    ----------
    start : degree_Celsius, of the whole loaf
    surface : degree_Celsius, of the crumb behind the crust, held at the boil while there is water
    half_thickness : millimetre, half of the loaf's thickness
    diffusivity : millimetre ** 2 / second
    time : minute

    Returns
    -------
    degree_Celsius

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : an argument lies outside its range.

    Notes
    -----
    Valid for a loaf much wider than thick of one kind of crumb. A teaching number: crust, swelling and steam moving
    inward are not in it. Theta is (T_s - T)/(T_s - T_0) and Fo is a t / R^2.

    Examples
    --------
    >>> skin, crumb = Q(100, "degC"), Q(0.39, "mm**2/s")
    >>> round(slab_core_temperature(Q(25, "degC"), skin, Q(30, "millimetre"), crumb, Q(40, "min")).magnitude, 1)
    92.7

    References
    ----------
    Closed-form series for heat conduction; holds no measured constant.
    """
    return _core("slab", start, surface, half_thickness, diffusivity, time)


@formula(
    start="degree_Celsius",
    surface="degree_Celsius",
    half_thickness="millimetre",
    diffusivity="millimetre ** 2 / second",
    time="minute",
    gives="degree_Celsius",
    valid={
        "start": (-20.0, 120.0),
        "surface": (-20.0, 120.0),
        "half_thickness": (1.0, 500.0),
        "diffusivity": (0.05, 2.0),
        "time": (0.0, 1440.0),
    },
    error=3.0,
    error_because="an oven does not hold the crumb's skin at the boil from the first minute, and dough swells as it "
    "bakes",
    rests_on="heat conduction in a solid whose skin is held at one temperature",
)
def cylinder_core_temperature(
    start: float, surface: float, half_thickness: float, diffusivity: float, time: float
) -> float:
    r"""Temperature in the middle of a long round loaf in the oven.

    .. math:: \Theta = 2 \sum_{n=1}^{\infty} \frac{e^{-\beta_n^2 Fo}}{\beta_n J_1(\beta_n)}, \quad J_0(\beta_n) = 0

    Parameters
    ----------
    start : degree_Celsius, of the whole loaf
    surface : degree_Celsius, of the crumb behind the crust, held at the boil while there is water
    half_thickness : millimetre, the loaf's radius
    diffusivity : millimetre ** 2 / second
    time : minute

    Returns
    -------
    degree_Celsius

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : an argument lies outside its range.

    Notes
    -----
    Valid for a loaf much longer than thick of one kind of crumb. A teaching number: crust, swelling and steam
    moving inward are not in it. Theta is (T_s - T)/(T_s - T_0) and Fo is a t / R^2.

    Examples
    --------
    >>> skin, crumb = Q(100, "degC"), Q(0.39, "mm**2/s")
    >>> round(cylinder_core_temperature(Q(25, "degC"), skin, Q(50, "millimetre"), crumb, Q(60, "min")).magnitude, 1)
    95.3

    References
    ----------
    Closed-form series for heat conduction; holds no measured constant.
    """
    return _core("cylinder", start, surface, half_thickness, diffusivity, time)


@formula(
    start="degree_Celsius",
    surface="degree_Celsius",
    half_thickness="millimetre",
    diffusivity="millimetre ** 2 / second",
    time="minute",
    gives="degree_Celsius",
    valid={
        "start": (-20.0, 120.0),
        "surface": (-20.0, 120.0),
        "half_thickness": (1.0, 500.0),
        "diffusivity": (0.05, 2.0),
        "time": (0.0, 1440.0),
    },
    error=3.0,
    error_because="an oven does not hold the crumb's skin at the boil from the first minute, and dough swells as it "
    "bakes",
    rests_on="heat conduction in a solid whose skin is held at one temperature",
)
def ball_core_temperature(
    start: float, surface: float, half_thickness: float, diffusivity: float, time: float
) -> float:
    r"""Temperature in the middle of a ball of bread in the oven.

    .. math:: \Theta = 2 \sum_{n=1}^{\infty} (-1)^{n+1} e^{-n^2 \pi^2 Fo}

    Parameters
    ----------
    start : degree_Celsius, of the whole loaf
    surface : degree_Celsius, of the crumb behind the crust, held at the boil while there is water
    half_thickness : millimetre, the loaf's radius
    diffusivity : millimetre ** 2 / second
    time : minute

    Returns
    -------
    degree_Celsius

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : an argument lies outside its range.

    Notes
    -----
    Valid for a loaf as high as wide of one kind of crumb. A teaching number: crust, swelling and steam moving
    inward are not in it. Theta is (T_s - T)/(T_s - T_0) and Fo is a t / R^2.

    Examples
    --------
    >>> skin, crumb = Q(100, "degC"), Q(0.39, "mm**2/s")
    >>> round(ball_core_temperature(Q(25, "degC"), skin, Q(60, "millimetre"), crumb, Q(60, "min")).magnitude, 1)
    96.8

    References
    ----------
    Closed-form series for heat conduction; holds no measured constant.
    """
    return _core("ball", start, surface, half_thickness, diffusivity, time)
