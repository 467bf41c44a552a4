"""Speed is measured alone: where tests run two at a time, the benchmarks are left out, with this reason."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

HERE = Path(__file__).parent


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Skip what lies in this folder where another process shares the cores."""
    if "PYTEST_XDIST_WORKER" not in os.environ:
        return
    for item in items:
        if HERE in item.path.parents:
            item.add_marker(pytest.mark.skip(reason="speed ratios are taken alone: pytest tests/benchmarks"))
