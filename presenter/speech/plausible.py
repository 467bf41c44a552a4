"""Numbers of a talk that no lesson stands behind, held against what can be.

In: a sentence and what was heard in it. Out: for each quantity beyond its range, what it is about and the range.
"""

from __future__ import annotations

import functools
import re
from importlib.resources import files
from typing import Any, NamedTuple

import yaml

from presenter.speech.agreement import line_between
from presenter.speech.hearing import Heard

__all__ = ["Beyond", "beyond", "ranges"]


class Beyond(NamedTuple):
    """A quantity beyond its range: what it is about, why, and what to say instead."""

    about: str
    why: str
    say_instead: str


class _Range(NamedTuple):
    id: str
    names: re.Pattern[str]
    unless: re.Pattern[str] | None
    unit: str
    low: float
    high: float


@functools.cache
def ranges() -> list[dict[str, Any]]:
    """The table as it stands in the file."""
    text = files("presenter.speech").joinpath("plausible.yaml").read_text(encoding="utf-8")
    loaded: list[dict[str, Any]] = yaml.load(text, Loader=getattr(yaml, "CBaseLoader", yaml.BaseLoader))["ranges"]
    return loaded


@functools.cache
def _ranges() -> tuple[_Range, ...]:
    return tuple(
        _Range(
            row["id"],
            re.compile(rf"\b(?:{row['names']})"),
            re.compile(rf"\b(?:{row['unless']})") if row["unless"] else None,
            row["unit"],
            float(row["low"]),
            float(row["high"]),
        )
        for row in ranges()
    )


def beyond(text: str, quantity: Heard) -> Beyond | None:
    """The range that ``quantity`` lies beyond, or nothing. Degrees whose scale was not said may be of either scale."""
    lower = text.lower()
    for row in _ranges():
        values = _values(quantity, row.unit)
        if not values or row.names.search(lower) is None or (row.unless is not None and row.unless.search(lower)):
            continue
        if any(row.low <= value <= row.high for value in values):
            continue
        unit = {"degC": "degrees Celsius", "gravity": "", "pH": "", "volume_co2": "volumes"}.get(
            row.unit, f"{row.unit}s"
        )
        unit = "percent" if row.unit == "percent" else unit
        span = f"{row.low:g} to {row.high:g} {unit}".strip()
        return Beyond(
            row.id, f"the {row.id} lies between {span}", f"Look this up again: the {row.id} lies between {span}."
        )
    return None


def _values(quantity: Heard, wanted: str) -> list[float]:
    """The value in ``wanted``, once for each scale that may be meant; empty where it measures something else."""
    units = ["degC", "degF"] if quantity.unit == "degree_bare" else [quantity.unit]
    if quantity.unit == wanted:
        return [quantity.middle]
    if "year" in quantity.unit or quantity.unit == "fortnight" or "/" in quantity.unit:
        return []
    lines = [line_between(unit, wanted) for unit in units]
    return [line[0] + line[1] * quantity.middle for line in lines if line is not None]
