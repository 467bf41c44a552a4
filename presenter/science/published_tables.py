"""Published tables: rows as numbers, read once, each table beside its source in ``tables/``.

In: a table's name. Out: :class:`PublishedTable`, and straight lines between its rows.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

import yaml

__all__ = ["PublishedTable", "between_rows", "published_table"]


@dataclass(frozen=True)
class PublishedTable:
    """One published table: where it comes from and its rows, in the order of the file."""

    name: str
    source: str
    place: str
    rows: tuple[Mapping[str, Any], ...]

    def column(self, name: str) -> tuple[float, ...]:
        """One column as numbers, for the rows that have it; read once, since walks ask for it often."""
        return _column(self.name, name)


@cache
def published_table(name: str) -> PublishedTable:
    """The table ``tables/<name>.yaml``, read once."""
    text = files("presenter.science").joinpath("tables", f"{name}.yaml").read_text(encoding="utf-8")
    record = yaml.load(text, Loader=yaml.CSafeLoader)
    return PublishedTable(name, record.get("source", ""), str(record.get("place", "")), tuple(record["rows"]))


@cache
def _column(table: str, name: str) -> tuple[float, ...]:
    return tuple(float(row[name]) for row in published_table(table).rows if name in row)


def between_rows(at: float, known: Sequence[float], values: Sequence[float]) -> float:
    """The value at ``at`` on straight lines through rising ``known`` points, the end lines carried on."""
    after = min(max(bisect_right(known, at), 1), len(known) - 1)
    low, high = known[after - 1], known[after]
    return values[after - 1] + (values[after] - values[after - 1]) * (at - low) / (high - low)
