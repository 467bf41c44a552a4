"""Acidify: a little vinegar, lactic acid or souring culture goes into a liquid, to bring its pH down."""

from __future__ import annotations

from pydantic import Field

from presenter.lesson.amounts import StatedAmount
from presenter.lesson.fields import PH, Share, Text
from presenter.lesson.reading import Written
from presenter.lesson.steps.step import Step

__all__ = ["Acidify"]


class Acidify(Step):
    """Put the acid under ``with`` into ``what``; ``amount`` where not all of the ingredient goes in.

    ``strength`` is what the label says: percent of acid, for vinegar grams in 100 mL. ``pH before`` is a reading of the
    liquid; where there is none a usual pH is taken, with a wide band.
    """

    what: Text
    with_: Text = Field(alias="with")
    amount: StatedAmount | None = None
    strength: Share | None = None
    ph_before: PH | None = Field(None, alias="pH before")

    def uses(self) -> tuple[Written, ...]:
        return (self.what,)

    def figures(self) -> tuple[str, ...]:
        return ("amount", "strength", "pH before")
