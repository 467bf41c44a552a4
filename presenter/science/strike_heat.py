"""Strike heat: how hot the water must be, and the mash that comes of it.

In: masses, temperatures, specific heats. Out: a temperature. Nothing is lost to the air here; see ``cooling``.
"""

from __future__ import annotations

from presenter.science.formula import formula
from presenter.science.mash_heat import WATER_HEAT

__all__ = [
    "mash_temperature",
    "strike_heat",
]


@formula(
    grist_mass="kilogram",
    grist_specific_heat="kilojoule / kilogram / delta_degree_Celsius",
    grist_temperature="degree_Celsius",
    water_mass="kilogram",
    vessel_heat_capacity="kilojoule / delta_degree_Celsius",
    vessel_temperature="degree_Celsius",
    slaking_rise="delta_degree_Celsius",
    target="degree_Celsius",
    gives="degree_Celsius",
    valid={
        "grist_mass": (0.0, 100000.0),
        "water_mass": (0.001, 1000000.0),
        "grist_temperature": (-20.0, 60.0),
        "vessel_temperature": (-20.0, 110.0),
        "target": (20.0, 100.0),
    },
    error=0.1,
    error_because="water's specific heat is taken at 65 degC: under 0.3 percent from 10 to 90 degC, 0.03 degC on a "
    "usual strike",
    rests_on="energy balance",
)
def strike_heat(
    grist_mass: float,
    grist_specific_heat: float,
    grist_temperature: float,
    water_mass: float,
    vessel_heat_capacity: float,
    vessel_temperature: float,
    slaking_rise: float,
    target: float,
) -> float:
    r"""Temperature of the water that brings grist and vessel to mash heat.

    .. math:: T_w = T + \frac{m_g c_g (T - T_g) + C_v (T - T_v) - \Delta T_s (m_g c_g + m_w c_w)}{m_w c_w}

    Parameters
    ----------
    grist_mass : kilogram
    grist_specific_heat : kilojoule / kilogram / delta_degree_Celsius
    grist_temperature : degree_Celsius
    water_mass : kilogram
    vessel_heat_capacity : kilojoule / delta_degree_Celsius, zero to leave the vessel out
    vessel_temperature : degree_Celsius
    slaking_rise : delta_degree_Celsius, zero to leave slaking out
    target : degree_Celsius, the mash's temperature when all is mixed

    Returns
    -------
    degree_Celsius

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : no water; or grist not within -20 to 60, vessel -20 to 110, target 20 to 100 degC.

    Notes
    -----
    Valid while the grist is wetted at once. Heat lost to the air while mixing is not in it, nor is the boil: an
    answer above the boiling point cannot be reached.

    Examples
    --------
    >>> nothing, cold = Q(0, "kJ/delta_degC"), Q(20, "degC")
    >>> malt = Q(1.675, "kJ/kg/delta_degC")
    >>> strike = strike_heat(Q(3, "kg"), malt, cold, Q(9, "kg"), nothing, cold, Q(0, "delta_degC"), Q(66, "degC"))
    >>> round(strike.magnitude, 1)
    72.1

    References
    ----------
    - `pauls_whites1984`
    - `water_data_page`
    """
    grist, water = grist_mass * grist_specific_heat, water_mass * WATER_HEAT
    wanted = grist * (target - grist_temperature) + vessel_heat_capacity * (target - vessel_temperature)
    return target + (wanted - slaking_rise * (grist + water)) / water


@formula(
    grist_mass="kilogram",
    grist_specific_heat="kilojoule / kilogram / delta_degree_Celsius",
    grist_temperature="degree_Celsius",
    water_mass="kilogram",
    vessel_heat_capacity="kilojoule / delta_degree_Celsius",
    vessel_temperature="degree_Celsius",
    slaking_rise="delta_degree_Celsius",
    water_temperature="degree_Celsius",
    gives="degree_Celsius",
    valid={
        "grist_mass": (0.0, 100000.0),
        "water_mass": (0.001, 1000000.0),
        "grist_temperature": (-20.0, 60.0),
        "vessel_temperature": (-20.0, 110.0),
        "water_temperature": (0.0, 101.0),
    },
    error=0.1,
    error_because="water's specific heat is taken at 65 degC: under 0.3 percent from 10 to 90 degC, 0.03 degC on a "
    "usual mash",
    rests_on="energy balance",
)
def mash_temperature(
    grist_mass: float,
    grist_specific_heat: float,
    grist_temperature: float,
    water_mass: float,
    vessel_heat_capacity: float,
    vessel_temperature: float,
    slaking_rise: float,
    water_temperature: float,
) -> float:
    r"""Temperature of a mash when grist, water and vessel have come together.

    .. math:: T = \frac{m_g c_g T_g + m_w c_w T_w + C_v T_v + \Delta T_s (m_g c_g + m_w c_w)}{m_g c_g + m_w c_w + C_v}

    Parameters
    ----------
    grist_mass : kilogram
    grist_specific_heat : kilojoule / kilogram / delta_degree_Celsius
    grist_temperature : degree_Celsius
    water_mass : kilogram
    vessel_heat_capacity : kilojoule / delta_degree_Celsius, zero to leave the vessel out
    vessel_temperature : degree_Celsius
    slaking_rise : delta_degree_Celsius, zero to leave slaking out
    water_temperature : degree_Celsius

    Returns
    -------
    degree_Celsius

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : no water; or grist not within -20 to 60, vessel -20 to 110, water 0 to 101 degC.

    Notes
    -----
    Valid while the grist is wetted at once; heat lost to the air while mixing is not in it. The inverse of the
    strike heat.

    Examples
    --------
    >>> nothing, cold = Q(0, "kJ/delta_degC"), Q(20, "degC")
    >>> malt = Q(1.675, "kJ/kg/delta_degC")
    >>> mash = mash_temperature(Q(3, "kg"), malt, cold, Q(9, "kg"), nothing, cold, Q(0, "delta_degC"), Q(72, "degC"))
    >>> round(mash.magnitude, 1)
    65.9

    References
    ----------
    - `pauls_whites1984`
    - `water_data_page`
    """
    grist, water = grist_mass * grist_specific_heat, water_mass * WATER_HEAT
    warmth = grist * grist_temperature + water * water_temperature + vessel_heat_capacity * vessel_temperature
    return (warmth + slaking_rise * (grist + water)) / (grist + water + vessel_heat_capacity)
