"""What all tests share: the demo lesson worked once, and the options that refresh recorded results."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest

from presenter.cautions import Cautioned, cautions_of
from presenter.lesson import load_lesson
from presenter.working import WorkedLesson, work_out

DEMO = Path(__file__).parents[1] / "lessons_demo" / "netherfold-two-ales"


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--update-golden", action="store_true", help="write golden texts anew; read the difference")
    parser.addoption("--every-sheet", action="store_true", help="print and check every sheet on every paper")
    parser.addoption("--update-checks", action="store_true", help="write the measured misses to checks.yaml")


@pytest.fixture(scope="session")
def netherfold() -> WorkedLesson:
    """The demo lesson, worked."""
    return work_out(load_lesson(DEMO))


@pytest.fixture(scope="session")
def netherfold_cautioned(netherfold: WorkedLesson) -> Cautioned:
    """The demo lesson's cautions."""
    return cautions_of(netherfold)


DEMO_LESSONS = sorted(path.parent for path in DEMO.parent.glob("*/lesson.yaml"))


@cache
def _worked(folder: Path) -> tuple[WorkedLesson, Cautioned]:
    worked = work_out(load_lesson(folder))
    return worked, cautions_of(worked)


@pytest.fixture(scope="session", params=DEMO_LESSONS, ids=lambda folder: folder.name)
def demo(request: pytest.FixtureRequest) -> tuple[WorkedLesson, Cautioned]:
    """Each demo lesson in turn, worked once for all tests, with its cautions."""
    return _worked(request.param)


@pytest.fixture
def golden(request: pytest.FixtureRequest) -> Callable[[Path, str], None]:
    """Compare a text with the one kept in a file; with --update-golden, keep the new one."""

    def compare(path: Path, text: str) -> None:
        if request.config.getoption("--update-golden"):
            path.write_text(text, encoding="utf-8")
        assert path.read_text(encoding="utf-8") == text

    return compare
