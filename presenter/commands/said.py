"""``presenter said``: are the numbers said in a script or in captions right, and was anything left unsaid?"""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from presenter.commands.app import app, lesson_path, progress_teller, worked_lesson

if TYPE_CHECKING:
    from presenter.cautions import Cautioned
    from presenter.speech.lesson_view import Disclosure
    from presenter.speech.telling import SaidReport
    from presenter.working import WorkedLesson

__all__ = ["said"]


@app.command(short_help="Check the numbers said in a talk against a lesson.")
def said(
    paths: Annotated[
        list[Path],
        typer.Argument(
            metavar="[LESSON] TALK",
            help="A lesson (it may be left out), and the talk: .vtt, .srt, .txt or .md.",
            show_default=False,
        ),
    ],
    heard: Annotated[bool, typer.Option("--heard", help="Only list the quantities that were heard.")] = False,
    as_json: Annotated[bool, typer.Option("--json", help="Print the findings as JSON, for machines.")] = False,
    corrections: Annotated[
        Path | None,
        typer.Option(
            "--corrections",
            metavar="FILE",
            help="Write corrective captions (.vtt, .srt), or a text for the description (.txt, .md).",
        ),
    ] = None,
    sheet: Annotated[
        Path | None, typer.Option("--sheet", metavar="FILE", help="Print the findings as a PDF for the edit desk.")
    ] = None,
) -> None:
    """Check the numbers said in a script or in captions against a lesson, or against one another."""
    if len(paths) > 2:
        raise typer.BadParameter("give a lesson and a talk, or a talk alone", param_hint="[LESSON] TALK")
    lesson, talk = (paths[0] if len(paths) == 2 else None), paths[-1]
    _refuse_misuse(lesson, talk, corrections, sheet, heard)
    say = progress_teller()
    worked = cautioned = None
    duties: list[Disclosure] = []
    own_words: list[str] = []
    own_figures: list[tuple[str, str]] = []
    if lesson is not None:
        from presenter.cautions import cautions_of

        say("Working out the numbers")
        worked = worked_lesson(lesson)
        cautioned = cautions_of(worked)
        duties = _duties(cautioned)
        own_words = _own_words(worked, cautioned)
        own_figures = _own_figures(worked)
    say("Listening to the talk")
    if heard:
        from presenter.speech.telling import heard_records

        _tell_heard(heard_records(lesson_path(talk)), as_json)
        return
    from presenter.speech.telling import said_report

    report = said_report(worked, lesson_path(talk), duties, own_words, own_figures)
    if corrections is not None:
        _write_corrections(report, talk, corrections)
    if as_json:
        typer.echo(json.dumps(report.records, ensure_ascii=False, indent=1))
    else:
        typer.echo("\n".join(report.lines))
    if sheet is not None and worked is not None and cautioned is not None:
        _print_sheet(worked, cautioned, report, talk, sheet)
    if report.wrong:
        raise typer.Exit(1)


def _refuse_misuse(lesson: Path | None, talk: Path, corrections: Path | None, sheet: Path | None, heard: bool) -> None:
    from presenter.speech.corrections import KINDS

    if talk.is_dir():
        raise typer.BadParameter(f"{talk} is a folder; name the talk's own file after the lesson", param_hint="TALK")
    if heard and (corrections is not None or sheet is not None):
        raise typer.BadParameter("only lists; leave out --corrections and --sheet", param_hint="--heard")
    if corrections is not None and corrections.suffix.lower() not in KINDS:
        raise typer.BadParameter(f"the file should end in {', '.join(KINDS)}", param_hint="--corrections")
    if corrections is not None and corrections.exists() and talk.exists() and corrections.samefile(talk):
        raise typer.BadParameter("that is the talk itself; name another file", param_hint="--corrections")
    if sheet is not None and sheet.suffix.lower() != ".pdf":
        raise typer.BadParameter("the file should end in .pdf", param_hint="--sheet")
    if sheet is not None and lesson is None:
        raise typer.BadParameter("a sheet is printed for a lesson; name the lesson too", param_hint="--sheet")


def _duties(cautioned: Cautioned) -> list[Disclosure]:
    """Every mandatory caution of the lesson once, as something that the talk must say."""
    from presenter.speech.lesson_view import Disclosure

    found: dict[str, Disclosure] = {}
    for placed in cautioned.mandatory_for(cautioned.steps):
        found.setdefault(
            placed.id,
            Disclosure(
                placed.id, "caution", f"gives the caution {placed.id}", (), (placed.short, placed.say), placed.short
            ),
        )
    return list(found.values())


def _own_figures(worked: WorkedLesson) -> list[tuple[str, str]]:
    """The lines of the lesson that hold worked numbers, each with a number as it is said in it."""
    from presenter.lesson import slug
    from presenter.quantities import said_aloud
    from presenter.working.saying import figures_said

    found = figures_said(worked.lesson, worked.numbers)
    for name, use in worked.lesson.file.ingredients.items():
        number = worked.numbers.get(f"lesson.{slug(str(name))}")
        said = number.say() if number is not None else said_aloud(use.amount.quantity)
        found.append((f"{said} of {use.what}", said))
    return found


def _own_words(worked: WorkedLesson, cautioned: Cautioned) -> list[str]:
    """The cautions and departures of the lesson, as sheets print them: read out, they are no finding."""
    departures = [step.departure for step in worked.lesson.steps if step.departure is not None]
    told = [str(words) for each in departures for words in (each.record, each.today, each.because)]
    lines = [*cautioned.lines_on_sheet().lines]
    for step in cautioned.steps:
        lines += cautioned.lines_at_step(step).lines
    return (
        told
        + [line.words for line in lines]
        + [words for each in cautioned.full_words for words in (each.short, each.say)]
    )


def _tell_heard(records: list[dict[str, Any]], as_json: bool) -> None:
    if as_json:
        typer.echo(json.dumps(records, ensure_ascii=False, indent=1))
        return
    for record in records:
        worth = f"{record['value']:g}" if "value" in record else f"{record['low']:g} to {record['high']:g}"
        typer.echo(f"{record['time']:>12}  {worth} {record['unit']}: “{record['text']}”")
    if not records:
        typer.echo("No quantity was heard.")


def _write_corrections(report: SaidReport, talk: Path, target: Path) -> None:
    from presenter.speech.corrections import corrected_captions, corrected_description

    kind = target.suffix.lower()
    if kind in {".vtt", ".srt"} and not report.timed:
        raise typer.BadParameter(
            f"{talk.name} is a script, which has no times for captions; write a .txt or .md", param_hint="--corrections"
        )
    text = (
        corrected_captions(report.records, kind) if kind in {".vtt", ".srt"} else corrected_description(report.records)
    )
    beside = target.with_name(f".{target.name}.part")
    try:
        beside.write_text(text, encoding="utf-8")
        os.replace(beside, target)
    except OSError as error:
        typer.echo(
            f"The corrections cannot be written to {target}: {(error.strerror or str(error)).lower()}.", err=True
        )
        raise typer.Exit(1) from None
    typer.echo(f"Corrections written to {target}.", err=True)


def _print_sheet(worked: WorkedLesson, cautioned: Cautioned, report: SaidReport, talk: Path, target: Path) -> None:
    from presenter.documents.talk_sheet import talk_sheet
    from presenter.printing import missing_letters
    from presenter.releasing import release

    unknown = missing_letters("".join(str(value) for record in report.records for value in record.values()))
    table = {ord(letter): "?" for letter in unknown}
    records = [{key: str(value).translate(table) for key, value in record.items()} for record in report.records]
    document = talk_sheet(worked, cautioned, records, talk.name, target.stem)
    try:
        (released,) = release([document], cautioned, target.parent)
    except OSError as error:
        typer.echo(f"The sheet cannot be written to {target}: {(error.strerror or str(error)).lower()}.", err=True)
        raise typer.Exit(1) from None
    typer.echo(f"Sheet written to {released.path}.", err=True)
