"""Which cautions a lesson raises, and where each stands: beside which steps, or in the lines of every sheet.

In: the facts of the sheet and of each step. Out: :class:`Cautioned`, with a :class:`PlacedCaution` for every
caution at every place, gravest first, and the short lines to print there. Nothing here words a number.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal, TypeAlias

from presenter.cautions.entries import SEVERITIES, Caution, caution_book, words_in
from presenter.cautions.facts import (
    NOT_APPLICABLE,
    Absent,
    CautionDataError,
    FactValue,
    SheetFacts,
    StepFacts,
    facts_by_name,
    facts_of_cautions,
)

__all__ = [
    "SHEET_WORDS_AT_MOST",
    "CautionPlace",
    "Cautioned",
    "PlacedCaution",
    "ShortLine",
    "ShortLines",
    "cautions_that_apply",
    "short_lines",
]

SHEET_WORDS_AT_MOST = 60  # words, all the short lines of one sheet together

_Met: TypeAlias = tuple[str | Absent, ...]


@dataclass(frozen=True)
class CautionPlace:
    """Where a caution stands: beside the step ``step``, on the sheet, or among the lesson's full words."""

    kind: Literal["step", "sheet", "lesson"]
    step: str = ""

    def __str__(self) -> str:
        return f"step {self.step}" if self.kind == "step" else f"the {self.kind}"


SHEET = CautionPlace("sheet")
LESSON = CautionPlace("lesson")


@dataclass(frozen=True)
class PlacedCaution:
    """A caution at one place. ``met`` is what raised it; ``covered`` the ids that it stands in for there;
    ``reminds`` says that an earlier step of the document has its short form.
    """

    caution: Caution
    place: CautionPlace
    met: _Met = ()
    covered: tuple[str, ...] = ()
    reminds: bool = False

    @property
    def id(self) -> str:
        """The caution's permanent id."""
        return self.caution.id

    @property
    def severity(self) -> str:
        """notice, caution, warning, danger or never."""
        return self.caution.severity

    @property
    def mandatory(self) -> bool:
        """Whether no document may leave it out at this place."""
        return self.caution.mandatory

    @property
    def short(self) -> str:
        """The short form, its words filled in; at a later step the reminder, where the caution has one."""
        words = self.caution.again if self.reminds and self.caution.again else self.caution.short
        return self.caution.filled(words, self.met)

    @property
    def say(self) -> str:
        """The full words, filled in."""
        return self.caution.filled(self.caution.say, self.met)

    @property
    def stands_for(self) -> tuple[str, ...]:
        """The ids of every caution that is said here by this one, its own first."""
        return (self.caution.id, *self.covered)


@dataclass(frozen=True)
class _Standing:
    """One raised caution with the steps it belongs to and what raised it at each."""

    caution: Caution
    at_steps: tuple[tuple[str, _Met], ...]
    on_sheet: _Met | None


@dataclass(frozen=True)
class ShortLine:
    """One line to print: its words, the ids it stands for, the gravest severity among them."""

    words: str
    stands_for: tuple[str, ...]
    severity: str
    mandatory: bool


@dataclass(frozen=True)
class ShortLines:
    """The lines of one place. ``left_out`` are the ids of advice that the word limit had no room for."""

    lines: tuple[ShortLine, ...]
    left_out: tuple[str, ...] = ()

    @property
    def words(self) -> int:
        """How many words the lines have together."""
        return sum(words_in(line.words) for line in self.lines)


@dataclass(frozen=True)
class Cautioned:
    """The cautions of a lesson, for a document that tells the steps ``steps`` (at first, every step).

    ``rules`` are what the toolkit keeps itself and never prints.
    """

    steps: tuple[str, ...]
    rules: tuple[Caution, ...]
    _standing: tuple[_Standing, ...]

    def for_steps(self, document_steps: Iterable[str]) -> Cautioned:
        """The same for a document that tells only these steps: first and last are counted among them.

        Raises CautionDataError where the lesson has no such step.
        """
        told = set(document_steps)
        unknown = told - set(self.steps)
        if unknown:
            raise CautionDataError(f"there is no step {', '.join(sorted(unknown))} to place a caution at")
        return replace(self, steps=tuple(step for step in self.steps if step in told))

    def at_step(self, step: str) -> tuple[PlacedCaution, ...]:
        """The cautions beside one step, gravest first, those covered by another at this step left to it."""
        return _covered(
            PlacedCaution(standing.caution, CautionPlace("step", step), met, reminds=place > 0)
            for standing in self._standing
            for place, (at, met) in enumerate(self._told(standing))
            if at == step
        )

    @property
    def on_sheet(self) -> tuple[PlacedCaution, ...]:
        """The cautions that every sheet carries, gravest first."""
        return _covered(
            PlacedCaution(standing.caution, SHEET, standing.on_sheet)
            for standing in self._standing
            if standing.on_sheet is not None
        )

    @property
    def full_words(self) -> tuple[PlacedCaution, ...]:
        """Every caution that stands in this document, covered ones too, to print its full words once."""
        found = []
        for standing in self._standing:
            told = self._told(standing)
            if told or standing.on_sheet is not None:
                met = [*(word for _, words in told for word in words), *(standing.on_sheet or ())]
                found.append(PlacedCaution(standing.caution, LESSON, tuple(dict.fromkeys(met))))
        return tuple(found)

    def mandatory_for(self, document_steps: Iterable[str]) -> tuple[PlacedCaution, ...]:
        """Every mandatory caution at every place of a document that tells these steps, the sheet's last."""
        document = self.for_steps(document_steps)
        beside = [placed for step in document.steps for placed in document.at_step(step)]
        return tuple(placed for placed in (*beside, *document.on_sheet) if placed.mandatory)

    def lines_at_step(self, step: str) -> ShortLines:
        """The short lines of one step; no word limit, since all of them belong to the work in hand."""
        return short_lines(self.at_step(step), at_most=None)

    def lines_on_sheet(self) -> ShortLines:
        """The short lines that every sheet carries, merged, within the word limit."""
        return short_lines(self.on_sheet)

    def _told(self, standing: _Standing) -> tuple[tuple[str, _Met], ...]:
        """The steps of this document at which a caution stands."""
        told = tuple((step, met) for step, met in standing.at_steps if step in self.steps)
        return {"each": told, "first": told[:1], "last": told[-1:]}[standing.caution.where]


def cautions_that_apply(sheet: SheetFacts, steps: Sequence[StepFacts]) -> Cautioned:
    """Every caution that these facts raise, at its places.

    A caution of the sheet is raised by the sheet's facts, and may stand beside some kinds of step as well.
    One of the steps stands at each step that raises it; if it names kinds of step (``beside``), at those of
    these kinds. If none is, it is never lost: raised by the sheet's facts alone it goes to the sheet,
    otherwise to every step that raises it. Raises CautionDataError where two steps have one id.
    """
    ids = [step.step for step in steps]
    for step_id in ids:
        if ids.count(step_id) > 1:
            raise CautionDataError(f"two steps are called {step_id}, so no caution can be placed at either")
    by_severity = sorted(caution_book().cautions, key=lambda one: one.order)
    found = [_standing_of(caution, sheet, steps) for caution in by_severity]
    standing = [one for one in found if one is not None]
    return Cautioned(
        steps=tuple(ids),
        rules=tuple(one.caution for one in standing if not one.caution.printed),
        _standing=tuple(one for one in standing if one.caution.printed),
    )


def _without(scope: str) -> dict[str, FactValue]:
    return {name: NOT_APPLICABLE for name, fact in facts_of_cautions().by_name.items() if fact.scope == scope}


def _standing_of(caution: Caution, sheet: SheetFacts, steps: Sequence[StepFacts]) -> _Standing | None:
    of_sheet = facts_by_name(sheet)
    by_sheet_alone = caution.condition.met_by({**_without("step"), **of_sheet})
    if caution.at == "sheet":
        if by_sheet_alone is None:
            return None
        also = tuple((step.step, by_sheet_alone) for step in steps if step.is_of(caution.beside))
        return _Standing(caution, also, by_sheet_alone)
    raised: list[tuple[StepFacts, _Met]] = []
    belongs: dict[str, _Met] = {}
    for step in steps:
        of_step = facts_by_name(step)
        met = caution.condition.met_by({**of_sheet, **of_step})
        if met is None:
            continue
        raised.append((step, met))
        by_step_alone = caution.condition.met_by({**_without("sheet"), **of_step})
        if not caution.beside or step.is_of(caution.beside):
            belongs[step.step] = met
        elif caution.wherever_its_own and by_step_alone is not None:
            belongs[step.step] = by_step_alone
    at_its_kinds = any(not caution.beside or step.is_of(caution.beside) for step, _ in raised)
    if at_its_kinds or (belongs and by_sheet_alone is None):
        return _Standing(caution, tuple(belongs.items()), None)
    if by_sheet_alone is not None:
        return _Standing(caution, tuple(belongs.items()), by_sheet_alone)
    if raised:
        return _Standing(caution, tuple((step.step, met) for step, met in raised), None)
    return None


def _covered(placed: Iterable[PlacedCaution]) -> tuple[PlacedCaution, ...]:
    """The cautions of one place, where the short form of one may stand in for that of another."""
    here = list(placed)
    ids = {one.id for one in here}
    said_by_another = {cover.id for one in here for cover in one.caution.covers if cover.id in ids}
    covered_by = {
        cover.id: one.id
        for one in here
        if one.id not in said_by_another
        for cover in one.caution.covers
        if cover.id in ids
    }
    return tuple(
        replace(one, covered=tuple(id_ for id_, by in covered_by.items() if by == one.id))
        for one in here
        if one.id not in covered_by
    )


def short_lines(placed: Sequence[PlacedCaution], at_most: int | None = SHEET_WORDS_AT_MOST) -> ShortLines:
    """The lines to print for the cautions of one place, merged where the data says that they say the same.

    If they are longer than ``at_most`` words together, advice is left out, the least grave first and of these
    the last in the file, until they fit. What is mandatory is never left out, even where it alone is longer:
    an unusual lesson (a school that brews with iodine, a drink of unknown strength) then has more lines,
    because sixty words are a rule for being read and a missing danger cannot be read at all. What was left
    out still stands in full on the handout.
    """
    kept = list(placed)
    left_out: list[str] = []
    while True:
        lines = _lines(kept)
        advice = [one for one in kept if not one.mandatory]
        if at_most is None or not advice or sum(words_in(line.words) for line in lines) <= at_most:
            return ShortLines(tuple(lines), tuple(left_out))
        least = max(advice, key=lambda one: one.caution.order)
        kept.remove(least)
        left_out.append(least.id)


def _lines(placed: Sequence[PlacedCaution]) -> list[ShortLine]:
    ids = tuple(one.id for one in placed if one.place == SHEET)
    merged = {
        id_: line
        for line in caution_book().merged_lines
        if sum(part in ids for part in line.parts) > 1
        for id_ in line.parts
        if id_ in ids
    }
    lines: list[ShortLine] = []
    said: set[str] = set()
    for one in placed:
        if one.id in said:
            continue
        if one.place == SHEET and one.id in merged:
            line = merged[one.id]
            together = [other for other in placed if other.id in line.parts]
            words = line.words_for(ids)
        else:
            together, words = [one], one.short
        said.update(other.id for other in together)
        lines.append(
            ShortLine(
                words=words,
                stands_for=tuple(id_ for other in together for id_ in other.stands_for),
                severity=max((other.severity for other in together), key=SEVERITIES.index),
                mandatory=any(other.mandatory for other in together),
            )
        )
    return lines
