"""Readings against the plan: within the give-or-take, high or low, by how much, and what the miss bears on.

In: a worked day. Out: one :class:`Standing` for each reading held, and the :class:`Target` that a remedy should reach:
the gravity planned for that liquid when the yeast goes in.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from presenter.days.correcting import Corrected
from presenter.days.made import WorkedDay
from presenter.lesson import Lesson, slug
from presenter.lesson.steps.draw_off import DrawOff
from presenter.lesson.steps.ferment import Ferment
from presenter.quantities import WorkedNumber
from presenter.working import WorkedLesson

__all__ = ["Standing", "Target", "ends_of", "fermenting_step", "latest_miss", "place_in_day", "standings", "target_of"]


@dataclass(frozen=True)
class Standing:
    """One reading beside the number that was planned there."""

    read: Corrected
    planned: WorkedNumber
    apart: float
    allowed: float

    @property
    def verdict(self) -> str:
        """within, high or low."""
        if abs(self.apart) <= self.allowed:
            return "within"
        return "high" if self.apart > 0 else "low"


@dataclass(frozen=True)
class Target:
    """What a remedy should reach: a liquid's gravity at the last step before the yeast, as planned and as it stands.

    ``planned_id`` and ``made_id`` are the ids of the two numbers; ``step`` the last step before the yeast in the lesson
    as made; ``band`` the give-or-take within which the target counts as reached; ``ferment`` the step that ferments it.
    """

    liquid: str
    planned_id: str
    made_id: str
    wanted: float
    stands: float
    band: float
    step: str
    ferment: str = ""


def standings(worked: WorkedDay) -> tuple[Standing, ...]:
    """Every reading held that has a planned number to stand beside, in the order of the day's file."""
    found = []
    for each in worked.readings:
        planned = worked.plan.numbers.get(each.number)
        if planned is None or not each.held:
            continue
        apart = float(each.quantity.magnitude) - float(planned.quantity.magnitude)
        spread = 0.0 if planned.spread is None else float(planned.spread.magnitude)
        found.append(Standing(each, planned, apart, math.hypot(spread, float(each.spread.magnitude))))
    return tuple(found)


def latest_miss(worked: WorkedDay) -> Standing | None:
    """The latest reading that missed the plan, a later reading of the same number having the last word."""
    last: dict[str, Standing] = {each.read.number: each for each in standings(worked)}
    missed = [each for each in last.values() if each.verdict != "within"]
    gravities = [each for each in missed if each.read.what == "gravity"]
    found = gravities or missed
    return found[-1] if found else None


def place_in_day(worked: WorkedDay) -> int:
    """The index, in the lesson as made, of the latest step that anything was read at; steps up to it are done."""
    steps = [step.id for step in worked.made.lesson.steps]
    return max((steps.index(each.step) for each in worked.readings), default=-1)


def ends_of(worked: WorkedLesson, liquid: str) -> tuple[str, str]:
    """The step and the id of a liquid's gravity at the last moment before the yeast; empty where there is none."""
    step_id, number = "", ""
    for step in worked.lesson.steps:
        there = worked.after[step.id].liquids.get(liquid)
        if there is None:
            continue
        if there.pitched:
            break
        step_id, number = step.id, there.gravity.id
    return step_id, number


def _liquid_of(lesson: Lesson, worked: WorkedLesson, read: Corrected) -> str:
    """The liquid that a reading bears on: the one read, or the first that is drawn from the mash that was read."""
    steps = [step.id for step in lesson.steps]
    index = steps.index(read.step)
    step = lesson.steps[index]
    after = worked.after[step.id]
    if read.reading.of is not None:
        return slug(read.reading.of)
    for name in (*step.makes(), *step.uses()):
        if slug(name) in after.liquids:
            return slug(name)
    tub = str(getattr(step, "in_", "") or "")
    for later in lesson.steps[index + 1 :]:
        if isinstance(later, DrawOff) and (later.from_vessel is None or str(later.from_vessel) == tub):
            return slug(later.call_it)
    return ""


def _ferments(lesson: Lesson) -> Iterator[tuple[str, str]]:
    for step in lesson.steps:
        if isinstance(step, Ferment):
            yield slug(step.what), step.id


def fermenting_step(lesson: Lesson, liquid: str) -> str:
    """The id of the step that ferments a liquid, or an empty string."""
    return next((step for name, step in _ferments(lesson) if name == liquid), "")


def target_of(worked: WorkedDay, miss: Standing) -> Target | None:
    """What a remedy of ``miss`` should reach; None where it bears on no wort that is still without yeast."""
    liquid = _liquid_of(worked.made.lesson, worked.made, miss.read)
    planned_step, planned_id = ends_of(worked.plan, liquid)
    made_step, made_id = ends_of(worked.made, liquid)
    steps = [step.id for step in worked.made.lesson.steps]
    if not planned_step or not made_step or place_in_day(worked) > steps.index(made_step):
        return None
    planned, made = worked.plan.numbers[planned_id], worked.made.numbers[made_id]
    band = 0.001 if made.spread is None else float(made.spread.magnitude)
    return Target(
        liquid, planned_id, made_id, float(planned.quantity.magnitude), float(made.quantity.magnitude), band, made_step,
        fermenting_step(worked.made.lesson, liquid),
    )  # fmt: skip
