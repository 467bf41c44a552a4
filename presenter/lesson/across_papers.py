"""Checks across the fields that plan a day: things a step needs, days counted from one, people by their names.

In: a lesson whose fields each hold by themselves. Out: a list of Problems.
"""

from __future__ import annotations

from presenter.lesson.model import Lesson
from presenter.problems import Problem, nearest
from presenter.quantities.clock import clock_from_text

__all__ = ["problems_of_papers"]


def problems_of_papers(lesson: Lesson) -> list[Problem]:
    """Every Problem in what the steps say of people, days and things needed, and in the hours of the day."""
    kit = [str(name) for name in lesson.file.kit]
    people = dict(lesson.house.people)
    problems: list[Problem] = []
    latest = 1
    for index, step in enumerate(lesson.steps, start=1):
        for thing in step.needs:
            if str(thing) not in kit:
                close = nearest(str(thing), kit)
                remedy = f"Did you mean {close}?" if close else f"The kit holds {', '.join(kit)}."
                wrong = f"There is nothing called {thing} in the kit."
                problems.append(Problem(thing.place, f"steps[{index}].needs", str(thing), wrong, remedy))
        for person in step.who:
            close = nearest(str(person), people)
            if close and close != str(person):
                wrong = f"The library knows nobody called {person}."
                problems.append(
                    Problem(person.place, f"steps[{index}].who", str(person), wrong, f"Did you mean {close}?")
                )
        if step.day is not None:
            if step.day < latest:
                wrong = f"This step is put on day {step.day}; the steps before it reach day {latest}."
                problems.append(
                    Problem(step.name.place, f"steps[{index}].day", str(step.day), wrong, "Days are counted from 1.")
                )
            latest = max(latest, step.day)
    begins, closes = lesson.file.begins, lesson.file.closes
    if begins is not None and closes is not None and clock_from_text(closes) <= clock_from_text(begins):
        wrong = f"The day closes at {closes}, which is not after it begins, at {begins}."
        problems.append(Problem(closes.place, "closes", str(closes), wrong))
    return problems
