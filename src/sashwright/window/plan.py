"""The plan of a house's rooms: which walls look outdoors, which rooms lie over which, what does not fit."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from sashwright.window.problem import Problem
from sashwright.window.rooms import Door, Room

Side = Literal["front", "right", "back", "left"]
SIDES: tuple[Side, ...] = ("front", "right", "back", "left")
TURN: Mapping[Side, float] = {"front": 0.0, "right": -90.0, "back": 180.0, "left": 90.0}
"""Of the bearing that a side faces, from that of the front [degrees clockwise]."""
_TOUCH = 0.02
# Rooms may lie within each other by less than this: what a tape misses [m].


@dataclass(frozen=True, slots=True)
class Stretch:
    """A stretch of a room's edge: ``side``, and from where to where along it [m]."""

    side: Side
    low: float
    high: float

    @property
    def length(self) -> float:
        return self.high - self.low


def outside_edges(key: str, rooms: Mapping[str, Room]) -> list[Stretch]:
    """The stretches of a room's four edges that no other room of its storey lies against."""
    room = rooms[key]
    others = [o for name, o in rooms.items() if name != key and o.storey == room.storey]
    found = []
    for side in SIDES:
        free = [_edge(room, side)]
        for other in others:
            if _touches(room, other, side):
                free = _without(free, _edge(other, side))
        found += [Stretch(side, low, high) for low, high in free if high - low > _TOUCH]
    return found


def shared_edge(first: Room, second: Room) -> float:
    """Length along which two rooms of one storey lie side by side [m]."""
    if first.storey != second.storey:
        return 0.0
    return sum(
        max(_common(_edge(first, side), _edge(second, side)), 0.0)
        for side in SIDES
        if _touches(first, second, side)
    )


def overlap(first: Room, second: Room) -> float:
    """Area that two rooms share in plan [m2], whatever their storeys."""
    across = _common(_edge(first, "front"), _edge(second, "front"))
    deep = _common(_edge(first, "left"), _edge(second, "left"))
    return max(across, 0.0) * max(deep, 0.0)


def bearing(side: Side, front: float) -> float:
    """Direction that a side of the plan looks to, from that of the front [degrees clockwise from north]."""
    return (front + TURN[side]) % 360


def plan_problems(rooms: Mapping[str, Room], doors: tuple[Door, ...]) -> Iterator[Problem]:
    """Rooms that lie within each other, and doors that lead nowhere."""
    names = sorted(rooms)
    for place, name in enumerate(names):
        for other in names[:place]:
            shared = overlap(rooms[name], rooms[other])
            if rooms[name].storey == rooms[other].storey and shared > 0.05:
                yield Problem(
                    f"rooms.{name}",
                    f"{shared:.2f} m2 that {other!r} takes up too",
                    "rooms of one storey side by side",
                )
    known = ", ".join(names) or "none yet"
    for index, door in enumerate(doors):
        for name in door.between:
            if name not in rooms:
                yield Problem(
                    f"doors.{index}.between", repr(name), f"one of the house's rooms: {known}"
                )
        if door.between[0] == door.between[1]:
            yield Problem(f"doors.{index}.between", "the same room twice", "two rooms")


def _edge(room: Room, side: Side) -> tuple[float, float]:
    if side in ("front", "back"):
        return room.left, room.left + room.width
    return room.front, room.front + room.depth


def _touches(room: Room, other: Room, side: Side) -> bool:
    """Whether the other lies right against this side."""
    place = {
        "front": room.front - (other.front + other.depth),
        "back": other.front - (room.front + room.depth),
        "left": room.left - (other.left + other.width),
        "right": other.left - (room.left + room.width),
    }[side]
    # Partitions are drawn as lines or left out of both rooms: up to a thick wall's width.
    return -_TOUCH <= place < 0.5


def _common(a: tuple[float, float], b: tuple[float, float]) -> float:
    return min(a[1], b[1]) - max(a[0], b[0])


def _without(
    pieces: list[tuple[float, float]], taken: tuple[float, float]
) -> list[tuple[float, float]]:
    left = []
    for low, high in pieces:
        left += [(low, min(high, taken[0])), (max(low, taken[1]), high)]
    return [(low, high) for low, high in left if high > low]
