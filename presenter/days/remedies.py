"""What can be done now about a gravity that missed, each with its amount solved for this batch and its limits.

In: a worked day and its miss. Out: :class:`Remedy` values: what to do, how much, and what the batch then is (volume,
gravity, strength, time), the cautions that it adds, and whether it was done then. A remedy that a vessel, the cupboard
or the clock does not allow says so. Accepting what was made is always among them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from presenter.cautions import cautions_of
from presenter.days.against_plan import Standing, Target, ends_of, fermenting_step, place_in_day, target_of
from presenter.days.changing import changed_lesson, mapping, with_changes
from presenter.days.done_then import NO_RECORD, done_then, remedy_book
from presenter.days.made import WorkedDay, held_of, worked_silently
from presenter.days.solving import Solved, shortened, solve, varied
from presenter.days.tries import LEAST_STARCH, Try, enzymes_gone, steps_on, tries_of
from presenter.lesson import Lesson
from presenter.lesson.day import Change
from presenter.lesson.reading import Written
from presenter.lesson.steps.pitch import Pitch
from presenter.problems import Place, ProblemsFoundError
from presenter.quantities import Q, Quantity, in_words
from presenter.working import WorkedLesson

__all__ = ["Outcome", "Remedy", "remedies_of", "written"]

HERE = Place("presenter now")


@dataclass(frozen=True)
class Outcome:
    """What the batch is after a remedy: values in litre, gravity and percent by volume."""

    volume: float
    gravity: float
    strength: float | None
    limit: float | None = None


@dataclass(frozen=True)
class Remedy:
    """One thing that can be done. ``reaches`` is whether the target is then met within its give-or-take.

    ``words`` says it as a sentence with its amount; ``why_not`` why it does not reach, or cannot be done at all
    (``outcome`` is then None); ``changes`` are the lines for the day's file; ``cautions`` the short forms of those that
    it adds; ``history`` whether it was done then, with the kind of evidence and the source, or "no record".
    """

    id: str
    words: str
    amount: Quantity | None
    reaches: bool
    outcome: Outcome | None
    minutes: float
    mind: str = ""
    why_not: str = ""
    changes: tuple[Change, ...] = ()
    cautions: tuple[str, ...] = ()
    history: str = NO_RECORD


def remedies_of(worked: WorkedDay, miss: Standing, *, cautions: bool = True) -> tuple[Remedy, ...]:
    """Everything that can be done about a gravity that missed, those that reach the target first.

    Without ``cautions`` nobody looks which cautions a remedy would add, which is quicker.
    """
    target = target_of(worked, miss)
    if target is None:
        return ()
    base = changed_lesson(worked.plan.lesson, worked.day)
    known = {placed.id for placed in cautions_of(worked.made).full_words} if cautions else None
    found: list[Remedy] = []
    if abs(target.stands - target.wanted) > target.band:  # within its give-or-take nothing need be mended
        found += [_solved(worked, target, each, base, known) for each in tries_of(worked, miss, target)]
        found += _impossible(worked, miss, target)
    found += _warmed(worked, miss, target, base, known)
    found.sort(key=lambda each: (not each.reaches, each.outcome is None, each.minutes))
    return (*found, _accepted(worked, target))


def _outcome(worked: WorkedLesson, target: Target) -> Outcome:
    step, number = ends_of(worked, target.liquid)
    liquid = worked.after[step].liquids[target.liquid]
    ferment = fermenting_step(worked.lesson, target.liquid)
    strength = worked.numbers.get(f"{ferment}.strength")
    return Outcome(
        liquid.volume.value, float(worked.numbers[number].quantity.magnitude),
        None if strength is None else float(strength.quantity.magnitude),
    )  # fmt: skip


def _accepted(worked: WorkedDay, target: Target) -> Remedy:
    return Remedy(
        "accept", remedy_book()["accept"]["title"], None, abs(target.stands - target.wanted) <= target.band,
        _outcome(worked.made, target), 0.0, history=done_then(worked.made.lesson, "accept"),
    )  # fmt: skip


def _warmed(
    worked: WorkedDay, miss: Standing, target: Target, base: Lesson, known: set[str] | None
) -> Iterator[Remedy]:
    """A mash that was found too cold, brought up by boiling water and left to rest again."""
    here = worked.made.lesson.steps[place_in_day(worked)]
    tub = getattr(here, "in_", None)
    hold = worked.made.numbers.get(f"{here.id}.hold") or worked.made.numbers.get(f"{here.id}.for")
    cold = miss.read.what == "temperature" and miss.verdict == "low" and here.id == miss.read.step
    if not cold or hold is None or str(tub) not in worked.made.after[here.id].beds:
        return
    reach, minutes = float(miss.planned.quantity.magnitude), float(hold.quantity.magnitude)
    name = "Bring the mash up"
    rows = _changes(
        [
            {
                "after": here.name,
                "step": {"name": name, "do": "raise", "in": tub, "reach": f"{reach:.0f} degC", "by": "hot water"},
            },
            {"after": name, "step": {"name": "Rest again", "do": "hold", "in": tub, "for": f"{minutes:.0f} min"}},
        ],
        "to bring the mash to the heat that was planned",
    )
    book, history = remedy_book()["warm-mash"], done_then(worked.made.lesson, "warm-mash")
    said = in_words(Q(reach, "degree_Celsius"), None, written=f"{reach:.0f}")
    try:
        after = worked_silently(with_changes(base, rows), held_of(worked.readings), spreads=False)
    except ProblemsFoundError as error:
        title = f"Bring the mash to {said} with boiling water"
        why = error.problems[0].wrong.rstrip(".")
        yield Remedy("warm-mash", title, None, False, None, 0.0, why_not=why, history=history)
        return
    water = after.numbers["bring-the-mash-up.hot-water"].quantity
    words = book["title"].format(amount=in_words(water), reach=said)
    outcome = _outcome(after, target)
    reaches = abs(outcome.gravity - target.wanted) <= target.band
    why_not = "" if reaches else "the heat is reached, but the water thins the wort below what was planned"
    yield Remedy(
        "warm-mash", words, water, reaches, outcome, minutes, mind=book["mind"], why_not=why_not, changes=rows,
        cautions=_new_cautions(after, known), history=history,
    )  # fmt: skip


def _impossible(worked: WorkedDay, miss: Standing, target: Target) -> Iterator[Remedy]:
    """Say plainly that a longer rest brings nothing: no starch is left, or no enzyme."""
    if target.stands >= target.wanted:
        return
    here = worked.made.lesson.steps[place_in_day(worked)]
    bed = worked.made.after[here.id].beds.get(str(getattr(here, "in_", "") or ""))
    if here.id != miss.read.step or bed is None:
        return
    history = done_then(worked.made.lesson, "rest-longer")
    title = "Let the mash rest longer"
    if bed.mash.undissolved.value < LEAST_STARCH:
        why = "by the teaching model all of the starch is out already; a longer rest brings no more"
        yield Remedy("rest-longer", title, None, False, None, 0.0, why_not=why, history=history)
    elif enzymes_gone(worked, here.id):
        why = "by the teaching model the enzymes that would do it are gone; stir in fresh malt first"
        yield Remedy("rest-longer", title, None, False, None, 0.0, why_not=why, history=history)


def _changes(rows: list[dict[str, Any]], because: str) -> tuple[Change, ...]:
    """Changes as the day's file would hold them."""
    return tuple(
        Change.model_validate(mapping({**row, "because": because}, HERE)) for row in rows
    )  # fmt: skip


def _upto_yeast(lesson: Lesson, liquid: str) -> Lesson:
    """The lesson up to the step before ``liquid`` gets its yeast, silent."""
    pitched = steps_on(lesson, Pitch, liquid)
    last = lesson.steps[pitched[0][0] - 1] if pitched else lesson.steps[-1]
    return shortened(lesson, last.id)


def _solved(worked: WorkedDay, target: Target, each: Try, base: Lesson, known: set[str] | None) -> Remedy:
    held = held_of(worked.readings)
    on_hand = worked.day.tree.get("on hand")
    because = "to bring the gravity to what was planned"
    guess = min(max(each.guess, each.least), each.most)
    trial = _upto_yeast(with_changes(base, _changes(each.changes(guess), because), on_hand), target.liquid)

    def lesson_with(amount: float) -> Lesson:
        if not each.key:  # an amount that may be a wish is written anew each time
            changed = with_changes(base, _changes(each.changes(amount), because), on_hand)
            return _upto_yeast(changed, target.liquid)
        return varied(trial, each.step_id, each.key, each.start + each.sign * amount, each.kind)

    def read(there: WorkedLesson) -> float:
        return float(there.numbers[ends_of(there, target.liquid)[1]].quantity.magnitude)

    found = solve(
        lesson_with, held, read, target.wanted, stands=target.stands, guess=guess, most=each.most
    )  # fmt: skip
    return _told(worked, target, each, found, base, because, known)


_STEPS = {"minute": 1.0, "litre": 0.05, "kilogram": 0.005}


def _told(
    worked: WorkedDay, target: Target, each: Try, found: Solved, base: Lesson, because: str, known: set[str] | None
) -> Remedy:
    unit = {"time": "minute", "volume": "litre", "mass": "kilogram"}[each.kind]
    grain = _STEPS[unit]
    names = dict(each.words)
    book = remedy_book()[each.id]
    held = held_of(worked.readings)
    after: WorkedLesson | None = None
    rows: tuple[Change, ...] = ()
    amount = 0.0
    for rounded in (round(found.amount / grain) * grain, int(found.amount / grain) * grain):
        amount = rounded
        if rounded < each.least:
            continue
        rows = _changes(each.changes(rounded), because)
        try:
            after = worked_silently(with_changes(base, rows, worked.day.tree.get("on hand")), held, spreads=False)
            break
        except ProblemsFoundError:
            continue
    history = done_then(worked.made.lesson, each.id)
    if after is None:
        title = book["title"].format(amount="more", **{"liquid": "", "other": "", "sugar": ""} | names)
        why = _hindrance(found.hindered) or "there is too little to do it with"
        return Remedy(each.id, title, None, False, None, 0.0, why_not=why, history=history)
    outcome = _outcome(after, target)
    reaches = abs(outcome.gravity - target.wanted) <= target.band
    said = in_words(Q(amount, unit), written=f"{amount * 1000:.0f} g" if unit == "kilogram" else "").replace(
        "\u00a0", " "
    )
    why_not = "" if reaches else (_hindrance(found.hindered) or each.most_because or "that is as far as it goes")
    return Remedy(
        each.id, book["title"].format(amount=said, **names), Q(amount, unit), reaches, outcome, each.minutes(amount),
        mind=book["mind"].format(amount=said, **names), why_not=why_not, changes=rows,
        cautions=_new_cautions(after, known), history=history,
    )  # fmt: skip


def _hindrance(sentence: str) -> str:
    return sentence.rstrip(".") if sentence else ""


def _new_cautions(after: WorkedLesson, known: set[str] | None) -> tuple[str, ...]:
    """The short forms of the cautions that the remedy adds to those the day has already."""
    if known is None:
        return ()
    return tuple(placed.short for placed in cautions_of(after).full_words if placed.id not in known)


def written(change: Change) -> str:
    """A change as a line for the day's file."""
    parts = [f"{key}: {getattr(change, key)}" for key in ("at", "after") if getattr(change, key) is not None]
    for key in ("now", "step"):
        node = getattr(change, key)
        if node is not None:
            parts.append(f"{key}: {{{', '.join(f'{name}: {_plain(value)}' for name, value in node.items())}}}")
    return "{" + ", ".join((*parts, f"because: {change.because}")) + "}"


def _plain(value: Any) -> str:
    return str(value) if isinstance(value, Written) else "…"
