"""The mash: starch to dextrin and sugars by two enzymes, along any course of temperature. A teaching model.

In: a :class:`MashState` (what is in the mash) and a course of temperature. Out: :class:`MashResult` with every
species and enzyme over time, or only the state at the end.

Granules gelatinise by a first-order law with one pair of constants below a switch temperature and one above it.
Alpha-amylase thins gelatinised starch to dextrin and frees glucose, maltose and maltotriose, from dextrin too;
beta-amylase frees maltose from both. A fixed share of the starch stays limit dextrin. Alpha-amylase dies by one
first-order law, beta-amylase by two (a fast and a slow fraction), all with Arrhenius constants. The scheme is
published (brandam2003), the constants are fitted by this project: see ``tables/mash_model.yaml``.

Known to matter and not modelled: crush (all starch is reachable), pH and calcium (ordinary mash acidity), the
dilution and protection of enzymes in thin and thick mashes (thickness only moves gelatinisation), limit dextrinase,
enzyme still being released, how malts differ. Minutes to full conversion are not to be quoted from it. Above 75 degC
it shows a direction only.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from math import exp
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import odeint

from presenter.science.gelatinisation import gelatinisation_law, gelatinisation_shift, thickness_shift
from presenter.science.mash_model import GAS, QUALITATIVE_ABOVE, REFERENCE, MashModel, mash_model
from presenter.science.mash_state import MashInputError, MashState
from presenter.science.temperature_course import Piece, TemperatureCourse, course_pieces

__all__ = ["MashResult", "mash_course", "mash_end"]

_BAND_EDGES = (60.0, 65.0, QUALITATIVE_ABOVE)
_THINNEST, _THICKEST = 8.0, 2.0
_FINE, _QUICK = 1e-9, 1e-7  # relative precision of the solver; absolute a thousandth of it


@dataclass(frozen=True)
class MashResult:
    """A mash over time. ``minutes`` and every array have one length; species are shares of the starch.

    ``granules`` is the sum over the grains; ``alpha_left`` and ``beta_left`` are shares of the enzyme at the start.
    ``end`` is the state at the end, from which a next rest can go on.
    """

    minutes: NDArray[np.float64]
    temperature: NDArray[np.float64]
    granules: NDArray[np.float64]
    gelatinised: NDArray[np.float64]
    dextrin: NDArray[np.float64]
    glucose: NDArray[np.float64]
    maltose: NDArray[np.float64]
    maltotriose: NDArray[np.float64]
    alpha_left: NDArray[np.float64]
    beta_left: NDArray[np.float64]
    end: MashState

    def enzymes_left(self, minute: float) -> tuple[float, float]:
        """Alpha- and beta-amylase left at a minute of the course, as shares of the start."""
        alpha = np.interp(minute, self.minutes, self.alpha_left)
        return float(alpha), float(np.interp(minute, self.minutes, self.beta_left))


def _right_hand_side(
    piece: Piece, shifts: Sequence[float], strength: float, model: MashModel
) -> Callable[[NDArray[np.float64], float], list[float]]:
    """The equations within one piece: granules by grain, then gelatinised, dextrin, three sugars, three enzymes.

    Enzymes are shares of the start here; ``strength`` is what the start was against pale barley malt.
    """
    above = [piece.middle > model.gelatinisation_switch + shift for shift in shifts]
    limit, direct = model.limit_dextrin, (1.0 - model.limit_dextrin) * model.alpha_direct
    of_glucose, of_maltose, of_triose = model.alpha_glucose, model.alpha_maltose, model.alpha_maltotriose
    count, at = len(shifts), piece.at
    laws = [
        (*gelatinisation_law(model, shift, above=side), shift - 273.15)
        for shift, side in zip(shifts, above, strict=True)
    ]
    alpha_energy, beta_energy = model.alpha_energy / GAS, model.beta_energy / GAS
    alpha_dying, beta_dying = model.alpha_decay_energy / GAS, model.beta_decay_energy / GAS

    def rates(temperature: float) -> tuple[list[float], float, float, float, float, float, float]:
        warmer = 1.0 / REFERENCE - 1.0 / (temperature + 273.15)
        alpha, dying = exp(alpha_energy * warmer), exp(beta_dying * warmer)
        return (
            [rate * exp(energy * (1.0 / switch - 1.0 / (temperature - zero))) for rate, energy, switch, zero in laws],
            model.alpha_thins * strength * alpha,
            model.alpha_releases * strength * alpha,
            model.beta_releases * strength * exp(beta_energy * warmer),
            model.alpha_decay * exp(alpha_dying * warmer),
            model.beta_fast_decay * dying,
            model.beta_slow_decay * dying,
        )

    fixed = rates(piece.middle) if piece.steady else None

    def change(y: NDArray[np.float64], minute: float) -> list[float]:
        opening, thins, releases, beta_releases, alpha_dies, fast_dies, slow_dies = fixed or rates(at(minute))
        values = y.tolist()
        gelatinised, dextrin, _, _, _, alpha, fast, slow = values[count:]
        beta = beta_releases * (fast + slow)
        opened = [rate * share for rate, share in zip(opening, values, strict=False)]
        open_to_attack = dextrin - limit * (1.0 - sum(values[:count]) - gelatinised)
        thinned = thins * alpha * gelatinised
        by_alpha_from_dextrin = releases * alpha * open_to_attack
        by_beta_from_dextrin = beta * open_to_attack
        by_beta_from_starch = beta * gelatinised
        by_alpha = direct * thinned + by_alpha_from_dextrin
        return [
            *(-rate for rate in opened),
            sum(opened) - thinned - by_beta_from_starch,
            (1.0 - direct) * thinned + limit * by_beta_from_starch - by_alpha_from_dextrin - by_beta_from_dextrin,
            of_glucose * by_alpha,
            of_maltose * by_alpha + by_beta_from_dextrin + (1.0 - limit) * by_beta_from_starch,
            of_triose * by_alpha,
            -alpha_dies * alpha,
            -fast_dies * fast,
            -slow_dies * slow,
        ]

    return change


def _walk(
    state: MashState,
    temperature: TemperatureCourse,
    minutes: float | None,
    water_to_grist: float,
    gelatinises_at: Mapping[str, float] | None,
    every: float | None,
    precision: float,
    model: MashModel,
) -> tuple[list[float], list[float], list[NDArray[np.float64]], MashState]:
    if not _THICKEST <= water_to_grist <= _THINNEST:
        raise MashInputError(
            f"{water_to_grist:g} litres of water to a kilogram of grist is outside what the mash model holds for,"
            f" {_THICKEST:g} to {_THINNEST:g}"
        )
    if every is not None and not every > 0.0:
        raise MashInputError("the gap between time points must be more than no time")
    thick = thickness_shift(water_to_grist)
    moved = gelatinises_at or {}
    shifts = [thick + gelatinisation_shift(grain) + moved.get(grain, 0.0) for grain in state.granules]
    switches = [*_BAND_EDGES, *(model.gelatinisation_switch + shift for shift in shifts)]
    pieces = course_pieces(temperature, minutes, switches)
    strength = state.strength or 1.0
    enzymes = [state.alpha / strength, state.beta_fast / strength, state.beta_slow / strength]
    species = [state.gelatinised, state.dextrin, state.glucose, state.maltose, state.maltotriose]
    y = np.array([*state.granules.values(), *species, *enzymes])
    sugars = slice(len(shifts) + 2, len(shifts) + 5)
    widened, made_hot = state.widened, state.made_hot
    times, heats, rows = [pieces[0].start], [pieces[0].at(pieces[0].start)], [y]
    for piece in pieces:
        looks = 2 if every is None else max(2, math.ceil((piece.stop - piece.start) / every - 1e-9) + 1)
        asked = np.linspace(piece.start, piece.stop, looks)
        found, report = odeint(
            _right_hand_side(piece, shifts, strength, model),
            y,
            asked,
            rtol=precision,
            atol=0.001 * precision,
            full_output=True,
            tcrit=[piece.stop],  # never look past the end: a steep raise carried on would pass any heat
            mxstep=5000,
        )
        if report["message"] != "Integration successful.":
            raise ArithmeticError(f"the mash could not be worked from minute {piece.start:g}: {report['message']}")
        made = float(found[-1, sugars].sum() - y[sugars].sum())
        widened += made * model.widening(piece.middle)
        made_hot += made if piece.middle > QUALITATIVE_ABOVE else 0.0
        y = found[-1]
        times += asked[1:].tolist()
        heats += [piece.at(minute) for minute in asked[1:].tolist()]
        rows += list(found[1:])
    count = len(shifts)
    end = replace(
        state,
        granules=MappingProxyType(dict(zip(state.granules, y[:count].tolist(), strict=True))),
        **dict(zip(_SPECIES, y[count : count + 5].tolist(), strict=True)),
        **{name: strength * left for name, left in zip(_ENZYMES, y[count + 5 :].tolist(), strict=True)},
        widened=widened,
        made_hot=made_hot,
    )
    return times, heats, rows, end


_SPECIES = ("gelatinised", "dextrin", "glucose", "maltose", "maltotriose")
_ENZYMES = ("alpha", "beta_fast", "beta_slow")


def mash_course(
    state: MashState,
    temperature: TemperatureCourse,
    *,
    minutes: float | None = None,
    water_to_grist: float = 3.0,
    gelatinises_at: Mapping[str, float] | None = None,
    every: float = 1.0,
    model: MashModel | None = None,
) -> MashResult:
    r"""A mash along a course of temperature, at every time point.

    .. math:: \dot G = -k_g G, \quad \dot S = k_g G - (k_s\alpha + k_b\beta) S, \quad
        \dot D_a = (1 - L)(1 - q) k_s\alpha S - (k_d\alpha + k_b\beta) D_a, \quad \dot\alpha = -k_\alpha\alpha

    Parameters
    ----------
    state : MashState, what is in the mash at the beginning; shares of its starch
    temperature : sequence of (minute, degree_Celsius), straight lines between the points, two points at one minute for
        a sudden change; or a function of the minute
    minutes : float, minute; how long a function lasts
    water_to_grist : float, litre / kilogram, from 2 to 8; only moves gelatinisation
    gelatinises_at : mapping of grain to delta_degree_Celsius, to move a grain's gelatinisation (an author's own figure,
        or its give-or-take)
    every : float, minute; the longest gap between time points
    model : MashModel, the fitted model if not given

    Returns
    -------
    MashResult

    Raises
    ------
    OutOfRangeError : a temperature lies outside 30 to 80 degC.
    MashInputError : the course is empty or goes back in time, or the water lies outside 2 to 8 litres to a kilogram.

    Notes
    -----
    A teaching model: constants fitted by this project. The solver stops wherever a grain's gelatinisation law switches
    and at every point of the course. The shares add up to 1 without any correction.

    Examples
    --------
    >>> mash = fresh([MashPart("barley", 1.0, 1.0)])
    >>> rest = mash_course(mash, [(0, 66), (60, 66)])
    >>> len(rest.minutes), round(float(rest.maltose[-1]), 2)
    (61, 0.49)

    References
    ----------
    - `brandam2003`
    - `muller1990`
    - `rittenauer2021`
    - `trommer2018`
    - `chandrasekhar`
    - `deschepper2022`
    """
    times, heats, rows, end = _walk(
        state, temperature, minutes, water_to_grist, gelatinises_at, every, _FINE, model or mash_model()
    )
    table = np.array(rows)
    count = len(state.granules)
    return MashResult(
        minutes=np.array(times),
        temperature=np.array(heats),
        granules=table[:, :count].sum(axis=1),
        gelatinised=table[:, count],
        dextrin=table[:, count + 1],
        glucose=table[:, count + 2],
        maltose=table[:, count + 3],
        maltotriose=table[:, count + 4],
        alpha_left=table[:, count + 5],
        beta_left=table[:, count + 6 :].sum(axis=1),
        end=end,
    )


def mash_end(
    state: MashState,
    temperature: TemperatureCourse,
    *,
    minutes: float | None = None,
    water_to_grist: float = 3.0,
    gelatinises_at: Mapping[str, float] | None = None,
    model: MashModel | None = None,
) -> MashState:
    r"""Only the end of a mash: the same equations as :func:`mash_course`, without the time points between.

    .. math:: x_{end} = x(t_{end})

    Parameters
    ----------
    state, temperature, minutes, water_to_grist, gelatinises_at, model : as in ``mash_course``: shares, (minute,
        degree_Celsius), minute, litre / kilogram, delta_degree_Celsius

    Returns
    -------
    MashState

    Raises
    ------
    OutOfRangeError, MashInputError : as in ``mash_course``.

    Notes
    -----
    For walks that work the same mash many times. Less finely solved than a course; the shares agree to 1e-5.

    Examples
    --------
    >>> mash = fresh([MashPart("barley", 1.0, 1.0)])
    >>> round(mash_end(mash, [(0, 65), (60, 65)]).beta_left, 2)
    0.08

    References
    ----------
    - `brandam2003`
    - `muller1990`
    """
    return _walk(state, temperature, minutes, water_to_grist, gelatinises_at, None, _QUICK, model or mash_model())[3]
