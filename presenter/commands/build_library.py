"""Building a whole library, for ``presenter build``: progress, what became of each lesson, the catalogue."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from presenter.problems import ProblemsFoundError

if TYPE_CHECKING:
    from presenter.library.building import Outcome, Wanted

__all__ = ["build_library", "is_library"]

BROKE_DOWN = 3  # exit code: neither fine, nor problems, nor misuse


def is_library(path: Path) -> bool:
    """Whether a path is a folder of lessons rather than one lesson."""
    if not path.is_dir() or (path / "lesson.yaml").is_file():
        return False
    return (path / "library.yaml").is_file() or any(path.glob("*/lesson.yaml")) or any(path.glob("*/*/lesson.yaml"))


def build_library(folder: Path, out: Path, wanted: Wanted, workers: int, anew: bool) -> None:
    """Build every lesson of a library that has changed, then its catalogue; exit 1 where a lesson has problems."""
    from presenter.library.building import build_all
    from presenter.library.catalogue import release_catalogue
    from presenter.library.index import index_opened
    from presenter.library.shelves import shelf_in

    index = index_opened(shelf_in(folder))
    of = len(index.shelf.lessons)
    counts: dict[str, int] = {}
    for count, outcome in enumerate(
        build_all(index, out, wanted, workers=workers or os.cpu_count() or 1, anew=anew), 1
    ):
        counts[outcome.became] = counts.get(outcome.became, 0) + 1
        _tell(outcome, count, of)
    if "built" in counts or "problems" in counts or anew or not (out / "catalogue.pdf").is_file():
        try:
            catalogue = release_catalogue(index, out, wanted.paper, wanted.print_size)
            typer.echo(f"Catalogue: {catalogue.path} ({_pages(catalogue.pages)})")
        except ProblemsFoundError as error:
            counts["problems"] = counts.get("problems", 0) + 1
            typer.echo(error.told(), err=True)
    words = {"built": "built", "unchanged": "unchanged", "problems": "with problems", "broke down": "broke down"}
    said = ", ".join(f"{counts[became]} {told}" for became, told in words.items() if became in counts)
    typer.echo(f"{said}." if said else "There are no lessons here: presenter new FOLDER starts one.")
    if "broke down" in counts:
        raise typer.Exit(BROKE_DOWN)
    if "problems" in counts:
        raise typer.Exit(1)


def _pages(count: int) -> str:
    return "1 page" if count == 1 else f"{count} pages"


def _tell(outcome: Outcome, count: int, of: int) -> None:
    on_terminal = f"[{count} of {of}] " if sys.stderr.isatty() else ""
    if outcome.became == "built":
        pages = sum(sheet.pages for sheet in outcome.sheets)
        folder = Path(outcome.sheets[0].path).parent if outcome.sheets else ""
        typer.echo(f"{on_terminal}{outcome.lesson}: {len(outcome.sheets)} sheets, {_pages(pages)}, in {folder}")
    elif outcome.told:
        typer.echo(f"{on_terminal}{outcome.lesson}: no sheets.", err=True)
        typer.echo("\n\n".join(outcome.told) + "\n", err=True)
