"""Chill: a wort or a drink is kept cold."""

from __future__ import annotations

from pydantic import Field

from presenter.lesson.fields import Temperature, Text, Time, YesNo
from presenter.lesson.reading import Written
from presenter.lesson.steps.step import Step

__all__ = ["Chill"]


class Chill(Step):
    """Keep ``what`` cold ``at`` a temperature ``for`` a time, open unless ``closed: yes``.

    ``within`` is how long it takes to get there; an unfermented wort needs it, since germs grow on the way.
    """

    what: Text
    at: Temperature
    for_: Time = Field(alias="for")
    within: Time | None = None
    closed: YesNo = Field(False, validate_default=False)
    in_: Text | None = Field(None, alias="in")

    def uses(self) -> tuple[Written, ...]:
        return (self.what,)

    def vessels(self) -> tuple[Written, ...]:
        return () if self.in_ is None else (self.in_,)

    def figures(self) -> tuple[str, ...]:
        return ("at", "for", "within")
