"""Draw off: run the wort from the grain."""

from __future__ import annotations

from pydantic import Field

from presenter.lesson.fields import Text, Volume
from presenter.lesson.reading import Written
from presenter.lesson.steps.step import Step, slug

__all__ = ["DrawOff"]


class DrawOff(Step):
    """Run off ``volume`` of wort (all that the grain lets go where none is given) and ``call it`` something."""

    volume: Volume | None = None
    call_it: Text = Field(alias="call it")
    into: Text | None = None
    from_vessel: Text | None = Field(None, alias="out of")

    def makes(self) -> tuple[Written, ...]:
        return (Written(slug(self.call_it), self.call_it.place),)

    def vessels(self) -> tuple[Written, ...]:
        return tuple(name for name in (self.into, self.from_vessel) if name is not None)

    def figures(self) -> tuple[str, ...]:
        return ("volume",)
