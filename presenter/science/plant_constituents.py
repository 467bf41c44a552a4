"""Regulated constituents of brewing herbs: the most a drink can hold, against published limits and intake values.

In: weights of a plant, its published content, volumes. Out: milligrams, always the most there can be; and for each
plant what is not known. A value is never guessed: where no content was read, nothing is worked out.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

import yaml

from presenter.science.formula import formula

__all__ = [
    "Constituent",
    "ConstituentLimit",
    "constituent_in_drink",
    "constituent_in_measure",
    "constituent_of",
    "look_alikes_of",
    "tolerable_in_a_day",
]

ADULT = 60.0
"""Kilograms of the adult for whom European authorities work out such values."""


@dataclass(frozen=True)
class ConstituentLimit:
    """A published limit: milligrams in a kilogram of drink, what it is for, and its source."""

    most: float
    what_for: str
    source: str


@dataclass(frozen=True)
class Constituent:
    """One regulated constituent of a plant. ``most`` is mg in a kilogram of the plant, None where none was read;
    ``intake`` mg a day for a kilogram of the person; ``gap`` says in sentences what is not known."""

    name: str
    most: float | None
    basis: str
    source: str
    intake: float | None
    intake_source: str
    limits: tuple[ConstituentLimit, ...]
    gap: str


@cache
def _tables() -> Any:
    text = files("presenter.science").joinpath("tables", "plant_constituents.yaml").read_text(encoding="utf-8")
    return yaml.load(text, Loader=yaml.CSafeLoader)


@cache
def constituent_of(plant: str) -> Constituent | None:
    """What is known of the regulated constituent of the plant with this key, or nothing."""
    for row in _tables()["rows"]:
        if plant in row["plants"]:
            return Constituent(
                name=row["constituent"],
                most=None if "most" not in row else float(row["most"]),
                basis=row.get("basis", ""),
                source=row.get("source", ""),
                intake=None if "intake" not in row else float(row["intake"]),
                intake_source=row.get("intake_source", ""),
                limits=tuple(ConstituentLimit(float(one["most"]), one["for"], one["source"]) for one in row["limits"]),
                gap=row["gap"],
            )
    return None


@cache
def look_alikes_of(plant: str) -> tuple[str, str]:
    """What is easily taken for the plant, in words, and the source for it; both empty where nothing is listed."""
    for row in _tables()["look_alikes"]:
        if plant in row["plants"]:
            return row["taken_for"], row.get("source", "")
    return "", ""


@formula(
    plant="kilogram",
    content="milligram / kilogram",
    volume="litre",
    gives="milligram / litre",
    valid={"plant": (0.0, 100.0), "content": (0.0, 1e6), "volume": (0.001, 1e4)},
    rests_on="mass balance; all of it counted as if it went into the drink",
)
def constituent_in_drink(plant: float, content: float, volume: float) -> float:
    r"""The most of a constituent that a litre of drink can hold.

    .. math:: c = m\,w / V

    Parameters
    ----------
    plant : kilogram, as weighed, all of it
    content : milligram / kilogram, of the plant, at most
    volume : litre, of drink

    Returns
    -------
    milligram / litre

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : an argument lies outside its range, or there is no drink.

    Notes
    -----
    Valid as an upper bound: what stays in the leaves, is boiled off or is lost with the dregs is counted too.

    Examples
    --------
    >>> round(constituent_in_drink(Q(5, "gram"), Q(10000, "mg/kg"), Q(10, "L")).magnitude, 1)
    5.0

    References
    ----------
    Mass balance; holds no measured constant.
    """
    return plant * content / volume


@formula(
    concentration="milligram / litre",
    measure="litre",
    gives="milligram",
    rests_on="mass balance",
)
def constituent_in_measure(concentration: float, measure: float) -> float:
    r"""The most of a constituent in one measure of drink.

    .. math:: m = c\,V

    Parameters
    ----------
    concentration : milligram / litre, at most
    measure : litre

    Returns
    -------
    milligram

    Raises
    ------
    WrongUnitError : an argument has another dimension.

    Notes
    -----
    Valid for a well-mixed drink.

    Examples
    --------
    >>> round(constituent_in_measure(Q(5, "mg/L"), Q(100, "mL")).magnitude, 2)
    0.5

    References
    ----------
    Mass balance; holds no measured constant.
    """
    return concentration * measure


@formula(
    intake="milligram / kilogram",
    person="kilogram",
    gives="milligram",
    valid={"person": (40.0, 150.0)},
    rests_on="how the published intake value is defined",
)
def tolerable_in_a_day(intake: float, person: float) -> float:
    r"""Milligrams a day that a published intake value comes to for an adult.

    .. math:: m = i\,M

    Parameters
    ----------
    intake : milligram / kilogram, a day, of the person
    person : kilogram

    Returns
    -------
    milligram

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the person weighs less than 40 kg or more than 150 kg: no child is meant.

    Notes
    -----
    Valid for adults from every food of a day together. A line of authorities, not a dose to reach, and none for
    children, in pregnancy or in illness.

    Examples
    --------
    >>> round(tolerable_in_a_day(Q(0.1, "mg/kg"), Q(60, "kg")).magnitude, 1)
    6.0

    References
    ----------
    - `bfr_2012`
    """
    return intake * person
