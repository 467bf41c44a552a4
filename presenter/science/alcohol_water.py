"""Alcohol and water: the density of their mixtures, and strength by mass and by volume.

In: percent by mass, temperature. Out: density, or percent by volume at 20 degC.
"""

from __future__ import annotations

from functools import cache

from presenter.science.formula import formula
from presenter.science.published_tables import published_table

__all__ = [
    "alcohol_water_by_volume",
    "alcohol_water_density",
]


@cache
def _coefficients() -> dict[str, tuple[float, ...]]:
    """The recommendation's coefficients by the name of their row: A, B, C1 to C5."""
    return {
        str(row["name"]): tuple(float(value) for value in row["values"]) for row in published_table("oiml_r22").rows
    }


def _kilograms_per_cubic_metre(share: float, temperature: float) -> float:
    rows = _coefficients()
    warm = temperature - 20.0
    density = sum(value * share**power for power, value in enumerate(rows["A"]))
    density += sum(value * warm ** (power + 1) for power, value in enumerate(rows["B"]))
    for order in range(1, 6):
        mixed = sum(value * share ** (power + 1) for power, value in enumerate(rows[f"C{order}"]))
        density += mixed * warm**order
    return density


@formula(
    alcohol_by_mass="percent",
    temperature="degree_Celsius",
    gives="kilogram / litre",
    valid={"alcohol_by_mass": (0.0, 100.0), "temperature": (-20.0, 40.0)},
    error=6e-05,
    error_because="within 0.057 kg/m3 of an independent handbook table up to 12.9 percent, most of it an older water "
    "value",
)
def alcohol_water_density(alcohol_by_mass: float, temperature: float) -> float:
    r"""Density of a mixture of alcohol and water.

    .. math:: \rho = A_1 + \sum A_k p^{k-1} + \sum B_k (t-20)^k + \sum\sum C_{i,k} p^k (t-20)^i

    Parameters
    ----------
    alcohol_by_mass : percent, by mass
    temperature : degree_Celsius

    Returns
    -------
    kilogram / litre

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the strength lies outside 0 to 100 percent or the temperature outside -20 to 40 degC.

    Notes
    -----
    Valid for pure alcohol and water. All 54 coefficients of the recommendation.

    Examples
    --------
    >>> round(alcohol_water_density(Q(5, "percent"), Q(20, "degC")).magnitude, 5)
    0.98938

    References
    ----------
    - `oiml_r22`
    """
    return _kilograms_per_cubic_metre(alcohol_by_mass / 100, temperature) / 1000


ALCOHOL_DENSITY = _kilograms_per_cubic_metre(1.0, 20.0) / 1000
"""Density of pure alcohol at 20 degC in kg/L, computed from the recommendation's formula."""


@formula(
    alcohol_by_mass="percent",
    gives="percent_by_volume",
    valid={"alcohol_by_mass": (0.0, 100.0)},
    error=0.01,
    error_because="that of the two densities",
)
def alcohol_water_by_volume(alcohol_by_mass: float) -> float:
    r"""Strength by volume at 20 degC of a mixture of alcohol and water.

    .. math:: q = p\,\frac{\rho(p, 20)}{\rho(1, 20)}

    Parameters
    ----------
    alcohol_by_mass : percent, by mass

    Returns
    -------
    percent_by_volume, at 20 degC

    Raises
    ------
    WrongUnitError : the argument is no share.
    OutOfRangeError : the strength lies outside 0 to 100 percent.

    Notes
    -----
    Valid for alcohol and water alone; a beer's extract needs ``alcohol_by_volume_from_mass``.

    Examples
    --------
    >>> round(alcohol_water_by_volume(Q(4, "percent")).magnitude, 2)
    5.02

    References
    ----------
    - `oiml_r22`
    """
    return alcohol_by_mass * _kilograms_per_cubic_metre(alcohol_by_mass / 100, 20.0) / 1000 / ALCOHOL_DENSITY
