"""Heat of mixing: the specific heat of goods by their moisture, and the temperature of two things put together.

In: moisture, heat capacities and temperatures. Out: a specific heat, a temperature.
"""

from __future__ import annotations

from presenter.science.formula import OutOfRangeError, formula
from presenter.science.specific_heats import specific_heat_of_dry_goods
from presenter.science.water import water_specific_heat

__all__ = ["specific_heat_of_goods", "temperature_of_two"]

WATER_HEAT = float(water_specific_heat.plain(20.0))
"""Specific heat of water in a room, kJ/(kg degC): from the table, never typed again."""


@formula(
    moisture="percent",
    gives="kilojoule / kilogram / delta_degree_Celsius",
    valid={"moisture": (0.0, 100.0)},
    error=0.4,
    error_because="that of dry goods is from memory, and differs from one to the next",
    rests_on="water's specific heat, and that of dry sugar and starch from memory",
)
def specific_heat_of_goods(moisture: float) -> float:
    r"""Heat that warms one kilogram of honey, sugar, fruit or bread by one degree.

    .. math:: c = \frac{w}{100} c_w + \left(1 - \frac{w}{100}\right) c_d

    Parameters
    ----------
    moisture : percent, of the goods

    Returns
    -------
    kilojoule / kilogram / delta_degree_Celsius

    Raises
    ------
    WrongUnitError : the argument is no share.
    OutOfRangeError : the moisture lies outside 0 to 100 percent.

    Notes
    -----
    Water and dry matter each keep their own. The heat of dissolving, which cools a wort a little, is not in it.

    Examples
    --------
    >>> round(specific_heat_of_goods(Q(100, "percent")).magnitude, 2)
    4.18

    References
    ----------
    - `water_data_page`
    """
    wet = moisture / 100.0
    return wet * WATER_HEAT + (1.0 - wet) * specific_heat_of_dry_goods()


@formula(
    heat_capacity="kilojoule / delta_degree_Celsius",
    temperature="degree_Celsius",
    other_heat_capacity="kilojoule / delta_degree_Celsius",
    other_temperature="degree_Celsius",
    gives="degree_Celsius",
    rests_on="energy balance",
)
def temperature_of_two(
    heat_capacity: float, temperature: float, other_heat_capacity: float, other_temperature: float
) -> float:
    r"""Temperature of two things after they are stirred together.

    .. math:: T = (C_1 T_1 + C_2 T_2) / (C_1 + C_2)

    Parameters
    ----------
    heat_capacity : kilojoule / delta_degree_Celsius, of the one
    temperature : degree_Celsius, of the one
    other_heat_capacity : kilojoule / delta_degree_Celsius, of the other
    other_temperature : degree_Celsius, of the other

    Returns
    -------
    degree_Celsius

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : neither holds any heat, so there is nothing to mix.

    Notes
    -----
    Valid while nothing boils, freezes or warms by dissolving, and the vessel takes no heat.

    Examples
    --------
    >>> hot, cold = Q(40, "kJ/delta_degC"), Q(10, "kJ/delta_degC")
    >>> round(temperature_of_two(hot, Q(80, "degC"), cold, Q(20, "degC")).magnitude, 1)
    68.0

    References
    ----------
    Energy balance; holds no measured constant.
    """
    whole = heat_capacity + other_heat_capacity
    if whole == 0.0:
        unit = "kilojoule / delta_degree_Celsius"
        why = "neither thing holds any heat, so there is nothing to mix"
        raise OutOfRangeError("temperature_of_two", "heat_capacity", 0.0, unit, 0.0, 0.0, why)
    return (heat_capacity * temperature + other_heat_capacity * other_temperature) / whole
