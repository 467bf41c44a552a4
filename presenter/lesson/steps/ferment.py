"""Ferment: the yeast turns sugar into alcohol and carbon dioxide."""

from __future__ import annotations

from pydantic import Field

from presenter.lesson.fields import Temperature, Text, Time, YesNo
from presenter.lesson.reading import Written
from presenter.lesson.steps.step import Step

__all__ = ["Ferment"]


class Ferment(Step):
    """Leave ``what`` to ferment ``for`` a time at a temperature, open unless ``closed: yes``."""

    what: Text
    for_: Time = Field(alias="for")
    at: Temperature
    closed: YesNo = Field(False, validate_default=False)
    in_: Text | None = Field(None, alias="in")

    def uses(self) -> tuple[Written, ...]:
        return (self.what,)

    def vessels(self) -> tuple[Written, ...]:
        return () if self.in_ is None else (self.in_,)

    def figures(self) -> tuple[str, ...]:
        return ("for", "at")
