"""From the text of a lesson to a checked Lesson, or to every Problem in it at once.

In: a lesson's folder or file, and the house above it. Out: :class:`~presenter.lesson.model.Lesson`. Checks of
one field come first; checks across fields only where those hold, so that one mistake gives one Problem.
"""

from __future__ import annotations

import types
import typing
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from pydantic import BaseModel, ValidationError

from presenter.lesson.across import problems_across
from presenter.lesson.house import INSTRUMENTS as INSTRUMENT_NAMES
from presenter.lesson.house import House, house_for, instrument_from
from presenter.lesson.model import Lesson, LessonFile
from presenter.lesson.notes import Note, notes_near, sources_near
from presenter.lesson.reading import MappingNode, Written, as_user_knows, place_of, read_yaml, text_of_file, written_at
from presenter.lesson.steps import STEP_KINDS
from presenter.problems import Place, Problem, ProblemsFoundError, nearest
from presenter.sources import package_bibliography

__all__ = ["lesson_from_text", "lesson_path", "load_lesson"]


def lesson_path(given: Path) -> Path:
    """The lesson's file: ``given`` itself, or the ``lesson.yaml`` (else the one YAML file) in that folder.

    Raises ProblemsFoundError where there is none, or more than one.
    """
    if given.is_file():
        return given
    if not given.is_dir():
        raise ProblemsFoundError((Problem(Place(str(given)), "", "", "There is no such file or folder."),))
    usual = given / "lesson.yaml"
    if usual.is_file():
        return usual
    found = sorted(p for p in given.glob("*.yaml") if p.name not in {"sources.yaml", "library.yaml"})
    if len(found) == 1:
        return found[0]
    wrong = (
        "There is no lesson.yaml in this folder." if not found else "There is more than one YAML file in this folder."
    )
    raise ProblemsFoundError((Problem(Place(str(given)), "", "", wrong, "Name the lesson's file itself."),))


def load_lesson(given: Path | str, house: House | None = None) -> Lesson:
    """Read and check the lesson at ``given`` (a folder or a file).

    Raises ProblemsFoundError with every Problem, each at its file, line and column.
    """
    path = lesson_path(Path(given))
    return lesson_from_text(text_of_file(path), path, house or house_for(path.parent.resolve()))


def lesson_from_text(text: str, path: Path, house: House) -> Lesson:
    """A checked lesson from its text; ``path`` says where notes and sources are looked for first."""
    file = as_user_knows(path)
    tree = read_yaml(text, file)
    problems: list[Problem] = []
    instruments = dict(house.instruments)
    kit = tree.get("kit")
    for name, entry in kit.items() if isinstance(kit, MappingNode) else ():
        if name in INSTRUMENT_NAMES and isinstance(entry, MappingNode):
            instrument = instrument_from(str(name), entry, "lesson", problems, f"kit.{name}")
            if instrument is not None:
                instruments[str(name)] = instrument
    model: LessonFile | None = None
    try:
        model = LessonFile.model_validate(tree)
    except ValidationError as error:
        problems += [_problem(item, tree, file) for item in _told_once(error.errors(include_url=False))]
    folders = [path.parent]
    if house.folder is not None and house.folder.resolve() != path.parent.resolve():
        folders.insert(0, house.folder)
    notes: dict[str, Note] = {}
    bibliography = package_bibliography()
    try:
        notes = notes_near(folders)
    except ProblemsFoundError as error:
        problems += error.problems
    try:
        bibliography = sources_near(folders, bibliography)
    except ProblemsFoundError as error:
        problems += error.problems
    if problems or model is None:
        raise ProblemsFoundError(tuple(dict.fromkeys(problems)))
    lesson = Lesson(
        file=model,
        path=path,
        text=text,
        house=house,
        instruments=instruments,
        notes=notes,
        bibliography=bibliography,
    )
    found = problems_across(lesson)
    if found:
        raise ProblemsFoundError(tuple(found))
    return lesson


def _problem(error: Any, tree: MappingNode, file: str) -> Problem:
    """One pydantic error as a Problem in the author's own words."""
    path = _author_path(error["loc"])
    kind = error["type"]
    field = field_words(path)
    if kind == "missing":
        inside = path[:-1]
        return Problem(
            place_of(tree, inside, file), field, "", f"The key {path[-1]} is missing from {_whose(tree, inside)}.",
            f"Add {path[-1]}: with its value.",
        )  # fmt: skip
    if kind == "extra_forbidden":
        known = [str(key) for key in _keys_known(error["loc"][:-1])]
        close = nearest(str(path[-1]), known)
        remedy = f"Did you mean {close}?" if close else f"The keys known here are {', '.join(known)}."
        parent = _at(tree, path[:-1])
        place = next(
            (key.place for key in parent or () if isinstance(key, Written) and key == path[-1]),
            place_of(tree, path, file),
        )
        return Problem(place, field, "", f"There is no key {path[-1]} in {_whose(tree, path[:-1])}.", remedy)
    if kind == "sentence":
        context = error["ctx"]
        if isinstance(_value_at(tree, path), MappingNode) and path[:1] == ["steps"] and len(path) == 2:
            path = [*path, "do"]  # the sentence speaks of the kind of step
        return Problem(
            place_of(tree, path, file), field_words(path), written_at(tree, path), context["wrong"], context["remedy"]
        )
    if kind == "literal_error":
        close = nearest(written_at(tree, path), ["sketched", "tried", "taught"])
        wrong = f"{written_at(tree, path)} is not one of the words allowed here: sketched, tried, taught."
        remedy = f"Did you mean {close}?" if close else ""
        return Problem(place_of(tree, path, file), field, written_at(tree, path), wrong, remedy)
    wanted = {
        "model_type": "Further keys are wanted here, each with its value.",
        "model_attributes_type": "Further keys are wanted here, each with its value.",
        "dict_type": "Names are wanted here, each with its value.",
        "tuple_type": "A list is wanted here, each item beginning with a dash.",
    }.get(kind, "This cannot be read as what is wanted here.")
    return Problem(place_of(tree, path, file), field, written_at(tree, path), wanted)


def _author_path(loc: Iterable[Any]) -> list[Any]:
    """Where an error stands, without the model's own mark for the kind of step."""
    parts = [part for part in loc if part != "[key]"]
    if len(parts) > 2 and parts[0] == "steps" and isinstance(parts[1], int):
        del parts[2]  # the kind of step
    return parts


def _whose(tree: MappingNode, path: list[Any]) -> str:
    """Whose keys are meant, in words: "the step First mash (mash)"."""
    if len(path) >= 2 and path[0] == "steps":
        step = _value_at(tree, path[:2])
        name, kind = (written_at(step, [key]) for key in ("name", "do"))
        if name and kind:
            further = f"{path[-1]} of " if len(path) > 2 else ""
            return f"{further}the step {name} ({kind})"
    return field_words(path) or "the lesson"


def _told_once(errors: list[Any]) -> list[Any]:
    """The errors without each missing key that a misspelt key beside it was meant to be."""
    meant = {
        (*error["loc"][:-1], nearest(str(error["loc"][-1]), _keys_known(error["loc"][:-1])))
        for error in errors
        if error["type"] == "extra_forbidden"
    }
    return [error for error in errors if error["type"] != "missing" or tuple(error["loc"]) not in meant]


def field_words(path: Iterable[Any]) -> str:
    """A path as the author would say it: ``steps[2].water.amount``, steps counted from 1."""
    text = ""
    for part in path:
        if isinstance(part, int):
            text += f"[{part + 1}]"
        else:
            text += f".{part}" if text else str(part)
    return text


def _at(tree: Any, path: Iterable[Any]) -> MappingNode | None:
    found = _value_at(tree, path)
    return found if isinstance(found, MappingNode) else None


def _value_at(tree: Any, path: Iterable[Any]) -> Any:
    for part in path:
        if (isinstance(tree, MappingNode) and part in tree) or (
            isinstance(tree, list) and isinstance(part, int) and part < len(tree)
        ):
            tree = tree[part]
        else:
            return None
    return tree


def _keys_known(loc: Iterable[Any]) -> list[str]:
    """The keys that the model at ``loc`` knows."""
    model: type[BaseModel] | None = LessonFile
    parts = list(loc)
    for number, part in enumerate(parts):
        if isinstance(part, int):
            continue
        if number == 2 and parts[0] == "steps" and part in STEP_KINDS:
            model = STEP_KINDS[part]
            continue
        if model is None:
            break
        for name, info in model.model_fields.items():
            if (info.alias or name) == part:
                model = _model_in(info.annotation) or model
                break
    return [info.alias or name for name, info in model.model_fields.items()] if model else []


def _model_in(annotation: Any) -> type[BaseModel] | None:
    if (
        isinstance(annotation, type)
        and not isinstance(annotation, types.GenericAlias)
        and issubclass(annotation, BaseModel)
    ):
        return annotation
    for argument in typing.get_args(annotation):
        found = _model_in(argument)
        if found is not None:
            return found
    return None
