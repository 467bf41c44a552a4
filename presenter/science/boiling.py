"""Boiling: air pressure, the boiling point it allows, and the heat that goes off as steam.

In: altitudes, pressures, temperatures. Out: one property each, for pure water.
"""

from __future__ import annotations

import math
from functools import cache

from presenter.science.formula import formula
from presenter.science.published_tables import between_rows, published_table

__all__ = [
    "boiling_point_at_altitude",
    "pressure_at_altitude",
    "water_boiling_point",
    "water_heat_of_vaporisation",
]


@cache
def _boil_columns() -> tuple[tuple[float, ...], tuple[float, ...], tuple[float, ...]]:
    """Boiling points rising, with heats of vaporisation and the logarithms of pressure."""
    rows = sorted(published_table("water_at_the_boil").rows, key=lambda row: float(row["boiling"]))
    boiling = tuple(float(row["boiling"]) for row in rows)
    heat = tuple(float(row["vaporisation"]) for row in rows)
    return boiling, heat, tuple(math.log(float(row["pressure"])) for row in rows)


@formula(
    temperature="degree_Celsius",
    gives="kilojoule / kilogram",
    valid={"temperature": (85.0, 101.0)},
    error=0.3,
    error_because="rows to 0.1 kJ/kg, and the end lines carried on by at most five degrees",
)
def water_heat_of_vaporisation(temperature: float) -> float:
    r"""Heat that turns one kilogram of boiling water into steam.

    .. math:: h = h_i + (h_{i+1} - h_i) \frac{T - T_i}{T_{i+1} - T_i}

    Parameters
    ----------
    temperature : degree_Celsius, at which the water boils

    Returns
    -------
    kilojoule / kilogram

    Raises
    ------
    WrongUnitError : the argument is no temperature.
    OutOfRangeError : the temperature lies outside 85 to 101 degC.

    Notes
    -----
    Valid for water boiling in the open. The rows run from 89.98 to 99.97 degC; the end lines are carried on.

    Examples
    --------
    >>> round(water_heat_of_vaporisation(Q(99.97, "degC")).magnitude, 1)
    2256.5

    References
    ----------
    - `iapws_if97`
    """
    boiling, heat, _ = _boil_columns()
    return between_rows(temperature, boiling, heat)


@formula(
    altitude="metre",
    gives="kilopascal",
    valid={"altitude": (-100.0, 3000.0)},
    error=3.5,
    error_because="weather: it moves the boiling point by about 1 degC, which is 3.5 kPa",
)
def pressure_at_altitude(altitude: float) -> float:
    r"""Air pressure to expect at an altitude.

    .. math:: p = 101.325 \left(1 - \frac{0.0065\,h}{288.15}\right)^{5.25588}

    Parameters
    ----------
    altitude : metre, above the sea

    Returns
    -------
    kilopascal

    Raises
    ------
    WrongUnitError : the argument is no length.
    OutOfRangeError : the altitude lies outside -100 to 3000 m.

    Notes
    -----
    Valid for the standard atmosphere. Its defining constants are written from memory and checked against an
    independent library; real pressure swings with the weather.

    Examples
    --------
    >>> round(pressure_at_altitude(Q(1000, "m")).magnitude, 2)
    89.87

    References
    ----------
    - `standard_atmosphere`
    """
    return float(101.325 * (1 - 0.0065 * altitude / 288.15) ** 5.25588)


@formula(
    pressure="kilopascal",
    gives="degree_Celsius",
    valid={"pressure": (69.0, 105.0)},
    error=0.05,
    error_because="distance to an independent library over the whole range",
)
def water_boiling_point(pressure: float) -> float:
    r"""Temperature at which water boils under a pressure.

    .. math:: T = T_i + (T_{i+1} - T_i) \frac{\ln p - \ln p_i}{\ln p_{i+1} - \ln p_i}

    Parameters
    ----------
    pressure : kilopascal, absolute

    Returns
    -------
    degree_Celsius

    Raises
    ------
    WrongUnitError : the argument is no pressure.
    OutOfRangeError : the pressure lies outside 69 to 105 kPa.

    Notes
    -----
    Valid for pure water; wort boils a few tenths of a degree hotter, which is not in the formula.

    Examples
    --------
    >>> round(water_boiling_point(Q(101.325, "kilopascal")).magnitude, 2)
    99.97

    References
    ----------
    - `iapws_if97`
    """
    boiling, _, logarithms = _boil_columns()
    return between_rows(math.log(pressure), logarithms, boiling)


@formula(
    altitude="metre",
    gives="degree_Celsius",
    valid={"altitude": (-100.0, 3000.0)},
    error=1.0,
    error_because="weather alone moves the boiling point by about 1 degC",
)
def boiling_point_at_altitude(altitude: float) -> float:
    r"""Temperature at which water boils at an altitude.

    .. math:: T = T_\text{boil}(p(h))

    Parameters
    ----------
    altitude : metre, above the sea

    Returns
    -------
    degree_Celsius

    Raises
    ------
    WrongUnitError : the argument is no length.
    OutOfRangeError : the altitude lies outside -100 to 3000 m.

    Notes
    -----
    Valid for pure water under the standard atmosphere.

    Examples
    --------
    >>> round(boiling_point_at_altitude(Q(90, "m")).magnitude, 1)
    99.7

    References
    ----------
    - `standard_atmosphere`
    - `iapws_if97`
    """
    return float(water_boiling_point.plain(pressure_at_altitude.plain(altitude)))
