"""What a template sees: the lesson in words, its steps, and ready blocks of page text.

In: a worked lesson with its cautions. Out: :class:`SheetView`, whose texts are words already; it has a
:class:`~presenter.documents.step_view.StepView` for each step.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from presenter.cautions import Cautioned
from presenter.documents.caution_blocks import caution_blocks, full_cautions
from presenter.documents.chosen import numbers_shown, withheld_at
from presenter.documents.citing import Citations
from presenter.documents.germ_lines import germs_said
from presenter.documents.note_blocks import EVERYTHING, reader_of
from presenter.documents.number_blocks import capital
from presenter.documents.rendering import PageText
from presenter.documents.serving_lines import allergens_said, plants_said, servings_said
from presenter.documents.step_view import StepView
from presenter.lesson import Lesson
from presenter.lesson.model import IngredientUse
from presenter.quantities import WorkedNumber, in_words
from presenter.working import WorkedLesson
from presenter.working.mash_courses import TEACHING
from presenter.working.saying import sayings
from presenter.working.walk import drink_called

__all__ = ["SheetView"]


@dataclass(frozen=True)
class SheetView:
    """One sheet of a worked lesson, as a template sees it."""

    worked: WorkedLesson
    cautioned: Cautioned
    measures: str = "metric"
    reader: str = ""
    citations: Citations = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "reader", self.reader or reader_of(self.worked.lesson))
        object.__setattr__(self, "citations", Citations(self.worked.lesson.bibliography))

    @property
    def title(self) -> str:
        """The lesson's title."""
        return str(self.worked.lesson.file.title)

    def titled(self, paper: str) -> str:
        """The lesson's title and what this paper is; a title that asks or exclaims takes no colon after it."""
        return f"{self.title} {capital(paper)}" if self.title.endswith(("?", "!")) else f"{self.title}: {paper}"

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
        found, lesson = [], self.worked.lesson
        for name, use in lesson.file.ingredients.items():
            number = self.worked.numbers.get(f"lesson.{name}".replace(" ", "-"))
            amount = number.words(self.measures) if number else str(use.amount.written)
            if number and use.amount.kind in {"volume", "pieces"}:
                amount = f"{use.amount.written}, {amount}"
            found.append(
                {
                    "what": capital(_ingredient_in_words(lesson, str(name), use)),
                    "amount": amount,
                    "evidence": self.evidence(str(use.from_ or "")),
                }
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
            lines.append(f"{capital(str(name))}: {', '.join(parts)}" if parts else capital(str(name)))
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
    def teaching(self) -> bool:
        """Whether final gravities or strengths of this lesson rest on the teaching model of the mash."""
        return any(
            TEACHING in number.remark and number.id.endswith((".final-gravity", ".strength"))
            for number in self.worked.numbers.values()
        )

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
                    "name": capital(drink_called(str(getattr(step.step, "what", "")))),
                    "strength": f"{step.worth('strength')} {step.spread('strength')}",
                    "duty": step.worth("strength-duty-table"),
                    "thumb": step.worth("strength-rule-of-thumb") if thumb in numbers else "outside its range",
                    "final_gravity": step.worth("final-gravity"),
                }
            )
        return found

    @property
    def allergens(self) -> list[str]:
        """Every allergen group that an ingredient brings or may bring, and what no table knows."""
        return allergens_said(self.worked, self.citations)

    @property
    def plants(self) -> list[dict[str, str]]:
        """The herbs of which more is to be said than of a kitchen herb that was bought."""
        return plants_said(self.worked, self.citations)

    @property
    def has_servings(self) -> bool:
        """Whether the numbers sheet tells what is in one measure; asking cites nothing."""
        return any(name.endswith("-alcohol-in-measure") for name in self.worked.numbers)

    @property
    def servings(self) -> list[str]:
        """What one measure of each drink holds, in grams and in standard drinks."""
        return servings_said(self.worked, self.measures, self.citations)

    @property
    def germs(self) -> list[str]:
        """What each heating step does to germs, as teaching numbers."""
        return germs_said(self.worked, self.citations)

    @property
    def whole_lesson(self) -> list[str]:
        """The salt for the water's chlorine, or why it is not given."""
        number = self.worked.numbers.get("lesson.dechlorination")
        kept = [f"Not given: {each.label}. {each.reason}" for each in withheld_at(self.worked, "lesson")]
        if number is None:
            return kept
        water = self.worked.numbers["lesson.water-needed"].words(self.measures)
        return [f"{capital(number.label)}, {water}: {number.words(self.measures)}; {number.remark}", *kept]

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
            cites = ", ".join(self.citations.mark(key) for key, _ in note.cites)
            return f"after the note “{note.title}” {cites}".strip()
        if written in lesson.bibliography:
            return f"after source {self.citations.mark(written)}"
        return written or "not stated"

    def sheet_cautions(self) -> PageText:
        """The short forms that every sheet carries, merged."""
        return caution_blocks("sheet", self.cautioned.lines_on_sheet().lines)

    def full_cautions(self) -> list[dict[str, str]]:
        """The full words of every caution of this lesson, gravest first, with why and where they come from."""
        return full_cautions(self.cautioned, self.citations)

    def sources(self) -> list[dict[str, str]]:
        """Every source cited so far, numbered."""
        return self.citations.listed()

    @property
    def readers(self) -> str:
        """Whom the notes of this sheet are chosen for, as the sheet says it."""
        if self.reader == EVERYTHING:
            return "All notes of the lesson are printed."
        return f"The notes are chosen for {self.reader} readers; the lesson has more."

    @property
    def about_measures(self) -> str:
        """What the sheet says once where it is not in the author's own measures."""
        if self.measures == "metric":
            return ""
        named = {"us": "United States", "imperial": "imperial"}[self.measures]
        return f"Worked figures are in {named} measures; sentences, notes and cautions keep those they were written in."


def _ingredient_in_words(lesson: Lesson, name: str, use: IngredientUse) -> str:
    """An ingredient as it is listed; of a loaf, under which name it is used and which lesson bakes it."""
    if not lesson.is_loaf(use):
        return str(use.what)
    words = str(use.what) if name == str(use.what) else f"{name}, of the {use.what}"
    return words if use.made_in is None else f"{words}, baked in “{lesson.others[str(use.made_in).strip()].file.title}”"
