"""Hardware of a sash as simple marks, seen from the room."""

from __future__ import annotations

from collections.abc import Iterator

from sashwright.drawing.model import Arc, Group, Item, part, rectangle
from sashwright.window.layout import Which, WindowLayout


def hardware(layout: WindowLayout, lift: tuple[float, float]) -> Iterator[Group]:
    """Locks on the meeting rails and lifts on the bottom rail, as simple marks."""
    half = layout.lower.half
    # A lock counts once, though the family may name both of its halves.
    locks = max(_count(layout, "lock", "upper"), _count(layout, "lock", "lower"))
    lifts = _count(layout, "lift", "lower")
    places = [half * (2 * i + 1) / locks - half for i in range(locks)]
    lower = layout.lower
    if places:
        items = tuple(mark for x in places for mark in _lock(x, lower.top + lift[1]))
        yield part("lower.lock", "sash lock", items)
    places = [half * (2 * i + 1) / lifts - half for i in range(lifts)]
    if places:
        level = lower.bottom + lower.bottom_rail / 2 + lift[1]
        items = tuple(mark for x in places for mark in _lift(x, level + 0.004))
        yield part("lower.lift", "sash lift", items)


def _count(layout: WindowLayout, word: str, on: Which) -> int:
    return sum(item.count for item in layout.family.hardware if word in item.item and item.on == on)


def _lock(x: float, y: float) -> tuple[Item, ...]:
    """A cam lock standing on the meeting rail."""
    return (
        rectangle(x - 0.030, y, x + 0.030, y + 0.006, "edge metal"),
        rectangle(x - 0.011, y + 0.006, x + 0.011, y + 0.015, "edge metal"),
        rectangle(x - 0.004, y + 0.015, x + 0.028, y + 0.020, "edge metal"),
    )


def _lift(x: float, y: float) -> tuple[Item, ...]:
    """A hook lift on the bottom rail."""
    return (
        rectangle(x - 0.018, y - 0.010, x + 0.018, y + 0.012, "edge paper"),
        rectangle(x - 0.014, y - 0.016, x + 0.014, y - 0.006, "edge metal"),
        Arc((x, y + 0.006), 0.0022, "fine"),
    )
