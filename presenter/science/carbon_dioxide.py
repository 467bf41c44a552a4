"""Carbon dioxide in a drink: what it holds, what presses in a bottle, what is still to come.

In: temperatures, pressures, gravities, carbonation in volumes. Out: volumes, grams a litre, bar over the air's.
No figure here is a pressure that a bottle bears: no rating for used bottles was found.
"""

from __future__ import annotations

import math

from presenter.science.balling import real_extract_balling
from presenter.science.fermentation import CARBON_DIOXIDE_GAS_DENSITY, GAS_SHARE, fermented_extract
from presenter.science.formula import formula
from presenter.science.gravity import degrees_plato_from_gravity
from presenter.science.published_tables import between_rows, published_table
from presenter.science.water import water_density
from presenter.science.wort import mass_of_wort

__all__ = [
    "bottle_pressure",
    "carbon_dioxide_in_water",
    "carbon_dioxide_per_litre",
    "gas_hidden_in_gravity",
    "residual_carbon_dioxide",
]


PRESSURES = (5, 10, 20, 30, 40, 50, 100)
"""The table's columns, kPa of carbon dioxide."""
CARBON_DIOXIDE_MOLAR_MASS, WATER_MOLAR_MASS = 44.0095, 18.0153
BEER_FACTOR = 0.90
"""Beer holds this share of what water holds: 0.90 for a lager at 6 degC, 0.90 for champagne at 10."""


def _mole_fraction(temperature: float, pressure: float) -> float:
    """Mole fraction in water: straight in pressure, and straight in its logarithm between the table's temperatures."""
    table = published_table("carbon_dioxide_in_water")
    warmth = table.column("temperature")
    held = [
        math.exp(between_rows(temperature, warmth, [math.log(value) for value in table.column(f"p{column}")]))
        for column in PRESSURES
    ]
    return between_rows(pressure, PRESSURES, held) / 1000


@formula(
    temperature="degree_Celsius",
    pressure="kilopascal",
    gives="volume_co2",
    valid={"temperature": (0.0, 100.0), "pressure": (5.0, 101.325)},
    relative_error=0.02,
    error_because="the accuracy that the handbook states",
)
def carbon_dioxide_in_water(temperature: float, pressure: float) -> float:
    r"""Carbon dioxide that water holds under a pressure of the gas.

    .. math:: v = \frac{x}{1-x} \cdot \frac{44.0095}{18.0153} \cdot \frac{\rho_\text{water}}{1.9768\ \text{g/L}}

    Parameters
    ----------
    temperature : degree_Celsius
    pressure : kilopascal, partial pressure of the gas

    Returns
    -------
    volume_co2

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the temperature lies outside 0 to 100 degC or the pressure outside 5 to 101.325 kPa.

    Notes
    -----
    Valid at rest, gas and water in balance. One volume is a litre of gas at 0 degC and 101.325 kPa in a litre of
    liquid.

    Examples
    --------
    >>> round(carbon_dioxide_in_water(Q(20, "degC"), Q(100, "kilopascal")).magnitude, 2)
    0.87

    References
    ----------
    - `crc_co2`
    """
    share = _mole_fraction(temperature, pressure)
    grams = 1000 * water_density.plain(temperature) * share / (1 - share) * CARBON_DIOXIDE_MOLAR_MASS / WATER_MOLAR_MASS
    return float(grams / CARBON_DIOXIDE_GAS_DENSITY)


@formula(
    highest_temperature="degree_Celsius",
    gives="volume_co2",
    valid={"highest_temperature": (0.0, 40.0)},
    relative_error=0.05,
    error_because="2 percent in the table and the factor 0.90, which was seen at 6 and 10 degC only",
)
def residual_carbon_dioxide(highest_temperature: float) -> float:
    r"""Carbon dioxide that a still drink has kept from its fermentation, at most.

    .. math:: v = 0.90\,v_\text{water}(T, 101.325\ \text{kPa})

    Parameters
    ----------
    highest_temperature : degree_Celsius, at which the drink stood after it had finished

    Returns
    -------
    volume_co2

    Raises
    ------
    WrongUnitError : the argument is no temperature.
    OutOfRangeError : the temperature lies outside 0 to 40 degC.

    Notes
    -----
    Valid at sea level for a drink that has lost its surplus gas. It is the most that it can hold; a real drink may
    hold less. A drink that was ever warmer has less, so the highest temperature counts.

    Examples
    --------
    >>> round(residual_carbon_dioxide(Q(20, "degC")).magnitude, 2)
    0.79

    References
    ----------
    - `crc_co2`
    - `liger_belair2021`
    """
    return float(BEER_FACTOR * carbon_dioxide_in_water.plain(highest_temperature, 101.325))


@formula(
    carbonation="volume_co2",
    temperature="degree_Celsius",
    gives="bar",
    valid={"carbonation": (0.0, 6.0), "temperature": (0.0, 40.0)},
    error=0.3,
    error_because="5 percent of the absolute pressure of a lively warm bottle",
)
def bottle_pressure(carbonation: float, temperature: float) -> float:
    r"""Pressure over the air's in a closed bottle, once gas and drink have settled.

    .. math:: p = \frac{v}{0.90\,v_\text{water}(T, 1\ \text{bar})} - 1.01325

    Parameters
    ----------
    carbonation : volume_co2
    temperature : degree_Celsius, of the warmest storage

    Returns
    -------
    bar

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the carbonation lies outside 0 to 6 volumes or the temperature outside 0 to 40 degC.

    Notes
    -----
    Valid for a nearly full bottle at rest, the table carried straight on above 1 bar; below the residual gas the
    answer is under nothing. It is what presses, never what a bottle bears.

    Examples
    --------
    >>> round(bottle_pressure(Q(2.5, "volume_co2"), Q(20, "degC")).magnitude, 1)
    2.2

    References
    ----------
    - `crc_co2`
    - `liger_belair2021`
    """
    return float(carbonation / (BEER_FACTOR * carbon_dioxide_in_water.plain(temperature, 100.0)) - 1.01325)


@formula(
    carbonation="volume_co2",
    gives="gram / litre",
    relative_error=0.0005,
    error_because="0.0003 from an independent library",
    rests_on="density of the gas at 0 degC, derived; checked against an independent library",
)
def carbon_dioxide_per_litre(carbonation: float) -> float:
    r"""Carbon dioxide dissolved in a litre of drink.

    .. math:: c = 1.9768\,v

    Parameters
    ----------
    carbonation : volume_co2

    Returns
    -------
    gram / litre

    Raises
    ------
    WrongUnitError : the argument is no carbonation.

    Notes
    -----
    Valid for volumes at 0 degC and 101.325 kPa.

    Examples
    --------
    >>> round(carbon_dioxide_per_litre(Q(2.5, "volume_co2")).magnitude, 2)
    4.94

    References
    ----------
    What one volume weighs; the density of the gas at 0 degC and 101.325 kPa is derived.
    """
    return CARBON_DIOXIDE_GAS_DENSITY * carbonation


@formula(
    original_gravity="gravity",
    gravity="gravity",
    final_gravity="gravity",
    gives="volume_co2",
    valid={"original_gravity": (1.0, 1.106), "gravity": (0.98, 1.106), "final_gravity": (0.98, 1.106)},
    relative_error=0.1,
    error_because="Balling's gas is a tenth less than sugar could give, since some sugar goes to yeast",
)
def gas_hidden_in_gravity(original_gravity: float, gravity: float, final_gravity: float) -> float:
    r"""Carbon dioxide still to come from sugar that has not fermented yet.

    .. math:: v = \frac{0.9565}{2.0665} \cdot \frac{E(n_\text{now}) - E(n_\text{end})}{1.9768\ \text{g/L}}

    Parameters
    ----------
    original_gravity : gravity, apparent, 20/20 degC
    gravity : gravity, now
    final_gravity : gravity, where it would finish

    Returns
    -------
    volume_co2

    Raises
    ------
    WrongUnitError : an argument is no gravity.
    OutOfRangeError : a gravity lies outside its range, 1.000 to 1.106 before, 0.980 to 1.106 after.

    Notes
    -----
    Valid for beer; a hydrometer read to a thousandth hides half a volume by itself, which is why two equal readings
    days apart are asked for.

    Examples
    --------
    >>> unfinished = gas_hidden_in_gravity(Q(1.050, "gravity"), Q(1.015, "gravity"), Q(1.012, "gravity"))
    >>> round(unfinished.magnitude, 1)
    1.5

    References
    ----------
    - `balling_gaerungschemie`
    - `nielsen_balling`
    - `asbc_cubic`
    """
    original = degrees_plato_from_gravity.plain(original_gravity)
    mass = mass_of_wort.plain(1.0, original_gravity)

    def used(read: float) -> float:
        real = real_extract_balling.plain(original, degrees_plato_from_gravity.plain(read))
        return float(fermented_extract.plain(mass, original, real))

    unfermented = used(gravity)
    extract = 1000 * (used(final_gravity) - unfermented)
    return extract * GAS_SHARE / CARBON_DIOXIDE_GAS_DENSITY
