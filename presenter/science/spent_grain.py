"""Spent grain: the water that stays behind in the tub.

In: mass of grist. Out: mass of water.
"""

from __future__ import annotations

from presenter.science.formula import formula

__all__ = [
    "water_held_by_grain",
]


WATER_HELD_LEAST, WATER_HELD_MOST = 1.00 * 0.75, 1.30 * 0.80
"""Kilograms of water per kilogram of grist: wet grain 100 to 130 kg per 100 kg, of 75 to 80 percent water."""


@formula(
    grist_mass="kilogram",
    gives="kilogram",
    relative_error=0.165,
    error_because="from 100 kg of wet grain at 75 percent water to 130 kg at 80, per 100 kg of grist",
)
def water_held_by_grain(grist_mass: float) -> float:
    r"""Water that the spent grain keeps.

    .. math:: m = 0.895\,m_g

    Parameters
    ----------
    grist_mass : kilogram

    Returns
    -------
    kilogram

    Raises
    ------
    WrongUnitError : the argument is no mass.

    Notes
    -----
    Valid for drained grain of a malt mash; the middle of 0.75 to 1.04 kg per kilogram of grist, derived from the
    entry's figures.

    Examples
    --------
    >>> round(water_held_by_grain(Q(3.5, "kg")).magnitude, 2)
    3.13

    References
    ----------
    - `oxford_companion_spent_grain`
    """
    return grist_mass * (WATER_HELD_LEAST + WATER_HELD_MOST) / 2
