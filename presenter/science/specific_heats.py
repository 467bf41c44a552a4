"""Specific heats of the walls of vessels and of dry goods, from a table that says how firmly it knows them.

In: what a thing is made of. Out: kJ/(kg degC) and its give-or-take. All from memory: never printed as published.
"""

from __future__ import annotations

from functools import cache

from presenter.science.composition import table

__all__ = ["specific_heat_of_dry_goods", "specific_heat_of_wall"]


@cache
def _figures() -> dict[str, float]:
    """Every name of the table, further names included, with its figure."""
    return {
        str(name): float(row["specific_heat"])
        for row in table("specific_heats")["rows"]
        for name in (row["of"], *row.get("also", ()))
    }


def specific_heat_of_wall(material: str) -> tuple[float, float]:
    """The specific heat of a vessel's wall and its give-or-take; that of an unnamed material where it is not known.

    >>> specific_heat_of_wall("stainless steel")
    (0.5, 0.125)
    """
    figure = _figures().get(material, _figures()["an unnamed material"])
    return figure, figure * float(table("specific_heats")["give_or_take"])


def specific_heat_of_dry_goods() -> float:
    """The specific heat of sugar, starch and fibre without water.

    >>> specific_heat_of_dry_goods()
    1.4
    """
    return _figures()["dry goods"]
