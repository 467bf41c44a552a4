"""Cool: bring a wort down to the heat at which yeast may go in."""

from __future__ import annotations

from pydantic import Field

from presenter.lesson.fields import Temperature, Text, Time
from presenter.lesson.reading import Written
from presenter.lesson.steps.step import Step

__all__ = ["Cool"]


class Cool(Step):
    """Cool ``what`` to a temperature ``within`` a time."""

    what: Text
    to: Temperature
    within: Time
    in_: Text | None = Field(None, alias="in")

    def uses(self) -> tuple[Written, ...]:
        return (self.what,)

    def vessels(self) -> tuple[Written, ...]:
        return () if self.in_ is None else (self.in_,)

    def figures(self) -> tuple[str, ...]:
        return ("to", "within")
