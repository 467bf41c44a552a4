"""Composition: what a food or malt is made of, and the extract that follows from it.

In: a row of a published table, or water, sugars, starch and protein in percent. Out: percent of the ingredient, as
it is weighed, that becomes extract when all of it is used. Tables lie in ``tables/``; a key that is not in them is
our own mistake, since only our own tables name keys.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

import yaml

from presenter.science.formula import formula

__all__ = [
    "Food",
    "extract_from_composition",
    "food",
    "laboratory_extract_as_is",
    "lintner_from_windisch_kolbach",
    "solids_from_water",
    "table",
]


@cache
def table(name: str) -> Mapping[str, Any]:
    """The table ``tables/NAME.yaml`` as it stands, with its source and what was changed.

    Raises FileNotFoundError where the package has no such table.
    """
    text = files("presenter.science").joinpath("tables", f"{name}.yaml").read_text(encoding="utf-8")
    content: Mapping[str, Any] = yaml.load(text, Loader=yaml.CSafeLoader)
    return content


@dataclass(frozen=True)
class Food:
    """Grams in 100 g of one food as bought. ``fibre`` and ``sugars`` are None where the table does not print them."""

    key: str
    described: str
    water: float
    protein: float
    fat: float
    ash: float
    carbohydrate: float
    fibre: float | None
    sugars: float | None

    @property
    def proximates(self) -> float:
        """The sum that should be 100: water, protein, fat, ash and carbohydrate."""
        return self.water + self.protein + self.fat + self.ash + self.carbohydrate

    @property
    def starch(self) -> float | None:
        """Carbohydrate less fibre and sugars, never below nothing; None where fibre is not printed."""
        if self.fibre is None:
            return None
        return max(0.0, self.carbohydrate - self.fibre - (self.sugars or 0.0))


@cache
def food(key: str) -> Food:
    """The row ``key`` of the food table. Raises KeyError where the table has no such row."""
    row = table("food_composition")["rows"][key]
    return Food(
        key=key,
        described=str(row["described"]),
        water=float(row["water"]),
        protein=float(row["protein"]),
        fat=float(row["fat"]),
        ash=float(row["ash"]),
        carbohydrate=float(row["carbohydrate"]),
        fibre=float(row["fibre"]) if "fibre" in row else None,
        sugars=float(row["sugars"]) if "sugars" in row else None,
    )


@formula(
    carbohydrate="percent",
    fibre="percent",
    sugars="percent",
    protein="percent",
    gives="percent",
    valid={"carbohydrate": (0, 100), "fibre": (0, 100), "sugars": (0, 100), "protein": (0, 100)},
    relative_error=0.10,
    error_because="the middle of two limits; the share of the protein that dissolves is assumed",
    rests_on="the middle between carbohydrate alone, and carbohydrate with the water of hydrolysis and 40 percent of"
    " the protein (assumed)",
)
def extract_from_composition(carbohydrate: float, fibre: float, sugars: float, protein: float) -> float:
    r"""Extract of a grain, flour or bread as it is weighed, if all its starch is converted.

    .. math:: E = \tfrac12\left[C - F + S + 1.0556\,(C - F - S) + 0.4\,P\right]

    Parameters
    ----------
    carbohydrate : percent, by difference, fibre included
    fibre : percent
    sugars : percent, those present before mashing
    protein : percent

    Returns
    -------
    percent, of the mass as weighed

    Raises
    ------
    WrongUnitError : an argument is no share.
    OutOfRangeError : a share lies outside 0 to 100 percent.

    Notes
    -----
    An estimate, not a measured extract. The water of hydrolysis is that of maltose, 342.297/324.282 = 1.0556. Fibre
    in grain holds soluble gums that count as extract, so the estimate tends to be low. Unmalted grain also needs
    enzymes, and maize, rice, sorghum and millet need boiling first. Against Balling's table of about 1850, rye and
    barley agree within 1 percent, wheat and maize within 10; rice comes out 11 percent high, and oats, which he
    weighed in the husk, 44 percent high.

    Examples
    --------
    >>> found = extract_from_composition(Q(78.3, "percent"), Q(7.1, "percent"), Q(0.8, "percent"), Q(10.28, "percent"))
    >>> round(found.magnitude, 1)
    75.2

    References
    ----------
    - `usda_sr28`
    """
    starch = max(0.0, carbohydrate - fibre - sugars)
    low = carbohydrate - fibre
    high = sugars + HYDROLYSIS * starch + PROTEIN_DISSOLVED * protein
    return (low + high) / 2


# Mass of maltose from the starch that gives it: molar masses (derived).
HYDROLYSIS = 342.297 / 324.282
# Share of the protein that a mash dissolves: assumed in the estimate; malts print 36 to 42 percent (Kolbach index).
PROTEIN_DISSOLVED = 0.4


@formula(
    extract_dry="percent",
    moisture="percent",
    gives="percent",
    valid={"extract_dry": (0, 100), "moisture": (0, 20)},
    error=0.05,
    error_because="both are printed to 0.1 percent",
    rests_on="mass balance",
)
def laboratory_extract_as_is(extract_dry: float, moisture: float) -> float:
    r"""Laboratory extract of a malt as it is weighed, from the extract of its dry matter.

    .. math:: E = E_{dry}\,(1 - w/100)

    Parameters
    ----------
    extract_dry : percent of dry matter, fine grind
    moisture : percent

    Returns
    -------
    percent, of the mass as weighed

    Raises
    ------
    WrongUnitError : an argument is no share.
    OutOfRangeError : the moisture lies outside 0 to 20 percent.

    Notes
    -----
    A laboratory grinds finer and washes longer than any brewer: what reaches the wort is less, by the mash yield.

    Examples
    --------
    >>> round(laboratory_extract_as_is(Q(80, "percent"), Q(4.5, "percent")).magnitude, 1)
    76.4

    References
    ----------
    - `tgl17756_1966`
    """
    return extract_dry * (1 - moisture / 100)


@formula(
    water="percent",
    gives="percent",
    valid={"water": (0, 100)},
    rests_on="mass balance: all that is not water dissolves",
)
def solids_from_water(water: float) -> float:
    r"""Extract of honey, sugar or syrup: everything in it that is not water.

    .. math:: E = 100 - w

    Parameters
    ----------
    water : percent

    Returns
    -------
    percent, of the mass as weighed

    Raises
    ------
    WrongUnitError : the argument is no share.
    OutOfRangeError : the water lies outside 0 to 100 percent.

    Notes
    -----
    Ash and acids are counted as if they were sugar; in honey they are 0.7 percent together, in molasses 3.3.

    Examples
    --------
    >>> round(solids_from_water(Q(17.1, "percent")).magnitude, 1)
    82.9

    References
    ----------
    - `usda_sr28`
    """
    return 100.0 - water


@formula(
    power="degree_Windisch_Kolbach",
    gives="degree_Lintner",
    valid={"power": (0, 500)},
    rests_on="",
)
def lintner_from_windisch_kolbach(power: float) -> float:
    r"""Starch-splitting power of a malt, from degrees Windisch-Kolbach to degrees Lintner.

    .. math:: L = (W + 16) / 3.5

    Parameters
    ----------
    power : degree_Windisch_Kolbach

    Returns
    -------
    degree_Lintner

    Raises
    ------
    WrongUnitError : the argument is no starch-splitting power in degrees Windisch-Kolbach.
    OutOfRangeError : the power lies outside 0 to 500.

    Notes
    -----
    A malt without enzymes is entered as none, not as nothing in this scale, whose zero is 4.6 degrees Lintner.

    Examples
    --------
    >>> round(lintner_from_windisch_kolbach(Q(200, "degree_Windisch_Kolbach")).magnitude, 1)
    61.7

    References
    ----------
    - `wk_lintner`
    """
    return (power + 16) / 3.5
