"""Raise: a mash is brought to a hotter rest by hot water, over a fire, by hot stones or by a drawn part of itself."""

from __future__ import annotations

from typing import Annotated

from pydantic import AfterValidator, Field, WithJsonSchema

from presenter.lesson.fields import Temperature, Text, Time, problem_sentence
from presenter.lesson.reading import Written
from presenter.lesson.steps.step import Step
from presenter.problems import nearest

__all__ = ["WAYS_TO_RAISE", "Raise"]

WAYS_TO_RAISE = ("hot water", "fire", "hot stones", "drawn mash")


def _known_way(way: Written) -> Written:
    if str(way) in WAYS_TO_RAISE:
        return way
    close = nearest(str(way), WAYS_TO_RAISE)
    remedy = f"Did you mean {close}?" if close else f"Write one of {', '.join(WAYS_TO_RAISE)}."
    raise problem_sentence(f"A mash cannot be raised by {way}.", remedy)


class Raise(Step):
    """Bring the mash ``in`` a tub to ``reach``, ``by`` hot water, fire, hot stones or drawn mash.

    ``for`` is how long that takes.

    ``at`` is the heat of the water (boiling where it is not given) or of the stones.
    """

    in_: Text = Field(alias="in")
    reach: Temperature
    by: Annotated[Text, AfterValidator(_known_way), WithJsonSchema({"enum": list(WAYS_TO_RAISE)})]
    at: Temperature | None = None
    for_: Time | None = Field(None, alias="for")

    def vessels(self) -> tuple[Written, ...]:
        return (self.in_,)

    def figures(self) -> tuple[str, ...]:
        return ("reach", "at", "for")
