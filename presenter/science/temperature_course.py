"""A course of temperature, cut into stretches within which nothing switches.

In: points of minutes and degC, or a function of the minute; the temperatures at which a law of the mash changes.
Out: :class:`Piece` after piece, in order. A temperature outside the range of the mash model is refused, never clipped.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from scipy.optimize import brentq

from presenter.science.formula import OutOfRangeError
from presenter.science.mash_model import COLDEST, HOTTEST
from presenter.science.mash_state import MashInputError

__all__ = ["Piece", "TemperatureCourse"]

TemperatureCourse = Sequence[tuple[float, float]] | Callable[[float], float]
_SUDDEN = 1e-9  # minutes: a change of temperature within less happens at once
_LOOK_EVERY = 0.25  # minutes between looks at a temperature function, to find where it crosses a switch


@dataclass(frozen=True)
class Piece:
    """A stretch of the course in which no switch is crossed: from ``start`` to ``stop`` (minutes).

    ``at`` gives degC at a minute; ``steady`` says that it does not change. ``middle`` is the temperature halfway.
    """

    start: float
    stop: float
    at: Callable[[float], float]
    steady: bool

    @property
    def middle(self) -> float:
        return self.at(0.5 * (self.start + self.stop))


def _refuse_outside(temperature: float) -> None:
    if not COLDEST <= temperature <= HOTTEST:
        raise OutOfRangeError("the mash model", "temperature", temperature, "degree_Celsius", COLDEST, HOTTEST)


def _line(start: float, from_: float, slope: float) -> Callable[[float], float]:
    return lambda minute: from_ + slope * (minute - start)


def _of_points(points: Sequence[tuple[float, float]], switches: Sequence[float]) -> list[Piece]:
    if len(points) < 2 or not all(math.isfinite(x) for point in points for x in point):
        raise MashInputError("a course of temperature needs at least two points of minutes and degC, all finite")
    pieces: list[Piece] = []
    for (start, cold), (stop, warm) in pairwise(points):
        _refuse_outside(cold)
        _refuse_outside(warm)
        if stop < start:
            raise MashInputError(f"the course of temperature goes back in time, from minute {start:g} to {stop:g}")
        if stop - start <= _SUDDEN:
            continue
        slope = (warm - cold) / (stop - start)
        low, high = min(cold, warm), max(cold, warm)
        crossed = sorted(start + (switch - cold) / slope for switch in switches if low < switch < high)
        edges = [start, *(minute for minute in crossed if start < minute < stop), stop]
        at = _line(start, cold, slope)
        pieces += [Piece(a, b, at, slope == 0.0) for a, b in pairwise(edges) if b - a > _SUDDEN]
    if not pieces:
        raise MashInputError("the course of temperature lasts no time at all")
    return pieces


def _of_function(at: Callable[[float], float], minutes: float, switches: Sequence[float]) -> list[Piece]:
    if not (math.isfinite(minutes) and minutes > _SUDDEN):
        raise MashInputError("a temperature given as a function needs the minutes it lasts, more than none")
    looks = np.linspace(0.0, minutes, max(2, math.ceil(minutes / _LOOK_EVERY) + 1)).tolist()
    seen = [at(minute) for minute in looks]
    for temperature in seen:
        _refuse_outside(temperature)
    edges = {0.0, minutes}
    for (before, cold), (after, warm) in pairwise(zip(looks, seen, strict=True)):
        for switch in switches:
            if (cold - switch) * (warm - switch) < 0.0:
                edges.add(float(brentq(lambda minute, s=switch: at(minute) - s, before, after, xtol=1e-9)))
    return [Piece(a, b, at, False) for a, b in pairwise(sorted(edges)) if b - a > _SUDDEN]


def course_pieces(course: TemperatureCourse, minutes: float | None, switches: Sequence[float]) -> list[Piece]:
    """The pieces of a course, cut at its points and wherever it crosses one of ``switches`` (degC).

    ``minutes`` is how long a function lasts; points bring their own. Raises OutOfRangeError and MashInputError.
    """
    if callable(course):
        return _of_function(course, math.nan if minutes is None else minutes, switches)
    return _of_points(course, switches)
