"""The chart of a day: the temperature of each mash and wort against the hours, with the enzymes' bands behind it.

In: a worked lesson and the clock of its day. Out: a ``chart`` block of page text with words for who cannot see it. The
temperatures are the lesson's; what lies between two of them is drawn as a straight line, and the caption says so.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

import yaml

from presenter.documents.page_text import escaped
from presenter.documents.papers.clock import DayPlan, Slot
from presenter.documents.rendering import PageText
from presenter.lesson import slug
from presenter.quantities import Course, Q
from presenter.quantities.wording import in_words
from presenter.science.published_tables import published_table
from presenter.working import WorkedLesson

__all__ = ["Trace", "enzyme_bands", "temperature_chart", "traces_of_day"]

_POINTS = 30
_MASH = ("mash", "hold", "raise")


@dataclass
class Trace:
    """The temperature of one thing, degrees Celsius, against minutes since the midnight before the first day."""

    name: str
    points: list[tuple[float, float]] = field(default_factory=list)

    def to(self, minute: float, temperature: float) -> None:
        """Go on to a temperature at a time; time never runs back."""
        if not self.points or minute >= self.points[-1][0]:
            self.points.append((minute, temperature))

    def holds_until(self, minute: float) -> None:
        """Stay at the last temperature until a time."""
        if self.points:
            self.to(minute, self.points[-1][1])


def traces_of_day(worked: WorkedLesson, plan: DayPlan) -> list[Trace]:
    """The traces of the first day on which something is warmed, mashes first, in the order in which they begin."""
    mashes: dict[str, Trace] = {}
    liquids: dict[str, Trace] = {}
    courses = {course.step: course for course in worked.courses if course.id.endswith("temperature-course")}
    began: dict[str, tuple[Course, float]] = {}
    for slot in plan.on(plan.slots[0].day):
        step = slot.step
        if step.do in _MASH:
            tub = str(getattr(step, "in_", ""))
            if step.id in courses:
                began[tub] = (courses[step.id], 0.0)
                mashes[tub] = Trace(f"mash in the {tub}")
            if tub in began:
                _along_the_mash(mashes[tub], began[tub][0], slot)
        elif step.do == "draw off":
            _drawn_off(worked, slot, mashes, liquids)
        else:
            _heated_or_cooled(worked, slot, liquids)
    found = [*mashes.values(), *liquids.values()]
    return [trace for trace in found if len(trace.points) > 1]


def _along_the_mash(trace: Trace, course: Course, slot: Slot) -> None:
    """The stretch of a mash's course that one step made, laid on the clock from where hands are free again."""
    marks = [at for at, _ in course.marks]
    names = [name for _, name in course.marks]
    name = str(slot.step.name)
    if name not in names:
        return
    place = names.index(name)
    first = marks[place]
    last = marks[place + 1] if place + 1 < len(marks) else course.times[-1]
    start = slot.begins + slot.length.hands
    inside = [
        (minute, value)
        for minute, value in zip(course.times, course.values, strict=True)
        if first <= minute <= last and not (minute == last and place + 1 < len(marks))
    ]
    step = max(1, len(inside) // _POINTS)
    for minute, value in [*inside[:-1:step], inside[-1]]:
        trace.to(start + minute - first, value)


def _drawn_off(worked: WorkedLesson, slot: Slot, mashes: Mapping[str, Trace], liquids: dict[str, Trace]) -> None:
    """Wort begins its own trace at the temperature at which it left the grain."""
    tub = str(getattr(slot.step, "from_vessel", None) or worked.after[slot.step.id].last_bed)
    for name in slot.step.makes():
        liquid = worked.after[slot.step.id].liquids.get(slug(str(name)))
        if liquid is not None:
            liquids[slug(str(name))] = Trace(f"{name} wort", [(slot.begins, liquid.temperature.value)])
    if tub in mashes:
        mashes[tub].holds_until(slot.begins)


def _heated_or_cooled(worked: WorkedLesson, slot: Slot, liquids: dict[str, Trace]) -> None:
    """What a step does to each liquid: from the temperature it had to the one it is left at."""
    step = slot.step
    for name in dict.fromkeys(slug(str(each)) for each in (*step.uses(), *step.makes())):
        liquid = worked.after[step.id].liquids.get(name)
        if liquid is None or step.do in {"ferment", "serve", "show", "pitch"}:
            continue
        trace = liquids.setdefault(name, Trace(str(liquid.name)))
        trace.holds_until(slot.begins)
        after = liquid.temperature.value
        stated = slot.length.stated
        held = stated.number() if stated is not None and step.do in {"boil", "heat"} else 0.0
        trace.to(max(slot.begins, slot.ends - held), after)
        trace.to(slot.ends, after)


def enzyme_bands() -> list[dict[str, object]]:
    """The bands in which the two amylases work best, as a chart takes them."""
    return [
        {
            "name": f"{row['enzyme']}, {row['low']} to {row['high']}\u00a0°C",
            "low": float(row["low"]),
            "high": float(row["high"]),
        }
        for row in published_table("enzyme_windows").rows
    ]


def temperature_chart(worked: WorkedLesson, plan: DayPlan, measures: str = "metric") -> PageText:
    """The chart of the first day, or nothing where the lesson warms nothing."""
    traces = traces_of_day(worked, plan)
    if not traces:
        return PageText("")
    day = plan.on(plan.slots[0].day)
    start = day[0].begins
    chart = {
        "says": escaped(_said(worked, traces, day, measures)),
        "across": {"label": "hours from the start of the day", "low": 0},
        "up": {"label": "degrees Celsius", "high": 105},
        "lines": [
            {
                "name": escaped(trace.name),
                "points": [[_hours(minute - start), _tenth(at)] for minute, at in trace.points],
            }
            for trace in traces
        ],
        "bands": enzyme_bands() if any(slot.step.do in _MASH for slot in day) else [],
        "marks": [{"name": str(slot.number), "at": _hours(slot.begins - start)} for slot in day],
        "caption": escaped(_key(day)),
        "size": "half",
    }
    if not chart["bands"]:
        del chart["bands"]
    body = yaml.safe_dump(chart, allow_unicode=True, sort_keys=False, width=10_000, default_flow_style=None)
    return PageText(f"```chart\n{body}```\n")


def _hours(minutes: float) -> float:
    return float(f"{minutes / 60:.3f}")


def _tenth(value: float) -> float:
    return float(f"{value:.1f}")


def _key(day: Iterable[Slot]) -> str:
    steps = " · ".join(f"{slot.number}\u00a0{slot.step.name}" for slot in day)
    practice = [
        str(row["enzyme"])
        for row in published_table("enzyme_windows").rows
        if str(row["rests_on"]).startswith("common practice")
    ]
    told = f" (that of {' and '.join(practice)} is common practice)" if practice else ""
    return f"Bands: where each enzyme works best{told}. Steps: {steps}"


def _said(worked: WorkedLesson, traces: Sequence[Trace], day: Sequence[Slot], measures: str) -> str:
    """The chart in words: where each trace begins, its highest and its last temperature."""

    def degrees(value: float) -> str:
        return in_words(Q(value, "degC"), Q(1, "delta_degC"), measures)

    parts = [f"Temperature over the day of {worked.lesson.file.title}, {len(day)} steps."]
    for trace in traces:
        values = [value for _, value in trace.points]
        parts.append(
            f"The {trace.name} begins at {degrees(values[0])}, is at most {degrees(max(values))}"
            f" and ends at {degrees(values[-1])}."
        )
    return " ".join(parts)
