"""Instruments: what a hydrometer or a refractometer reading means.

In: readings and the sample's temperature. Out: gravity or extract. Hot samples are refused, never clipped.
"""

from __future__ import annotations

from presenter.science.formula import formula
from presenter.science.gravity import gravity_from_degrees_plato
from presenter.science.published_tables import between_rows, published_table

__all__ = [
    "brix_from_refractive_index",
    "corrected_gravity",
    "gravity_from_refractometer",
    "hydrometer_temperature_correction",
]


@formula(
    temperature="degree_Celsius",
    gives="gravity",
    valid={"temperature": (10.0, 31.12)},
    error=0.0006,
    error_because="within 0.0006 of what water and glass do by themselves, over the table",
)
def hydrometer_temperature_correction(temperature: float) -> float:
    r"""What to add to a hydrometer's reading for the warmth of the sample.

    .. math:: \Delta S = \Delta S_i + (\Delta S_{i+1} - \Delta S_i) \frac{T - T_i}{T_{i+1} - T_i}

    Parameters
    ----------
    temperature : degree_Celsius, of the sample

    Returns
    -------
    gravity, a difference

    Raises
    ------
    WrongUnitError : the argument is no temperature.
    OutOfRangeError : the sample lies outside 10 to 31.12 degC.

    Notes
    -----
    Valid for a glass hydrometer made for 20 degC (68 degF), from 50 to 88 degF. Hotter samples are refused: let
    them cool. The table was made for liquids of 4 to 10 percent.

    Examples
    --------
    >>> round(hydrometer_temperature_correction(Q(25, "degC")).magnitude, 4)
    0.0013

    References
    ----------
    - `bigelow_stevenson`
    """
    table = published_table("hydrometer_temperature_correction")
    fahrenheit = 32 + 1.8 * temperature
    return between_rows(fahrenheit, table.column("temperature"), table.column("gravity"))


@formula(
    reading="gravity",
    temperature="degree_Celsius",
    gives="gravity",
    valid={"reading": (0.98, 1.17), "temperature": (10.0, 31.12)},
    error=0.0006,
    error_because="within 0.0006 of what water and glass do by themselves, over the table",
)
def corrected_gravity(reading: float, temperature: float) -> float:
    r"""Gravity from a hydrometer's reading and the warmth of the sample.

    .. math:: S = S_\text{read} + \Delta S(T)

    Parameters
    ----------
    reading : gravity, on a hydrometer made for 20 degC
    temperature : degree_Celsius, of the sample

    Returns
    -------
    gravity

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the reading lies outside 0.98 to 1.17 or the sample outside 10 to 31.12 degC.

    Notes
    -----
    Valid for a glass hydrometer made for 20 degC; reading error is the instrument's own and comes beside this.

    Examples
    --------
    >>> round(corrected_gravity(Q(1.050, "gravity"), Q(25, "degC")).magnitude, 4)
    1.0513

    References
    ----------
    - `bigelow_stevenson`
    """
    return float(reading + hydrometer_temperature_correction.plain(temperature))


@formula(
    refractive_index="dimensionless",
    gives="degree_Plato",
    valid={"refractive_index": (1.333, 1.3815)},
    error=0.025,
    error_because="worst distance to the French order's table, 0.021, between an older and a newer sugar table",
)
def brix_from_refractive_index(refractive_index: float) -> float:
    r"""Sugar by mass of a solution from its refractive index.

    .. math:: B = 11758.74 n^5 - 88885.21 n^4 + 270177.93 n^3 - 413145.80 n^2 + 318417.95 n - 99127.4536

    Parameters
    ----------
    refractive_index : dimensionless, sodium light, 20 degC

    Returns
    -------
    degree_Plato

    Raises
    ------
    WrongUnitError : the argument is no plain number.
    OutOfRangeError : the index lies outside 1.3330 to 1.3815 (water to 30 percent).

    Notes
    -----
    Valid for sugar in water before fermentation; alcohol bends light too.

    Examples
    --------
    >>> round(brix_from_refractive_index(Q(1.34782, "dimensionless")).magnitude, 1)
    10.0

    References
    ----------
    - `icumsa_fit`
    """
    n = refractive_index
    return 11758.74 * n**5 - 88885.21 * n**4 + 270177.93 * n**3 - 413145.80 * n**2 + 318417.95 * n - 99127.4536


@formula(
    reading="degree_Plato",
    gives="gravity",
    valid={"reading": (0.0, 30.0)},
    error=0.001,
    error_because="wort is not pure sugar; an allowance of a quarter of a degree, from memory, since no published "
    "figure was seen",
)
def gravity_from_refractometer(reading: float) -> float:
    r"""Gravity of unfermented wort from a refractometer's Brix reading.

    .. math:: S = S(P)

    Parameters
    ----------
    reading : degree_Plato, on the Brix scale, compensated to 20 degC

    Returns
    -------
    gravity

    Raises
    ------
    WrongUnitError : the argument is no extract by mass.
    OutOfRangeError : the reading lies outside 0 to 30.

    Notes
    -----
    Valid before fermentation only: once there is alcohol the scale no longer shows extract.

    Examples
    --------
    >>> round(gravity_from_refractometer(Q(12, "degPlato")).magnitude, 4)
    1.0484

    References
    ----------
    - `asbc_cubic`
    - `nbs_cubic`
    """
    return float(gravity_from_degrees_plato.plain(reading))
