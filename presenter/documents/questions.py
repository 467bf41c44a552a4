"""Questions for a worksheet, made from the lesson's own numbers; the answers come from the same numbers.

In: a worked lesson and the file ``worksheet-questions.yaml`` beside the templates, nearest first. Out: questions in
order. A question is asked for the first step whose numbers it needs; one whose numbers the lesson lacks is left out.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import yaml
from jinja2.sandbox import ImmutableSandboxedEnvironment

from presenter.documents.instruments import hydrometer
from presenter.documents.page_text import escaped
from presenter.documents.rendering import PageText, render_text
from presenter.documents.sheet_view import SheetView
from presenter.documents.step_view import StepView
from presenter.documents.versions import Version, chance
from presenter.problems import Place, Problem, ProblemsFoundError

__all__ = ["Question", "questions_for"]

FILE = "worksheet-questions.yaml"


@dataclass(frozen=True)
class Question:
    """One question in page text, its answer, the room to write and its marks."""

    number: str
    kind: str
    ask: PageText
    answer: PageText
    lines: int
    marks: int

    @property
    def space(self) -> PageText:
        """Room to write the answer."""
        return PageText(f"```answer lines={self.lines}\n```\n")

    @property
    def heading(self) -> PageText:
        """Its number, its kind and its marks."""
        words = f"{self.marks} mark" + ("" if self.marks == 1 else "s")
        return PageText(f"## ({self.number}) {escaped(self.kind)}, {words}")


def _file(folders: list[Path]) -> Path:
    for folder in folders:
        if (folder / FILE).is_file():
            return folder / FILE
    raise _problem(Path("templates") / FILE, "There is no file of questions beside the templates.")


def _problem(path: Path, wrong: str, written: str = "") -> ProblemsFoundError:
    return ProblemsFoundError((Problem(Place(str(path)), "", written, wrong),))


def _entries(path: Path) -> list[dict[str, Any]]:
    """The questions as they are written, each with all that a question needs."""
    try:
        entries = yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.CSafeLoader)
    except (yaml.YAMLError, UnicodeDecodeError):
        raise _problem(path, "The questions cannot be read: this is no good YAML.") from None
    if not isinstance(entries, list) or not all(isinstance(entry, dict) for entry in entries):
        raise _problem(path, "The questions are a list; each begins with a dash and has keys.")
    for entry in entries:
        missing = [name for name in ("id", "kind", "ask", "answer", "lines", "marks") if name not in entry]
        if missing:
            raise _problem(path, f"The question {entry.get('id', '?')} lacks {', '.join(missing)}.")
        if not all(isinstance(entry[name], int) and 0 < entry[name] <= 40 for name in ("lines", "marks")):
            raise _problem(path, f"The question {entry['id']} needs whole numbers of lines and marks, up to 40.")
    return entries


def _without_rota(entries: list[dict[str, Any]], version: Version, seed: str) -> list[dict[str, Any]]:
    """Each version leaves out one question of every rota of three or more, the next version another."""
    if not version.letter:
        return entries
    out: set[str] = set()
    for rota in dict.fromkeys(entry["rota"] for entry in entries if "rota" in entry):
        ids = [entry["id"] for entry in entries if entry.get("rota") == rota]
        if len(ids) > 2:
            out.add(ids[(chance(seed, rota) + ord(version.letter)) % len(ids)])
    return [entry for entry in entries if entry["id"] not in out]


def _claims(myths: list[dict[str, str]], version: Version, seed: str) -> list[dict[str, str]]:
    """Two lines to be judged, one true and one a myth, about different things where the lesson has two myths."""
    if not myths:
        return []
    wrong = [{"says": each["do_not_say"], "truth": "A myth.", "because": each["say_instead"]} for each in myths]
    right = [{"says": each["say_instead"], "truth": "True.", "because": ""} for each in myths]
    pool = [*wrong, *right]
    first = (chance(seed, "claims") + ord(version.letter or "A")) % len(pool)
    return [pool[first], pool[(first + len(myths) + 1) % len(pool)]]


def _step_for(view: SheetView, entry: dict[str, Any]) -> StepView | None:
    needs = entry.get("needs", [])
    for step in view.steps:
        if entry.get("step") in (None, step.step.do) and all(
            f"{step.id}.{name}" in view.worked.numbers for name in needs
        ):
            return step
    return None


def _second_runnings(view: SheetView) -> bool:
    """Whether water goes a second time on grain that has given its wort."""
    return any(step.step.do == "mash" and not getattr(step.step, "with_", ()) for step in view.steps)


def _shuffled(names: list[str], seed: str) -> list[str]:
    return sorted(names, key=lambda name: hashlib.sha256(f"{seed}/{name}".encode()).hexdigest())


def questions_for(
    view: SheetView, env: ImmutableSandboxedEnvironment, folders: list[Path], version: Version, seed: str
) -> list[Question]:
    """The questions that this lesson's numbers can answer, as one version asks them.

    Raises ProblemsFoundError for anything wrong in the file of questions.
    """
    path = _file(folders)
    lesson_has = view.worked.numbers
    order = [step.name for step in view.steps if step.step.do not in {"show", "ferment"}]
    claims = _claims(view.myths, version, seed)
    values: dict[str, Any] = {
        "sheet": view, "in_order": order, "shuffled": _shuffled(order, f"{seed}{version.letter}"), "myths": view.myths,
        "claims": claims, "worth": view.worth, "hydrometer": hydrometer,
        "us": SheetView(view.worked, view.cautioned, "us").worth,
        "metric": SheetView(view.worked, view.cautioned).worth,
    }  # fmt: skip
    found: list[Question] = []
    for entry in _without_rota(_entries(path), version, seed):
        step = _step_for(view, entry)
        wanted = entry.get("lesson-needs", [])
        if step is None or not all(f"lesson.{name}" in lesson_has for name in wanted):
            continue
        if entry.get("wants") == "myths" and not claims:
            continue
        if entry.get("wants") == "second runnings" and not _second_runnings(view):
            continue
        here = {"step": step, "n": step.worth, **values}
        ask, answer = (
            PageText(render_text(env, str(entry[part]), str(path), here).strip()) for part in ("ask", "answer")
        )
        found.append(Question(str(len(found) + 1), str(entry["kind"]), ask, answer, entry["lines"], entry["marks"]))
    return found
