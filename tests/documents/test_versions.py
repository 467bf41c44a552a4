"""Versions of a worksheet: neighbours differ, each has its own answers, and the same seed draws the same again."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from presenter.cautions import Cautioned
from presenter.days import work_day
from presenter.documents import Asked, documents_for
from presenter.documents.blocks import Scale
from presenter.documents.page_text import escaped, read_page_text
from presenter.documents.questions import questions_for
from presenter.documents.rendering import environment
from presenter.documents.sheet_view import SheetView
from presenter.documents.sheets import template_folders
from presenter.documents.versions import version_of
from presenter.lesson.day import day_from_text
from presenter.problems import ProblemsFoundError
from presenter.working import WorkedLesson

Demo = tuple[WorkedLesson, Cautioned]
KINDS = {"Read the hydrometer", "Convert", "Work out", "Put in order", "True or myth", "Explain"}


def sheets(demo: Demo, asked: Asked) -> dict[str, str]:
    """Worksheets and answers by file name."""
    return {each.name: each.page_text for each in documents_for(*demo, ["worksheet", "answers"], asked)}


def asks(text: str) -> list[str]:
    """The questions of a worksheet, without its opening."""
    return re.split(r"^## \(\d+\) ", text, flags=re.MULTILINE)[1:]


def test_neighbours_differ_and_answers_match(demo: Demo) -> None:
    """This test ensures that no two of three versions ask most questions alike, that each has its own answers, and
    that every worked answer is a number of that version's lesson."""
    found = sheets(demo, Asked(versions=3))
    assert sorted(found) == [f"{kind}-{letter}" for kind in ("answers", "worksheet") for letter in "abc"]
    for one, other in (("a", "b"), ("b", "c"), ("a", "c")):
        mine, theirs = asks(found[f"worksheet-{one}"]), asks(found[f"worksheet-{other}"])
        assert sum(question in theirs for question in mine) <= len(mine) / 2
        assert found[f"answers-{one}"] != found[f"answers-{other}"]
    for letter in "ABC":
        version = version_of(demo[0], letter, demo[0].lesson.file.title)
        strike = version.worked.numbers.get("first-mash.strike-heat")
        if strike is not None:
            assert escaped(strike.words()) in found[f"answers-{letter.lower()}"]
            assert escaped(strike.words()) not in found[f"worksheet-{letter.lower()}"]
        answers = asks(found[f"answers-{letter.lower()}"])
        assert [text.split("\n")[0] for text in answers] == [
            text.split("\n")[0] for text in asks(found[f"worksheet-{letter.lower()}"])
        ]


def test_every_kind_of_question_is_asked(netherfold: WorkedLesson, netherfold_cautioned: Cautioned) -> None:
    """This test ensures that the demo lesson's worksheet asks all six kinds of question, each with its marks."""
    text = sheets((netherfold, netherfold_cautioned), Asked())["worksheet"]
    heads = re.findall(r"^## \(\d+\) (.*), (\d+) marks?$", text, flags=re.MULTILINE)
    assert {kind for kind, _ in heads} == KINDS
    assert f"{sum(int(marks) for _, marks in heads)} marks in all" in text


def test_the_same_seed_draws_the_same(netherfold: WorkedLesson, netherfold_cautioned: Cautioned) -> None:
    """This test ensures that a seed can be used again next year, and that another one draws other sheets."""
    demo = (netherfold, netherfold_cautioned)
    assert sheets(demo, Asked(versions=2, seed="May")) == sheets(demo, Asked(versions=2, seed="May"))
    assert sheets(demo, Asked(versions=2, seed="May")) != sheets(demo, Asked(versions=2, seed="June"))


def test_the_drawn_stem_shows_the_answer(demo: Demo) -> None:
    """This test ensures that the hydrometer of each version stands at the gravity its answers give, that its words
    count the marks to it, and that they do not name it."""
    found = sheets(demo, Asked(versions=3))
    for letter in "abc":
        for block in read_page_text(found[f"worksheet-{letter}"]):
            if isinstance(block, Scale):
                reading = f"{block.reading:.3f}"
                assert reading.replace(".", "&period;", 1) in found[f"answers-{letter}"] or (
                    reading in found[f"answers-{letter}"]
                )
                counted = re.search(r"(?:(\d+) marks below|at) (\d\.\d{3})\.$", block.says)
                assert counted is not None
                assert float(counted[2]) + int(counted[1] or 0) / 1000 == pytest.approx(block.reading)
                assert (reading in block.says) == (counted[1] is None)


def test_a_wrong_file_of_questions_is_told(
    netherfold: WorkedLesson, netherfold_cautioned: Cautioned, tmp_path: Path
) -> None:
    """This test ensures that mistakes in an author's own questions give a Problem at their file, never a trace."""
    view = SheetView(netherfold, netherfold_cautioned)
    near = [tmp_path, *template_folders(netherfold.lesson)]
    entry = "- {id: one, kind: Explain, lines: 2, marks: 1, answer: no, ask: "
    for written, told in (
        ("- {id: one, kind: Explain}", "The question one lacks ask, answer, lines, marks."),
        ("one: two", "The questions are a list; each begins with a dash and has keys."),
        ("- [", "The questions cannot be read: this is no good YAML."),
        (entry + '"{{ nobody }}"}', "The template names something that does not exist"),
        (entry + '"{% if %}"}', "The template cannot be read"),
        (entry.replace("lines: 2", "lines: many") + "why}", "needs whole numbers of lines and marks, up to 40."),
    ):
        (tmp_path / "worksheet-questions.yaml").write_text(written, encoding="utf-8")
        with pytest.raises(ProblemsFoundError) as caught:
            questions_for(view, environment(near), near, version_of(netherfold, "", "x"), "x")
        assert told in caught.value.told()
        assert "worksheet-questions.yaml" in caught.value.told()


def test_versions_of_a_day_have_its_changes(netherfold: WorkedLesson) -> None:
    """This test ensures that version B of a day's worksheet changes what was done that day, not what was planned."""
    lesson = netherfold.lesson
    day = day_from_text(
        "date: 2026-05-02\nchanges:\n  - {at: First mash, now: {hold: 200 min}, because: a late school}\n",
        Path("day.yaml"), lesson,
    )  # fmt: skip
    made = work_day(lesson, day, spreads=False).made
    for worked, rest in ((netherfold, 75), (made, 200)):
        hold = version_of(worked, "B", "seed").worked.numbers["first-mash.hold"].quantity.magnitude
        assert any(hold == pytest.approx(rest * factor, abs=0.5) for factor in (0.8, 1.2, 0.9, 1.1))
