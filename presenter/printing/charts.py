"""Charts of courses as vector drawings that a black-and-white copier keeps.

In: a :class:`~presenter.documents.blocks.Chart` and the size there is. Out: a reportlab drawing. Courses differ by
dash and by the shape of their markers before they differ by colour, and each is named at its end, not in a key.
Bands are tinted and named beside the plot; marks are upright lines named above the plot.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from reportlab.graphics.shapes import Circle, Drawing, Group, Line, Polygon, PolyLine, Rect, String
from reportlab.lib.colors import HexColor

from presenter.documents.blocks import Axis, Chart
from presenter.documents.blocks import Line as Course
from presenter.printing.chart_names import Name, Names, Plot, mark_lanes, mark_start
from presenter.printing.fonts import BOLD, REGULAR, clean, width_of
from presenter.printing.style import ACCENT, DEEP_SHADE, GROUND, HAIRLINE, INK, QUIET, SHADE, Type

__all__ = ["chart_drawing", "ticks"]

_DASHES: tuple[list[float] | None, ...] = (None, [7, 3], [1.5, 2.5], [9, 3, 1.5, 3], [4, 2], [12, 4])
_COLOURS = (INK, ACCENT, QUIET, INK, ACCENT, QUIET)
_MARKERS = ("circle", "square", "triangle", "ring", "diamond", "cross")


def ticks(low: float, high: float, most: int) -> list[float]:
    """Round numbers from ``low`` to ``high``, at most ``most`` of them and at least two where there is room."""
    step = (high - low) / max(1, most - 1)
    size = 10.0 ** math.floor(math.log10(step))
    step = next(size * factor for factor in (1, 2, 2.5, 5, 10, 20) if size * factor >= step * (1 - 1e-9))
    first = math.ceil(low / step - 1e-9)
    last = math.floor(high / step + 1e-9)
    return [round(place * step, 12) for place in range(first, last + 1)]


def _worded(values: Sequence[float]) -> list[str]:
    """The numbers on an axis, all to the same decimals, with a true minus sign."""

    def exact(places: int) -> bool:
        return all(math.isclose(round(value, places), value, abs_tol=1e-9) for value in values)

    places = next((count for count in range(6) if exact(count)), 6)
    return [f"{value:.{places}f}".replace("-", "\N{MINUS SIGN}") for value in values]


def _range(axis: Axis, values: Sequence[float], air: float) -> tuple[float, float]:
    low = min(values) if axis.low is None else axis.low
    high = max(values) if axis.high is None else axis.high
    if high <= low:
        low, high = low - 1, low + 1
    spread = high - low
    return (low - spread * air if axis.low is None else low), (high + spread * air if axis.high is None else high)


def chart_drawing(chart: Chart, width: float, height: float, type_: Type) -> Drawing:
    """The chart in a field of ``width`` by ``height`` points, its words in ``type_``."""
    size, leading = type_.size, type_.leading
    xs = [x for line in chart.lines for x, _ in line.points] + [mark.at for mark in chart.marks]
    ys = [y for line in chart.lines for _, y in line.points]
    ys += [y for line in chart.lines for _, a, b in line.spread for y in (a, b)]
    ys += [y for band in chart.bands for y in (band.low, band.high)]
    across, up = _range(chart.across, xs, 0.0), _range(chart.up, ys, 0.06)
    upright = _worded(ticks(*up, max(3, int(height / (leading * 2.4)))))
    gutter = max(width_of(clean(word), False, size) for word in upright) + 10
    names = Names(chart, size, leading, width)
    right = width - names.margin()
    lanes = mark_lanes(chart, across, gutter, right, size)
    heads = max(lanes, default=-1) + 1
    plot = Plot(gutter, leading * 2.4, right, height - leading * (1.5 + heads), across, up)
    drawing = Drawing(width, height)
    words = Group()
    for rect in _bands(chart, plot):
        drawing.add(rect)
    _axes(drawing, chart, plot, size, leading, height)
    _marks(drawing, words, chart, plot, size, leading, lanes)
    for place, line in enumerate(chart.lines):
        _course(drawing, line, plot, place, size)
    for name in names.lay(plot):
        for row in _named(name, size, leading):
            words.add(row)
    drawing.add(words)
    return drawing


def _string(
    x: float, y: float, text: str, size: float, colour: str, anchor: str = "start", strong: bool = False
) -> String:
    font = BOLD if strong else REGULAR
    return String(x, y, clean(text), fontName=font, fontSize=size, fillColor=HexColor(colour), textAnchor=anchor)


def _axes(drawing: Drawing, chart: Chart, plot: Plot, size: float, leading: float, height: float) -> None:
    ink = HexColor(INK)
    values = ticks(*plot.up, max(2, int((plot.high - plot.low) / (leading * 1.7))))
    for value, word in zip(values, _worded(values), strict=True):
        y = plot.y(value)
        drawing.add(Line(plot.left - 4, y, plot.left, y, strokeColor=ink, strokeWidth=0.8))
        drawing.add(_string(plot.left - 7, y - size * 0.35, word, size, INK, "end"))
    most = max(3, int((plot.right - plot.left) / (size * 4.2)))
    values = ticks(*plot.across, most)
    for value, word in zip(values, _worded(values), strict=True):
        x = plot.x(value)
        drawing.add(Line(x, plot.low, x, plot.low - 4, strokeColor=ink, strokeWidth=0.8))
        drawing.add(_string(x, plot.low - 5 - size, word, size, INK, "middle"))
    corner = [plot.left, plot.high, plot.left, plot.low, plot.right, plot.low]
    drawing.add(PolyLine(corner, strokeColor=ink, strokeWidth=0.8))
    drawing.add(_string(plot.left, 2, chart.across.label, size, QUIET))
    drawing.add(_string(0, height - size, chart.up.label, size, QUIET))


def _bands(chart: Chart, plot: Plot) -> list[Rect | Line]:
    """Tinted bands, darker where two lie over one another, each between two dashed lines."""
    edges = sorted({min(max(value, plot.up[0]), plot.up[1]) for band in chart.bands for value in (band.low, band.high)})
    shapes: list[Rect | Line] = []
    for low, high in pairwise(edges):
        over = sum(band.low <= low and high <= band.high for band in chart.bands)
        if over:
            tint = HexColor(SHADE if over == 1 else DEEP_SHADE)
            shapes.append(
                Rect(
                    plot.left,
                    plot.y(low),
                    plot.right - plot.left,
                    plot.y(high) - plot.y(low),
                    fillColor=tint,
                    strokeColor=None,
                )
            )
    for edge in edges:
        y = plot.y(edge)
        shapes.append(Line(plot.left, y, plot.right, y, strokeColor=HexColor(HAIRLINE), strokeWidth=0.6))
    return shapes


def _marks(
    drawing: Drawing, words: Group, chart: Chart, plot: Plot, size: float, leading: float, lanes: Sequence[int]
) -> None:
    for mark, lane in zip(chart.marks, lanes, strict=True):
        x = plot.x(mark.at)
        y = plot.high + leading * (max(lanes) - lane) + leading * 0.35
        drawing.add(
            Line(x, plot.low, x, y + size * 0.8, strokeColor=HexColor(QUIET), strokeWidth=0.6, strokeDashArray=[1, 3])
        )
        start = mark_start(x, plot.right, mark.name, size)
        words.add(
            Rect(
                start - 1,
                y - size * 0.2,
                width_of(clean(mark.name), False, size) + 2,
                size * 1.1,
                fillColor=HexColor(GROUND),
                strokeColor=None,
            )
        )
        words.add(_string(start, y, mark.name, size, INK))


def _course(drawing: Drawing, line: Course, plot: Plot, place: int, size: float) -> None:
    colour = HexColor(_COLOURS[place % len(_COLOURS)])
    if line.spread:
        over = [(plot.x(x), plot.y(high)) for x, _, high in line.spread]
        under = [(plot.x(x), plot.y(low)) for x, low, _ in reversed(line.spread)]
        edge = [part for point in over + under for part in point]
        drawing.add(Polygon(edge, fillColor=HexColor(SHADE), strokeColor=HexColor(HAIRLINE), strokeWidth=0.4))
    points = [part for x, y in line.points for part in (plot.x(x), plot.y(y))]
    drawing.add(
        PolyLine(
            points,
            strokeColor=colour,
            strokeWidth=max(1.5, size * 0.13),
            strokeLineJoin=1,
            strokeDashArray=_DASHES[place % len(_DASHES)],
        )
    )
    between = max(1, math.ceil(len(line.points) / 8))
    for x, y in line.points[::between]:
        drawing.add(_marker(_MARKERS[place % len(_MARKERS)], plot.x(x), plot.y(y), size * 0.24, colour))


def _marker(kind: str, x: float, y: float, r: float, colour: HexColor) -> Group:
    group = Group()
    edge = {"strokeColor": colour, "strokeWidth": 1.2, "fillColor": colour}
    if kind in ("circle", "ring"):
        edge["fillColor"] = colour if kind == "circle" else HexColor(GROUND)
        group.add(Circle(x, y, r, **edge))
    elif kind == "square":
        group.add(Rect(x - r, y - r, 2 * r, 2 * r, **edge))
    elif kind == "triangle":
        group.add(Polygon([x - r, y - r, x + r, y - r, x, y + r], **edge))
    elif kind == "diamond":
        edge["fillColor"] = HexColor(GROUND)
        group.add(Polygon([x - r, y, x, y + r, x + r, y, x, y - r], **edge))
    else:
        group.add(Line(x - r, y - r, x + r, y + r, strokeColor=colour, strokeWidth=1.4))
        group.add(Line(x - r, y + r, x + r, y - r, strokeColor=colour, strokeWidth=1.4))
    return group


def _named(name: Name, size: float, leading: float) -> list[String]:
    """The rows of a name: a course's in its own colour and the heavier weight, a band's plain."""
    strong = name.course >= 0
    colour = _COLOURS[name.course % len(_COLOURS)] if strong else INK
    return [
        _string(name.x, name.y - row * leading, text, size, colour, strong=strong) for row, text in enumerate(name.rows)
    ]
