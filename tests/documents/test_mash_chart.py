"""The points drawn of a course: few enough for paper, and none that says what the course does not."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest

from presenter.documents.mash_chart import drawn
from presenter.lesson import demo_folder, load_lesson
from presenter.quantities import Course
from presenter.working import work_out

LESSONS = sorted(path.parent for path in demo_folder("lessons_demo").glob("*/lesson.yaml"))


def enzymes_of(folder: Path) -> list[Course]:
    """The courses of the enzymes left in a lesson's mashes."""
    return [each for each in work_out(load_lesson(folder), spreads=False).courses if "-amylase-course" in each.id]


@pytest.mark.parametrize("folder", LESSONS, ids=lambda folder: folder.name)
def test_no_enzyme_grows_along_a_line(folder: Path) -> None:
    """This test ensures that an enzyme only falls, or comes at once with fresh malt: no slanting line says it grew."""
    courses = enzymes_of(folder)
    assert courses
    for course in courses:
        points = drawn(course)
        assert points[0] == [0.0, pytest.approx(course.values[0], abs=0.01)]
        assert points[-1] == pytest.approx([course.times[-1], course.values[-1]], abs=0.01)
        assert not [pair for pair in pairwise(points) if pair[1][1] > pair[0][1] + 0.01 and pair[1][0] > pair[0][0]]


def test_the_malt_of_a_second_mash_comes_at_once() -> None:
    """This test ensures that the barley malt of the Sara house stands upright in the chart, from nothing to all."""
    (alpha,) = [
        each
        for each in enzymes_of(demo_folder("lessons_demo") / "sara-house-sprouted-maize")
        if each.id == "first-mash-of-sprouted-maize.alpha-amylase-course"
    ]
    leaps = [(before, after) for before, after in pairwise(drawn(alpha)) if after[0] == before[0]]
    assert [(before[1], after[1]) for before, after in leaps] == [(0.0, 100.0)]
