"""The numbers sheet: every number that sheets may show, with how sure it is, how it is said and what it rests on.

In: the view of a sheet. Out: :class:`NumbersOf` for the lesson and for each step, whose rows are words already.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from presenter.documents.number_blocks import capital, label_words
from presenter.documents.page_text import escaped
from presenter.documents.rendering import PageText
from presenter.documents.sheet_view import SheetView
from presenter.quantities import Withheld, WorkedNumber
from presenter.working.mash_courses import TEACHING

__all__ = ["NumbersOf", "missed_by_models", "numbers_list"]

_LONG = 60  # letters: a longer line of inputs is printed once in a table, and then named by the row that has it
_BY_WHOM = {"lesson": "stated by the author"}
_SAYS_SO = (
    "our choice",
    "the author's own figure",
    "the author's own figure for this vessel",
)
_HEAD = ("Number", "Value", "Uncertainty", "Said aloud", "Formula, inputs, origin")


@dataclass(frozen=True)
class NumbersOf:
    """The numbers of one step, or of the whole lesson, as a table of page text."""

    heading: PageText
    table: PageText


def numbers_list(view: SheetView) -> list[NumbersOf]:
    """The numbers of the lesson, then those of each step in order."""
    groups: list[tuple[PageText, str]] = [(PageText("## The whole lesson {#numbers-of-the-lesson}"), "lesson")]
    groups += [
        (PageText(f"## ({step.number}) {escaped(step.name)} {{#numbers-{step.id}}}"), step.id) for step in view.steps
    ]
    found = []
    for heading, step_id in groups:
        numbers = [each for each in view.worked.of_step(step_id) if not each.id.endswith(".measured-at")]
        withheld = [each for each in view.worked.withheld if each.step == step_id]
        if numbers or withheld:
            found.append(NumbersOf(heading, _table(view, numbers, withheld)))
    return found


def _table(view: SheetView, numbers: Sequence[WorkedNumber], withheld: Sequence[Withheld]) -> PageText:
    lines = ["| " + " | ".join(_HEAD) + " |", "| --- | --- | --- | --- | --- |"]
    first_with: dict[str, str] = {}
    for number in numbers:
        label = label_words(number, view.measures)
        given, others = _rests_on(view, number)
        if TEACHING in given:
            label = label.removesuffix(f" ({TEACHING})")
        if len(given) > _LONG:
            earlier = first_with.setdefault(given, label)
            given = given if earlier == label else f"as for “{earlier}”"
        cells = (
            label,
            number.words(view.measures),
            number.spread_words(view.measures) or "none stated",
            number.say(view.measures),
            given + others,
        )
        lines.append("| " + " | ".join(escaped(cell) for cell in cells) + " |")
    for each in withheld:
        cells = (capital(each.label), "not given", "", "", each.reason)
        lines.append("| " + " | ".join(escaped(cell) for cell in cells) + " |")
    return PageText('```table widths="2.6 1.3 1.4 1.8 5.4" row-heads=yes\n' + "\n".join(lines) + "\n```\n")


def _rests_on(view: SheetView, number: WorkedNumber) -> tuple[str, str]:
    """The formula and its inputs with their values, or who stated the number, and what it rests on; then its sources.

    Where nothing but a model stands behind a number, the model's name leads.
    """
    parts: list[str] = []
    rests = degree_signs(number.rests_on)
    if number.formula or number.inputs:
        name = _formula_in_words(number.formula) or rests
        given = [
            f"{source.label.removesuffix(f' ({TEACHING})')} {source.words(view.measures)}"
            for _, id_ in number.inputs
            if (source := view.worked.numbers.get(id_)) is not None
        ]
        parts.append(f"{name}: {', '.join(given)}" if given else name)
        if rests and rests != name:
            parts.append(rests)
    else:
        if number.origin is not None and number.origin.kind != "made":  # which says all under rests_on
            parts.append(_BY_WHOM.get(number.origin.kind, f"from the {number.origin.kind}"))
            if number.origin.evidence and number.origin.evidence not in rests:
                parts.append(view.evidence(number.origin.evidence))
        if rests:
            parts.append(view.evidence(rests))
    cites = " ".join(view.citations.mark(key) for key in number.sources if key in view.worked.lesson.bibliography)
    told = "; ".join(dict.fromkeys(parts))
    told = told.removeprefix(f"{_BY_WHOM['lesson']}; ") if told.endswith(_SAYS_SO) else told
    return told, f" {cites}" if cites else ""


def _formula_in_words(name: str) -> str:
    """A formula's name as words, the names of persons in it with their capitals."""
    words = name.replace("_", " ")
    for person in ("Balling", "Plato"):
        words = words.replace(person.lower(), person)
    return words


def degree_signs(text: str) -> str:
    """The sign for degrees where a source's remark has the word that a lesson's file takes."""
    return text.replace(" degC", "\u00a0°C")


def missed_by_models(view: SheetView) -> list[str]:
    """Where a teaching model misses published figures, each miss once, as the model itself records it."""
    found: dict[str, None] = {}
    for number in view.worked.numbers.values():
        if "; it misses: " in number.remark:
            for miss in number.remark.split("; it misses: ", 1)[1].split("; "):
                found[capital(degree_signs(miss))] = None
    return list(found)
