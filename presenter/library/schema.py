"""What a lesson, a day and a library file may hold: as JSON Schema for editors, and as a reference to read.

In: the pydantic models, and ``described.yaml``. Out: a schema whose every key has a description, and Markdown.
A schema judges shape alone: what a quantity, a name or an order of steps means is for ``presenter check``.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from copy import deepcopy
from functools import cache
from importlib.resources import files
from typing import Any

import yaml
from pydantic import BaseModel

from presenter.lesson.day import DayFile
from presenter.lesson.library_file import LibraryFile
from presenter.lesson.model import LessonFile
from presenter.lesson.steps import STEP_KINDS

__all__ = ["FILES", "reference", "schema_of"]

DIALECT = "https://json-schema.org/draft/2020-12/schema"
FILES: Mapping[str, tuple[type[BaseModel], str]] = {
    "lesson": (LessonFile, "A lesson: what is brewed, step by step, and what it rests on."),
    "day": (DayFile, "One day of a lesson: what was read, changed, seen and learnt."),
    "library": (LibraryFile, "What holds for every lesson below it, unless the lesson says otherwise."),
}


@cache
def _described() -> Mapping[str, Mapping[str, Any]]:
    text = files("presenter.library").joinpath("described.yaml").read_text(encoding="utf-8")
    found: Mapping[str, Mapping[str, Any]] = yaml.safe_load(text)
    return found


def schema_of(name: str) -> dict[str, Any]:
    """The JSON Schema (2020-12) of one kind of file: lesson, day or library."""
    return deepcopy(_schema_of(name))


@cache
def _schema_of(name: str) -> dict[str, Any]:
    model, words = FILES[name]
    schema = model.model_json_schema(by_alias=True)
    parts: dict[str, Any] = schema.pop("$defs", {})
    for part, found in [(model.__name__, schema), *parts.items()]:
        _tidy(part, found)
    if name == "lesson":
        schema["properties"]["steps"] |= {"items": _steps(parts), "minItems": 1}
    return {"$schema": DIALECT, "title": f"{name} file", **schema, "description": words, "$defs": parts}


def _steps(parts: Mapping[str, Any]) -> dict[str, Any]:
    """A step: its kind first, and then the keys of that kind, so that an editor offers those and no others."""
    return {
        "type": "object",
        "required": ["name", "do"],
        "properties": {
            "name": parts["Mash"]["properties"]["name"],
            "do": {"enum": list(STEP_KINDS), "description": _described()["do"]["says"]},
        },
        "allOf": [
            {
                "if": {"properties": {"do": {"const": kind}}, "required": ["do"]},
                "then": {"$ref": f"#/$defs/{model.__name__}"},
            }
            for kind, model in STEP_KINDS.items()
        ],
    }


def _tidy(part: str, schema: dict[str, Any]) -> None:
    """Take out what only pydantic needs, and put in what each key means."""
    schema.pop("title", None)
    if "description" in schema:
        schema["description"] = " ".join(schema["description"].replace("``", "").split())
    for key, found in schema.get("properties", {}).items():
        found.pop("title", None)
        if found.get("default", "") in (None, "", [], {}):
            found.pop("default", None)
        options = [option for option in found.get("anyOf", []) if option != {"type": "null"}]
        if len(options) == 1:
            del found["anyOf"]
            found |= {**options[0], **found}
        elif options:
            found["anyOf"] = options
        if key == "from" and found.get("type") == "object":
            one, each = {"type": "string"}, {"type": "object", "additionalProperties": found["additionalProperties"]}
            schema["properties"][key] = found = {"anyOf": [one, each]}
        if found.get("type") == "array" and "pattern" in found.get("items", {}):
            schema["properties"][key] = found = {"anyOf": [found["items"], found]}
        told = _described().get(f"{part}.{key}") or _described().get(key) or {}
        kind = found.get("description", "")
        if "says" in told:
            found["description"] = f"{told['says'].rstrip('.')} ({kind})." if kind else told["says"]
        if "examples" in told:
            found["examples"] = told["examples"]


def reference() -> str:
    """Every key of the three kinds of file, with what it means, as Markdown."""
    lines = [
        "# What a lesson, a day and a library file may hold",
        "",
        "A key in **bold** must be there. A quantity has its unit; what is not said is looked up: lesson, library,"
        " package.",
    ]
    told: set[str] = set()
    for name, (model, words) in FILES.items():
        schema = schema_of(name)
        lines += ["", f"## {name}: {words}", "", *_table(schema)]
        for part, found in schema["$defs"].items():
            if part in told or part == model.__name__:
                continue
            told.add(part)
            kinds = [kind for kind, step in STEP_KINDS.items() if step.__name__ == part]
            head = f"Step `do: {'` or `do: '.join(kinds)}`" if kinds else f"Part {part}"
            common = set(schema_of("lesson")["$defs"]["Show"]["properties"]) - {"what"} if kinds else set()
            lines += ["", f"### {head}", "", found.get("description", ""), ""]
            lines += _table(found, common - {"name"})
            if kinds:
                lines.append("| … | and the keys that every step may have, under `show` | |")
            if part == "Show":
                lines[-1:] = _rows(found, {"what"})
    return "\n".join(lines) + "\n"


def _table(schema: Mapping[str, Any], without: set[str] | frozenset[str] = frozenset()) -> list[str]:
    return ["| key | what it means | example |", "| --- | --- | --- |", *_rows(schema, without)]


def _rows(schema: Mapping[str, Any], without: set[str] | frozenset[str]) -> Iterator[str]:
    needed = schema.get("required", [])
    for key, found in schema.get("properties", {}).items():
        if key in without:
            continue
        options = found.get("enum") or next((o["enum"] for o in found.get("anyOf", []) if "enum" in o), None)
        words = found.get("description", "")
        if options:
            words += f" One of: {', '.join(str(option) for option in options if not isinstance(option, bool))}."
        example = next(iter(found.get("examples", [])), "")
        shown = (
            yaml.safe_dump(example, default_flow_style=True, width=1000).removesuffix("...\n").strip()
            if example
            else ""
        )
        cells = [f"**{key}**" if key in needed else key, words, f"`{shown}`" if shown else ""]
        yield f"| {' | '.join(cell.replace('|', chr(92) + '|') for cell in cells)} |"
