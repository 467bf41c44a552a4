"""The lukewarm hours: how long a cooling wort spends where germs grow.

In: temperatures and the time between them. Out: minutes between 57 and 5 degrees Celsius.
"""

from __future__ import annotations

from presenter.science.formula import formula

__all__ = ["GERMS_GROW_BELOW", "minutes_lukewarm"]

GERMS_GROW_BELOW = 57.0  # degC, where the food rule's count begins


@formula(
    start="degree_Celsius",
    end="degree_Celsius",
    time="minute",
    gives="minute",
    valid={"start": (-5, 110), "end": (-5, 110), "time": (0, 1e5)},
    rests_on="a straight line between two temperatures",
)
def minutes_lukewarm(start: float, end: float, time: float) -> float:
    r"""Time that a liquid spends below 57 degrees Celsius while it cools.

    .. math:: t_w = t \, \frac{\min(57, T_1) - T_2}{T_1 - T_2}

    Parameters
    ----------
    start : degree_Celsius
    end : degree_Celsius, lower than the start
    time : minute, from start to end

    Returns
    -------
    minute

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : a temperature lies outside -5 to 110 degrees Celsius.

    Notes
    -----
    A liquid in a cold bath cools fastest while it is hot, so the true time below 57 is longer than this straight
    line gives; count from a thermometer where it matters.

    Examples
    --------
    >>> round(minutes_lukewarm(Q(97, "degC"), Q(17, "degC"), Q(40, "minute")).magnitude, 1)
    20.0

    References
    ----------
    Geometry of a straight line; the limit of 57 degrees is the food rule's.
    """
    if start <= end:
        return 0.0
    return time * max(0.0, min(GERMS_GROW_BELOW, start) - end) / (start - end)
