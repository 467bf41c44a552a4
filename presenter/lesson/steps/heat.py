"""Heat: bring a liquid to a temperature, and hold it there if a time is given."""

from __future__ import annotations

from pydantic import Field

from presenter.lesson.fields import Temperature, Text, Time
from presenter.lesson.reading import Written
from presenter.lesson.steps.step import Step

__all__ = ["Heat"]


class Heat(Step):
    """Bring ``what`` to ``reach`` ``in`` a kettle; ``for`` holds it there."""

    what: Text
    reach: Temperature
    for_: Time | None = Field(None, alias="for")
    in_: Text = Field("kettle", alias="in", validate_default=True)

    def uses(self) -> tuple[Written, ...]:
        return (self.what,)

    def vessels(self) -> tuple[Written, ...]:
        return (self.in_,)

    def figures(self) -> tuple[str, ...]:
        return ("reach", "for")
