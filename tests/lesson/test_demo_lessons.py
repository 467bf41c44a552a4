"""The demo lessons stand on evidence: what they tell of the past is cited, and what is invented is said to be.

In: every lesson of ``lessons_demo``, loaded, worked and told. Out: one finding per thing that rests on nothing; an
empty list passes.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from presenter.cautions import cautions_of
from presenter.documents import documents_for
from presenter.lesson import demo_folder, load_lesson
from presenter.lesson.model import Lesson
from presenter.working import work_out

LESSONS = sorted(path.parent for path in demo_folder("lessons_demo").glob("*/lesson.yaml"))
OURS = {"our choice", "the author's own figure"}
each_lesson = pytest.mark.parametrize("folder", LESSONS, ids=lambda folder: folder.name)


def history_of(lesson: Lesson) -> list[str]:
    """The ids of the history notes and the myths that a lesson uses."""
    return [str(id_) for step in lesson.steps for id_ in step.history] + [str(id_) for id_ in lesson.file.myths]


def evidence_given(lesson: Lesson) -> dict[str, str]:
    """What each figure of a lesson is said to rest on, by where it stands."""
    given = {f"ingredients.{name}": str(use.from_) for name, use in lesson.file.ingredients.items()}
    for step in lesson.steps:
        given |= {f"{step.id}.{figure}": str(evidence) for figure, evidence in step.from_.items()}
    return given


def test_the_four_lessons_are_there() -> None:
    """This test ensures that all four brewhouses of the trail have a lesson, so that none drops out of these tests."""
    assert {folder.name.split("-")[0] for folder in LESSONS} == {"netherfold", "sara", "storhaug", "zalesje"}


@each_lesson
def test_every_history_fact_has_evidence_and_citation(folder: Path) -> None:
    """This test ensures that each history note a lesson uses says of what kind its evidence is, and cites a source."""
    lesson = load_lesson(folder)
    used = history_of(lesson)
    assert len(used) >= 10
    found = []
    for id_ in used:
        note = lesson.notes[id_]
        if not (note.kind_of_evidence and note.confidence and note.cites):
            found.append(id_)
        found += [f"{id_}: {key}" for key, place in note.cites if key not in lesson.bibliography or not place]
    assert found == []


@each_lesson
def test_every_departure_stands_beside_a_note_of_the_record(folder: Path) -> None:
    """This test ensures that what a step says of the record can be looked up: the step names a history note, or the
    names in its words stand in a note that another step uses, or it owns that nothing was read."""
    lesson = load_lesson(folder)
    told = " ".join(lesson.notes[id_].say for id_ in history_of(lesson))
    owns = re.compile(r"\b(no|not|none|nothing|nobody)\b", re.IGNORECASE)
    found = []
    for step in lesson.steps:
        if step.departure is None or step.history or owns.search(str(step.departure.record)):
            continue
        names = [name for name in re.findall(r"\b[A-Z][a-z]{3,}", str(step.departure.record)) if name in told]
        if not names:
            found.append(step.id)
    assert found == []


@each_lesson
def test_every_figure_names_a_note_a_source_or_our_choice(folder: Path) -> None:
    """This test ensures that whatever is written under "from" can be looked up, or is owned as our choice."""
    lesson = load_lesson(folder)
    given = evidence_given(lesson)
    assert len(given) >= len(lesson.file.ingredients) + 3
    known = OURS | set(lesson.notes) | set(lesson.bibliography.keys())
    assert {where: evidence for where, evidence in given.items() if evidence not in known} == {}


@each_lesson
def test_every_ingredient_says_where_its_amount_comes_from(folder: Path) -> None:
    """This test ensures that no amount of an ingredient stands without a word on what it rests on."""
    assert [name for name, use in load_lesson(folder).file.ingredients.items() if use.from_ is None] == []


@each_lesson
def test_what_is_invented_is_said_to_be(folder: Path) -> None:
    """This test ensures that the scene, the author and the museum are called invented in the lesson, and that the
    handout, the worksheet, the step cards, the wall chart and the script print so where they print the scene."""
    lesson = load_lesson(folder)
    assert "(invented)" in str(lesson.file.scene)
    assert "(invented)" in str(lesson.file.author)
    said = str(lesson.file.invented)
    assert {word for word in ("invented", "Harrowmere", "real") if word in said} == {"invented", "Harrowmere", "real"}
    worked = work_out(lesson, spreads=False)
    cautioned = cautions_of(worked)
    for document in documents_for(worked, cautioned, ["handout", "script"]):
        flat = " ".join(document.page_text.split())
        assert " ".join(said.split())[:60] in flat.replace("\\", ""), document.name
    scene = str(lesson.file.scene).partition(" (invented)")[0]
    for document in documents_for(worked, cautioned):
        flat = " ".join(document.page_text.split()).replace("\\", "")
        assert flat.count(scene) == flat.count(f"{scene} (invented)"), document.name


@each_lesson
def test_each_step_of_work_can_be_read_aloud_and_taught(folder: Path) -> None:
    """This test ensures that every step tells what to do, and that most have words to say and a note to teach."""
    steps = load_lesson(folder).steps
    assert [step.id for step in steps if not step.what_to_do] == []
    assert sum(bool(step.say) for step in steps) >= 0.6 * len(steps)
    assert sum(bool(step.science or step.history) for step in steps) >= 0.5 * len(steps)
