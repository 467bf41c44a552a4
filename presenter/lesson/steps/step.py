"""What every step of a lesson may say, whatever its kind."""

from __future__ import annotations

import re
import unicodedata
from typing import Any

from pydantic import Field, model_validator

from presenter.lesson.fields import (
    ClockTime,
    Gravity,
    Model,
    Strength,
    Temperature,
    Text,
    Time,
    Volume,
    WholeNumber,
    Words,
    problem_sentence,
)
from presenter.lesson.reading import MappingNode, Written

__all__ = ["Departure", "Expectation", "Step", "slug"]


def slug(name: str) -> str:
    """A step's or thing's name as it stands in ids: "First mash" becomes "first-mash"; letters of any script stay."""
    return re.sub(r"[\W_]+", "-", unicodedata.normalize("NFC", name.casefold())).strip("-")


class Departure(Model):
    """Where we depart from the record: what it shows, what we do today, and why."""

    record: Text
    today: Text
    because: Text


class Expectation(Model):
    """What the author expects to find at the end of the step; compared with what is worked out."""

    gravity: Gravity | None = None
    temperature: Temperature | None = None
    volume: Volume | None = None
    strength: Strength | None = None


class Step(Model):
    """The fields that every kind of step shares."""

    name: Text
    do: Text
    what_to_do: Text | None = Field(None, alias="in words")
    science: Words = ()
    history: Words = ()
    departure: Departure | None = None
    say: Text | None = None
    shot: Text | None = None
    expect: Expectation | None = None
    from_: dict[Text, Text] = Field(default_factory=dict, alias="from")
    takes: Time | None = None
    accept: Words = ()
    lifting: Text | None = None
    who: Words = ()
    day: WholeNumber | None = None
    begins: ClockTime | None = None
    needs: Words = ()

    @model_validator(mode="before")
    @classmethod
    def _one_evidence_for_all(cls, value: Any) -> Any:
        """``from: our choice`` stands for every figure of the step."""
        if isinstance(value, MappingNode) and isinstance(value.get("from"), Written):
            evidence = value["from"]
            widened = MappingNode(value)
            widened.place = value.place
            everything = MappingNode({Written("all", evidence.place): evidence})
            everything.place = evidence.place
            widened["from"] = everything
            return widened
        return value

    @property
    def id(self) -> str:
        """The step's name as it stands in the ids of its numbers."""
        return slug(self.name)

    def evidence_for(self, field: str) -> str:
        """The evidence the author gave for one of the step's figures."""
        given = {str(key): str(answer) for key, answer in self.from_.items()}
        return given.get(field) or given.get("all") or ""

    def uses(self) -> tuple[Written, ...]:
        """The names of liquids that must have been made before this step."""
        return ()

    def makes(self) -> tuple[Written, ...]:
        """The names of liquids that later steps may use."""
        return ()

    def names_given(self) -> tuple[tuple[str, Written], ...]:
        """The author's keys under which the step names what it makes, each with the name."""
        name = getattr(self, "call_it", None)
        return () if name is None else (("call it", name),)

    def bakes(self) -> tuple[Written, ...]:
        """The names of loaves that ingredients of later steps may be."""
        return ()

    def vessels(self) -> tuple[Written, ...]:
        """The kit this step stands in."""
        return ()

    def figures(self) -> tuple[str, ...]:
        """The author's keys whose values are chosen times, temperatures and amounts."""
        return ()


def not_both(first: object, second: object, words: str) -> None:
    """Refuse two ways of saying one thing."""
    if first is not None and second is not None:
        raise problem_sentence(words)
