"""Outlines of straight pieces and arcs: their area, their reach, where they cross themselves.

A point is ``(x, y, bulge)``; the bulge bends the piece that starts there into an arc: the tangent of a
quarter of the arc's angle, positive counter-clockwise, 0 for a straight piece.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence

Point = tuple[float, float]
Vertex = tuple[float, float, float]

ARC_STEPS = 48
"""Straight pieces that an arc is cut into to find crossings: within 0.1 % of its radius."""


def arc_of(start: Sequence[float], end: Sequence[float]) -> tuple[Point, float, float, float]:
    """Centre, radius, first angle and sweep [rad] of the bent piece from ``start`` to ``end``."""
    (x0, y0, bulge), (x1, y1) = start[:3], end[:2]
    # The centre stands on the perpendicular bisector of the chord.
    rise = (1 - bulge * bulge) / (4 * bulge)
    x = (x0 + x1) / 2 - rise * (y1 - y0)
    y = (y0 + y1) / 2 + rise * (x1 - x0)
    radius = math.hypot(x0 - x, y0 - y)
    return (x, y), radius, math.atan2(y0 - y, x0 - x), 4 * math.atan(bulge)


def bulge_through(start: Point, middle: Point, end: Point) -> float:
    """Bulge of the arc from ``start`` to ``end`` through ``middle``.

    Raises ``ValueError`` where two of the points are the same.
    """
    a = (start[0] - middle[0], start[1] - middle[1])
    b = (end[0] - middle[0], end[1] - middle[1])
    cross, dot = a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1]
    if math.dist(start, end) == 0 or math.hypot(*a) == 0 or math.hypot(*b) == 0:
        raise ValueError("found two points in one place, expected three apart")
    # The angle seen from the middle point is half of the arc's other part.
    seen = math.atan2(cross, dot)
    return math.tan((math.pi - abs(seen)) / 2) * (-1 if seen > 0 else 1)


def pieces(points: Sequence[Vertex], *, closed: bool) -> Iterator[tuple[Vertex, Vertex]]:
    """Each piece with its ends; the last leads back to the first of a closed outline."""
    yield from itertools.pairwise(points)
    if closed and len(points) > 1:
        yield points[-1], points[0]


def enclosed(points: Sequence[Vertex]) -> float:
    """Area within a closed outline, exact; positive where it runs counter-clockwise."""
    area = 0.0
    for start, end in pieces(points, closed=True):
        area += (start[0] * end[1] - end[0] * start[1]) / 2
        if start[2]:
            _, radius, _, sweep = arc_of(start, end)
            area += radius * radius * (sweep - math.sin(sweep)) / 2
    return area


def run(points: Sequence[Vertex], *, closed: bool) -> float:
    """Length along the outline."""
    total = 0.0
    for start, end in pieces(points, closed=closed):
        if start[2]:
            _, radius, _, sweep = arc_of(start, end)
            total += radius * abs(sweep)
        else:
            total += math.dist(start[:2], end[:2])
    return total


def reach(points: Sequence[Vertex], *, closed: bool) -> tuple[float, float, float, float]:
    """Left, bottom, right and top of the outline, arcs included."""
    xs, ys = [point[0] for point in points], [point[1] for point in points]
    for start, end in pieces(points, closed=closed):
        if start[2]:
            for x, y in _turning_points(start, end):
                xs.append(x)
                ys.append(y)
    return min(xs), min(ys), max(xs), max(ys)


def _turning_points(start: Vertex, end: Vertex) -> Iterator[Point]:
    """Where an arc runs level or upright."""
    (x, y), radius, first, sweep = arc_of(start, end)
    low, high = sorted((first, first + sweep))
    for quarter in range(math.ceil(low / (math.pi / 2)), math.floor(high / (math.pi / 2)) + 1):
        angle = quarter * math.pi / 2
        yield x + radius * math.cos(angle), y + radius * math.sin(angle)


def flat(points: Sequence[Vertex], *, closed: bool, per_arc: int = ARC_STEPS) -> list[Point]:
    """The outline with each arc cut into ``per_arc`` straight pieces; a closed one ends as it began."""
    found: list[Point] = [points[0][:2]]
    for start, end in pieces(points, closed=closed):
        if start[2]:
            (x, y), radius, first, sweep = arc_of(start, end)
            for step in range(1, per_arc):
                angle = first + sweep * step / per_arc
                found.append((x + radius * math.cos(angle), y + radius * math.sin(angle)))
        found.append(end[:2])
    return found


def crossing(points: Sequence[Vertex], *, closed: bool) -> tuple[int, int] | None:
    """Which two pieces of an outline (numbered from 0) cross or touch each other, if any do.

    Pieces that follow each other may share their end, and nothing else.
    """
    strokes = [
        (index, stroke)
        for index, (start, end) in enumerate(pieces(points, closed=closed))
        for stroke in itertools.pairwise(flat((start, end), closed=False))
    ]
    last = len(strokes) - 1
    for i, (one, first) in enumerate(strokes):
        for j in range(i + 1, len(strokes)):
            other, second = strokes[j]
            if j == i + 1:
                meets = _folds_back(first, second)
            elif closed and i == 0 and j == last:
                meets = _folds_back(second, first)
            else:
                meets = _meet(first, second)
            if meets:
                return one, other
    return None


Stroke = tuple[Point, Point]


def _folds_back(first: Stroke, second: Stroke) -> bool:
    """Whether the next stroke runs back along the one before it."""
    a, b = _along(first), _along(second)
    cross, dot = a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1]
    return dot < 0 and abs(cross) <= 1e-9 * math.hypot(*a) * math.hypot(*b)


def _along(stroke: Stroke) -> Point:
    return stroke[1][0] - stroke[0][0], stroke[1][1] - stroke[0][1]


def _meet(first: Stroke, second: Stroke) -> bool:
    (a, b), (c, d) = first, second
    if (
        max(a[0], b[0]) < min(c[0], d[0])
        or max(c[0], d[0]) < min(a[0], b[0])
        or max(a[1], b[1]) < min(c[1], d[1])
        or max(c[1], d[1]) < min(a[1], b[1])
    ):
        return False
    return _side(a, b, c) * _side(a, b, d) <= 0 and _side(c, d, a) * _side(c, d, b) <= 0


def _side(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
