"""Pitch: yeast goes into the cooled wort."""

from __future__ import annotations

from pydantic import Field

from presenter.lesson.amounts import StatedAmount
from presenter.lesson.fields import Text
from presenter.lesson.reading import Written
from presenter.lesson.steps.step import Step

__all__ = ["Pitch"]


class Pitch(Step):
    """Put the yeast under ``with`` into ``what``; ``amount`` where not all of the ingredient goes in."""

    what: Text
    with_: Text = Field(alias="with")
    amount: StatedAmount | None = None
    in_: Text | None = Field(None, alias="in")

    def uses(self) -> tuple[Written, ...]:
        return (self.what,)

    def vessels(self) -> tuple[Written, ...]:
        return () if self.in_ is None else (self.in_,)

    def figures(self) -> tuple[str, ...]:
        return ("amount",)
