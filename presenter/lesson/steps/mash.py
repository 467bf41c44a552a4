"""Mash: crushed grain and water meet, and rest."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from presenter.lesson.fields import Model, Temperature, Text, Time, Volume, Words, given_as
from presenter.lesson.reading import Written
from presenter.lesson.steps.step import Step

__all__ = ["Mash", "MashWater"]


class MashWater(Model):
    """The water of a mash: its amount, and its heat where that is given rather than worked out."""

    amount: Volume
    at: Temperature | None = None


class Mash(Step):
    """Grain and water in a vessel, brought to ``reach`` and held. The strike heat is worked out unless given."""

    in_: Text = Field(alias="in")
    with_: Words = Field((), alias="with")
    water: Annotated[MashWater, given_as(alone="amount")]
    reach: Temperature | None = None
    hold: Time

    def vessels(self) -> tuple[Written, ...]:
        return (self.in_,)

    def figures(self) -> tuple[str, ...]:
        return ("water", "at", "reach", "hold")
