"""Heating by fire, and what a boil takes away.

In: heat capacities in kJ per degree, temperatures, burner, rates. Out: energy, minutes, water boiled off.
"""

from __future__ import annotations

from presenter.science.boiling import water_heat_of_vaporisation
from presenter.science.formula import formula

__all__ = [
    "boil_off_energy",
    "boil_off_volume",
    "heating_energy",
    "heating_time",
]


@formula(
    heat_capacity="kilojoule / delta_degree_Celsius",
    temperature="degree_Celsius",
    target="degree_Celsius",
    gives="kilojoule",
    rests_on="energy balance",
)
def heating_energy(heat_capacity: float, temperature: float, target: float) -> float:
    r"""Heat that takes a liquid and its vessel from one temperature to another.

    .. math:: Q = C (T - T_0)

    Parameters
    ----------
    heat_capacity : kilojoule / delta_degree_Celsius, of mash and vessel together
    temperature : degree_Celsius, before
    target : degree_Celsius

    Returns
    -------
    kilojoule

    Raises
    ------
    WrongUnitError : an argument has another dimension.

    Notes
    -----
    Valid below the boil; what the fire loses on the way is in the heating time.

    Examples
    --------
    >>> round(heating_energy(Q(42.7, "kJ/delta_degC"), Q(50, "degC"), Q(66, "degC")).magnitude)
    683

    References
    ----------
    Energy balance; holds no measured constant.
    """
    return heat_capacity * (target - temperature)


@formula(
    energy="kilojoule",
    power="watt",
    efficiency="percent",
    gives="minute",
    valid={"power": (1.0, 10000000.0), "efficiency": (1.0, 100.0)},
    rests_on="energy balance; the efficiency is the author's own",
)
def heating_time(energy: float, power: float, efficiency: float) -> float:
    r"""Minutes that a burner needs.

    .. math:: t = \frac{Q}{P\,\eta}

    Parameters
    ----------
    energy : kilojoule, that the liquid must take up
    power : watt, of the burner
    efficiency : percent, share of the burner's heat that reaches the liquid

    Returns
    -------
    minute

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the efficiency lies outside 1 to 100 percent, or the burner gives under a watt.

    Notes
    -----
    Valid for a steady burner; lids and wind are in the efficiency, which the author measures once by timing a
    kettle.

    Examples
    --------
    >>> round(heating_time(Q(683, "kJ"), Q(3, "kW"), Q(50, "percent")).magnitude, 1)
    7.6

    References
    ----------
    Energy balance; the efficiency is the author's own figure.
    """
    return energy * 1000 / (power * efficiency / 100) / 60


@formula(
    boil_off_rate="litre / hour",
    time="minute",
    gives="litre",
    valid={"time": (0.0, 1440.0)},
    rests_on="the boil-off rate that the author states for the kettle",
)
def boil_off_volume(boil_off_rate: float, time: float) -> float:
    r"""Water that boils away.

    .. math:: V = r\,t

    Parameters
    ----------
    boil_off_rate : litre / hour
    time : minute

    Returns
    -------
    litre

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the time lies outside 0 to 1440 min.

    Notes
    -----
    Valid for a steady boil in the kettle that the rate was seen in; the volume counts as cold water.

    Examples
    --------
    >>> round(boil_off_volume(Q(2.4, "L/hour"), Q(30, "min")).magnitude, 2)
    1.2

    References
    ----------
    The author's own rate; holds no measured constant.
    """
    return boil_off_rate * time / 60


@formula(
    water_mass="kilogram",
    boiling_point="degree_Celsius",
    gives="kilojoule",
    valid={"boiling_point": (85.0, 101.0)},
    relative_error=0.0002,
    error_because="that of the heat of vaporisation",
    rests_on="energy balance",
)
def boil_off_energy(water_mass: float, boiling_point: float) -> float:
    r"""Heat that goes off with the steam.

    .. math:: Q = m\,h(T_b)

    Parameters
    ----------
    water_mass : kilogram, boiled away
    boiling_point : degree_Celsius

    Returns
    -------
    kilojoule

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the boiling point lies outside 85 to 101 degC.

    Notes
    -----
    Valid for water boiling in the open.

    Examples
    --------
    >>> round(boil_off_energy(Q(1.2, "kg"), Q(99.97, "degC")).magnitude)
    2708

    References
    ----------
    - `iapws_if97`
    """
    return float(water_mass * water_heat_of_vaporisation.plain(boiling_point))
