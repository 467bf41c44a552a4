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

from presenter.documents.rendering import PageText
from presenter.documents.sheet_view import SheetView
from presenter.documents.step_view import StepView
from presenter.problems import BrewingPresenterError

__all__ = ["Question", "QuestionFileError", "questions_for"]

FILE = "worksheet-questions.yaml"


class QuestionFileError(BrewingPresenterError):
    """The file of questions lacks what a question needs."""


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
        words = f"{self.marks} mark" + ("" if self.marks == 1 else "s")
        return PageText(f'```answer lines={self.lines} marks="{words}"\n```\n')


def _file(folders: list[Path]) -> Path:
    for folder in folders:
        if (folder / FILE).is_file():
            return folder / FILE
    raise QuestionFileError(f"there is no {FILE} beside the templates")


def _step_for(view: SheetView, entry: dict[str, Any]) -> StepView | None:
    needs = entry.get("needs", [])
    for step in view.steps:
        if entry.get("step") in (None, step.step.do) and all(
            f"{step.id}.{name}" in view.worked.numbers for name in needs
        ):
            return step
    return None


def _shuffled(names: list[str], seed: str) -> list[str]:
    return sorted(names, key=lambda name: hashlib.sha256(f"{seed}/{name}".encode()).hexdigest())


def questions_for(view: SheetView, env: ImmutableSandboxedEnvironment, folders: list[Path]) -> list[Question]:
    """The questions that this lesson's numbers can answer."""
    path = _file(folders)
    entries = yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.CSafeLoader)
    lesson_has = view.worked.numbers
    order = [step.name for step in view.steps if step.step.do not in {"show", "ferment"}]
    values: dict[str, Any] = {
        "sheet": view, "in_order": order, "shuffled": _shuffled(order, view.title), "myths": view.myths,
        "worth": view.worth, "us": SheetView(view.worked, view.cautioned, "us").worth,
        "metric": SheetView(view.worked, view.cautioned).worth,
    }  # fmt: skip
    found: list[Question] = []
    for entry in entries:
        missing = [name for name in ("id", "kind", "ask", "answer", "lines", "marks") if name not in entry]
        if missing:
            raise QuestionFileError(f"{FILE}: the question {entry.get('id', '?')} lacks {', '.join(missing)}")
        step = _step_for(view, entry)
        wanted = entry.get("lesson-needs", [])
        if step is None or not all(f"lesson.{name}" in lesson_has for name in wanted):
            continue
        if entry.get("wants") == "myths" and not view.myths:
            continue
        texts = [
            PageText(env.from_string(entry[part]).render(step=step, n=step.worth, **values).strip())
            for part in ("ask", "answer")
        ]
        found.append(Question(str(len(found) + 1), entry["kind"], texts[0], texts[1], entry["lines"], entry["marks"]))
    return found
