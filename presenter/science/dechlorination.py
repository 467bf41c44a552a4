"""Dechlorination: how much of which salt takes chlorine out of brewing water.

In: volume, chlorine, a salt by name. Out: milligrams. Only salts meant for drinking water have a dose.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from presenter.problems import BrewingPresenterError
from presenter.science.formula import formula
from presenter.science.published_tables import published_table

__all__ = [
    "DechlorinationSalt",
    "NotForDrinkingWaterError",
    "dechlorination_dose",
    "dechlorination_salts",
    "salt_for_drinking_water",
]


CHLORINE_MOLAR_MASS = 70.906
"""Grams in a mole of chlorine, to which doses are reckoned."""


class NotForDrinkingWaterError(BrewingPresenterError):
    """The salt takes out chlorine but is not meant for drinking water; the message names those that are."""


@dataclass(frozen=True)
class DechlorinationSalt:
    """A salt meant for drinking water: milligrams for each milligram of chlorine, and where that comes from.

    ``source`` is empty where the dose is derived from molar masses alone.
    """

    name: str
    dose: float
    source: str
    theory: float


@cache
def dechlorination_salts() -> dict[str, DechlorinationSalt]:
    """The salts meant for drinking water, by name."""
    found = {}
    for row in published_table("dechlorination_doses").rows:
        if "molar_mass" in row:
            theory = float(row["molar_mass"]) / (float(row["chlorine_per_mole"]) * CHLORINE_MOLAR_MASS)
            dose, source = (float(row["dose"]), str(row["source"])) if "dose" in row else (theory, "")
            found[str(row["salt"])] = DechlorinationSalt(str(row["salt"]), dose, source, theory)
    return found


def salt_for_drinking_water(name: str) -> DechlorinationSalt:
    """The salt called ``name``; raises NotForDrinkingWaterError where it is not one meant for drinking water."""
    found = dechlorination_salts().get(name)
    if found is None:
        meant = ", ".join(dechlorination_salts())
        raise NotForDrinkingWaterError(f"{name} is not a salt for taking chlorine out of drinking water; use {meant}")
    return found


@formula(
    volume="litre",
    chlorine="milligram / litre",
    dose_per_chlorine="dimensionless",
    gives="milligram",
    valid={"chlorine": (0.0, 5.0), "dose_per_chlorine": (1.0, 3.0)},
    relative_error=0.1,
    error_because="measured field doses of sulfite salts run 10 percent over theory",
)
def dechlorination_dose(volume: float, chlorine: float, dose_per_chlorine: float) -> float:
    r"""Salt that takes the chlorine out of brewing water.

    .. math:: m = V\,c\,d

    Parameters
    ----------
    volume : litre, of water
    chlorine : milligram / litre, free chlorine or chloramine, as chlorine
    dose_per_chlorine : dimensionless, milligrams of the salt for each milligram of chlorine

    Returns
    -------
    milligram

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the chlorine lies outside 0 to 5 mg/L or the dose outside 1 to 3.

    Notes
    -----
    Valid for tap water within its limits; a matter of taste, not of health. A person with sulfite asthma is told of
    sulfites.

    Examples
    --------
    >>> round(dechlorination_dose(Q(20, "L"), Q(1, "mg/L"), Q(1.47, "dimensionless")).magnitude, 1)
    29.4

    References
    ----------
    - `awwa_table72`
    """
    return volume * chlorine * dose_per_chlorine
