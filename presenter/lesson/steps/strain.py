"""Strain or rack: move a liquid off what has settled, leaving some behind."""

from __future__ import annotations

from pydantic import Field

from presenter.lesson.fields import Text, Volume
from presenter.lesson.reading import Written
from presenter.lesson.steps.step import Step

__all__ = ["Strain"]


class Strain(Step):
    """Move ``what`` ``into`` another vessel, leaving ``leave`` behind with the dregs."""

    what: Text
    leave: Volume | None = None
    into: Text | None = None
    through: Text | None = Field(None)

    def uses(self) -> tuple[Written, ...]:
        return (self.what,)

    def vessels(self) -> tuple[Written, ...]:
        return tuple(name for name in (self.into, self.through) if name is not None)

    def figures(self) -> tuple[str, ...]:
        return ("leave",)
