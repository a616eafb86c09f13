"""Arrows of air: wider and longer for more of it, the same look wherever they stand."""

from __future__ import annotations

import math
from collections.abc import Iterator

from sashwright.drawing.model import Item, Point, Polygon, outline

LEAST, MOST = 0.55, 2.6
"""Width of the thinnest and of the widest shaft [mm]."""
SHORT, LONG = 5.0, 8.5
"""Their lengths, head included [mm]."""


def width_of(flow: float, greatest: float) -> float:
    """Width of a shaft [mm]: as the root of the flow, so that the eye compares areas."""
    return LEAST + (MOST - LEAST) * _share(flow, greatest)


def length_of(flow: float, greatest: float) -> float:
    """Length of an arrow [mm]."""
    return SHORT + (LONG - SHORT) * _share(flow, greatest)


def _share(flow: float, greatest: float) -> float:
    return math.sqrt(min(max(flow / greatest, 0.0), 1.0)) if greatest > 0 else 0.0


def arrow(
    middle: Point, way: Point, length: float, width: float, mm: float, pen: str = "solid halo"
) -> Iterator[Item]:
    """An arrow about its middle, ``length`` and ``width`` in paper mm of ``mm`` metres."""
    head = width / 2 + 0.9
    deep = 1.5 * head
    along = (-length / 2, length / 2 - deep, length / 2)
    half = width / 2
    shape = [
        (along[0], half), (along[1], half), (along[1], head), (along[2], 0.0),
        (along[1], -head), (along[1], -half), (along[0], -half),
    ]  # fmt: skip
    (x, y), (wx, wy) = middle, way
    points = [(x + (a * wx - b * wy) * mm, y + (a * wy + b * wx) * mm) for a, b in shape]
    yield Polygon(outline(points), pen)
