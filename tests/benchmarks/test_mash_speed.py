"""How fast a mash is, as a ratio in one run against bare solve_ivp with the same equations; never in seconds."""

import math
from time import perf_counter

import pytest
from scipy.integrate import solve_ivp

from presenter.science.mash import mash_course, mash_end
from presenter.science.mash_model import mash_model
from presenter.science.mash_state import MashPart, fresh

MODEL = mash_model()
MALT = fresh([MashPart("barley", 1.0, 1.0)])
COURSE = [(0.0, 66.0), (60.0, 64.0)]
GAS = 8.314462618e-3


def bare(precision=1e-9):
    """The same mash by solve_ivp alone: no checks, no switches, no result."""
    m = MODEL
    limit, direct = m.limit_dextrin, (1 - m.limit_dextrin) * m.alpha_direct

    def change(minute, y):
        granules, starch, dextrin, _, _, _, alpha, fast, slow = y.tolist()
        inverse = 1 / (66.0 - minute / 30.0 + 273.15)
        warm = (1 / 338.15 - inverse) / GAS
        opened = granules * m.gelatinisation_rate
        opened *= math.exp(m.gelatinisation_energy_above / GAS * (1 / (m.gelatinisation_switch + 273.15) - inverse))
        by_alpha = math.exp(m.alpha_energy * warm) * alpha
        beta = m.beta_releases * math.exp(m.beta_energy * warm) * (fast + slow)
        thinned = m.alpha_thins * by_alpha * starch
        attackable = dextrin - limit * (1 - granules - starch)
        freed = direct * thinned + m.alpha_releases * by_alpha * attackable
        dying = math.exp(m.beta_decay_energy * warm)
        return [
            -opened,
            opened - thinned - beta * starch,
            (1 - direct) * thinned + limit * beta * starch - (m.alpha_releases * by_alpha + beta) * attackable,
            m.alpha_glucose * freed,
            m.alpha_maltose * freed + beta * (attackable + (1 - limit) * starch),
            m.alpha_maltotriose * freed,
            -m.alpha_decay * math.exp(m.alpha_decay_energy * warm) * alpha,
            -m.beta_fast_decay * dying * fast,
            -m.beta_slow_decay * dying * slow,
        ]

    start = [1.0, 0, 0, 0, 0, 0, 1.0, m.beta_fast_share, 1 - m.beta_fast_share]
    return solve_ivp(change, (0, 60), start, method="LSODA", rtol=precision, atol=0.001 * precision)


def best_of(call, rounds=7):
    """The shortest of several runs, in seconds: only ever divided by another."""
    shortest = math.inf
    for _ in range(rounds):
        began = perf_counter()
        call()
        shortest = min(shortest, perf_counter() - began)
    return shortest


@pytest.mark.parametrize(("walk", "precision"), [(mash_course, 1e-9), (mash_end, 1e-7)])
def test_a_mash_takes_at_most_three_times_the_bare_equations(benchmark, walk, precision):
    """This test ensures that a mash takes at most 3 times bare solve_ivp of the same equations to the same
    precision, both in one run."""
    end = walk(MALT, COURSE)
    end = getattr(end, "end", end)
    assert end.maltose == pytest.approx(float(bare().y[4, -1]), abs=1e-6)
    benchmark(walk, MALT, COURSE)
    ratio = best_of(lambda: walk(MALT, COURSE)) / best_of(lambda: bare(precision))
    benchmark.extra_info["times_bare_solve_ivp"] = round(ratio, 2)
    assert ratio <= 3.0
