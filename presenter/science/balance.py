"""Balances: what is poured together adds up, what is drawn off is missing from the rest.

In: masses, volumes and shares. Out: the same. No measured constant stands here.
"""

from __future__ import annotations

from presenter.science.formula import formula

__all__ = [
    "difference_of_masses",
    "difference_of_volumes",
    "part_of_mass",
    "share_drawn",
    "share_of_mass",
    "sum_of_masses",
    "sum_of_volumes",
]  # fmt: skip


@formula(mass="kilogram", other_mass="kilogram", gives="kilogram", rests_on="mass balance")
def sum_of_masses(mass: float, other_mass: float) -> float:
    r"""Mass of two portions put together.

    .. math:: m = m_1 + m_2

    Parameters
    ----------
    mass : kilogram
    other_mass : kilogram

    Returns
    -------
    kilogram

    Raises
    ------
    WrongUnitError : an argument has another dimension.

    Notes
    -----
    Valid always.

    Examples
    --------
    >>> sum_of_masses(Q(3, "kg"), Q(500, "g")).magnitude
    3.5

    References
    ----------
    Mass balance; holds no measured constant.
    """
    return mass + other_mass


@formula(mass="kilogram", taken="kilogram", gives="kilogram", rests_on="mass balance")
def difference_of_masses(mass: float, taken: float) -> float:
    r"""Mass left after some was taken away.

    .. math:: m = m_1 - m_2

    Parameters
    ----------
    mass : kilogram
    taken : kilogram

    Returns
    -------
    kilogram

    Raises
    ------
    WrongUnitError : an argument has another dimension.

    Notes
    -----
    Valid always; a result below nothing means that more was taken than was there.

    Examples
    --------
    >>> difference_of_masses(Q(3, "kg"), Q(500, "g")).magnitude
    2.5

    References
    ----------
    Mass balance; holds no measured constant.
    """
    return mass - taken


@formula(volume="litre", other_volume="litre", gives="litre", rests_on="volumes of like liquids add")
def sum_of_volumes(volume: float, other_volume: float) -> float:
    r"""Volume of two portions of like liquid poured together.

    .. math:: V = V_1 + V_2

    Parameters
    ----------
    volume : litre
    other_volume : litre

    Returns
    -------
    litre

    Raises
    ------
    WrongUnitError : an argument has another dimension.

    Notes
    -----
    Valid for liquids of like make at one temperature.

    Examples
    --------
    >>> sum_of_volumes(Q(3, "litre"), Q(2, "litre")).magnitude
    5.0

    References
    ----------
    Volume balance; holds no measured constant.
    """
    return volume + other_volume


@formula(volume="litre", taken="litre", gives="litre", rests_on="volume balance")
def difference_of_volumes(volume: float, taken: float) -> float:
    r"""Volume left after some was taken away.

    .. math:: V = V_1 - V_2

    Parameters
    ----------
    volume : litre
    taken : litre

    Returns
    -------
    litre

    Raises
    ------
    WrongUnitError : an argument has another dimension.

    Notes
    -----
    Valid at one temperature.

    Examples
    --------
    >>> difference_of_volumes(Q(3, "litre"), Q(2, "litre")).magnitude
    1.0

    References
    ----------
    Volume balance; holds no measured constant.
    """
    return volume - taken


@formula(volume="litre", whole="litre", gives="percent", rests_on="the wort is stirred, so each litre is like the next")
def share_drawn(volume: float, whole: float) -> float:
    r"""Share of a well-mixed liquid that a drawn volume takes with it.

    .. math:: s = 100 \, V / V_0

    Parameters
    ----------
    volume : litre, drawn
    whole : litre, from which it is drawn

    Returns
    -------
    percent

    Raises
    ------
    WrongUnitError : an argument has another dimension.

    Notes
    -----
    Valid while the liquid is mixed; a bed that is rinsed in layers gives the strongest wort first.

    Examples
    --------
    >>> share_drawn(Q(8, "litre"), Q(16, "litre")).magnitude
    50.0

    References
    ----------
    Mass balance; holds no measured constant.
    """
    return 100.0 * volume / whole


@formula(mass="kilogram", share="percent", gives="kilogram", rests_on="mass balance")
def part_of_mass(mass: float, share: float) -> float:
    r"""Mass of a share of something.

    .. math:: m = m_0 \, s / 100

    Parameters
    ----------
    mass : kilogram
    share : percent

    Returns
    -------
    kilogram

    Raises
    ------
    WrongUnitError : an argument has another dimension.

    Notes
    -----
    Valid always.

    Examples
    --------
    >>> part_of_mass(Q(4, "kg"), Q(25, "percent")).magnitude
    1.0

    References
    ----------
    Mass balance; holds no measured constant.
    """
    return mass * share / 100.0


@formula(part="kilogram", whole="kilogram", gives="percent", rests_on="mass balance")
def share_of_mass(part: float, whole: float) -> float:
    r"""Share of a mass that a part of it is.

    .. math:: s = 100 \, m / m_0

    Parameters
    ----------
    part : kilogram
    whole : kilogram

    Returns
    -------
    percent

    Raises
    ------
    WrongUnitError : an argument has another dimension.

    Notes
    -----
    Valid always; a share of nothing is nothing.

    Examples
    --------
    >>> share_of_mass(Q(1, "kg"), Q(4, "kg")).magnitude
    25.0

    References
    ----------
    Mass balance; holds no measured constant.
    """
    return 100.0 * part / whole if whole else 0.0
