"""Plants by the names people write, in the botanicals table.

In: a name or a line ("dried yarrow", "a sprig of henbane"). Out: keys of ``tables/botanicals.csv``. A name that is
no plant's own is never taken for a kitchen herb: cow parsley is not parsley.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Mapping
from functools import cache
from importlib.resources import files

from presenter.cautions.conditions import botanical_levels

__all__ = ["harmful_plants_in", "plant_named"]

_PARTS = (
    "berries", "berry", "branch", "branches", "dried", "flower", "flowers", "fresh", "herb", "leaf", "leaves", "peel",
    "root", "roots", "seed", "seeds", "tops", "bark", "sprig", "sprigs", "of", "a", "an", "the", "whole",
)  # fmt: skip


@cache
def _keys_by_name() -> Mapping[str, str]:
    """Every name of a plant (its key, common and Latin names), as :func:`_bare` leaves it, to its key."""
    table = files("presenter.cautions").joinpath("tables").joinpath("botanicals.csv")
    found: dict[str, str] = {}
    for row in csv.DictReader(table.read_text(encoding="utf-8").splitlines()):
        names = [row["key"].replace("_", " "), *re.split(r",|\bor\b|\band\b", row["common_name"])]
        names += re.split(r",|\(|\)", row["latin"])
        for name in names:
            bare = _bare(name)
            if len(bare) > 2 and not bare.endswith("spp"):
                found.setdefault(bare, row["key"])
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
