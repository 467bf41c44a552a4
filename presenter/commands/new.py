"""``presenter new``: start a lesson from a few answers, or from another lesson; or start a library."""

from __future__ import annotations

import datetime
import shlex
import sys
from collections.abc import Callable, Mapping
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, TypeVar

import typer

from presenter.commands.app import app, lesson_path
from presenter.problems import ProblemsFoundError, nearest

if TYPE_CHECKING:
    from presenter.library.starting import Answers

__all__ = ["new"]

Answer = TypeVar("Answer")
# What people write for the kinds that there are.
_MEANT = {
    "mead": "honey", "metheglin": "honey", "hydromel": "honey", "beer": "ale", "kvass": "bread", "malt": "ale",
    "adults": "museum", "adult": "museum", "visitors": "museum", "public": "museum", "class": "school",
    "children": "school", "pupils": "school", "home": "household", "family": "household",
}  # fmt: skip


@app.command(short_help="Start a lesson or a library.")
def new(
    folder: Annotated[Path, typer.Argument(metavar="FOLDER", help="The new folder.", show_default=False)],
    drink: Annotated[str, typer.Option("--drink", help="ale, honey or bread.")] = "",
    batch: Annotated[str, typer.Option("--batch", metavar="VOLUME", help="How much drink, such as 10 L.")] = "",
    kit: Annotated[
        list[str] | None,
        typer.Option("--kit", help="kitchen or yard; with --like: a vessel's size, such as 'kettle=30 L'."),
    ] = None,
    audience: Annotated[str, typer.Option("--audience", help="museum, school or household.")] = "",
    title: Annotated[str, typer.Option("--title", help="What it is called; the folder's name if not said.")] = "",
    scene: Annotated[str, typer.Option("--scene", help="The place and time you show.")] = "",
    like: Annotated[Path | None, typer.Option("--like", metavar="LESSON", help="Start from this lesson.")] = None,
    day: Annotated[str, typer.Option("--day", metavar="DAY", help="With --like: what that day taught.")] = "",
    groups: Annotated[int, typer.Option("--groups", min=1, help="With --like: for so many groups of pupils.")] = 1,
    library: Annotated[bool, typer.Option("--library", help="Start a library, not a lesson.")] = False,
) -> None:
    """Write a new lesson that passes check as it stands, ready to be changed; nothing is overwritten.

    On a terminal it asks what is not said. With --like it starts from another lesson, scaled to --batch, to other
    vessels, or to groups: then each group's share of the batch.
    """
    from presenter.library.starting import library_text, starter_text, write_new

    given = title or folder.resolve().name.replace("-", " ").replace("_", " ").capitalize()
    if like is not None:
        target = _like(folder, lesson_path(like), given if title else "", batch, kit or [], day, groups)
    else:
        for option, said in (("--day", bool(day)), ("--groups", groups > 1)):
            if said:
                raise typer.BadParameter("it goes with --like LESSON.", param_hint=option)
        answers = _answers(given, scene, batch, drink, (kit or [""])[0], audience, ask=not library)
        name, text = ("library.yaml", library_text) if library else ("lesson.yaml", starter_text)
        target = write_new(folder, name, text(answers))
    typer.echo(f"Written: {target}")
    if library:
        typer.echo(f"Next: presenter new {shlex.quote(str(folder / 'first-lesson'))}")
        return
    _tell_check(target)
    shown = shlex.quote(str(folder))
    typer.echo(f"Next: change it, with presenter check --watch {shown} beside you; then presenter build {shown}")


def _tell_check(target: Path) -> None:
    from presenter.lesson import load_lesson
    from presenter.working import work_out

    try:
        worked = work_out(load_lesson(target), spreads=False)
    except ProblemsFoundError as error:
        typer.echo(f"\nStill to mend in it:\n\n{error.told()}\n")
    else:
        count = len(worked.lesson.steps)
        typer.echo(f"It passes check as it stands: {count} step{'s' if count != 1 else ''}, no problems.")


def _one_of(option: str, given: str, known: Mapping[str, object]) -> str:
    if given not in known:
        meant = _MEANT.get(given.casefold(), "")
        close = meant if meant in known else nearest(given, known)
        hint = f" Did you mean {close}?" if close else ""
        raise typer.BadParameter(f"there is no {given}; there are {', '.join(known)}.{hint}", param_hint=option)
    return given


def _litres(given: str) -> float:
    from presenter.quantities import KINDS, UnreadableQuantityError, quantity_from_text

    try:
        litres = float(quantity_from_text(given, KINDS["volume"]).to("litre").magnitude)
    except UnreadableQuantityError as error:
        raise typer.BadParameter(f"{error.wrong} {error.remedy}".strip(), param_hint="--batch") from None
    if litres <= 0:
        raise typer.BadParameter(f"{given} is nothing at all.", param_hint="--batch")
    return litres


def _answers(title: str, scene: str, batch: str, drink: str, kit: str, audience: str, *, ask: bool) -> Answers:
    from presenter.library.starting import AUDIENCES, DRINKS, KITS, Answers

    asking = ask and sys.stdin.isatty() and sys.stdout.isatty()

    def answer(said: str, question: str, usual: str, read: Callable[[str], Answer]) -> Answer:
        while not said and asking:  # what was typed wrong is asked again; what an option says wrong is refused
            try:
                return read(str(typer.prompt(question, default=usual)).strip())
            except typer.BadParameter as error:
                typer.echo(str(error.message)[:1].upper() + str(error.message)[1:], err=True)
        if not said and ask:
            taken.append(usual)
        return read(said or usual)

    taken: list[str] = []
    kinds = ", ".join(f"{name} ({words})" for name, words in DRINKS.items())
    drink = answer(drink, f"What kind of drink? {kinds}", "ale", partial(_one_of, "--drink", known=DRINKS))
    litres = answer(batch, "How much of it?", "10 L", _litres)
    kit = answer(kit, f"Which kit? {' or '.join(KITS)}", "kitchen", partial(_one_of, "--kit", known=KITS))
    whom = f"For whom? {', '.join(AUDIENCES)}"
    audience = answer(audience, whom, "museum", partial(_one_of, "--audience", known=AUDIENCES))
    scene = answer(scene, "Which place and time do you show?", "Your place and time (invented)", str)
    if taken:
        typer.echo(f"Not said, so taken: {', '.join(taken)}.")
    return Answers(title, scene, litres, drink, kit, audience, datetime.date.today())


def _like(folder: Path, model: Path, title: str, batch: str, kit: list[str], day: str, groups: int) -> Path:
    from presenter.lesson import load_lesson
    from presenter.lesson.day import load_day
    from presenter.library.scaling import batch_of, factor_for_kit, learned, near, scaled_text, shopping, with_head
    from presenter.library.starting import write_new
    from presenter.working import work_out

    sizes = {}
    for one in kit:
        name, equals, size = one.partition("=")
        if not equals:
            raise typer.BadParameter("write a vessel and its size, such as 'kettle=30 L'.", param_hint="--kit")
        sizes[name.strip()] = size.strip()
    lesson = load_lesson(model)
    factor = factor_for_kit(lesson, sizes)
    if batch:
        made = batch_of(work_out(lesson, spreads=False))
        if made <= 0:
            raise typer.BadParameter("nothing to drink comes of that lesson, so it has no batch.", param_hint="--batch")
        factor = _litres(batch) / made
    elif groups > 1:
        factor = factor / groups
    head = [f"Started from {lesson.file.title} ({lesson.name}, version {lesson.file.version})."]
    if factor != 1.0:
        head.append(
            f"Amounts and volumes are {factor:.3g} times those; vessels that boil or cool, and times, are not scaled."
        )
    if groups > 1:
        head.append(f"For one group. To buy for all {groups}:")
        head += [f"  {line}" for line in shopping(lesson, factor, groups)]
    if day:
        held = load_day(day, lesson)
        head.append(f"What {held.date} taught:")
        head += [f"  {line}" for line in learned(held)]
    said = {"date": datetime.date.today().isoformat(), "state": "sketched", "version": "1"}
    if title:
        said["title"] = title
    target = write_new(folder, "lesson.yaml", with_head(scaled_text(lesson, factor, sizes, said), head))
    if not near(lesson, folder):
        typer.echo(f"It uses notes and sources of {lesson.house.folder}; keep it below that folder, or copy those too.")
    return target
