"""Charts of a lesson's courses for the wall: the sugars of a mash, the enzymes left in it, the core of a loaf.

In: a worked lesson. Out: a ``chart`` block of page text for each group of courses it has, with words for who cannot
see it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import yaml

from presenter.documents.mash_chart import drawn
from presenter.documents.number_blocks import capital
from presenter.documents.page_text import escaped
from presenter.documents.rendering import PageText
from presenter.quantities import Course, Q
from presenter.quantities.wording import in_words, unit_sign
from presenter.working import WorkedLesson
from presenter.working.mash_courses import STILL_WHOLE

__all__ = ["WallChart", "course_charts"]

_STIRS = 0.5  # percent: a chart in which nothing changes by more is not drawn; the handout says it in words
_COOLING_SHOWN = 60.0  # minutes after a loaf has left the oven: later it only goes on to the heat of the room
_SUGARS = {
    "granules": "starch in its granules", "dextrin": "dextrin and starch set free", "maltose": "maltose",
    "maltotriose": "maltotriose", "glucose": "glucose",
}  # fmt: skip
_ENZYMES = {"alpha-amylase": "alpha-amylase left", "beta-amylase": "beta-amylase left"}


@dataclass(frozen=True)
class WallChart:
    """One chart with its heading, as a template sees it."""

    heading: str
    chart: PageText


def _said(name: str, course: Course) -> str:
    def words(value: float) -> str:
        spread = "delta_degC" if course.unit == "degree_Celsius" else course.unit
        return in_words(Q(value, course.unit), Q(1.0, spread))

    values = [max(0.0, value) if course.unit == "percent" else value for value in course.values]
    middle = values[len(values) // 2]
    return (
        f"{capital(name)}: {words(values[0])} at the start, {words(middle)} half way, {words(values[-1])} at the end."
    )


def _block(courses: Mapping[str, Course], across: str, caption: str) -> PageText:
    first = next(iter(courses.values()))
    minutes = in_words(Q(max(course.times[-1] for course in courses.values()), "minute"))
    says = f"A course over {minutes}. " + " ".join(_said(name, course) for name, course in courses.items())
    share = first.unit == "percent"
    up: dict[str, object] = {"label": "percent" if share else {"°C": "degrees Celsius"}.get(unit_sign(first.unit), "")}
    if share:
        up |= {"low": 0, "high": 100}
    chart = {
        "says": escaped(says),
        "across": {"label": across, "low": 0},
        "up": up,
        "lines": [{"name": escaped(name), "points": drawn(course)} for name, course in courses.items()],
        "marks": [{"name": escaped(name), "at": float(f"{at:.2f}")} for at, name in first.marks],
        "caption": escaped(caption),
        "size": "wall",
    }
    if not chart["marks"]:
        del chart["marks"]
    body = yaml.safe_dump(chart, allow_unicode=True, sort_keys=False, width=10_000, default_flow_style=None)
    return PageText(f"```chart\n{body}```\n")


_TEACHING = "A teaching model, fitted by this project; its minutes are not to be quoted. "


def course_charts(worked: WorkedLesson) -> list[WallChart]:
    """The charts of every mash and every loaf of the lesson, in the order of its steps."""
    found: list[WallChart] = []
    names = {step.id: str(step.name) for step in worked.lesson.steps}
    for step_id in dict.fromkeys(course.step for course in worked.courses):
        of_step = {course.id.removeprefix(f"{step_id}."): course for course in worked.courses if course.step == step_id}
        for heading, group, caption in (
            ("What the starch becomes", _SUGARS, _TEACHING + "Shares of the starch in the tub."),
            ("How long the enzymes last", _ENZYMES, _TEACHING + "Shares of what the malt brought."),
        ):
            there = {
                _named(of_step[f"{key}-course"], name): of_step[f"{key}-course"]
                for key, name in group.items()
                if f"{key}-course" in of_step
            }
            if any(max(course.values) - min(course.values) > _STIRS for course in there.values()):
                chart = _block(there, "minutes of mashing", caption)
                found.append(WallChart(f"{heading}: {names.get(step_id, step_id)}", chart))
        found += _cores(of_step, names.get(step_id, step_id))
    return found


def _named(course: Course, name: str) -> str:
    """A curve's name; bread's starch is swollen, and whole or not."""
    return STILL_WHOLE if course.label.startswith(STILL_WHOLE) else name


def _as_it_bakes(course: Course) -> Course:
    """The course of a bake without the hours in which a loaf only lies and cools."""
    if not course.marks:
        return course
    until = max(at for at, _ in course.marks) + _COOLING_SHOWN
    count = sum(minute <= until for minute in course.times)
    return replace(course, times=course.times[:count], values=course.values[:count])


def _cores(of_step: Mapping[str, Course], step: str) -> Sequence[WallChart]:
    """The temperature at the core of what a step bakes."""
    cores = {
        course.label.split(",")[0].split(" (")[0]: _as_it_bakes(course)
        for key, course in of_step.items()
        if "core" in key.split("-") and course.unit == "degree_Celsius"
    }
    if not cores:
        return ()
    remark = next(iter(cores.values())).remark
    caption = f"{capital(remark)}." if remark else "Worked out for a loaf of this size; measure yours."
    if len(next(iter(cores.values())).marks) > 1:
        caption += " Drawn for the loaf that bakes longest."
    return (
        WallChart(f"How heat reaches the core: {step}", _block(cores, "minutes since the oven took it in", caption)),
    )
