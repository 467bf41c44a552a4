"""Heat of a mash: what grist, water and vessel take to warm by one degree, and what slaking gives.

In: masses, moisture, specific heats. Out: specific heats, heat capacities, a temperature.
"""

from __future__ import annotations

import math

from presenter.science.formula import OutOfRangeError, formula
from presenter.science.published_tables import between_rows, published_table
from presenter.science.water import water_specific_heat

__all__ = [
    "grist_specific_heat",
    "heat_capacity",
    "mash_heat_capacity",
    "mixed_temperature",
    "slaking_rise",
    "specific_heat_of_moist_grist",
]


WATER_HEAT = float(water_specific_heat.plain(65.0))
"""Specific heat of water at mash heat, kJ/(kg degC): from the table, never typed again."""


@formula(
    moisture="percent",
    gives="kilojoule / kilogram / delta_degree_Celsius",
    valid={"moisture": (0.0, 8.0)},
    error=0.04,
    error_because="the table is printed to 0.01 of water's specific heat",
)
def grist_specific_heat(moisture: float) -> float:
    r"""Heat that warms one kilogram of malt by one degree.

    .. math:: c = s(w)\,c_\text{water}

    Parameters
    ----------
    moisture : percent, of the malt

    Returns
    -------
    kilojoule / kilogram / delta_degree_Celsius

    Raises
    ------
    WrongUnitError : the argument is no share.
    OutOfRangeError : the moisture lies outside 0 to 8 percent.

    Notes
    -----
    Valid for barley malt; straight lines between the seven rows. Raw grain is damper than the table and is refused.

    Examples
    --------
    >>> round(grist_specific_heat(Q(4, "percent")).magnitude, 3)
    1.675

    References
    ----------
    - `pauls_whites1984`
    - `water_data_page`
    """
    table = published_table("malt_heat")
    return WATER_HEAT * between_rows(moisture, table.column("moisture"), table.column("specific_heat"))


@formula(
    moisture="percent",
    gives="delta_degree_Celsius",
    valid={"moisture": (0.0, 8.0)},
    error=0.4,
    error_because="the Celsius and Fahrenheit columns of the print do not agree closer than 0.4 degC",
)
def slaking_rise(moisture: float) -> float:
    r"""Degrees by which wetting dry malt warms a mash.

    .. math:: \Delta T = \Delta T_i + (\Delta T_{i+1} - \Delta T_i) \frac{w - w_i}{w_{i+1} - w_i}

    Parameters
    ----------
    moisture : percent, of the malt

    Returns
    -------
    delta_degree_Celsius

    Raises
    ------
    WrongUnitError : the argument is no share.
    OutOfRangeError : the moisture lies outside 0 to 8 percent.

    Notes
    -----
    Valid for malt mashed with about 2.7 kg of water to the kilogram; a thinner mash warms less.

    Examples
    --------
    >>> slaking_rise(Q(4, "percent")).magnitude
    1.5

    References
    ----------
    - `pauls_whites1984`
    """
    table = published_table("malt_heat")
    return between_rows(moisture, table.column("moisture"), table.column("slaking"))


@formula(
    mass="kilogram",
    specific_heat="kilojoule / kilogram / delta_degree_Celsius",
    gives="kilojoule / delta_degree_Celsius",
    rests_on="energy balance",
)
def heat_capacity(mass: float, specific_heat: float) -> float:
    r"""Heat that warms a thing by one degree.

    .. math:: C = m c

    Parameters
    ----------
    mass : kilogram
    specific_heat : kilojoule / kilogram / delta_degree_Celsius

    Returns
    -------
    kilojoule / delta_degree_Celsius

    Raises
    ------
    WrongUnitError : an argument has another dimension.

    Notes
    -----
    Valid while the specific heat is known and hardly changes; for an empty vessel, a heap of stones.

    Examples
    --------
    >>> round(heat_capacity(Q(3, "kg"), Q(0.5, "kJ/kg/delta_degC")).magnitude, 2)
    1.5

    References
    ----------
    Energy balance; holds no measured constant.
    """
    return mass * specific_heat


@formula(
    grist_mass="kilogram",
    grist_specific_heat="kilojoule / kilogram / delta_degree_Celsius",
    water_mass="kilogram",
    vessel_heat_capacity="kilojoule / delta_degree_Celsius",
    gives="kilojoule / delta_degree_Celsius",
    relative_error=0.003,
    error_because="water's specific heat moves by 0.3 percent between 10 and 90 degC",
    rests_on="energy balance",
)
def mash_heat_capacity(
    grist_mass: float, grist_specific_heat: float, water_mass: float, vessel_heat_capacity: float
) -> float:
    r"""Heat that warms a mash and its vessel by one degree.

    .. math:: C = m_g c_g + m_w c_w + C_v

    Parameters
    ----------
    grist_mass : kilogram
    grist_specific_heat : kilojoule / kilogram / delta_degree_Celsius
    water_mass : kilogram
    vessel_heat_capacity : kilojoule / delta_degree_Celsius, of the part that warms with the mash

    Returns
    -------
    kilojoule / delta_degree_Celsius

    Raises
    ------
    WrongUnitError : an argument has another dimension.

    Notes
    -----
    Valid for water near mash heat.

    Examples
    --------
    >>> malt, tub = Q(1.675, "kJ/kg/delta_degC"), Q(0, "kJ/delta_degC")
    >>> round(mash_heat_capacity(Q(3, "kg"), malt, Q(9, "kg"), tub).magnitude, 1)
    42.7

    References
    ----------
    - `water_data_page`
    """
    return grist_mass * grist_specific_heat + water_mass * WATER_HEAT + vessel_heat_capacity


@formula(
    mass="kilogram",
    temperature="degree_Celsius",
    other_mass="kilogram",
    other_temperature="degree_Celsius",
    gives="degree_Celsius",
    rests_on="energy balance",
)
def mixed_temperature(mass: float, temperature: float, other_mass: float, other_temperature: float) -> float:
    r"""Temperature of two portions of one liquid after they are poured together.

    .. math:: T = \frac{m_1 T_1 + m_2 T_2}{m_1 + m_2}

    Parameters
    ----------
    mass : kilogram
    temperature : degree_Celsius
    other_mass : kilogram
    other_temperature : degree_Celsius

    Returns
    -------
    degree_Celsius

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : there is no mass to mix.

    Notes
    -----
    Valid while both portions have the same specific heat and the vessel takes no heat; the masses must not both be
    zero.

    Examples
    --------
    >>> round(mixed_temperature(Q(1, "kg"), Q(20, "degC"), Q(3, "kg"), Q(80, "degC")).magnitude, 1)
    65.0

    References
    ----------
    Energy balance; holds no measured constant.
    """
    if mass + other_mass <= 0:
        why = "both masses are nothing, so there is nothing to mix"
        raise OutOfRangeError("mixed_temperature", "mass", mass + other_mass, "kilogram", 0.0, math.inf, why)
    return (mass * temperature + other_mass * other_temperature) / (mass + other_mass)


@formula(
    moisture="percent",
    dry_specific_heat="kilojoule / kilogram / delta_degree_Celsius",
    water_specific_heat="kilojoule / kilogram / delta_degree_Celsius",
    gives="kilojoule / kilogram / delta_degree_Celsius",
    valid={"moisture": (0.0, 80.0), "dry_specific_heat": (0.5, 3.0), "water_specific_heat": (4.0, 4.3)},
    error=0.25,
    error_because="against the 2.74 to 2.80 kJ/(kg degC) quoted for bread it lies about 0.2 low",
    rests_on="energy balance: dry grain and water side by side",
)
def specific_heat_of_moist_grist(moisture: float, dry_specific_heat: float, water_specific_heat: float) -> float:
    r"""Heat that warms one kilogram of moist grist or bread by one degree.

    .. math:: c = w\,c_\text{water} + (1 - w)\,c_\text{dry}

    Parameters
    ----------
    moisture : percent, of the grist
    dry_specific_heat : kilojoule / kilogram / delta_degree_Celsius, of the grist without its water
    water_specific_heat : kilojoule / kilogram / delta_degree_Celsius

    Returns
    -------
    kilojoule / kilogram / delta_degree_Celsius

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the moisture lies outside 0 to 80 percent, or a specific heat is none.

    Notes
    -----
    Valid for bread and grain too moist for the table of malts. Wetting it sets no warmth free.

    Examples
    --------
    >>> dry, water = Q(1.6, "kJ/kg/delta_degC"), Q(4.18, "kJ/kg/delta_degC")
    >>> round(specific_heat_of_moist_grist(Q(40, "percent"), dry, water).magnitude, 2)
    2.63

    References
    ----------
    Energy balance; holds no measured constant.
    """
    return moisture / 100.0 * water_specific_heat + (1.0 - moisture / 100.0) * dry_specific_heat
