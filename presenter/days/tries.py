"""Which remedies a miss leaves open in this lesson, each with one figure still to be solved.

In: a worked day, its miss and the target. Out: :class:`Try` values: how the lesson would change for an amount, a first
guess from the mass balance, and the most and the least that make sense.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from presenter.days.against_plan import Standing, Target, ends_of, place_in_day
from presenter.days.made import WorkedDay
from presenter.lesson import STEP_KINDS, Lesson, Step, slug
from presenter.lesson.steps.boil import Boil
from presenter.lesson.steps.cool import Cool
from presenter.lesson.steps.draw_off import DrawOff
from presenter.lesson.steps.pitch import Pitch
from presenter.lesson.steps.top_up import TopUp
from presenter.working.ingredients import known_ingredient
from presenter.working.walk import wort_called

__all__ = ["LEAST_STARCH", "MOST_MINUTES", "Try", "enzymes_gone", "steps_on", "tries_of"]

MOST_MINUTES = 180.0  # our choice: nobody stands longer at a kettle to mend a gravity
SWEET = ("sugar", "honey", "syrup")
POINTS_TO_KILOGRAMS = 2.6  # kg of sugar for each litre and unit of gravity: a first guess, which the model then mends
LEAST_STARCH = 0.005  # kg; less than this no rest can show in a gravity


@dataclass(frozen=True)
class Try:
    """A remedy still to be solved: the changes with an amount written in, and the figure that is varied."""

    id: str
    changes: Callable[[float], list[dict[str, Any]]]
    step_id: str
    key: str
    kind: str
    guess: float
    most: float
    least: float
    minutes: Callable[[float], float]
    words: Mapping[str, str]
    most_because: str = ""
    start: float = 0.0
    sign: float = 1.0


def steps_on(lesson: Lesson, kind: type[Step], liquid: str) -> list[tuple[int, Any]]:
    """The steps of one kind that work on ``liquid``, with their places."""
    return [
        (index, step)
        for index, step in enumerate(lesson.steps)
        if isinstance(step, kind) and liquid in {slug(name) for name in (*step.uses(), *step.makes())}
    ]


def _said(worked: WorkedDay, liquid: str) -> str:
    """A liquid as the lesson calls it."""
    for step in worked.made.lesson.steps:
        for name in (getattr(step, "call_it", None), *step.uses()):
            if name is not None and slug(str(name)) == liquid:
                return str(name)
    return liquid.replace("-", " ")


def tries_of(worked: WorkedDay, miss: Standing, target: Target) -> Iterator[Try]:
    lesson = worked.made.lesson
    here = place_in_day(worked)
    drawn = [index for index, _ in steps_on(lesson, DrawOff, target.liquid)]
    pitched = [index for index, _ in steps_on(lesson, Pitch, target.liquid)] or [len(lesson.steps)]
    start = max([here, *drawn[:1]])
    if start >= pitched[0]:
        return
    liquid = worked.made.after[target.step].liquids[target.liquid]
    name = _said(worked, target.liquid)
    call = f"the {wort_called(name)}"
    places = (start, pitched[0], liquid.volume.value, name, call)
    if target.stands < target.wanted:
        yield from _boiling(worked, target, places)
        yield from _sweetening(worked, target, places)
        yield from _letting_down_less(worked, target, places)
        yield from _resting(worked, miss)
    else:
        yield from _thinning(worked, target, places)
    yield from _pouring(worked, target, places)


_Places = tuple[int, int, float, str, str]


def _boiling(worked: WorkedDay, target: Target, places: _Places) -> Iterator[Try]:
    start, _, volume, name, call = places
    lesson = worked.made.lesson
    boils = steps_on(lesson, Boil, target.liquid)
    ahead = [(index, step) for index, step in boils if index > start]
    kettle = str(boils[0][1].in_) if boils else "kettle"
    rate_id = f"lesson.{slug(kettle)}-boils-away"
    found = worked.made.numbers.get(rate_id) or worked.made.numbers.get("lesson.boils-away")
    rate = 2.5 if found is None else max(float(found.quantity.magnitude), 0.1)
    water = volume * (1.0 - (target.stands - 1.0) / max(target.wanted - 1.0, 1e-6))
    guess = 60.0 * water / rate
    if ahead:
        step = ahead[0][1]
        planned = step.for_.number()
        yield Try(
            "boil-longer", lambda extra: [{"at": step.name, "now": {"for": f"{planned + extra:.0f} min"}}],
            step.id, "for_", "time", guess, MOST_MINUTES, 1.0, lambda extra: extra, {"liquid": call},
            start=planned,
        )  # fmt: skip
        return
    new = {"name": f"Boil the {name} again", "do": "boil", "what": name, "in": kettle}
    cools = [step for index, step in steps_on(lesson, Cool, target.liquid) if index <= start]
    anchor = lesson.steps[start].name
    cooling = cools[-1].within.number() if cools else 0.0

    def boiled_again(minutes: float) -> list[dict[str, Any]]:
        changes = [{"after": anchor, "step": {**new, "for": f"{minutes:.0f} min"}}]
        if cools:
            again = {
                "name": f"Cool the {name} again", "do": "cool", "what": name, "to": cools[-1].to.written,
                "within": cools[-1].within.written,
            }  # fmt: skip
            if cools[-1].in_ is not None:
                again["in"] = str(cools[-1].in_)
            changes.append({"after": new["name"], "step": again})
        return changes

    yield Try(
        "boil-again", boiled_again, slug(new["name"]), "for_", "time", guess, MOST_MINUTES, 1.0,
        lambda minutes: minutes + cooling, {"liquid": call},
    )  # fmt: skip


def _sweetening(worked: WorkedDay, target: Target, places: _Places) -> Iterator[Try]:
    """Every sugar that the author has and no step uses: no more of it than there is."""
    start, _, volume, name, call = places
    lesson = worked.made.lesson
    if "add" not in STEP_KINDS:
        return
    used = {str(item) for step in lesson.steps for item in _names_under_with(step)}
    for key, use in {**worked.day.file.on_hand, **lesson.file.ingredients}.items():
        known = known_ingredient(str(use.what))
        if known is None or known.family not in SWEET or str(key) in used or use.amount.kind != "mass":
            continue
        new = {"name": f"Sweeten the {name} with {key}", "do": "add", "what": name, "with": [str(key)]}
        share = known.extract_share or 1.0
        guess = volume * (target.wanted - target.stands) * POINTS_TO_KILOGRAMS / share

        def sweetened(kilograms: float, new: dict[str, Any] = new) -> list[dict[str, Any]]:
            return [{"after": lesson.steps[start].name, "step": {**new, "amount": f"{kilograms * 1000:.0f} g"}}]

        yield Try(
            "add-sugar", sweetened, slug(str(new["name"])), "", "mass", guess, use.amount.number(), 0.005,
            lambda _: 5.0, {"liquid": call, "sugar": str(use.what)},
            f"there is no more {use.what} than {use.amount.written}",
        )  # fmt: skip


def _letting_down_less(worked: WorkedDay, target: Target, places: _Places) -> Iterator[Try]:
    """Less of the water that is still to go in, where the plan thins this wort later on."""
    start, _, volume, _, call = places
    for index, step in steps_on(worked.made.lesson, TopUp, target.liquid):
        planned = step.water.number()
        if index <= start or planned <= 0.1:
            continue
        guess = volume * (1.0 - (target.stands - 1.0) / max(target.wanted - 1.0, 1e-6))
        yield Try(
            "let-down-less",
            lambda less, step=step, planned=planned: [  # type: ignore[misc]
                {"at": step.name, "now": {"water": f"{planned - less:.2f} L"}}
            ],
            step.id, "water", "volume", guess, planned - 0.05, 0.05, lambda _: 0.0, {"liquid": call},
            "no less water than none can go in", start=planned, sign=-1.0,
        )  # fmt: skip


def _names_under_with(step: Step) -> tuple[Any, ...]:
    found = getattr(step, "with_", ())
    return tuple(found) if isinstance(found, tuple) else (found,)


def _resting(worked: WorkedDay, miss: Standing) -> Iterator[Try]:
    lesson, step_id = worked.made.lesson, miss.read.step
    here = place_in_day(worked)
    step = lesson.steps[here]
    tub = str(getattr(step, "in_", "") or "")
    bed = worked.made.after[step_id].beds.get(tub)
    if step.id != step_id or bed is None or bed.mash.undissolved.value < LEAST_STARCH or enzymes_gone(worked, step_id):
        return
    new = {"name": "Rest longer", "do": "hold", "in": tub}
    yield Try(
        "rest-longer", lambda minutes: [{"after": step.name, "step": {**new, "for": f"{minutes:.0f} min"}}],
        "rest-longer", "for_", "time", 30.0, 120.0, 5.0, lambda minutes: minutes, {},
    )  # fmt: skip


def enzymes_gone(worked: WorkedDay, step_id: str) -> bool:
    left = worked.made.numbers.get(f"{step_id}.alpha-amylase-left")
    return left is not None and float(left.quantity.magnitude) < 1.0


def _thinning(worked: WorkedDay, target: Target, places: _Places) -> Iterator[Try]:
    start, _, volume, name, call = places
    lesson = worked.made.lesson
    ahead = [index for index, _ in steps_on(lesson, Boil, target.liquid) if index > start]
    new = {"name": f"Thin the {name}", "do": "top up", "what": name} | ({} if ahead else {"boiled": "yes"})
    guess = volume * ((target.stands - 1.0) / max(target.wanted - 1.0, 1e-6) - 1.0)
    yield Try(
        "thin", lambda litres: [{"after": lesson.steps[start].name, "step": {**new, "water": f"{litres:.2f} L"}}],
        slug(new["name"]), "water", "volume", guess, 10.0 * volume, 0.05, lambda _: 5.0, {"liquid": call},
    )  # fmt: skip


def _pouring(worked: WorkedDay, target: Target, places: _Places) -> Iterator[Try]:
    """Another wort of the same lesson, still without yeast at a moment when this one is too."""
    start, pitched, volume, name, call = places
    lesson = worked.made.lesson
    low = target.stands < target.wanted
    others = {slug(str(each.call_it)) for each in lesson.steps if isinstance(each, DrawOff)} - {target.liquid}
    for other in sorted(others):
        number = ends_of(worked.made, other)[1]
        if not number:
            continue
        gravity = float(worked.made.numbers[number].quantity.magnitude)
        if (gravity - target.wanted) * (1 if low else -1) <= 0.0:
            continue
        drawn = steps_on(lesson, DrawOff, other)[0][0]
        ends = [index for index, _ in steps_on(lesson, Pitch, other)] or [len(lesson.steps)]
        when = min(pitched, ends[0]) - 1
        if when < max(start, drawn):
            continue
        there = worked.made.after[lesson.steps[when].id].liquids[other].volume.value
        called = _said(worked, other)
        new = {"name": f"Pour {called} onto the {name}", "do": "pour", "what": called, "onto": name}
        guess = volume * abs(target.wanted - target.stands) / max(abs(gravity - target.wanted), 1e-4)
        yield Try(
            "pour-strong" if low else "pour-small",
            lambda litres, when=when, new=new: [  # type: ignore[misc]
                {"after": lesson.steps[when].name, "step": {**new, "volume": f"{litres:.2f} L"}}
            ],
            slug(new["name"]), "volume", "volume", guess, 0.95 * there, 0.05, lambda _: 5.0,
            {"liquid": call, "other": f"the {wort_called(called)}"}, f"there is no more of the {wort_called(called)}",
        )  # fmt: skip
