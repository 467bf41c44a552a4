"""The formula index: every formula of this package and what each was checked against.

In: nothing; the formulas' own docstrings, and ``tables/checks.yaml``, which the tests write and compare with.
Out: every :class:`Formula` by name, and its recorded :class:`Check` values.
"""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

import yaml

import presenter.science
from presenter.science.formula import FORMULAS, Formula

__all__ = ["KINDS_OF_CHECK", "Check", "every_formula", "recorded_checks"]

KINDS_OF_CHECK = ("published", "library", "common practice", "balance", "closed form", "fitted")
"""How a formula was compared. "fitted" points are those it was made from: they show the fit and settle nothing."""


@dataclass(frozen=True)
class Check:
    """One comparison of a formula with something outside it.

    ``kind`` is one of :data:`KINDS_OF_CHECK`; ``against`` is a source key for a published check, otherwise the
    library, the practice or the balance in words. ``worst_miss`` and ``tolerance`` are in ``unit``, which is
    "share of the value" where the comparison is relative, or what the check itself names. ``test`` names the test
    that measured it.
    """

    formula: str
    kind: str
    against: str
    what: str
    points: int
    worst_miss: float
    worst_at: str
    tolerance: float
    unit: str
    because: str
    test: str


@cache
def every_formula() -> Mapping[str, Formula]:
    """Every formula by name, in the order of the alphabet, all modules of the package read."""
    for module in pkgutil.iter_modules(presenter.science.__path__):
        importlib.import_module(f"presenter.science.{module.name}")
    return dict(sorted(FORMULAS.items()))


@cache
def recorded_checks() -> Mapping[str, tuple[Check, ...]]:
    """The recorded checks of each formula. A formula without any is not in the mapping."""
    path = files("presenter.science").joinpath("tables", "checks.yaml")
    records = yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.CSafeLoader) or {}
    return {name: tuple(Check(formula=name, **record) for record in found) for name, found in records.items()}
