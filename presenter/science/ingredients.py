"""Ingredients: what an author writes under ``what:``, and what brewing gets out of it.

In: a name ("pale barley malt", "runny honey"). Out: an :class:`Ingredient` with its extract, moisture, enzymes,
allergens and the words that cautions read; or an error that offers the nearest names. The entries are in
``tables/ingredients.yaml``; every number in them comes from a published row, or says what it rests on.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from presenter.problems import BrewingPresenterError
from presenter.science.composition import (
    HYDROLYSIS,
    PROTEIN_DISSOLVED,
    extract_from_composition,
    food,
    laboratory_extract_as_is,
    solids_from_water,
    table,
)

__all__ = [
    "Ingredient",
    "UnknownIngredientError",
    "ingredient_named",
    "ingredient_names",
]


@dataclass
class UnknownIngredientError(BrewingPresenterError):
    """No entry has that name. ``close`` holds the nearest names, best first; it may be empty."""

    written: str
    close: tuple[str, ...] = ()

    def __str__(self) -> str:
        offer = f" Did you mean {self.close[0]}?" if self.close else ""
        return f"{self.written} is no ingredient that this toolkit knows.{offer}"


@dataclass(frozen=True)
class Ingredient:
    """One ingredient. Shares are of its mass as it is weighed, from 0 to 1; spreads are expanded (k = 2).

    ``extract_share`` is what goes into solution when all of it is used, as a laboratory finds it: what reaches the
    wort is less by the mash yield. It is None where no figure exists; then ``refuses`` says why.
    ``enzyme_strength`` is the starch-splitting power per kilogram against pale barley malt: 0 for none, None where
    it is unpublished. ``attenuable`` is the share of the extract that yeast can ferment; None where a mash decides.
    ``status`` says how firmly the extract is known: published (directly or quoted by another), derived, from memory.
    """

    name: str
    family: str
    extract_share: float | None
    extract_spread: float
    moisture: float | None
    starch_share: float | None
    sugar_share: float | None
    enzyme_strength: float | None
    grain: str
    soluble: bool
    caution_words: tuple[str, ...]
    allergens: tuple[str, ...]
    sources: tuple[str, ...]
    rests_on: str
    attenuable: float | None
    attenuable_spread: float
    status: str
    also: tuple[str, ...] = ()
    food: str = ""
    stands_in: str = ""
    allergen_rows: tuple[str, ...] = ()
    plant: str = ""
    yeast: str = ""
    enzymes_rest_on: str = ""
    attenuable_rests_on: str = ""
    refuses: str = ""

    @property
    def needs_mash(self) -> bool:
        """Whether its starch must be split before yeast gets anything from it."""
        return bool(self.starch_share) and not self.soluble


def _plain(text: str) -> str:
    """``text`` as names are compared: lower case, straight apostrophes, single spaces, no full stop at the end."""
    straight = text.casefold().replace("’", "'").replace("‘", "'").replace("-", " ").strip().rstrip(".")
    return " ".join(re.sub(r"[_\s]+", " ", straight).split())


@cache
def _entries() -> Mapping[str, Mapping[str, Any]]:
    entries: Mapping[str, Mapping[str, Any]] = table("ingredients")["ingredients"]
    return entries


@cache
def _names() -> Mapping[str, str]:
    """Every spelling that is understood, to the entry's own name."""
    found: dict[str, str] = {}
    for name, entry in _entries().items():
        for spelling in (name, *entry.get("also", ())):
            found[_plain(spelling)] = name
    return found


def ingredient_names() -> tuple[str, ...]:
    """The own name of every ingredient, in the table's order."""
    return tuple(_entries())


def ingredient_named(text: str) -> Ingredient:
    """The ingredient that ``text`` names, whatever its spelling of capitals, spaces and hyphens.

    Raises UnknownIngredientError, with the nearest names, where there is none.

    >>> ingredient_named("Oat malt").name
    'malted oats'
    """
    wanted = _plain(text)
    name = _names().get(wanted)
    if name is None and wanted.endswith("s"):
        name = _names().get(wanted.removesuffix("s"))
    if name is None:
        # stricter than for a keyword: no harmless name may be offered in place of a harmful plant
        close = difflib.get_close_matches(wanted, list(_names()), n=3, cutoff=0.75)
        raise UnknownIngredientError(text, tuple(dict.fromkeys(_names()[spelling] for spelling in close)))
    return _built(name)


@dataclass(frozen=True)
class _Extract:
    """What one way of knowing an extract gives; shares from 0 to 1."""

    share: float | None
    spread: float
    moisture: float | None
    starch: float | None
    sugar: float | None
    sources: tuple[str, ...]
    rests_on: str
    status: str


def _from_laboratory(entry: Mapping[str, Any]) -> _Extract:
    malts = table("malt_analysis")
    row = malts["rows"][entry["malt"]]
    dry = float(row["extract_dry"])
    remembered = row["status"] == "from memory"
    if remembered:  # a remembered range has no typical value: its middle is taken
        dry = (dry + float(row["extract_dry_at_least"])) / 2
    moisture = float(row.get("moisture", malts["assumed_moisture"]))
    share = laboratory_extract_as_is.plain(dry, moisture) / 100
    grain = food(entry["food"])
    sugar = (grain.sugars or 0.0) / 100
    starch = max(0.0, (share - sugar - PROTEIN_DISSOLVED * grain.protein / 100) / HYDROLYSIS)
    if remembered:
        words = f"from memory, not published: the middle of {row['extract_dry_at_least']:g} and"
        words += f" {row['extract_dry']:g} percent of dry matter, at {moisture:g} percent of moisture"
    else:
        taken = "" if "moisture" in row else " (assumed)"
        words = f"laboratory extract {dry:g} percent of dry matter, at {moisture:g} percent of moisture{taken}"
    sources = () if remembered else (str(row["source"]),)
    status = "from memory" if remembered else str(row["status"])
    return _Extract(share, float(entry["spread"]), moisture / 100, starch, sugar, sources, words, status)


def _from_composition(entry: Mapping[str, Any]) -> _Extract:
    grain = food(entry["food"])
    starch = grain.starch
    if grain.fibre is None or starch is None:
        raise KeyError(f"{grain.key} prints no fibre: its entry must refuse an extract")
    sugars = grain.sugars or 0.0
    share = extract_from_composition.plain(grain.carbohydrate, grain.fibre, sugars, grain.protein) / 100
    spread = float(entry.get("spread", extract_from_composition.relative_error * share))
    words = "worked out of the food table, all starch converted; not a measured extract"
    if entry.get("stands_in"):
        words = f"{entry['stands_in']} stands in: {words}"
    return _Extract(share, spread, grain.water / 100, starch / 100, sugars / 100, (_FOODS,), words, "derived")


def _from_solids(entry: Mapping[str, Any]) -> _Extract:
    sweet = food(entry["food"])
    share = solids_from_water.plain(sweet.water) / 100
    words = "everything in it that is not water"
    spread = float(entry["spread"])
    return _Extract(share, spread, sweet.water / 100, 0.0, (sweet.sugars or 0.0) / 100, (_FOODS,), words, "derived")


def _from_sugars(entry: Mapping[str, Any]) -> _Extract:
    fruit = food(entry["food"])
    printed = fruit.sugars
    words = "the sugars of the food table"
    if printed is None:
        printed = fruit.carbohydrate - (fruit.fibre or 0.0)
        words = "carbohydrate less fibre of the food table, which prints no sugars for it"
    if entry.get("stands_in"):
        words = f"{entry['stands_in']} stands in: {words}"
    share = printed / 100
    spread = float(entry.get("spread", _FRUIT * share))
    return _Extract(share, spread, fruit.water / 100, 0.0, share, (_FOODS,), words, "derived")


GLUCOSE_MOLAR_MASS, WATER_MOLAR_MASS = 180.156, 18.015  # g/mol


def _from_molar_masses(entry: Mapping[str, Any]) -> _Extract:
    water = WATER_MOLAR_MASS * int(entry["hydrate_water"])
    share = GLUCOSE_MOLAR_MASS / (GLUCOSE_MOLAR_MASS + water)
    words = "glucose without the water of its crystals, by molar masses"
    return _Extract(share, float(entry["spread"]), 1 - share, 0.0, share, (), words, "derived")


def _from_nothing(entry: Mapping[str, Any]) -> _Extract:
    key = entry.get("moisture_food") or entry.get("food")
    moisture = food(key).water / 100 if key else None
    if entry.get("refuses"):
        return _Extract(None, 0.0, moisture, None, None, (), str(entry["refuses"]), "unknown")
    words = "no extract is counted for it (common practice)"
    return _Extract(0.0, 0.0, moisture, 0.0, 0.0, (), words, "common practice")


_FOODS = "usda_sr28"
_FRUIT = 0.15  # real fruit against the food table: tolerance of the table's own head
_WAYS = {
    "laboratory": _from_laboratory,
    "estimate": _from_composition,
    "solids": _from_solids,
    "sugars": _from_sugars,
    "molar": _from_molar_masses,
    "none": _from_nothing,
}


_ITS_SUGARS = {"solids": "its sugars over its solids, in the food table", "molar": "all of it is glucose"}


def _attenuable(entry: Mapping[str, Any], found: _Extract) -> tuple[float | None, float, str]:
    """The share of the extract that yeast can ferment, its spread, and what that rests on."""
    if not found.share or entry["basis"] not in {"solids", "sugars", "molar"}:
        return None, 0.0, ""
    spread = float(entry.get("attenuable_spread", 0.05))
    if "attenuable" in entry:
        return float(entry["attenuable"]), spread, str(entry.get("attenuable_from", "sugars over solids"))
    if entry["basis"] == "sugars":
        return 1.0, spread, "all of its extract is counted as sugar, and the sugar as fermentable"
    return min(1.0, (found.sugar or 0.0) / found.share), spread, _ITS_SUGARS[entry["basis"]]


@cache
def _built(name: str) -> Ingredient:
    entry = _entries()[name]
    found = _WAYS[entry["basis"]](entry)
    attenuable, attenuable_spread, attenuable_from = _attenuable(entry, found)
    enzymes = entry.get("enzymes", 0)
    rows = tuple(str(key) for key in entry["allergens"])
    because = entry.get("spread_because")
    return Ingredient(
        name=name,
        family=str(entry["family"]),
        extract_share=found.share,
        extract_spread=found.spread,
        moisture=found.moisture,
        starch_share=found.starch,
        sugar_share=found.sugar,
        enzyme_strength=None if enzymes == "unknown" else float(enzymes),
        grain=str(entry.get("grain", "")),
        soluble=entry["basis"] in {"solids", "molar"} or entry["family"] == "juice",
        caution_words=tuple(entry["caution_words"]),
        allergens=_groups(rows),
        sources=found.sources,
        rests_on=f"{found.rests_on}; give-or-take: {because}" if because else found.rests_on,
        attenuable=attenuable,
        attenuable_spread=attenuable_spread,
        status=found.status,
        also=tuple(entry.get("also", ())),
        food=str(entry.get("food", "")),
        stands_in=str(entry.get("stands_in", "")),
        allergen_rows=rows,
        plant=str(entry.get("plant", "")),
        yeast=str(entry.get("yeast", "")),
        enzymes_rest_on=str(entry.get("enzymes_from", "unpublished" if enzymes == "unknown" else "")),
        attenuable_rests_on=attenuable_from,
        refuses=str(entry.get("refuses", "")),
    )


def _groups(rows: Iterable[str]) -> tuple[str, ...]:
    """The allergen groups of some rows; "possible" and "likely" count as present, "exempt" and "none" do not."""
    listed = table("allergens")["rows"]
    return tuple(dict.fromkeys(str(listed[row]["group"]) for row in rows if "group" in listed[row]))
