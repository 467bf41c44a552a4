"""Working: a checked lesson into a worked lesson, every number with unit, give-or-take and source."""

from presenter.working.work import Held, WorkedLesson, work_out

__all__ = ["Held", "WorkedLesson", "work_out"]
