"""Cautions as blocks of page text, and their full words.

In: the lines that ``cautions`` places, and the citations of the sheet. Out: page text; nothing is chosen here.
"""

from __future__ import annotations

from collections.abc import Sequence

from presenter.cautions import Cautioned, ShortLine
from presenter.documents.citing import Citations
from presenter.documents.page_text import escaped
from presenter.documents.rendering import PageText

__all__ = ["SEVERITY_WORDS", "caution_blocks", "full_cautions"]

SEVERITY_WORDS = {
    "never": "Never",
    "danger": "Danger",
    "warning": "Warning",
    "caution": "Caution",
    "notice": "Please note",
}


def caution_blocks(at: str, lines: Sequence[ShortLine]) -> PageText:
    """The short forms of one place ("step" or "sheet"), gravest first, each a block of its own."""
    blocks = []
    for line in lines:
        duty = "mandatory" if line.mandatory else "advice"
        words = escaped(line.words)
        blocks.append(
            f"```caution id={line.stands_for[0]} severity={line.severity} duty={duty} at={at}\n{words}\n```\n"
        )
    return PageText("\n".join(blocks))


def full_cautions(cautioned: Cautioned, citations: Citations) -> list[dict[str, str]]:
    """The full words of every caution of a lesson, gravest first, with why and where they come from."""
    order = list(SEVERITY_WORDS)
    found = []
    for each in sorted(cautioned.full_words, key=lambda placed: order.index(placed.severity)):
        keys = [key for key in each.caution.source if key in citations.bibliography]
        cites = citations.mark(keys[0]) if keys and each.caution.status == "seen" else ""
        found.append({"severity": SEVERITY_WORDS[each.severity], "say": each.say, "cites": cites})
    return found
