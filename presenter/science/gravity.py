"""Gravity and extract: between specific gravity, degrees Plato, density and mass of extract.

In: gravities, extracts, masses. Out: the same in another scale. Gravity here is apparent (weighed in air),
20/20 degC, as brewers' tables have it.
"""

from __future__ import annotations

from presenter.science.formula import formula

__all__ = ["degrees_plato_from_gravity"]


@formula(
    gravity="gravity",
    gives="degree_Plato",
    valid={"gravity": (0.98, 1.083)},
    error=0.01,
    error_because="fit to the tables: worst 0.0097 degrees Plato against the sucrose densities up to 26 percent",
)
def degrees_plato_from_gravity(gravity: float) -> float:
    r"""Extract by mass of a wort from its gravity.

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
    >>> round(degrees_plato_from_gravity(Q(1.040, "gravity")).magnitude, 3)
    9.994

    References
    ----------
    - `asbc_cubic`
    """
    return -616.868 + 1111.14 * gravity - 630.272 * gravity**2 + 135.997 * gravity**3
