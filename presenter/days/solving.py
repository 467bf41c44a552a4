"""The amount of one remedy, solved for this batch: a lesson with one figure in it, varied until the target is met.

In: a lesson with a remedy in it, the figure to vary and the number to bring to its target. Out: :class:`Solved`; where
a vessel is too small or the sugar runs out, as far as it goes and the sentence that says why.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import Any

from presenter.days.made import worked_silently
from presenter.lesson import Lesson
from presenter.lesson.fields import NOWHERE, Stated
from presenter.problems import ProblemsFoundError
from presenter.quantities import KINDS, Q
from presenter.working import Held, WorkedLesson

__all__ = ["Solved", "shortened", "solve", "varied"]

CLOSE = 2e-5  # gravity; far below what anyone can read
MOST_WALKS = 12


@dataclass(frozen=True)
class Solved:
    """How much, what the number then is, the lesson worked with so much; and what stood in the way, if anything did."""

    amount: float
    reached: float
    worked: WorkedLesson | None
    hindered: str = ""


def varied(lesson: Lesson, step_id: str, key: str, value: float, kind: str) -> Lesson:
    """``lesson`` with one figure of one step set to ``value``, in the working unit of its kind."""
    unit = KINDS[kind].unit
    stated = Stated(Q(value, unit), f"{value:g} {unit}", NOWHERE, kind)
    changed: dict[str, Any] = {key: stated}
    steps = tuple(step.model_copy(update=changed) if step.id == step_id else step for step in lesson.steps)
    return replace(lesson, file=lesson.file.model_copy(update={"steps": steps}))


def shortened(lesson: Lesson, last: str) -> Lesson:
    """The lesson up to the step ``last`` and silent: all that a solver needs to walk."""
    steps = []
    for step in lesson.steps:
        steps.append(step.model_copy(update={"say": None, "expect": None}))
        if step.id == last:
            break
    return replace(lesson, file=lesson.file.model_copy(update={"steps": tuple(steps)}))


def solve(
    lesson_with: Callable[[float], Lesson],
    held: Iterable[Held],
    read: Callable[[WorkedLesson], float],
    wanted: float,
    *,
    stands: float,
    guess: float,
    most: float,
) -> Solved:
    """The amount, from nothing to ``most``, that brings what is ``read`` from where it ``stands`` to ``wanted``.

    Secant steps, kept inside what the vessels allow; the amount found is never more than ``most``.
    """
    held = tuple(held)
    hindered = ""
    ceiling = most

    def at(amount: float) -> tuple[float, WorkedLesson] | None:
        nonlocal hindered
        try:
            worked = worked_silently(lesson_with(amount), held, spreads=False)
        except ProblemsFoundError as error:
            hindered = error.problems[0].wrong
            return None
        return read(worked), worked

    low, low_value = 0.0, stands
    best = Solved(0.0, stands, None)
    amount = min(max(guess, 1e-6), ceiling)
    for _ in range(MOST_WALKS):
        found = at(amount)
        if found is None:
            ceiling = amount
            amount = (best.amount + ceiling) / 2
            if ceiling - best.amount < 0.02 * ceiling:
                break
            continue
        value, worked = found
        best = Solved(amount, value, worked)
        if abs(value - wanted) <= CLOSE:
            return best
        slope = (value - low_value) / (amount - low) if amount != low else 0.0
        if slope == 0.0:
            break
        following = amount + (wanted - value) / slope
        if not 0.0 < following <= ceiling:
            if amount >= ceiling * 0.98 or following <= 0.0:
                break
            following = ceiling if ceiling == most else (amount + ceiling) / 2
        low, low_value, amount = amount, value, following
    return replace(best, hindered=hindered)
