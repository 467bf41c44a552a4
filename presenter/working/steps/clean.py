"""Clean and show: nothing is brewed; the figures that the author chose are kept."""

from __future__ import annotations

from presenter.lesson.steps.clean import Clean
from presenter.lesson.steps.show import Show
from presenter.working.walk import Walk

__all__ = ["walk_clean", "walk_show"]


def walk_clean(step: Clean, walk: Walk) -> None:
    """Keep the heat and the time of the cleaning."""
    if step.at is not None:
        at = walk.author("at", "scalding water", step.at)
        walk.must_lie(step.at, "at", at, 0, 100, "water for cleaning is", "0 to 100 degC")
    if step.for_ is not None:
        walk.author("for", "time to clean", step.for_, exact=True)


def walk_show(step: Show, walk: Walk) -> None:
    """A thing shown has no numbers."""
