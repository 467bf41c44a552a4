"""``presenter days``: the days kept of a lesson, and what they suggest for the house."""

from __future__ import annotations

import typer

from presenter.commands.app import LessonPath, app, lesson_path

__all__ = ["days"]


@app.command(short_help="List a lesson's days and what they suggest.")
def days(lesson: LessonPath) -> None:
    """List the days kept of a lesson, and the house values that they suggest."""
    from presenter.days import work_day
    from presenter.days.learning import learnt_from, measured_on, suggestion_lines
    from presenter.lesson import load_lesson
    from presenter.lesson.day import load_day

    checked = load_lesson(lesson_path(lesson))
    kept = sorted((checked.folder / "days").glob("*.yaml"))
    if not kept:
        typer.echo(f"No day of {checked.file.title} is kept yet; a day is a file in {checked.folder / 'days'}.")
        return
    worked = [work_day(checked, load_day(path, checked), spreads=False) for path in kept]
    for day in worked:
        read, measured = len(day.day.file.readings), len(measured_on(day))
        who = ", ".join(str(name) for name in day.day.file.who)
        typer.echo(
            f"{day.day.path.stem}: {read} readings, {len(day.day.file.changes)} changes, {measured} measured"
            f"{f'; {who}' if who else ''}"
        )
    learnt = learnt_from(worked, checked.house)
    if not learnt:
        typer.echo("\nNothing was measured that a house value could rest on.")
        return
    typer.echo("\nWhat they suggest, for library.yaml (take it only if you agree):")
    for line in suggestion_lines(learnt):
        typer.echo(line)
