"""``presenter numbers``: every number of a lesson, why it is what it is, and the index of formulas."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from presenter.commands.app import app, worked_day, worked_lesson

if TYPE_CHECKING:
    from presenter.quantities import WorkedNumber
    from presenter.working import WorkedLesson

__all__ = ["numbers"]


@app.command(short_help="Print a lesson's numbers, and why each is what it is.")
def numbers(
    lesson: Annotated[
        Path | None, typer.Argument(metavar="LESSON", help="A lesson's folder, or its YAML file.")
    ] = None,
    why: Annotated[
        str, typer.Option("--why", metavar="ID", help="Walk back from one number to your own figures.")
    ] = "",
    as_json: Annotated[bool, typer.Option("--json", help="Print every number as JSON, for machines.")] = False,
    formulas: Annotated[
        bool, typer.Option("--formulas", help="List every formula, and what it was checked against.")
    ] = False,
    measures: Annotated[str, typer.Option("--measures", help="metric, us or imperial.")] = "metric",
    as_made: Annotated[
        str, typer.Option("--as-made", metavar="DAY", help="Planned, made and read side by side, for this day.")
    ] = "",
) -> None:
    """Print a lesson's numbers: each with its uncertainty, its formula and what it rests on."""
    from presenter.commands.formula_words import formula_lines
    from presenter.commands.telling import number_record, number_table, why_lines, withheld_record
    from presenter.quantities.wording import MEASURES

    if measures not in MEASURES:
        raise typer.BadParameter(f"there is no {measures}; there are {', '.join(MEASURES)}.", param_hint="--measures")
    if formulas:
        typer.echo("\n".join(formula_lines()))
        return
    if lesson is None:
        raise typer.BadParameter("name a lesson's folder or its file", param_hint="LESSON")
    if as_made:
        _day(lesson, as_made, why, as_json, measures)
        return
    worked = worked_lesson(lesson)
    if why:
        typer.echo("\n".join(why_lines(worked, _known(worked, why).id, measures)))
    elif as_json:
        records = [number_record(number) for number in worked.numbers.values()]
        records += [withheld_record(kept) for kept in worked.withheld]
        typer.echo(json.dumps(records, ensure_ascii=False, indent=1))
    else:
        number_table(worked, measures)


def _day(lesson: Path, day: str, why: str, as_json: bool, measures: str) -> None:
    """The numbers of one day: planned, made and read."""
    from presenter.commands.telling import why_lines
    from presenter.commands.telling_days import day_records, day_table

    worked = worked_day(lesson, day)
    if why:
        typer.echo("\n".join(why_lines(worked.made, _known(worked.made, why).id, measures)))
    elif as_json:
        typer.echo(json.dumps(day_records(worked), ensure_ascii=False, indent=1))
    else:
        day_table(worked, measures)


def _known(worked: WorkedLesson, number_id: str) -> WorkedNumber:
    from presenter.problems import nearest

    found = worked.numbers.get(number_id)
    if found is None:
        close = nearest(number_id, worked.numbers)
        hint = f" Did you mean {close}?" if close else ""
        raise typer.BadParameter(f"no number is called {number_id}.{hint}", param_hint="--why")
    return found
