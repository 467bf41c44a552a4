"""Spent grain: the water and the wort that stay behind in the tub.

In: mass of grist. Out: mass of water, volume of wort.
"""

from __future__ import annotations

from presenter.science.formula import formula

__all__ = ["water_held_by_grain", "wort_held_by_grain"]


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


@formula(
    grain="kilogram",
    kept="litre / kilogram",
    gives="litre",
    valid={"grain": (0, 1e5), "kept": (0, 3)},
)
def wort_held_by_grain(grain: float, kept: float) -> float:
    r"""Volume of wort that the drained grain keeps.

    .. math:: V = m_G \, k

    Parameters
    ----------
    grain : kilogram, as weighed dry
    kept : litre / kilogram, wort kept by each kilogram of dry grain

    Returns
    -------
    litre

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the grain keeps more than 3 litres a kilogram, or less than nothing.

    Notes
    -----
    Wet spent grain of 100 to 130 kg from 100 kg of grist, at 75 to 80 percent water, holds 0.75 to 1.04 litres a
    kilogram.

    Examples
    --------
    >>> wort_held_by_grain(Q(3.5, "kg"), Q(1, "L/kg")).magnitude
    3.5

    References
    ----------
    - `oxford_companion_spent_grain`
    """
    return grain * kept
