"""Pour: a measured part of one wort is poured onto another; both keep their names."""

from __future__ import annotations

from presenter.lesson.fields import Text, Volume
from presenter.lesson.reading import Written
from presenter.lesson.steps.step import Step

__all__ = ["Pour"]


class Pour(Step):
    """Pour ``volume`` of ``what`` onto the liquid named under ``onto``."""

    what: Text
    volume: Volume
    onto: Text

    def uses(self) -> tuple[Written, ...]:
        return (self.what, self.onto)

    def figures(self) -> tuple[str, ...]:
        return ("volume",)
