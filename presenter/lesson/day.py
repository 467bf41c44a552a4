"""The shape of a day file, and the checked Day that comes of it: what was read, changed, seen and learnt on one day.

In: YAML beside the lesson, and the lesson it belongs to. Out: :class:`Day`, or every Problem at once, each at its
place. Whether a reading means anything at its step is for ``days/`` to say, which works the lesson out.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any

from pydantic import Field, PlainValidator, ValidationError, WithJsonSchema, model_validator

from presenter.lesson.fields import (
    PH,
    Brix,
    Clock,
    Date,
    Gravity,
    Model,
    Stated,
    Temperature,
    Text,
    Time,
    Volume,
    Words,
    problem_sentence,
)
from presenter.lesson.model import IngredientUse, Lesson
from presenter.lesson.reading import MappingNode, Written, as_user_knows, read_yaml, text_of_file
from presenter.lesson.shape import problems_of_shape
from presenter.lesson.steps import slug
from presenter.problems import Place, Problem, ProblemsFoundError, nearest

__all__ = ["SAMPLE_WORDS", "Change", "Cleaned", "Day", "DayFile", "Reading", "Sense", "day_from_text", "load_day"]

SAMPLE_WORDS = ("stirred", "strained", "degassed", "cooled")
QUANTITIES = ("gravity", "brix", "temperature", "volume", "pH")


def _mapping(value: Any) -> MappingNode:
    if isinstance(value, MappingNode) and value:
        return value
    raise problem_sentence("Keys are wanted here, each with its value.", "Write it as {hold: 90 min}.")


Keys = Annotated[MappingNode, PlainValidator(_mapping), WithJsonSchema({"type": "object"})]


class Reading(Model):
    """One reading against a step: what an instrument showed, of which sample, and when."""

    at: Text
    of: Text | None = None
    date: Date | None = None
    time: Clock | None = None
    gravity: Gravity | None = None
    brix: Brix | None = None
    sample: Temperature | None = None
    sample_was: Words = Field((), alias="sample was")
    temperature: Temperature | None = None
    volume: Volume | None = None
    ph: PH | None = Field(None, alias="pH")
    after: Time | None = None
    note: Text | None = None

    @model_validator(mode="after")
    def _of_something(self) -> Reading:
        if not self.read():
            raise problem_sentence(
                "This reading reads nothing.", f"Give one of {', '.join(QUANTITIES)}, each with its value."
            )
        if self.gravity is not None and self.sample is None:
            raise problem_sentence(
                "A gravity is read in a sample, and this one does not say how warm the sample was.",
                "Add sample: 20 degC, as the thermometer shows it in the sample.",
            )
        for word in self.sample_was:
            if str(word) not in SAMPLE_WORDS:
                close = nearest(str(word), SAMPLE_WORDS)
                raise problem_sentence(
                    f"A sample is not said to be {word}.",
                    f"Did you mean {close}?" if close else f"The words are {', '.join(SAMPLE_WORDS)}.",
                )
        return self

    def read(self) -> dict[str, Stated]:
        """What was read, by the author's own key."""
        found = {"pH" if name == "pH" else name: getattr(self, name.lower()) for name in QUANTITIES}
        return {name: value for name, value in found.items() if value is not None}

    @property
    def step(self) -> str:
        """The id of the step it was read at."""
        return slug(self.at)


class Change(Model):
    """One thing done otherwise than planned, and why: a step's keys, an ingredient's, a step left out or put in."""

    at: Text | None = None
    ingredient: Text | None = None
    skip: Text | None = None
    after: Text | None = None
    now: Keys | None = None
    step: Keys | None = None
    because: Text

    @model_validator(mode="after")
    def _one_thing(self) -> Change:
        named = [name for name in ("at", "ingredient", "skip", "after") if getattr(self, name) is not None]
        if len(named) != 1:
            raise problem_sentence(
                "A change is of one thing.",
                "Begin it with one of at: (a step), ingredient:, skip: (a step), or after: (a step) to put one in.",
            )
        wanted = {"at": "now", "ingredient": "now", "after": "step", "skip": ""}[named[0]]
        for name in ("now", "step"):
            if name != wanted and getattr(self, name) is not None:
                raise problem_sentence(f"{named[0]}: and {name}: do not go together.", "See the lesson's own keys.")
        if wanted and getattr(self, wanted) is None:
            example = "now: {hold: 90 min}" if wanted == "now" else "step: {name: Thin it, do: top up, ...}"
            raise problem_sentence("This change does not say what was done.", f"Add {example}.")
        return self


class Sense(Model):
    """What was seen, smelt or tasted at a step."""

    at: Text
    time: Clock | None = None
    seen: Text | None = None
    smelt: Text | None = None
    tasted: Text | None = None


class Cleaned(Model):
    """One line of the cleaning log."""

    what: Words
    how: Text
    by: Text | None = None
    time: Clock | None = None


class DayFile(Model):
    """A day as the person who brewed wrote it down."""

    date: Date
    who: Words = ()
    began: Clock | None = None
    on_hand: dict[Text, IngredientUse] = Field(default_factory=dict, alias="on hand")
    cleaned: tuple[Cleaned, ...] = ()
    readings: tuple[Reading, ...] = ()
    changes: tuple[Change, ...] = ()
    senses: tuple[Sense, ...] = ()
    next_time: Words = Field((), alias="next time")
    thanks: Words = ()


@dataclass(frozen=True)
class Day:
    """A checked day of one lesson."""

    file: DayFile
    path: Path
    text: str
    tree: MappingNode

    @property
    def date(self) -> datetime.date:
        """The day on which the brewing began."""
        return self.file.date

    def date_of(self, reading: Reading) -> datetime.date:
        """The day of a reading: its own, or that on which the brewing began."""
        return reading.date or self.file.date


def load_day(given: Path | str, lesson: Lesson) -> Day:
    """The day at ``given``: a file, or the name of one in the lesson's own folder ``days``.

    Raises ProblemsFoundError with every Problem, each at its file, line and column.
    """
    path = Path(given)
    if not path.is_file():
        kept = lesson.folder / "days"
        known = {each.stem: each for each in sorted(kept.glob("*.yaml"))} if kept.is_dir() else {}
        if str(given) not in known:
            close = nearest(str(given), known)
            held = (
                f"The days kept there are {', '.join(known)}."
                if known
                else f"There are none in {as_user_knows(kept)} yet."
            )
            remedy = f"Did you mean {close}?" if close else held
            remedy += " A new day begins with: presenter now LESSON 2026-05-02 --add READING."
            wrong = "There is no such day, neither as a file nor among the lesson's days."
            raise ProblemsFoundError((Problem(Place(str(given), 0, 0), "", "", wrong, remedy),))
        path = known[str(given)]
    return day_from_text(text_of_file(path), path, lesson)


def day_from_text(text: str, path: Path, lesson: Lesson) -> Day:
    """A checked day from its text. Raises ProblemsFoundError with every Problem."""
    file = as_user_knows(path)
    tree = read_yaml(text, file)
    for key in ("readings", "changes", "senses", "cleaned"):
        if isinstance(tree.get(key), Written) and not tree[key].strip():
            del tree[key]  # a heading with nothing under it yet
    try:
        model = DayFile.model_validate(tree)
    except ValidationError as error:
        raise ProblemsFoundError(tuple(problems_of_shape(error, tree, file, DayFile, "the day"))) from None
    problems = list(_across(model, lesson))
    if problems:
        raise ProblemsFoundError(tuple(problems))
    return Day(model, path, text, tree)


def _across(day: DayFile, lesson: Lesson) -> Iterable[Problem]:
    """Problems that show only beside the lesson: steps and ingredients that it does not have."""
    planned = {step.id: str(step.name) for step in lesson.steps}
    put_in = {
        slug(str(change.step["name"])): str(change.step["name"])
        for change in day.changes
        if change.step is not None and isinstance(change.step.get("name"), Written)
    }
    skipped = {slug(change.skip): change for change in day.changes if change.skip is not None}
    every = planned | put_in

    def unknown(name: Written, where: str, known: dict[str, str]) -> Iterable[Problem]:
        if slug(name) not in known:
            close = nearest(str(name), known.values())
            remedy = f"Did you mean {close}?" if close else f"The steps are {', '.join(known.values())}."
            yield Problem(name.place, where, str(name), f"The lesson has no step called {name}.", remedy)

    for number, reading in enumerate(day.readings, start=1):
        yield from unknown(reading.at, f"readings[{number}].at", every)
        if reading.step in skipped:
            wrong = f"{reading.at} was skipped on this day, so nothing was read there."
            yield Problem(reading.at.place, f"readings[{number}].at", str(reading.at), wrong)
        if reading.date is not None and reading.date < day.date:
            wrong = f"{reading.date.isoformat()} is before the day began, {day.date.isoformat()}."
            yield Problem(reading.at.place, f"readings[{number}].date", reading.date.isoformat(), wrong)
    for number, sense in enumerate(day.senses, start=1):
        yield from unknown(sense.at, f"senses[{number}].at", every)
    ingredients = [str(name) for name in lesson.file.ingredients]
    for number, change in enumerate(day.changes, start=1):
        where = f"changes[{number}]"
        if change.ingredient is not None and str(change.ingredient) not in ingredients:
            close = nearest(str(change.ingredient), ingredients)
            remedy = f"Did you mean {close}?" if close else f"The ingredients are {', '.join(ingredients)}."
            wrong = f"There is no ingredient called {change.ingredient}."
            place = change.ingredient.place
            yield Problem(place, f"{where}.ingredient", str(change.ingredient), wrong, remedy)
        if change.at is not None:
            yield from unknown(change.at, f"{where}.at", every)
        if change.skip is not None:
            yield from unknown(change.skip, f"{where}.skip", planned)
        if change.after is not None:
            yield from unknown(change.after, f"{where}.after", every)
