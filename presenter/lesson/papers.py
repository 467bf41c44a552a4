"""What a lesson says of the papers around its day: the class it is for, and the pot that people have at home.

In: the keys under ``class:`` and ``home:``. Out: frozen models.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import AfterValidator, Field, WithJsonSchema

from presenter.lesson.fields import Model, Text, Time, Volume, Words, problem_sentence
from presenter.lesson.reading import Written
from presenter.problems import nearest

__all__ = ["LEVELS", "ClassPlan", "HomePlan"]

LEVELS = ("younger", "older", "adult")


def _known_level(level: Written) -> Written:
    if str(level) in LEVELS:
        return level
    close = nearest(str(level), LEVELS)
    remedy = f"Did you mean {close}?" if close else f"Write one of {', '.join(LEVELS)}."
    raise problem_sentence(f"There is no level called {level}.", remedy)


Level = Annotated[Text, AfterValidator(_known_level), WithJsonSchema({"enum": list(LEVELS)})]


class ClassPlan(Model):
    """A class: its level, what it is to learn, how long a period is, what pupils do and answer.

    ``questions`` are marked by the level that they are for; ``results`` are the columns of the class's own table.
    """

    level: Level | None = None
    aims: Words = ()
    curriculum: Text | None = None
    period: Time | None = None
    while_resting: Words = Field((), alias="while resting")
    results: Words = ()
    questions: dict[Level, Words] = Field(default_factory=dict)


class HomePlan(Model):
    """The household pot that the try-at-home card is scaled to."""

    pot: Volume | None = None
