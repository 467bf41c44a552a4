"""The run sheet: the day by the clock, to plan by and to read at the stove.

In: a sheet's view and the plan of its day. Out: :class:`RunView` and one :class:`RunStep` for each step, whose texts
are words already.
"""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import yaml

from presenter.documents.chosen import CARD_NUMBERS, SHEET_NUMBERS, withheld_at
from presenter.documents.kind import Filling
from presenter.documents.number_blocks import capital, withheld_block
from presenter.documents.page_text import escaped
from presenter.documents.papers.clashes import clashes_of, late_rests
from presenter.documents.papers.clock import DayPlan, Slot, day_plan
from presenter.documents.papers.kit import cleaning_lines, kit_lines, shopping_rows
from presenter.documents.papers.planning import hot_before, minutes_in_words
from presenter.documents.rendering import PageText
from presenter.documents.sheet_view import SheetView
from presenter.documents.step_view import StepView
from presenter.problems import ProblemsFoundError
from presenter.quantities.clock import DAY, clock_in_words

__all__ = ["RunStep", "RunView", "run_of", "run_values"]


def _date_in_words(date: datetime.date) -> str:
    return f"{date:%A} {date.day} {date:%B %Y}"


@dataclass(frozen=True)
class RunStep:
    """One step on the clock."""

    view: StepView
    slot: Slot

    @property
    def begins(self) -> str:
        """The hour it begins."""
        return clock_in_words(self.slot.begins)

    @property
    def hands_free(self) -> str:
        """The hour at which the hands are free again."""
        return clock_in_words(self.slot.hands_end)

    @property
    def who(self) -> str:
        """Who does it."""
        return capital(" and ".join(self.slot.who))

    @property
    def wait(self) -> str:
        """How long it then goes by itself and until when, or nothing."""
        slot = self.slot
        if slot.length.wait < 1 or slot.length.attended or slot.step.do == "clean":
            return ""
        if slot.length.days:
            day = slot.day + slot.length.days
            return f"{_days(slot.length.days)}, until day {day}"
        return f"{minutes_in_words(slot.length.wait)}, until {clock_in_words(slot.ends)}"

    @property
    def stay(self) -> str:
        """Until when somebody stays beside it, or nothing."""
        return clock_in_words(self.slot.ends) if self.slot.length.attended and self.slot.length.wait else ""

    @property
    def meanwhile(self) -> list[str]:
        """What waits while this is done."""
        return [str(step.name) for step in self.slot.over]

    @property
    def ready(self) -> list[str]:
        """What must be ready before it begins."""
        slot, step = self.slot, self.slot.step
        found = []
        hot = hot_before(self.view.sheet.worked, step, self.view.sheet.measures)
        if hot is not None:
            where = f", in the {slot.heater}" if slot.heater else ""
            found.append(f"{hot.words}{where}: put it on by {clock_in_words(slot.put_on)}")
        named = getattr(step, "with_", None) or ()
        goods = [str(named)] if isinstance(named, str) else [str(name) for name in named]
        uses = self.view.sheet.worked.lesson.file.ingredients
        goods = [str(use.what) for name in goods for key, use in uses.items() if str(key) == name]
        if goods:
            found.append(f"weighed out: {', '.join(goods)}")
        things = dict.fromkeys(str(name) for name in (*step.vessels(), *step.needs))
        if things:
            found.append(f"clean and at hand: {', '.join(things)}")
        return [capital(line) for line in found]

    @property
    def few(self) -> PageText:
        """The hour and the two numbers that matter most, each in the largest type of the stove sheet.

        A number that is not given follows with its reason.
        """
        kind, worked = str(self.slot.step.do), self.view.sheet.worked
        names = CARD_NUMBERS.get(kind) or SHEET_NUMBERS.get(kind, ())
        ids = [f"{self.view.id}.{name}" for name in names if f"{self.view.id}.{name}" in worked.numbers]
        stay = f" to {self.stay}" if self.stay else ""
        pairs = [(f"{self.begins}{stay}", "Begin and end" if stay else "Begin")]
        for number in [worked.numbers[number_id] for number_id in ids[:2]]:
            pairs.append((number.words(self.view.sheet.measures), capital(number.label)))
        rows = [
            yaml.safe_dump({"label": escaped(label), "value": escaped(value)}, allow_unicode=True, width=10_000)
            for value, label in pairs
        ]
        kept = withheld_block(withheld_at(worked, self.view.id))
        return PageText("\n".join(f"```key\n{row}```\n" for row in rows) + kept)

    @property
    def shot(self) -> str:
        """What to show or film, in the author's words."""
        return str(self.slot.step.shot or "")


def _days(count: int) -> str:
    return "one day" if count == 1 else f"{count} days"


@dataclass(frozen=True)
class RunDay:
    """One day: its name in words and its steps."""

    name: str
    date: str
    steps: list[RunStep]
    hours: str


@dataclass(frozen=True)
class RunView:
    """The whole run sheet."""

    sheet: SheetView
    plan: DayPlan

    @property
    def days(self) -> list[RunDay]:
        """The days on which something is done."""
        views = {view.id: view for view in self.sheet.steps}
        first = self.sheet.worked.lesson.file.date
        found = []
        for day in self.plan.days:
            slots = self.plan.on(day)
            date = _date_in_words(first + datetime.timedelta(days=day - 1))
            opens = min(min(slot.begins, slot.put_on) if slot.hot else slot.begins for slot in slots)
            hours = f"{clock_in_words(opens)} to {clock_in_words(max(slot.hands_end for slot in slots))}"
            steps = [RunStep(views[slot.step.id], slot) for slot in slots]
            found.append(RunDay(f"Day {day}", date, steps, hours))
        return found

    @property
    def steps(self) -> list[RunStep]:
        """Every step on the clock."""
        return [step for day in self.days for step in day.steps]

    @property
    def remarks(self) -> list[str]:
        """Rests that run over, and where the hours come from."""
        lines = late_rests(self.plan)
        if not self.plan.stated:
            lines.append("The lesson states no hour, so the day is taken to begin at nine.")
        return lines

    @property
    def ours(self) -> bool:
        """Whether some lengths of hands are planning figures."""
        return any(slot.length.ours for slot in self.plan.slots)

    @property
    def shopping(self) -> list[dict[str, str]]:
        """What to buy."""
        return shopping_rows(self.sheet.worked, self.sheet.measures)

    @property
    def kit(self) -> list[str]:
        """What to bring."""
        return kit_lines(self.sheet.worked, self.plan, self.sheet.measures)

    @property
    def cleaning(self) -> list[str]:
        """What to clean, and when."""
        return cleaning_lines(self.sheet.worked, self.plan)

    @property
    def ahead(self) -> list[str]:
        """What lies days ahead: the buying before the first day, and when each long wait is over."""
        first = self.sheet.worked.lesson.file.date

        def on(day: int) -> str:
            return _date_in_words(first + datetime.timedelta(days=day - 1))

        lines = [f"By {on(0)}: what is to buy and to bring is in the house, and somebody has read every label"]
        for slot in self.plan.slots:
            if slot.length.days:
                until = slot.day + slot.length.days
                lines.append(f"{slot.step.name}: begun on {on(slot.day)}, it has had its time on {on(until)}")
        return lines

    @property
    def left_overnight(self) -> list[str]:
        """What stands while nobody is there, from when to when."""
        lines = []
        for slot in self.plan.slots:
            since = f"{slot.step.name}: from {clock_in_words(slot.begins)} on day {slot.day}"
            if slot.length.days:
                lines.append(f"{since} to day {slot.day + slot.length.days}")
            elif int(slot.ends // DAY) + 1 > slot.day:
                lines.append(f"{since} to {clock_in_words(slot.ends)} the next day")
        return lines


def run_of(filling: Filling) -> RunView:
    """The run of a lesson at the hour that was asked for."""
    return RunView(filling.view, day_plan(filling.view.worked, filling.asked.begins))


def run_values(filling: Filling) -> Mapping[str, Any]:
    """The values of the run sheet's templates.

    Raises ProblemsFoundError with every clash of the day, at the author's lines.
    """
    run = run_of(filling)
    clashes = clashes_of(filling.view.worked, run.plan)
    if clashes:
        raise ProblemsFoundError(tuple(clashes))
    return {"run": run}
