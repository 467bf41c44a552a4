"""The chart of a mash: starch, maltose and both enzymes over its rests, with alternative text.

In: a worked lesson and the step that mashed in. Out: a block of page text, or nothing where the step began no mash.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import yaml

from presenter.documents.page_text import escaped
from presenter.documents.rendering import PageText
from presenter.quantities import Course, Q
from presenter.quantities.wording import in_words
from presenter.working import WorkedLesson
from presenter.working.mash_courses import STILL_WHOLE

__all__ = ["drawn", "mash_chart"]

_LINES = {
    "granules": "starch in its granules", "maltose": "maltose", "alpha-amylase": "alpha-amylase left",
    "beta-amylase": "beta-amylase left",
}  # fmt: skip
_POINTS = 24  # points drawn of each curve: a line on paper shows no more
_LONG = 4  # times the usual distance of two points: longer is a stretch that was not worked


def drawn(course: Course, until: float = math.inf) -> list[list[float]]:
    """A few points of a curve up to a minute, the first and the last among them.

    Over a stretch of which the course knows nothing a share stays as it was, then jumps: fresh malt put to a mash
    brings its enzymes at once, and no slanting line may say that they grew.
    """
    last = max(at for at, minute in enumerate(course.times) if minute <= until or at == 0)
    gaps = [later - earlier for earlier, later in pairwise(course.times)]
    usual = sorted(gaps)[len(gaps) // 2] if gaps else 0.0
    jumps = {at for at, gap in enumerate(gaps[:last]) if course.unit == "percent" and gap > _LONG * usual}
    kept = sorted({*range(0, last, max(1, last // _POINTS)), last, *jumps, *(at + 1 for at in jumps)})
    points: list[list[float]] = []
    for at in kept:
        seen = (at - 1, at) if at - 1 in jumps else (at,)
        points += [[float(f"{course.times[at]:.2f}"), float(f"{max(course.values[one], 0.0):.2f}")] for one in seen]
    return points


def _percent(value: float) -> str:
    return in_words(Q(max(value, 0.0), "percent"), Q(1.0, "percent"))


def mash_chart(worked: WorkedLesson, step_id: str) -> PageText:
    """The chart of the mash that ``step_id`` began."""
    courses: dict[str, Course] = {
        name: course for course in worked.courses for name in _LINES if course.id == f"{step_id}.{name}-course"
    }
    if len(courses) < len(_LINES):
        return PageText("")
    ends = {name: _percent(course.values[-1]) for name, course in courses.items()}
    minutes = in_words(Q(courses["maltose"].times[-1], "minute"))
    bread = courses["granules"].label.startswith(STILL_WHOLE)
    starch = "starch still whole" if bread else _LINES["granules"]
    begins = _percent(courses["granules"].values[0] if bread else 100.0)
    goes = f"stays at {begins}" if begins == ends["granules"] else f"falls from {begins} to {ends['granules']}"
    maltose = f"maltose rises to {ends['maltose']}" if courses["maltose"].values[-1] > 0.0 else "no maltose is made"
    says = (
        f"Over {minutes} of mashing the {starch} {goes} and {maltose}."
        f" At the end {ends['beta-amylase']} of the beta-amylase"
        f" and {ends['alpha-amylase']} of the alpha-amylase are left."
    )
    marks: Sequence[tuple[float, str]] = courses["maltose"].marks
    chart = {
        "says": escaped(says),
        "across": {"label": "minutes of mashing", "low": 0},
        "up": {"label": "percent", "low": 0, "high": 100},
        "lines": [
            {"name": starch if key == "granules" else name, "points": drawn(courses[key])}
            for key, name in _LINES.items()
        ],
        "marks": [{"name": escaped(name), "at": float(f"{at:.2f}")} for at, name in marks],
        "caption": "A teaching model, fitted by this project; its minutes are not to be quoted. Starch and maltose are"
        " shares of the starch in the tub, the enzymes shares of what the malt brought.",
    }
    body = yaml.safe_dump(chart, allow_unicode=True, sort_keys=False, width=10_000, default_flow_style=None)
    return PageText(f"```chart\n{body}```\n")
