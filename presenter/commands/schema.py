"""``presenter schema``: what a file may hold, as JSON Schema for editors or as a reference to read."""

from __future__ import annotations

import json
from typing import Annotated

import typer

from presenter.commands.app import app

__all__ = ["schema"]


@app.command(short_help="Describe a lesson, day or library file, for editors.")
def schema(
    file: Annotated[str, typer.Argument(metavar="[FILE]", help="lesson, day or library.")] = "lesson",
    reference: Annotated[
        bool, typer.Option("--reference", help="Every key of all three, in Markdown, to read.")
    ] = False,
) -> None:
    """Print the JSON Schema of a lesson, day or library file, for editors that complete and check while you write."""
    from presenter.library.schema import FILES, schema_of
    from presenter.library.schema import reference as field_reference
    from presenter.problems import nearest

    if reference:
        typer.echo(field_reference(), nl=False)
        return
    if file not in FILES:
        close = nearest(file, FILES)
        hint = f" Did you mean {close}?" if close else ""
        raise typer.BadParameter(f"there is no {file}; there are {', '.join(FILES)}.{hint}", param_hint="FILE")
    typer.echo(json.dumps(schema_of(file), ensure_ascii=False, indent=1))
