"""Join: pour two or more liquids together."""

from __future__ import annotations

from pydantic import Field

from presenter.lesson.fields import Text, Words
from presenter.lesson.reading import Written
from presenter.lesson.steps.step import Step, slug

__all__ = ["Join"]


class Join(Step):
    """Pour the liquids under ``what`` together and ``call it`` something."""

    what: Words
    call_it: Text = Field(alias="call it")
    in_: Text | None = Field(None, alias="in")

    def uses(self) -> tuple[Written, ...]:
        return self.what

    def makes(self) -> tuple[Written, ...]:
        return (Written(slug(self.call_it), self.call_it.place),)

    def vessels(self) -> tuple[Written, ...]:
        return () if self.in_ is None else (self.in_,)
