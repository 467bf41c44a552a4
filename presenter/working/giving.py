"""Give-or-take: how sure each number is, found by shifting one input at a time and walking again.

In: a plan walk and a way to walk again shifted. Out: for each number its expanded uncertainty (k = 2) and the share
of each contributor. Method: JCGM 100:2008, section 5, done numerically: first the settings are planned once; then,
with those settings held, each input is shifted both ways by its own expanded uncertainty, half the difference taken
(where both ways move a number to the same side, the larger departure), and all added in quadrature.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

import numpy as np

from presenter.working.ledger import Ledger

__all__ = ["give_or_take"]


def give_or_take(
    plan: Ledger, walk_again: Callable[[Mapping[str, float]], Ledger]
) -> dict[str, tuple[float, tuple[tuple[str, float], ...]]]:
    """For each number's id: its expanded uncertainty, and (contributor, share of the variance), largest first."""
    ids = list(plan.entries)
    centre = np.array([plan.entries[number].value for number in ids])
    names = sorted(plan.influences)
    squares = np.zeros((len(names), len(ids)))
    for row, name in enumerate(names):
        up, down = (_values(walk_again({name: sign}), ids, centre) for sign in (1.0, -1.0))
        above, below = up - centre, down - centre
        turned = above * below > 0
        squares[row] = np.where(turned, np.maximum(np.abs(above), np.abs(below)), np.abs(up - down) / 2) ** 2
    total = squares.sum(axis=0)
    found = {}
    for column, number in enumerate(ids):
        if total[column] <= 0 or not np.isfinite(total[column]):
            continue
        order = np.argsort(-squares[:, column], kind="stable")
        shares = tuple(
            (names[row], float(squares[row, column] / total[column])) for row in order if squares[row, column] > 0
        )
        found[number] = (float(np.sqrt(total[column])), shares)
    return found


def _values(
    ledger: Ledger, ids: list[str], centre: np.ndarray[tuple[int], np.dtype[np.float64]]
) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """The shifted walk's values; a number that this walk could not reach keeps its plan value."""
    entries = ledger.entries
    return np.array([entries[n].value if n in entries else c for n, c in zip(ids, centre, strict=True)])
