"""What a kind of document is, and what was asked for when one is filled in.

In: nothing. Out: :class:`DocumentKind` and :class:`Asked`. The kinds themselves stand in ``documents/kinds/``.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from string import ascii_uppercase
from typing import Any

from jinja2.sandbox import ImmutableSandboxedEnvironment

from presenter.days import WorkedDay
from presenter.documents.sheet_view import SheetView

__all__ = ["Asked", "DocumentKind", "Filling", "nothing_more"]


@dataclass(frozen=True)
class Asked:
    """What the presenter asked for.

    ``measures`` is "metric", "us" or "imperial"; ``versions`` how many different worksheets a class needs, from 1 to
    26, and ``seed`` what their questions are drawn with (the lesson's title if nothing is given). ``reader`` is
    "younger", "older", "adult" or "all", whom the notes are chosen for; if empty the lesson's audience decides.
    ``begins`` is the hour of the day in minutes since midnight, where it goes before the lesson's own. ``day`` is the
    day that the sheets tell as it was made.
    """

    measures: str = "metric"
    reader: str = ""
    versions: int = 1
    seed: str = ""
    begins: int | None = None
    day: WorkedDay | None = None

    @property
    def version_letters(self) -> tuple[str, ...]:
        """A, B, C and so on; one empty letter where there is one version."""
        return tuple(ascii_uppercase[: self.versions]) if self.versions > 1 else ("",)


@dataclass(frozen=True)
class Filling:
    """What a kind may draw on for the values of its template: the view, what was asked, and the templates.

    ``mark`` is the content mark of the sheets, ``papers`` the others' names in print.
    """

    view: SheetView
    asked: Asked
    environment: ImmutableSandboxedEnvironment
    folders: tuple[Path, ...]
    version: str = ""
    mark: str = ""
    papers: tuple[str, ...] = ()


def nothing_more(_: Filling) -> Mapping[str, Any]:
    """No values beside ``sheet`` and ``steps``, which every template has."""
    return {}


def nothing_beside(_: Filling) -> Mapping[str, str]:
    """No file beside the PDF."""
    return {}


@dataclass(frozen=True)
class DocumentKind:
    """One kind of document.

    Parameters
    ----------
    name : how ``--only`` and the file name call it, in words joined by hyphens.
    words : its name in print.
    template : its file in ``templates/``.
    tells_steps : it says how to do each step, so it carries each step's mandatory cautions and is held to it.
    layout : "pages", "cards" or another of ``printing.style.LAYOUTS``.
    values : what its template may name beside ``sheet`` and ``steps``.
    in_versions : it comes in as many versions as are asked for.
    papers : the papers that it can be printed on.
    by_default : it is printed where neither lesson nor library names its papers.
    beside : texts that lie beside the PDF, by file name.
    print : "large" where it is always printed large.
    cautions_by : what its template says to set the cautions of a step.
    """

    name: str
    words: str
    template: str
    tells_steps: bool
    layout: str = "pages"
    values: Callable[[Filling], Mapping[str, Any]] = nothing_more
    in_versions: bool = False
    papers: tuple[str, ...] = ("A4", "Letter")
    by_default: bool = True
    beside: Callable[[Filling], Mapping[str, str]] = nothing_beside
    print: str = ""
    cautions_by: str = "{{ step.cautions() }}"
