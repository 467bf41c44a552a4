"""Building a whole library: only what changed, nothing stopped by one broken lesson, and a catalogue."""

from __future__ import annotations

import os
from pathlib import Path

from presenter.library.building import Outcome, Wanted, build_all
from presenter.library.catalogue import catalogue_text, release_catalogue
from presenter.library.index import Index, index_opened
from presenter.library.pooled import in_processes
from presenter.library.shelves import shelf_in

ONE_SHEET = Wanted(only=("worksheet",))


def outcomes(index: Index, out: Path, wanted: Wanted = ONE_SHEET, workers: int = 1) -> dict[str, Outcome]:
    return {outcome.lesson: outcome for outcome in build_all(index, out, wanted, workers=workers)}


def became(found: dict[str, Outcome]) -> dict[str, str]:
    return {name: outcome.became for name, outcome in found.items()}


def test_a_broken_lesson_stops_no_other(make_library, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    """This test ensures that four of five lessons are built over two processes while the fifth tells its problem."""
    library = make_library(5)
    (library / "lesson-02" / "lesson.yaml").write_text("title: [\n", encoding="utf-8")
    index = index_opened(shelf_in(library))
    found = outcomes(index, tmp_path / "out", workers=2)
    assert sorted(became(found).values()) == ["built"] * 4 + ["problems"]
    assert "lesson-02" in found["lesson-02"].told[0]
    for name, outcome in found.items():
        sheet = tmp_path / "out" / name / "worksheet.pdf"
        assert sheet.is_file() == (name != "lesson-02")
        assert [Path(one.path) for one in outcome.sheets] == ([sheet] if name != "lesson-02" else [])
    again = outcomes(index, tmp_path / "out")
    assert sorted(became(again).values()) == ["problems"] + ["unchanged"] * 4
    assert again["lesson-02"].told == found["lesson-02"].told


def test_only_what_changed_is_built_again(make_library, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    """This test ensures that a change, a lost sheet, another wish or a used note builds just what it touches."""
    library, out = make_library(3), tmp_path / "out"
    index = index_opened(shelf_in(library))
    assert set(became(outcomes(index, out)).values()) == {"built"}
    assert set(became(outcomes(index, out)).values()) == {"unchanged"}
    assert set(became(outcomes(index, tmp_path / "elsewhere")).values()) == {"built"}
    lesson = library / "lesson-01" / "lesson.yaml"
    lesson.write_text(lesson.read_text(encoding="utf-8").replace("hold: 60 min", "hold: 70 min"), encoding="utf-8")
    os.utime(library / "lesson-00" / "lesson.yaml")
    (out / "lesson-02" / "worksheet.pdf").unlink()
    assert became(outcomes(index, out)) == {"lesson-00": "unchanged", "lesson-01": "built", "lesson-02": "built"}
    assert set(became(outcomes(index, out, Wanted(only=("worksheet",), paper="Letter"))).values()) == {"built"}
    (library / "templates").mkdir()
    (library / "templates" / "worksheet.md.j2").write_text("# Own\n\n{{ sheet.sheet_cautions() }}\n", encoding="utf-8")
    index = index_opened(shelf_in(library))
    assert set(became(outcomes(index, out)).values()) == {"built"}


def test_a_template_without_its_caution_is_a_problem_of_every_lesson(make_library, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    """This test ensures that building all releases no sheet that lacks a mandatory caution."""
    library = make_library(2)
    (library / "templates").mkdir()
    (library / "templates" / "worksheet.md.j2").write_text("# Bare\n", encoding="utf-8")
    found = outcomes(index_opened(shelf_in(library)), tmp_path / "out")
    assert set(became(found).values()) == {"problems"}
    assert "lacks the mandatory caution" in found["lesson-00"].told[0]
    assert not list((tmp_path / "out").rglob("*.pdf"))


def test_the_sheets_are_those_of_a_single_build(make_library, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    """This test ensures that a sheet built with the library is the same, byte for byte, as one built alone."""
    library = make_library(1)
    first = outcomes(index_opened(shelf_in(library)), tmp_path / "one")
    second = outcomes(index_opened(shelf_in(library)), tmp_path / "two")
    assert set(became(first | second).values()) == {"built"}
    sheets = [(tmp_path / where / "lesson-00" / "worksheet.pdf").read_bytes() for where in ("one", "two")]
    assert sheets[0] == sheets[1]


def test_the_catalogue_has_one_entry_a_lesson(make_library, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    """This test ensures that each lesson stands once in the catalogue, with strength, length, law and its problems."""
    library = make_library(3)
    (library / "lesson-01" / "lesson.yaml").write_text("title: Broken\nscene: None\n", encoding="utf-8")
    index = index_opened(shelf_in(library))
    outcomes(index, tmp_path / "out")
    text = catalogue_text(index)
    assert text.count("\n## ") == 4  # the lessons, and the series
    assert "**Not ready.** This lesson still has problems" in text
    assert "% vol" in text
    assert "then 7 days" in text
    assert "Ask the council before you pour." in text
    released = release_catalogue(index, tmp_path / "out")
    assert released.path == tmp_path / "out" / "catalogue.pdf"
    assert released.path.read_bytes().startswith(b"%PDF")


def doubled(number: int) -> int:
    """Twice a number; two numbers break down, each in its own way."""
    if number == 13:
        os._exit(9)
    if number == 7:
        raise ZeroDivisionError("seven")
    return 2 * number


def test_a_process_that_dies_takes_no_other_work_with_it() -> None:
    """This test ensures that a process that ends or breaks down is told of alone, and all other work is done."""
    jobs = {str(number): number for number in (1, 2, 13, 7, 5)}
    found = dict(in_processes(doubled, jobs, 2))
    assert {name: gave for name, gave in found.items() if not isinstance(gave, str)} == {"1": 2, "2": 4, "5": 10}
    assert found["13"] == "The work on this lesson stopped without a word; was there enough memory?"
    assert found["7"] == "The work on this lesson broke down, which is a mistake of the program itself: seven"
