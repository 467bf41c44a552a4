"""What a talk is checked against: a lesson's numbers, ingredients, myths and duties, in plain values.

In: a worked lesson, or nothing. Out: :class:`LessonView`.
"""

from __future__ import annotations

import functools
import re
from dataclasses import dataclass

from presenter.quantities.wording import said_aloud
from presenter.quantities.worked import WorkedNumber
from presenter.working import WorkedLesson

__all__ = ["Disclosure", "LessonView", "Myth", "NumberView", "view_of"]


_YEAR = re.compile(r"(?<![\d.,])(1[0-9]{3}|20[0-9]{2})(?![\d,]|\.\d| ?(?:g|kg|ml|mL|l|L|m|cm)\b)")


@dataclass(frozen=True)
class NumberView:
    """One worked number: ``give_or_take`` is a difference in ``unit``; ``say`` its sayable form or sentence."""

    id: str
    step: str
    label: str
    value: float
    unit: str
    give_or_take: float
    say: str = ""
    sayable: str = ""


@dataclass(frozen=True)
class Myth:
    """What must not be said, and what to say instead."""

    id: str
    do_not_say: str
    say_instead: str


@dataclass(frozen=True)
class Disclosure:
    """What the talk must say; ``subject`` goes on from "the talk never ...".

    Any phrase of ``said_by`` says it, and so do enough telling words of any text in ``words`` when they fall close
    together. ``say`` is what to say where it was left out.
    """

    id: str
    kind: str
    subject: str
    said_by: tuple[str, ...]
    words: tuple[str, ...] = ()
    say: str = ""


@dataclass(frozen=True)
class LessonView:
    """A lesson as the talk is checked against it. ``scale`` is the scale of degrees whose scale is not said;
    ``years`` are those that its own texts tell of: its scene, its departures, its notes."""

    numbers: tuple[NumberView, ...] = ()
    ingredients: tuple[str, ...] = ()
    myths: tuple[Myth, ...] = ()
    must_disclose: tuple[Disclosure, ...] = ()
    scale: str = "degC"
    years: frozenset[int] = frozenset()

    @functools.cached_property
    def words_known(self) -> str:
        """The words of all its ingredients, numbers and steps, in lower case."""
        told = [*self.ingredients, *(f"{number.label} {number.step} {number.say}" for number in self.numbers)]
        return " ".join(told).lower()


def _number(number: WorkedNumber, step: str) -> NumberView:
    spread = number.spread
    return NumberView(
        id=number.id,
        step=step,
        label=number.label,
        value=float(number.quantity.magnitude),
        unit=str(number.quantity.units),
        give_or_take=0.0 if spread is None else float(spread.magnitude),
        sayable=said_aloud(number.quantity, spread),
    )


def view_of(worked: WorkedLesson) -> LessonView:
    """The view of a worked lesson: its shown numbers, its ingredients, the year of its scene, what it must disclose."""
    lesson = worked.lesson
    names = {step.id: str(step.name) for step in lesson.steps}
    numbers = [_number(number, names.get(number.step, "")) for number in worked.numbers.values() if number.on_sheets]
    year = re.search(r"\b(1[0-9]{3}|20[0-9]{2})\b", str(lesson.file.scene))
    if year is not None:
        numbers.insert(0, NumberView("scene.year", "scene", "year of the scene", float(year.group()), "year", 0.0))
    myths = tuple(
        Myth(note.id, note.do_not_say, note.say_instead)
        for note in (lesson.notes.get(str(key)) for key in lesson.file.myths)
        if note is not None and note.do_not_say
    )
    ingredients = tuple(str(ingredient.what) for ingredient in lesson.file.ingredients.values())
    told = f"{lesson.file} {' '.join(str(note) for note in lesson.notes.values())}"
    years = frozenset(int(year) for year in _YEAR.findall(told))
    return LessonView(tuple(numbers), ingredients, myths, tuple(_duties(worked)), years=years)


def _duties(worked: WorkedLesson) -> list[Disclosure]:
    """What the lesson itself owes its hearers: what is invented, and each departure from the record."""
    file = worked.lesson.file
    duties = []
    if "invented" in str(file.scene).lower() or file.invented:
        said_by = ("invented", "made up", "made it up", "imaginary", "imagined", "fictional", "made-up")
        say = str(file.invented or f"{file.scene}")
        duties.append(
            Disclosure(
                "invented", "invented matter", "says that the place and its people are invented", said_by, (), say
            )
        )
    ingredients = [str(ingredient.what).lower() for ingredient in file.ingredients.values()]
    for step in worked.lesson.steps:
        departure = step.departure
        if departure is None:
            continue
        record, today = str(departure.record), str(departure.today)
        stands_in = any(name in today.lower() and name not in record.lower() for name in ingredients)
        duties.append(
            Disclosure(
                f"departure at {step.id}",
                "substitution" if stands_in else "departure",
                f"tells where “{step.name}” departs from the record",
                (),
                (record, f"{today} {departure.because}"),
                f"The record: {record} Today: {today}",
            )
        )
    return duties
