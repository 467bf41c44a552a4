"""Instruments to be read off, as blocks of page text.

In: a gravity in words. Out: a ``scale`` block, whose words for who cannot see it count the marks
(the reading itself they leave to be found).
"""

from __future__ import annotations

import yaml

from presenter.documents.blocks import SCALE_SPAN
from presenter.documents.page_text import escaped
from presenter.documents.rendering import PageText

__all__ = ["hydrometer"]


def hydrometer(gravity: str, liquid: str) -> PageText:
    """A stem that shows ``gravity`` (as it is printed, such as "1.058") in a liquid of that name."""
    thousandths = round(float(gravity) * 1000)
    low = thousandths // 10 * 10 - 10
    marks = thousandths - low - 10
    numbers = ", ".join(f"{(low + tens) / 1000:.3f}" for tens in range(0, round(SCALE_SPAN * 1000) + 1, 10))
    where = f"{marks} marks below {(low + 10) / 1000:.3f}" if marks else f"at {(low + 10) / 1000:.3f}"
    scale = {
        "says": escaped(
            f"The stem of a hydrometer in {liquid}. Down the stem stand {numbers}, with nine marks between each two,"
            f" one for every 0.001. The surface crosses the stem {where}."
        ),
        "label": escaped(f"surface of the {liquid}"),
        "from": f"{low / 1000:.3f}",
        "reading": f"{thousandths / 1000:.3f}",
    }
    body = yaml.safe_dump(scale, allow_unicode=True, sort_keys=False, width=10_000)
    return PageText(f"```scale\n{body}```\n")
