"""How fast a library is, as ratios in one run; never in seconds.

An ordinary run takes few lessons. In full (60, 300 and 1,000 lessons; several minutes, on a machine at rest)::

    PRESENTER_BENCHMARK=full pytest tests/benchmarks/test_library_speed.py -s
"""

from __future__ import annotations

import json
import math
import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from time import perf_counter, process_time

import pytest

from presenter.lesson import demo_folder
from presenter.library.building import Wanted, build_all
from presenter.library.facts import facts_of_lesson
from presenter.library.index import Index, index_opened
from presenter.library.searching import asked_for, found_in
from presenter.library.shelves import marks_of, shelf_in

FULL = os.environ.get("PRESENTER_BENCHMARK") == "full"
MODEL = demo_folder("lessons_demo") / "netherfold-two-ales" / "lesson.yaml"
ONE_SHEET = Wanted(only=("worksheet",))


@pytest.fixture(autouse=True)
def _own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PRESENTER_CACHE", str(tmp_path / "cache"))


def library_of(folder: Path, count: int) -> Path:
    """The demo library's shared files, and so many lessons like its first, each with malt of its own weight."""
    folder.mkdir()
    for name in ("library.yaml", "sources.yaml"):
        shutil.copy(demo_folder("lessons_demo") / name, folder / name)
    shutil.copytree(demo_folder("lessons_demo") / "notes", folder / "notes")
    text = MODEL.read_text(encoding="utf-8")
    for number in range(count):
        (folder / f"lesson-{number:04}").mkdir()
        changed = text.replace("amount: 3 kg", f"amount: {3 + 0.3 * number / count:.4f} kg")
        changed = changed.replace("title: Two ales", f"title: Brewing {number}, two ales")
        (folder / f"lesson-{number:04}" / "lesson.yaml").write_text(changed, encoding="utf-8")
    return folder


def best_of(call: Callable[[], object], rounds: int = 7) -> float:
    """The shortest of several runs in this process's own time, which others on the machine do not lengthen: only
    ever divided by another. (Nothing here waits: every file is in the machine's memory by the second round.)"""
    shortest = math.inf
    for _ in range(rounds):
        began = process_time()
        call()
        shortest = min(shortest, process_time() - began)
    return shortest


def known_library(folder: Path, count: int, out: Path) -> Index:
    """A library whose index is full: what one worked lesson gives, kept under every name, its sheets said to lie there.

    (To work a thousand lessons in earnest takes minutes, and what is kept would be as large.)
    """
    index = index_opened(shelf_in(library_of(folder, count)))
    index.changed()
    facts = facts_of_lesson(MODEL)
    for lesson in index.shelf.lessons:
        index.keep(lesson, facts)
        (out / lesson.name).mkdir(parents=True)
        (out / lesson.name / "worksheet.pdf").write_bytes(b"%PDF")
        index.ask(
            "REPLACE INTO built VALUES (?,?,?,?)",
            [lesson.name, str(out.resolve()), "", json.dumps({"files": ["worksheet.pdf"], "problems": []})],
        )
    from presenter.library.building import _mark

    for lesson in index.shelf.lessons:
        index.ask(
            "UPDATE built SET mark = ? WHERE lesson = ?", [_mark(index.mark(lesson), ONE_SHEET.mark()), lesson.name]
        )
    index.all_kept()
    return index


def test_a_search_and_a_run_with_nothing_to_do_take_at_most_five_times_hashing(tmp_path: Path) -> None:
    """This test ensures that a search over 1,000 lessons (300 in an ordinary run), and a build with nothing to build,
    each with its own hashing of every file, take at most 5 times as long as hashing the same files alone."""
    out = tmp_path / "out"
    library = tmp_path / "library"
    known_library(library, 1000 if FULL else 300, out)
    files = shelf_in(library).files()

    def search(text: str) -> list[object]:
        index = index_opened(shelf_in(library))
        index.refresh()
        return list(found_in(index, asked_for(text)))

    def build() -> list[str]:
        return [outcome.became for outcome in build_all(index_opened(shelf_in(library)), out, ONE_SHEET)]

    assert len(search("strong ale")) > 100
    assert set(build()) == {"unchanged"}
    hashing = best_of(lambda: marks_of(files))
    asked = ("juniper", "beta amylase", "above 5 percent")
    told = {text: best_of(lambda text=text: search(text)) / hashing for text in asked}  # type: ignore[misc]
    told["nothing changed"] = best_of(build) / hashing
    print({text: round(ratio, 2) for text, ratio in told.items()}, f"of hashing {len(files)} files")
    assert max(told.values()) <= 5.0


def build_seconds(folder: Path, out: Path, workers: int, wanted: Wanted) -> float:
    index = index_opened(shelf_in(folder))
    began = perf_counter()
    became = [outcome.became for outcome in build_all(index, out, wanted, workers=workers, anew=True)]
    took = perf_counter() - began
    assert set(became) == {"built"}
    return took


@pytest.mark.skipif(not FULL, reason="minutes of work: PRESENTER_BENCHMARK=full")
def test_two_workers_are_at_least_1_7_times_as_fast_as_one(tmp_path: Path) -> None:
    """This test ensures that 60 lessons are built at least 1.7 times as fast by two processes as by one."""
    library = library_of(tmp_path / "library", 60)
    one = build_seconds(library, tmp_path / "one", 1, Wanted())
    two = build_seconds(library, tmp_path / "two", 2, Wanted())
    print(f"two workers: {one / two:.2f} times as fast as one")
    assert one / two >= 1.7


@pytest.mark.skipif(not FULL, reason="minutes of work: PRESENTER_BENCHMARK=full")
def test_time_a_lesson_stays_flat_from_10_to_300(tmp_path: Path) -> None:
    """This test ensures that a lesson takes at most 1.3 times as long among 300 as among 10, start-up apart."""
    few, many = library_of(tmp_path / "few", 10), library_of(tmp_path / "many", 300)
    build_seconds(few, tmp_path / "warm", 2, ONE_SHEET)
    short = build_seconds(few, tmp_path / "out-few", 2, ONE_SHEET) / 10
    long = build_seconds(many, tmp_path / "out-many", 2, ONE_SHEET) / 300
    print(f"a lesson among 300 takes {long / short:.2f} times one among 10 (the ten bear the start of two processes)")
    assert long / short <= 1.3


def test_a_process_stays_below_250_megabytes(tmp_path: Path) -> None:
    """This test ensures that building takes less than 250 MB in the main process and in its largest worker."""
    count = 60 if FULL else 4
    library = library_of(tmp_path / "library", count)
    program = (
        "import resource, sys\n"
        "from pathlib import Path\n"
        "from presenter.library.building import Wanted, build_all\n"
        "from presenter.library.index import index_opened\n"
        "from presenter.library.shelves import shelf_in\n"
        "if __name__ == '__main__':\n"
        "    index = index_opened(shelf_in(Path(sys.argv[1])))\n"
        "    became = [one.became for one in build_all(index, Path(sys.argv[2]), Wanted(), workers=2)]\n"
        "    assert set(became) == {'built'}, became\n"
        "    print(*(resource.getrusage(who).ru_maxrss for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)))\n"
    )
    (tmp_path / "program.py").write_text(program, encoding="utf-8")
    done = subprocess.run(
        [sys.executable, str(tmp_path / "program.py"), str(library), str(tmp_path / "out")],
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    largest = max(int(kilobytes) / 1000 for kilobytes in done.stdout.split())
    print(f"largest process: {largest:.0f} MB over {count} lessons")
    assert largest < 250
