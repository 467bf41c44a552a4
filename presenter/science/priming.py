"""Priming: sugar that makes a finished drink lively.

In: carbonation wanted beyond what the drink holds, volume of drink. Out: grams. Whether a drink may be primed at
all is not decided here.
"""

from __future__ import annotations

from presenter.science.carbon_dioxide import CARBON_DIOXIDE_MOLAR_MASS
from presenter.science.fermentation import CARBON_DIOXIDE_GAS_DENSITY, GAS_SHARE
from presenter.science.formula import formula

__all__ = [
    "priming_extract",
    "priming_glucose",
    "priming_glucose_monohydrate",
    "priming_sucrose",
]


GLUCOSE_GAS = 2 * CARBON_DIOXIDE_MOLAR_MASS / 180.156
MONOHYDRATE_GAS = 2 * CARBON_DIOXIDE_MOLAR_MASS / 198.171
SUCROSE_GAS = 4 * CARBON_DIOXIDE_MOLAR_MASS / 342.297
"""Grams of carbon dioxide from one gram of each sugar, by molar masses."""


@formula(
    carbonation_rise="volume_co2",
    volume="litre",
    gives="gram",
    valid={"carbonation_rise": (0.0, 5.0), "volume": (0.0, 500.0)},
    relative_error=0.1,
    error_because="sugar that goes to growing yeast gives no gas; Balling's balance has a tenth less",
    rests_on="molar masses, all of the sugar fermented",
)
def priming_glucose(carbonation_rise: float, volume: float) -> float:
    r"""Glucose without water that brings a drink to a carbonation.

    .. math:: m = v\,V\,\frac{1.9768 \cdot 180.156}{2 \cdot 44.0095}

    Parameters
    ----------
    carbonation_rise : volume_co2, wanted beyond what the drink holds
    volume : litre, of drink

    Returns
    -------
    gram

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the rise lies outside 0 to 5 volumes or the drink outside 0 to 500 L.

    Notes
    -----
    Valid only in a finished drink. A volume is at 0 degC and 101.325 kPa; the figure of 3.7 g/L (from memory) fits
    a volume measured near 20 degC.

    Examples
    --------
    >>> round(priming_glucose(Q(1, "volume_co2"), Q(1, "L")).magnitude, 2)
    4.05

    References
    ----------
    Derived from molar masses; no published list was seen.
    """
    return carbonation_rise * volume * CARBON_DIOXIDE_GAS_DENSITY / GLUCOSE_GAS


@formula(
    carbonation_rise="volume_co2",
    volume="litre",
    gives="gram",
    valid={"carbonation_rise": (0.0, 5.0), "volume": (0.0, 500.0)},
    relative_error=0.1,
    error_because="sugar that goes to growing yeast gives no gas; Balling's balance has a tenth less",
    rests_on="molar masses, all of the sugar fermented",
)
def priming_glucose_monohydrate(carbonation_rise: float, volume: float) -> float:
    r"""Glucose with its water of crystals that brings a drink to a carbonation.

    .. math:: m = v\,V\,\frac{1.9768 \cdot 198.171}{2 \cdot 44.0095}

    Parameters
    ----------
    carbonation_rise : volume_co2, wanted beyond what the drink holds
    volume : litre, of drink

    Returns
    -------
    gram

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the rise lies outside 0 to 5 volumes or the drink outside 0 to 500 L.

    Notes
    -----
    Valid only in a finished drink; the usual corn sugar.

    Examples
    --------
    >>> round(priming_glucose_monohydrate(Q(1, "volume_co2"), Q(1, "L")).magnitude, 2)
    4.45

    References
    ----------
    Derived from molar masses; no published list was seen.
    """
    return carbonation_rise * volume * CARBON_DIOXIDE_GAS_DENSITY / MONOHYDRATE_GAS


@formula(
    carbonation_rise="volume_co2",
    volume="litre",
    gives="gram",
    valid={"carbonation_rise": (0.0, 5.0), "volume": (0.0, 500.0)},
    relative_error=0.1,
    error_because="sugar that goes to growing yeast gives no gas; Balling's balance has a tenth less",
    rests_on="molar masses, all of the sugar fermented",
)
def priming_sucrose(carbonation_rise: float, volume: float) -> float:
    r"""Table sugar that brings a drink to a carbonation.

    .. math:: m = v\,V\,\frac{1.9768 \cdot 342.297}{4 \cdot 44.0095}

    Parameters
    ----------
    carbonation_rise : volume_co2, wanted beyond what the drink holds
    volume : litre, of drink

    Returns
    -------
    gram

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the rise lies outside 0 to 5 volumes or the drink outside 0 to 500 L.

    Notes
    -----
    Valid only in a finished drink; also for other sugars of two rings, dry.

    Examples
    --------
    >>> round(priming_sucrose(Q(1, "volume_co2"), Q(1, "L")).magnitude, 2)
    3.84

    References
    ----------
    Derived from molar masses; no published list was seen.
    """
    return carbonation_rise * volume * CARBON_DIOXIDE_GAS_DENSITY / SUCROSE_GAS


@formula(
    carbonation_rise="volume_co2",
    volume="litre",
    gives="gram",
    valid={"carbonation_rise": (0.0, 5.0), "volume": (0.0, 500.0)},
    relative_error=0.1,
    error_because="scatter of measured fermentations about Balling's balance",
)
def priming_extract(carbonation_rise: float, volume: float) -> float:
    r"""Fermentable extract that brings a drink to a carbonation, in wort or malt extract.

    .. math:: m = v\,V\,\frac{1.9768 \cdot 2.0665}{0.9565}

    Parameters
    ----------
    carbonation_rise : volume_co2, wanted beyond what the drink holds
    volume : litre, of drink

    Returns
    -------
    gram

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the rise lies outside 0 to 5 volumes or the drink outside 0 to 500 L.

    Notes
    -----
    Valid only in a finished drink; extract that yeast takes, not all that a syrup holds. Lets some of it go to
    yeast.

    Examples
    --------
    >>> round(priming_extract(Q(1, "volume_co2"), Q(1, "L")).magnitude, 2)
    4.27

    References
    ----------
    - `nielsen_balling`
    - `balling_gaerungschemie`
    """
    return carbonation_rise * volume * CARBON_DIOXIDE_GAS_DENSITY / GAS_SHARE
