"""How a science test compares a formula with the outside world, and how the comparison is kept.

``compared`` measures the worst miss, fails where it passes the tolerance, and holds it to the record in
``presenter/science/tables/checks.yaml``, from which the formula index is printed. After a change that moves a
miss on purpose: ``pytest tests/science --update-checks``, then read the difference.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import asdict
from pathlib import Path
from typing import Any

import pytest
import yaml

from presenter.science.formula import Formula
from presenter.science.formula_index import KINDS_OF_CHECK, Check, recorded_checks

RECORD = Path(__file__).parents[2] / "presenter" / "science" / "tables" / "checks.yaml"
HEAD = """\
# What each formula was checked against, the worst miss and the tolerance. Written by the tests: do not edit.
# Refresh with: pytest tests/science --update-checks
"""
MEASURED: pytest.StashKey[list[Check]] = pytest.StashKey()


@pytest.fixture
def published() -> Callable[[str], list[dict[str, str]]]:
    """The rows of one file in ``tests/science/published``, every figure as text, as its source printed it."""

    def rows_of(name: str) -> list[dict[str, str]]:
        path = Path(__file__).parent / "published" / f"{name}.yaml"
        return list(yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.CSafeLoader)["rows"])

    return rows_of


@pytest.fixture
def half_last_digit() -> Callable[[str], float]:
    """Half of the last digit of a printed figure: "1.00039" gives 0.000005."""

    def half(printed: str) -> float:
        return 0.5 * 10.0 ** -len(printed.partition(".")[2])

    return half


def _three_digits(value: float) -> float:
    """``value`` to three digits, and nothing where only the machine's last bits are left."""
    if value < 1e-11:
        return 0.0
    return round(value, 2 - math.floor(math.log10(value)))


@pytest.fixture
def compared(request: pytest.FixtureRequest) -> Callable[..., None]:
    """Compare a formula's answers with figures from outside and hold the worst miss to its tolerance and record."""

    def compare(
        formula: Formula,
        points: Iterable[tuple[object, float, float]],
        *,
        kind: str,
        against: str,
        what: str,
        tolerance: float,
        because: str,
        relative: bool = False,
        unit: str = "",
    ) -> None:
        """``points`` are (label, worked, expected); ``relative`` divides each miss by the expected figure;
        ``unit`` is for a check that compares something else than the formula's own answer."""
        assert kind in KINDS_OF_CHECK
        misses = [
            (float(abs(worked - expected) / (abs(expected) if relative else 1.0)), str(label))
            for label, worked, expected in points
        ]
        assert misses, f"{formula.name}: nothing was compared"
        worst, where = max(misses)
        check = Check(
            formula=formula.name,
            kind=kind,
            against=against,
            what=what,
            points=len(misses),
            worst_miss=_three_digits(worst),
            worst_at=where,
            tolerance=float(tolerance),
            unit=unit or ("share of the value" if relative else formula.gives),
            because=because,
            test=f"{request.path.name}::{request.function.__name__}",
        )
        assert worst <= tolerance, f"{formula.name} misses {against} by {worst:.3g} at {where}, over {tolerance:.3g}"
        if request.config.getoption("--update-checks", default=False):
            request.config.stash.setdefault(MEASURED, []).append(check)
            return
        known = [c for c in recorded_checks().get(formula.name, ()) if (c.test, c.what) == (check.test, what)]
        assert known, f"{formula.name}: this check is not in checks.yaml; run pytest tests/science --update-checks"
        assert check.worst_miss == pytest.approx(known[0].worst_miss, rel=0.02, abs=1e-10), (
            f"{formula.name}: the recorded miss against {against} is {known[0].worst_miss}, measured"
            f" {check.worst_miss}; if that is meant, run pytest tests/science --update-checks"
        )
        stated = [getattr(known[0], field) for field in ("kind", "against", "points", "tolerance", "unit", "because")]
        assert stated == [kind, against, check.points, tolerance, check.unit, because]

    return compare


def _record_of(check: Check) -> dict[str, Any]:
    return {field: value for field, value in asdict(check).items() if field != "formula"}


def pytest_sessionfinish(session: pytest.Session) -> None:
    """Write what was measured, replacing what the same test files had measured before."""
    measured = session.config.stash.get(MEASURED, [])
    if not measured:
        return
    renewed = {check.test.partition("::")[0] for check in measured}
    kept = [c for found in recorded_checks().values() for c in found if c.test.partition("::")[0] not in renewed]
    records: dict[str, list[dict[str, Any]]] = {}
    for check in sorted([*kept, *measured], key=lambda c: (c.formula, c.test, c.what)):
        records.setdefault(check.formula, []).append(_record_of(check))
    text = yaml.safe_dump(records, sort_keys=False, allow_unicode=True, width=10_000)
    RECORD.write_text(HEAD + text, encoding="utf-8")
