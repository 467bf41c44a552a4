"""The command line: parse, call, print. One file for each command; each joins ``app`` when it is imported.

Exit codes: 0 fine, 1 problems found, 2 command misused; anything else is our own mistake. Stages are imported inside
the command that needs them, so that ``--help`` answers at once.
"""

from __future__ import annotations

import os
import sys

import typer

from presenter.commands import (  # noqa: F401  (each joins the application)
    build,
    check,
    days,
    library,
    new,
    now,
    numbers,
    said,
    schema,
)
from presenter.commands.app import app, told_in_full
from presenter.problems import ProblemsFoundError

__all__ = ["app", "main"]


def main() -> None:
    """Run the command line; turn Problems into exit code 1, and stay quiet when a pipe is closed."""
    try:
        app(standalone_mode=True)
    except ProblemsFoundError as error:
        typer.echo(told_in_full(error), err=True)
        sys.exit(1)
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(0)
    except OSError as error:
        typer.echo(f"The results cannot be written: {(error.strerror or str(error)).lower()}.", err=True)
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(1)
