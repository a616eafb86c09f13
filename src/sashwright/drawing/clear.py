"""Words on a plan kept clear of what stands there already. Lengths in metres, where nothing else is said."""

from __future__ import annotations

from collections.abc import Iterable

from sashwright.drawing.model import Bounds, Point


def box_about(at: Point, half_wide: float, half_high: float, mm: float) -> Bounds:
    """A rectangle about its middle; its halves in paper mm of ``mm`` metres."""
    (x, y), wide, high = at, half_wide * mm, half_high * mm
    return Bounds(x - wide, y - high, x + wide, y + high)


def shared_area(one: Bounds, other: Bounds) -> float:
    """Area that two rectangles share."""
    wide = min(one.right, other.right) - max(one.left, other.left)
    high = min(one.top, other.top) - max(one.bottom, other.bottom)
    return max(wide, 0.0) * max(high, 0.0)


def freest(places: Iterable[Bounds], taken: Iterable[Bounds]) -> Bounds:
    """The first of the places that the least of what is taken lies in."""
    others = list(taken)
    return min(places, key=lambda place: round(sum(shared_area(place, o) for o in others), 9))


def moved(at: Point, way: Point, far: float) -> Point:
    """A point so far along a way."""
    return at[0] + way[0] * far, at[1] + way[1] * far
