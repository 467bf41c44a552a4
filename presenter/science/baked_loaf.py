"""One loaf from oven to cool: how long it takes, how hot its middle gets, what lives through it, what has swollen.

In: shape, half thickness, diffusivity and the temperatures around it. Out: :class:`BakedLoaf`. A teaching model:
conduction alone, the crumb's skin held at the boil while there is water behind the crust.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from presenter.science.bake import LoafCourse, bake_course, share_never_hotter
from presenter.science.loaf_enzymes import AmylaseLeft, amylase_left

__all__ = ["LONGEST_BAKE", "BakedLoaf", "Oven", "baked_loaf", "minutes_to_core"]

LONGEST_BAKE = 720.0
"""minute: a loaf that is not done by then is none that this toolkit bakes."""
COOLS_FOR = 240.0
"""minute: how long the loaf is followed after the oven; by then its middle is far too cool to harm an enzyme."""
_EXACT = 1e-4  # minute


@dataclass(frozen=True)
class Oven:
    """A loaf in its oven: ``half_thickness`` in mm, ``diffusivity`` in mm2/s, temperatures in degC, times in minutes.

    ``boil`` is where the crumb's skin is held, ``warms_in`` how long it takes to get there, ``cools_in`` how long
    after the oven it takes to the ``room``.
    """

    shape: str
    half_thickness: float
    diffusivity: float
    start: float
    boil: float
    warms_in: float
    cools_in: float
    room: float

    def course(self, minutes: float, times: list[float]) -> LoafCourse:
        """The loaf's temperatures at ``times``, taken out of the oven after ``minutes``."""
        climb = min(self.warms_in, minutes)
        skin = self.start + (self.boil - self.start) * (climb / self.warms_in if self.warms_in else 1.0)
        skin_times = [0.0, climb, minutes, minutes + self.cools_in]
        return bake_course(
            self.shape, self.half_thickness, self.diffusivity, self.start, skin_times,
            [self.start, skin, skin, self.room], times,
        )  # fmt: skip


@dataclass(frozen=True)
class BakedLoaf:
    """What became of a loaf: ``core`` when it leaves the oven, ``hottest`` the middle's highest afterwards (degC).

    ``left`` is what is left of each amylase; ``halfway`` the same at half of the depth; ``never_passed`` the part of
    the loaf (0 to 1) that never passed each of the temperatures asked for.
    """

    minutes: float
    core: float
    hottest: float
    left: Mapping[str, AmylaseLeft]
    halfway: Mapping[str, float]
    never_passed: tuple[float, ...]
    course: LoafCourse


@lru_cache(maxsize=2048)
def minutes_to_core(oven: Oven, core: float) -> float | None:
    """The minutes until the middle of the loaf is at ``core`` degC; None where it is not within the longest bake."""

    def middle(minutes: float) -> float:
        return float(oven.course(minutes, [0.0, minutes]).core()[-1])

    if core <= oven.start:
        return 0.0
    if middle(LONGEST_BAKE) < core:
        return None
    low, high = 0.0, LONGEST_BAKE
    while high - low > _EXACT:
        minutes = (low + high) / 2
        low, high = (minutes, high) if middle(minutes) < core else (low, minutes)
    return (low + high) / 2


@lru_cache(maxsize=512)
def baked_loaf(oven: Oven, minutes: float, passed: tuple[float, ...]) -> BakedLoaf:
    """The loaf after ``minutes`` in the oven and its cooling; ``passed`` are temperatures (degC) asked about."""
    bake = np.linspace(0.0, minutes, max(2, int(minutes) + 1))
    times = [*bake.tolist(), *(minutes + np.arange(1.0, COOLS_FOR + 1.0)).tolist()]
    course = oven.course(minutes, times)
    left = amylase_left(course)
    halfway = {
        name: float(np.interp(-oven.half_thickness / 2, -course.depths, each.at_depths)) for name, each in left.items()
    }
    core = course.core()
    never = tuple(share_never_hotter(course, temperature) for temperature in passed)
    return BakedLoaf(minutes, float(core[bake.size - 1]), float(core.max()), left, halfway, never, course)
