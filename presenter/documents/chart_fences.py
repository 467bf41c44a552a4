"""Read the fences whose content is drawn: charts of courses, and the scale of an instrument.

In: a fence. Out: a block, or a :class:`PageTextError` that names the line.
"""

from __future__ import annotations

import yaml

from presenter.documents.blocks import SCALE_SPAN, Axis, Band, Chart, Line, Mark, Scale
from presenter.documents.fences import Entry, Fence, PageTextError, ReadWords, yaml_of

__all__ = ["drawn_block"]


def _axis(entries: Entry, key: str) -> Axis:
    node = entries.asked.get(key)
    if node is None:
        raise PageTextError(entries.line, f"{entries.what} needs '{key}'")
    axis = Entry.of(node, entries.before, f"the axis '{key}'", entries.read, ("label", "low", "high"))
    low, high = axis.figure_or_none("low"), axis.figure_or_none("high")
    if low is not None and high is not None and low >= high:
        raise PageTextError(axis.line, f"the axis '{key}' ends at or below where it begins")
    return Axis(axis.plain("label", True), low, high)


def drawn_block(fence: Fence, before: int, read: ReadWords) -> Chart | Scale:
    """The block of a ``chart`` or ``scale`` fence whose content starts after line ``before``."""
    fence.allow()
    node = yaml_of(fence, before)
    if fence.name == "scale":
        return _scale(Entry.of(node, before, "a scale", read, ("says", "label", "from", "reading")))
    return _chart(node, before, read)


def _scale(entry: Entry) -> Scale:
    low, reading = entry.figure("from"), entry.figure("reading")
    if not low <= reading <= low + SCALE_SPAN:
        raise PageTextError(entry.line, f"the reading lies outside the scale, which spans {SCALE_SPAN}")
    return Scale(entry.plain("says", True), entry.plain("label", True), low, reading)


def _chart(node: yaml.Node | None, before: int, read: ReadWords) -> Chart:
    keys = ("says", "across", "up", "lines", "bands", "marks", "caption", "size")
    entry = Entry.of(node, before, "a chart", read, keys)
    lines: list[Line] = []
    for item in entry.entries("lines", "a line of a chart", ("name", "points", "spread"), needed=True):
        points = tuple((x, y) for x, y in item.tuples("points", 2))
        if len(points) < 2:
            raise PageTextError(item.line, "a line of a chart needs two points or more")
        spread = tuple((x, a, b) for x, a, b in item.tuples("spread", 3)) if "spread" in item.asked else ()
        lines.append(Line(item.plain("name", True), points, spread))
    bands = tuple(
        Band(item.plain("name", True), item.figure("low"), item.figure("high"))
        for item in entry.entries("bands", "a band", ("name", "low", "high"))
    )
    marks = tuple(
        Mark(item.plain("name", True), item.figure("at")) for item in entry.entries("marks", "a mark", ("name", "at"))
    )
    size = entry.text("size") or "ordinary"
    if size not in ("ordinary", "half", "wall"):
        raise PageTextError(entry.line, f"'size' is '{size}'; it may be ordinary, half or wall")
    across, up = _axis(entry, "across"), _axis(entry, "up")
    says = entry.plain("says", True)
    return Chart(says, across, up, tuple(lines), bands, marks, entry.words("caption"), size)
