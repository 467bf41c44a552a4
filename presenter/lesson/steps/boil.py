"""Boil: keep a wort at the boil for a time."""

from __future__ import annotations

from pydantic import Field

from presenter.lesson.fields import Text, Time, Words
from presenter.lesson.reading import Written
from presenter.lesson.steps.step import Step

__all__ = ["Boil"]


class Boil(Step):
    """Boil ``what`` ``for`` a time ``in`` a kettle, with herbs under ``with``."""

    what: Text
    for_: Time = Field(alias="for")
    in_: Text = Field("kettle", alias="in", validate_default=True)
    with_: Words = Field((), alias="with")

    def uses(self) -> tuple[Written, ...]:
        return (self.what,)

    def vessels(self) -> tuple[Written, ...]:
        return (self.in_,)

    def figures(self) -> tuple[str, ...]:
        return ("for",)
