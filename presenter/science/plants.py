"""Plants by the names people write, in the botanicals table.

In: a name or a line ("dried yarrow", "a sprig of henbane"). Out: keys of ``tables/botanicals.csv``, and its rows. A
name that is no plant's own is never taken for a kitchen herb: cow parsley is not parsley.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

import yaml

__all__ = ["PlantRow", "botanical_levels", "harmful_plants_in", "plant_named", "plant_rows", "source_of_botanicals"]

_PARTS = (
    "berries", "berry", "branch", "branches", "dried", "flower", "flowers", "fresh", "herb", "leaf", "leaves", "peel",
    "root", "roots", "seed", "seeds", "tops", "bark", "sprig", "sprigs", "of", "a", "an", "the", "whole",
)  # fmt: skip


@dataclass(frozen=True)
class PlantRow:
    """One plant of the table. ``level`` is notice, caution, warning or never; ``sources`` are source keys.

    ``seen`` says that the constituent was read in a source; what a cell marks "(from memory)" never counts as read.
    """

    key: str
    name: str
    latin: str
    group: str
    constituent: str
    level: str
    advice: str
    seen: bool
    sources: tuple[str, ...]
    note: str


@cache
def plant_rows() -> Mapping[str, PlantRow]:
    """Every plant of ``tables/botanicals.csv``, by key."""
    table = files("presenter.science").joinpath("tables").joinpath("botanicals.csv")
    return {
        row["key"]: PlantRow(
            key=row["key"],
            name=row["common_name"],
            latin=row["latin"],
            group=row["group"],
            constituent=row["constituent_of_concern"],
            level=row["toolkit_level"],
            advice=row["advice"],
            seen=row["status"] == "seen",
            sources=tuple(key for key in row["source_id"].split(";") if key),
            note=row["note"],
        )
        for row in csv.DictReader(table.read_text(encoding="utf-8").splitlines())
    }


@cache
def source_of_botanicals() -> Mapping[str, Any]:
    """What stands beside the table: its sources, how many rows it has, and its levels."""
    text = files("presenter.science").joinpath("tables", "botanicals.source.yaml").read_text(encoding="utf-8")
    block: Mapping[str, Any] = yaml.load(text, Loader=yaml.CSafeLoader)
    return block


@cache
def botanical_levels() -> Mapping[str, str]:
    """Key of each plant -> toolkit level."""
    return {key: row.level for key, row in plant_rows().items()}


@cache
def _keys_by_name() -> Mapping[str, str]:
    """Every name of a plant (its key, common and Latin names), as :func:`_bare` leaves it, to its key."""
    found: dict[str, str] = {}
    for row in plant_rows().values():
        names = [row.key.replace("_", " "), *re.split(r",|\bor\b|\band\b", row.name)]
        names += re.split(r",|\(|\)", row.latin)
        for name in names:
            bare = _bare(name)
            if len(bare) > 2 and not bare.endswith("spp"):
                found.setdefault(bare, row.key)
    return found


def _bare(text: str) -> str:
    """``text`` in small letters, without the words that only say which part of a plant is meant."""
    words = re.findall(r"[a-z]+", text.casefold())
    kept = [word for word in words if word not in _PARTS] or words
    return " ".join(word if word.endswith("ss") else word.removesuffix("s") for word in kept)


def plant_named(text: str) -> str | None:
    """The key of the plant whose own name ``text`` is, parts and drying apart; None for any other text.

    >>> plant_named("dried yarrow flowers"), plant_named("cow parsley")
    ('yarrow', None)
    """
    return _keys_by_name().get(_bare(text))


def harmful_plants_in(text: str) -> tuple[str, ...]:
    """The plants named anywhere in ``text`` of which the table says more than a kitchen herb's notice."""
    bare = f" {_bare(text)} "
    keys = [key for name, key in _keys_by_name().items() if f" {name} " in bare]
    return tuple(dict.fromkeys(key for key in keys if botanical_levels()[key] != "notice"))
