"""Cooling: what a mash or a wort loses while it stands.

In: temperatures, a rate that the author has seen, times. Out: temperatures, degrees lost, hours.
"""

from __future__ import annotations

import math

from presenter.science.formula import OutOfRangeError, formula

__all__ = [
    "cooling_over_hold",
    "cooling_time_constant",
    "temperature_after_cooling",
    "time_to_cool",
]


@formula(
    cooling_rate="delta_degree_Celsius / hour",
    hold="minute",
    gives="delta_degree_Celsius",
    valid={"hold": (0.0, 1440.0)},
    rests_on="the cooling rate that the author states for the vessel",
)
def cooling_over_hold(cooling_rate: float, hold: float) -> float:
    r"""Degrees that a standing mash loses during a rest.

    .. math:: \Delta T = r\,t

    Parameters
    ----------
    cooling_rate : delta_degree_Celsius / hour
    hold : minute

    Returns
    -------
    delta_degree_Celsius

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the hold lies outside 0 to 1440 min.

    Notes
    -----
    Valid while the mash stays much hotter than the room, so that the rate hardly falls.

    Examples
    --------
    >>> round(cooling_over_hold(Q(3, "delta_degC/hour"), Q(75, "min")).magnitude, 2)
    3.75

    References
    ----------
    The author's own rate; holds no measured constant.
    """
    return cooling_rate * hold / 60


@formula(
    temperature="degree_Celsius",
    surroundings="degree_Celsius",
    cooling_rate="delta_degree_Celsius / hour",
    gives="hour",
    valid={"cooling_rate": (0.001, 1000.0)},
    rests_on="Newton's law of cooling and the author's own rate",
)
def cooling_time_constant(temperature: float, surroundings: float, cooling_rate: float) -> float:
    r"""Hours in which a vessel loses 63 percent of its warmth above the room.

    .. math:: \tau = (T - T_a) / r

    Parameters
    ----------
    temperature : degree_Celsius, of the liquid when the rate was seen
    surroundings : degree_Celsius
    cooling_rate : delta_degree_Celsius / hour

    Returns
    -------
    hour

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the rate lies outside 0.001 to 1000 degC an hour.

    Notes
    -----
    Valid for a liquid warmer than its room; a rate of nothing has no answer.

    Examples
    --------
    >>> round(cooling_time_constant(Q(66, "degC"), Q(20, "degC"), Q(3, "delta_degC/hour")).magnitude, 1)
    15.3

    References
    ----------
    Newton's law of cooling; holds no measured constant.
    """
    return (temperature - surroundings) / cooling_rate


@formula(
    temperature="degree_Celsius",
    surroundings="degree_Celsius",
    time_constant="hour",
    time="hour",
    gives="degree_Celsius",
    valid={"time_constant": (0.001, 100000.0), "time": (0.0, 240.0)},
    rests_on="Newton's law of cooling",
)
def temperature_after_cooling(temperature: float, surroundings: float, time_constant: float, time: float) -> float:
    r"""Temperature of a liquid that has stood in a cooler room.

    .. math:: T(t) = T_a + (T_0 - T_a)\,e^{-t/\tau}

    Parameters
    ----------
    temperature : degree_Celsius, at the start
    surroundings : degree_Celsius
    time_constant : hour
    time : hour

    Returns
    -------
    degree_Celsius

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the time lies outside 0 to 240 h, or the time constant is nothing.

    Notes
    -----
    Valid while the room keeps its temperature and the liquid is stirred or small; steam off an open vessel cools it
    faster.

    Examples
    --------
    >>> round(temperature_after_cooling(Q(66, "degC"), Q(20, "degC"), Q(15.33, "hour"), Q(2, "hour")).magnitude, 1)
    60.4

    References
    ----------
    Newton's law of cooling; holds no measured constant.
    """
    return surroundings + (temperature - surroundings) * math.exp(-time / time_constant)


@formula(
    temperature="degree_Celsius",
    surroundings="degree_Celsius",
    time_constant="hour",
    target="degree_Celsius",
    gives="hour",
    rests_on="Newton's law of cooling",
)
def time_to_cool(temperature: float, surroundings: float, time_constant: float, target: float) -> float:
    r"""Hours until a liquid has cooled to a temperature.

    .. math:: t = \tau \ln \frac{T_0 - T_a}{T - T_a}

    Parameters
    ----------
    temperature : degree_Celsius, at the start
    surroundings : degree_Celsius
    time_constant : hour
    target : degree_Celsius

    Returns
    -------
    hour

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the target lies outside the span from the room to the start.

    Notes
    -----
    Valid for a target between the start and the room; the room itself is never reached.

    Examples
    --------
    >>> round(time_to_cool(Q(66, "degC"), Q(20, "degC"), Q(15.33, "hour"), Q(60.4, "degC")).magnitude, 1)
    2.0

    References
    ----------
    Newton's law of cooling; holds no measured constant.
    """
    share = (temperature - surroundings) / (target - surroundings) if target != surroundings else math.inf
    if not 1.0 <= share < math.inf:
        why = (
            f"a liquid at {temperature:.4g} degC in a room at {surroundings:.4g} degC never cools to {target:.4g} degC"
        )
        raise OutOfRangeError("time_to_cool", "target", target, "degree_Celsius", surroundings, temperature, why)
    return time_constant * math.log(share)
