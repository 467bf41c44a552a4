"""Heat against germs: pasteurisation units, tenfold cuts along a course of temperature, and the boiling rule.

In: temperatures in degC, minutes, altitude. Out: units, tenfold cuts, minutes. Teaching numbers from the media
that their sources name: they say what one heating does, never that a drink may be drunk.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache

from presenter.science.formula import formula
from presenter.science.published_tables import between_rows, published_table

__all__ = [
    "Organism",
    "boil_hold",
    "log_reduction",
    "log_reduction_along",
    "organisms",
    "organisms_without_a_usable_value",
    "pasteurisation_units",
    "pasteurisation_units_along",
]


@formula(
    temperature="degree_Celsius",
    time="minute",
    gives="pasteurisation_unit",
    valid={"temperature": (50.0, 80.0)},
    relative_error=0.05,
    error_because="the two published forms differ by 2 percent to 67 degC and 5 at 80",
)
def pasteurisation_units(temperature: float, time: float) -> float:
    r"""Pasteurisation units of a hold at one temperature.

    .. math:: P = t \cdot 1.393^{T - 60}

    Parameters
    ----------
    temperature : degree_Celsius
    time : minute

    Returns
    -------
    pasteurisation_unit

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the temperature lies outside 50 to 80 degC.

    Notes
    -----
    Valid for the yeasts and bacteria that spoil beer, for which the unit was made: one unit is one minute at 60
    degC. Below 50 degC nothing should be counted. It says nothing of spores.

    Examples
    --------
    >>> round(pasteurisation_units(Q(65, "degC"), Q(10, "min")).magnitude, 1)
    52.5

    References
    ----------
    - `pu_sizes`
    """
    return float(time * 1.393 ** (temperature - 60))


@formula(
    time="minute",
    decimal_time="minute",
    gives="log_reduction",
    valid={"time": (0.0, 1440.0), "decimal_time": (0.0001, 100000.0)},
    rests_on="first-order death, as the decimal time itself assumes",
)
def log_reduction(time: float, decimal_time: float) -> float:
    r"""Tenfold cuts in the number of an organism during a hold.

    .. math:: n = t / D

    Parameters
    ----------
    time : minute
    decimal_time : minute, in which nine of ten die, at that temperature

    Returns
    -------
    log_reduction

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the time lies outside 0 to 1440 min, or the decimal time is nothing.

    Notes
    -----
    Valid where the organism dies in one proportion per minute; spores and some viruses are known not to, and live
    longer. A teaching number from the medium of its source.

    Examples
    --------
    >>> round(log_reduction(Q(10, "min"), Q(2, "min")).magnitude, 1)
    5.0

    References
    ----------
    - `peleg_cole_2000`
    """
    return time / decimal_time


@formula(
    altitude="metre",
    gives="minute",
    valid={"altitude": (-100.0, 5000.0)},
)
def boil_hold(altitude: float) -> float:
    r"""Minutes at a rolling boil that public advice asks of water.

    .. math:: t = 1 \text{ to } 1500\ \text{m}, \quad 3 \text{ above}

    Parameters
    ----------
    altitude : metre, above the sea

    Returns
    -------
    minute

    Raises
    ------
    WrongUnitError : the argument is no length.
    OutOfRangeError : the altitude lies outside -100 to 5000 m.

    Notes
    -----
    Valid for water that may carry germs, not for water fouled with chemicals. The advice names 2000 m (6562 ft)
    and, later, 5000 ft; the lower, 1500 m, is followed. Spores survive boiling.

    Examples
    --------
    >>> boil_hold(Q(90, "m")).magnitude
    1.0

    References
    ----------
    - `epa_wsg11`
    - `epa_wsg118`
    - `epa_5000ft`
    """
    return 1.0 if altitude <= 1500 else 3.0


@dataclass(frozen=True)
class Organism:
    """One organism with a usable published heat resistance.

    ``points`` are (temperature in degC, decimal time in minutes), coldest first, the slowest death printed.
    """

    name: str
    form: str
    medium: str
    source: str
    points: tuple[tuple[float, float], ...]
    note: str = ""


@cache
def organisms() -> dict[str, Organism]:
    """Every organism whose decimal times were read in a source, by name."""
    found = {}
    for row in published_table("heat_resistance").rows:
        if "points" in row:
            points = tuple((float(point["temperature"]), float(point["minutes"])) for point in row["points"])
            name = str(row["name"])
            found[name] = Organism(
                name, str(row["form"]), str(row["medium"]), str(row["source"]), points, str(row.get("note", ""))
            )
    return found


@cache
def organisms_without_a_usable_value() -> dict[str, str]:
    """Organisms for which no usable decimal time was read, each with the reason; nothing is counted for them."""
    return {
        str(row["name"]): str(row["unusable"]) for row in published_table("heat_resistance").rows if "unusable" in row
    }


def log_reduction_along(organism: Organism, times: Sequence[float], temperatures: Sequence[float]) -> float:
    """Tenfold cuts in an organism along a course of temperature, at least.

    ``times`` in minutes, rising; ``temperatures`` in degC, straight between them. Minutes colder than the
    coldest published point count for nothing; minutes hotter than the hottest count as if at it. Both make the
    answer too small, never too large. Between points the logarithm of the decimal time is straight.
    """
    warmth = [temperature for temperature, _ in organism.points]
    rates = [-math.log(minutes) for _, minutes in organism.points]
    return _killed_along(times, temperatures, warmth, rates)


def pasteurisation_units_along(times: Sequence[float], temperatures: Sequence[float]) -> float:
    """Pasteurisation units along a course of temperature; under 50 degC nothing, over 80 as if at 80.

    ``times`` in minutes, rising; ``temperatures`` in degC, straight between them.
    """
    ends = [50.0, 80.0]
    return _killed_along(times, temperatures, ends, [math.log(pasteurisation_units.plain(end, 1.0)) for end in ends])


def _killed_along(
    times: Sequence[float], temperatures: Sequence[float], warmth: Sequence[float], rates: Sequence[float]
) -> float:
    """The integral of a rate whose logarithm is straight between ``warmth`` points, none below, level above."""
    total = 0.0
    for start, end, first, last in _pieces(times, temperatures):
        marks = sorted({0.0, 1.0, *((mark - first) / (last - first) for mark in warmth if first != last)})
        inside = [mark for mark in marks if 0.0 <= mark <= 1.0]
        for low, high in itertools.pairwise(inside):
            minutes = (end - start) * (high - low)
            cool, hot = sorted((first + (last - first) * low, first + (last - first) * high))
            total += minutes * _mean_rate(cool, hot, warmth, rates)
    return total


def _pieces(times: Sequence[float], temperatures: Sequence[float]) -> Iterator[tuple[float, float, float, float]]:
    """The straight pieces of a course: start, end, first and last temperature.

    Raises ValueError where the two lists differ in length or time runs backwards: a fault of the caller.
    """
    if len(times) != len(temperatures):
        raise ValueError("a course needs as many temperatures as times")
    for (start, first), (end, last) in itertools.pairwise(zip(times, temperatures, strict=True)):
        if end < start:
            raise ValueError("the times of a course must rise")
        yield start, end, first, last


def _mean_rate(cool: float, hot: float, warmth: Sequence[float], rates: Sequence[float]) -> float:
    """Mean of the rate while the temperature goes straight from ``cool`` to ``hot`` within one piece."""
    middle = (cool + hot) / 2
    if middle < warmth[0]:
        return 0.0
    if middle > warmth[-1] or len(warmth) == 1:
        return math.exp(rates[-1])
    low, high = (between_rows(temperature, warmth, rates) for temperature in (cool, hot))
    if abs(high - low) < 1e-6:
        return math.exp((low + high) / 2)
    return (math.exp(high) - math.exp(low)) / (high - low)
