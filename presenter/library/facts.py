"""What a library keeps of one lesson: enough to list it, to search it, and to enter it in the catalogue.

In: a lesson's path, or the lesson worked already. Out: :class:`LessonFacts`, plain words and numbers only, also for a
lesson that has problems: then what can be read of it, and the problems.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict, dataclass
from functools import cache
from pathlib import Path
from typing import Any

from presenter.cautions import Cautioned, cautions_of
from presenter.lesson import Lesson, Step, load_lesson, slug
from presenter.lesson.fields import Stated
from presenter.lesson.reading import MappingNode, as_user_knows, read_yaml, text_of_file
from presenter.library.naming import Use, steps_in, uses_beneath, uses_in, words_in
from presenter.problems import Problem, ProblemsFoundError
from presenter.quantities import KINDS, WorkedNumber
from presenter.quantities.kinds import kind_of_unit
from presenter.working import WorkedLesson, work_out

__all__ = ["Drink", "LessonFacts", "NumberFacts", "StepText", "Use", "facts_of_lesson", "facts_when_worked", "told_of"]

WAITING = {"ferment", "prime and bottle", "condition"}  # steps that nobody stands beside
HAZARDOUS = {"never", "danger", "warning"}


@dataclass(frozen=True)
class StepText:
    """The words of one step, with the line on which it begins."""

    id: str
    name: str
    line: int
    text: str


@dataclass(frozen=True)
class NumberFacts:
    """One number: in words, and as a value in the working unit of its kind."""

    id: str
    step: str
    label: str
    words: str
    kind: str
    value: float


@dataclass(frozen=True)
class Drink:
    """One fermented drink: its name and its strength in words."""

    name: str
    strength: str


@dataclass(frozen=True)
class LessonFacts:
    """One lesson as its library knows it. ``with_spreads`` says whether the words of numbers know their uncertainty."""

    title: str
    scene: str = ""
    invented: str = ""
    about: str = ""
    author: str = ""
    state: str = ""
    date: str = ""
    ingredients: tuple[str, ...] = ()
    drinks: tuple[Drink, ...] = ()
    minutes: float = 0.0
    days: float = 0.0
    hazards: tuple[str, ...] = ()
    steps: tuple[StepText, ...] = ()
    numbers: tuple[NumberFacts, ...] = ()
    uses: tuple[Use, ...] = ()
    makes: tuple[str, ...] = ()
    problems: tuple[str, ...] = ()
    with_spreads: bool = False

    def record(self) -> dict[str, Any]:
        """The facts as plain values, without the words and numbers that are searched."""
        record = asdict(self)
        for searched in ("steps", "numbers", "uses"):
            del record[searched]
        return record

    def length_in_words(self) -> str:
        """How long it takes: the time at work, then the days of waiting."""
        return length_in_words(self.minutes, self.days)


def length_in_words(minutes: float, days: float) -> str:
    """A length in words: "3 h 55 min, then 7 days"."""
    hours, rest = divmod(round(minutes), 60)
    parts = [f"{hours} h" if hours else "", f"{rest} min" if rest or not hours else ""]
    work = " ".join(part for part in parts if part) if minutes else ""
    wait = f"{days:g} day{'' if days == 1 else 's'}" if days else ""
    return ", then ".join(part for part in (work, wait) if part) or "not said"


def told_of(problems: tuple[Problem, ...]) -> tuple[str, ...]:
    """Problems as they are told, ready to be kept or sent to another process."""
    return tuple(problem.told() for problem in problems)


def facts_of_lesson(path: Path) -> LessonFacts:
    """The facts of the lesson at ``path``, worked once, without uncertainties; with its problems where it has any."""
    try:
        worked = work_out(load_lesson(path), spreads=False)
    except ProblemsFoundError as error:
        return facts_with_problems(path, error.problems)
    return facts_when_worked(worked, cautions_of(worked), with_spreads=False)


def facts_with_problems(path: Path, problems: tuple[Problem, ...]) -> LessonFacts:
    """What can be read of a lesson that has problems."""
    try:
        tree = read_yaml(text_of_file(path), as_user_knows(path))
    except ProblemsFoundError:
        return LessonFacts(title=path.parent.name, problems=told_of(problems))
    return _facts_in(tree, path, path.parent.name, problems=told_of(problems))


def facts_when_worked(worked: WorkedLesson, cautioned: Cautioned, *, with_spreads: bool) -> LessonFacts:
    """The facts of a lesson that has been worked."""
    lesson = worked.lesson
    tree = read_yaml(lesson.text, as_user_knows(lesson.path))
    topics = dict.fromkeys(each.caution.topic for each in cautioned.full_words if each.severity in HAZARDOUS)
    minutes, days = _length(lesson)
    return _facts_in(
        tree,
        lesson.path,
        lesson.name,
        drinks=_drinks(worked),
        minutes=minutes,
        days=days,
        hazards=tuple(_HAZARD_WORDS.get(topic, topic) for topic in topics),
        numbers=tuple(_number(number) for number in worked.numbers.values() if number.on_sheets),
        makes=tuple(dict.fromkeys(str(thing) for step in lesson.steps for thing in step.makes())),
        with_spreads=with_spreads,
    )


_HAZARD_WORDS = {
    "physical": "burns, gas and weights", "micro": "germs", "botanical": "plants", "ingredient": "allergens",
    "vessel": "vessels", "water": "water", "alcohol": "alcohol", "law": "law",
}  # fmt: skip


def _facts_in(tree: MappingNode, path: Path, name: str, **worked: Any) -> LessonFacts:
    """The facts that stand in the file itself, with those that were worked out."""
    listed = tree.get("ingredients")
    ingredients = [words_in(use, "what") for use in listed.values()] if isinstance(listed, MappingNode) else []
    return LessonFacts(
        title=words_in(tree, "title") or name,
        state=words_in(tree, "state") or "sketched",
        ingredients=tuple(dict.fromkeys(what for what in ingredients if what)),
        steps=tuple(_step_texts(tree)),
        uses=(*uses_in(tree), *uses_beneath(tree, path)),
        scene=words_in(tree, "scene"),
        invented=words_in(tree, "invented"),
        about=words_in(tree, "about"),
        author=words_in(tree, "author"),
        date=words_in(tree, "date"),
        **worked,
    )


def _step_texts(tree: MappingNode) -> Iterator[StepText]:
    for step in steps_in(tree):
        words = [words_in(step, key) for key in ("name", "do", "in words", "say", "shot")]
        departure = step.get("departure")
        words += [words_in(departure, key) for key in ("record", "today", "because")]
        name = words_in(step, "name")
        yield StepText(slug(name), name, step.place.line, " ".join(word for word in words if word))


def _drinks(worked: WorkedLesson) -> tuple[Drink, ...]:
    found = []
    for step in worked.lesson.steps:
        number = worked.numbers.get(f"{step.id}.strength")
        if number is None or not number.on_sheets:
            continue
        named = next((str(name) for name in step.uses()), str(step.name))
        words = f"{number.words()} {number.spread_words()}".replace("\u00a0", " ").strip()
        found.append(Drink(named, words))
    return tuple(found)


def _length(lesson: Lesson) -> tuple[float, float]:
    """Minutes at work, and the longest wait in days: what each step says that it takes."""
    minutes, days = 0.0, 0.0
    for step in lesson.steps:
        took = _minutes(step)
        if str(step.do) in WAITING or took >= 24 * 60:
            days = max(days, took / (24 * 60))
        else:
            minutes += took
    return minutes, round(days, 1)


def _minutes(step: Step) -> float:
    fields: list[object] = [
        getattr(step, name) for name in (["takes"] if step.takes is not None else type(step).model_fields)
    ]
    times: list[float] = [held.number() for held in fields if isinstance(held, Stated) and held.kind == "time"]
    return sum(times)


@cache
def _kind(unit: str) -> tuple[str, str]:
    """The kind of quantity that is measured in ``unit``, and its working unit."""
    kind = next((kind for kind in KINDS.values() if kind.unit == unit), None) or KINDS.get(kind_of_unit(unit))
    return (kind.name, kind.unit) if kind is not None else ("", unit)


def _number(number: WorkedNumber) -> NumberFacts:
    kind, unit = _kind(str(number.quantity.units))
    words = f"{number.words()} {number.spread_words()}".replace("\u00a0", " ").strip()
    value = float(number.quantity.to(unit).magnitude)
    return NumberFacts(number.id, number.step, number.label, words, kind, value)
