"""Start a new lesson, or a new library: a commented file that passes ``check`` as it stands.

In: a folder and a few answers (batch, kit, kind of drink, audience). Out: the text of its ``lesson.yaml``, and the
files written beside it, among them the schema that the first line points to.
"""

from __future__ import annotations

import datetime
import json
from collections.abc import Mapping
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path
from typing import Any

import jinja2
import yaml

from presenter.library.schema import schema_of
from presenter.problems import Place, Problem, ProblemsFoundError

__all__ = ["AUDIENCES", "DRINKS", "KITS", "Answers", "library_text", "starter_text", "write_new"]

DRINKS: Mapping[str, str] = {"ale": "ale from malt", "honey": "honey drink", "bread": "drink from bread"}
KITS: Mapping[str, Mapping[str, str]] = {
    "kitchen": {
        "tub": "stainless steel",
        "bucket": "food plastic",
        "site": "indoors: yes, heat: electric hob, water: mains",
    },
    "yard": {"tub": "oak", "bucket": "stainless steel", "site": "indoors: no, heat: gas ring, water: mains"},
}
AUDIENCES: Mapping[str, Mapping[str, str]] = {
    "museum": {"who": "museum", "audience": "youngest: 12, tasting: adults of legal age"},
    "school": {"who": "school", "audience": "youngest: 8, tasting: none"},
    "household": {"who": "household", "audience": "youngest: 18, tasting: adults of legal age"},
}
SMALLEST, LARGEST = 1.0, 500.0  # litres
SCHEMA = ".lesson.schema.json"


@dataclass(frozen=True)
class Answers:
    """What a new lesson is to be: so many litres of which drink, with which kit, for whom."""

    title: str
    scene: str = "Your place and time (invented)"
    litres: float = 10.0
    drink: str = "ale"
    kit: str = "kitchen"
    audience: str = "museum"
    date: datetime.date = datetime.date(2026, 1, 1)


def _environment() -> jinja2.Environment:
    folder = str(files("presenter.library").joinpath("starters"))
    return jinja2.Environment(
        loader=jinja2.FileSystemLoader(folder), undefined=jinja2.StrictUndefined, autoescape=False, trim_blocks=True,
        lstrip_blocks=True, keep_trailing_newline=True,
    )  # fmt: skip


def _quoted(text: str) -> str:
    """``text`` as one line of YAML."""
    return yaml.safe_dump(text, allow_unicode=True, width=10_000).removesuffix("...\n").strip()


def _figure(value: float) -> str:
    return f"{value:.3g}" if value < 100 else f"{value:.0f}"


def _common(answers: Answers) -> dict[str, Any]:
    who = AUDIENCES[answers.audience]
    return {
        "title": _quoted(answers.title),
        "scene": _quoted(answers.scene),
        "date": answers.date.isoformat(),
        "look_again": answers.date.replace(year=answers.date.year + 1, day=min(answers.date.day, 28)).isoformat(),
        "site": f"{KITS[answers.kit]['site']}, who brews: {who['who']}",
        "audience": who["audience"],
        "tasting": "none" not in who["audience"],
        "tub": KITS[answers.kit]["tub"],
        "bucket": KITS[answers.kit]["bucket"],
    }


def starter_text(answers: Answers) -> str:
    """The text of a new lesson. The amounts give about 4 to 6 percent of alcohol (common practice), 1 to 2 of bread.

    Raises ProblemsFoundError for a batch that no kitchen or yard makes.
    """
    litres = answers.litres
    if not SMALLEST <= litres <= LARGEST:
        wrong = f"A starter is for {SMALLEST:g} to {LARGEST:g} litres; {litres:g} is outside."
        raise ProblemsFoundError(
            (Problem(Place("--batch", 0, 0), "", "", wrong, "Start with 10 L and scale it later."),)
        )
    malt = 0.22 * litres
    water = max(litres + 0.95 * malt + 0.9, 2.5 * malt)  # what the grain keeps, a short boil, and the dregs
    malt = max(malt, water / 7.5)  # the mash model takes 2 to 8 litres of water to a kilogram
    values = {
        **_common(answers),
        "litres": lambda factor: _figure(factor * litres + 2),
        "malt": _figure(malt),
        "water": _figure(water),
        "yeast": _figure(max(1.0, litres)),
        "honey": _figure(0.11 * litres),
        "honey_water": _figure(litres + 0.3),
        "bread": _figure(0.12 * litres),
        "little_malt": _figure(40 * litres),
        "bread_water": _figure(1.2 * litres),
    }
    return _environment().get_template(f"{answers.drink}.yaml.j2").render(values)


def library_text(answers: Answers) -> str:
    """The text of a new ``library.yaml``."""
    return _environment().get_template("library.yaml.j2").render(_common(answers))


def write_new(folder: Path, name: str, text: str) -> Path:
    """Write a new ``lesson.yaml`` or ``library.yaml`` and, hidden beside it, its schema; nothing is overwritten.

    Raises ProblemsFoundError where there is one already, or the folder is a file.
    """
    target = folder / name
    if target.exists():
        _refuse(target, "There is one already, and it is left as it is.", "Name another folder.")
    if folder.exists() and not folder.is_dir():
        _refuse(folder, "This is a file, not a folder.", "Name a folder, which may be new.")
    folder.mkdir(parents=True, exist_ok=True)
    target.write_text(text, encoding="utf-8")
    kind = name.removesuffix(".yaml")
    schema = json.dumps(schema_of(kind), ensure_ascii=False, indent=1)
    (folder / f".{kind}.schema.json").write_text(schema + "\n", encoding="utf-8")
    if kind == "library":
        for about in ("science", "history"):
            (folder / "notes" / about).mkdir(parents=True, exist_ok=True)
    return target


def _refuse(path: Path, wrong: str, remedy: str) -> None:
    raise ProblemsFoundError((Problem(Place(str(path), 0, 0), "", "", wrong, remedy),))
