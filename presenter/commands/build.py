"""``presenter build``: print a lesson's sheets, read each back, and release all of them or none."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Annotated

import typer

from presenter.commands.app import (
    LessonPath,
    app,
    lesson_path,
    progress_teller,
    refuse_unprintable_letters,
    worked_day,
    worked_lesson,
)
from presenter.commands.build_library import build_library, is_library

__all__ = ["build"]


@app.command(short_help="Print the sheets of a lesson, or of a whole library.")
def build(
    lesson: LessonPath,
    only: Annotated[
        list[str] | None, typer.Option("--only", metavar="SHEET", help="Only this sheet; may be repeated.")
    ] = None,
    out: Annotated[
        Path | None, typer.Option("--out", metavar="DIR", help="Where the sheets go; sheets/LESSON if not said.")
    ] = None,
    paper: Annotated[
        str, typer.Option("--paper", help="A4 or Letter, A3 for a wall chart; the lesson's own if not said.")
    ] = "",
    measures: Annotated[
        str, typer.Option("--measures", help="metric, us or imperial; the lesson's own if not said.")
    ] = "",
    print_size: Annotated[str, typer.Option("--print", help="ordinary or large.")] = "ordinary",
    workers: Annotated[
        int, typer.Option("--workers", min=0, help="For a library: so many processes; one a core if not said.")
    ] = 0,
    anew: Annotated[bool, typer.Option("--anew", help="For a library: build what has not changed, too.")] = False,
    begins: Annotated[
        str,
        typer.Option(
            "--begins", metavar="TIME", help="When the day begins, such as 9:30; the lesson's own if not said."
        ),
    ] = "",
    as_made: Annotated[
        str, typer.Option("--as-made", metavar="DAY", help="Tell the lesson as it was made on this day.")
    ] = "",
    reader: Annotated[
        str, typer.Option("--reader", help="Whom notes are chosen for: younger, older, adult, all, or the audience.")
    ] = "the audience",
    versions: Annotated[
        int, typer.Option("--versions", min=1, max=26, help="So many different worksheets, each with its answers.")
    ] = 1,
    seed: Annotated[str, typer.Option("--seed", help="Draws the versions; the lesson's title if not said.")] = "",
) -> None:
    """Print a lesson's sheets as PDF, read each back, and release all of them or none.

    For a library, a folder of lessons: those that have changed, and a catalogue. One with problems stops no other.
    """
    from presenter.documents import DAY_DOCUMENTS, DOCUMENTS, Asked, documents_for
    from presenter.lesson import READERS
    from presenter.problems import nearest
    from presenter.quantities.wording import MEASURES

    for option, given, known in (
        ("--paper", [paper] if paper else [], ("A4", "Letter", "A3")),
        ("--measures", [measures] if measures else [], tuple(MEASURES)),
        ("--print", [print_size], ("ordinary", "large")),
        ("--reader", [reader], ("the audience", *READERS, "all")),
        ("--only", only or [], (*DOCUMENTS, *(DAY_DOCUMENTS if as_made else ()))),
    ):
        for word in given:
            if word not in known:
                close = nearest(word, known)
                hint = f" Did you mean {close}?" if close else ""
                raise typer.BadParameter(f"there is no {word}; there are {', '.join(known)}.{hint}", param_hint=option)
    chosen = tuple(only or ())
    if paper == "A3":
        chosen = chosen or tuple(name for name, kind in DOCUMENTS.items() if kind.by_default and paper in kind.papers)
        unfit = [name for name in chosen if paper not in {**DOCUMENTS, **DAY_DOCUMENTS}[name].papers]
        if unfit:
            raise typer.BadParameter(f"{', '.join(unfit)} cannot go on {paper}.", param_hint="--paper")
    if as_made and is_library(lesson_path(lesson)):
        raise typer.BadParameter(
            "a day belongs to one lesson; name the lesson, not the library", param_hint="--as-made"
        )
    asked = Asked(reader="" if reader == "the audience" else reader, versions=versions, seed=seed, begins=_hour(begins))
    if is_library(lesson_path(lesson)):
        from presenter.library.building import Wanted

        wanted = Wanted(chosen, paper, measures, print_size, asked)
        build_library(lesson_path(lesson), out or Path("sheets"), wanted, workers, anew)
        return
    from presenter.cautions import cautions_of
    from presenter.releasing import release

    say = progress_teller()
    say("Working out the numbers")
    day = worked_day(lesson, as_made) if as_made else None
    worked = worked_lesson(lesson) if day is None else day.made
    refuse_unprintable_letters(worked)
    cautioned = cautions_of(worked)
    folder = out or Path("sheets") / worked.lesson.name
    asked = replace(asked, measures=measures or worked.lesson.measures, day=day)
    documents = documents_for(worked, cautioned, chosen, asked)
    try:
        released = release(
            documents,
            cautioned,
            folder,
            paper=paper or worked.lesson.paper,
            print_size=print_size,
            progress=lambda words: say(f"Printing: {words}"),
        )
    except OSError as error:
        why = "it is a file, not a folder" if folder.is_file() else (error.strerror or str(error)).lower()
        typer.echo(f"The sheets cannot be written to {folder}: {why}.", err=True)
        raise typer.Exit(1) from None
    for sheet in released:
        pages = "" if not sheet.pages else "1 page, " if sheet.pages == 1 else f"{sheet.pages} pages, "
        typer.echo(f"{sheet.kind}: {sheet.path} ({pages}{max(1, round(sheet.size / 1000))} kB)")


def _hour(text: str) -> int | None:
    """The hour that was typed, in minutes since midnight; nothing where none was."""
    from presenter.quantities import UnreadableQuantityError
    from presenter.quantities.clock import clock_from_text

    try:
        return clock_from_text(text) if text else None
    except UnreadableQuantityError as error:
        raise typer.BadParameter(str(error), param_hint="--begins") from None
