"""``presenter check``: read a lesson, walk it, and tell every problem."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from presenter.commands.app import LessonPath, app, lesson_path, refuse_unprintable_letters, told_in_full, worked_lesson
from presenter.problems import ProblemsFoundError

if TYPE_CHECKING:
    from presenter.working import WorkedLesson

__all__ = ["check"]


@app.command(short_help="Tell every problem of a lesson at once.")
def check(
    lesson: LessonPath,
    watch: Annotated[bool, typer.Option("--watch", help="Check again after each change, until stopped.")] = False,
) -> None:
    """Read a lesson, walk its steps, and print every problem at once."""
    if not watch:
        _check(lesson)
        return
    from presenter.commands.watching import changes_of

    for _ in changes_of(lesson_path(lesson)):
        typer.echo(f"{'-' * 60}")
        try:
            _check(lesson)
        except ProblemsFoundError as error:
            typer.echo(told_in_full(error))
        typer.echo("Watching; stop with Ctrl-C.")


def _check(lesson: Path) -> None:
    worked = worked_lesson(lesson)
    refuse_unprintable_letters(worked)
    late = _plan(worked)
    shown = sum(number.on_sheets for number in worked.numbers.values())
    typer.echo(f"{worked.lesson.file.title}: {len(worked.lesson.steps)} steps, {shown} numbers, no problems.")
    for line in (*_comparisons(worked), *late):
        typer.echo(line)


def _plan(worked: WorkedLesson) -> list[str]:
    """The rests that run over; ProblemsFoundError with every clash of the day and every unknown paper."""
    from presenter.documents import papers_of
    from presenter.documents.papers.clashes import clashes_of, late_rests
    from presenter.documents.papers.clock import day_plan

    papers_of(worked.lesson)
    plan = day_plan(worked)
    clashes = clashes_of(worked, plan)
    if clashes:
        raise ProblemsFoundError(tuple(clashes))
    return late_rests(plan) if plan.stated else []


def _comparisons(worked: WorkedLesson) -> list[str]:
    lines = []
    for compared in worked.comparisons:
        wanted, found = worked.numbers[compared.expected], worked.numbers[compared.worked]
        apart = abs(float((wanted.quantity - found.quantity).magnitude))
        spread = float(found.spread.magnitude) if found.spread is not None else 0.0
        verdict = "agrees with" if apart <= spread else "differs from"
        step = next(step for step in worked.lesson.steps if step.id == compared.step)
        lines.append(
            f"{step.name}: {found.label} {found.words()} {found.spread_words()} {verdict} your {wanted.words()}."
        )
    return lines
