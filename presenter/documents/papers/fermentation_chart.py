"""The chart of a fermentation: the gravity read over days, each with its give-or-take, and the end to expect.

In: a worked day. Out: one block of page text for each drink that was read, with alternative text.
"""

from __future__ import annotations

import yaml

from presenter.days import WorkedDay
from presenter.days.fermentation_log import ASSUMPTION, FermentationLog, fermentation_logs
from presenter.days.fermenting import date_after
from presenter.documents.page_text import escaped
from presenter.documents.rendering import PageText
from presenter.quantities import Q, in_words

__all__ = ["fermentation_charts"]


def fermentation_charts(worked: WorkedDay, measures: str) -> list[dict[str, object]]:
    """For each drink that was read: its name, the chart, the state in words, the estimate and the rules."""
    return [
        {
            "name": log.liquid.replace("-", " ").capitalize(), "chart": _chart(log), "rows": _rows(log, measures),
            "estimate": _estimate(worked, log), "rules": list(log.rules),
        }
        for log in fermentation_logs(worked)
    ]  # fmt: skip


def _words(value: float, spread: float, unit: str, measures: str = "metric") -> str:
    return in_words(Q(value, unit), Q(spread, unit) if spread > 0 else None, measures)


def _rows(log: FermentationLog, measures: str) -> list[dict[str, str]]:
    rows = []
    for each in log.entries:
        rows.append(
            {
                "day": f"{each.days:.0f}", "gravity": _words(each.gravity, each.spread, "gravity"),
                "attenuation": "–" if each.attenuation is None
                else _words(each.attenuation, each.attenuation_spread, "attenuation_percent"),
                "strength": "–" if each.strength is None
                else _words(each.strength, each.strength_spread, "percent_by_volume", measures),
            }
        )  # fmt: skip
    return rows


def _estimate(worked: WorkedDay, log: FermentationLog) -> str:
    if log.estimate is None:
        return ""
    dates = [
        f"{date.day} {date:%B}"
        for date in (date_after(worked.day, when) for when in (log.estimate.earliest, log.estimate.latest))
    ]
    return f"It may be done between {dates[0]} and {dates[1]}. This is our own estimate; {ASSUMPTION}."


def _chart(log: FermentationLog) -> PageText:
    last = log.entries[-1]
    points = [(log.pitched, log.original, log.original_spread), *((e.days, e.gravity, e.spread) for e in log.entries)]
    low, high = log.expected - log.expected_spread, log.expected + log.expected_spread
    chart = {
        "says": escaped(
            f"The gravity falls from {_words(log.original, log.original_spread, 'gravity')} to"
            f" {_words(last.gravity, last.spread, 'gravity')} on day {last.days:.0f}; expected is"
            f" {_words(log.expected, log.expected_spread, 'gravity')}."
        ),
        "across": {"label": "days", "low": 0},
        "up": {"label": "gravity"},
        "lines": [
            {
                "name": "gravity as read",
                "points": [[round(day, 2), round(value, 4)] for day, value, _ in points],
                "spread": [[round(day, 2), round(value - off, 4), round(value + off, 4)] for day, value, off in points],
            }
        ],
        "bands": [{"name": "where it should end", "low": round(low, 4), "high": round(high, 4)}],
        "caption": "Each reading with its uncertainty, about 95 %. Its end is worked from a teaching model.",
    }
    body = yaml.safe_dump(chart, allow_unicode=True, sort_keys=False, width=10_000, default_flow_style=None)
    return PageText(f"```chart\n{body}```\n")
