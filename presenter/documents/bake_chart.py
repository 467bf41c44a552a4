"""What a bake's sheet shows beside its numbers: heat reaching the loaf's core as a chart, and each loaf in a few words.

In: a worked lesson and the step that baked. Out: a block of page text with alternative text, or nothing where the step
baked nothing; and for each loaf a mapping of words for the template.
"""

from __future__ import annotations

from collections.abc import Sequence

import yaml

from presenter.documents.mash_chart import drawn
from presenter.documents.page_text import escaped
from presenter.documents.rendering import PageText
from presenter.lesson import Step, slug
from presenter.quantities import Course, Q
from presenter.quantities.wording import in_words
from presenter.science.loaf_enzymes import RELIABLE_BELOW
from presenter.working import WorkedLesson

__all__ = ["bake_chart", "loaves_in_words"]

_COOLING_SHOWN = 40.0  # minute after the oven: later the three depths are all at the room's heat
_LINES = {"skin": "just behind the crust", "halfway": "halfway in", "core": "middle of the loaf"}
_WORDS = {
    "core": "core", "time": "core-time", "hottest": "hottest", "by_decay": "alpha-amylase-whole",
    "by_rye_flour": "alpha-amylase-by-rye-flour", "by_dough": "alpha-amylase-by-dough", "counted": "enzyme-counted",
}  # fmt: skip


def _minutes(value: float) -> str:
    return in_words(Q(value, "minute"))


def _degrees(value: float, measures: str) -> str:
    return in_words(Q(value, "degree_Celsius"), Q(1.0, "delta_degree_Celsius"), measures)


def bake_chart(worked: WorkedLesson, step_id: str, measures: str = "metric") -> PageText:
    """The chart of the heat that reaches the core of the loaf that ``step_id`` bakes longest."""
    courses: dict[str, Course] = {
        name: course for course in worked.courses for name in _LINES if course.id == f"{step_id}.{name}-course"
    }
    if len(courses) < len(_LINES):
        return PageText("")
    core = courses["core"]
    marks: Sequence[tuple[float, str]] = core.marks
    out = max(at for at, _ in marks)
    hottest = max(core.values)
    told = "; ".join(
        f"when it has been in for {_minutes(at)} ({name}) it is at {_degrees(_at(core, at), measures)}"
        for at, name in marks
    )
    says = (
        f"Heat reaching a loaf's core. The crumb just behind the crust is soon at"
        f" {_degrees(max(courses['skin'].values), measures)} and stays there; halfway in"
        f" it follows, up to {_degrees(max(courses['halfway'].values), measures)}. The middle of the loaf starts at"
        f" {_degrees(core.values[0], measures)} and warms last: {told}. Out of the oven after {_minutes(out)} the"
        f" crust cools while the middle still climbs, to {_degrees(hottest, measures)}."
    )
    chart = {
        "says": escaped(says),
        "across": {"label": "minutes", "low": 0},
        "up": {"label": "degrees Celsius", "low": 0, "high": 100},
        "lines": [
            {"name": words, "points": drawn(courses[name], out + _COOLING_SHOWN)} for name, words in _LINES.items()
        ],
        "marks": [{"name": escaped(name), "at": float(f"{at:.2f}")} for at, name in marks],
        "caption": "A teaching model: conduction alone, in a loaf whose crumb is held at the boil behind the crust. It"
        " is drawn for the loaf that bakes longest, and goes on as it cools.",
    }
    body = yaml.safe_dump(chart, allow_unicode=True, sort_keys=False, width=10_000, default_flow_style=None)
    return PageText(f"```chart\n{body}```\n")


def _at(course: Course, minute: float) -> float:
    """The value of a course at a minute: of its nearest time."""
    nearest = min(range(len(course.times)), key=lambda index: abs(course.times[index] - minute))
    return course.values[nearest]


def loaves_in_words(worked: WorkedLesson, step: Step, measures: str = "metric") -> list[dict[str, str]]:
    """Each loaf of a bake: its name and its numbers in words; ``finished`` where its middle passed the limit."""
    names = [str(name) for name in step.bakes()]
    found = []
    for name in names:
        prefix = f"{step.id}." if len(names) == 1 else f"{step.id}.{slug(name)}-"
        numbers = {key: worked.numbers.get(f"{prefix}{number}") for key, number in _WORDS.items()}
        if numbers["time"] is None:
            numbers["time"] = worked.numbers[f"{step.id}.for"]
        words = {key: number.words(measures) for key, number in numbers.items() if number is not None}
        hottest = numbers["hottest"]
        sure = hottest is not None and float(hottest.quantity.magnitude) >= RELIABLE_BELOW
        found.append({"name": name, "finished": "yes" if sure else ""} | words)
    return found
