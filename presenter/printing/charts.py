"""Charts of courses as vector drawings that a black-and-white copier keeps.

In: a :class:`~presenter.documents.blocks.Chart` and the size there is. Out: a reportlab drawing. Courses differ by
dash and by the shape of their markers before they differ by colour, and each is named at its end, not in a key.
Bands are tinted and named inside; marks are upright lines named above the plot.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from reportlab.graphics.shapes import Circle, Drawing, Group, Line, Polygon, PolyLine, Rect, String
from reportlab.lib.colors import HexColor

from presenter.documents.blocks import Axis, Chart, Span
from presenter.documents.blocks import Line as Course
from presenter.printing.fonts import BOLD, REGULAR, clean, width_of
from presenter.printing.lines import TextLine, break_lines
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


@dataclass(frozen=True)
class _Plot:
    """The field of the plot and the ranges it shows."""

    left: float
    low: float
    right: float
    high: float
    across: tuple[float, float]
    up: tuple[float, float]

    def x(self, value: float) -> float:
        first, last = self.across
        return self.left + (value - first) / (last - first) * (self.right - self.left)

    def y(self, value: float) -> float:
        first, last = self.up
        return self.low + (value - first) / (last - first) * (self.high - self.low)


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
    names = [break_lines((Span(clean(line.name), True),), size, width * 0.2) for line in chart.lines]
    right = width - max(part.width for name in names for part in name) - 14
    lanes = _mark_lanes(chart, across, gutter, right, size, width)
    heads = max(lanes, default=-1) + 1
    plot = _Plot(gutter, leading * 2.4, right, height - leading * (1.5 + heads), across, up)
    drawing = Drawing(width, height)
    words = Group()
    for rect in _bands(chart, plot):
        drawing.add(rect)
    _axes(drawing, chart, plot, size, leading, height)
    _marks(drawing, words, chart, plot, size, leading, lanes)
    for place, line in enumerate(chart.lines):
        _course(drawing, line, plot, place, size)
    taken = _names(drawing, chart, plot, names, size, leading)
    _band_names(words, chart, plot, size, taken)
    drawing.add(words)
    return drawing


def _string(
    x: float, y: float, text: str, size: float, colour: str, anchor: str = "start", strong: bool = False
) -> String:
    font = BOLD if strong else REGULAR
    return String(x, y, clean(text), fontName=font, fontSize=size, fillColor=HexColor(colour), textAnchor=anchor)


def _axes(drawing: Drawing, chart: Chart, plot: _Plot, size: float, leading: float, height: float) -> None:
    ink = HexColor(INK)
    values = ticks(*plot.up, max(3, int(height / (leading * 2.4))))
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


def _bands(chart: Chart, plot: _Plot) -> list[Rect | Line]:
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


_Box = tuple[float, float, float, float]


def _band_names(words: Group, chart: Chart, plot: _Plot, size: float, taken: list[_Box]) -> None:
    """Name each band inside it, at the place that hides least of the courses and of other names."""
    dots: list[tuple[float, float]] = []
    for line in chart.lines:
        for (x, y), (further, above) in pairwise(line.points):
            dots += [(plot.x(x + (further - x) * part / 12), plot.y(y + (above - y) * part / 12)) for part in range(13)]
    edges = [plot.y(edge) for band in chart.bands for edge in (band.low, band.high)]
    uprights = [plot.x(mark.at) for mark in chart.marks]
    for band in chart.bands:
        low = plot.y(max(band.low, plot.up[0]))
        high = plot.y(min(band.high, plot.up[1]))
        wide = width_of(clean(band.name), False, size)
        free = max(0.0, plot.right - plot.left - wide - 12)
        places = [
            (plot.left + 6 + free * part / 8, y)
            for y in (high - size * 1.1, low + size * 0.4, (low + high) / 2 - size * 0.35)
            for part in range(8, -1, -1)
        ]

        def hidden(place: tuple[float, float], wide: float = wide) -> float:
            left, y = place
            box = (left - 3, y - size * 0.3, left + wide + 3, y + size * 0.95)
            on = sum(box[0] <= a <= box[2] and box[1] <= b <= box[3] for a, b in dots)
            on += 4 * sum(box[1] < edge < box[3] for edge in edges) + sum(box[0] < x < box[2] for x in uprights)
            return on + 100 * sum(
                box[0] < other[2] and other[0] < box[2] and box[1] < other[3] and other[1] < box[3] for other in taken
            )

        x, y = min(places, key=hidden)
        taken.append((x - 3, y - size * 0.3, x + wide + 3, y + size * 0.95))
        words.add(_string(x, y, band.name, size, INK))


def _mark_lanes(
    chart: Chart, across: tuple[float, float], left: float, right: float, size: float, width: float
) -> list[int]:
    """The lane above the plot for the name of each mark, so that no two names touch."""
    ends: list[float] = []
    lanes: list[int] = []
    for mark in chart.marks:
        x = left + (mark.at - across[0]) / ((across[1] - across[0]) or 1) * (right - left)
        wide = width_of(clean(mark.name), False, size) + size
        start = min(x, width - wide)
        lane = next((place for place, end in enumerate(ends) if end <= start), len(ends))
        ends[lane : lane + 1] = [start + wide]
        lanes.append(lane)
    return lanes


def _marks(
    drawing: Drawing, words: Group, chart: Chart, plot: _Plot, size: float, leading: float, lanes: Sequence[int]
) -> None:
    for mark, lane in zip(chart.marks, lanes, strict=True):
        x = plot.x(mark.at)
        y = plot.high + leading * (max(lanes) - lane) + leading * 0.35
        drawing.add(
            Line(x, plot.low, x, y + size * 0.8, strokeColor=HexColor(QUIET), strokeWidth=0.6, strokeDashArray=[1, 3])
        )
        start = min(x + 3, drawing.width - width_of(clean(mark.name), False, size))
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


def _course(drawing: Drawing, line: Course, plot: _Plot, place: int, size: float) -> None:
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


def _names(
    drawing: Drawing, chart: Chart, plot: _Plot, names: Sequence[Sequence[TextLine]], size: float, leading: float
) -> list[_Box]:
    """Name each course at its end, moved apart where two end close together; gives back where the names stand."""
    boxes: list[_Box] = []
    ends = sorted(
        (plot.y(line.points[-1][1]) + leading * 0.5 * (len(names[place]) - 1), place)
        for place, line in enumerate(chart.lines)
    )
    tops: dict[int, float] = {}
    floor = 0.0
    for y, place in ends:
        high = max(y, floor + leading * (len(names[place]) - 1))
        tops[place] = high
        floor = high + leading
    for place, line in enumerate(chart.lines):
        x = min(plot.x(line.points[-1][0]), plot.right) + 6
        for row, part in enumerate(names[place]):
            text = "".join(run.text for run in part.runs).strip()
            y = tops[place] - row * leading - size * 0.35
            drawing.add(_string(x, y, text, size, _COLOURS[place % len(_COLOURS)], strong=True))
            boxes.append((x, y - size * 0.25, x + part.width, y + size * 0.8))
    return boxes
