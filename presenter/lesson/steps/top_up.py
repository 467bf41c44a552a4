"""Top up: thin a wort with water."""

from __future__ import annotations

from pydantic import Field

from presenter.lesson.fields import Text, Volume, YesNo
from presenter.lesson.reading import Written
from presenter.lesson.steps.step import Step

__all__ = ["TopUp"]


class TopUp(Step):
    """Add ``water`` to ``what``; say whether the water was ``boiled``."""

    what: Text
    water: Volume
    boiled: YesNo = Field(False, validate_default=False)

    def uses(self) -> tuple[Written, ...]:
        return (self.what,)

    def figures(self) -> tuple[str, ...]:
        return ("water",)
