"""The class plan: aims, periods on the clock, what pupils do while something rests, results, the starch test.

In: a sheet's view, the plan of its day, what the author says under ``class:``. Out: :class:`ClassView` in words. The
hours are the run sheet's; a step falls into the period in which it begins.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from presenter.cautions import caution_book
from presenter.documents.caution_blocks import caution_blocks
from presenter.documents.kind import Filling
from presenter.documents.note_blocks import reader_of
from presenter.documents.papers.planning import minutes_in_words
from presenter.documents.papers.run_sheet import RunStep, RunView, run_of
from presenter.documents.rendering import PageText
from presenter.quantities import in_words
from presenter.quantities.clock import DAY, clock_in_words

__all__ = ["ClassView", "Period", "class_values"]

LEVEL_WORDS = {"younger": "younger pupils", "older": "older pupils", "adult": "adults"}
FIFTY = 50.0  # minutes; a period where the lesson says nothing
RESULTS = ("Group", "Step", "Time", "What we read", "What we saw and smelt")


@dataclass(frozen=True)
class Period:
    """One period: its day and hours, the steps that begin in it, and what goes on by itself meanwhile."""

    name: str
    hours: str
    steps: list[str]
    meanwhile: list[str]


@dataclass(frozen=True)
class ClassView:
    """The class plan, as its template sees it."""

    run: RunView
    level: str

    @property
    def _class(self) -> Any:
        return self.run.sheet.worked.lesson.file.class_

    @property
    def for_whom(self) -> str:
        """The level in words."""
        return LEVEL_WORDS[self.level]

    @property
    def aims(self) -> list[str]:
        """The author's aims; where there are none, what the notes of this level teach."""
        said = [str(aim) for aim in self._class.aims]
        return said or [f"To understand: {title}" for title in self._titles()][:6]

    def _titles(self) -> list[str]:
        notes = self.run.sheet.worked.lesson.notes
        found: dict[str, None] = {}
        for step in self.run.sheet.steps:
            for note_id in step.step.science:
                note = notes[str(note_id)]
                if note.reader in ("", self.level):
                    found[note.title] = None
        return list(found)

    @property
    def titles(self) -> list[str]:
        """The titles of the notes for this level."""
        return self._titles()

    @property
    def curriculum(self) -> str:
        """The link to a curriculum, as the author writes it, or nothing."""
        return str(self._class.curriculum or "")

    @property
    def questions(self) -> list[str]:
        """The questions that the author marks for this level."""
        marked = {str(level): questions for level, questions in self._class.questions.items()}
        return [str(question) for question in marked.get(self.level, ())]

    @property
    def period_words(self) -> str:
        """The length of a period in words."""
        period = self._class.period
        return in_words(period.quantity, written=period.written) if period is not None else minutes_in_words(FIFTY)

    @property
    def _period(self) -> float:
        period = self._class.period
        return float(period.number()) if period is not None else FIFTY

    @property
    def periods(self) -> list[Period]:
        """Every period in which something begins, or in which something that the class can read is still resting."""
        found = []
        for day in self.run.days:
            opens = min(step.slot.begins for step in day.steps)
            ends = max(step.slot.hands_end for step in day.steps)
            for count in range(max(1, math.ceil((ends - opens) / self._period - 1e-9))):
                begins, until = opens + count * self._period, opens + (count + 1) * self._period
                own = [step for step in day.steps if begins <= step.slot.begins < until]
                resting = [step for step in self.run.steps if self._rests(step, begins, until) and step not in own]
                hours = f"{clock_in_words(begins)} to {clock_in_words(until)}"
                lines = [f"{step.begins} ({step.view.number}) {step.view.name}" for step in own]
                found.append(
                    Period(f"{day.name}, period {count + 1}", hours, lines, [step.view.name for step in resting])
                )
        return found

    @staticmethod
    def _rests(step: RunStep, begins: float, until: float) -> bool:
        slot = step.slot
        return slot.length.wait > 0 and slot.begins < until and slot.ends > begins and slot.length.wait < DAY

    @property
    def rests(self) -> list[str]:
        """The waits in which a class has time, longest first."""
        waits = [step for step in self.run.steps if step.wait and not step.slot.length.days]
        waits.sort(key=lambda step: -step.slot.length.wait)
        return [f"{step.view.name}: {step.wait}" for step in waits[:4]]

    @property
    def while_resting(self) -> list[str]:
        """What pupils do meanwhile: the author's own, or what every mash gives to read and to draw."""
        said = [str(line) for line in self._class.while_resting]
        return said or list(MEANWHILE)

    @property
    def results_head(self) -> list[str]:
        """The columns of the class's table of results."""
        return [str(column) for column in self._class.results] or list(RESULTS)

    @property
    def results_rows(self) -> list[str]:
        """Empty rows, one for each of six groups."""
        return [f"{number}" for number in range(1, 7)]

    @property
    def starch_test(self) -> bool:
        """Whether the lesson lists iodine, so that its cautions stand on every sheet."""
        return any("iodine" in caution.id for step in self.run.steps for caution in self._at(step))

    def _at(self, step: RunStep) -> tuple[Any, ...]:
        return tuple(self.run.sheet.cautioned.at_step(step.view.id))

    def starch_caution(self) -> PageText:
        """The hazard line of the starch test, beside the test itself."""
        placed = [caution for step in self.run.steps for caution in self._at(step) if caution.id == "iodine-test"]
        lines = self.run.sheet.cautioned.lines_at_step(str(placed[0].place.step)).lines
        return caution_blocks("step", [line for line in lines if "iodine-test" in line.stands_for])

    @property
    def starch_caution_in_full(self) -> str:
        """The full words of the same."""
        return caution_book()["iodine-test"].say

    @property
    def drinks_alcohol(self) -> bool:
        """Whether any drink of this lesson holds alcohol."""
        return any(liquid.pitched for liquid in self.run.sheet.worked.vessels.liquids.values())


MEANWHILE = (
    "Each group reads its thermometer every ten minutes and enters it below; at the end, one graph for all.",
    "Each group guesses the gravity of the wort before it is read, and says what the guess rests on.",
    "Each group reads one history note and answers: who wrote this down, how long after, and how would they know?",
    "Each pupil draws the mash tub and shows with arrows where the warmth goes.",
)


def class_values(filling: Filling) -> Mapping[str, Any]:
    """The values of the class plan's template."""
    lesson = filling.view.worked.lesson
    said = lesson.file.class_.level
    level = filling.asked.reader or (str(said) if said is not None else reader_of(lesson))
    return {"plan": ClassView(run_of(filling), level if level in LEVEL_WORDS else reader_of(lesson))}
