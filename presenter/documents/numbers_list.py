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

__all__ = ["NumbersOf", "missed_by_models", "numbers_list"]

_HEAD = ("Number", "Value", "Uncertainty", "Said aloud", "Formula, inputs, what it rests on")


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
    before = ""
    for number in numbers:
        rests = _rests_on(view, number)
        cells = (
            label_words(number, view.measures),
            number.words(view.measures),
            number.spread_words(view.measures) or "none stated",
            number.say(view.measures),
            "as the row above" if rests == before and len(rests) > 60 else rests,
        )
        before = rests
        lines.append("| " + " | ".join(escaped(cell) for cell in cells) + " |")
    for each in withheld:
        cells = (capital(each.label), "not given", "", "", each.reason)
        lines.append("| " + " | ".join(escaped(cell) for cell in cells) + " |")
    return PageText('```table widths="2.6 1.3 1.4 1.8 5.4" row-heads=yes\n' + "\n".join(lines) + "\n```\n")


def _rests_on(view: SheetView, number: WorkedNumber) -> str:
    """The formula and its inputs with their values, or who stated the number; then the sources."""
    parts: list[str] = []
    if number.formula or number.inputs:
        name = number.formula.replace("_", " ") or "the model named below"
        given = [
            f"{source.label} {source.words(view.measures)}"
            for _, id_ in number.inputs
            if (source := view.worked.numbers.get(id_)) is not None
        ]
        parts.append(f"{name}: {', '.join(given)}" if given else name)
    elif number.origin is not None:
        parts.append("stated by the author" if number.origin.kind == "lesson" else f"from the {number.origin.kind}")
        if number.origin.evidence and number.origin.evidence not in number.rests_on:
            parts.append(view.evidence(number.origin.evidence))
    if number.rests_on:
        parts.append(number.rests_on)
    cites = " ".join(view.citations.mark(key) for key in number.sources if key in view.worked.lesson.bibliography)
    return "; ".join(parts) + (f" {cites}" if cites else "")


def missed_by_models(view: SheetView) -> list[str]:
    """Where a teaching model misses published figures, each miss once, as the model itself records it."""
    found: dict[str, None] = {}
    for number in view.worked.numbers.values():
        if "; it misses: " in number.remark:
            for miss in number.remark.split("; it misses: ", 1)[1].split("; "):
                found[capital(miss)] = None
    return list(found)
