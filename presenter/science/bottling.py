"""Bottling: gas that is added, sugar as the goods that are weighed, and the little alcohol that priming brings.

In: carbonation in volumes, grams of fermentable extract, strength. Out: volumes, grams, per cent by volume.
"""

from __future__ import annotations

from presenter.science.alcohol_water import ALCOHOL_DENSITY
from presenter.science.carbon_dioxide import CARBON_DIOXIDE_MOLAR_MASS, gas_hidden_in_gravity
from presenter.science.fermentation import CARBON_DIOXIDE_GAS_DENSITY
from presenter.science.formula import formula

__all__ = [
    "carbonation_to_add",
    "carbonation_together",
    "gas_hidden_by_hydrometer",
    "priming_goods",
    "strength_after_priming",
]

ALCOHOL_MOLAR_MASS = 46.068
"""Grams in a mole of alcohol, of which one is made with each mole of carbon dioxide."""


@formula(
    carbonation_wanted="volume_co2",
    carbonation_held="volume_co2",
    gives="volume_co2",
    rests_on="volumes of gas in one drink add",
)
def carbonation_to_add(carbonation_wanted: float, carbonation_held: float) -> float:
    r"""Carbon dioxide that priming has to bring.

    .. math:: \Delta v = v_\text{wanted} - v_\text{held}

    Parameters
    ----------
    carbonation_wanted, carbonation_held : volume_co2

    Returns
    -------
    volume_co2

    Raises
    ------
    WrongUnitError : an argument is no carbonation.

    Notes
    -----
    Valid for one drink in a closed bottle that is nearly full.

    Examples
    --------
    >>> round(carbonation_to_add(Q(2.4, "volume_co2"), Q(0.8, "volume_co2")).magnitude, 2)
    1.6

    References
    ----------
    Gas balance; holds no measured constant.
    """
    return carbonation_wanted - carbonation_held


@formula(
    carbonation="volume_co2",
    other_carbonation="volume_co2",
    gives="volume_co2",
    rests_on="volumes of gas in one drink add",
)
def carbonation_together(carbonation: float, other_carbonation: float) -> float:
    r"""Carbon dioxide of two origins in one drink.

    .. math:: v = v_1 + v_2

    Parameters
    ----------
    carbonation, other_carbonation : volume_co2

    Returns
    -------
    volume_co2

    Raises
    ------
    WrongUnitError : an argument is no carbonation.

    Notes
    -----
    Valid for one drink in a closed bottle that is nearly full; none of the gas has escaped.

    Examples
    --------
    >>> round(carbonation_together(Q(2.4, "volume_co2"), Q(0.5, "volume_co2")).magnitude, 2)
    2.9

    References
    ----------
    Gas balance; holds no measured constant.
    """
    return carbonation + other_carbonation


@formula(
    extract="gram",
    fermentable_share="percent",
    gives="gram",
    valid={"fermentable_share": (1.0, 100.0)},
    rests_on="mass balance",
)
def priming_goods(extract: float, fermentable_share: float) -> float:
    r"""Weight of honey, syrup or brown sugar that holds so much fermentable extract.

    .. math:: m = 100\,E / s

    Parameters
    ----------
    extract : gram, that yeast can take
    fermentable_share : percent, of the goods as weighed

    Returns
    -------
    gram

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the share lies outside 1 to 100 percent.

    Notes
    -----
    Valid for goods that dissolve whole.

    Examples
    --------
    >>> round(priming_goods(Q(50, "gram"), Q(78.1, "percent")).magnitude, 1)
    64.0

    References
    ----------
    Mass balance; holds no measured constant.
    """
    return 100 * extract / fermentable_share


@formula(
    strength="percent_by_volume",
    carbonation_rise="volume_co2",
    gives="percent_by_volume",
    valid={"strength": (0.0, 20.0), "carbonation_rise": (0.0, 10.0)},
    error=0.02,
    error_because="a tenth of the rise that two volumes of gas bring, since some sugar goes to yeast, is 0.05 at most",
    rests_on="molar masses: one part of alcohol with each part of carbon dioxide",
)
def strength_after_priming(strength: float, carbonation_rise: float) -> float:
    r"""Strength of a drink once the sugar that made its gas has been fermented in the bottle.

    .. math:: q' = q + \Delta v\,\frac{1.9768 \cdot 46.068}{44.0095 \cdot 789.24} \cdot 100

    Parameters
    ----------
    strength : percent_by_volume, before
    carbonation_rise : volume_co2, made in the bottle

    Returns
    -------
    percent_by_volume

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the strength lies outside 0 to 20 percent or the rise outside 0 to 10 volumes.

    Notes
    -----
    Valid for a closed bottle; what the sugar itself takes up, a third of a percent of the drink, is left out.

    Examples
    --------
    >>> strength_after_priming(Q(5, "percent_by_volume"), Q(1.6, "volume_co2")).magnitude.__round__(2)
    5.42

    References
    ----------
    Derived from molar masses and the density of alcohol.
    """
    grams = carbonation_rise * CARBON_DIOXIDE_GAS_DENSITY * ALCOHOL_MOLAR_MASS / CARBON_DIOXIDE_MOLAR_MASS
    return strength + grams / (10 * ALCOHOL_DENSITY)


@formula(
    original_gravity="gravity",
    final_gravity="gravity",
    right_within="gravity",
    gives="volume_co2",
    valid={"original_gravity": (1.0, 1.106), "final_gravity": (0.98, 1.1), "right_within": (0.0, 0.01)},
    relative_error=0.1,
    error_because="Balling's gas is a tenth less than sugar could give, since some sugar goes to yeast",
)
def gas_hidden_by_hydrometer(original_gravity: float, final_gravity: float, right_within: float) -> float:
    r"""Carbon dioxide that a hydrometer's own give-or-take can hide in a drink that reads as finished.

    .. math:: v = v_\text{hidden}(S_0,\ S_\text{end} + \Delta S,\ S_\text{end})

    Parameters
    ----------
    original_gravity, final_gravity : gravity
    right_within : gravity, a difference: how far the hydrometer may be off

    Returns
    -------
    volume_co2

    Raises
    ------
    WrongUnitError : an argument is no gravity.
    OutOfRangeError : a gravity lies outside 1.000 to 1.106 before or 0.980 to 1.100 after, or the instrument is
        worse than 0.010.

    Notes
    -----
    Valid for beer. Half a volume for a thousandth: one reading proves nothing, which is why two are asked for.

    Examples
    --------
    >>> hidden = gas_hidden_by_hydrometer(Q(1.050, "gravity"), Q(1.012, "gravity"), Q(0.001, "gravity"))
    >>> round(hidden.magnitude, 1)
    0.5

    References
    ----------
    - `balling_gaerungschemie`
    - `nielsen_balling`
    """
    return float(gas_hidden_in_gravity.plain(original_gravity, final_gravity + right_within, final_gravity))
