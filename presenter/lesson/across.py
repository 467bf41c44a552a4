"""Checks across the fields of a lesson: names that must have been made, known notes, known evidence.

In: a lesson whose fields each hold by themselves. Out: a list of Problems.
"""

from __future__ import annotations

from typing import Any

from presenter.lesson.across_papers import problems_of_papers
from presenter.lesson.house import HOUSE_VALUES, INSTRUMENTS, stated
from presenter.lesson.model import Lesson
from presenter.lesson.reading import Written, place_of
from presenter.lesson.steps import Step, slug
from presenter.problems import Problem, nearest

__all__ = ["OWN_CHOICES", "problems_across", "problems_of_references"]

# Answers to "from", beside the id of a note.
OWN_CHOICES = ("our choice", "common practice", "house rule", "own analysis")


def _suggestion(word: str, known: Any, else_words: str = "") -> str:
    close = nearest(word, known)
    return f"Did you mean {close}?" if close else else_words


def problems_across(lesson: Lesson) -> list[Problem]:
    """Every Problem that shows only when fields are held beside one another."""
    return [
        *_names(lesson),
        *_ingredients(lesson),
        *_liquids(lesson),
        *_loaves(lesson),
        *_vessels(lesson),
        *_audience(lesson),
        *problems_of_references(lesson),
        *problems_of_papers(lesson),
    ]


def problems_of_references(lesson: Lesson) -> list[Problem]:
    """Every Problem with what a lesson refers to outside itself; these show even where a step has no right shape."""
    return [*(_no_notes(lesson) or [*_notes(lesson), *_evidence(lesson)]), *_house(lesson)]


def _no_notes(lesson: Lesson) -> list[Problem]:
    """One Problem where a lesson uses notes and there are none at all near it."""
    used = [note_id for step in lesson.steps for note_id in (*step.science, *step.history)]
    if lesson.notes or len(used) < 2:
        return []
    wrong = "This lesson uses notes, but there is no notes folder beside it or in a library above it."
    remedy = "Keep the lesson beside notes/ and library.yaml, or copy those too."
    return [Problem(used[0].place, "notes", str(used[0]), wrong, remedy)]


TASTING = ("none", "adults of legal age")
NEVER_IN_CONTACT = ("lead",)


def _audience(lesson: Lesson) -> list[Problem]:
    """Who may taste is one of two answers; a vessel of lead is for show only."""
    problems = []
    tasting = lesson.file.audience.tasting
    if tasting is not None and str(tasting) not in TASTING:
        remedy = _suggestion(str(tasting), TASTING, f"Write one of: {', '.join(TASTING)}.")
        wrong = f"{tasting} is no answer to who may taste; only adults of legal age may."
        problems.append(Problem(tasting.place, "audience.tasting", str(tasting), wrong, remedy))
    used = {str(name) for step in lesson.steps if step.do != "show" for name in step.vessels()}
    for name, item in lesson.file.kit.items():
        words = str(item.of or "").casefold().split()
        if item.of is not None and str(name) in used and any(word in NEVER_IN_CONTACT for word in words):
            wrong = f"A vessel of {item.of} must not touch food or drink."
            remedy = "Use stainless steel, and keep this one for a step that only shows it."
            problems.append(Problem(item.of.place, f"kit.{name}.of", str(item.of), wrong, remedy))
    return problems


def _names(lesson: Lesson) -> list[Problem]:
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
                    f"Another step, number {seen[step.id] + 1}, has this name already.",
                    "Give each step a name of its own.",
                )
            )
        seen.setdefault(step.id, index)
        if step.id in {"lesson", "all"}:
            problems.append(
                Problem(
                    step.name.place,
                    where,
                    str(step.name),
                    f"The name {step.name} is kept for the toolkit's own use.",
                    "Choose another name.",
                )
            )
    return problems


def _ingredients(lesson: Lesson) -> list[Problem]:
    problems = []
    for name, use in lesson.file.ingredients.items():
        if use.amount.number() <= 0:
            where = f"ingredients.{name}.amount"
            problems.append(
                Problem(use.amount.place, where, use.amount.written, "An amount must be more than nothing.")
            )
    known = [str(name) for name in lesson.file.ingredients]
    told: set[str] = set()
    for index, step in enumerate(lesson.steps):
        named = getattr(step, "with_", None) or ()
        for item in (named,) if isinstance(named, Written) else named:
            if str(item) not in known and str(item) not in told and step.do != "clean":
                told.add(str(item))
                wrong = f"There is no ingredient called {item}."
                else_words = (
                    f"The ingredients are {', '.join(known)}." if known else "Add it under ingredients: at the top."
                )
                remedy = _suggestion(str(item), known, else_words)
                problems.append(Problem(item.place, f"steps[{index + 1}].with", str(item), wrong, remedy))
    return problems


def _liquids(lesson: Lesson) -> list[Problem]:
    made: dict[str, str] = {}
    joined: dict[str, str] = {}
    told: set[str] = set()  # one mistake gives one problem, however often the name is used
    later = {str(made_name): step.name for step in lesson.steps for made_name in step.makes()}
    problems = []
    for index, step in enumerate(lesson.steps):
        for name in step.uses():
            if slug(name) in made or slug(name) in told:
                continue
            told.add(slug(name))
            where = f"steps[{index + 1}].what"
            if slug(name) in joined:
                wrong = f"There is no {name} any more: it went into {joined[slug(name)]}."
                problems.append(
                    Problem(name.place, where, str(name), wrong, f"Use {joined[slug(name)]} from there on.")
                )
            elif slug(name) in later:
                maker = later[slug(name)]
                wrong = f"No step has made {name} yet; the step {maker} makes it afterwards."
                if maker == step.name:
                    wrong = f"This step uses {name}, which it only makes itself."
                problems.append(Problem(name.place, where, str(name), wrong, "Make it in an earlier step."))
            elif slug(name) in lesson.loaves:
                wrong = f"{name} is a loaf, not a liquid."
                remedy = "Name it as an ingredient, and soak it in a mash."
                problems.append(Problem(name.place, where, str(name), wrong, remedy))
            else:
                so_far = (
                    f"What has been made by then: {', '.join(made.values())}." if made else "Nothing is made by then."
                )
                remedy = _suggestion(str(name), [*made.values()], so_far)
                problems.append(Problem(name.place, where, str(name), f"No step makes anything called {name}.", remedy))
        if step.do in {"join", "split"}:
            became = " and ".join(str(called) for _, called in step.names_given())
            for name in step.uses():
                if made.pop(slug(name), None) is not None:
                    joined[slug(name)] = became
        for key, called in step.names_given():
            thing = slug(called)
            if thing in made:
                wrong = f"There is something called {called} already."
                where = f"steps[{index + 1}].{key}"
                problems.append(Problem(called.place, where, str(called), wrong, "Call this one something else."))
            made[thing] = str(called)
            joined.pop(thing, None)
    return problems


def _loaves(lesson: Lesson) -> list[Problem]:
    """A loaf is baked once under one name, and used only afterwards."""
    baked: dict[str, str] = {}
    later = {slug(name): str(step.name) for step in lesson.steps for name in step.bakes()}
    problems = []
    for index, step in enumerate(lesson.steps):
        named = getattr(step, "with_", ()) or ()
        wanted = {str(named)} if isinstance(named, Written) else {str(name) for name in named}
        for key, use in lesson.file.ingredients.items():
            loaf = slug(use.what)
            if str(key) in wanted and lesson.is_own_loaf(use) and loaf not in baked:
                wrong = f"No step has baked the {use.what} yet; the step {later[loaf]} bakes it."
                where = f"ingredients.{key}.what"
                problems.append(Problem(use.what.place, where, str(use.what), wrong, "Bake it in an earlier step."))
        for name in step.bakes():
            if slug(name) in baked:
                wrong = f"There is a loaf called {name} already, from the step {baked[slug(name)]}."
                where = f"steps[{index + 1}].call it"
                problems.append(Problem(name.place, where, str(name), wrong, "Call this one something else."))
            baked[slug(name)] = str(step.name)
    return problems


def _vessels(lesson: Lesson) -> list[Problem]:
    known = [str(name) for name in lesson.file.kit]
    told: set[str] = set()
    problems = []
    for index, step in enumerate(lesson.steps):
        for name in step.vessels():
            if (
                str(name) not in known
                and str(name) not in told
                and getattr(name, "place", None) is not None
                and name.place.file
            ):
                told.add(str(name))
                wrong = f"There is nothing called {name} in the kit."
                else_words = f"The kit holds {', '.join(known)}." if known else "Add it under kit: at the top."
                where = f"steps[{index + 1}].{_key_of(step, name)}"
                problems.append(Problem(name.place, where, str(name), wrong, _suggestion(str(name), known, else_words)))
    for tool, item in lesson.file.kit.items():
        if item.right_within is not None and str(tool) not in INSTRUMENTS:
            wrong = f"Only an instrument is right within a limit, and {tool} is none that this toolkit knows."
            remedy = _suggestion(str(tool), INSTRUMENTS, f"The instruments are {', '.join(INSTRUMENTS)}.")
            problems.append(
                Problem(item.right_within.place, f"kit.{tool}.right within", str(item.right_within), wrong, remedy)
            )
    return problems


def _key_of(step: Step, value: Written) -> str:
    """The author's key under which ``value`` stands in ``step``."""
    for name, info in type(step).model_fields.items():
        held = getattr(step, name)
        if held is value or (isinstance(held, tuple) and any(item is value for item in held)):
            return info.alias or name
    return "in"


def _notes(lesson: Lesson) -> list[Problem]:
    problems = []
    used: dict[str, None] = {}
    for index, step in enumerate(lesson.steps):
        for about, ids in (("science", step.science), ("history", step.history)):
            for note_id in ids:
                problem = _note_problem(lesson, note_id, about, f"steps[{index + 1}].{about}")
                if problem is not None:
                    problems.append(problem)
                used[str(note_id)] = None
    for note_id in lesson.file.myths:
        note = lesson.notes.get(str(note_id))
        used[str(note_id)] = None
        if note is None or not note.do_not_say:
            known = [other.id for other in lesson.notes.values() if other.do_not_say]
            wrong = f"There is no note of a myth called {note_id}."
            problems.append(Problem(note_id.place, "myths", str(note_id), wrong, _suggestion(note_id, known)))
    for used_id in used:
        note = lesson.notes.get(used_id)
        for key, _ in note.cites if note is not None else ():
            if note is not None and key not in lesson.bibliography:
                wrong = f"The note {used_id} cites {key}, which no list of sources holds."
                remedy = _suggestion(key, lesson.bibliography.keys(), "Add it to sources.yaml.")
                problems.append(Problem(note.place, f"{used_id}.sources", key, wrong, remedy))
    return problems


def _note_problem(lesson: Lesson, note_id: Written, about: str, where: str) -> Problem | None:
    note = lesson.notes.get(str(note_id))
    if note is not None and note.about == about:
        return None
    if note is not None:
        wrong = f"{note_id} is a {note.about} note."
        return Problem(note_id.place, where, str(note_id), wrong, f"Write it under {note.about}: instead.")
    known = [other.id for other in lesson.notes.values() if other.about == about]
    wrong = f"There is no {about} note called {note_id}."
    return Problem(note_id.place, where, str(note_id), wrong, _suggestion(note_id, known))


def _evidence(lesson: Lesson) -> list[Problem]:
    known = [*OWN_CHOICES, *lesson.notes]
    problems = []

    def look(answer: Written, where: str) -> None:
        said = str(answer)
        if said in lesson.notes or said in lesson.bibliography or said.split(":")[0].strip() in OWN_CHOICES:
            return
        wrong = f"{said} is no note, no source, and not an answer such as our choice."
        problems.append(
            Problem(
                answer.place,
                where,
                said,
                wrong,
                _suggestion(
                    said,
                    [*known, *lesson.bibliography.keys()],
                    "Write our choice, common practice, or the id of a note or source.",
                ),
            )
        )

    for name, use in lesson.file.ingredients.items():
        if use.from_ is not None:
            look(use.from_, f"ingredients.{name}.from")
    for index, step in enumerate(lesson.steps):
        for field, answer in step.from_.items():
            where = f"steps[{index + 1}].from.{field}"
            if field == "all" and getattr(field, "place", None) == answer.place:
                where = f"steps[{index + 1}].from"  # one answer for every figure
            if field not in step.figures() and field != "all":
                remedy = _suggestion(
                    str(field),
                    step.figures(),
                    f"Its figures are {', '.join(step.figures())}." if step.figures() else "",
                )
                place = field.place if isinstance(field, Written) else answer.place
                problems.append(Problem(place, where, str(field), f"This step has no figure called {field}.", remedy))
            look(answer, where)
    return problems


def _house(lesson: Lesson) -> list[Problem]:
    problems: list[Problem] = []
    for name, value in lesson.file.house.items():
        if str(name) not in HOUSE_VALUES:
            remedy = _suggestion(str(name), HOUSE_VALUES, f"The house values are {', '.join(HOUSE_VALUES)}.")
            place = name.place if isinstance(name, Written) else place_of({}, ())
            problems.append(
                Problem(place, f"house.{name}", str(name), f"There is no house value called {name}.", remedy)
            )
        else:
            stated(value, (HOUSE_VALUES[str(name)],), f"house.{name}", problems)
    return problems
