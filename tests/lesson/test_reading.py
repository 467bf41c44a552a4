"""The YAML reader: text stays text, and nothing that a file may hold makes it trace."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from presenter.lesson import house_for, lesson_from_text, load_lesson
from presenter.lesson.reading import LARGEST_FILE, MappingNode, place_of, read_yaml, read_yaml_file, written_at
from presenter.problems import Problem, ProblemsFoundError


def problems_of(text: str) -> tuple[str, ...]:
    with pytest.raises(ProblemsFoundError) as caught:
        read_yaml(text, "lesson.yaml")
    return tuple(f"{problem.place}  {problem.wrong}" for problem in caught.value.problems)


@pytest.mark.parametrize(
    "written", ["1:30", "no", "yes", "on", "012", "0x1F", "2024-05-01", "1_000", "1e3", "~", "null", ".inf", "3.50"]
)
def test_scalars_survive_as_text(written: str) -> None:
    """This test ensures that what YAML 1.1 would turn into a number, a truth or a date stays the author's text.

    That PyYAML's own loader would change it is checked beside (YAML 1.1, the types repository).
    """
    assert read_yaml(f"a: {written}\n", "f")["a"] == written
    changed = yaml.safe_load(f"a: {written}\n")["a"]
    assert not isinstance(changed, str) or written == "1e3"


def test_places_are_those_of_the_text() -> None:
    """This test ensures that line and column of a value are where an editor shows it."""
    tree = read_yaml("title: Two ales\nsteps:\n  - name: Mash\n    water: {amount: 8 L}\n", "f.yaml")
    assert str(place_of(tree, ("steps", 0, "water", "amount"))) == "f.yaml:4:21"
    assert written_at(tree, ("steps", 0, "water", "amount")) == "8 L"
    assert str(place_of(tree, ("steps", 0, "nothing"))) == "f.yaml:3:5"
    assert written_at(tree, ("steps", 0)) == ""


def test_doubled_keys_are_all_told() -> None:
    """This test ensures that each doubled key is told with the line of its first writing."""
    assert problems_of("a: 1\nb: 2\na: 3\nb: 4\n") == (
        "lesson.yaml:3:1  The key a stands here a second time; it was first written on line 1.",
        "lesson.yaml:4:1  The key b stands here a second time; it was first written on line 2.",
    )


def test_an_alias_repeats_what_its_anchor_holds() -> None:
    """This test ensures that anchors and aliases are read, and that a merge key stays a key that nobody knows."""
    tree = read_yaml("a: &x {amount: 8 L}\nb: *x\nc: {<<: *x, at: 70 degC}\n", "f")
    assert tree["b"] == {"amount": "8 L"}
    assert set(tree["c"]) == {"<<", "at"}


def test_an_alias_to_itself_is_told() -> None:
    """This test ensures that a value that refers to itself is a problem, not an endless walk."""
    assert problems_of("a: &x [*x]\n") == ("lesson.yaml:1:4  This refers to itself.",)


def test_aliases_that_multiply_are_refused_quickly() -> None:
    """This test ensures that ten aliases of ten aliases, ten deep, are refused rather than unfolded."""
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 10)}]" for n in range(1, 10)]
    (problem,) = problems_of("\n".join(lines))
    assert "more than 200,000 values" in problem


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        ("", "lesson.yaml:1:1  The file is empty."),
        (" \n\n", "lesson.yaml:1:1  The file is empty."),
        ("\ufeff", "lesson.yaml:1:1  The file is empty."),
        ("# nothing but a remark\n",
         "lesson.yaml:1:1  The file must hold keys and values at its top; here stands nothing."),
        ("- one\n- two\n", "lesson.yaml:1:1  The file must hold keys and values at its top; here stands a list."),
        ("just words\n",
         "lesson.yaml:1:1  The file must hold keys and values at its top; here stands a line of words."),
        ("a: b\nc: d\x00e\n", "lesson.yaml:2:5  Here stands a character that no text file should hold (code 0000)."),
        ("a: b\x07\n", "lesson.yaml:1:5  Here stands a character that no text file should hold (code 0007)."),
        ("a: 1\n---\nb: 2\n",
         "lesson.yaml:2:1  Three dashes begin a second file here."),
        ("? [a, b]\n: c\n", "lesson.yaml:1:3  A key must be a plain word or words."),
        ('a: "\\UFFFFFFFF"\n', "lesson.yaml:1:1  The file cannot be read as YAML text."),
        ('a: "\\ud800"\n', "lesson.yaml:1:4  This text holds half of a character, and nothing can show it."),
        ("a: " + "[" * 5000, "lesson.yaml:1:1  This is nested too deeply to be a lesson."),
        ("a: " + "[" * 60 + "]" * 60 + "\n", "lesson.yaml:1:44  This is nested too deeply to be a lesson."),
    ],
    ids=range(14),
)  # fmt: skip
def test_files_of_the_wrong_form_are_told(text: str, wrong: str) -> None:
    """This test ensures that a file of the wrong form gives one problem at its place, in a whole sentence."""
    assert problems_of(text) == (wrong,)


def test_a_tab_is_told_at_its_line() -> None:
    """This test ensures that a tab used to indent is told at its line, with tabs named in the remedy."""
    with pytest.raises(ProblemsFoundError) as caught:
        read_yaml("steps:\n\t- name: Mash\n", "lesson.yaml")
    (problem,) = caught.value.problems
    assert (problem.place.line, problem.place.column) == (2, 1)
    assert "tab" in problem.remedy


def test_two_megabytes_are_refused() -> None:
    """This test ensures that a file beyond two million characters is refused before it is parsed."""
    (problem,) = problems_of("a: " + "x" * LARGEST_FILE)
    assert problem == "lesson.yaml:1:1  The file has more than 2,000,000 characters; a lesson is never that long."


def test_a_byte_order_mark_moves_nothing(tmp_path: Path) -> None:
    """This test ensures that a file with a byte order mark is read, its first column still the first."""
    path = tmp_path / "f.yaml"
    path.write_bytes(b"\xef\xbb\xbftitle: Two ales\n")
    tree = read_yaml_file(path)
    assert tree["title"] == "Two ales"
    assert place_of(tree, ("title",)).column == 8


def test_a_file_that_is_not_utf_8_is_told_at_its_place(tmp_path: Path) -> None:
    """This test ensures that bytes which are no UTF-8 give a problem at their line and column."""
    path = tmp_path / "lesson.yaml"
    path.write_bytes("title: ale\nscene: Café\n".encode("latin-1"))
    with pytest.raises(ProblemsFoundError) as caught:
        load_lesson(path)
    (problem,) = caught.value.problems
    assert (problem.place.line, problem.place.column) == (2, 11)
    assert problem.wrong == "The file is not UTF-8 text from here on."


YAML_PIECES = st.sampled_from(
    ["a", "b: ", ": ", "- ", "\n", "\n  ", "\t", "[", "]", "{", "}", "&x ", "*x", "!t ", "!!int ", "|", ">", "'", '"',
     "\\", "\\u", "\\x4", "%YAML 1.1\n", "%TAG ! !%FF\n", "---\n", "...\n", "? ", "#", ",", "<<: ", "\ufeff", "\u2028",
     "@", "`", "1:30", "\x85", "\ud800"]
)  # fmt: skip


@settings(max_examples=400, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.one_of(st.text(max_size=80), st.lists(YAML_PIECES, max_size=25).map("".join)))
@example("\ud800: a")
@example("a: !<> b")
@example("%YAML 3.0\n--- a")
@example('"\\U00110000": a')
def test_any_text_gives_a_tree_or_problems(text: str) -> None:
    """This test ensures that no text whatever makes the reader raise anything but ProblemsFoundError."""
    problems: tuple[Problem, ...] = ()
    tree = None
    try:
        tree = read_yaml(text, "lesson.yaml")
    except ProblemsFoundError as error:
        problems = error.problems
    assert isinstance(tree, MappingNode) != bool(problems)
    for problem in problems:
        assert problem.wrong.endswith(".")
        problem.told().encode("utf-8")


@settings(max_examples=150, deadline=None)
@given(st.lists(YAML_PIECES, max_size=12).map("".join), st.integers(0, 40))
def test_any_text_set_into_a_lesson_gives_problems_or_a_lesson(text: str, line: int) -> None:
    """This test ensures that a lesson spoilt by any text at any line is told or read, never traced."""
    base = Path(__file__).parent / "wrong" / "base.yaml"
    lines = base.read_text(encoding="utf-8").split("\n")
    at = min(line, len(lines) - 1)
    lines[at] += text
    spoilt = base.with_name("spoilt.yaml")
    lesson, problems = None, ()
    try:
        lesson = lesson_from_text("\n".join(lines), spoilt, house_for(base.parent))
    except ProblemsFoundError as error:
        problems = error.problems
    assert (lesson is not None) != bool(problems)


@pytest.mark.parametrize(
    ("text", "place", "wrong"),
    [
        ("a:\n\tb: 1\n", "2:1", "A tab stands here; only spaces may set lines and values off."),
        ("a: b\nc:\t1\n", "2:3", "A tab stands here; only spaces may set lines and values off."),
        ('a: "b\nc: "1"\n', "1:4", "The quotation that opens here is closed too soon on line 2: more words follow."),
        ("a: 'Don't boil it\n", "1:4", "The quotation that opens here is closed too soon: more words follow."),
        ('a: "b\n', "1:4", "What opens here is never closed."),
        ("a: {b: 1\nc: 2\n", "1:4", "What opens here is not closed before a new line begins a key of its own."),
        ("a: {b: 1 c: 2}\n", "1:11", "Something other than a comma or the closing bracket follows here."),
        ("a: Note: boil it\n", "1:8", "A colon followed by a space stands inside a text here."),
        ("a: 1\n  b: 2\n", "2:3", "This line is set in too far: the line above it has its value already."),
        ("a:\n  - b: 1\n - c: 1\n", "3:2", "This line does not stand in line with the ones before it."),
        ("a: 1\nb\nc: 2\n", "2:1", "No colon follows these words, so they are no key."),
        ("a: @b\n", "1:4", "A text cannot begin with @ here."),
        ("a: *b\n", "1:4", "A text cannot begin with * here."),
        ('a: "b\\q"\n', "1:7", "A backslash stands between double quotation marks here."),
    ],
)  # fmt: skip
def test_a_break_in_yaml_is_told_in_words(text: str, place: str, wrong: str) -> None:
    """This test ensures that a slip of the pen is told where it was made, in an author's words."""
    with pytest.raises(ProblemsFoundError) as caught:
        read_yaml(text, "lesson.yaml")
    (problem,) = caught.value.problems
    assert str(problem.place) == f"lesson.yaml:{place}"
    assert problem.wrong == wrong
    assert problem.remedy
