"""``presenter library``: list a library's lessons, search it, and say what wants attention."""

from __future__ import annotations

import datetime
import json
import os
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from presenter.commands.app import app, lesson_path, progress_teller

if TYPE_CHECKING:
    from presenter.library.index import Index

__all__ = ["library"]


@app.command(short_help="List and search a library's lessons; what wants attention.")
def library(
    folder: Annotated[Path, typer.Argument(metavar="[FOLDER]", help="The library's folder.")] = Path(),
    words: Annotated[
        list[str] | None, typer.Argument(metavar="[WORDS]", help="What to look for, such as juniper.")
    ] = None,
    used: Annotated[str, typer.Option("--used", metavar="ID", help="Where a note or source is used.")] = "",
    as_json: Annotated[bool, typer.Option("--json", help="Print as JSON, for machines.")] = False,
) -> None:
    """List the lessons of a library, or search its lessons, notes, sources and numbers.

    Without words: every lesson, and what wants attention. With words: where they stand; words such as
    "above 5 percent" find numbers.
    """
    from presenter.library.index import index_of
    from presenter.library.shelves import shelf_in

    sought = list(words or [])
    if not lesson_path(folder).exists() and os.path.sep not in str(folder):
        sought, folder = [str(folder), *sought], Path()
    say = progress_teller()
    index = index_of(
        shelf_in(lesson_path(folder)),
        workers=os.cpu_count() or 1,
        progress=lambda name, count, of: say(f"Reading {count} of {of}: {name}"),
    )
    if used:
        _tell_used(index, used, as_json)
    elif sought:
        _tell_found(index, " ".join(sought), as_json)
    else:
        _tell_lessons(index, as_json)


def _tell_lessons(index: Index, as_json: bool) -> None:
    from presenter.library.facts import length_in_words
    from presenter.library.looking_over import looked_over

    facts = index.facts()
    overview = looked_over(index, datetime.date.today())
    if as_json:
        typer.echo(json.dumps({"lessons": list(facts.values()), **asdict(overview)}, ensure_ascii=False, indent=1))
        return
    for name, one in facts.items():
        typer.echo(f"{name}: {one['title']}")
        rows = {
            "scene": one["scene"],
            "state": one["state"],
            "strength": "; ".join(f"{drink['name']} {drink['strength']}" for drink in one["drinks"]),
            "length": length_in_words(one["minutes"], one["days"]) if one["minutes"] or one["days"] else "",
            "cautions": ", ".join(one["hazards"]),
        }
        for label, told in rows.items():
            if told:
                typer.echo(f"  {label}: {told}")
        if one["problems"]:
            count = len(one["problems"])
            typer.echo(f"  {count} problem{'s' if count != 1 else ''}; the first: {_one_line(one['problems'][0])}")
    count = len(facts)
    typer.echo(
        f"\n{count} lesson{'s' if count != 1 else ''}."
        if count
        else "No lessons here yet: presenter new FOLDER starts one."
    )
    for line in _attention(overview):
        typer.echo(line)


def _one_line(told: str) -> str:
    lines = told.splitlines()
    sentence = next((line for line in lines[1:] if line.startswith("  ") and not line.startswith("   ")), "")
    return f"{lines[0].split('  ')[0]} {sentence.strip()}".strip()


def _attention(overview: Any) -> list[str]:
    lines = [
        f"{one.file}:{one.line}  {one.named_by} names the {one.kind} {one.id}, which is not there."
        for one in overview.missing
    ]
    lines += overview.shared_problems
    for title, ids in (
        ("Notes without a source", overview.notes_without_source),
        ("Notes that no lesson uses", overview.unused_notes),
        ("Sources that nothing cites", overview.unused_sources),
    ):
        if ids:
            shown = ", ".join(ids[:12]) + (f" and {len(ids) - 12} more (--json lists all)" if len(ids) > 12 else "")
            lines.append(f"{title}: {shown}.")
    for line in overview.law_due:
        when = f"due since {line.due}" if line.due else "without a date to look again: add look again: to it"
        lines.append(f"Law line {when}: {line.words}")
    for name, lessons in overview.series.items():
        lines.append(f"Series {name}: {', then '.join(lessons)}.")
    return lines


def _tell_found(index: Index, text: str, as_json: bool) -> None:
    from presenter.library.searching import SHOWN, UnclearSearchError, asked_for, found_in

    try:
        hits = found_in(index, asked_for(text), 1_000_000 if as_json else SHOWN)
    except UnclearSearchError as error:
        raise typer.BadParameter(str(error), param_hint="WORDS") from None
    if as_json:
        typer.echo(json.dumps([hit._asdict() for hit in hits], ensure_ascii=False, indent=1))
        return
    for hit in hits:
        where = f"{hit.file}:{hit.line}" if hit.line else hit.file
        of = f" in {hit.lesson}" if hit.lesson and hit.kind != "lesson" else ""
        typer.echo(f"{hit.kind}{of}: {hit.title} [{hit.id}]  {where}\n  {hit.words}".rstrip())
    cut = any(sum(hit.kind == kind for hit in hits) == SHOWN for kind in {hit.kind for hit in hits})
    more = f" There may be more: at most {SHOWN} of a kind are shown; --json gives all." if cut else ""
    typer.echo(f"\n{len(hits)} found.{more}" if hits else f"Nothing here speaks of {text}.")


def _tell_used(index: Index, named_id: str, as_json: bool) -> None:
    from presenter.library.looking_over import used_where
    from presenter.problems import nearest

    found = used_where(index, named_id)
    known = [row[0] for row in index.ask("SELECT id FROM shared")]
    if not found and named_id not in known:
        close = nearest(named_id, known)
        hint = f" Did you mean {close}?" if close else ""
        raise typer.BadParameter(f"no note or source is called {named_id}.{hint}", param_hint="--used")
    if as_json:
        records = [{"lesson": lesson, "step" if lesson else "note": step, "line": line} for lesson, step, line in found]
        typer.echo(json.dumps(records, ensure_ascii=False, indent=1))
        return
    for lesson, step, line in found:
        typer.echo(
            f"{lesson}, {f'step {step}, ' if step else ''}line {line}" if lesson else f"cited by the note {step}"
        )
    if not found:
        typer.echo(f"Nothing uses {named_id}.")
