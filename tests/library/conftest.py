"""What the library's tests share: a cache of their own, and a library made of copies of one small lesson."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

WRONG = Path(__file__).parents[1] / "lesson" / "wrong"
SMALL = (WRONG / "base.yaml").read_text(encoding="utf-8")
LIBRARY = """name: A library of tests (invented)
law:
  - {say: Ask the council before you pour., look again: 2026-01-31}
  - {say: Nobody under age tastes., look again: 2036-01-31}
series: {one after another: [lesson-00, lesson-01]}
"""

MakeLibrary = Callable[[int], Path]


@pytest.fixture(autouse=True)
def _own_cache(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PRESENTER_CACHE", str(tmp_path_factory.mktemp("cache")))


def fill(folder: Path, count: int) -> Path:
    """A library of so many lessons, each with malt of its own weight, one set of notes and a bibliography."""
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "library.yaml").write_text(LIBRARY, encoding="utf-8")
    for about in ("science", "history"):
        (folder / "notes" / about).mkdir(parents=True, exist_ok=True)
        given = (WRONG / "notes" / about / "few.yaml").read_text(encoding="utf-8")
        (folder / "notes" / about / "few.yaml").write_text(given, encoding="utf-8")
    (folder / "sources.yaml").write_text(
        "unread1900: {title: A book that nothing cites, author: Somebody (invented), issued: 1900, seen: existence}\n",
        encoding="utf-8",
    )
    for number in range(count):
        (folder / f"lesson-{number:02}").mkdir(exist_ok=True)
        text = SMALL.replace("title: A small mash", f"title: Small mash {number}")
        text = text.replace("amount: 3 kg", f"amount: {2.6 + 0.4 * number / max(1, count - 1):.3f} kg")
        (folder / f"lesson-{number:02}" / "lesson.yaml").write_text(text, encoding="utf-8")
    return folder


@pytest.fixture
def make_library(tmp_path: Path) -> MakeLibrary:
    """Make a library of so many lessons in a folder of this test's own."""
    return lambda count: fill(tmp_path / "library", count)
