"""How heard quantities are scored against the labelled sentences.

In: a labelled file's sentences and an extractor. Out: :class:`Score`, counts alone, so that the sentences kept aside
can be scored without being shown. The rule is the one at the head of ``heard/open.yaml``.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pint
import yaml

from presenter.quantities import Q

HERE = Path(__file__).parent
SAME = {"degree_bare": "degC", "delta_degree_bare": "degC", "delta_degC": "degC", "delta_degF": "degF"}


@dataclass(frozen=True)
class Said:
    """What an extractor gave: a place, a value or a range, a unit."""

    start: int
    end: int
    numbers: tuple[float, ...]
    unit: str


@dataclass(frozen=True)
class Score:
    """Labels found, labels missed, and quantities heard where none is labelled."""

    found: int
    missed: int
    false: int

    @property
    def recall(self) -> float:
        """The share of the labels that were found."""
        return self.found / (self.found + self.missed)

    @property
    def precision(self) -> float:
        """The share of what was heard that answers a label."""
        return self.found / max(1, self.found + self.false)


def sentences(part: str) -> list[dict[str, Any]]:
    """The labelled sentences of a part, open or kept_aside."""
    read: dict[str, Any] = yaml.safe_load((HERE / "heard" / f"{part}.yaml").read_text(encoding="utf-8"))
    labelled: list[dict[str, Any]] = read["sentences"]
    return labelled


def converted(value: float, unit: str, wanted: str) -> float | None:
    """``value`` in the label's unit, or nothing where the units are of different kinds."""
    upper, _, lower = unit.partition(" / ")
    wanted_upper, _, wanted_lower = wanted.partition(" / ")
    first = f"{SAME.get(upper, upper)} / {lower}" if lower else SAME.get(upper, upper)
    second = (
        f"{SAME.get(wanted_upper, wanted_upper)} / {wanted_lower}"
        if wanted_lower
        else SAME.get(wanted_upper, wanted_upper)
    )
    if first == second:
        return value
    if "year" in (unit, wanted):
        return None
    try:
        return float(Q(value, first).to(second).magnitude)
    except (pint.PintError, AttributeError, TypeError):  # another extractor's unit names need not be expressions
        return None


def answers(said: Said, label: dict[str, Any], start: int) -> bool:
    """Whether what was heard overlaps the label's words and agrees with its numbers."""
    if said.end <= start or said.start >= start + len(label["words"]):
        return False
    wanted = [label[key] for key in ("value", "low", "high") if key in label]
    if len(wanted) != len(said.numbers):
        return False
    slack = 1e-4 if label["unit"] == "gravity" else None
    for number, want in zip(said.numbers, wanted, strict=True):
        value = converted(number, said.unit, label["unit"])
        if value is None or abs(value - want) > (abs(want) * 1e-3 if slack is None else slack):
            return False
    return True


def score(items: list[dict[str, Any]], extract: Callable[[str], list[Said]]) -> Score:
    """Score an extractor over labelled sentences; each quantity answers at most one label."""
    found = missed = false = 0
    for item in items:
        given, used, place = extract(item["text"]), set(), 0
        for label in item["heard"]:
            start = item["text"].index(label["words"], place)
            place = start + len(label["words"])
            match = next((i for i, said in enumerate(given) if i not in used and answers(said, label, start)), None)
            if match is None:
                missed += 1
            else:
                found += 1
                used.add(match)
        false += len(given) - len(used)
    return Score(found, missed, false)
