"""Alcohol in a serving as standard drinks, each country by its own grams with source and year.

In: grams of alcohol and a country's grams. Out: a count of that country's drinks. No estimate of anything in a
person's blood is made here or anywhere.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from presenter.science.formula import formula
from presenter.science.published_tables import published_table

__all__ = [
    "StandardDrink",
    "standard_drink_countries",
    "standard_drinks",
]


@dataclass(frozen=True)
class StandardDrink:
    """One country's standard drink: grams of alcohol, the source that says so, what others say, and who says so too."""

    country: str
    grams: float
    source: str
    note: str
    also: tuple[str, ...] = ()


@cache
def standard_drink_countries() -> dict[str, StandardDrink]:
    """Every standard drink that a source was read for, by country; figures from memory are left out."""
    return {
        str(row["country"]): StandardDrink(
            str(row["country"]),
            float(row["grams"]),
            str(row["source"]),
            str(row.get("note", "")),
            tuple(str(key) for key in row.get("also", ())),
        )
        for row in published_table("standard_drinks").rows
    }


@formula(
    alcohol="gram",
    grams_per_drink="gram",
    gives="alcohol_unit",
    valid={"alcohol": (0.0, 1000.0), "grams_per_drink": (5.0, 25.0)},
    relative_error=0.013,
    error_because="10 mL of alcohol are 7.9 g where 8 is said",
    rests_on="a country's own definition of a drink",
)
def standard_drinks(alcohol: float, grams_per_drink: float) -> float:
    r"""Standard drinks in a serving, by one country's definition.

    .. math:: n = m / m_\text{country}

    Parameters
    ----------
    alcohol : gram
    grams_per_drink : gram, of the country's standard drink

    Returns
    -------
    alcohol_unit

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the alcohol lies outside 0 to 1000 g or the drink outside 5 to 25 g.

    Notes
    -----
    Valid for the country that the grams were taken from, which is named wherever the number stands. It says what is
    in the glass and nothing about who drinks it.

    Examples
    --------
    >>> round(standard_drinks(Q(19.7, "gram"), Q(8, "gram")).magnitude, 2)
    2.46

    References
    ----------
    - `std_enc`
    """
    return alcohol / grams_per_drink
