"""Strength of a drink by volume, by several named rules.

In: gravities before and after fermentation. Out: strength in percent by volume at 20 degC.
"""

from __future__ import annotations

from presenter.science.alcohol_water import ALCOHOL_DENSITY
from presenter.science.balling import alcohol_by_mass_balling, real_extract_balling
from presenter.science.formula import formula
from presenter.science.gravity import degrees_plato_from_gravity
from presenter.science.published_tables import published_table
from presenter.science.wort import wort_density

__all__ = [
    "alcohol_by_volume_balling",
    "alcohol_by_volume_duty_table",
    "alcohol_by_volume_fixed_weights",
    "alcohol_by_volume_from_mass",
    "alcohol_by_volume_rule_of_thumb",
    "duty_factor_for",
]


@formula(
    alcohol_by_mass="percent",
    gravity="gravity",
    gives="percent_by_volume",
    valid={"alcohol_by_mass": (0.0, 20.0), "gravity": (0.97, 1.17874)},
    relative_error=0.0002,
    error_because="densities of water and alcohol to a few parts in a hundred thousand",
)
def alcohol_by_volume_from_mass(alcohol_by_mass: float, gravity: float) -> float:
    r"""Strength by volume at 20 degC from strength by mass.

    .. math:: V = A\,\frac{\rho_\text{drink}}{\rho_\text{alcohol}}

    Parameters
    ----------
    alcohol_by_mass : percent, by mass
    gravity : gravity, of the drink, apparent, 20/20 degC

    Returns
    -------
    percent_by_volume

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the strength lies outside 0 to 20 percent or the gravity outside 0.97 to 1.17874.

    Notes
    -----
    Valid at 20 degC. The density of pure alcohol is computed from the same international formula.

    Examples
    --------
    >>> round(alcohol_by_volume_from_mass(Q(4, "percent"), Q(1.012, "gravity")).magnitude, 2)
    5.12

    References
    ----------
    - `oiml_r22`
    - `tanaka2001`
    """
    return float(alcohol_by_mass * wort_density.plain(gravity) / ALCOHOL_DENSITY)


@formula(
    original_gravity="gravity",
    final_gravity="gravity",
    gives="percent_by_volume",
    valid={"original_gravity": (1.0, 1.106), "final_gravity": (0.98, 1.106)},
    error=0.15,
    error_because="distance to the duty table, which rests on measured beers: at most 0.10 percent by volume to a "
    "strong ale, 0.2 allowed at 1.100",
)
def alcohol_by_volume_balling(original_gravity: float, final_gravity: float) -> float:
    r"""Strength by volume, by Balling's route from gravity to extract to alcohol.

    .. math:: p, m \to n = p - \frac{p-m}{q} \to A = (p - n)\,b \to V

    Parameters
    ----------
    original_gravity : gravity, apparent, 20/20 degC, before fermentation
    final_gravity : gravity, apparent, 20/20 degC, after it

    Returns
    -------
    percent_by_volume

    Raises
    ------
    WrongUnitError : an argument is no gravity.
    OutOfRangeError : a gravity lies outside its range: 1.000 to 1.106 before, 0.980 to 1.106 after.

    Notes
    -----
    Valid for beer up to about 25 degrees Plato.

    Examples
    --------
    >>> round(alcohol_by_volume_balling(Q(1.052, "gravity"), Q(1.012, "gravity")).magnitude, 2)
    5.27

    References
    ----------
    - `balling_gaerungschemie`
    - `asbc_cubic`
    - `oiml_r22`
    """
    original, apparent = (
        degrees_plato_from_gravity.plain(original_gravity),
        degrees_plato_from_gravity.plain(final_gravity),
    )
    alcohol = alcohol_by_mass_balling.plain(original, real_extract_balling.plain(original, apparent))
    return float(alcohol_by_volume_from_mass.plain(alcohol, final_gravity))


@formula(
    original_gravity="gravity",
    final_gravity="gravity",
    gives="percent_by_volume",
    valid={"original_gravity": (1.0, 1.106), "final_gravity": (0.98, 1.106)},
    error=0.2,
    error_because="0.1 to 0.2 percent by volume above the duty table",
    rests_on="the weights 0.1808 and 0.8192, from memory; no paper that carries them was seen",
)
def alcohol_by_volume_fixed_weights(original_gravity: float, final_gravity: float) -> float:
    r"""Strength by volume, by the fixed weights that much of the trade repeats.

    .. math:: n = 0.1808\,p + 0.8192\,m, \quad A = (p - n)\,b

    Parameters
    ----------
    original_gravity : gravity, apparent, 20/20 degC, before fermentation
    final_gravity : gravity, apparent, 20/20 degC, after it

    Returns
    -------
    percent_by_volume

    Raises
    ------
    WrongUnitError : an argument is no gravity.
    OutOfRangeError : a gravity lies outside its range: 1.000 to 1.106 before, 0.980 to 1.106 after.

    Notes
    -----
    The same as Balling's route with his quotient held at 1.2207, which his own table reaches only near 1 degree
    Plato. Shown beside it, never in its place.

    Examples
    --------
    >>> round(alcohol_by_volume_fixed_weights(Q(1.052, "gravity"), Q(1.012, "gravity")).magnitude, 2)
    5.32

    References
    ----------
    Fixed weights from memory; no paper that carries them was seen.
    """
    original, apparent = (
        degrees_plato_from_gravity.plain(original_gravity),
        degrees_plato_from_gravity.plain(final_gravity),
    )
    alcohol = alcohol_by_mass_balling.plain(original, 0.1808 * original + 0.8192 * apparent)
    return float(alcohol_by_volume_from_mass.plain(alcohol, final_gravity))


def duty_factor_for(drop: float) -> float:
    """The duty table's factor for a fall of ``drop`` thousandths of gravity, the nearest end band carried on.

    The table's bands are a tenth of a thousandth apart, so the fall is read to one decimal first.
    """
    read = round(drop, 1)
    rows = published_table("duty_factors").rows
    return next((float(row["factor"]) for row in rows if read <= float(row["drop_to"])), float(rows[-1]["factor"]))


@formula(
    gravity_drop="gravity",
    gives="percent_by_volume",
    valid={"gravity_drop": (0.0, 0.1007)},
    error=0.13,
    error_because="at the band edges the factor's product misses the printed strength by up to 0.13 percent by volume",
)
def alcohol_by_volume_duty_table(gravity_drop: float) -> float:
    r"""Strength by volume, by the factors of the United Kingdom's beer duty notice.

    .. math:: V = f(D)\,D, \quad D = 1000\,(S_O - S_F)

    Parameters
    ----------
    gravity_drop : gravity, the fall from original to final gravity

    Returns
    -------
    percent_by_volume

    Raises
    ------
    WrongUnitError : the argument is no gravity.
    OutOfRangeError : the fall lies outside 0 to 0.1007.

    Notes
    -----
    Valid for a fall of up to 100.7 thousandths; the notice calls its table guidance. For duty the strength is cut
    down to one decimal, which is not done here.

    Examples
    --------
    >>> round(alcohol_by_volume_duty_table(Q(0.040, "gravity")).magnitude, 2)
    5.2

    References
    ----------
    - `hmrc_notice_226`
    """
    drop = 1000 * gravity_drop
    return drop * duty_factor_for(drop)


@formula(
    gravity_drop="gravity",
    gives="percent_by_volume",
    valid={"gravity_drop": (0.0, 0.08)},
    error=0.4,
    error_because="distance to the duty table up to a fall of 0.08",
    rests_on="common practice",
)
def alcohol_by_volume_rule_of_thumb(gravity_drop: float) -> float:
    r"""Strength by volume, by the brewers' rule of thumb.

    .. math:: V = 131.25\,(S_O - S_F)

    Parameters
    ----------
    gravity_drop : gravity, the fall from original to final gravity

    Returns
    -------
    percent_by_volume

    Raises
    ------
    WrongUnitError : the argument is no gravity.
    OutOfRangeError : the fall lies outside 0 to 0.08.

    Notes
    -----
    Valid for ordinary strengths; strong drinks come out too weak.

    Examples
    --------
    >>> round(alcohol_by_volume_rule_of_thumb(Q(0.040, "gravity")).magnitude, 2)
    5.25

    References
    ----------
    Common practice; no source is claimed.
    """
    return 131.25 * gravity_drop
