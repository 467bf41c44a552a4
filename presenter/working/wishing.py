"""Wishes: an ingredient's amount that is to be enough for a gravity, or for so much drink of a strength.

In: a lesson and a way to walk it with given amounts. Out: the amounts that meet every wish, found once when the lesson
is planned by a bracketing root finder (Brent's, from scipy) over the whole walk, and held from then on; or a Problem at
the author's line where no amount can do it. A gravity is that at pitching, or of the liquid where none is pitched; a
strength is that of the first drink fermented with the ingredient in it, and is met by the alcohol: 9 L at 5 percent
hold as much as the drink does, however much water is in it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace

from scipy.optimize import brentq

from presenter.lesson.amounts import Wish
from presenter.lesson.model import Lesson
from presenter.lesson.steps import slug
from presenter.problems import Problem, ProblemsFoundError
from presenter.science.yeast import yeast_of
from presenter.working.amounts import by_scales
from presenter.working.ledger import Ledger
from presenter.working.vessels import Liquid, Vessels
from presenter.working.walk import Walk, wort_called

__all__ = ["Walked", "Wishes", "solved_wishes", "wished_again", "with_the_wishes"]

_LEAST, _MOST, _START, _GROWS = 1e-6, 1e4, 0.05, 1.6  # kilograms; growth of the bracket
_ROUNDS, _SETTLED = 30, 1e-10

Walked = tuple[Walk, Mapping[str, Vessels]]
Walker = Callable[[Mapping[str, float], bool], Walked]


@dataclass(frozen=True)
class _Met:
    """Where a wish is met: the liquid or tub, the step, the value there now, and the liquid itself."""

    where: str
    step: str
    value: float
    liquid: Liquid | None


@dataclass(frozen=True)
class Wishes:
    """The planned kilograms of each wished ingredient, what is said beside them, and how the goal moves with them."""

    amounts: Mapping[str, float] = field(default_factory=dict)
    remarks: Mapping[str, str] = field(default_factory=dict)
    slopes: Mapping[str, float] = field(default_factory=dict)


def wishes_of(lesson: Lesson) -> dict[str, Wish]:
    """The ingredients whose amount is a wish, by the author's name for them."""
    return {str(name): use.amount for name, use in lesson.file.ingredients.items() if isinstance(use.amount, Wish)}


def _goal(wish: Wish) -> float:
    """What is to be met: a gravity, or percent by volume times litres."""
    return wish.number() * (wish.volume.number() if wish.volume is not None else 1.0)


def _met(walked: Walked, name: str, wish: Wish) -> _Met | None:
    """Where, in this walk, a wish is met; nothing where no step gets so far."""
    walk, after = walked
    pitched = standing = tub = None
    for step in walk.lesson.steps:
        vessels = after[step.id]
        for liquid in vessels.liquids.values():
            if name not in liquid.ingredients or (wish.liquid and slug(wish.liquid) != liquid.name):
                continue
            if wish.volume is not None:
                if liquid.fermented and liquid.strength is not None:
                    value = liquid.strength.value * liquid.volume.value
                    return _Met(liquid.name, str(step.name), value, liquid)
            elif liquid.pitched and liquid.original_gravity is not None:
                first = pitched is None or pitched.where == liquid.name
                if first and liquid.eaten is None and not liquid.fermented:
                    pitched = _Met(liquid.name, str(step.name), liquid.original_gravity.value, liquid)
            elif standing is None or standing.where == liquid.name:
                standing = _Met(liquid.name, str(step.name), liquid.gravity.value, liquid)
        for bed in vessels.beds.values():
            if tub is None and name in bed.ingredients and wish.volume is None and not wish.liquid:
                tub = _Met(bed.vessel, str(step.name), bed.gravity.value, None)
    return pitched or standing or tub


def solved_wishes(lesson: Lesson, walker: Walker) -> Wishes:
    """The amounts that meet every wish of the lesson at once.

    Raises ProblemsFoundError where a wish cannot be met. Where the lesson has other mistakes that hide a wish's end,
    a kilogram stands in, and the plan's own walk tells those mistakes.
    """
    wishes = wishes_of(lesson)
    if not wishes:
        return Wishes()
    amounts = dict.fromkeys(wishes, 1.0)
    first = walker(amounts, False)
    ends = {name: _met(first, name, wish) for name, wish in wishes.items()}
    if None in ends.values() and first[0].problems:
        return Wishes(amounts)
    problems = [*_no_end(lesson, wishes, ends), *_beyond_yeast(wishes, ends), *_two_on_one(lesson, wishes, ends)]
    if problems:
        raise ProblemsFoundError(tuple(problems))
    for _ in range(_ROUNDS):
        before = dict(amounts)
        for name, wish in wishes.items():
            amounts[name] = _solved(lesson, walker, amounts, name, wish)
        if len(wishes) == 1 or all(abs(amounts[n] - before[n]) <= _SETTLED * amounts[n] for n in amounts):
            break
    remarks, slopes = {}, {}
    for name, wish in wishes.items():
        high, low = (_value(walker, amounts | {name: amounts[name] * by}, name, wish) for by in (1.001, 0.999))
        if high is not None and low is not None and high != low:
            slopes[name] = (high - low) / (0.002 * amounts[name])
        met = _met(walker(amounts, False), name, wish)
        assert met is not None
        where = wort_called(met.where.replace("-", " "))
        remarks[name] = (
            f"with so much, the {where} comes to what was wished at the step “{met.step}”; found by trying amounts"
            " between too little and too much over all the steps, and held from then on"
        )
        if wish.volume is not None and met.liquid is not None:
            remarks[name] += (
                f"; it holds as much alcohol as {wish.volume.written} of that strength, and comes to"
                f" {met.liquid.volume.value:.1f} L by itself"
            )
    return Wishes(amounts, remarks, slopes)


def _value(walker: Walker, amounts: Mapping[str, float], name: str, wish: Wish) -> float | None:
    """What the wished thing comes to with these amounts; nothing where no drink can come of them."""
    try:
        met = _met(walker(amounts, False), name, wish)
    except (ArithmeticError, ValueError):
        return None
    return None if met is None else met.value


def _problem(lesson: Lesson, name: str, wish: Wish, wrong: str, remedy: str = "") -> Problem:
    return Problem(wish.place, f"ingredients.{name}.amount", wish.written, wrong, remedy)


def _solved(lesson: Lesson, walker: Walker, amounts: Mapping[str, float], name: str, wish: Wish) -> float:
    """The amount of one ingredient that meets its wish while the others stay."""
    goal = _goal(wish)
    what = next(str(use.what) for key, use in lesson.file.ingredients.items() if str(key) == name)

    def over(kilograms: float) -> float:
        found = _value(walker, {**amounts, name: kilograms}, name, wish)
        return float("nan") if found is None else found - goal

    if over(_LEAST) >= 0:
        wrong = f"Without any {what} at all it comes to as much already."
        raise ProblemsFoundError((_problem(lesson, name, wish, wrong, "Wish for more, or use less of the rest."),))
    low = high = _START
    while (found := over(high)) < 0 and high < _MOST:
        low, high = high, high * _GROWS
    if not found >= 0:
        least = _value(walker, {**amounts, name: low}, name, wish)
        short = "" if least is None or wish.volume is not None else f"; {by_scales(low)} gives {least:.3f}"
        wrong = f"No amount of {what} is {wish.written}{short}."
        raise ProblemsFoundError((_problem(lesson, name, wish, wrong, "Wish for less, or change the water."),))
    return float(brentq(over, low if low < high else _LEAST, high, xtol=1e-13, rtol=1e-13))


def _no_end(lesson: Lesson, wishes: Mapping[str, Wish], ends: Mapping[str, _Met | None]) -> list[Problem]:
    """A Problem for each wish whose liquid the steps never come to."""
    problems = []
    for name, wish in wishes.items():
        if ends[name] is not None:
            continue
        if wish.liquid:
            wrong = f"No step puts the {name} into {wish.liquid}."
        elif wish.volume is not None:
            wrong = f"No step ferments what the {name} goes into, so there is no strength to be enough for."
        else:
            wrong = f"No step puts the {name} into anything, so there is no gravity to be enough for."
        problems.append(_problem(lesson, name, wish, wrong, "Add the step, or state the amount."))
    return problems


def _beyond_yeast(wishes: Mapping[str, Wish], ends: Mapping[str, _Met | None]) -> list[Problem]:
    """A Problem for each strength that the yeast in the drink does not stand."""
    problems = []
    for name, wish in wishes.items():
        end = ends[name]
        if wish.volume is None or end is None or end.liquid is None or end.liquid.yeast is None:
            continue
        yeast = yeast_of(end.liquid.yeast)
        if wish.number() > yeast.ceiling[1]:
            wrong = f"{wish.number():g} percent is more than {yeast.name} stands: it is not reported past"
            wrong += f" {yeast.ceiling[1]:g} percent."
            where = f"ingredients.{name}.amount"
            problems.append(Problem(wish.place, where, wish.written, wrong, "Wish for a weaker drink."))
    return problems


def _two_on_one(lesson: Lesson, wishes: Mapping[str, Wish], ends: Mapping[str, _Met | None]) -> list[Problem]:
    """A Problem where two amounts are wished for in one liquid."""
    problems, taken = [], dict[str, str]()
    for name, wish in wishes.items():
        end = ends[name]
        if end is None:
            continue
        other = taken.setdefault(end.where, name)
        if other == name:
            continue
        where, theirs = wort_called(end.where.replace("-", " ")), wishes[other]
        if (theirs.volume is None) == (wish.volume is None) and _goal(theirs) != _goal(wish):
            wrong = f"The {where} cannot be both: {other} is to be {theirs.written}, and {name} {wish.written}."
        else:
            wrong = f"One wish settles one amount; the {where} has two, {other} and {name}."
        problems.append(_problem(lesson, name, wish, wrong, "State one of the two amounts."))
    return problems


def with_the_wishes(lesson: Lesson, wishes: Wishes, problems: list[Problem], walker: Walker) -> list[Problem]:
    """The plan's problems, those that come of a wished amount told at the wish: they vanish with half as much."""
    if not wishes.slopes or not problems:
        return problems
    half = set(walker({name: amount / 2 for name, amount in wishes.amounts.items()}, True)[0].problems)
    name, wish = next(iter(wishes_of(lesson).items()))
    what = next(str(use.what) for key, use in lesson.file.ingredients.items() if str(key) == name)
    told: list[Problem] = []
    for problem in problems:
        if problem in half:
            told.append(problem)
            continue
        wrong = f"To be {wish.written}, {by_scales(wishes.amounts[name])} of {what} would be needed. {problem.wrong}"
        told.append(_problem(lesson, name, wish, wrong, problem.remedy))
    return told


def wished_again(lesson: Lesson, wishes: Wishes, ledger: Ledger, walked: Walked) -> None:
    """Record, in a shifted walk's ledger, how much would be enough if it were solved again there.

    One Newton step from the planned amount, along the slope of the plan: the shifts are small against the amounts, so
    a second step would move it by the square of a few percent, far less than the give-or-take is told to.
    """
    for name, wish in wishes_of(lesson).items():
        met, entry_id = _met(walked, name, wish), f"lesson.{slug(name)}-enough"
        if met is None or name not in wishes.slopes or entry_id not in ledger.entries:
            continue
        again = wishes.amounts[name] + (_goal(wish) - met.value) / wishes.slopes[name]
        ledger.entries[entry_id] = replace(ledger.entries[entry_id], value=again)
