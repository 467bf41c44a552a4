"""The small lessons of ``lessons_that_raise.yaml``: bases, and a base with some things changed.

In: a base's name and changes by path. Out: a lesson as its author would write it, or worked out.
"""

from __future__ import annotations

import copy
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import yaml

from presenter.lesson import lesson_from_text, package_house
from presenter.working import WorkedLesson, work_out

__all__ = ["TABLE", "base", "changed", "worked"]

TABLE = yaml.load((Path(__file__).parent / "lessons_that_raise.yaml").read_text("utf-8"), Loader=yaml.BaseLoader)


def changed(lesson: Mapping[str, Any], changes: Mapping[str, Any]) -> dict[str, Any]:
    """The lesson with the things at some paths set, added (a step at the end) or, where null, taken away."""
    new: dict[str, Any] = copy.deepcopy(dict(lesson))
    for path, value in changes.items():
        *way, last = path.split(".")
        at: Any = new
        for part in way[1:] if way[:1] == ["steps"] else way:
            if at is new and way[0] == "steps":
                at = next(step for step in new["steps"] if step["name"] == part)
            else:
                at = at[part]
        if way == ["steps"]:
            kept = [step for step in new["steps"] if step["name"] != last]
            new["steps"] = kept if value in ("null", None) else [*kept, {"name": last, **value}]
        else:
            at[last] = value
    return new


def base(name: str) -> dict[str, Any]:
    """A base of the table, whole."""
    written = TABLE["bases"][name]
    return changed(base(written["from"]), written["set"]) if "from" in written else written


def worked(lesson: Mapping[str, Any]) -> WorkedLesson:
    """The lesson read from its text and worked out, without give-or-take: cautions do not look at it."""
    text = yaml.dump(lesson, sort_keys=False, default_style='"', allow_unicode=True)
    return work_out(lesson_from_text(text, Path("small.yaml"), package_house()), spreads=False)
