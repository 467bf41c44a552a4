"""The command line: parse, call, print.

Exit codes: 0 fine, 1 problems found, 2 command misused; anything else is our own mistake. Stages are imported inside
the command that needs them, so that ``--help`` answers at once.
"""

from __future__ import annotations

import json
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from presenter.problems import ProblemsFoundError

if TYPE_CHECKING:
    from presenter.quantities import WorkedNumber
    from presenter.working import WorkedLesson

__all__ = ["app", "main"]

app = typer.Typer(
    name="presenter",
    help="Turn a lesson file into worked brewing numbers and printed sheets.",
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)

LessonPath = Annotated[
    Path, typer.Argument(metavar="LESSON", help="A lesson's folder, or its YAML file.", show_default=False)
]


def _lesson_path(given: Path) -> Path:
    """The path as given; or, where there is none, the demo lesson of that name that comes with the package."""
    if given.exists() or not given.parts or given.parts[0] != "lessons_demo":
        return given
    from presenter.lesson import demo_folder

    return demo_folder("lessons_demo").joinpath(*given.parts[1:])


def _worked(path: Path) -> WorkedLesson:
    from presenter.lesson import load_lesson
    from presenter.working import work_out

    return work_out(load_lesson(_lesson_path(path)))


@app.command()
def check(lesson: LessonPath) -> None:
    """Read a lesson, walk its steps, and print every problem at once."""
    worked = _worked(lesson)
    _letters(worked)
    shown = sum(number.on_sheets for number in worked.numbers.values())
    typer.echo(f"{worked.lesson.file.title}: {len(worked.lesson.steps)} steps, {shown} numbers, no problems.")
    for line in _comparisons(worked):
        typer.echo(line)


def _letters(worked: WorkedLesson) -> None:
    """Raise ProblemsFoundError at each line of the lesson that no sheet could print."""
    from presenter.releasing import problems_of_letters

    problems = problems_of_letters(worked.lesson.text, str(worked.lesson.path))
    if problems:
        raise ProblemsFoundError(tuple(problems))


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


@app.command()
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
) -> None:
    """Print a lesson's numbers: each with its uncertainty, its formula and what it rests on."""
    from presenter.quantities.wording import MEASURES
    from presenter.telling import formula_lines, number_record, number_table, why_lines

    if measures not in MEASURES:
        raise typer.BadParameter(f"there is no {measures}; there are {', '.join(MEASURES)}.", param_hint="--measures")
    if formulas:
        typer.echo("\n".join(formula_lines()))
        return
    if lesson is None:
        raise typer.BadParameter("name a lesson's folder or its file", param_hint="LESSON")
    worked = _worked(lesson)
    if why:
        typer.echo("\n".join(why_lines(worked, _known(worked, why).id, measures)))
    elif as_json:
        records = [number_record(number) for number in worked.numbers.values()]
        typer.echo(json.dumps(records, ensure_ascii=False, indent=1))
    else:
        number_table(worked, measures)


def _known(worked: WorkedLesson, number_id: str) -> WorkedNumber:
    from presenter.problems import nearest

    found = worked.numbers.get(number_id)
    if found is None:
        close = nearest(number_id, worked.numbers)
        hint = f" Did you mean {close}?" if close else ""
        raise typer.BadParameter(f"no number is called {number_id}.{hint}", param_hint="--why")
    return found


@app.command()
def build(
    lesson: LessonPath,
    only: Annotated[
        list[str] | None, typer.Option("--only", metavar="SHEET", help="Only this sheet; may be repeated.")
    ] = None,
    out: Annotated[
        Path | None, typer.Option("--out", metavar="DIR", help="Where the sheets go; sheets/LESSON if not said.")
    ] = None,
    paper: Annotated[str, typer.Option("--paper", help="A4 or Letter.")] = "A4",
    measures: Annotated[str, typer.Option("--measures", help="metric, us or imperial.")] = "metric",
    print_size: Annotated[str, typer.Option("--print", help="ordinary or large.")] = "ordinary",
) -> None:
    """Print a lesson's sheets as PDF, read each back, and release all of them or none."""
    from presenter.documents import DOCUMENTS, documents_for
    from presenter.problems import nearest
    from presenter.quantities.wording import MEASURES

    for option, given, known in (
        ("--paper", [paper], ("A4", "Letter")),
        ("--measures", [measures], tuple(MEASURES)),
        ("--print", [print_size], ("ordinary", "large")),
        ("--only", only or [], tuple(DOCUMENTS)),
    ):
        for word in given:
            if word not in known:
                close = nearest(word, known)
                hint = f" Did you mean {close}?" if close else ""
                raise typer.BadParameter(f"there is no {word}; there are {', '.join(known)}.{hint}", param_hint=option)
    from presenter.cautions import cautions_of
    from presenter.releasing import release

    say = _progress()
    say("Working out the numbers")
    worked = _worked(lesson)
    _letters(worked)
    cautioned = cautions_of(worked)
    folder = out or Path("sheets") / worked.lesson.name
    documents = documents_for(worked, cautioned, only or (), measures)
    try:
        released = release(
            documents,
            cautioned,
            folder,
            paper=paper,
            print_size=print_size,
            progress=lambda words: say(f"Printing: {words}"),
        )
    except OSError as error:
        why = "it is a file, not a folder" if folder.is_file() else (error.strerror or str(error)).lower()
        typer.echo(f"The sheets cannot be written to {folder}: {why}.", err=True)
        raise typer.Exit(1) from None
    for sheet in released:
        pages = "1 page" if sheet.pages == 1 else f"{sheet.pages} pages"
        typer.echo(f"{sheet.kind}: {sheet.path} ({pages}, {sheet.size / 1000:.0f} kB)")


def _progress() -> Any:
    """A way to say what is being done: on a terminal only, beside the results."""
    if not sys.stderr.isatty():
        return lambda _: None
    return lambda words: typer.echo(f"{words} …", err=True)


def main() -> None:
    """Run the command line; turn Problems into exit code 1, and stay quiet when a pipe is closed."""
    try:
        app(standalone_mode=True)
    except ProblemsFoundError as error:
        typer.echo(error.told(), err=True)
        count = len(error.problems)
        typer.echo(f"\n{count} problem{'s' if count != 1 else ''} found.", err=True)
        sys.exit(1)
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(0)
    except OSError as error:
        typer.echo(f"The results cannot be written: {(error.strerror or str(error)).lower()}.", err=True)
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(1)


if __name__ == "__main__":
    main()
