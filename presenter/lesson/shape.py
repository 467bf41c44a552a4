"""What is wrong with the shape of a file, in the author's own words.

In: the errors of a pydantic model over the tree of a YAML file. Out: a Problem for each, at its line and column.
"""

from __future__ import annotations

import re
import types
import typing
from collections.abc import Iterable
from typing import Any

from pydantic import BaseModel, ValidationError

from presenter.lesson.reading import MappingNode, Written, place_of, written_at
from presenter.lesson.steps import STEP_KINDS
from presenter.problems import Problem, nearest

__all__ = ["field_words", "problems_of_shape"]


def problems_of_shape(
    error: ValidationError, tree: MappingNode, file: str, root: type[BaseModel], whole: str
) -> list[Problem]:
    """Every error of a file whose shape is ``root``; ``whole`` is what the file is called ("the lesson")."""
    found = error.errors(include_url=False)
    return [_problem(item, tree, file, root, whole) for item in _told_once(found, root)]


def _problem(error: Any, tree: MappingNode, file: str, root: type[BaseModel], whole: str) -> Problem:
    """One pydantic error as a Problem in the author's own words."""
    path = _author_path(error["loc"])
    kind = error["type"]
    field = field_words(path)
    if kind == "missing":
        inside = path[:-1]
        return Problem(
            place_of(tree, inside, file), field, "",
            f"The key {path[-1]} is missing from {_whose(tree, inside, whole)}.",
            f"Add {path[-1]}: with its value.",
        )  # fmt: skip
    if kind == "extra_forbidden":
        known = [str(key) for key in _keys_known(error["loc"][:-1], root)]
        close = nearest(str(path[-1]), known)
        remedy = f"Did you mean {close}?" if close else f"The keys known here are {', '.join(known)}."
        parent = _at(tree, path[:-1])
        place = next(
            (key.place for key in parent or () if isinstance(key, Written) and key == path[-1]),
            place_of(tree, path, file),
        )
        return Problem(place, field, "", f"There is no key {path[-1]} in {_whose(tree, path[:-1], whole)}.", remedy)
    if kind == "sentence":
        context = error["ctx"]
        if isinstance(_value_at(tree, path), MappingNode) and path[:1] == ["steps"] and len(path) == 2:
            path = [*path, "do"]  # the sentence speaks of the kind of step
        return Problem(
            place_of(tree, path, file), field_words(path), written_at(tree, path), context["wrong"], context["remedy"]
        )
    if kind == "literal_error":
        allowed = re.findall(r"'([^']*)'", error["ctx"]["expected"])
        close = nearest(written_at(tree, path), allowed)
        wrong = f"{written_at(tree, path)} is not one of the words allowed here: {', '.join(allowed)}."
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


def _whose(tree: MappingNode, path: list[Any], whole: str) -> str:
    """Whose keys are meant, in words: "the step First mash (mash)"."""
    if len(path) >= 2 and path[0] == "steps":
        step = _value_at(tree, path[:2])
        name, kind = (written_at(step, [key]) for key in ("name", "do"))
        if name and kind:
            further = f"{path[-1]} of " if len(path) > 2 else ""
            return f"{further}the step {name} ({kind})"
    return field_words(path) or whole


def _told_once(errors: list[Any], root: type[BaseModel]) -> list[Any]:
    """The errors without each missing key that a misspelt key beside it was meant to be."""
    meant = {
        (*error["loc"][:-1], nearest(str(error["loc"][-1]), _keys_known(error["loc"][:-1], root)))
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


def _keys_known(loc: Iterable[Any], root: type[BaseModel]) -> list[str]:
    """The keys that the model at ``loc`` knows."""
    model: type[BaseModel] | None = root
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
