"""Worked numbers as blocks of page text.

In: worked numbers and the measures of the sheet. Out: a ``numbers`` block; the first number is the one that matters.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

import yaml

from presenter.documents.page_text import escaped
from presenter.documents.rendering import PageText
from presenter.quantities import Q, Withheld, WorkedNumber, in_words

__all__ = ["capital", "label_words", "numbers_block", "withheld_block"]


def capital(text: str) -> str:
    """``text`` with a capital first letter, the others as they are."""
    return text[:1].upper() + text[1:]


_DEGREES = re.compile(r"(-?\d+(?:\.\d+)?)[ \u00a0]°C")


def label_words(number: WorkedNumber, measures: str) -> str:
    """A number's label with a capital, the temperatures in it ("at 20 °C") in the measures of the sheet."""

    def turned(found: re.Match[str]) -> str:
        return in_words(Q(float(found[1]), "degC"), None, measures, written=found[0])

    label = number.label if measures == "metric" else _DEGREES.sub(turned, number.label)
    return capital(label)


def numbers_block(numbers: Sequence[WorkedNumber], measures: str, *, head: bool, key: bool = True) -> PageText:
    """A block of numbers: label, value, give-or-take; the first is the one that matters most."""
    rows = []
    for index, number in enumerate(numbers):
        row = {"label": escaped(label_words(number, measures)), "value": escaped(number.words(measures))}
        if number.spread is not None:
            row["give or take"] = escaped(number.spread_words(measures))
        if index == 0 and key:
            row["key"] = "yes"
        rows.append(row)
    if not rows:
        return PageText("")
    attributes = ' what="Number" worth="Value" give-or-take="Uncertainty, about 95 %"' if head else ""
    body = yaml.safe_dump(rows, allow_unicode=True, sort_keys=False, width=10_000)
    return PageText(f"```numbers{attributes}\n{body}```\n")


def withheld_block(kept: Sequence[Withheld]) -> PageText:
    """The numbers that are not given, each with its reason; those of one reason together."""
    by_reason: dict[str, list[str]] = {}
    for number in kept:
        by_reason.setdefault(number.reason, []).append(number.label)
    told = ((escaped(", ".join(labels)), escaped(reason)) for reason, labels in by_reason.items())
    return PageText("".join(f"\n**Not given: {labels}.** {reason}\n" for labels, reason in told))
