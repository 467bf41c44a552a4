"""Fermentation: what becomes of the extract that yeast uses up, and what a serving holds.

In: masses, extracts, strengths. Out: masses of alcohol, gas and yeast, room the gas takes, grams and energy in
a serving. The heat that fermentation gives off is not worked: no source for it was seen.
"""

from __future__ import annotations

from presenter.science.alcohol_water import ALCOHOL_DENSITY
from presenter.science.formula import formula
from presenter.science.wort import mass_of_wort

__all__ = [
    "alcohol_from_fermented_extract",
    "alcohol_in_serving",
    "carbon_dioxide_from_fermented_extract",
    "carbon_dioxide_gas_volume",
    "energy_in_serving",
    "fermented_extract",
    "yeast_from_fermented_extract",
]


ALCOHOL_SHARE, GAS_SHARE, YEAST_SHARE = 1 / 2.0665, 0.9565 / 2.0665, 0.11 / 2.0665
"""Balling's balance: 2.0665 parts of extract give 1 of alcohol, 0.9565 of carbon dioxide and 0.11 of dry yeast."""
CARBON_DIOXIDE_GAS_DENSITY = 1.9768
"""Grams in a litre of the gas at 0 degC and 101.325 kPa: what one volume weighs. Derived."""
KILOJOULE_PER_KILOCALORIE = 4.184
ASH = 0.1
"""Ash in percent by mass, as the older committee rule takes it."""


@formula(
    wort_mass="kilogram",
    original_extract="degree_Plato",
    real_extract="degree_Plato",
    gives="kilogram",
    valid={"original_extract": (0.0, 40.0), "real_extract": (-1.0, 40.0)},
    relative_error=0.02,
    error_because="that of Balling's balance on modern beers",
    rests_on="Balling's mass balance",
)
def fermented_extract(wort_mass: float, original_extract: float, real_extract: float) -> float:
    r"""Extract that the yeast used up in a mass of wort.

    .. math:: E = m\,\frac{p - n}{100 - \frac{1.0665}{2.0665} n}

    Parameters
    ----------
    wort_mass : kilogram
    original_extract : degree_Plato, of the wort
    real_extract : degree_Plato, of the drink

    Returns
    -------
    kilogram

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : an extract lies outside its range, 0 to 40 before and -1 to 40 after.

    Notes
    -----
    Valid while gas leaves and yeast is left behind: real extract is a share of the drink, which weighs less than
    the wort did. Follows from the balance and holds no further constant.

    Examples
    --------
    >>> round(fermented_extract(Q(10, "kg"), Q(12, "degPlato"), Q(0, "degPlato")).magnitude, 3)
    1.2

    References
    ----------
    - `balling_gaerungschemie`
    - `nielsen_balling`
    """
    return wort_mass * (original_extract - real_extract) / (100 - 1.0665 / 2.0665 * real_extract)


@formula(
    fermented_extract="kilogram",
    gives="kilogram",
    relative_error=0.03,
    error_because="US beers and ales of 1917 gave 0.44 to 0.50 of the extract lost as alcohol, 0.469 together, against "
    "0.484 here",
)
def alcohol_from_fermented_extract(fermented_extract: float) -> float:
    r"""Alcohol made from the extract that the yeast used up.

    .. math:: m = E / 2.0665

    Parameters
    ----------
    fermented_extract : kilogram

    Returns
    -------
    kilogram

    Raises
    ------
    WrongUnitError : the argument is no mass.

    Notes
    -----
    Valid for wort; alcohol, gas and yeast together are the extract used.

    Examples
    --------
    >>> round(alcohol_from_fermented_extract(Q(1, "kg")).magnitude, 4)
    0.4839

    References
    ----------
    - `nielsen_balling`
    - `balling_gaerungschemie`
    """
    return fermented_extract * ALCOHOL_SHARE


@formula(
    fermented_extract="kilogram",
    gives="kilogram",
    relative_error=0.03,
    error_because="US beers and ales of 1917 gave 0.44 to 0.50 of the extract lost as alcohol, 0.469 together, against "
    "0.484 here",
)
def carbon_dioxide_from_fermented_extract(fermented_extract: float) -> float:
    r"""Carbon dioxide made from the extract that the yeast used up.

    .. math:: m = 0.9565\,E / 2.0665

    Parameters
    ----------
    fermented_extract : kilogram

    Returns
    -------
    kilogram

    Raises
    ------
    WrongUnitError : the argument is no mass.

    Notes
    -----
    Valid for wort; one text prints 0.9695 once, but its own balance fixes 0.9565.

    Examples
    --------
    >>> round(carbon_dioxide_from_fermented_extract(Q(1, "kg")).magnitude, 4)
    0.4629

    References
    ----------
    - `nielsen_balling`
    - `balling_gaerungschemie`
    """
    return fermented_extract * GAS_SHARE


@formula(
    fermented_extract="kilogram",
    gives="kilogram",
    relative_error=0.03,
    error_because="US beers and ales of 1917 gave 0.44 to 0.50 of the extract lost as alcohol, 0.469 together, against "
    "0.484 here",
)
def yeast_from_fermented_extract(fermented_extract: float) -> float:
    r"""Dry yeast grown from the extract that the yeast used up.

    .. math:: m = 0.11\,E / 2.0665

    Parameters
    ----------
    fermented_extract : kilogram

    Returns
    -------
    kilogram

    Raises
    ------
    WrongUnitError : the argument is no mass.

    Notes
    -----
    Valid for wort; dry matter, not the slurry that a brewer scoops.

    Examples
    --------
    >>> round(yeast_from_fermented_extract(Q(1, "kg")).magnitude, 4)
    0.0532

    References
    ----------
    - `nielsen_balling`
    - `balling_gaerungschemie`
    """
    return fermented_extract * YEAST_SHARE


@formula(
    mass="kilogram",
    temperature="degree_Celsius",
    gives="litre",
    valid={"mass": (0.0, 1000.0), "temperature": (0.0, 40.0)},
    relative_error=0.005,
    error_because="0.2 percent from an independent library over the range; weather moves air pressure by a few percent "
    "besides",
    rests_on="density of the gas at 0 degC, derived; checked against independent libraries",
)
def carbon_dioxide_gas_volume(mass: float, temperature: float) -> float:
    r"""Room that a mass of carbon dioxide takes up as gas.

    .. math:: V = \frac{m}{1.9768\ \text{g/L}} \cdot \frac{T + 273.15}{273.15}

    Parameters
    ----------
    mass : kilogram, of carbon dioxide
    temperature : degree_Celsius, of the room

    Returns
    -------
    litre

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the mass lies outside 0 to 1000 kg or the temperature outside 0 to 40 degC.

    Notes
    -----
    Valid at 101.325 kPa. The gas leaves faster or slower than this says; it tells how much, not when.

    Examples
    --------
    >>> round(carbon_dioxide_gas_volume(Q(0.75, "kg"), Q(20, "degC")).magnitude)
    407

    References
    ----------
    The density 1.9768 g/L at 0 degC and 101.325 kPa is the pack's derived figure; checked against two independent
    libraries.
    """
    return 1000 * mass / CARBON_DIOXIDE_GAS_DENSITY * (temperature + 273.15) / 273.15


@formula(
    volume="litre",
    strength="percent_by_volume",
    gives="gram",
    valid={"strength": (0.0, 100.0)},
    relative_error=0.0002,
    error_because="density of alcohol to a few parts in a hundred thousand",
)
def alcohol_in_serving(volume: float, strength: float) -> float:
    r"""Alcohol in a serving.

    .. math:: m = V\,\frac{q}{100}\,\rho_\text{alcohol}

    Parameters
    ----------
    volume : litre, of the drink, at 20 degC
    strength : percent_by_volume

    Returns
    -------
    gram

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the strength lies outside 0 to 100 percent.

    Notes
    -----
    Valid at 20 degC. The only use of this number is to say what is in the glass.

    Examples
    --------
    >>> round(alcohol_in_serving(Q(0.5, "L"), Q(5, "percent_by_volume")).magnitude, 1)
    19.7

    References
    ----------
    - `oiml_r22`
    """
    return volume * strength / 100 * ALCOHOL_DENSITY * 1000


@formula(
    volume="litre",
    gravity="gravity",
    alcohol_by_mass="percent",
    real_extract="degree_Plato",
    gives="kilojoule",
    valid={"gravity": (0.98, 1.17874), "alcohol_by_mass": (0.0, 20.0), "real_extract": (-1.0, 40.0)},
    relative_error=0.05,
    error_because="the factors 6.9 and 4 are rounded food values, and ash is taken as 0.1 percent for every drink",
)
def energy_in_serving(volume: float, gravity: float, alcohol_by_mass: float, real_extract: float) -> float:
    r"""Food energy of a serving of beer.

    .. math:: E = 4.184\,\frac{m}{100\ \text{g}}\,(6.9\,A + 4\,(n - 0.1))

    Parameters
    ----------
    volume : litre, at 20 degC
    gravity : gravity, of the drink, apparent, 20/20 degC
    alcohol_by_mass : percent, by mass
    real_extract : degree_Plato

    Returns
    -------
    kilojoule

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : an argument lies outside its range.

    Notes
    -----
    Valid for beer; the brewing chemists' rule as the Companion states it.

    Examples
    --------
    >>> round(energy_in_serving(Q(0.1, "L"), Q(1.010, "gravity"), Q(4.08, "percent"), Q(4.44, "degPlato")).magnitude)
    192

    References
    ----------
    - `oxford_companion_calories`
    - `fix1992`
    """
    hundreds_of_grams = 10 * mass_of_wort.plain(volume, gravity)
    return float(KILOJOULE_PER_KILOCALORIE * hundreds_of_grams * (6.9 * alcohol_by_mass + 4 * (real_extract - ASH)))
