"""Portions: the extract and the water that so much of an ingredient brings.

In: its mass, its extract and its moisture as shares. Out: masses.
"""

from __future__ import annotations

from presenter.science.formula import formula

__all__ = ["extract_at_moisture", "extract_of_ingredient", "mass_in_grams", "water_in_ingredient"]


@formula(
    mass="kilogram",
    extract_share="percent",
    mash_yield="percent",
    gives="kilogram",
    valid={"mass": (0, 1e6), "extract_share": (0, 100), "mash_yield": (0, 100)},
    rests_on="mass balance",
)
def extract_of_ingredient(mass: float, extract_share: float, mash_yield: float = 100.0) -> float:
    r"""Mass of extract that an ingredient gives to the wort.

    .. math:: m_E = m \, \frac{E}{100} \, \frac{y}{100}

    Parameters
    ----------
    mass : kilogram, as weighed
    extract_share : percent of that mass, all of it used
    mash_yield : percent of that extract which reaches the wort; 100 for sugar and honey

    Returns
    -------
    kilogram

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : a share lies outside 0 to 100 percent, or the mass is below nothing.

    Notes
    -----
    In the 1850s Balling's brewhouse brought 51.75 of 60 parts of extract into the wort, a yield of 86 percent.

    Examples
    --------
    >>> round(extract_of_ingredient(Q(3, "kg"), Q(76.4, "percent"), Q(80, "percent")).magnitude, 3)
    1.834

    References
    ----------
    Mass balance; holds no measured constant.
    """
    return mass * extract_share / 100 * mash_yield / 100


@formula(mass="kilogram", moisture="percent", gives="kilogram", rests_on="mass balance")
def water_in_ingredient(mass: float, moisture: float) -> float:
    r"""Water that an ingredient brings with it.

    .. math:: m_W = m \, w / 100

    Parameters
    ----------
    mass : kilogram, as weighed
    moisture : percent of that mass

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
    >>> round(water_in_ingredient(Q(3, "kg"), Q(4, "percent")).magnitude, 3)
    0.12

    References
    ----------
    Mass balance; holds no measured constant.
    """
    return mass * moisture / 100.0


@formula(mass="kilogram", gives="gram", rests_on="the prefix kilo is a thousand, by definition")
def mass_in_grams(mass: float) -> float:
    r"""The same mass in grams.

    .. math:: m_g = 1000 \, m_{kg}

    Parameters
    ----------
    mass : kilogram

    Returns
    -------
    gram

    Raises
    ------
    WrongUnitError : the argument is no mass.

    Notes
    -----
    Valid always.

    Examples
    --------
    >>> mass_in_grams(Q(0.011, "kg")).magnitude
    11.0

    References
    ----------
    The definition of the kilogram; holds no measured constant.
    """
    return mass * 1000.0


@formula(
    extract_share="percent",
    moisture="percent",
    own_moisture="percent",
    gives="percent",
    valid={"extract_share": (0, 100), "moisture": (0, 99.9), "own_moisture": (0, 100)},
    rests_on="mass balance: its dry matter keeps its extract",
)
def extract_at_moisture(extract_share: float, moisture: float, own_moisture: float) -> float:
    r"""Extract of goods that are wetter or drier than those of a table.

    .. math:: E = E_0 \, \frac{100 - w}{100 - w_0}

    Parameters
    ----------
    extract_share : percent, of the table's goods as weighed
    moisture : percent, of the table's goods
    own_moisture : percent, of the goods in hand

    Returns
    -------
    percent, of the goods in hand as weighed

    Raises
    ------
    WrongUnitError : an argument is no share.
    OutOfRangeError : a share lies outside its range, 0 to 100 percent; the table's goods hold some dry matter.

    Notes
    -----
    Valid while the dry matter is of one make.

    Examples
    --------
    >>> round(extract_at_moisture(Q(82.9, "percent"), Q(17.1, "percent"), Q(20, "percent")).magnitude, 1)
    80.0

    References
    ----------
    Mass balance; holds no measured constant.
    """
    return extract_share * (100.0 - own_moisture) / (100.0 - moisture)
