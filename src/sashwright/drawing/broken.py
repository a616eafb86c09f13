"""Broken views: of a long thing only the stretches that matter are shown, closed up."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from sashwright.drawing.model import Point, Polyline, outline

CLOSE = 0.03
"""Stretches nearer to each other than this are shown as one [m]: a break would save nothing."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """What is shown from ``low`` to ``high``, drawn ``shift`` lower than it lies [m]."""

    low: float
    high: float
    shift: float

    def holds(self, at: float) -> bool:
        return self.low <= at <= self.high

    def clip(self, low: float, high: float) -> tuple[float, float] | None:
        """The part between the two that is shown here."""
        low, high = max(low, self.low), min(high, self.high)
        return (low, high) if high > low else None


def stretches(spans: Iterable[tuple[float, float]], gap: float) -> list[Stretch]:
    """The spans in rising order, those that touch joined, ``gap`` left between the rest."""
    joined: list[tuple[float, float]] = []
    for low, high in sorted(spans):
        if joined and low - joined[-1][1] < CLOSE:
            joined[-1] = (joined[-1][0], max(high, joined[-1][1]))
        else:
            joined.append((low, high))
    found: list[Stretch] = []
    for low, high in joined:
        shift = 0.0 if not found else low - (found[-1].high - found[-1].shift + gap)
        found.append(Stretch(low, high, shift))
    return found


def shown(parts: Sequence[Stretch], at: float) -> float:
    """Where ``at`` is drawn; what lies in a break goes to the nearer edge."""
    nearest = min(parts, key=lambda part: max(part.low - at, at - part.high, 0.0))
    return min(max(at, nearest.low), nearest.high) - nearest.shift


def break_line(start: Point, end: Point) -> Polyline:
    """A level or upright line with a zigzag at its middle: here the drawing is broken off."""
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    length = max(abs(end[0] - start[0]), abs(end[1] - start[1]))
    reach = min(0.007, length / 8)
    along = (reach, 0.0) if abs(end[0] - start[0]) > abs(end[1] - start[1]) else (0.0, reach)
    across = (along[1], along[0])
    zigzag = [
        (middle[0] + a * along[0] + c * across[0], middle[1] + a * along[1] + c * across[1])
        for a, c in ((-1.0, 0.0), (-0.35, -1.0), (0.35, 1.0), (1.0, 0.0))
    ]
    return Polyline(outline([start, *zigzag, end]), "break")
