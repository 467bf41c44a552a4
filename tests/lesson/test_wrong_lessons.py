"""Wrong lessons, each beside the whole text of what an author is told about it.

In: ``wrong/NAME.yaml``, made from ``wrong/base.yaml`` by one change (or two), and ``wrong/NAME.expected.txt``.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from presenter.lesson import load_lesson
from presenter.problems import ProblemsFoundError
from presenter.working import work_out

WRONG = Path(__file__).parent / "wrong"
NAMES = sorted(path.name.removesuffix(".expected.txt") for path in WRONG.glob("*.expected.txt"))
# Two mistakes, or a step that fails beside another: all told at once. Every other lesson holds one mistake.
TWO_PROBLEMS = {"two_mistakes", "two_steps_fail", "shape_and_note"}
PYTHON = re.compile(r"<class|Traceback|None\b|True\b|False\b|\bdict\b|\bstr\b|\[\'|object at|Error\b|pydantic")


def told(name: str) -> str:
    with pytest.raises(ProblemsFoundError) as caught:
        work_out(load_lesson(Path(f"{name}.yaml")))
    return caught.value.told()


@pytest.fixture(autouse=True)
def _beside_the_lessons(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(WRONG)


def test_base_lesson_is_right() -> None:
    """This test ensures that the lesson from which the wrong ones are made has no problem of its own."""
    worked = work_out(load_lesson(Path("base.yaml")))
    assert worked.said["mash"] == "We hold it at sixty-seven degrees."


@pytest.mark.parametrize("name", NAMES)
def test_wrong_lesson_is_told_in_full(name: str, golden: Callable[[Path, str], None]) -> None:
    """This test ensures that an author is told the whole sentences that stand beside the wrong lesson."""
    golden(WRONG / f"{name}.expected.txt", told(name) + "\n")


@pytest.mark.parametrize("name", NAMES)
def test_one_mistake_gives_one_problem(name: str) -> None:
    """This test ensures that one mistake gives one problem, and two mistakes two, in the order of the file."""
    with pytest.raises(ProblemsFoundError) as caught:
        work_out(load_lesson(Path(f"{name}.yaml")))
    problems = caught.value.problems
    assert len(problems) == (2 if name in TWO_PROBLEMS else 1)
    assert list(problems) == sorted(problems, key=lambda problem: problem.place)


@pytest.mark.parametrize("name", NAMES)
def test_what_was_written_stands_at_the_place_named(name: str) -> None:
    """This test ensures that the file, line and column of a problem lead to the words it quotes."""
    with pytest.raises(ProblemsFoundError) as caught:
        work_out(load_lesson(Path(f"{name}.yaml")))
    for problem in caught.value.problems:
        line = Path(problem.place.file).read_text(encoding="utf-8").split("\n")[problem.place.line - 1]
        assert len(line) >= problem.place.column
        if problem.written and problem.field and not problem.field.endswith(".sources"):
            assert line[problem.place.column - 1 :].startswith((problem.written, f'"{problem.written}'))


@pytest.mark.parametrize("name", NAMES)
def test_sentences_are_whole_and_hold_no_python(name: str) -> None:
    """This test ensures that every sentence ends as one, and that none of them speaks Python."""
    with pytest.raises(ProblemsFoundError) as caught:
        work_out(load_lesson(Path(f"{name}.yaml")))
    for problem in caught.value.problems:
        assert problem.wrong.endswith(".")
        assert problem.remedy == "" or problem.remedy.endswith((".", "?", "}"))
        assert not PYTHON.search(problem.told())


def test_every_wrong_lesson_has_its_expected_text() -> None:
    """This test ensures that no wrong lesson lies here unread."""
    lessons = {path.stem for path in WRONG.glob("*.yaml")} - {"base"}
    assert lessons == set(NAMES)
    assert len(lessons) >= 16


def test_the_file_is_named_as_the_user_gave_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """This test ensures that a problem names the lesson by the path that was given, folders and all."""
    monkeypatch.chdir(WRONG.parent)
    with pytest.raises(ProblemsFoundError) as caught:
        load_lesson(Path("wrong") / "no_unit.yaml")
    assert str(caught.value.problems[0].place) == str(Path("wrong") / "no_unit.yaml") + ":24:13"


def test_broken_notes_and_sources_are_told_with_the_lessons_own_problems(tmp_path: Path) -> None:
    """This test ensures that mistakes in a note, a source and the lesson are told at once, each by its own file."""
    lesson = (WRONG / "no_unit.yaml").read_text(encoding="utf-8")
    (tmp_path / "lesson.yaml").write_text(lesson, encoding="utf-8")
    (tmp_path / "notes" / "science").mkdir(parents=True)
    (tmp_path / "notes" / "science" / "few.yaml").write_text("a-note:\n  title: One\n", encoding="utf-8")
    (tmp_path / "sources.yaml").write_bytes(b"someone1900:\n  title: caf\xe9\n")
    with pytest.raises(ProblemsFoundError) as caught:
        load_lesson(tmp_path)
    places = [str(problem.place) for problem in caught.value.problems]
    assert f"{tmp_path / 'lesson.yaml'}:24:13" in places
    assert f"{tmp_path / 'notes' / 'science' / 'few.yaml'}:1:1" in places
    assert f"{tmp_path / 'sources.yaml'}:2:13" in places


def test_a_missing_lesson_is_a_problem(tmp_path: Path) -> None:
    """This test ensures that a path without a lesson, and a folder with two, are told rather than traced."""
    for given in (tmp_path / "nowhere.yaml", tmp_path):
        with pytest.raises(ProblemsFoundError):
            load_lesson(given)
    for name in ("one.yaml", "two.yaml"):
        (tmp_path / name).write_text("title: x\n", encoding="utf-8")
    with pytest.raises(ProblemsFoundError, match="more than one YAML file"):
        load_lesson(tmp_path)


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        (("do: boil", "do: [boil]"), "A step does one thing."),
        (("  - name: Boil\n    do: boil\n", "  - just boil it\n  - name: Boil\n    do: boil\n"), "A step has keys"),
        (("  - name: Boil\n",
          "  - {name: Early, do: ferment, what: strong, for: 1 day, at: 20 degC}\n  - name: Boil\n"),
         "No yeast has gone into the strong yet."),
        (("  - name: Ferment\n", "  - {name: Late, do: boil, what: strong, for: 5 min}\n  - name: Ferment\n"),
         "Yeast is in the strong already; a boil would kill it and drive off alcohol."),
        (("  - name: Ferment\n", "  - {name: Twice, do: pitch, what: strong, with: yeast}\n  - name: Ferment\n"),
         "Yeast is in the strong already."),
        (("    call it: strong", "    call it: strong\n  - {name: More, do: draw off, call it: strong}"),
         "There is something called strong already."),
        (("water: 12 L", "water: 0 L"), "0 L is nothing at all."),
    ],
)  # fmt: skip
def test_orders_that_cannot_be_brewed_are_refused(change: tuple[str, str], sentence: str, tmp_path: Path) -> None:
    """This test ensures that steps in an order that cannot be brewed are refused in a sentence."""
    text = (WRONG / "base.yaml").read_text(encoding="utf-8")
    assert change[0] in text
    text = (
        text.replace(*change, 1).replace("enzymes-at-work]", "]").replace("hold: enzymes-at-work", "hold: our choice")
    )
    (tmp_path / "lesson.yaml").write_text(text.replace("[barm-was-shared]", "[]"), encoding="utf-8")
    with pytest.raises(ProblemsFoundError) as caught:
        work_out(load_lesson(tmp_path))
    assert len(caught.value.problems) == 1
    assert sentence in caught.value.problems[0].wrong


@pytest.mark.parametrize(
    ("library", "told_at"),
    [
        ("values: {mash yeild: 80 percent}\n", "library.yaml:1:10  There is no house value called mash yeild."),
        ("values: [mash yield]\n", "library.yaml:1:9  Names are wanted here, each with its value."),
        ("kit: a tub\n", "library.yaml:1:6  Names are wanted here, each with its value."),
        ("people: yes\n", "library.yaml:1:9  Names are wanted here, each with its value."),
        ("valeus: {}\n", "library.yaml:1:1  There is no key valeus in the library."),
        ("kit: {scales: {right within: 1 degC}}\n",
         "library.yaml:1:30  1 degC is a temperature; a share is wanted here."),
    ],
)  # fmt: skip
def test_a_wrong_library_is_told_by_its_own_file(
    library: str, told_at: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """This test ensures that a mistake in the library above a lesson is told at the library's file."""
    (tmp_path / "library.yaml").write_text(library, encoding="utf-8")
    (tmp_path / "one").mkdir()
    (tmp_path / "one" / "lesson.yaml").write_text((WRONG / "base.yaml").read_text(encoding="utf-8"), encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    with pytest.raises(ProblemsFoundError) as caught:
        load_lesson(Path("one"))
    assert [f"{problem.place}  {problem.wrong}" for problem in caught.value.problems] == [told_at]


def test_a_note_may_name_one_source_alone(tmp_path: Path) -> None:
    """This test ensures that one source without a list is one source, and a note that is no mapping is told."""
    (tmp_path / "notes" / "science").mkdir(parents=True)
    note = tmp_path / "notes" / "science" / "few.yaml"
    note.write_text("enzymes-at-work: {title: One, say: Words., sources: asbc_cubic}\n", encoding="utf-8")
    text = (WRONG / "base.yaml").read_text(encoding="utf-8").replace("[barm-was-shared]", "[]")
    (tmp_path / "lesson.yaml").write_text(text, encoding="utf-8")
    assert load_lesson(tmp_path).notes["enzymes-at-work"].cites == (("asbc_cubic", ""),)
    note.write_text("enzymes-at-work: just words\n", encoding="utf-8")
    with pytest.raises(ProblemsFoundError, match="A note needs at least a title and what to say"):
        load_lesson(tmp_path)
