"""A whole loaf through oven and cooling: its temperatures at every depth, and what of an enzyme is left.

In: a loaf's shape and size, its crumb, the course of its skin. Out: :class:`LoafCourse`, and shares left of
anything that decays at a rate set by temperature. Conduction only: a teaching model.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import eigh_tridiagonal

from presenter.science.bread import SHAPES

__all__ = ["LoafCourse", "bake_course", "share_left_at_depths", "share_left_in_whole", "share_never_hotter"]

Numbers = NDArray[np.float64]
SHELLS = 120
"""Shells that the loaf is cut into; with them the middle agrees with the series within 0.1 degC."""


@dataclass(frozen=True)
class LoafCourse:
    """Temperatures in a loaf: ``temperatures[i, j]`` in degC at ``times[i]`` minutes and ``depths[j]`` mm.

    Depth counts from the skin of the crumb inward, in the middle of each shell; ``shares`` are the shells' parts
    of the whole loaf, adding up to one. ``heat_taken`` is what has come in through the skin by each time, as
    degrees of the whole loaf.
    """

    times: Numbers
    depths: Numbers
    temperatures: Numbers
    shares: Numbers
    heat_taken: Numbers

    def core(self) -> Numbers:
        """The course of the middle: the innermost shell."""
        return self.temperatures[:, 0]

    def mean(self) -> Numbers:
        """The course of the whole loaf's mean."""
        return np.asarray(self.temperatures @ self.shares, dtype=np.float64)


def bake_course(
    shape: str,
    half_thickness: float,
    diffusivity: float,
    start: float,
    skin_times: Sequence[float],
    skin_temperatures: Sequence[float],
    times: Sequence[float],
) -> LoafCourse:
    """Temperatures in a loaf whose skin follows a course.

    ``shape`` is "slab", "cylinder" or "ball"; ``half_thickness`` (the radius of the round shapes) in mm,
    ``diffusivity`` in mm2/s, ``start`` in degC; ``skin_times`` (minutes, rising from 0) with
    ``skin_temperatures`` (degC) give the crumb's skin, straight between: in the oven it stays at the boil while
    there is water behind the crust, afterwards it falls. ``times`` in minutes, rising from 0.

    Raises ValueError for a shape it does not know or a course that does not rise from 0: a fault of the caller.
    """
    if shape not in SHAPES:
        raise ValueError(f"a loaf is one of {', '.join(SHAPES)}, not {shape}")
    asked = np.asarray(times, dtype=np.float64)
    skin_at = np.asarray(skin_times, dtype=np.float64)
    for course in (asked, skin_at):
        if course[0] != 0 or np.any(np.diff(course) < 0):
            raise ValueError("a loaf's course starts at 0 minutes and its times rise")
    skin = np.asarray(skin_temperatures, dtype=np.float64)

    shells = _shells(shape)
    rate = 60 * diffusivity / half_thickness**2 * shells.rates  # per minute, one for each mode
    # what the loaf lags behind its skin, mode by mode; a jump of the skin at one time moves all of it at once
    modes = (float(start) - skin[0]) * shells.ones
    taken = np.zeros(asked.size)
    lags = np.zeros((asked.size, SHELLS))
    before = 0.0
    ends = np.append(skin_at[1:], max(float(asked[-1]), float(skin_at[-1])))
    for piece, (begins, stops) in enumerate(zip(skin_at, ends, strict=True)):
        last = piece + 1 == skin_at.size
        climb = 0.0 if last else float(skin[piece + 1] - skin[piece])
        if stops == begins and not last:
            modes = modes - climb * shells.ones
            continue
        slope = 0.0 if last else climb / float(stops - begins)
        inside = (asked >= begins) & (asked <= stops)
        spans = np.append(asked[inside], stops)[:, None] - begins
        grown = np.expm1(rate * spans) / rate
        lag = modes * np.exp(rate * spans) - slope * shells.ones * grown
        area = modes * grown - slope * shells.ones * (grown - spans) / rate
        into = before - 60 * diffusivity / half_thickness**2 * (area @ shells.skin_flow)
        lags[inside], taken[inside] = lag[:-1], into[:-1]
        modes, before = lag[-1], float(into[-1])
    table = np.interp(asked, skin_at, skin)[:, None] + lags @ shells.back
    return LoafCourse(asked, half_thickness * (1 - shells.middles), table, shells.shares, taken)


@dataclass(frozen=True)
class _Shells:
    """The shells of one shape: their middles and shares, and the modes in which warmth spreads among them.

    ``rates`` are the modes' rates for a half thickness and a diffusivity of one; ``ones`` is a loaf one degree warmer
    than its skin, in modes; ``back`` turns modes into shells; ``skin_flow`` what each mode drives through the skin.
    """

    middles: Numbers
    shares: Numbers
    rates: Numbers
    ones: Numbers
    back: Numbers
    skin_flow: Numbers


@cache
def _shells(shape: str) -> _Shells:
    """Cut a loaf of a shape into shells, and solve once how warmth spreads among them (finite volumes)."""
    power = SHAPES[shape] + 1
    faces = np.linspace(0.0, 1.0, SHELLS + 1)
    shares = np.diff(faces**power)
    step = 1.0 / SHELLS
    crossing = power * faces[1:-1] ** (power - 1) / step
    through_skin = power / (step / 2)
    leaves = np.append(crossing, through_skin) + np.insert(crossing, 0, 0.0)
    root = np.sqrt(shares)
    solved = eigh_tridiagonal(-leaves / shares, crossing / (root[:-1] * root[1:]))
    rates, vectors = (np.asarray(part, dtype=np.float64) for part in solved)
    back = (vectors / root[:, None]).T
    return _Shells((faces[:-1] + faces[1:]) / 2, shares, rates, vectors.T @ root, back, through_skin * back[:, -1])


def share_left_at_depths(course: LoafCourse, decay_rate: Callable[[float], float]) -> Numbers:
    """The share left at each depth, from 0 to 1, of something that decays at ``decay_rate(degC)`` per minute."""
    rates = np.vectorize(decay_rate, otypes=[np.float64])(course.temperatures)
    return np.asarray(np.exp(-np.trapezoid(rates, course.times, axis=0)), dtype=np.float64)


def share_never_hotter(course: LoafCourse, temperature: float) -> float:
    """The part of the loaf, from 0 to 1, that never passes ``temperature`` (degC) at any of the course's times."""
    return float(course.shares[course.temperatures.max(axis=0) < temperature].sum())


def share_left_in_whole(course: LoafCourse, decay_rate: Callable[[float], float]) -> float:
    """The share left over the whole loaf, each shell by its part of the loaf."""
    return float(share_left_at_depths(course, decay_rate) @ course.shares)
