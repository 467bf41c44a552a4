"""How the command line tells numbers: as a table, as records for machines, and as a walk back to what was stated.

In: a worked lesson. Out: lines of text and plain records.
"""

from __future__ import annotations

from typing import Any

from presenter.quantities import Withheld, WorkedNumber
from presenter.working import WorkedLesson

__all__ = ["number_record", "number_table", "why_lines", "withheld_record"]


def _plain(text: str) -> str:
    return text.replace("\u00a0", " ")


def number_record(number: WorkedNumber) -> dict[str, Any]:
    """One number as a record for machines: value and give-or-take in ``unit``, unrounded."""
    return {
        "id": number.id,
        "step": number.step,
        "label": number.label,
        "value": float(number.quantity.magnitude),
        "unit": str(number.quantity.units),
        "give_or_take": None if number.spread is None else float(number.spread.magnitude),
        "largest": None if number.give_or_take is None else number.give_or_take.largest,
        "formula": number.formula,
        "inputs": dict(number.inputs),
        "sources": list(number.sources),
        "rests_on": _rests_on(number),
        "say": number.say(),
        "words": _plain(number.words()),
        "remark": number.remark,
    }


def _rests_on(number: WorkedNumber) -> str:
    if number.rests_on:
        return number.rests_on
    if number.origin is not None:
        return number.origin.evidence
    return "" if number.sources else "worked from the numbers named under inputs"


def withheld_record(kept: Withheld) -> dict[str, Any]:
    """A number that is not given, as a record for machines: its reason stands for its value."""
    return {"id": kept.id, "step": kept.step, "label": kept.label, "value": None, "withheld": kept.reason}


def number_table(worked: WorkedLesson, measures: str) -> None:
    """Print the numbers of every step as a table, on a terminal of any width."""
    from rich.console import Console
    from rich.table import Table

    console = Console(highlight=False, soft_wrap=False)
    if not console.is_terminal:
        console.width = 140
    titles = {"lesson": "For the whole lesson"} | {
        step.id: f"{i}. {step.name}" for i, step in enumerate(worked.lesson.steps, 1)
    }
    for step_id, title in titles.items():
        found = worked.of_step(step_id)
        if not found:
            continue
        table = Table(
            title=title, title_justify="left", title_style="bold", box=None, padding=(0, 2, 0, 0), expand=False
        )
        table.add_column("number", overflow="fold")
        table.add_column("worth", justify="right", no_wrap=True)
        table.add_column("give or take", no_wrap=True)
        table.add_column("its id", overflow="fold")
        for number in found:
            table.add_row(number.label, number.words(measures), number.spread_words(measures), number.id)
        console.print(table)
        for kept in worked.withheld:
            if kept.step == step_id:
                console.print(f"Not given: {kept.label} ({kept.id}). {kept.reason}", markup=False)
        console.print()
    console.print(
        "Give or take: uncertainty, about 95 %. For the grounds of any number: presenter numbers LESSON --why ID"
    )


def why_lines(worked: WorkedLesson, number_id: str, measures: str = "metric") -> list[str]:
    """Walk back from a number to what the author stated and the evidence for it."""
    lines: list[str] = []
    seen: set[str] = set()
    _why(worked, number_id, measures, 0, lines, seen)
    return [_plain(line) for line in lines]


def _why(worked: WorkedLesson, number_id: str, measures: str, depth: int, lines: list[str], seen: set[str]) -> None:
    from presenter.science.formula_index import every_formula

    number = worked.numbers[number_id]
    pad = "  " * depth
    spread = f" {number.spread_words(measures)}" if number.spread is not None else ""
    head = f"{pad}{number.label}: {number.words(measures)}{spread}  [{number.id}]"
    told = f"{worked.lesson.name}/{number_id}"
    if told in seen:
        lines.append(f"{head}  (told above)")
        return
    seen.add(told)
    lines.append(head)
    inner = f"{pad}    "
    if number.origin is not None and number.origin.kind == "made":
        origin = number.origin
        lines.append(f"{inner}made in {origin.lesson}, named at {origin.place}; in that lesson it is:")
        _why(worked.others[origin.lesson], origin.number, measures, depth + 1, lines, seen)
    elif number.origin is not None:
        origin = number.origin
        where = f" at {origin.place}" if origin.place is not None else ""
        who = {
            "lesson": "you wrote",
            "library": "your library says",
            "package": "the toolkit takes",
            "reading": "you read",
        }.get(origin.kind, "")
        written = f" “{origin.written}”" if origin.written else ""
        lines.append(f"{inner}{who}{written}{where}; it rests on: {_evidence(worked, origin.evidence)}")
    if number.formula:
        formula = every_formula()[number.formula]
        lines.append(f"{inner}by: {formula.title} ({number.formula})")
    for key in number.sources:
        if key in worked.lesson.bibliography:
            lines.append(f"{inner}source: {worked.lesson.bibliography[key].citation()}")
    if number.origin is None and number.rests_on:
        lines.append(f"{inner}rests on: {number.rests_on}")
    if number.remark:
        lines.append(f"{inner}note: {number.remark}")
    if depth == 0 and number.give_or_take is not None:
        shares = ", ".join(f"{name} ({share:.0%})" for name, share in number.give_or_take.shares[:4])
        lines.append(f"{inner}what may be off, and its share: {shares}")
    for _, source_id in number.inputs:
        _why(worked, source_id, measures, depth + 1, lines, seen)


def _evidence(worked: WorkedLesson, written: str) -> str:
    note = worked.lesson.notes.get(written)
    if note is not None:
        cites = "; ".join(worked.lesson.bibliography[key].citation(locator) for key, locator in note.cites)
        return f"the note {note.id}, “{note.title}” ({note.kind_of_evidence}): {cites}"
    if written in worked.lesson.bibliography:
        return worked.lesson.bibliography[written].citation()
    return written
