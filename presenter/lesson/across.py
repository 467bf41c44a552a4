"""Checks across the fields of a lesson: names that must have been made, known notes, known evidence.

In: a lesson whose fields each hold by themselves, and its tree. Out: a list of Problems.
"""

from __future__ import annotations

from typing import Any

from presenter.lesson.house import HOUSE_VALUES, stated
from presenter.lesson.model import Lesson
from presenter.lesson.reading import MappingNode, Written, place_of
from presenter.lesson.steps import slug
from presenter.problems import Problem, nearest

__all__ = ["OWN_CHOICES", "problems_across"]

# Answers to "from", beside the id of a note.
OWN_CHOICES = ("our choice", "common practice", "house rule")


def _suggestion(word: str, known: Any, else_words: str = "") -> str:
    close = nearest(word, known)
    return f"Did you mean {close}?" if close else else_words


def problems_across(lesson: Lesson, tree: MappingNode) -> list[Problem]:
    """Every Problem that shows only when fields are held beside one another."""
    return [
        *_names(lesson, tree),
        *_ingredients(lesson, tree),
        *_liquids(lesson),
        *_vessels(lesson),
        *_notes(lesson),
        *_evidence(lesson),
        *_house(lesson),
    ]


def _names(lesson: Lesson, tree: MappingNode) -> list[Problem]:
    seen: dict[str, int] = {}
    problems = []
    for index, step in enumerate(lesson.steps):
        where = f"steps[{index + 1}].name"
        if not step.id:
            problems.append(Problem(step.name.place, where, str(step.name), "A step's name needs a letter or a digit."))
        elif step.id in seen:
            problems.append(
                Problem(
                    step.name.place,
                    where,
                    str(step.name),
                    f"Step {seen[step.id] + 1} has this name already.",
                    "Give each step a name of its own.",
                )
            )
        seen.setdefault(step.id, index)
        if step.id == "lesson":
            problems.append(
                Problem(step.name.place, where, str(step.name), "The name lesson is kept for the lesson's own numbers.")
            )
    return problems


def _ingredients(lesson: Lesson, tree: MappingNode) -> list[Problem]:
    problems = []
    for name, use in lesson.file.ingredients.items():
        if use.amount.number() <= 0:
            where = f"ingredients.{name}.amount"
            problems.append(
                Problem(use.amount.place, where, use.amount.written, "An amount must be more than nothing.")
            )
    known = [str(name) for name in lesson.file.ingredients]
    for index, step in enumerate(lesson.steps):
        named = getattr(step, "with_", ())
        for item in (named,) if isinstance(named, Written) else named:
            if str(item) not in known and step.do != "clean":
                wrong = f"There is no ingredient called {item}."
                remedy = _suggestion(str(item), known, f"Ingredients: {', '.join(known)}." if known else "")
                problems.append(Problem(item.place, f"steps[{index + 1}].with", str(item), wrong, remedy))
    return problems


def _liquids(lesson: Lesson) -> list[Problem]:
    made: dict[str, str] = {}
    later = {str(made_name): step.name for step in lesson.steps for made_name in step.makes()}
    problems = []
    for index, step in enumerate(lesson.steps):
        for name in step.uses():
            if slug(name) in made:
                continue
            where = f"steps[{index + 1}].what"
            if slug(name) in later:
                wrong = f"No step has made {name} yet; step {later[slug(name)]} makes it afterwards."
                problems.append(Problem(name.place, where, str(name), wrong, "Move that step before this one."))
            else:
                remedy = _suggestion(
                    str(name), [*made.values()], f"Made so far: {', '.join(made.values()) or 'nothing'}."
                )
                problems.append(Problem(name.place, where, str(name), f"No step makes anything called {name}.", remedy))
        for thing in step.makes():
            made[str(thing)] = str(getattr(step, "call_it", thing))
    return problems


def _vessels(lesson: Lesson) -> list[Problem]:
    known = [str(name) for name in lesson.file.kit]
    problems = []
    for index, step in enumerate(lesson.steps):
        for name in step.vessels():
            if str(name) not in known and getattr(name, "place", None) is not None and name.place.file:
                wrong = f"There is nothing called {name} in the kit."
                remedy = _suggestion(str(name), known, f"Kit: {', '.join(known)}.")
                problems.append(Problem(name.place, f"steps[{index + 1}]", str(name), wrong, remedy))
    return problems


def _notes(lesson: Lesson) -> list[Problem]:
    problems = []
    for index, step in enumerate(lesson.steps):
        for about, ids in (("science", step.science), ("history", step.history)):
            known = [note.id for note in lesson.notes.values() if note.about == about]
            for note_id in ids:
                if str(note_id) not in known:
                    wrong = f"There is no {about} note called {note_id}."
                    problems.append(
                        Problem(
                            note_id.place,
                            f"steps[{index + 1}].{about}",
                            str(note_id),
                            wrong,
                            _suggestion(note_id, known),
                        )
                    )
    for note_id in lesson.file.myths:
        note = lesson.notes.get(str(note_id))
        if note is None or not note.do_not_say:
            known = [other.id for other in lesson.notes.values() if other.do_not_say]
            wrong = f"There is no note of a myth called {note_id}."
            problems.append(Problem(note_id.place, "myths", str(note_id), wrong, _suggestion(note_id, known)))
    used = {str(n) for step in lesson.steps for n in (*step.science, *step.history)} | {
        str(n) for n in lesson.file.myths
    }
    places = {str(n): n.place for step in lesson.steps for n in (*step.science, *step.history)}
    for used_id in sorted(used & set(lesson.notes)):
        for key, _ in lesson.notes[used_id].cites:
            if key not in lesson.bibliography:
                wrong = f"The note {used_id} cites {key}, which no list of sources holds."
                place = places.get(used_id)
                if place is not None:
                    problems.append(
                        Problem(place, f"note {used_id}", key, wrong, _suggestion(key, lesson.bibliography.keys()))
                    )
    return problems


def _evidence(lesson: Lesson) -> list[Problem]:
    known = [*OWN_CHOICES, *lesson.notes]
    problems = []

    def look(answer: Written, where: str) -> None:
        said = str(answer)
        if said in lesson.notes or said in lesson.bibliography or said.split(":")[0].strip() in OWN_CHOICES:
            return
        wrong = f"{said} is no note, no source, and not an answer such as our choice."
        problems.append(
            Problem(answer.place, where, said, wrong, _suggestion(said, [*known, *lesson.bibliography.keys()]))
        )

    for name, use in lesson.file.ingredients.items():
        if use.from_ is not None:
            look(use.from_, f"ingredients.{name}.from")
    for index, step in enumerate(lesson.steps):
        for field, answer in step.from_.items():
            where = f"steps[{index + 1}].from.{field}"
            if field not in step.figures() and field != "all":
                remedy = _suggestion(
                    str(field), step.figures(), f"Its figures: {', '.join(step.figures())}." if step.figures() else ""
                )
                place = field.place if isinstance(field, Written) else answer.place
                problems.append(Problem(place, where, str(field), f"This step has no figure called {field}.", remedy))
            look(answer, where)
    return problems


def _house(lesson: Lesson) -> list[Problem]:
    problems: list[Problem] = []
    for name, value in lesson.file.house.items():
        if str(name) not in HOUSE_VALUES:
            remedy = _suggestion(str(name), HOUSE_VALUES, f"Known values: {', '.join(HOUSE_VALUES)}.")
            place = name.place if isinstance(name, Written) else place_of({}, ())
            problems.append(
                Problem(place, f"house.{name}", str(name), f"There is no house value called {name}.", remedy)
            )
        else:
            stated(value, (HOUSE_VALUES[str(name)],), f"house.{name}", problems)
    return problems
