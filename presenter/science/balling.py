"""Balling's balance: real extract, alcohol by mass and the wort that a drink came from.

In: extracts in degrees Plato, before and after fermentation. Out: extract or percent of alcohol by mass.
"""

from __future__ import annotations

from presenter.science.formula import formula

__all__ = [
    "alcohol_by_mass_balling",
    "attenuation_quotient",
    "original_extract_aoac_935_20",
    "real_extract_balling",
]


@formula(
    original_extract="degree_Plato",
    gives="dimensionless",
    valid={"original_extract": (0.0, 25.0)},
    error=0.013,
    error_because="worst distance to the means of five sets of modern beers, 0.0125",
)
def attenuation_quotient(original_extract: float) -> float:
    r"""Ratio of apparent to real fall in extract, for a wort of a given strength.

    .. math:: q = 1.220 + 0.001\,p

    Parameters
    ----------
    original_extract : degree_Plato

    Returns
    -------
    dimensionless

    Raises
    ------
    WrongUnitError : the argument is no extract by mass.
    OutOfRangeError : the extract lies outside 0 to 25 degrees Plato.

    Notes
    -----
    His table runs from 9 to 16 degrees Plato and the line through it is carried to weak and strong worts.

    Examples
    --------
    >>> round(attenuation_quotient(Q(12, "degPlato")).magnitude, 3)
    1.232

    References
    ----------
    - `balling_gaerungschemie`
    """
    return 1.220 + 0.001 * original_extract


@formula(
    original_extract="degree_Plato",
    apparent_extract="degree_Plato",
    gives="degree_Plato",
    valid={"original_extract": (0.0, 25.0), "apparent_extract": (-5.2, 25.0)},
    error=0.1,
    error_because="0.01 to 0.09 degrees Plato below the means of five sets of modern beers",
)
def real_extract_balling(original_extract: float, apparent_extract: float) -> float:
    r"""Extract that is really left in a drink, where its gravity shows less.

    .. math:: n = p - \frac{p - m}{1.220 + 0.001\,p}

    Parameters
    ----------
    original_extract : degree_Plato, of the wort
    apparent_extract : degree_Plato, of the drink, from its gravity

    Returns
    -------
    degree_Plato

    Raises
    ------
    WrongUnitError : an argument is no extract by mass.
    OutOfRangeError : an extract lies outside its range, 0 to 25 before and -5.2 to 25 after.

    Notes
    -----
    Valid for beer; his table of quotients runs from 9 to 16 degrees Plato.

    Examples
    --------
    >>> round(real_extract_balling(Q(12, "degPlato"), Q(2.5, "degPlato")).magnitude, 2)
    4.29

    References
    ----------
    - `balling_gaerungschemie`
    """
    return float(
        original_extract - (original_extract - apparent_extract) / attenuation_quotient.plain(original_extract)
    )


@formula(
    original_extract="degree_Plato",
    real_extract="degree_Plato",
    gives="percent",
    valid={"original_extract": (0.0, 25.0), "real_extract": (-1.0, 25.0)},
    relative_error=0.02,
    error_because="original extract worked back from measured alcohol misses by up to 0.23 degrees Plato in 14, on the "
    "means of five sets of beers",
)
def alcohol_by_mass_balling(original_extract: float, real_extract: float) -> float:
    r"""Alcohol by mass in a drink, from what its yeast used up.

    .. math:: A = \frac{100\,(p - n)}{206.65 - 1.0665\,p}

    Parameters
    ----------
    original_extract : degree_Plato, of the wort
    real_extract : degree_Plato, of the drink

    Returns
    -------
    percent, by mass

    Raises
    ------
    WrongUnitError : an argument is no extract by mass.
    OutOfRangeError : an extract lies outside its range, 0 to 25 before and -1 to 25 after.

    Notes
    -----
    Valid while yeast makes one part of alcohol from 2.0665 parts of extract.

    Examples
    --------
    >>> round(alcohol_by_mass_balling(Q(12, "degPlato"), Q(0, "degPlato")).magnitude, 2)
    6.19

    References
    ----------
    - `balling_gaerungschemie`
    - `nielsen_balling`
    """
    return 100 * (original_extract - real_extract) / (206.65 - 1.0665 * original_extract)


@formula(
    alcohol_by_mass="percent",
    real_extract="degree_Plato",
    gives="degree_Plato",
    valid={"alcohol_by_mass": (0.0, 12.0), "real_extract": (-1.0, 25.0)},
    error=0.25,
    error_because="up to 0.23 degrees Plato from the means of five sets of beers; 0.1 for one lager of a large brewery",
)
def original_extract_aoac_935_20(alcohol_by_mass: float, real_extract: float) -> float:
    r"""Extract that the wort must have had, from the alcohol and extract of the drink.

    .. math:: p = \frac{100\,(2.0665\,A + n)}{100 + 1.0665\,A}

    Parameters
    ----------
    alcohol_by_mass : percent, by mass
    real_extract : degree_Plato, of the drink

    Returns
    -------
    degree_Plato

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the alcohol lies outside 0 to 12 percent by mass or the extract outside -1 to 25.

    Notes
    -----
    Valid for drinks whose alcohol came from their own extract; sugar or spirit added later upsets it.

    Examples
    --------
    >>> round(original_extract_aoac_935_20(Q(4, "percent"), Q(4.5, "degPlato")).magnitude, 2)
    12.24

    References
    ----------
    - `aoac_935_20`
    - `nielsen_balling`
    """
    return 100 * (2.0665 * alcohol_by_mass + real_extract) / (100 + 1.0665 * alcohol_by_mass)
