"""From a checked lesson to a worked lesson: every number with unit, give-or-take and source.

In: a Lesson, and readings held in place of worked numbers. Out: :class:`WorkedLesson`; or every Problem that the walk
met, one for each mistake, since a step that fails leaves its liquid unknown and later steps stay silent about it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from functools import lru_cache

from presenter.lesson.model import Lesson
from presenter.lesson.steps import Step, slug
from presenter.lesson.steps.draw_off import DrawOff
from presenter.lesson.steps.hold import Hold
from presenter.lesson.steps.mash import Mash
from presenter.lesson.steps.raise_mash import Raise
from presenter.problems import Problem, ProblemsFoundError, nearest
from presenter.quantities import Course, GiveOrTake, Q, Quantity, Withheld, WorkedNumber
from presenter.quantities.wording import unit_sign
from presenter.science.formula import FORMULAS, OutOfRangeError
from presenter.working.baked import Baked, moved_loaves
from presenter.working.brought import others_worked
from presenter.working.giving import give_or_take
from presenter.working.ledger import Entry, Ledger
from presenter.working.plants import never_use_problems
from presenter.working.saying import problems_in_sayings, sayings
from presenter.working.serving import country_problems
from presenter.working.steps import STEP_WALKS
from presenter.working.totals import walk_totals
from presenter.working.vessels import Loaf, StepProblemError, UnknownContentsError, Vessels
from presenter.working.walk import Comparison, Walk
from presenter.working.wishing import Walked, Wishes, solved_wishes, wished_again, with_the_wishes

__all__ = ["Held", "WorkedLesson", "difference_unit", "walk_through", "work_out"]


@dataclass(frozen=True)
class Held:
    """A reading that replaces the worked number ``id``: its quantity and its own give-or-take (a difference)."""

    id: str
    quantity: Quantity
    spread: Quantity


@dataclass(frozen=True)
class WorkedLesson:
    """A lesson with its numbers in the order of the steps, and what was left in the vessels at the end.

    ``baked`` are its loaves as another lesson finds them; ``others`` the lessons whose loaves it uses, worked, by the
    names under ``made in``.
    """

    lesson: Lesson
    numbers: Mapping[str, WorkedNumber]
    withheld: tuple[Withheld, ...]
    courses: tuple[Course, ...]
    comparisons: tuple[Comparison, ...]
    vessels: Vessels
    after: Mapping[str, Vessels] = field(default_factory=dict)
    said: Mapping[str, str] = field(default_factory=dict)
    gaps: Mapping[str, float] = field(default_factory=dict)
    baked: Baked = field(default_factory=lambda: Baked({}))
    others: Mapping[str, WorkedLesson] = field(default_factory=dict)

    def of_step(self, step: Step | str) -> tuple[WorkedNumber, ...]:
        """The numbers of one step that sheets show."""
        step_id = step if isinstance(step, str) else step.id
        return tuple(number for number in self.numbers.values() if number.step == step_id and number.on_sheets)


def difference_unit(unit: str) -> str:
    """The unit of a difference of two values in ``unit``."""
    return {"degree_Celsius": "delta_degree_Celsius", "degree_Fahrenheit": "delta_degree_Fahrenheit"}.get(unit, unit)


def _copy(vessels: Vessels) -> Vessels:
    return Vessels(dict(vessels.liquids), dict(vessels.beds), set(vessels.lost), vessels.last_bed, dict(vessels.loaves))


def walk_through(
    lesson: Lesson,
    ledger: Ledger,
    snapshots: dict[str, Vessels] | None = None,
    wishes: Wishes | None = None,
    brought: Mapping[str, Baked] | None = None,
) -> Walk:
    """One walk through every step, its entries in ``ledger``; Problems are gathered in the walk."""
    wishes = wishes or Wishes()
    walk = Walk(lesson, ledger, wished=wishes.amounts, wish_remarks=wishes.remarks, brought=brought or {})
    for index, step in enumerate(lesson.steps):
        walk.step, walk.index = step, index
        ledger.accepted = frozenset(str(name).strip() for name in step.accept)
        try:
            STEP_WALKS[step.do.strip()](step, walk)
        except UnknownContentsError:
            _lose(walk, step)
        except StepProblemError as error:
            walk.problems.append(error.problem)
            _lose(walk, step)
        except OutOfRangeError as error:
            walk.problems.append(_out_of_range(walk, step, error))
            _lose(walk, step)
        if snapshots is not None:
            snapshots[step.id] = _copy(walk.vessels)
    walk.step = None
    if not walk.problems:
        walk_totals(walk)
    return walk


def _lose(walk: Walk, step: Step) -> None:
    """What a failed step would have made or changed is not known from here on."""
    walk.failed.add(step.id)
    walk.vessels.lost.update(slug(name) for name in (*step.uses(), *step.makes()))
    if isinstance(step, Mash | Hold | Raise):
        walk.vessels.lost.add(f"bed {step.in_}")
        walk.vessels.last_bed = str(step.in_)
    walk.vessels.lost.update(f"loaf {slug(name)}" for name in step.bakes())
    if isinstance(step, DrawOff):
        walk.vessels.lost.add(f"bed {step.from_vessel or walk.vessels.last_bed}")


def _out_of_range(walk: Walk, step: Step, error: OutOfRangeError) -> Problem:
    wrong = error.reason
    if not wrong:
        name = error.argument.replace("_", " ")
        sign = unit_sign(error.unit)
        within = f"{error.low:.6g} to {error.high:.6g} {sign}".rstrip()
        came = f"{error.value:.6g} {sign}".rstrip()
        wrong = f"At this step the {name} comes to {came}; the formula called {error.formula} holds from {within}."
    return Problem(
        step.name.place,
        f"steps[{walk.index + 1}].name",
        str(step.name),
        wrong,
        f"To go outside its range knowingly, add accept: [{error.formula}] to the step.",
    )


def _unknown_acceptances(lesson: Lesson) -> list[Problem]:
    """A Problem for each name under ``accept`` that no formula bears."""
    return [
        Problem(
            name.place, f"steps[{number}].accept", str(name), f"There is no formula called {name}.",
            f"Did you mean {close}?" if (close := nearest(str(name), FORMULAS)) else "",
        )
        for number, step in enumerate(lesson.steps, start=1)
        for name in step.accept
        if str(name).strip() not in FORMULAS
    ]  # fmt: skip


def work_out(lesson: Lesson, held: Iterable[Held] = (), *, spreads: bool = True) -> WorkedLesson:
    """Walk the lesson, then walk it again shifted, and gather every number.

    Without ``spreads`` it is walked once and no number has a give-or-take, which is enough to check a lesson.

    Raises ProblemsFoundError with each Problem that the walk or the ``say`` lines met.
    """
    readings: dict[str, tuple[float, float]] = {}
    for reading in held:
        readings[reading.id] = (float(reading.quantity.magnitude), float(reading.spread.magnitude))
    others, wrong_with_others = others_worked(lesson, lambda other: _work_once(_Same(other), spreads))
    brought = {name: other.baked for name, other in others.items()}
    walker = _walker(lesson, brought)
    wishes = solved_wishes(lesson, walker)
    snapshots: dict[str, Vessels] = {}
    plan = Ledger(held=readings)
    walk = walk_through(lesson, plan, snapshots, wishes, brought)
    silent = walk.failed | ({"lesson"} if walk.problems or wrong_with_others else set())
    known = (*plan.entries, *plan.withheld)
    never = never_use_problems(lesson)
    refused = {problem.place for problem in never}  # nothing else is said of it there, least of all how to use it
    walked = with_the_wishes(lesson, wishes, walk.problems, walker)
    problems = [
        *never, *country_problems(lesson), *_unknown_acceptances(lesson), *wrong_with_others,
        *(problem for problem in walked if problem.place not in refused),
        *problems_in_sayings(lesson, known, silent),
    ]  # fmt: skip
    if problems:
        raise ProblemsFoundError(tuple(dict.fromkeys(problems)))
    settings = {entry.id: entry.value for entry in plan.entries.values() if entry.setting}

    planned = frozenset(plan.entries)
    shifted_loaves: dict[tuple[str, float], Mapping[str, Loaf]] = {}

    def again(shifts: Mapping[str, float]) -> Ledger:
        shifted = Ledger(shifts=shifts, settings=settings, held=readings, watchful=False, planned=planned)
        after: dict[str, Vessels] | None = {} if wishes.amounts else None
        walked = walk_through(lesson, shifted, after, wishes, brought)
        if after is not None:
            wished_again(lesson, wishes, shifted, (walked, after))
        shifted_loaves.update(dict.fromkeys(shifts.items(), walked.vessels.loaves))
        return shifted

    given = give_or_take(plan, again) if spreads else {}
    numbers = {entry.id: _number(lesson, entry, given.get(entry.id)) for entry in _in_order(lesson, plan.entries)}
    return WorkedLesson(
        lesson=lesson,
        numbers=numbers,
        withheld=tuple(plan.withheld.values()),
        courses=tuple(walk.courses.values()),
        comparisons=tuple(walk.comparisons),
        vessels=walk.vessels,
        after=snapshots,
        said=sayings(lesson, numbers),
        gaps=dict(plan.gaps),
        baked=Baked(walk.vessels.loaves, moved_loaves(walk.vessels.loaves, shifted_loaves)),
        others=others,
    )


@dataclass(frozen=True, eq=False)
class _Same:
    """A lesson as the same thing only where it is the very same one."""

    lesson: Lesson

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and self.lesson is other.lesson

    def __hash__(self) -> int:
        return id(self.lesson)


@lru_cache(maxsize=8)
def _work_once(same: _Same, spreads: bool) -> WorkedLesson:
    """A lesson that others rest on, worked once however many walks and versions of those there are."""
    return work_out(same.lesson, spreads=spreads)


def _walker(lesson: Lesson, brought: Mapping[str, Baked]) -> Callable[[Mapping[str, float], bool], Walked]:
    """How wishes walk the lesson as planned, before any reading: with given amounts, watchful or not."""

    def walked(amounts: Mapping[str, float], watchful: bool) -> Walked:
        after: dict[str, Vessels] = {}
        return walk_through(lesson, Ledger(watchful=watchful), after, Wishes(amounts), brought), after

    return walked


def _in_order(lesson: Lesson, entries: Mapping[str, Entry]) -> list[Entry]:
    order = {step.id: index for index, step in enumerate(lesson.steps)}
    return sorted(entries.values(), key=lambda entry: order.get(entry.step, -1))


def _number(lesson: Lesson, entry: Entry, spread: tuple[float, tuple[tuple[str, float], ...]] | None) -> WorkedNumber:
    found = None
    if spread is not None and spread[0] > 1e-12 * max(1.0, abs(entry.value)):
        found = GiveOrTake(Q(spread[0], difference_unit(entry.unit)), spread[1][0][0], spread[1])
    return WorkedNumber(
        id=entry.id,
        step=entry.step,
        label=entry.label,
        quantity=Q(entry.value, entry.unit),
        give_or_take=found,
        formula=entry.formula,
        inputs=entry.inputs,
        sources=entry.sources,
        rests_on=entry.rests_on,
        origin=entry.origin,
        remark=entry.remark,
        on_sheets=entry.on_sheets,
    )
