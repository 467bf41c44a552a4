"""The schemas: accept every demo lesson, refuse every wrong one that shape alone can refuse, and describe every key."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml

from presenter.lesson import demo_folder
from presenter.lesson.steps import STEP_KINDS
from presenter.library.schema import FILES, reference, schema_of

DEMO = demo_folder("lessons_demo")
WRONG = Path(__file__).parents[1] / "lesson" / "wrong"


class _Core(yaml.SafeLoader):
    """YAML 1.2's core schema (yaml.org/spec/1.2.2, section 10.3), as editors read it: numbers, true, false, null."""


_Core.yaml_implicit_resolvers = {}
for tag, pattern, first in (
    ("null", r"^(?:~|null|Null|NULL|)$", ["~", "n", "N", ""]),
    ("bool", r"^(?:true|True|TRUE|false|False|FALSE)$", list("tTfF")),
    ("int", r"^[-+]?[0-9]+$", list("-+0123456789")),
    ("float", r"^[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?$", list("-+.0123456789")),
):
    _Core.add_implicit_resolver(f"tag:yaml.org,2002:{tag}", re.compile(pattern), first)


def as_an_editor_reads(path: Path) -> Any:
    return yaml.load(path.read_text(encoding="utf-8"), _Core)


@cache
def validator(name: str) -> jsonschema.Draft202012Validator:
    schema = schema_of(name)
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


def errors(name: str, tree: Any) -> list[str]:
    schema = schema_of(name)
    jsonschema.Draft202012Validator.check_schema(schema)
    return [
        f"{error.json_path}: {error.message}" for error in jsonschema.Draft202012Validator(schema).iter_errors(tree)
    ]


@pytest.mark.parametrize("path", sorted(DEMO.glob("*/lesson.yaml")), ids=lambda path: path.parent.name)
def test_every_demo_lesson_is_accepted(path: Path) -> None:
    """This test ensures that the schema finds nothing wrong in a demo lesson, as an editor reads it."""
    assert errors("lesson", as_an_editor_reads(path)) == []


@pytest.mark.parametrize("path", sorted(DEMO.glob("*/days/*.yaml")), ids=lambda path: path.stem)
def test_every_demo_day_is_accepted(path: Path) -> None:
    """This test ensures that the schema finds nothing wrong in a demo lesson's days."""
    assert errors("day", as_an_editor_reads(path)) == []


def test_the_demo_library_is_accepted() -> None:
    """This test ensures that the schema finds nothing wrong in the demo library's file."""
    assert errors("library", as_an_editor_reads(DEMO / "library.yaml")) == []


# What shape alone can refuse: a key that is missing, unknown or misspelt, a word off a short list, a quantity without
# its number or its unit, a date or a number that is none.
SHAPE = {
    "another_word_for_a_step",
    "shape_and_note",
    "bake_shape_unknown",
    "date_the_other_way",
    "gravity_without_point",
    "less_than_nothing",
    "missing_key",
    "missing_title",
    "no_kind_of_step",
    "no_unit",
    "two_mistakes",
    "unknown_key",
    "unknown_key_in_step",
    "unknown_key_in_water",
    "unknown_kind_of_step",
}


@pytest.mark.parametrize("path", sorted(WRONG.glob("*.yaml")), ids=lambda path: path.stem)
def test_wrong_lessons_are_refused_where_shape_can_tell(path: Path) -> None:
    """This test ensures that the schema refuses the wrong lessons whose shape is wrong, and accepts all others: their
    mistake lies in what a name, a quantity or an order of steps means (or in the YAML itself)."""
    try:
        tree = as_an_editor_reads(path)
    except yaml.YAMLError:
        assert path.stem not in SHAPE
        return
    assert bool(errors("lesson", tree)) == (path.stem in SHAPE), errors("lesson", tree)


@pytest.mark.parametrize(
    ("tree", "wrong"),
    [
        ({"paper": "A5"}, True),
        ({"law": "Ask first."}, False),
        ({"law": [{"say": "Ask first.", "look again": "2027-01-31"}, "And again."]}, False),
        ({"law": [{"say": "Ask first.", "look again": "soon"}]}, True),
        ({"values": {"mash yield": "80 percent", "cools": {"value": "3 degC per hour", "within": "1 degC"}}}, False),
        ({"ingredients": {"our malt": {"extract": "70 percent"}}}, True),
        ({"kit": {"tub": {"holds": "-3 L"}}}, True),
    ],
)  # fmt: skip
def test_library_files_are_judged(tree: dict[str, Any], wrong: bool) -> None:
    """This test ensures that the library's schema takes what may be written short, and refuses what is none."""
    assert bool(errors("library", tree)) == wrong


def keys(schema: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    for part, found in [("file", schema), *schema["$defs"].items()]:
        for key, described in found.get("properties", {}).items():
            yield f"{part}.{key}", described


@pytest.mark.parametrize("name", FILES)
def test_every_key_is_described(name: str) -> None:
    """This test ensures that an editor can say what each key means: add a line to described.yaml for a new one."""
    bare = [key for key, found in keys(schema_of(name)) if not found.get("description", "").endswith(".")]
    assert bare == []


def test_every_kind_of_step_completes_its_own_keys() -> None:
    """This test ensures that a step of each kind is held to the keys of that kind."""
    steps = schema_of("lesson")["properties"]["steps"]["items"]
    assert [branch["if"]["properties"]["do"]["const"] for branch in steps["allOf"]] == list(STEP_KINDS)
    lesson = as_an_editor_reads(WRONG / "base.yaml")
    lesson["steps"].append({"name": "Show it", "do": "show", "what": ["hops"], "hold": "3 min"})
    assert any("hold" in error for error in errors("lesson", lesson))


def test_the_reference_names_every_key() -> None:
    """This test ensures that the field reference holds each key of each file in a table row."""
    text = reference()
    for name in FILES:
        for key, _ in keys(schema_of(name)):
            bare = key.partition(".")[2]
            assert f"| {bare} |" in text or f"| **{bare}** |" in text, key
