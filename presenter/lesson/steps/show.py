"""Show: nothing is brewed; a thing is shown or a story told."""

from __future__ import annotations

from presenter.lesson.fields import Words
from presenter.lesson.steps.step import Step

__all__ = ["Show"]


class Show(Step):
    """Show the things under ``what``. They are for display only."""

    what: Words = ()
