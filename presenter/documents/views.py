"""What a template sees: the lesson in words, its steps, and ready blocks of page text.

In: a worked lesson with its cautions. Out: :class:`SheetView` and :class:`StepView`, whose texts are words already.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import yaml

from presenter.cautions import Cautioned, ShortLine
from presenter.documents.chosen import numbers_shown
from presenter.documents.mash_chart import mash_chart
from presenter.documents.page_text import escaped
from presenter.documents.rendering import PageText
from presenter.lesson import Note, Step
from presenter.quantities import WorkedNumber, in_words
from presenter.working import WorkedLesson
from presenter.working.saying import sayings

__all__ = ["SheetView", "StepView", "numbers_block"]

SEVERITY_WORDS = {
    "never": "Never",
    "danger": "Danger",
    "warning": "Warning",
    "caution": "Caution",
    "notice": "Please note",
}


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def numbers_block(numbers: Sequence[WorkedNumber], measures: str, *, head: bool, key: bool = True) -> PageText:
    """A block of numbers: label, value, give-or-take; the first is the one that matters most."""
    rows = []
    for index, number in enumerate(numbers):
        row = {"label": escaped(_capital(number.label)), "value": escaped(number.words(measures))}
        if number.spread is not None:
            row["give or take"] = escaped(number.spread_words(measures))
        if index == 0 and key:
            row["key"] = "yes"
        rows.append(row)
    if not rows:
        return PageText("")
    attributes = ' what="Number" worth="Value" give-or-take="Uncertainty, about 95 %"' if head else ""
    body = yaml.safe_dump(rows, allow_unicode=True, sort_keys=False, width=10_000)
    return PageText(f"```numbers{attributes}\n{body}```\n")


@dataclass
class _Citations:
    """Sources in the order in which they are first cited."""

    order: list[tuple[str, str]] = field(default_factory=list)

    def number(self, key: str) -> int:
        keys = [known for known, _ in self.order]
        if key not in keys:
            self.order.append((key, ""))
            return len(self.order)
        return keys.index(key) + 1


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
    def in_words(self) -> str:
        """What to do, in the author's words."""
        return str(self.step.what_to_do or "")

    @property
    def say(self) -> str:
        """The author's line with its numbers worded for the voice."""
        return self.sheet.said(self.id)

    def cautions(self) -> PageText:
        """The short forms of this step's cautions, gravest first, each a block of its own."""
        return self.sheet.caution_blocks(self.id)

    def numbers(self, card: bool = False) -> PageText:
        """The numbers of this step; the first table that shows an uncertainty names its columns."""
        shown = numbers_shown(self.sheet.worked, self.id, str(self.step.do), card=card)
        head = not card and self.id == self.sheet.step_with_table_head
        return numbers_block(shown, self.sheet.measures, head=head)

    def mash_chart(self) -> PageText:
        """The chart of the mash that this step began, or nothing."""
        return mash_chart(self.sheet.worked, self.id)

    def choices(self) -> list[dict[str, str]]:
        """The figures that rest on more than the author's choice, gathered under the evidence for them."""
        gathered: dict[str, list[str]] = {}
        for written, number in self.sheet.own_figures(self.id):
            if written in {"our choice", "the author's own figure"}:
                continue
            figure = f"{number.label}, {number.words(self.sheet.measures)}"
            gathered.setdefault(_capital(self.sheet.evidence(written)), []).append(figure)
        return [{"evidence": evidence, "figures": "; ".join(figures)} for evidence, figures in gathered.items()]

    def notes(self, about: str) -> list[PageText]:
        """This step's notes of one kind ("science" or "history") as blocks."""
        ids = self.step.science if about == "science" else self.step.history
        return [self.sheet.note_block(self.sheet.worked.lesson.notes[str(note_id)]) for note_id in ids]

    def note_titles(self) -> list[str]:
        """The titles of all notes of this step."""
        return [
            self.sheet.worked.lesson.notes[str(note_id)].title for note_id in (*self.step.science, *self.step.history)
        ]

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


@dataclass(frozen=True)
class SheetView:
    """One sheet of a worked lesson, as a template sees it."""

    worked: WorkedLesson
    cautioned: Cautioned
    measures: str = "metric"
    citations: _Citations = field(default_factory=_Citations)

    @property
    def title(self) -> str:
        """The lesson's title."""
        return str(self.worked.lesson.file.title)

    @property
    def scene(self) -> str:
        """The place and time shown."""
        return str(self.worked.lesson.file.scene)

    @property
    def invented(self) -> str:
        """The line that says what is invented, or nothing."""
        return str(self.worked.lesson.file.invented or "")

    @property
    def about(self) -> str:
        """The author's opening words, or nothing."""
        return str(self.worked.lesson.file.about or "")

    @property
    def author(self) -> str:
        """Who made the lesson, or nothing."""
        return str(self.worked.lesson.file.author or "")

    @property
    def steps(self) -> list[StepView]:
        """The steps in order, numbered from 1."""
        return [StepView(str(index), step, self) for index, step in enumerate(self.worked.lesson.steps, start=1)]

    @property
    def ingredients(self) -> list[dict[str, str]]:
        """The ingredients: what, how much, and the evidence."""
        found = []
        for name, use in self.worked.lesson.file.ingredients.items():
            number = self.worked.numbers.get(f"lesson.{name}".replace(" ", "-"))
            amount = number.words(self.measures) if number else str(use.amount.written)
            found.append(
                {"what": _capital(str(use.what)), "amount": amount, "evidence": self.evidence(str(use.from_ or ""))}
            )
        return found

    @property
    def kit(self) -> list[str]:
        """The kit in words."""
        lines = []
        for name, item in self.worked.lesson.file.kit.items():
            parts = [str(item.of)] if item.of else []
            if item.holds is not None:
                parts.append(
                    f"holds {in_words(item.holds.quantity, measures=self.measures, written=item.holds.written)}"
                )
            instrument = self.worked.lesson.instruments.get(str(name))
            if item.right_within is not None and instrument is not None:
                within = instrument.within
                parts.append(
                    f"right within {in_words(within.quantity, measures=self.measures, written=within.written)}"
                )
            lines.append(f"{_capital(str(name))}: {', '.join(parts)}" if parts else _capital(str(name)))
        return lines

    @property
    def law(self) -> tuple[str, ...]:
        """The house's lines on the law."""
        return self.worked.lesson.house.law

    @property
    def thanks(self) -> list[str]:
        """Thanks, in the author's words."""
        return [str(line) for line in self.worked.lesson.file.thanks]

    @property
    def myths(self) -> list[dict[str, str]]:
        """Lines not to repeat, and what to say instead."""
        notes = [self.worked.lesson.notes[str(note_id)] for note_id in self.worked.lesson.file.myths]
        return [{"do_not_say": note.do_not_say, "say_instead": note.say_instead or note.say} for note in notes]

    @property
    def step_with_table_head(self) -> str:
        """The id of the first step whose table shows an uncertainty."""
        for step in self.steps:
            shown = numbers_shown(self.worked, step.id, str(step.step.do))
            if any(number.spread is not None for number in shown[1:]):
                return step.id
        return ""

    @property
    def drinks(self) -> list[dict[str, str]]:
        """Each fermented drink with its strength by each rule, and the uncertainty."""
        found = []
        for step in self.steps:
            if step.step.do != "ferment":
                continue
            numbers = self.worked.numbers
            thumb = f"{step.id}.strength-rule-of-thumb"
            found.append(
                {
                    "name": _capital(str(getattr(step.step, "what", ""))),
                    "strength": f"{step.worth('strength')} {step.spread('strength')}",
                    "duty": step.worth("strength-duty-table"),
                    "thumb": step.worth("strength-rule-of-thumb") if thumb in numbers else "outside its range",
                    "final_gravity": step.worth("final-gravity"),
                }
            )
        return found

    def said(self, step_id: str) -> str:
        """The say line of one step, worded in this sheet's measures; or nothing."""
        if self.measures == "metric":
            return self.worked.said.get(step_id, "")
        return sayings(self.worked.lesson, self.worked.numbers, self.measures).get(step_id, "")

    def worth(self, number_id: str) -> str:
        """The value of a number, worded."""
        return self.worked.numbers[number_id].words(self.measures)

    def first(self, kind: str, name: str) -> str:
        """A number of the first step of a kind, worded."""
        step = next(step for step in self.steps if step.step.do == kind)
        return step.worth(name)

    def own_figures(self, step_id: str) -> list[tuple[str, WorkedNumber]]:
        """The figures of a step that the author stated, with their evidence as written."""
        return [
            (number.origin.evidence, number)
            for number in self.worked.of_step(step_id)
            if number.origin is not None and number.origin.kind == "lesson" and not number.formula
        ]

    def evidence(self, written: str) -> str:
        """An author's evidence, in words a reader understands."""
        lesson = self.worked.lesson
        if written in lesson.notes:
            note = lesson.notes[written]
            cites = ", ".join(f"[{self.citations.number(key)}]" for key, _ in note.cites)
            return f"after the note “{note.title}” {cites}".strip()
        if written in lesson.bibliography:
            return f"after source [{self.citations.number(written)}]"
        return written or "not stated"

    def sheet_cautions(self) -> PageText:
        """The short forms that every sheet carries, merged."""
        return self._blocks("sheet", self.cautioned.lines_on_sheet().lines)

    def caution_blocks(self, step_id: str) -> PageText:
        """The short forms beside one step."""
        return self._blocks("step", self.cautioned.lines_at_step(step_id).lines)

    def _blocks(self, at: str, lines: Sequence[ShortLine]) -> PageText:
        blocks = []
        for line in lines:
            duty = "mandatory" if line.mandatory else "advice"
            ids = line.stands_for
            severity = line.severity
            words = escaped(line.words)
            blocks.append(f"```caution id={ids[0]} severity={severity} duty={duty} at={at}\n{words}\n```\n")
        return PageText("\n".join(blocks))

    def full_cautions(self) -> list[dict[str, str]]:
        """The full words of every caution of this lesson, gravest first, with why and where they come from."""
        order = ["never", "danger", "warning", "caution", "notice"]
        placed = sorted(self.cautioned.full_words, key=lambda each: order.index(each.severity))
        found = []
        for each in placed:
            keys = [key for key in each.caution.source if key in self.worked.lesson.bibliography]
            cites = f"[{self.citations.number(keys[0])}]" if keys and each.caution.status == "seen" else ""
            found.append({"severity": SEVERITY_WORDS[each.severity], "say": each.say, "cites": cites})
        return found

    def note_block(self, note: Note) -> PageText:
        """One note as a block, with its kind of evidence and its sources by number."""
        cites = "; ".join(
            f"[{self.citations.number(key)}]" + (f" {locator}" if locator else "") for key, locator in note.cites
        )
        evidence = note.kind_of_evidence or note.rests_on
        parts = [f"```note kind={note.about} title={_quoted(note.title)}"]
        if evidence:
            parts.append(f"evidence={_quoted(evidence)}")
        if note.confidence:
            parts.append(f"confidence={_quoted(f'confidence: {note.confidence}')}")
        word = "Sources" if len(note.cites) > 1 else "Source"
        body = escaped(f"{note.say} {word}: {cites}." if cites else note.say)
        return PageText(" ".join(parts) + f"\n{body}\n```\n")

    def sources(self) -> list[dict[str, str]]:
        """Every source cited so far, numbered."""
        bibliography = self.worked.lesson.bibliography
        return [
            {"number": str(index), "citation": bibliography[key].citation_in_print()}
            for index, (key, _) in enumerate(self.citations.order, start=1)
        ]

    def sources_of_numbers(self) -> list[str]:
        """The sources of the formulas behind the numbers shown, beyond those cited already."""
        bibliography, cited = self.worked.lesson.bibliography, {key for key, _ in self.citations.order}
        found: dict[str, None] = {}
        for step in self.steps:
            for number in numbers_shown(self.worked, step.id, str(step.step.do)):
                found |= {key: None for key in number.sources if key in bibliography and key not in cited}
        return [bibliography[key].citation_in_print() for key in found]


def _quoted(text: str) -> str:
    return '"' + escaped(text).replace('"', "”") + '"'
