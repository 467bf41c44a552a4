"""``presenter check``: read a lesson, walk it, and tell every problem."""

from __future__ import annotations

from typing import TYPE_CHECKING

import typer

from presenter.commands.app import LessonPath, app, refuse_unprintable_letters, worked_lesson

if TYPE_CHECKING:
    from presenter.working import WorkedLesson

__all__ = ["check"]


@app.command()
def check(lesson: LessonPath) -> None:
    """Read a lesson, walk its steps, and print every problem at once."""
    worked = worked_lesson(lesson)
    refuse_unprintable_letters(worked)
    shown = sum(number.on_sheets for number in worked.numbers.values())
    typer.echo(f"{worked.lesson.file.title}: {len(worked.lesson.steps)} steps, {shown} numbers, no problems.")
    for line in _comparisons(worked):
        typer.echo(line)


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
