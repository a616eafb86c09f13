"""Curved parts sawn from boards: in how many segments, and from boards how long and wide."""

from __future__ import annotations

import math
from typing import NamedTuple

from sashwright.units import INCH

MOST_ANGLE = math.radians(60)
"""Of the arc that one segment spans: at its ends the grain runs out at half of that; judgement."""
WIDEST = 11 * INCH
"""Board that a segment may ask for [m]; judgement."""


class Segments(NamedTuple):
    """Like segments of a curved part."""

    pieces: int
    length: float
    """Of the rectangle round one: the chord of its outer edge [m]."""
    width: float
    """From its crown to the inner corners [m]."""


def segments(outer: float, inner: float, angle: float) -> Segments:
    """A ring of radii ``outer`` and ``inner`` [m] over ``angle`` [rad], in as few segments as can be."""
    count = max(math.ceil(angle / MOST_ANGLE - 1e-9), 1)
    while outer - inner * math.cos(angle / count / 2) > WIDEST and count < 64:
        count += 1
    half = angle / count / 2
    return Segments(count, 2 * outer * math.sin(half), outer - inner * math.cos(half))
