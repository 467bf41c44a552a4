"""One step of a lesson as a template sees it: its words, numbers, cautions and notes.

In: a step and the sheet it stands on. Out: :class:`StepView`, whose texts are words already.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from presenter.documents.bake_chart import bake_chart, loaves_in_words
from presenter.documents.caution_blocks import caution_blocks
from presenter.documents.chosen import numbers_shown, withheld_at
from presenter.documents.mash_chart import mash_chart
from presenter.documents.note_blocks import note_block, notes_for
from presenter.documents.number_blocks import capital, numbers_block, withheld_block
from presenter.documents.page_text import escaped
from presenter.documents.rendering import PageText
from presenter.lesson import Note, Step
from presenter.working.gristing import COUNTED_AS_NONE, STAYS_STARCH
from presenter.working.mash_courses import TEACHING
from presenter.working.walk import drink_called

if TYPE_CHECKING:
    from presenter.documents.sheet_view import SheetView

__all__ = ["StepView"]


@dataclass(frozen=True)
class StepView:
    """One step, as a template sees it."""

    number: str
    step: Step
    sheet: SheetView

    @property
    def id(self) -> str:
        """The step's id."""
        return self.step.id

    @property
    def name(self) -> str:
        """The step's name."""
        return str(self.step.name)

    @property
    def heading(self) -> PageText:
        """The step's heading with its number and an anchor."""
        return PageText(f"## ({self.number}) {escaped(self.name)} {{#{self.id}}}")

    @property
    def drink(self) -> str:
        """What the step ferments, in words: "strong ale"."""
        return drink_called(str(getattr(self.step, "what", "")))

    @property
    def in_words(self) -> str:
        """What to do, in the author's words."""
        return str(self.step.what_to_do or "")

    @property
    def say(self) -> str:
        """The author's line with its numbers worded for the voice."""
        return self.sheet.said(self.id)

    def cautions(self) -> PageText:
        """The short forms of this step's cautions, gravest first, each a block of its own."""
        return caution_blocks("step", self.sheet.cautioned.lines_at_step(self.id).lines)

    def number_lines(self) -> list[str]:
        """The numbers of this step as lines of words: label, value and uncertainty."""
        shown = numbers_shown(self.sheet.worked, self.id, str(self.step.do))
        lines = []
        for number in shown:
            spread = f" {number.spread_words(self.sheet.measures)}" if number.spread is not None else ""
            lines.append(f"{capital(number.label)}: {number.words(self.sheet.measures)}{spread}")
        return lines

    def numbers(self, card: bool = False) -> PageText:
        """The numbers of this step, and the reason for each that is not given.

        The first table that shows an uncertainty names its columns.
        """
        shown = numbers_shown(self.sheet.worked, self.id, str(self.step.do), card=card)
        head = not card and self.id == self.sheet.step_with_table_head
        given = numbers_block(shown, self.sheet.measures, head=head)
        return PageText(given + withheld_block(withheld_at(self.sheet.worked, self.id)))

    def teaching(self, card: bool = False) -> str:
        """One line where numbers shown rest on the teaching model of the mash, or nothing.

        Beside the mash it says where to read how far the model misses what was published.
        """
        shown = numbers_shown(self.sheet.worked, self.id, str(self.step.do), card=card)
        touched = [number for number in shown if TEACHING in number.remark]
        uncounted = "" if card else self._uncounted_enzymes()
        if not touched:
            return uncounted
        plain = [re.split(r", by | to expect| \(", number.label)[0] for number in touched]
        names = capital(" and ".join((", ".join(plain[:-1]), plain[-1]) if len(plain) > 1 else plain))
        said = f"{names}: by our {TEACHING}."
        misses = "; it misses: " in touched[0].remark
        if card or not misses or not self.mash_chart():
            return f"{said} Measure before you quote. {uncounted}".rstrip()
        said = f"{said} Where it misses published figures is on the numbers sheet. Measure before you quote."
        return f"{said} {uncounted}".rstrip()

    def _uncounted_enzymes(self) -> str:
        """What the mash model says of enzymes that it counts as none: where they are, nobody has printed a figure."""
        number = self.sheet.worked.numbers.get(f"{self.id}.starch-converted")
        said = number.remark.split("; ") if number is not None and self.step.do == "mash" else []
        told = [part for part in said if COUNTED_AS_NONE in part or part == STAYS_STARCH]
        return " ".join(f"{capital(part.partition(' (')[0])}." for part in told)

    def mash_chart(self) -> PageText:
        """The chart of the mash that this step began, or nothing."""
        return mash_chart(self.sheet.worked, self.id)

    def bake_chart(self) -> PageText:
        """The chart of the heat that reaches the core of this step's loaf, or nothing."""
        return bake_chart(self.sheet.worked, self.id, self.sheet.measures)

    @property
    def loaves(self) -> list[dict[str, str]]:
        """The loaves that this step bakes, each with its numbers in words."""
        return loaves_in_words(self.sheet.worked, self.step, self.sheet.measures)

    def choices(self) -> list[dict[str, str]]:
        """The figures that rest on more than the author's choice, gathered under the evidence for them."""
        gathered: dict[str, list[str]] = {}
        for written, number in self.sheet.own_figures(self.id):
            if written in {"our choice", "the author's own figure"}:
                continue
            figure = f"{number.label}, {number.words(self.sheet.measures)}"
            gathered.setdefault(capital(self.sheet.evidence(written)), []).append(figure)
        return [{"evidence": evidence, "figures": "; ".join(figures)} for evidence, figures in gathered.items()]

    def _notes(self) -> list[Note]:
        every = [self.sheet.worked.lesson.notes[str(note_id)] for note_id in (*self.step.history, *self.step.science)]
        return notes_for(every, self.sheet.reader)

    def notes(self, about: str) -> list[PageText]:
        """This step's notes of one kind ("science" or "history") for the sheet's readers, as blocks."""
        return [note_block(note, self.sheet.citations) for note in self._notes() if note.about == about]

    def note_titles(self) -> list[str]:
        """The titles of the notes that the handout prints beside this step."""
        return [note.title for note in self._notes()]

    @property
    def departure(self) -> dict[str, str] | None:
        """What the record shows, what we do today, and why; or nothing."""
        if self.step.departure is None:
            return None
        departure = self.step.departure
        return {"record": str(departure.record), "today": str(departure.today), "because": str(departure.because)}

    def worth(self, name: str) -> str:
        """The value of one of this step's numbers, worded."""
        return self.sheet.worth(f"{self.id}.{name}")

    def spread(self, name: str) -> str:
        """The uncertainty of one of this step's numbers, worded."""
        return self.sheet.worked.numbers[f"{self.id}.{name}"].spread_words(self.sheet.measures)

    def worked_from(self, name: str, argument: str) -> str:
        """The value, worded, of what filled one argument of the formula behind one of this step's numbers."""
        return self.sheet.worth(dict(self.sheet.worked.numbers[f"{self.id}.{name}"].inputs)[argument])
