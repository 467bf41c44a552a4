"""Gelatinisation: at what heat and how fast the starch granules of each grain open in a mash.

In: a grain, the thickness of the mash, a temperature. Out: the shift of that grain's law against barley's, and its
rate. Figures and their sources are in ``tables/gelatinisation_by_grain.yaml``.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

import yaml

from presenter.problems import BrewingPresenterError
from presenter.science.mash_model import GAS, MashModel

__all__ = ["UnknownGrainError", "gelatinisation_shift", "thickness_shift"]


class UnknownGrainError(BrewingPresenterError):
    """No identified source gives this grain's gelatinisation; the message names the grains that have one."""


@cache
def gelatinisation_table() -> Mapping[str, Any]:
    """The table as it stands, with the source and the printed figure of every grain."""
    text = files("presenter.science").joinpath("tables", "gelatinisation_by_grain.yaml").read_text(encoding="utf-8")
    table: Mapping[str, Any] = yaml.load(text, Loader=yaml.CSafeLoader)
    return table


def gelatinisation_shift(grain: str) -> float:
    r"""How much warmer a grain's starch gelatinises than barley malt's.

    .. math:: \Delta T = T_{grain} - T_{barley}

    Parameters
    ----------
    grain : str, a grain of ``gelatinisation_by_grain.yaml``: barley, spelt, wheat, emmer, einkorn, oats, rye, rice,
        maize, sorghum, millet

    Returns
    -------
    float, delta_degree_Celsius; the middle of the printed figures is compared (the beginning, where no middle was
    published)

    Raises
    ------
    UnknownGrainError : no identified source gives the grain.

    Notes
    -----
    Valid for starch in plenty of water. Wheat, emmer and einkorn borrow spelt's figure; maize, sorghum and millet
    borrow the wide band in which unmalted cereals begin. The table states each figure's give-or-take.

    Examples
    --------
    >>> round(gelatinisation_shift("rice"), 2)
    5.2

    References
    ----------
    - `rittenauer2021`
    - `galkowska2014`
    - `paton1987`
    - `hamelman_bread`
    - `rice_starches_abstract`
    - `mebak_gelatinisation`
    """
    rows = gelatinisation_table()["rows"]
    row = rows.get(grain)
    if row is None:
        raise UnknownGrainError(
            f"no identified source gives the heat at which {grain} gelatinises; known grains: {', '.join(rows)}"
        )
    measure = "onset" if row.get("by_onset") else "centre"
    return float(row[measure]) - float(rows["barley"][measure])


def thickness_shift(water_to_grist: float) -> float:
    r"""How much warmer starch gelatinises in a thicker mash, against 3 litres of water to a kilogram.

    .. math:: \Delta T = \frac{c - c_3}{2.5}, \qquad c = \frac{100 e}{r + e}

    Parameters
    ----------
    water_to_grist : float, litre / kilogram, from 2 to 8

    Returns
    -------
    float, delta_degree_Celsius; negative in a thinner mash

    Raises
    ------
    MashInputError : through ``mash_course``, where the ratio lies outside 2 to 8 litres to a kilogram.

    Notes
    -----
    One degree for each 2.5 g more extract in 100 g of wort. The extract a kilogram gives, e, is the mean of the two
    printed mashes (1:6 gives 12 g, 1:2.5 gives 25 g in 100 g). This is the only effect of thickness in the model.

    Examples
    --------
    >>> round(thickness_shift(2.5), 2)
    1.3

    References
    ----------
    - `deschepper2022`
    """
    thickness = gelatinisation_table()["thickness"]
    pairs = (thickness["thin"], thickness["thick"])
    extract = sum(ratio * grams / (100.0 - grams) for ratio, grams in pairs) / len(pairs)
    reference = float(thickness["reference_water_to_grist"])
    grams, grams_reference = (100.0 * extract / (ratio + extract) for ratio in (water_to_grist, reference))
    return float((grams - grams_reference) / thickness["per_extract"] * thickness["degrees"])


def gelatinisation_law(model: MashModel, shift: float, *, above: bool) -> tuple[float, float, float]:
    """The law on the named side of the switch, moved by ``shift`` degC, for the rate at a temperature in degC.

    Gives (rate, energy over the gas constant, kelvin): the rate per minute at T is
    ``rate * exp(energy * (1 / kelvin - 1 / (T - shift + 273.15)))``.
    """
    energy = model.gelatinisation_energy_above if above else model.gelatinisation_energy_below
    return model.gelatinisation_rate, energy / GAS, model.gelatinisation_switch + 273.15
