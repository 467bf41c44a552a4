"""Measures: household spoons and cups of an ingredient to its mass, and measures of other times to litres.

In: an ingredient and a volume or a count of pieces; or a period measure by name. Out: a mass with its spread and
source, or the measure with its range and how firmly it is known. Weights are in ``tables/household_weights.yaml``,
period measures in ``tables/historic_measures.yaml``, grain by weight in ``tables/grain_weights.yaml``.
"""

from __future__ import annotations

import difflib
import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from presenter.problems import BrewingPresenterError
from presenter.quantities import Q, Quantity, unit_named
from presenter.science.composition import table
from presenter.science.formula import WrongUnitError, formula
from presenter.science.ingredients import Ingredient

__all__ = [
    "GrainWeight",
    "HouseholdMass",
    "NoHouseholdWeightError",
    "PeriodMeasure",
    "UnknownMeasureError",
    "grain_weights",
    "mass_from_bulk_density",
    "mass_of_pieces",
    "mass_of_volume",
    "period_measure_named",
    "period_measures",
    "pieces_of",
]


@dataclass
class NoHouseholdWeightError(BrewingPresenterError):
    """Nobody weighed this ingredient in that measure; ``known`` are the measures that were weighed."""

    ingredient: str
    measure: str
    known: tuple[str, ...] = ()

    def __str__(self) -> str:
        offer = f" Weighed are: {'; '.join(self.known)}." if self.known else " Weigh it, and write grams."
        return f"There is no weight for {self.ingredient} by the {self.measure}.{offer}"


@dataclass
class UnknownMeasureError(BrewingPresenterError):
    """No period measure has that name; ``close`` holds the nearest names."""

    written: str
    close: tuple[str, ...] = ()

    def __str__(self) -> str:
        offer = f" Did you mean {self.close[0]}?" if self.close else ""
        return f"{self.written} is no period measure that this toolkit knows.{offer}"


@dataclass(frozen=True)
class HouseholdMass:
    """The mass of a household measure: ``spread`` is its expanded uncertainty (k = 2); ``rests_on`` in words."""

    mass: Quantity
    spread: Quantity
    source: str
    rests_on: str


@formula(
    bulk_density="gram / millilitre",
    volume="millilitre",
    gives="gram",
    valid={"bulk_density": (0.05, 2.5), "volume": (0, 1e7)},
    relative_error=0.015,
    error_because="the cup and the spoon of one food differ by up to 1.5 percent for syrups and salt",
    rests_on="",
)
def mass_from_bulk_density(bulk_density: float, volume: float) -> float:
    r"""Mass of what fills a cup or spoon level.

    .. math:: m = \rho_b V

    Parameters
    ----------
    bulk_density : gram / millilitre, air between the grains included
    volume : millilitre, level, not heaped

    Returns
    -------
    gram

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the density lies outside 0.05 to 2.5 grams per millilitre.

    Notes
    -----
    How hard flour is pressed, and how a spoon is levelled, move it far more than the table's own rounding.

    Examples
    --------
    >>> round(mass_from_bulk_density(Q(1.4202, "gram / millilitre"), Q(14.79, "millilitre")).magnitude, 1)
    21.0

    References
    ----------
    - `usda_sr28`
    """
    return bulk_density * volume


_SOURCE = "usda_sr28"
_SPOON = 0.10  # a real spoon against its nominal volume: tolerance of the household measures
# Which tolerance of the table's head each family takes; liquids as syrups, all others as flour and grain.
_KINDS = dict.fromkeys(("honey", "syrup", "juice", "dairy", "acid", "water"), "honey and syrup")
_KINDS |= {"sugar": "sugar and salt", "salt": "sugar and salt", "herb": "spice"}
_PRESSED = {"packed", "sifted", "dipped"}  # how a cup was filled: the one neither pressed nor sifted is taken
# Spoons and cups of the table, whose rows begin with these words.
_VOLUMES = {"cup": "us_cup", "tbsp": "us_tablespoon", "tsp": "us_teaspoon", "fl oz": "us_fluid_ounce"}


def _rows(ingredient: Ingredient) -> tuple[Mapping[str, Any], ...]:
    return tuple(row for row in table("household_weights")["rows"] if row["food"] == ingredient.food)


def _volume_of_row(row: Mapping[str, Any]) -> tuple[str, str] | None:
    """The unit of a row that is a spoon or cup, and what its words add ("packed"); None for a row that is neither."""
    words = str(row["measure"])
    for word, unit in _VOLUMES.items():
        if re.match(rf"{word}\b", words):
            return unit, words[len(word) :].strip(" ,()")
    return None


def _share_of_goods(ingredient: Ingredient) -> float:
    """How far a real cup of it differs from the table's, as a share (k = 2)."""
    goods = table("household_weights")["real_goods"]
    return float(goods[_KINDS.get(ingredient.family, "flour and grain")])


def mass_of_volume(ingredient: Ingredient, volume: Quantity) -> HouseholdMass:
    """What a level volume of an ingredient weighs, in gram: cups for amounts of a cup or more, spoons below.

    Raises NoHouseholdWeightError where nobody weighed it, WrongUnitError where ``volume`` is no volume.
    """
    if volume.dimensionality != unit_named("litre").dimensionality:
        raise WrongUnitError(f"mass_of_volume: volume must be a volume, but {volume:~P} is none")
    found: list[tuple[float, str, float]] = []  # volume of the row in mL, how it was filled, bulk density
    for row in _rows(ingredient):
        measured = _volume_of_row(row)
        if measured and "bulk_density" in row and "yields" not in row["measure"]:
            unit, filled = measured
            found.append((float(Q(1, unit).to("millilitre").magnitude), filled, float(row["bulk_density"])))
    millilitres = float(volume.to("millilitre").magnitude)
    if not found:
        known = tuple(str(row["measure"]) for row in _rows(ingredient))
        raise NoHouseholdWeightError(ingredient.name, "spoon or cup", known)
    wanted = _VOLUMES["cup"] if millilitres >= 100 else _VOLUMES["tsp"]
    size = float(Q(1, wanted).to("millilitre").magnitude)
    _, filled, density = min(
        found,
        key=lambda row: (bool(_PRESSED & set(row[1].split())) and "not" not in row[1].split(), abs(row[0] - size)),
    )
    mass = float(mass_from_bulk_density.plain(density, millilitres))
    share = _share_of_goods(ingredient)
    if millilitres < 100:
        share = (share**2 + _SPOON**2) ** 0.5
    words = f"weighed as {filled}" if filled else "weighed level"
    if ingredient.stands_in:
        words = f"{ingredient.stands_in} stands in: {words}"
    return HouseholdMass(Q(mass, "gram"), Q(share * mass, "gram"), _SOURCE, words)


def pieces_of(ingredient: Ingredient) -> tuple[str, ...]:
    """The pieces of an ingredient that were weighed, in the table's own words: "slice, regular", "packet"."""
    return tuple(
        str(row["measure"]) for row in _rows(ingredient) if _volume_of_row(row) is None and row["measure"] != "oz"
    )


def mass_of_pieces(ingredient: Ingredient, count: float, piece: str) -> HouseholdMass:
    """What ``count`` pieces weigh, in gram: "packet" and "slice" find the table's own longer words.

    Raises NoHouseholdWeightError where nobody weighed that piece.
    """
    wanted = piece.casefold().strip()
    single = wanted[:-1] if wanted.endswith("s") else wanted
    rows = [row for row in _rows(ingredient) if _volume_of_row(row) is None]
    for spelling in (wanted, single):
        exact = [row for row in rows if str(row["measure"]) == spelling]
        begun = [row for row in rows if re.match(rf"{re.escape(spelling)}\b", str(row["measure"]))]
        for row in exact + begun:
            each = float(row["grams"]) / float(row["amount"])
            mass = each * count
            spread = _share_of_goods(ingredient) * mass
            if "standard_deviation" in row:  # piece from piece, and the mean of the few that were weighed
                each_spread = 2 * float(row["standard_deviation"]) / float(row["amount"])
                spread = each_spread * math.hypot(math.sqrt(count), count / math.sqrt(float(row["weighed"])))
            words = f"{row['measure']}, weighed"
            if ingredient.stands_in:
                words = f"{ingredient.stands_in} stands in: {words}"
            return HouseholdMass(Q(mass, "gram"), Q(spread, "gram"), _SOURCE, words)
    raise NoHouseholdWeightError(ingredient.name, piece, pieces_of(ingredient))


@dataclass(frozen=True)
class PeriodMeasure:
    """A measure of capacity of another time or place.

    ``litres`` is its usual value, None where the sources give only a range; ``low`` and ``high`` bound it where they
    disagree. ``approximate`` must be said wherever the measure is converted. ``unit`` is its name in the registry.
    """

    name: str
    unit: str
    holds: str
    litres: float | None
    low: float
    high: float
    approximate: bool
    precision: str
    period: str
    place: str
    definition: str
    source: str
    status: str

    def words(self) -> str:
        """How firmly it is known, for a sheet: name, period, place, precision."""
        return f"{self.name}, {self.place}, {self.period}: {self.precision}"


@cache
def period_measures() -> tuple[PeriodMeasure, ...]:
    """Every period measure, in the table's order."""
    found: list[PeriodMeasure] = []
    for row in table("historic_measures")["rows"]:
        litres = float(row["litres"]) if "litres" in row else None
        step = _print_step(str(row["precision"]))
        low = float(row.get("low", (litres or 0.0) - step))
        high = float(row.get("high", (litres or 0.0) + step))
        words = {
            field: str(row.get(field, ""))
            for field in ("name", "unit", "holds", "precision", "period", "place", "definition", "source", "status")
        }
        found.append(PeriodMeasure(litres=litres, low=low, high=high, approximate=bool(row["approximate"]), **words))
    return tuple(found)


def _print_step(precision: str) -> float:
    """Half the step of "to 0.001"; nothing for the others."""
    step = re.match(r"to ([\d.]+)$", precision)
    return float(step[1]) / 2 if step else 0.0


def period_measure_named(text: str) -> PeriodMeasure:
    """The period measure that ``text`` names: "ale barrel", "barrel of ale", "ale_barrel".

    Raises UnknownMeasureError with the nearest names.
    """
    spellings = {
        spelling: measure
        for measure in period_measures()
        for spelling in (
            measure.name.casefold(),
            re.sub(r" \(.*\)", "", measure.name.casefold()),
            measure.unit.replace("_", " "),
        )
        if spelling
    }
    wanted = " ".join(text.casefold().replace("_", " ").split())
    if wanted not in spellings and wanted.endswith("s"):
        wanted = wanted.removesuffix("s")
    if wanted not in spellings:
        close = difflib.get_close_matches(wanted, list(spellings), n=3, cutoff=0.7)
        raise UnknownMeasureError(text, tuple(close))
    return spellings[wanted]


@dataclass(frozen=True)
class GrainWeight:
    """A bushel or quarter of one grain reckoned by weight, in kilogram, with its custom's time and place."""

    unit: str
    kilograms: float
    definition: str
    period: str
    place: str
    source: str
    status: str


@cache
def grain_weights() -> tuple[GrainWeight, ...]:
    """Every measure of grain by weight. The grain itself varies by 5 percent."""
    return tuple(
        GrainWeight(
            unit=str(row["unit"]),
            kilograms=float(row["kilograms"]),
            definition=str(row["definition"]),
            period=str(row["period"]),
            place=str(row["place"]),
            source=str(row.get("source", "")),
            status=str(row["status"]),
        )
        for row in table("grain_weights")["rows"]
    )
