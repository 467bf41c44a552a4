"""Gravity: between specific gravity, degrees Plato and apparent attenuation.

In: gravities, extracts. Out: the same in another scale. Gravity here is apparent (weighed in air), 20/20 degC,
as brewers' tables have it.
"""

from __future__ import annotations

from scipy.optimize import brentq

from presenter.science.formula import formula

__all__ = [
    "apparent_attenuation",
    "degrees_plato_asbc",
    "degrees_plato_from_gravity",
    "degrees_plato_nbs",
    "gravity_after_attenuation",
    "gravity_drop",
    "gravity_from_degrees_plato",
]

ASBC_HIGHEST = 1.083
"""The highest gravity of the brewers' table that the cubic of the society was fitted to."""


@formula(
    gravity="gravity",
    gives="degree_Plato",
    valid={"gravity": (0.98, ASBC_HIGHEST)},
    error=0.01,
    error_because="fit to the tables: worst 0.0097 degrees Plato against the sucrose densities up to 26 percent",
)
def degrees_plato_asbc(gravity: float) -> float:
    r"""Extract by mass of a wort, by the brewing chemists' cubic.

    .. math:: P = -616.868 + 1111.14 S - 630.272 S^2 + 135.997 S^3

    Parameters
    ----------
    gravity : gravity, apparent, 20/20 degC

    Returns
    -------
    degree_Plato

    Raises
    ------
    WrongUnitError : the argument is no gravity.
    OutOfRangeError : the gravity lies outside 0.98 to 1.083.

    Notes
    -----
    Valid from 1.000 to 1.083 by its authors; carried down to 0.98 for finished drinks, where it is only an
    apparent scale. The fit misses zero by 0.003 degrees Plato.

    Examples
    --------
    >>> round(degrees_plato_asbc(Q(1.040, "gravity")).magnitude, 3)
    9.994

    References
    ----------
    - `asbc_cubic`
    """
    return -616.868 + 1111.14 * gravity - 630.272 * gravity**2 + 135.997 * gravity**3


@formula(
    gravity="gravity",
    gives="degree_Plato",
    valid={"gravity": (1.0, 1.17874)},
    error=0.01,
    error_because="fit to the tables: worst 0.006 up to 33 percent, 0.01 allowed above",
)
def degrees_plato_nbs(gravity: float) -> float:
    r"""Sugar by mass of a solution, by the cubic through the standards bureau's sucrose table.

    .. math:: B = -669.56218 + 1262.7794 S - 775.68212 S^2 + 182.46007 S^3

    Parameters
    ----------
    gravity : gravity, apparent, 20/20 degC

    Returns
    -------
    degree_Plato

    Raises
    ------
    WrongUnitError : the argument is no gravity.
    OutOfRangeError : the gravity lies outside 1.000 to 1.17874.

    Notes
    -----
    Valid for sucrose up to 40 percent; degrees Brix and degrees Plato are the same thing here within 0.005.

    Examples
    --------
    >>> round(degrees_plato_nbs(Q(1.040, "gravity")).magnitude, 3)
    9.993

    References
    ----------
    - `nbs_cubic`
    """
    return -669.56218 + 1262.7794 * gravity - 775.68212 * gravity**2 + 182.46007 * gravity**3


@formula(
    gravity="gravity",
    gives="degree_Plato",
    valid={"gravity": (0.98, 1.17874)},
    error=0.01,
    error_because="either cubic stays within 0.01 degrees Plato of the tables in its range",
)
def degrees_plato_from_gravity(gravity: float) -> float:
    r"""Extract by mass of a wort from its gravity.

    .. math:: P = P_\text{ASBC}(S) \text{ to } 1.083, \quad P_\text{NBS}(S) \text{ above}

    Parameters
    ----------
    gravity : gravity, apparent, 20/20 degC

    Returns
    -------
    degree_Plato

    Raises
    ------
    WrongUnitError : the argument is no gravity.
    OutOfRangeError : the gravity lies outside 0.98 to 1.17874.

    Notes
    -----
    Valid from 1.000; carried down to 0.98 for finished drinks, where it is only an apparent scale. At 1.083 the
    two cubics differ by 0.0006 degrees Plato.

    Examples
    --------
    >>> round(degrees_plato_from_gravity(Q(1.065, "gravity")).magnitude, 2)
    15.9

    References
    ----------
    - `asbc_cubic`
    - `nbs_cubic`
    """
    if gravity <= ASBC_HIGHEST:
        return float(degrees_plato_asbc.plain(gravity))
    return float(degrees_plato_nbs.plain(gravity))


@formula(
    extract="degree_Plato",
    gives="gravity",
    valid={"extract": (-5.2, 40.0)},
    error=0.00004,
    error_because="0.01 degrees Plato, the error of the cubics that it inverts",
)
def gravity_from_degrees_plato(extract: float) -> float:
    r"""Gravity of a wort from its extract by mass.

    .. math:: P(S) = P_\text{given}, \text{ solved for } S

    Parameters
    ----------
    extract : degree_Plato

    Returns
    -------
    gravity

    Raises
    ------
    WrongUnitError : the argument is no extract by mass.
    OutOfRangeError : the extract lies outside -5.2 to 40 degrees Plato.

    Notes
    -----
    Valid where the two cubics are; solved on the cubics themselves, so that the way there and back closes.

    Examples
    --------
    >>> round(gravity_from_degrees_plato(Q(12, "degPlato")).magnitude, 4)
    1.0484

    References
    ----------
    - `asbc_cubic`
    - `nbs_cubic`
    """
    return float(brentq(lambda gravity: degrees_plato_from_gravity.plain(gravity) - extract, 0.5, 2.0, xtol=1e-14))


@formula(
    original_gravity="gravity",
    attenuation="attenuation_percent",
    gives="gravity",
    valid={"original_gravity": (1.0, 1.17874), "attenuation": (0.0, 130.0)},
    error=0.00004,
    error_because="0.01 degrees Plato, the error of the cubics",
    rests_on="what apparent attenuation means",
)
def gravity_after_attenuation(original_gravity: float, attenuation: float) -> float:
    r"""Gravity of a drink when its yeast has gone as far as an apparent attenuation.

    .. math:: S_F = S\!\left(P(S_O) \left(1 - \frac{A}{100}\right)\right)

    Parameters
    ----------
    original_gravity : gravity, apparent, 20/20 degC
    attenuation : attenuation_percent, apparent

    Returns
    -------
    gravity

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the gravity or the attenuation lies outside its range.

    Notes
    -----
    Valid for any yeast; over 100 percent the drink ends below 1.000, since alcohol is lighter than water.

    Examples
    --------
    >>> round(gravity_after_attenuation(Q(1.065, "gravity"), Q(75, "attenuation_percent")).magnitude, 4)
    1.0156

    References
    ----------
    - `asbc_cubic`
    - `nbs_cubic`
    """
    apparent = degrees_plato_from_gravity.plain(original_gravity) * (1 - attenuation / 100)
    return float(gravity_from_degrees_plato.plain(apparent))


@formula(
    original_gravity="gravity",
    final_gravity="gravity",
    gives="attenuation_percent",
    valid={"original_gravity": (1.005, 1.17874), "final_gravity": (0.98, 1.17874)},
    error=0.2,
    error_because="0.01 degrees Plato at each end, on five or more",
    rests_on="what apparent attenuation means",
)
def apparent_attenuation(original_gravity: float, final_gravity: float) -> float:
    r"""Apparent attenuation from the gravity before and after fermentation.

    .. math:: A = 100\,\frac{P(S_O) - P(S_F)}{P(S_O)}

    Parameters
    ----------
    original_gravity : gravity, apparent, 20/20 degC
    final_gravity : gravity, apparent, 20/20 degC

    Returns
    -------
    attenuation_percent

    Raises
    ------
    WrongUnitError : an argument is no gravity.
    OutOfRangeError : a gravity lies outside its range.

    Notes
    -----
    Valid from an original gravity of 1.005; nearer to water the question has no answer.

    Examples
    --------
    >>> round(apparent_attenuation(Q(1.052, "gravity"), Q(1.012, "gravity")).magnitude, 1)
    76.1

    References
    ----------
    - `asbc_cubic`
    - `nbs_cubic`
    """
    before = degrees_plato_from_gravity.plain(original_gravity)
    return float(100 * (before - degrees_plato_from_gravity.plain(final_gravity)) / before)


@formula(
    original_gravity="gravity",
    final_gravity="gravity",
    gives="gravity",
    rests_on="a difference of two readings",
)
def gravity_drop(original_gravity: float, final_gravity: float) -> float:
    r"""Fall in gravity during fermentation.

    .. math:: D = S_O - S_F

    Parameters
    ----------
    original_gravity : gravity
    final_gravity : gravity

    Returns
    -------
    gravity

    Raises
    ------
    WrongUnitError : an argument is no gravity.

    Notes
    -----
    Valid for two readings on the same basis; a difference of gravity, not a gravity.

    Examples
    --------
    >>> round(gravity_drop(Q(1.052, "gravity"), Q(1.012, "gravity")).magnitude, 3)
    0.04

    References
    ----------
    Difference of two readings; holds no measured constant.
    """
    return original_gravity - final_gravity
