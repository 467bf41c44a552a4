"""Household measures and pieces: from what one of them weighs to the mass of so many.

In: the weight of one, and how much or how many. Out: a mass. The weights are looked up by ``measures``.
"""

from __future__ import annotations

from presenter.science.formula import formula

__all__ = ["mass_of_count", "mass_of_measure"]


@formula(
    bulk_density="kilogram / litre",
    volume="litre",
    gives="kilogram",
    valid={"bulk_density": (0.05, 2.5), "volume": (0, 1e5)},
    rests_on="a measure filled level; what it weighs is in the table of household weights",
)
def mass_of_measure(bulk_density: float, volume: float) -> float:
    r"""Mass of so many cups, spoons or litres of an ingredient, filled level.

    .. math:: m = \rho_b V

    Parameters
    ----------
    bulk_density : kilogram / litre, air between the grains included
    volume : litre

    Returns
    -------
    kilogram

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the density lies outside 0.05 to 2.5 kilograms a litre, or the volume is below nothing.

    Notes
    -----
    How real goods and real spoons differ from the table is a give-or-take of the density.

    Examples
    --------
    >>> round(mass_of_measure(Q(1.4329, "kg/L"), Q(1, "us_cup")).magnitude, 3)
    0.339

    References
    ----------
    - `usda_sr28`
    """
    return bulk_density * volume


@formula(
    each="gram / piece",
    count="piece",
    gives="kilogram",
    valid={"each": (0.01, 1e5), "count": (0, 1e5)},
    rests_on="so many pieces of one weight; what one weighs is in the table of household weights",
)
def mass_of_count(each: float, count: float) -> float:
    r"""Mass of so many pieces of an ingredient.

    .. math:: m = n \, m_1 / 1000

    Parameters
    ----------
    each : gram / piece
    count : piece

    Returns
    -------
    kilogram

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : a piece weighs less than 0.01 g or more than 100 kg, or the count is below nothing.

    Notes
    -----
    How pieces differ from one another is a give-or-take of what one weighs.

    Examples
    --------
    >>> mass_of_count(Q(7.2, "gram / piece"), Q(2, "piece")).magnitude
    0.0144

    References
    ----------
    - `usda_sr28`
    """
    return each * count / 1000.0
