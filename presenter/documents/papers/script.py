"""The script: what is said, in order, with numbers worded for the voice; cautions to speak, departures to admit, hours.

In: a sheet's view and the plan of its day. Out: the values of the large print script, and the same as ``script.md`` for
a teleprompter, without any marks of Markdown but its headings, so that ``presenter said`` reads it back.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from presenter.documents.kind import Filling
from presenter.documents.papers.run_sheet import RunStep, RunView, run_of
from presenter.documents.rendering import PageText, render
from presenter.lesson import slug
from presenter.quantities import said_aloud

__all__ = ["ScriptStep", "ScriptView", "script_text", "script_values"]


def _whole(text: str) -> str:
    """A sentence that ends as one."""
    text = " ".join(text.split())
    return text if text.endswith((".", "!", "?", "”")) else f"{text}."


@dataclass(frozen=True)
class ScriptStep:
    """What is said at one step; every text is a plain sentence or several."""

    run: RunStep

    @property
    def number(self) -> str:
        """The step's number."""
        return self.run.view.number

    @property
    def name(self) -> str:
        """The step's name."""
        return self.run.view.name

    @property
    def cautions(self) -> list[str]:
        """The cautions to speak."""
        lines = self.run.view.sheet.cautioned.lines_at_step(self.run.view.id).lines
        return [_whole(line.words) for line in lines]

    @property
    def say(self) -> str:
        """The author's line, its numbers worded for the voice; or nothing."""
        return _whole(self.run.view.say) if self.run.view.say else ""

    @property
    def departure(self) -> dict[str, str] | None:
        """The departure to admit, in whole sentences; or nothing."""
        found = self.run.view.departure
        return None if found is None else {key: _whole(words) for key, words in found.items()}

    @property
    def shot(self) -> str:
        """What to show, in the author's words."""
        return self.run.shot


@dataclass(frozen=True)
class ScriptView:
    """The whole script."""

    run: RunView

    @property
    def steps(self) -> list[ScriptStep]:
        """The steps in order."""
        return [ScriptStep(step) for step in self.run.steps]

    @property
    def opening(self) -> list[str]:
        """What is said first: the place, and what is invented."""
        sheet = self.run.sheet
        return [_whole(words) for words in (sheet.scene, sheet.invented) if words]

    @property
    def amounts(self) -> list[str]:
        """What goes in, each with its amount worded for the voice."""
        worked = self.run.sheet.worked
        lines = []
        for name, use in worked.lesson.file.ingredients.items():
            number = worked.numbers.get(f"lesson.{slug(str(name))}")
            amount = number.say(self.run.sheet.measures) if number is not None else said_aloud(use.amount.quantity)
            lines.append(_whole(f"{amount[:1].upper()}{amount[1:]} of {use.what}"))
        return lines

    @property
    def cautions(self) -> list[str]:
        """The cautions of the whole day, to speak first."""
        return [_whole(line.words) for line in self.run.sheet.cautioned.lines_on_sheet().lines]

    @property
    def law(self) -> list[str]:
        """The house's lines on the law."""
        return [_whole(line) for line in self.run.sheet.law]


class _Plain:
    """A view whose texts go into a plain text as they are, without the marks that page text wants."""

    def __init__(self, of: Any) -> None:
        self._of = of

    def __getattr__(self, name: str) -> Any:
        return _plain(getattr(self._of, name))


def _plain(value: Any) -> Any:
    if isinstance(value, str):
        return PageText(value)
    if isinstance(value, list):
        return [_plain(item) for item in value]
    if isinstance(value, dict):
        return {key: _plain(item) for key, item in value.items()}
    if isinstance(value, ScriptStep | RunStep):
        return _Plain(value)
    return value


def script_values(filling: Filling) -> Mapping[str, Any]:
    """The values of the script's template."""
    return {"script": ScriptView(run_of(filling))}


def script_text(filling: Filling) -> Mapping[str, str]:
    """The script as a text to read from a screen, by file name."""
    values = {"script": _Plain(ScriptView(run_of(filling))), "title": PageText(filling.view.title)}
    return {"script.md": render(filling.environment, "script-text.md.j2", values)}
