"""Alcohol ceiling: the gravity at which a wort has reached the strength that stops its yeast.

In: the gravity before fermentation and a strength. Out: a gravity.
"""

from __future__ import annotations

from scipy.optimize import brentq

from presenter.science.formula import OutOfRangeError, formula
from presenter.science.strength import alcohol_by_volume_balling

__all__ = ["gravity_at_strength"]

LOWEST_GRAVITY = 0.98


@formula(
    original_gravity="gravity",
    strength="percent_by_volume",
    gives="gravity",
    valid={"original_gravity": (1.0, 1.106), "strength": (0.0, 20.0)},
    error=0.0012,
    error_because="0.15 percent by volume, the error of the route that it turns round",
)
def gravity_at_strength(original_gravity: float, strength: float) -> float:
    r"""Gravity at which a fermenting wort has reached a strength, by Balling's route.

    .. math:: S_F : \; V(S_O, S_F) = V

    Parameters
    ----------
    original_gravity : gravity, before fermentation
    strength : percent_by_volume

    Returns
    -------
    gravity

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the gravity lies outside 1.000 to 1.106, the strength outside 0 to 20 percent, or the wort has
        not sugar enough for it at a final gravity of 0.980.

    Notes
    -----
    Balling's route from gravities to strength, solved for the final gravity by a bracketing root finder.

    Examples
    --------
    >>> round(gravity_at_strength(Q(1.052, "gravity"), Q(5.27, "percent_by_volume")).magnitude, 3)
    1.012

    References
    ----------
    - `balling_gaerungschemie`
    """

    def short_of(gravity: float) -> float:
        return float(alcohol_by_volume_balling.plain(original_gravity, gravity)) - strength

    if short_of(LOWEST_GRAVITY) < 0:
        most = short_of(LOWEST_GRAVITY) + strength
        why = f"a wort of {original_gravity:.3f} holds sugar for {most:.1f} percent by volume at most"
        raise OutOfRangeError("gravity_at_strength", "strength", strength, "percent_by_volume", 0.0, most, why)
    return float(brentq(short_of, LOWEST_GRAVITY, original_gravity, xtol=1e-12))
