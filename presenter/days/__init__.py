"""Days: what was read and changed on one day, into the lesson as it was made; causes of a miss; what can be done."""

from presenter.days.changing import changed_lesson
from presenter.days.correcting import Corrected, corrected_readings, hydrometer_gravity
from presenter.days.made import Disagreement, WorkedDay, work_day

__all__ = [
    "Corrected",
    "Disagreement",
    "WorkedDay",
    "changed_lesson",
    "corrected_readings",
    "hydrometer_gravity",
    "work_day",
]
