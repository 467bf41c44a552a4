"""Every caution that a lesson can raise stands at its step, on every sheet that tells how to do that step.

In: the lessons of ``lessons_that_raise.yaml`` and those below, made for the kinds of step that a caution names. Out:
the page text of each sheet that tells the steps, searched between one step's heading and the next.
"""

from __future__ import annotations

import functools
import html
import json
import sys
from pathlib import Path

import pytest

from presenter.cautions import Cautioned, caution_book, cautions_of
from presenter.documents.sheets import DOCUMENTS, documents_for
from presenter.working import WorkedLesson

sys.path.insert(0, str(Path(__file__).parent))
from small_lessons import TABLE, base, changed, worked

BOOK = {entry.id: entry for entry in caution_book().cautions}
TELLING = [name for name, kind in DOCUMENTS.items() if kind.tells_steps]


@functools.cache
def made(name: str, changes: str) -> tuple[WorkedLesson, Cautioned]:
    """A base with changes written as JSON, worked out, and its cautions; like lessons are worked out once."""
    lesson = worked(changed(base(name), json.loads(changes)))
    return lesson, cautions_of(lesson)


def sections_of(page_text: str, lesson: WorkedLesson) -> dict[str, str]:
    """What a sheet says of each step: from a heading that names it up to the next such heading."""
    lines = html.unescape(page_text).split("\n")
    names = {str(step.name): step.id for step in lesson.lesson.steps}
    found: dict[str, str] = {}
    here = ""
    for line in lines:
        if line.startswith("#"):
            title = line.lstrip("# ").split(" {")[0].split(") ")[-1].strip()
            here = names.get(title, "" if line.startswith(("# ", "## ")) else here)
        if here:
            found[here] = found.get(here, "") + line + "\n"
    return found


@pytest.mark.parametrize("id_", TABLE["raises"])
def test_it_stands_at_its_step_on_every_sheet_that_tells_it(id_: str) -> None:
    """This test ensures that a caution which a lesson raises is printed beside each step it belongs to, in its own
    short words or in those that stand for it, on the handout, the step cards, the run sheet and the stove sheet."""
    case = TABLE["raises"][id_]
    lesson, cautioned = made(case["base"], json.dumps(case["set"]))
    places = [
        (step, line)
        for step in cautioned.steps
        for line in cautioned.lines_at_step(step).lines
        if id_ in line.stands_for
    ]
    on_sheet = [line for line in cautioned.lines_on_sheet().lines if id_ in line.stands_for]
    if not places and not on_sheet:  # sixty words hold no more: advice may stand in its full words alone
        assert not BOOK[id_].mandatory
        handout = html.unescape(documents_for(lesson, cautioned, ["handout"])[0].page_text)
        assert next(placed.say for placed in cautioned.full_words if placed.id == id_) in handout
    for document in documents_for(lesson, cautioned, TELLING):
        sections = sections_of(document.page_text, lesson)
        for step, line in places:
            assert line.words in sections[step], f"{document.name} lacks {id_} beside {step}"
        whole = html.unescape(document.page_text)
        for line in on_sheet:
            assert line.words in whole, f"{document.name} lacks {id_}"


@pytest.mark.parametrize("name", TABLE["tours"])
def test_all_that_a_tour_raises_stands_at_its_steps(name: str) -> None:
    """This test ensures that every caution of a lesson made for one or more kinds of step is printed beside each of
    its steps, on every sheet that tells them."""
    case = TABLE["tours"][name]
    lesson, cautioned = made(case["base"], json.dumps(case["set"]))
    for document in documents_for(lesson, cautioned, TELLING):
        sections = sections_of(document.page_text, lesson)
        for step in cautioned.steps:
            for line in cautioned.lines_at_step(step).lines:
                assert line.words in sections[step], f"{document.name} lacks {line.stands_for} beside {step}"


def test_every_kind_that_a_caution_names_raises_it_in_some_lesson() -> None:
    """This test ensures that no pair of a caution and a kind of step beside which it belongs is left without a lesson,
    but for those that the table says cannot be, each with its reason."""
    raised: set[tuple[str, ...]] = set()
    for case in (*TABLE["raises"].values(), *TABLE["tours"].values()):
        lesson, cautioned = made(case["base"], json.dumps(case["set"]))
        kinds = {step.id: str(step.do) for step in lesson.lesson.steps}
        for step in cautioned.steps:
            for placed in cautioned.at_step(step):
                raised |= {(known, kinds[step]) for known in placed.stands_for}
    at_steps = [entry for entry in BOOK.values() if entry.printed and entry.at == "step"]
    named = {(entry.id, kind) for entry in at_steps for kind in entry.beside}
    cannot = {tuple(pair.split(" at ")) for pair in TABLE["never_at_step"]}
    assert sorted(named - raised - cannot) == []
    assert not raised & cannot
