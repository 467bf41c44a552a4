"""The sheets to look at and to look things up in: the numbers sheet and the wall chart."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from presenter.documents.course_charts import course_charts
from presenter.documents.kind import DocumentKind, Filling
from presenter.documents.numbers_list import missed_by_models, numbers_list
from presenter.documents.papers.clock import day_plan
from presenter.documents.temperature_chart import temperature_chart

__all__ = ["KINDS"]


def _numbers(filling: Filling) -> Mapping[str, Any]:
    return {"numbers": numbers_list(filling.view), "misses": missed_by_models(filling.view)}


def _charts(filling: Filling) -> Mapping[str, Any]:
    worked = filling.view.worked
    plan = day_plan(worked, filling.asked.begins)
    return {
        "day_chart": temperature_chart(worked, plan, filling.asked.measures),
        "charts": course_charts(worked),
    }


KINDS = (
    DocumentKind(
        "numbers-sheet", "Numbers sheet", "numbers-sheet.md.j2", tells_steps=False, layout="wide", values=_numbers
    ),
    DocumentKind(
        "wall-chart", "Wall chart", "wall-chart.md.j2", tells_steps=False, layout="wall", values=_charts,
        papers=("A4", "Letter", "A3"),
    ),
)  # fmt: skip
