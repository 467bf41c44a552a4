"""The application that every command joins, and what the commands share.

In: the words typed. Out: a lesson, worked; or the Problems that stopped it.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from presenter.problems import ProblemsFoundError

if TYPE_CHECKING:
    from presenter.days import WorkedDay
    from presenter.working import WorkedLesson

__all__ = [
    "LessonPath",
    "app",
    "lesson_path",
    "progress_teller",
    "refuse_unprintable_letters",
    "told_in_full",
    "worked_day",
    "worked_lesson",
]

app = typer.Typer(
    name="presenter",
    help="Turn a lesson file into worked brewing numbers and printed sheets.",
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)


def _tell_version(wanted: bool) -> None:
    if wanted:
        from importlib.metadata import version

        typer.echo(f"presenter {version('historical-brewing-presenter')}")
        raise typer.Exit


@app.callback()
def _presenter(
    version: Annotated[
        bool, typer.Option("--version", callback=_tell_version, is_eager=True, help="Tell the version, and stop.")
    ] = False,
) -> None:
    """Turn a lesson file into worked brewing numbers and printed sheets."""


LessonPath = Annotated[
    Path, typer.Argument(metavar="LESSON", help="A lesson's folder, or its YAML file.", show_default=False)
]


def lesson_path(given: Path) -> Path:
    """The path as given; or, where there is none, the demo lesson of that name that comes with the package."""
    if given.exists() or not given.parts or given.parts[0] != "lessons_demo":
        return given
    from presenter.lesson import demo_folder

    return demo_folder("lessons_demo").joinpath(*given.parts[1:])


def worked_lesson(path: Path) -> WorkedLesson:
    from presenter.lesson import load_lesson
    from presenter.working import work_out

    return work_out(load_lesson(lesson_path(path)))


def worked_day(path: Path, day: str) -> WorkedDay:
    """A day of the lesson at ``path``: a file, or the name of one in its folder ``days``."""
    from presenter.days import work_day
    from presenter.lesson import load_lesson
    from presenter.lesson.day import load_day

    lesson = load_lesson(lesson_path(path))
    return work_day(lesson, load_day(lesson_path(Path(day)) if day.endswith(".yaml") else day, lesson))


def refuse_unprintable_letters(worked: WorkedLesson) -> None:
    """Raise ProblemsFoundError at each line of the lesson that no sheet could print."""

    from presenter.releasing import problems_of_letters

    problems = problems_of_letters(worked.lesson.text, str(worked.lesson.path))
    if problems:
        raise ProblemsFoundError(tuple(problems))


def told_in_full(error: ProblemsFoundError) -> str:
    """Every problem, and how many there are."""
    count = len(error.problems)
    return f"{error.told()}\n\n{count} problem{'s' if count != 1 else ''} found."


def progress_teller() -> Any:
    """A way to say what is being done: on a terminal only, beside the results."""
    if not sys.stderr.isatty():
        return lambda _: None
    return lambda words: typer.echo(f"{words} …", err=True)
