"""Raising a mash: by hot water, by hot stones, by a drawn portion.

In: heat capacities in kJ per degree, temperatures, masses. Out: amounts and temperatures.
"""

from __future__ import annotations

from presenter.science.boiling import water_boiling_point, water_heat_of_vaporisation
from presenter.science.formula import OutOfRangeError, formula
from presenter.science.mash_heat import WATER_HEAT

__all__ = [
    "drawn_mash_share",
    "hot_stones_to_raise",
    "hot_water_to_raise",
    "temperature_after_hot_stones",
    "temperature_after_hot_water",
]


BOILING = float(water_boiling_point.plain(101.325))
"""Boiling point at the sea, at which steam is taken to leave."""
STEAM_HEAT = float(water_heat_of_vaporisation.plain(BOILING))
"""Heat of vaporisation there, kJ/kg."""


@formula(
    heat_capacity="kilojoule / delta_degree_Celsius",
    temperature="degree_Celsius",
    water_temperature="degree_Celsius",
    target="degree_Celsius",
    gives="kilogram",
    valid={"target": (0.0, 95.0)},
    relative_error=0.003,
    error_because="water's specific heat is taken at 65 degC",
    rests_on="energy balance",
)
def hot_water_to_raise(heat_capacity: float, temperature: float, water_temperature: float, target: float) -> float:
    r"""Hot water that raises a mash to a temperature.

    .. math:: m = \frac{C (T - T_0)}{c_w (T_w - T)}

    Parameters
    ----------
    heat_capacity : kilojoule / delta_degree_Celsius, of mash and vessel together
    temperature : degree_Celsius, before
    water_temperature : degree_Celsius, of the hot water
    target : degree_Celsius

    Returns
    -------
    kilogram

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the target lies outside 0 to 95 degC, or the water is no hotter than it.

    Notes
    -----
    Valid for a target below the water's temperature; at or above it no amount would do.

    Examples
    --------
    >>> round(hot_water_to_raise(Q(42.7, "kJ/delta_degC"), Q(50, "degC"), Q(98, "degC"), Q(66, "degC")).magnitude, 2)
    5.1

    References
    ----------
    - `water_data_page`
    """
    if water_temperature <= target:
        why = f"no amount of water at {water_temperature:.4g} degC raises a mash to {target:.4g} degC"
        raise OutOfRangeError("hot_water_to_raise", "target", target, "degree_Celsius", 0.0, water_temperature, why)
    return heat_capacity * (target - temperature) / (WATER_HEAT * (water_temperature - target))


@formula(
    heat_capacity="kilojoule / delta_degree_Celsius",
    temperature="degree_Celsius",
    water_mass="kilogram",
    water_temperature="degree_Celsius",
    gives="degree_Celsius",
    error=0.1,
    error_because="water's specific heat is taken at 65 degC: under 0.3 percent",
    rests_on="energy balance",
)
def temperature_after_hot_water(
    heat_capacity: float, temperature: float, water_mass: float, water_temperature: float
) -> float:
    r"""Temperature of a mash after hot water has been added.

    .. math:: T = \frac{C T_0 + m c_w T_w}{C + m c_w}

    Parameters
    ----------
    heat_capacity : kilojoule / delta_degree_Celsius, of mash and vessel together
    temperature : degree_Celsius, before
    water_mass : kilogram
    water_temperature : degree_Celsius

    Returns
    -------
    degree_Celsius

    Raises
    ------
    WrongUnitError : an argument has another dimension.

    Notes
    -----
    Valid while nothing is lost to the air.

    Examples
    --------
    >>> mash = Q(42.7, "kJ/delta_degC")
    >>> round(temperature_after_hot_water(mash, Q(50, "degC"), Q(5.1, "kg"), Q(98, "degC")).magnitude, 1)
    66.0

    References
    ----------
    - `water_data_page`
    """
    added = water_mass * WATER_HEAT
    return (heat_capacity * temperature + added * water_temperature) / (heat_capacity + added)


@formula(
    heat_capacity="kilojoule / delta_degree_Celsius",
    temperature="degree_Celsius",
    stone_mass="kilogram",
    stone_specific_heat="kilojoule / kilogram / delta_degree_Celsius",
    stone_temperature="degree_Celsius",
    steam_mass="kilogram",
    gives="degree_Celsius",
    valid={"stone_temperature": (20.0, 900.0)},
    error=1.0,
    error_because="steam is never weighed; 0.02 kg more or less moves a 12 L mash by a degree",
    rests_on="energy balance",
)
def temperature_after_hot_stones(
    heat_capacity: float,
    temperature: float,
    stone_mass: float,
    stone_specific_heat: float,
    stone_temperature: float,
    steam_mass: float,
) -> float:
    r"""Temperature of a mash after hot stones have been put in.

    .. math:: T = \frac{C T_0 + m_s c_s T_s - m_v (h + c_w T_b)}{C + m_s c_s - m_v c_w}

    Parameters
    ----------
    heat_capacity : kilojoule / delta_degree_Celsius, of mash and vessel together
    temperature : degree_Celsius, before
    stone_mass : kilogram
    stone_specific_heat : kilojoule / kilogram / delta_degree_Celsius
    stone_temperature : degree_Celsius, when it goes in
    steam_mass : kilogram, lost as the stones go in

    Returns
    -------
    degree_Celsius

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the stones lie outside 20 to 900 degC.

    Notes
    -----
    Valid while the stones give up all their heat to the mash. The stone's specific heat is the author's own figure.
    Steam leaves at the boil.

    Examples
    --------
    >>> mash, stone = Q(42.7, "kJ/delta_degC"), Q(0.84, "kJ/kg/delta_degC")
    >>> hot = temperature_after_hot_stones(mash, Q(50, "degC"), Q(3, "kg"), stone, Q(400, "degC"), Q(0.05, "kg"))
    >>> round(hot.magnitude, 1)
    66.9

    References
    ----------
    - `iapws_if97`
    - `water_data_page`
    """
    stones = stone_mass * stone_specific_heat
    steam = steam_mass * (STEAM_HEAT + WATER_HEAT * BOILING)
    left = heat_capacity + stones - steam_mass * WATER_HEAT
    return (heat_capacity * temperature + stones * stone_temperature - steam) / left


@formula(
    heat_capacity="kilojoule / delta_degree_Celsius",
    temperature="degree_Celsius",
    stone_specific_heat="kilojoule / kilogram / delta_degree_Celsius",
    stone_temperature="degree_Celsius",
    steam_mass="kilogram",
    target="degree_Celsius",
    gives="kilogram",
    valid={"stone_temperature": (100.0, 900.0), "target": (0.0, 99.0)},
    relative_error=0.1,
    error_because="steam is never weighed; 0.02 kg more or less is a twentieth of the heat of a usual rise",
    rests_on="energy balance",
)
def hot_stones_to_raise(
    heat_capacity: float,
    temperature: float,
    stone_specific_heat: float,
    stone_temperature: float,
    steam_mass: float,
    target: float,
) -> float:
    r"""Hot stones that raise a mash to a temperature.

    .. math:: m_s = \frac{(C - m_v c_w)\,T - C T_0 + m_v (h + c_w T_b)}{c_s (T_s - T)}

    Parameters
    ----------
    heat_capacity : kilojoule / delta_degree_Celsius, of mash and vessel together
    temperature : degree_Celsius, before
    stone_specific_heat : kilojoule / kilogram / delta_degree_Celsius
    stone_temperature : degree_Celsius, when it goes in
    steam_mass : kilogram, lost as the stones go in
    target : degree_Celsius

    Returns
    -------
    kilogram

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : stones not within 100 to 900 degC, target not within 0 to 99 or not below them.

    Notes
    -----
    Valid while the stones give up all their heat to the mash; the stone's specific heat is the author's own figure.

    Examples
    --------
    >>> mash, stone = Q(42.7, "kJ/delta_degC"), Q(0.84, "kJ/kg/delta_degC")
    >>> stones = hot_stones_to_raise(mash, Q(50, "degC"), stone, Q(400, "degC"), Q(0.05, "kg"), Q(66, "degC"))
    >>> round(stones.magnitude, 2)
    2.86

    References
    ----------
    - `iapws_if97`
    - `water_data_page`
    """
    if stone_temperature <= target:
        why = f"no amount of stones at {stone_temperature:.4g} degC raises a mash to {target:.4g} degC"
        raise OutOfRangeError("hot_stones_to_raise", "target", target, "degree_Celsius", 0.0, stone_temperature, why)
    steam = steam_mass * (STEAM_HEAT + WATER_HEAT * BOILING)
    wanted = (heat_capacity - steam_mass * WATER_HEAT) * target - heat_capacity * temperature + steam
    return wanted / (stone_specific_heat * (stone_temperature - target))


@formula(
    mash_heat_capacity="kilojoule / delta_degree_Celsius",
    vessel_heat_capacity="kilojoule / delta_degree_Celsius",
    temperature="degree_Celsius",
    drawn_temperature="degree_Celsius",
    target="degree_Celsius",
    gives="percent",
    valid={"target": (0.0, 99.0)},
    rests_on="energy balance",
)
def drawn_mash_share(
    mash_heat_capacity: float, vessel_heat_capacity: float, temperature: float, drawn_temperature: float, target: float
) -> float:
    r"""Share of a mash to draw, heat and put back, to raise the whole.

    .. math:: f = \frac{(C_m + C_v)(T - T_0)}{C_m (T_d - T_0)} \cdot 100

    Parameters
    ----------
    mash_heat_capacity : kilojoule / delta_degree_Celsius, without the vessel
    vessel_heat_capacity : kilojoule / delta_degree_Celsius
    temperature : degree_Celsius, before
    drawn_temperature : degree_Celsius, of the drawn portion when it goes back
    target : degree_Celsius

    Returns
    -------
    percent

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the target lies outside 0 to 99 degC, or the drawn portion is no hotter than the mash.

    Notes
    -----
    Valid while the drawn portion is as thick as the rest and nothing boils away. Over 100 percent cannot be done.

    Examples
    --------
    >>> mash, tub = Q(42.7, "kJ/delta_degC"), Q(0, "kJ/delta_degC")
    >>> round(drawn_mash_share(mash, tub, Q(50, "degC"), Q(98, "degC"), Q(66, "degC")).magnitude, 1)
    33.3

    References
    ----------
    Energy balance; holds no measured constant.
    """
    if drawn_temperature <= temperature:
        why = f"a portion at {drawn_temperature:.4g} degC cannot raise a mash at {temperature:.4g} degC"
        raise OutOfRangeError(
            "drawn_mash_share", "drawn_temperature", drawn_temperature, "degree_Celsius", temperature, 110.0, why
        )
    whole = mash_heat_capacity + vessel_heat_capacity
    return 100 * whole * (target - temperature) / (mash_heat_capacity * (drawn_temperature - temperature))
