"""The risk assessment draft: step, hazard, who may be hurt, controls; likelihood, severity and what is left are blank.

In: a sheet's view and the plan of its day. Out: rows for the template and the same as CSV. The controls are the
cautions that the step raises, in their own words; nothing is scored.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

import yaml

from presenter.cautions import PlacedCaution, ShortLine, caution_book
from presenter.documents.kind import Filling
from presenter.documents.number_blocks import capital
from presenter.documents.page_text import escaped
from presenter.documents.papers.kit import fits_of
from presenter.documents.papers.run_sheet import RunView, run_of
from presenter.documents.rendering import PageText
from presenter.documents.step_view import StepView
from presenter.quantities import Q, in_words

__all__ = ["RiskRow", "RiskStep", "RiskView", "hazard_of", "risk_csv", "risk_rows", "risk_values"]

DRAFT = "DRAFT, for the responsible person to check, complete and sign"
_HEAD = ("Hazard", "Who may be hurt", "Controls", "How likely", "How bad", "Risk left")


@cache
def _hazards() -> Mapping[str, Any]:
    text = files("presenter.documents.papers").joinpath("hazards.yaml").read_text(encoding="utf-8")
    loaded: Mapping[str, Any] = yaml.safe_load(text)
    return loaded


def hazard_of(caution_id: str) -> tuple[str, str]:
    """What can happen and who may be hurt, for one caution."""
    table = _hazards()
    entry = table["cautions"].get(caution_id) or table["topics"][caution_book()[caution_id].topic]
    return str(entry["hazard"]), str(entry["who"])


@dataclass(frozen=True)
class RiskRow:
    """One hazard at one place. ``controls`` are the short lines, ``full`` their full words, ``ids`` the cautions."""

    hazard: str
    who: str
    controls: tuple[str, ...]
    full: tuple[str, ...]
    ids: tuple[str, ...]


def risk_rows(lines: Iterable[ShortLine], placed: Sequence[PlacedCaution]) -> list[RiskRow]:
    """The rows of one place: a row for each hazard, gravest first, with every line and every caution that it holds."""
    said = {caution.id: caution.say for caution in placed}
    rows: dict[str, RiskRow] = {}
    for line in lines:
        known = [hazard_of(id_) for id_ in line.stands_for]
        hazard = "; ".join(dict.fromkeys(each for each, _ in known))
        who = "; ".join(dict.fromkeys(each for _, each in known))
        row = rows.get(hazard, RiskRow(hazard, who, (), (), ()))
        full = tuple(said.get(id_) or caution_book()[id_].say for id_ in line.stands_for)
        rows[hazard] = RiskRow(
            hazard, row.who, (*row.controls, line.words), (*row.full, *full), (*row.ids, *line.stands_for)
        )
    return list(rows.values())


def _table(rows: Sequence[RiskRow], caption: str) -> PageText:
    """The rows as a table; a place without any has one empty row, for whoever knows better than we do."""
    lines = ["| " + " | ".join(_HEAD) + " |", "|" + " --- |" * len(_HEAD)]
    for row in rows:
        cells = (row.hazard, capital(row.who), " ".join(row.controls))
        lines.append("| " + " | ".join(escaped(cell) for cell in cells) + " | | | |")
    if not rows:
        lines.append("| No caution of ours | | Judge it on the spot | | | |")
    body = "\n".join(lines)
    return PageText(f'```table caption="{escaped(caption)}" widths="2 2 4.4 1.1 1 1"\n{body}\n```\n')


@dataclass(frozen=True)
class RiskStep:
    """One step of the draft."""

    view: StepView
    when: str

    @property
    def heading(self) -> PageText:
        """The step's heading."""
        return self.view.heading

    @property
    def rows(self) -> list[RiskRow]:
        """Its rows."""
        cautioned = self.view.sheet.cautioned
        return risk_rows(cautioned.lines_at_step(self.view.id).lines, cautioned.at_step(self.view.id))

    def risks(self) -> PageText:
        """Its hazards, with the cautions that it raises as controls."""
        return _table(self.rows, self.when)


@dataclass(frozen=True)
class RiskView:
    """The whole draft."""

    run: RunView
    covers: tuple[str, ...]

    @property
    def draft(self) -> str:
        """What the draft is, in words."""
        return DRAFT

    @property
    def steps(self) -> list[RiskStep]:
        """The steps in order."""
        return [RiskStep(step.view, f"Day {step.slot.day}, {step.begins}, {step.who}") for step in self.run.steps]

    @property
    def rows_of_the_day(self) -> list[RiskRow]:
        """The rows that hold for the whole day."""
        cautioned = self.run.sheet.cautioned
        return risk_rows(cautioned.lines_on_sheet().lines, cautioned.on_sheet)

    def day_risks(self) -> PageText:
        """The hazards of the whole day."""
        return _table(self.rows_of_the_day, "From beginning to end")

    @property
    def full_and_hot(self) -> list[str]:
        """Every vessel with the most that is in it, for whoever judges the lifting."""
        measures = self.run.sheet.measures
        return [
            f"{capital(fit.vessel)}: up to {in_words(Q(fit.most, 'litre'), measures=measures)}, at {fit.step}"
            for fit in fits_of(self.run.sheet.worked, self.run.plan)
        ]

    @property
    def chemicals(self) -> list[str]:
        """What is cleaned and tested with."""
        file = self.run.sheet.worked.lesson.file
        return [capital(str(name)) for name in (*file.cleaners, *file.chemicals)]

    @property
    def youngest(self) -> str:
        """The youngest expected, in words."""
        youngest = self.run.sheet.worked.lesson.file.audience.youngest
        return "not stated in the lesson" if youngest is None else f"{youngest} years"

    @property
    def first_aid(self) -> list[str]:
        """The full words of what to do, for each caution of this lesson that is about first aid."""
        wanted = ("burns-first-aid", "co2-rescue")
        return [each.say for each in self.run.sheet.cautioned.full_words if each.id in wanted]


def risk_values(filling: Filling) -> Mapping[str, Any]:
    """The values of the draft's template."""
    return {"risk": RiskView(run_of(filling), filling.papers)}


_COLUMNS = (
    "status", "lesson", "version", "content mark", "number", "step", "when", "hazard", "who may be hurt", "controls",
    "controls in full", "cautions", "likelihood", "severity", "remaining risk", "signature",
)  # fmt: skip


def _cell(text: str) -> str:
    """``text`` for a spreadsheet, which takes what begins with some signs for a formula."""
    return f"'{text}" if text.startswith(("=", "+", "-", "@")) else text


def risk_csv(filling: Filling) -> Mapping[str, str]:
    """The draft as a table, since employers have a form of their own; columns to be filled in are empty."""
    view = RiskView(run_of(filling), ())
    lesson = filling.view.worked.lesson
    head = [DRAFT, str(lesson.file.title), str(lesson.file.version), filling.mark]
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(_COLUMNS)
    places = [("", "the whole day", "", view.rows_of_the_day)]
    places += [(step.view.number, step.view.name, step.when, step.rows) for step in view.steps]
    for number, name, when, rows in places:
        for row in rows:
            words = [" ".join(part) for part in (row.controls, row.full, row.ids)]
            told = [number, name, when, row.hazard, row.who, *words]
            writer.writerow([_cell(cell) for cell in (*head, *told)] + [""] * 4)
    return {"risk-assessment.csv": text.getvalue()}
