"""Sheets of a day: what was made and the run of the rest, with a description for a web page beside it; and the forms
that are filled in by hand, in the order of the day's file.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from presenter.documents.kind import DocumentKind, Filling
from presenter.documents.papers.forms import form_values
from presenter.documents.papers.rest_of_day import day_values
from presenter.documents.rendering import render

__all__ = ["DAY_KINDS", "KINDS"]

# Signs that page text hides from its own reader, and that Markdown for a web page may show as they are.
PLAIN = {"&colon;": ":", "&period;": ".", "&lbrack;": "[", "&rbrack;": "]", "&lpar;": "(", "&rpar;": ")"}


def _description(filling: Filling) -> Mapping[str, str]:
    """The description of the day as made, in Markdown, for a web page or beneath a video."""
    values = {"sheet": filling.view, "steps": filling.view.steps, **day_values(filling)}
    text = render(filling.environment, "description.md.j2", values)
    for entity, sign in PLAIN.items():
        text = text.replace(entity, sign)
    return {"description.md": re.sub(r"\n{3,}", "\n\n", text)}


# Only where a day is given: build --as-made.
DAY_KINDS = (
    DocumentKind(
        "as-made", "As made", "as-made.md.j2", tells_steps=False, values=day_values, by_default=False,
        beside=_description,
    ),
)  # fmt: skip

KINDS = tuple(
    DocumentKind(name, words, f"{name}.md.j2", tells_steps=False, values=form_values, by_default=False)
    for name, words in (
        ("day-log", "Day log"),
        ("cleaning-log", "Cleaning log"),
        ("cooling-log", "Cooling log"),
        ("tasting-sheet", "Tasting sheet"),
    )
)
