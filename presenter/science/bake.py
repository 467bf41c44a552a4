"""A whole loaf through oven and cooling: its temperatures at every depth, and what of an enzyme is left.

In: a loaf's shape and size, its crumb, the course of its skin. Out: :class:`LoafCourse`, and shares left of
anything that decays at a rate set by temperature. Conduction only: a teaching model.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import solve_ivp

from presenter.science.bread import SHAPES

__all__ = ["LoafCourse", "bake_course", "share_left_at_depths", "share_left_in_whole"]

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

    power = SHAPES[shape] + 1
    faces = np.linspace(0.0, 1.0, SHELLS + 1)
    shares = np.diff(faces**power)
    step = 1.0 / SHELLS
    crossing = power * faces[1:-1] ** (power - 1) / step
    last = power * 1.0 / (step / 2)
    rate = 60 * diffusivity / half_thickness**2  # per minute

    def change(minute: float, state: Numbers) -> Numbers:
        warmth = state[:-1]
        inward = crossing * np.diff(warmth)
        through_skin = last * (np.interp(minute, skin_at, skin) - warmth[-1])
        gained = np.zeros(SHELLS)
        gained[:-1] += inward
        gained[1:] -= inward
        gained[-1] += through_skin
        return rate * np.append(gained / shares, through_skin)

    state = np.append(np.full(SHELLS, float(start)), 0.0)
    # stop at each bend of the skin's course, so that no step strides over it
    stops = np.unique(np.concatenate([asked, skin_at[skin_at <= asked[-1]]]))
    reached = {0.0: state}
    for low, high in itertools.pairwise(float(stop) for stop in stops):
        solved: Any = solve_ivp(
            change, (low, high), state, method="LSODA", rtol=1e-8, atol=1e-8, lband=1, uband=1, max_step=high - low
        )
        state = solved.y[:, -1]
        reached[high] = state
    found = [reached[float(minute)] for minute in asked]
    table = np.array(found)
    middles = (faces[:-1] + faces[1:]) / 2
    return LoafCourse(asked, half_thickness * (1 - middles), table[:, :-1], shares, table[:, -1])


def share_left_at_depths(course: LoafCourse, decay_rate: Callable[[float], float]) -> Numbers:
    """The share left at each depth, from 0 to 1, of something that decays at ``decay_rate(degC)`` per minute."""
    rates = np.vectorize(decay_rate, otypes=[np.float64])(course.temperatures)
    return np.asarray(np.exp(-np.trapezoid(rates, course.times, axis=0)), dtype=np.float64)


def share_left_in_whole(course: LoafCourse, decay_rate: Callable[[float], float]) -> float:
    """The share left over the whole loaf, each shell by its part of the loaf."""
    return float(share_left_at_depths(course, decay_rate) @ course.shares)
