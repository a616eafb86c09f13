"""Hatching of cut surfaces, drawn as real lines clipped to the shape.

All in paper millimetres, so that a hatch looks alike at any scale and in any viewer.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from sashwright.drawing.model import Point

RING_SPACINGS = (1.0, 0.72, 1.18, 0.84, 0.62, 1.05)
"""From one growth ring to the next [mm], over and over: even rings look like a machine's."""
METAL_SPACING = 0.9
EARTH_SPACING = 1.6
FAULT_SPACING = {"slight": 2.4, "moderate": 1.2, "severe": 1.3}
"""Between the lines that tell how bad a fault is; those of the worst cross [mm]."""


class RingPiece(NamedTuple):
    """Part of a growth ring, counter-clockwise from ``start`` to ``end``."""

    radius: float
    start: Point
    end: Point
    large: bool


def rings(shape: Sequence[Point], pith: Point) -> Iterator[RingPiece]:
    """Growth rings about ``pith`` where they run inside the shape."""
    distances = [math.dist(pith, corner) for corner in shape]
    nearest = 0.0 if _inside(shape, pith) else _nearest(shape, pith)
    farthest = max(distances)
    for radius in _ring_radii(nearest, farthest):
        yield from _ring_inside(shape, pith, radius)


def _ring_radii(nearest: float, farthest: float) -> Iterator[float]:
    total = sum(RING_SPACINGS)
    radius = math.floor(nearest / total) * total
    index = 0
    while radius < farthest:
        if radius > nearest and radius > 0.4:
            yield radius
        radius += RING_SPACINGS[index % len(RING_SPACINGS)]
        index += 1


def _ring_inside(shape: Sequence[Point], pith: Point, radius: float) -> Iterator[RingPiece]:
    angles = sorted(_crossings(shape, pith, radius))
    if not angles:
        return
    for first, last in zip(angles, [*angles[1:], angles[0] + math.tau], strict=True):
        if (last - first) * radius < 0.25:
            continue
        middle = (first + last) / 2
        if _inside(shape, _on(pith, radius, middle)):
            start, end = _on(pith, radius, first), _on(pith, radius, last)
            yield RingPiece(radius, start, end, last - first > math.pi)


def _on(centre: Point, radius: float, angle: float) -> Point:
    return centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle)


def _crossings(shape: Sequence[Point], pith: Point, radius: float) -> Iterator[float]:
    """Angles at which the circle crosses the sides of the shape."""
    px, py = pith
    x0, y0 = shape[-1][0] - px, shape[-1][1] - py
    for x, y in shape:
        x1, y1 = x - px, y - py
        dx, dy = x1 - x0, y1 - y0
        a = dx * dx + dy * dy
        half = x0 * dx + y0 * dy
        root = half * half - a * (x0 * x0 + y0 * y0 - radius * radius)
        if a > 0 and root > 0:
            for share in ((-half - math.sqrt(root)) / a, (-half + math.sqrt(root)) / a):
                if 0 <= share < 1:
                    yield math.atan2(y0 + share * dy, x0 + share * dx)
        x0, y0 = x1, y1


def _inside(shape: Sequence[Point], point: Point) -> bool:
    x, y = point
    inside = False
    x0, y0 = shape[-1]
    for x1, y1 in shape:
        if (y0 > y) != (y1 > y) and x < (x1 - x0) * (y - y0) / (y1 - y0) + x0:
            inside = not inside
        x0, y0 = x1, y1
    return inside


def _nearest(shape: Sequence[Point], point: Point) -> float:
    best = math.inf
    x0, y0 = shape[-1]
    for x1, y1 in shape:
        dx, dy = x1 - x0, y1 - y0
        length = dx * dx + dy * dy
        share = ((point[0] - x0) * dx + (point[1] - y0) * dy) / length if length else 0.0
        share = min(max(share, 0.0), 1.0)
        best = min(best, math.dist(point, (x0 + share * dx, y0 + share * dy)))
        x0, y0 = x1, y1
    return best


def slanted(shape: Sequence[Point], spacing: float) -> Iterator[tuple[Point, Point]]:
    """Lines rising to the right at 45 degrees, ``spacing`` apart, where they run inside the shape."""
    step = spacing * math.sqrt(2)
    offsets = [y - x for x, y in shape]
    count = math.ceil(min(offsets) / step)
    while count * step < max(offsets):
        yield from _slanted_line(shape, count * step)
        count += 1


def crossed(shape: Sequence[Point], spacing: float) -> Iterator[tuple[Point, Point]]:
    """The same, and as many lines falling to the right."""
    yield from slanted(shape, spacing)
    turned = [(-x, y) for x, y in shape]
    for (x0, y0), (x1, y1) in slanted(turned, spacing):
        yield (-x0, y0), (-x1, y1)


def _slanted_line(shape: Sequence[Point], offset: float) -> Iterator[tuple[Point, Point]]:
    """Pieces inside the shape of the line y = x + offset."""
    found: list[float] = []
    x0, y0 = shape[-1]
    for x1, y1 in shape:
        side0, side1 = y0 - x0 - offset, y1 - x1 - offset
        if (side0 > 0) != (side1 > 0):
            found.append(x0 + (x1 - x0) * side0 / (side0 - side1))
        x0, y0 = x1, y1
    found.sort()
    for start, end in zip(found[::2], found[1::2], strict=False):
        yield (start, start + offset), (end, end + offset)


def strokes(kind: str, shape: Sequence[Point]) -> Iterator[tuple[Point, Point]]:
    """The lines of a hatch of straight lines."""
    spacing = EARTH_SPACING if kind == "earth" else METAL_SPACING
    lines = crossed if kind == "severe" else slanted
    return lines(shape, FAULT_SPACING.get(kind, spacing))


def pith_of(shape: Sequence[Point], k: float) -> Point:
    """Where the tree's heart lay [m], for a piece that does not say: below it and a little aside.

    ``shape`` is in paper millimetres, ``k`` of them to the metre.
    """
    xs, ys = [x for x, _ in shape], [y for _, y in shape]
    width, height = max(xs) - min(xs), max(ys) - min(ys)
    reach = 1.1 * max(width, height) + 6
    middle = (max(xs) + min(xs)) / 2
    return (middle + 0.35 * width) / k, (min(ys) - reach) / k
