"""What a bake leaves of the amylases, at every depth of a loaf: by the mash model's decay, and by two printed readings.

In: a loaf's :class:`~presenter.science.bake.LoafCourse`. Out: :class:`AmylaseLeft`, shares of what the dough brought.
The decay laws were found in wet mash and are carried on above 80 degC, where no one has measured them: a lower bound,
since the sources disagree on whether dry crumb shelters an enzyme. The readings are in
``tables/amylases_in_the_oven.yaml``.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from presenter.science.bake import LoafCourse
from presenter.science.composition import table
from presenter.science.mash_model import GAS, REFERENCE, MashModel, mash_model

__all__ = ["RELIABLE_BELOW", "AmylaseLeft", "amylase_left", "amylase_readings"]

Numbers = NDArray[np.float64]
RELIABLE_BELOW = 90.0
"""degC: a loaf whose middle passed it is treated as holding no enzyme to rely on; the oven's last figure (80 to 90)
at which activity is said to cease, and the coolest middle of a finished loaf."""


@dataclass(frozen=True)
class AmylaseLeft:
    """Shares left, from 0 to 1, of one amylase: by depth (``at_depths``, from the middle outward) and over the loaf.

    ``whole_fast`` and ``whole_slow`` are the two fractions of beta-amylase over the whole loaf; for alpha-amylase,
    which has one, both are ``whole``.
    """

    at_depths: Numbers
    whole: float
    whole_fast: float
    whole_slow: float

    @property
    def middle(self) -> float:
        """The share left in the middle of the loaf."""
        return float(self.at_depths[0])


@cache
def amylase_readings() -> Mapping[str, Any]:
    """The printed figures, each with its source: ``readings`` by name, then by amylase."""
    return table("amylases_in_the_oven")


def _survives(course: LoafCourse, rate: float, energy: float) -> Numbers:
    """The share left at each depth of something that decays at ``rate`` (per minute at 65 degC)."""
    rates = rate * np.exp(energy / GAS * (1.0 / REFERENCE - 1.0 / (course.temperatures + 273.15)))
    return np.asarray(np.exp(-np.trapezoid(rates, course.times, axis=0)), dtype=np.float64)


def amylase_left(course: LoafCourse, model: MashModel | None = None) -> Mapping[str, AmylaseLeft]:
    r"""What a bake leaves of alpha-amylase and of beta-amylase, against the dough.

    .. math:: s(r) = e^{-\int k(T(r, t))\,dt}, \qquad \bar s = \sum_i v_i\,s(r_i)

    Parameters
    ----------
    course : LoafCourse, degree_Celsius at minute and millimetre of depth; oven and cooling together
    model : MashModel, the fitted model if not given

    Returns
    -------
    mapping of "alpha-amylase" and "beta-amylase" to AmylaseLeft, shares from 0 to 1

    Raises
    ------
    Nothing.

    Notes
    -----
    A teaching model. Constants of wet mash, fitted at 65 degC and carried on to the oven's heat; a lower bound.

    Examples
    --------
    >>> loaf = bake_course("slab", 30.0, 0.39, 25.0, [0, 60], [100, 100], range(61))
    >>> amylase_left(loaf)["alpha-amylase"].middle < 0.001
    True

    References
    ----------
    - `muller1990`
    - `brandam2003`
    """
    model = model or mash_model()
    alpha = _survives(course, model.alpha_decay, model.alpha_decay_energy)
    fast = _survives(course, model.beta_fast_decay, model.beta_decay_energy)
    slow = _survives(course, model.beta_slow_decay, model.beta_decay_energy)
    weight = model.beta_fast_share
    whole_alpha, whole_fast, whole_slow = (float(left @ course.shares) for left in (alpha, fast, slow))
    return {
        "alpha-amylase": AmylaseLeft(alpha, whole_alpha, whole_alpha, whole_alpha),
        "beta-amylase": AmylaseLeft(
            np.asarray(weight * fast + (1.0 - weight) * slow, dtype=np.float64),
            weight * whole_fast + (1.0 - weight) * whole_slow,
            whole_fast,
            whole_slow,
        ),
    }
