"""Yeast: how many cells go in, how far they can take a wort, and where alcohol stops them.

In: a yeast by name, its mass, the wort. Out: cells per millilitre with a factor-of-two band, the yeast to weigh out,
bounds of attenuation by yeast and by where the sugar comes from. Figures are in ``tables/yeast.yaml``, each with
what it rests on; for most yeasts of a kitchen none is published, and the band says so by its width.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from presenter.problems import BrewingPresenterError
from presenter.science.attenuation import apparent_attenuation_from_fermentable
from presenter.science.composition import table
from presenter.science.formula import formula
from presenter.science.ingredients import Ingredient

__all__ = [
    "AttenuationBand",
    "ExtractPart",
    "NoYeastError",
    "Yeast",
    "attenuation_limits",
    "cells_to_pitch",
    "mixed_fermentable_share",
    "pitch_rate",
    "sugars_fermented",
    "yeast_for_cells",
    "yeast_of",
]


class NoYeastError(BrewingPresenterError):
    """The ingredient is no yeast, or its cells cannot be reckoned; the message says which."""


@dataclass(frozen=True)
class Yeast:
    """One kind of yeast. Cells per gram are (low, typical, high), or None where ``refuses`` says why not.

    ``takes`` gives the share of each sugar fermented in the end, (low, high), from 0 to 1. ``malt_attenuation`` is the
    real attenuation of a malt wort in percent, (low, high). ``ceiling`` is the strength in percent by volume at
    which it stops, (as usually reported, at best); ``pitching`` the advised million cells per millilitre and degree
    Plato, (low, high).
    """

    name: str
    cells_per_gram: tuple[float, float, float] | None
    pitching: tuple[float, float]
    takes: Mapping[str, tuple[float, float]]
    malt_attenuation: tuple[float, float]
    ceiling: tuple[float, float]
    status: str
    rests_on: tuple[str, ...]
    sources: tuple[str, ...]
    refuses: str = ""


@cache
def _yeast_named(name: str) -> Yeast:
    figures = table("yeast")
    row: Mapping[str, Any] = figures["rows"][name]
    pitching = figures["pitching"][row["pitching"]]
    cells = figures[row["cells"]] if "cells" in row else None
    usual, best = figures["ceiling"]["usual"], figures["ceiling"]["best"]
    sources = [*(cells["sources"] if cells else ()), str(pitching["source"]), str(usual["source"])]
    sources += [str(row[key]) for key in ("takes_source", "malt_source") if key in row]
    words = (cells["rests_on"] if cells else "", row["takes_rests_on"], row["malt_rests_on"])
    return Yeast(
        name=name,
        cells_per_gram=(float(cells["low"]), float(cells["typical"]), float(cells["high"])) if cells else None,
        pitching=(float(pitching["low"]), float(pitching["high"])),
        takes={sugar: (float(low), float(high)) for sugar, (low, high) in row["takes"].items()},
        malt_attenuation=(float(row["malt"][0]), float(row["malt"][1])),
        ceiling=(float(usual["high"]), float(best["low"])),
        status=str(row["status"]),
        rests_on=tuple(str(word) for word in words if word),
        sources=tuple(dict.fromkeys(sources)),
        refuses=str(row.get("refuses", "")),
    )


def yeast_of(ingredient: Ingredient) -> Yeast:
    """What is known of an ingredient as a yeast. Raises NoYeastError where it is none."""
    if not ingredient.yeast:
        raise NoYeastError(f"{ingredient.name} is no yeast.")
    return _yeast_named(ingredient.yeast)


@formula(
    yeast_mass="gram",
    cells_per_gram="cell / gram",
    volume="litre",
    gives="cell / millilitre",
    valid={"yeast_mass": (0, 1e5), "cells_per_gram": (1e8, 3e10), "volume": (0.01, 1e5)},
    rests_on="count over volume; the cells per gram carry the factor of two",
)
def pitch_rate(yeast_mass: float, cells_per_gram: float, volume: float) -> float:
    r"""Yeast cells in each millilitre of wort at pitching.

    .. math:: r = \frac{m\,n}{1000\,V}

    Parameters
    ----------
    yeast_mass : gram, as weighed
    cells_per_gram : cell / gram; for dried yeast 1e10, between 5e9 and 2e10
    volume : litre

    Returns
    -------
    cell / millilitre

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the cells per gram lie outside 1e8 to 3e10, or there is no wort.

    Notes
    -----
    Work it at the low and the high count too: the true rate lies between half and twice the typical one. A cell of
    6 micrometres weighs about 37 picograms dry, so no gram can hold more than 2.7e10 of that size.

    Examples
    --------
    >>> rate = pitch_rate(Q(17.1, "gram"), Q(1e10, "cell / gram"), Q(19, "litre"))
    >>> round(rate.magnitude / 1e6, 1)
    9.0

    References
    ----------
    - `lallemand`
    - `bionumbers_size`
    """
    return yeast_mass * cells_per_gram / (1000 * volume)


@formula(
    volume="litre",
    extract="degree_Plato",
    rate="million_cells_per_plato",
    gives="cell",
    valid={"volume": (0, 1e5), "extract": (0, 40), "rate": (0.1, 5)},
    relative_error=0.3,
    error_because="the advised rates for one kind of beer differ by a third among the sources",
)
def cells_to_pitch(volume: float, extract: float, rate: float) -> float:
    r"""Cells that a wort wants, by the trade's rate per millilitre and degree Plato.

    .. math:: N = 10^9 \, r\,V\,P

    Parameters
    ----------
    volume : litre
    extract : degree_Plato
    rate : million_cells_per_plato, million cells for each millilitre and degree Plato

    Returns
    -------
    cell

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the extract lies outside 0 to 40 degrees Plato, or the rate outside 0.1 to 5.

    Notes
    -----
    0.75 to 1.0 for ales and 1.5 to 2.0 for lagers are advised; a common flat rate for ales of average strength is
    6 million per millilitre.

    Examples
    --------
    >>> wanted = cells_to_pitch(Q(19, "litre"), Q(12, "degPlato"), Q(0.75, "million_cells_per_plato"))
    >>> round(wanted.magnitude / 1e9)
    171

    References
    ----------
    - `fix_via_bkyeast`
    - `byo_pitching`
    """
    return 1e9 * rate * volume * extract


@formula(
    cells="cell",
    cells_per_gram="cell / gram",
    gives="gram",
    valid={"cells": (0, 1e17), "cells_per_gram": (1e8, 3e10)},
    rests_on="count over count per gram, which carries the factor of two",
)
def yeast_for_cells(cells: float, cells_per_gram: float) -> float:
    r"""Mass of yeast that holds so many cells.

    .. math:: m = N / n

    Parameters
    ----------
    cells : cell
    cells_per_gram : cell / gram

    Returns
    -------
    gram

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the cells per gram lie outside 1e8 to 3e10.

    Notes
    -----
    As uncertain as the count per gram: half to twice.

    Examples
    --------
    >>> round(yeast_for_cells(Q(1.71e11, "cell"), Q(1e10, "cell / gram")).magnitude, 1)
    17.1

    References
    ----------
    - `lallemand`
    """
    return cells / cells_per_gram


@formula(
    sugary_share="percent",
    sugary_fermentable="percent",
    mashed_fermentable="percent",
    gives="percent",
    valid={"sugary_share": (0, 100), "sugary_fermentable": (0, 100), "mashed_fermentable": (0, 100)},
    rests_on="mass balance",
)
def mixed_fermentable_share(sugary_share: float, sugary_fermentable: float, mashed_fermentable: float) -> float:
    r"""Share of a wort's extract that yeast can ferment, where honey, sugar or fruit supplies part of it.

    .. math:: F = s F_s + (1 - s) F_m

    Parameters
    ----------
    sugary_share : percent of the extract that honey, sugar, syrup or fruit supplies
    sugary_fermentable : percent of that part which ferments
    mashed_fermentable : percent of the mashed part which ferments

    Returns
    -------
    percent

    Raises
    ------
    WrongUnitError : an argument is no share.
    OutOfRangeError : a share lies outside 0 to 100 percent.

    Notes
    -----
    Holds while the yeast has food enough and alcohol does not stop it.

    Examples
    --------
    >>> round(mixed_fermentable_share(Q(25, "percent"), Q(94, "percent"), Q(64, "percent")).magnitude, 1)
    71.5

    References
    ----------
    Mass balance; holds no measured constant.
    """
    return (sugary_share * sugary_fermentable + (100 - sugary_share) * mashed_fermentable) / 100


@dataclass(frozen=True)
class ExtractPart:
    """Extract that one ingredient brought, in kilogram."""

    ingredient: Ingredient
    extract: float


@dataclass(frozen=True)
class AttenuationBand:
    """Bounds of attenuation in percent, apparent and real, and what they rest on, in words.

    Apparent attenuation above 100 percent is a gravity below 1.000, as honey drinks reach.
    """

    apparent_low: float
    apparent_high: float
    real_low: float
    real_high: float
    rests_on: tuple[str, ...]


def attenuation_limits(
    yeast: Yeast,
    parts: Iterable[ExtractPart],
    original_extract: float,
    mashed: tuple[float, float] | None = None,
) -> AttenuationBand:
    """How far a yeast can take a wort at least and at most, by what supplied its extract.

    ``original_extract`` is in degrees Plato. ``mashed`` is the real attenuation, (low, high) in percent, of the part
    that a mash made, where the mash says it; without it the yeast's own band for malt wort stands.

    Raises ValueError where no part brings extract, OutOfRangeError where the extract is beyond Balling's quotient.
    """
    held = [part for part in parts if part.extract > 0]
    total = sum(part.extract for part in held)
    if total <= 0:
        raise ValueError("attenuation_limits: there is no extract to ferment")
    malt_low, malt_high = mashed or yeast.malt_attenuation
    sugary = sugary_low = sugary_high = 0.0
    words: list[str] = []
    for part in held:
        share, spread = part.ingredient.attenuable, part.ingredient.attenuable_spread
        if share is None:
            words.append("the mash" if mashed else yeast.rests_on[-1])
            continue
        sugary += part.extract
        sugary_low += part.extract * max(0.0, share - spread)
        sugary_high += part.extract * min(1.0, share + spread)
        words.append(f"{part.ingredient.name}: {part.ingredient.attenuable_rests_on}")
    low, high = (
        mixed_fermentable_share.plain(100 * sugary / total, 100 * sweet / sugary if sugary else 0.0, malt)
        for sweet, malt in ((sugary_low, malt_low), (sugary_high, malt_high))
    )
    apparent = apparent_attenuation_from_fermentable
    for real in (low, high):
        apparent.check(fermentable=real, original_extract=original_extract)
    return AttenuationBand(
        apparent_low=float(apparent.plain(low, original_extract)),
        apparent_high=float(apparent.plain(high, original_extract)),
        real_low=low,
        real_high=high,
        rests_on=tuple(dict.fromkeys(words)),
    )


def sugars_fermented(yeast: Yeast, sugars: Mapping[str, float]) -> tuple[float, float]:
    """Mass of fermented sugar, (low, high), of the sugars by kind, in the unit they are given in.

    A kind that the yeast's table does not name (dextrin, lactose, starch) is not fermented.
    """
    low = sum(mass * yeast.takes.get(kind, (0.0, 0.0))[0] for kind, mass in sugars.items())
    high = sum(mass * yeast.takes.get(kind, (0.0, 0.0))[1] for kind, mass in sugars.items())
    return low, high
