"""Hold: a mash goes on resting, at the heat to which it was brought."""

from __future__ import annotations

from pydantic import Field

from presenter.lesson.fields import Text, Time
from presenter.lesson.reading import Written
from presenter.lesson.steps.step import Step

__all__ = ["Hold"]


class Hold(Step):
    """Leave the mash ``in`` a tub to rest ``for`` a time; it cools as the tub does."""

    in_: Text = Field(alias="in")
    for_: Time = Field(alias="for")

    def vessels(self) -> tuple[Written, ...]:
        return (self.in_,)

    def figures(self) -> tuple[str, ...]:
        return ("for",)
