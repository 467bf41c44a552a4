"""The rest of the day: the steps that remain after the latest reading, with new clock times; and what was different.

In: a filling with a day. Out: the values of the sheets that tell a day as it was made.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from presenter.days import WorkedDay
from presenter.days.against_plan import place_in_day
from presenter.days.departing import differences, sensed
from presenter.documents.caution_blocks import SEVERITY_WORDS
from presenter.documents.kind import Filling
from presenter.documents.number_blocks import capital
from presenter.documents.papers.clock import Slot, day_plan
from presenter.documents.papers.fermentation_chart import fermentation_charts
from presenter.documents.papers.planning import minutes_in_words
from presenter.documents.sheet_view import SheetView
from presenter.lesson.fields import NOWHERE
from presenter.lesson.reading import Written
from presenter.quantities.clock import clock_in_words
from presenter.working import WorkedLesson

__all__ = ["DayView", "date_in_words", "day_values", "day_view"]


@dataclass(frozen=True)
class DayView:
    """A day as a template sees it: every text is words already."""

    worked: WorkedDay
    measures: str

    @property
    def date(self) -> str:
        """The day's date in words."""
        return date_in_words(self.worked)

    @property
    def who(self) -> str:
        """Who brewed."""
        return ", ".join(str(name) for name in self.worked.day.file.who)

    @property
    def differences(self) -> list[dict[str, str]]:
        """What was done differently: step, what, why."""
        return [
            {"step": each.step or "The whole lesson", "says": capital(each.says), "because": each.because}
            for each in differences(self.worked, self.measures)
        ]

    @property
    def senses(self) -> tuple[str, ...]:
        """What was seen, smelt and tasted."""
        return sensed(self.worked)

    @property
    def next_time(self) -> list[str]:
        """Notes for next time."""
        return [str(line) for line in self.worked.day.file.next_time]

    @property
    def thanks(self) -> list[str]:
        """Whom this day has to thank."""
        return [str(line) for line in self.worked.day.file.thanks]

    def cautions(self, sheet: SheetView) -> list[dict[str, str]]:
        """The short forms that every sheet carries, as lines of text."""
        return [
            {"severity": SEVERITY_WORDS[line.severity], "words": line.words}
            for line in sheet.cautioned.lines_on_sheet().lines
        ]

    @property
    def readings(self) -> list[dict[str, str]]:
        """Every reading: the step, what was shown, what it is worth, and what was planned there."""
        found = []
        names = {step.id: str(step.name) for step in self.worked.made.lesson.steps}
        for each in self.worked.readings:
            planned = self.worked.plan.numbers.get(each.number)
            when = "" if each.reading.time is None else f"{clock_in_words(each.reading.time)}"
            found.append(
                {
                    "step": names.get(each.step, ""), "time": when or "–", "shown": each.how,
                    "worth": each.words(self.measures),
                    "planned": planned.words(self.measures) if planned is not None and each.held else "–",
                }
            )  # fmt: skip
        return found

    @property
    def fermentations(self) -> list[dict[str, object]]:
        """The log of each drink that was read while it fermented."""
        return fermentation_charts(self.worked, self.measures)

    @property
    def rest(self) -> list[dict[str, str]]:
        """The steps that remain, each with its new hours."""
        return [_row(slot) for slot in _remaining(self.worked)]


def date_in_words(worked: WorkedDay) -> str:
    """The date of a day: 2 May 2026."""
    date = worked.day.date
    return f"{date.day} {date:%B %Y}"


def _row(slot: Slot) -> dict[str, str]:
    wait = ""
    if slot.length.stated is not None and slot.length.days:
        wait = f"until day {slot.day + slot.length.days}"
    elif slot.length.wait:
        wait = f"{minutes_in_words(slot.length.wait)}, until {clock_in_words(slot.ends)}"
    day = f"day {slot.day}, " if slot.day > 1 else ""
    return {
        "number": str(slot.number), "name": str(slot.step.name), "begins": f"{day}{clock_in_words(slot.begins)}",
        "hands_free": clock_in_words(slot.hands_end), "wait": wait or "–",
    }  # fmt: skip


def _remaining(worked: WorkedDay) -> tuple[Slot, ...]:
    """The slots after the latest step that was read at, the next one beginning when its last reading was taken."""
    here = place_in_day(worked)
    made = worked.made
    times = [
        each.reading.time for each in worked.readings
        if each.reading.time is not None and each.reading.date in (None, worked.day.date)
    ]  # fmt: skip
    if times and here + 1 < len(made.lesson.steps):
        made = _begins_at(made, here + 1, max(times))
    plan = day_plan(made, worked.day.file.began)
    elapsed = (
        max((worked.day.date_of(each.reading) - worked.day.date).days for each in worked.readings) if here >= 0 else 0
    )
    return tuple(slot for slot in plan.slots[here + 1 :] if slot.day > elapsed)


def _begins_at(made: WorkedLesson, index: int, minutes: int) -> WorkedLesson:
    """The lesson with one step fixed to an hour."""
    said = Written(f"{minutes // 60}:{minutes % 60:02d}", NOWHERE)
    steps = tuple(
        step.model_copy(update={"begins": said}) if at == index else step for at, step in enumerate(made.lesson.steps)
    )
    file = made.lesson.file.model_copy(update={"steps": steps})
    return replace(made, lesson=replace(made.lesson, file=file))


def day_view(filling: Filling) -> DayView | None:
    """The day that was asked for, or nothing."""
    day = filling.asked.day
    return DayView(day, filling.asked.measures) if day is not None else None


def day_values(filling: Filling) -> Mapping[str, Any]:
    """The values of a sheet that tells of a day."""
    view = day_view(filling)
    assert view is not None, "a sheet of a day is only asked for with a day"
    return {"day": view}
