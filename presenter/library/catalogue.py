"""The catalogue of a library: one entry a lesson, for whoever chooses what to show.

In: an index brought up to date. Out: page text, and ``catalogue.pdf`` through releasing.
"""

from __future__ import annotations

import datetime
from pathlib import Path
from typing import Any

from presenter.documents.rendering import environment, render
from presenter.lesson import demo_folder, house_for
from presenter.library.facts import length_in_words
from presenter.library.index import Index
from presenter.library.shelves import combined_mark
from presenter.printing import Setting, SheetAbout
from presenter.releasing import Released, release_text

__all__ = ["catalogue_text", "release_catalogue"]

TEMPLATE = "catalogue.md.j2"


def catalogue_text(index: Index) -> str:
    """The catalogue's page text. Raises ProblemsFoundError for anything wrong in its template."""
    house = house_for(index.shelf.top.resolve())
    folders = [folder for folder in (index.shelf.top / "templates", demo_folder("templates")) if folder.is_dir()]
    series = house.shared.series if house.shared is not None else {}
    values = {
        "library": house.name if house.folder is not None else "Lessons",
        "people": [f"{role}: {who}" for role, who in house.people.items()],
        "address": house.address,
        "law": list(house.law),
        "series": [f"{name}: {', then '.join(str(lesson) for lesson in lessons)}" for name, lessons in series.items()],
        "lessons": [_entry(one) for one in index.facts().values()],
    }
    return render(environment(folders), TEMPLATE, values)


def _entry(one: dict[str, Any]) -> dict[str, Any]:
    strengths = [f"{drink['name']} {drink['strength']}" for drink in one["drinks"]]
    return {
        "name": one["name"],
        "title": one["title"],
        "scene": one["scene"],
        "invented": one["invented"],
        "about": one["about"],
        "state": one["state"],
        "strength": "; ".join(strengths),
        "length": length_in_words(one["minutes"], one["days"]) if one["minutes"] or one["days"] else "",
        "ingredients": ", ".join(one["ingredients"]),
        "cautions": ", ".join(one["hazards"]),
        "problems": str(len(one["problems"])) if one["problems"] else "",
    }


def release_catalogue(index: Index, out: Path, paper: str = "", print_size: str = "ordinary") -> Released:
    """Print the catalogue into ``out``. Raises ProblemsFoundError, having written nothing, for anything wrong in it."""
    house = house_for(index.shelf.top.resolve())
    text = catalogue_text(index)
    dates = [_date(one["date"]) for one in index.facts().values()]
    about = SheetAbout(
        title=f"{house.name}: catalogue",
        author=house.name,
        subject="The lessons of this library",
        kind="Catalogue",
        date=max(dates, default=datetime.date(2000, 1, 1)),
        foot=f"Content mark {combined_mark([text])[:8]}",
        running_head=house.name,
        folder=index.shelf.top,
    )
    shared = house.shared
    setting = Setting(paper or (shared.paper if shared is not None else None) or "A4", print_size, "pages")
    return release_text(text, about, setting, out / "catalogue.pdf", tuple(house.law))


def _date(text: str) -> datetime.date:
    try:
        return datetime.date.fromisoformat(text)
    except ValueError:
        return datetime.date(2000, 1, 1)
