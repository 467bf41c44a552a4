"""Split: one liquid is parted into two that can be treated differently."""

from __future__ import annotations

from pydantic import Field

from presenter.lesson.fields import Text, Volume
from presenter.lesson.reading import Written
from presenter.lesson.steps.step import Step, slug

__all__ = ["Split"]


class Split(Step):
    """Part ``volume`` of ``what`` from it and ``call it`` something; ``call the rest`` something else."""

    what: Text
    volume: Volume
    call_it: Text = Field(alias="call it")
    call_the_rest: Text = Field(alias="call the rest")
    into: Text | None = None
    rest_into: Text | None = Field(None, alias="rest into")

    def uses(self) -> tuple[Written, ...]:
        return (self.what,)

    def makes(self) -> tuple[Written, ...]:
        return tuple(Written(slug(name), name.place) for name in (self.call_it, self.call_the_rest))

    def names_given(self) -> tuple[tuple[str, Written], ...]:
        return (("call it", self.call_it), ("call the rest", self.call_the_rest))

    def vessels(self) -> tuple[Written, ...]:
        return tuple(name for name in (self.into, self.rest_into) if name is not None)

    def figures(self) -> tuple[str, ...]:
        return ("volume",)
