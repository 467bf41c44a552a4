"""``presenter now``: how the day stands against the plan, what is likely behind a miss, and what can be done.

With ``--add`` it first puts a reading into the day's file, as a line of text, and nothing else in the file changes.
"""

from __future__ import annotations

import datetime
from pathlib import Path
from typing import Annotated

import typer

from presenter.commands.app import LessonPath, app, lesson_path

__all__ = ["now"]


@app.command(short_help="Tell what the latest reading means, and what can be done.")
def now(
    lesson: LessonPath,
    day: Annotated[
        str,
        typer.Argument(
            metavar="DAY",
            help="A day's file, its name among the lesson's days, or with --add a new date, or today.",
            show_default=False,
        ),
    ],
    add: Annotated[
        str, typer.Option("--add", metavar="READING", help='For instance "first mash: gravity 1.058, sample 24 degC".')
    ] = "",
    calendar: Annotated[
        Path | None, typer.Option("--calendar", metavar="FILE", help="Write the days to come for a diary (.ics).")
    ] = None,
    measures: Annotated[str, typer.Option("--measures", help="metric, us or imperial.")] = "metric",
) -> None:
    """Tell what the latest reading means and what can be done now; --add puts a reading into the day's file."""
    from presenter.days.inserting import add_reading, begin_day
    from presenter.lesson import load_lesson
    from presenter.lesson.day import load_day
    from presenter.quantities.wording import MEASURES

    if measures not in MEASURES:
        raise typer.BadParameter(f"there is no {measures}; there are {', '.join(MEASURES)}.", param_hint="--measures")
    checked = load_lesson(lesson_path(lesson))
    if day.casefold() == "today":
        day = datetime.date.today().isoformat()
    path = lesson_path(Path(day)) if day.endswith(".yaml") else day
    begun = begin_day(day, add, checked) if add and not Path(path).is_file() else None
    kept = load_day(begun or path, checked)
    if begun is not None:
        typer.echo(f"Begun: {begun.name}, with its first reading")
    elif add:
        typer.echo(f"Added to {kept.path.name}: {add_reading(kept.path, add, checked)}")
        kept = load_day(kept.path, checked)
    from presenter.days import work_day
    from presenter.days.told import now_lines

    worked = work_day(checked, kept)
    typer.echo("\n".join(now_lines(worked, measures)))
    if calendar is not None:
        from presenter.days.calendar import calendar_text, days_to_come
        from presenter.days.inserting import replace_file

        replace_file(calendar, calendar_text(worked).encode("utf-8"))
        typer.echo(f"\nThe {len(days_to_come(worked))} days to come are in {calendar}.")
