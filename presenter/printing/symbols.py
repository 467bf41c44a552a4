"""Signs drawn as lines because the type lacks them: warning triangle, crossed circle, arrows, tick and boxes.

In: the sign, its place and its size. Out: strokes on the canvas. Each stands in a square of one em on the
baseline.
"""

from __future__ import annotations

import math
from typing import Any

__all__ = ["DRAWN", "SPOKEN", "draw_sign", "severity_sign"]

DRAWN = "→←↑↓☐☑✓⚠"
SPOKEN = {
    "→": "to",
    "←": "from",
    "↑": "up",
    "↓": "down",
    "☐": "box to tick",
    "☑": "box, ticked",
    "✓": "tick",
    "⚠": "warning",
}
_TURNS = {"→": 0.0, "↑": 90.0, "←": 180.0, "↓": 270.0}


def draw_sign(canvas: Any, sign: str, x: float, y: float, size: float, colour: Any) -> None:
    """Draw one of :data:`DRAWN` with its square's lower left corner at (x, y)."""
    canvas.saveState()
    canvas.setStrokeColor(colour)
    canvas.setFillColor(colour)
    canvas.setLineWidth(size * 0.08)
    canvas.setLineJoin(1)
    canvas.setLineCap(1)
    if sign in _TURNS:
        _arrow(canvas, x + size / 2, y + size * 0.34, size, _TURNS[sign])
    elif sign == "⚠":
        _triangle(canvas, x, y - size * 0.1, size)
    else:
        if sign in "☐☑":
            canvas.rect(x + size * 0.1, y - size * 0.05, size * 0.75, size * 0.75)
        if sign in "☑✓":
            _stroke(
                canvas,
                [
                    (x + size * 0.25, y + size * 0.32),
                    (x + size * 0.42, y + size * 0.12),
                    (x + size * 0.75, y + size * 0.6),
                ],
            )
    canvas.restoreState()


def severity_sign(canvas: Any, severity: str, x: float, y: float, size: float, colour: Any) -> None:
    """The sign beside a caution: a crossed circle for "never", none for a notice, else the triangle."""
    if severity == "notice":
        return
    if severity != "never":
        canvas.saveState()
        canvas.setStrokeColor(colour)
        canvas.setFillColor(colour)
        canvas.setLineJoin(1)
        canvas.setLineCap(1)
        _triangle(canvas, x, y, size)
        canvas.restoreState()
        return
    canvas.saveState()
    canvas.setStrokeColor(colour)
    canvas.setLineWidth(size * 0.11)
    middle, radius = size / 2, size * 0.43
    canvas.circle(x + middle, y + middle, radius)
    part = radius * math.sqrt(0.5)
    canvas.line(x + middle - part, y + middle + part, x + middle + part, y + middle - part)
    canvas.restoreState()


def _stroke(canvas: Any, points: list[tuple[float, float]]) -> None:
    path = canvas.beginPath()
    path.moveTo(*points[0])
    for point in points[1:]:
        path.lineTo(*point)
    canvas.drawPath(path)


def _arrow(canvas: Any, x: float, y: float, size: float, turn: float) -> None:
    canvas.saveState()
    canvas.translate(x, y)
    canvas.rotate(turn)
    half, head = size * 0.4, size * 0.22
    canvas.line(-half, 0, half, 0)
    _stroke(canvas, [(half - head, head), (half, 0), (half - head, -head)])
    canvas.restoreState()


def _triangle(canvas: Any, x: float, y: float, size: float) -> None:
    canvas.setLineWidth(size * 0.09)
    path = canvas.beginPath()
    path.moveTo(x + size * 0.06, y + size * 0.08)
    path.lineTo(x + size * 0.94, y + size * 0.08)
    path.lineTo(x + size * 0.5, y + size * 0.88)
    path.close()
    canvas.drawPath(path)
    canvas.setLineWidth(size * 0.11)
    canvas.line(x + size * 0.5, y + size * 0.58, x + size * 0.5, y + size * 0.38)
    canvas.circle(x + size * 0.5, y + size * 0.22, size * 0.06, stroke=0, fill=1)
