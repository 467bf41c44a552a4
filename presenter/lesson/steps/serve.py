"""Serve: pour and, where the law and the site allow it, taste."""

from __future__ import annotations

from pydantic import Field

from presenter.lesson.fields import Text, Volume, Words
from presenter.lesson.reading import Written
from presenter.lesson.steps.step import Step

__all__ = ["Serve"]


class Serve(Step):
    """Serve the drinks under ``what`` in measures of ``measure``, from the ``container`` named."""

    what: Words
    measure: Volume
    container: Text | None = None
    in_: Text | None = Field(None, alias="in")

    def uses(self) -> tuple[Written, ...]:
        return self.what

    def vessels(self) -> tuple[Written, ...]:
        return () if self.in_ is None else (self.in_,)

    def figures(self) -> tuple[str, ...]:
        return ("measure",)
