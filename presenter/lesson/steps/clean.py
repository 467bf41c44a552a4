"""Clean: wash, scald or sanitise the kit."""

from __future__ import annotations

from pydantic import Field

from presenter.lesson.fields import Temperature, Time, Words
from presenter.lesson.reading import Written
from presenter.lesson.steps.step import Step

__all__ = ["Clean"]


class Clean(Step):
    """Wash or scald the kit named under ``what``, with what stands under ``with``, in water ``at`` a temperature."""

    what: Words = ()
    with_: Words = Field((), alias="with")
    at: Temperature | None = None
    for_: Time | None = Field(None, alias="for")

    def vessels(self) -> tuple[Written, ...]:
        return self.what

    def figures(self) -> tuple[str, ...]:
        return ("at", "for")
