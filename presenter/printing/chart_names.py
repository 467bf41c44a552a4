"""Where the names stand in a chart: of courses at their ends, of bands inside or beside them, of marks above the plot.

In: the chart, its plot and the size of type. Out: a box for every name, no two of them over one another. A name is laid
where it hides least of the courses; what ends at the right edge is named in the margin there, moved apart if need be.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from presenter.documents.blocks import Chart, Span
from presenter.printing.fonts import clean, width_of
from presenter.printing.lines import break_lines

__all__ = ["Box", "Name", "Names", "Plot", "mark_lanes", "mark_start"]

Box = tuple[float, float, float, float]
_FROM_PLOT = 14  # points; the last number on the axis below reaches so far
_MARGIN_SHARE = 0.24  # of the chart's width, at most, for the names beside the plot


@dataclass(frozen=True)
class Plot:
    """The field of the plot and the ranges it shows."""

    left: float
    low: float
    right: float
    high: float
    across: tuple[float, float]
    up: tuple[float, float]

    def x(self, value: float) -> float:
        """Where a value lies across."""
        first, last = self.across
        return self.left + (value - first) / (last - first) * (self.right - self.left)

    def y(self, value: float) -> float:
        """Where a value lies up."""
        first, last = self.up
        return self.low + (value - first) / (last - first) * (self.high - self.low)


@dataclass(frozen=True)
class Name:
    """A name in lines of words; ``course`` is the place of the course it names, or -1 for a band."""

    rows: tuple[str, ...]
    wide: float
    x: float
    y: float  # the baseline of its first row
    course: int = -1


def _rows(text: str, strong: bool, size: float, width: float) -> tuple[tuple[str, ...], float]:
    lines = break_lines((Span(clean(text), strong),), size, width)
    return tuple("".join(run.text for run in line.runs).strip() for line in lines), max(line.width for line in lines)


def mark_start(x: float, right: float, name: str, size: float) -> float:
    """Where the name of a mark at ``x`` begins, so that it ends inside the plot."""
    return min(x + 3, right - width_of(clean(name), False, size))


def mark_lanes(chart: Chart, across: tuple[float, float], left: float, right: float, size: float) -> list[int]:
    """The lane above the plot for the name of each mark, so that no two names touch."""
    taken: list[list[tuple[float, float]]] = []
    lanes: list[int] = []
    for mark in chart.marks:
        x = left + (mark.at - across[0]) / ((across[1] - across[0]) or 1) * (right - left)
        start = mark_start(x, right, mark.name, size)
        end = start + width_of(clean(mark.name), False, size) + size * 0.6
        free = (place for place, lane in enumerate(taken) if all(end <= first or last <= start for first, last in lane))
        lane = next(free, len(taken))
        if lane == len(taken):
            taken.append([])
        taken[lane].append((start, end))
        lanes.append(lane)
    return lanes


@dataclass
class Names:
    """Lays the names of one chart."""

    chart: Chart
    size: float
    leading: float
    width: float
    found: list[Name] = field(default_factory=list)
    taken: list[Box] = field(default_factory=list)

    def margin(self) -> float:
        """The width that the names beside the plot need."""
        words = [(line.name, True) for line in self.chart.lines] + [(band.name, False) for band in self.chart.bands]
        return max(self._rows(text, strong)[1] for text, strong in words) + _FROM_PLOT + 2

    def _rows(self, text: str, strong: bool) -> tuple[tuple[str, ...], float]:
        return _rows(text, strong, self.size, self.width * _MARGIN_SHARE)

    def lay(self, plot: Plot) -> list[Name]:
        """All names of courses and bands."""
        beside: list[tuple[float, str, bool, int]] = []
        for place, line in enumerate(self.chart.lines):
            x, y = line.points[-1]
            if plot.x(x) >= plot.right - self.size or not self._beside_its_course(place, plot):
                beside.append((plot.y(y), line.name, True, place))
        for band in self.chart.bands:
            middle = (max(band.low, plot.up[0]) + min(band.high, plot.up[1])) / 2
            beside.append((plot.y(middle), band.name, False, -1))
        self._stack(beside, plot)
        return self.found

    def _stack(self, wanted: Sequence[tuple[float, str, bool, int]], plot: Plot) -> None:
        """Names in the margin at the right, each near its own height, none over another."""
        items = [(*self._rows(text, strong), y, place) for y, text, strong, place in sorted(wanted)]
        tall = [len(rows) * self.leading for rows, *_ in items]
        lows = [y - high / 2 for (_, _, y, _), high in zip(items, tall, strict=True)]
        whole = sum(tall)
        floor = max(0.0, min(plot.low - self.leading * 0.5, plot.high - whole))
        for place, high in enumerate(tall):
            lows[place] = max(lows[place], floor)
            floor = lows[place] + high
        ceiling = max(plot.high + self.leading * 0.5, whole)
        for place in range(len(items) - 1, -1, -1):
            lows[place] = min(lows[place], ceiling - tall[place])
            ceiling = lows[place]
        for (rows, wide, _, course), low, high in zip(items, lows, tall, strict=True):
            self._put(rows, wide, plot.right + _FROM_PLOT, low + high - self.leading * 0.5 - self.size * 0.355, course)

    def _put(self, rows: tuple[str, ...], wide: float, x: float, y: float, course: int) -> None:
        self.found.append(Name(rows, wide, x, y, course))
        self.taken.append(self._box(rows, wide, x, y))

    def _box(self, rows: tuple[str, ...], wide: float, x: float, y: float) -> Box:
        return (x - 2, y - self.size * 0.28 - (len(rows) - 1) * self.leading, x + wide + 2, y + self.size * 0.85)

    def _beside_its_course(self, place: int, plot: Plot) -> bool:
        """The name of a course that ends inside the plot, at its end or along it, where it hides least; whether there
        was room for it."""
        line = self.chart.lines[place]
        rows, wide = self._rows(line.name, True)
        dots = self._dots(plot)
        edges = [plot.y(edge) for band in self.chart.bands for edge in (band.low, band.high)]
        uprights = [plot.x(mark.at) for mark in self.chart.marks]
        x, y = (plot.x(line.points[-1][0]), plot.y(line.points[-1][1]))
        places = [(x + self.size * 0.6, y - self.size * 0.355)]
        for part in range(0, 13):
            at = line.points[round(part / 12 * (len(line.points) - 1))]
            for up in (0.7, 2.0, -1.5, -2.8):
                places.append((plot.x(at[0]) + self.size * 0.4, plot.y(at[1]) + up * self.size))
                places.append((plot.x(at[0]) - wide - self.size * 0.4, plot.y(at[1]) + up * self.size))

        def hidden(where: tuple[float, float]) -> float:
            box = self._box(rows, wide, *where)
            on: float = sum(box[0] <= a <= box[2] and box[1] <= b <= box[3] for a, b in dots)
            on += 2 * sum(box[1] < edge < box[3] for edge in edges) + sum(box[0] < at < box[2] for at in uprights)
            on += 0.002 * (abs(where[0] - x) + abs(where[1] - y))
            return on

        def free(where: tuple[float, float]) -> bool:
            box = self._box(rows, wide, *where)
            inside = box[0] >= plot.left and box[2] <= plot.right and box[1] >= plot.low and box[3] <= plot.high
            return inside and not any(_over(box, other) for other in self.taken)

        places = [where for where in places if free(where)]
        if places:
            self._put(rows, wide, *min(places, key=hidden), place)
        return bool(places)

    def _dots(self, plot: Plot) -> list[tuple[float, float]]:
        """Places along every course, close enough that no name hides a stretch of it unseen."""
        found: list[tuple[float, float]] = []
        for line in self.chart.lines:
            for (x, y), (further, above) in pairwise(line.points):
                found += [
                    (plot.x(x + (further - x) * part / 12), plot.y(y + (above - y) * part / 12)) for part in range(13)
                ]
        return found


def _over(box: Box, other: Box) -> bool:
    return box[0] < other[2] and other[0] < box[2] and box[1] < other[3] and other[1] < box[3]
