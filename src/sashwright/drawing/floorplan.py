"""Where rooms, windows and doors of a storey lie on paper: the front below, the back above.

Coordinates [m] as the house's own: x along the front from its left end, y from the front to the back.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from sashwright.drawing.model import Point
from sashwright.window.plan import SIDES, Side, Stretch, bearing, outside_edges
from sashwright.window.rooms import Door, Room
from sashwright.window.spec import House, Window

OUTWARD: dict[Side, Point] = {
    "front": (0.0, -1.0),
    "right": (1.0, 0.0),
    "back": (0.0, 1.0),
    "left": (-1.0, 0.0),
}


@dataclass(frozen=True, slots=True)
class WindowAt:
    """A window's middle in the wall, the side it looks to, and its width [m]."""

    window: Window
    at: Point
    side: Side


@dataclass(frozen=True, slots=True)
class DoorAt:
    """A door's middle between two rooms; ``way`` leads from the first of them to the second."""

    door: Door
    at: Point
    way: Point


@dataclass(frozen=True)
class FloorPlan:
    """One storey of a house; ``front`` is the bearing its front looks to [degrees]."""

    house: House
    storey: int
    front: float

    @cached_property
    def rooms(self) -> dict[str, Room]:
        return {k: room for k, room in self.house.rooms.items() if room.storey == self.storey}

    @cached_property
    def box(self) -> tuple[float, float, float, float]:
        """Left, front, right and back of all rooms of the house, so that its storeys lie alike."""
        rooms = self.house.rooms.values()
        return (
            min(room.left for room in rooms),
            min(room.front for room in rooms),
            max(room.left + room.width for room in rooms),
            max(room.front + room.depth for room in rooms),
        )

    def towards(self, degrees: float) -> Point:
        """On the plan, the direction of a bearing."""
        turn = math.radians(degrees - self.front - 180.0)
        return math.sin(turn), math.cos(turn)

    def side_of(self, faces: float) -> Side:
        """The side of the plan that looks most nearly that way."""
        return min(
            SIDES,
            key=lambda side: abs((bearing(side, self.front) - faces + 180.0) % 360.0 - 180.0),
        )

    # --- walls

    def outside(self) -> Iterator[tuple[Point, Point]]:
        """The stretches of outside wall."""
        for key in self.rooms:
            for stretch in outside_edges(key, self.house.rooms):
                yield self._end(key, stretch, stretch.low), self._end(key, stretch, stretch.high)

    def _end(self, key: str, stretch: Stretch, at: float) -> Point:
        room = self.rooms[key]
        if stretch.side in ("front", "back"):
            return at, room.front + (room.depth if stretch.side == "back" else 0.0)
        return room.left + (room.width if stretch.side == "right" else 0.0), at

    # --- windows

    @cached_property
    def windows(self) -> list[WindowAt]:
        """Windows that stand in an outside wall of their room; others have no place here."""
        by_stretch: dict[tuple[str, Stretch], list[Window]] = {}
        for window in self.house.windows:
            stretch = self._stretch(window)
            if stretch is not None:
                by_stretch.setdefault((window.room, stretch), []).append(window)
        found = []
        for (key, stretch), windows in by_stretch.items():
            for index, window in enumerate(windows):
                even = stretch.low + stretch.length * (index + 0.5) / len(windows)
                along = self._along(window, stretch.side)
                within = along is not None and stretch.low <= along <= stretch.high
                middle = along if within and along is not None else even
                found.append(WindowAt(window, self._end(key, stretch, middle), stretch.side))
        return found

    def _stretch(self, window: Window) -> Stretch | None:
        """The longest outside wall of its room that looks its way, or the one it stands in."""
        wall = self.house.walls.get(window.wall)
        if wall is None or window.room not in self.rooms:
            return None
        side = self.side_of(wall.faces)
        edges = [e for e in outside_edges(window.room, self.house.rooms) if e.side == side]
        along = self._along(window, side)
        for edge in edges:
            if along is not None and edge.low <= along <= edge.high:
                return edge
        return max(edges, key=lambda edge: edge.length, default=None)

    def _along(self, window: Window, side: Side) -> float | None:
        """Its place along x or y; the record counts from the wall's left end, seen from outside."""
        if window.along is None:
            return None
        left, front, right, back = self.box
        return {
            "front": left + window.along,
            "right": front + window.along,
            "back": right - window.along,
            "left": back - window.along,
        }[side]

    # --- doors

    @cached_property
    def doors(self) -> list[DoorAt]:
        """Doors and archways between two rooms of the storey that lie side by side."""
        found = []
        for door in self.house.doors:
            one, other = (self.rooms.get(key) for key in door.between)
            place = _common_edge(one, other) if one is not None and other is not None else None
            if place is not None:
                found.append(DoorAt(door, *place))
        return found

    @property
    def ways_up_or_down(self) -> list[tuple[Door, str, str]]:
        """Doors and stairs to another storey, with the room here and the room there."""
        found = []
        for door in self.house.doors:
            for here, there in (door.between, door.between[::-1]):
                if here in self.rooms and there in self.house.rooms and there not in self.rooms:
                    found.append((door, here, there))
        return found


def _common_edge(one: Room, other: Room) -> tuple[Point, Point] | None:
    """Middle of the edge that two rooms share, and the way from one to the other."""
    low, high = _overlap(one.left, one.width, other.left, other.width)
    bottom, top = _overlap(one.front, one.depth, other.front, other.depth)
    if high > low and (high - low >= top - bottom or top <= bottom):
        ahead = other.front >= one.front
        near, far = (one, other) if ahead else (other, one)
        y = (near.front + near.depth + far.front) / 2
        return ((low + high) / 2, y), (0.0, 1.0 if ahead else -1.0)
    if top > bottom:
        ahead = other.left >= one.left
        near, far = (one, other) if ahead else (other, one)
        x = (near.left + near.width + far.left) / 2
        return (x, (bottom + top) / 2), (1.0 if ahead else -1.0, 0.0)
    return None


def _overlap(a: float, length: float, b: float, other: float) -> tuple[float, float]:
    return max(a, b), min(a + length, b + other)
