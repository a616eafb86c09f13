"""The words of the rooms on a plan: name, warmth, what goes up or down; kept clear of arrows and doors."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from sashwright import units
from sashwright.chapters.words import Words
from sashwright.drawing.airhour import AirHour
from sashwright.drawing.airkey import NAME, SMALL, wash_of
from sashwright.drawing.axes import LETTERING, wrapped
from sashwright.drawing.clear import box_about, freest, moved
from sashwright.drawing.floorplan import FloorPlan
from sashwright.drawing.model import Bounds, Group, Item, Text, rectangle
from sashwright.drawing.paper import text_width
from sashwright.window.rooms import Room

SIZE = 0.9
"""Between two lines of words [mm]."""
EDGE = 2.4
"""What words leave of a room's width [mm]."""
SMALLEST = 1.7

Lettered = tuple[str, float, str]
"""A line: its text, height [mm] and pen."""


@dataclass(frozen=True)
class RoomWords:
    """The rooms of a storey; ``mm`` metres are a paper millimetre; no word should stand in ``taken``."""

    plan: FloorPlan
    hour: AirHour | None
    system: units.System
    mm: float
    taken: Sequence[Bounds]

    def floors(self) -> Iterator[Item]:
        """The washes of all rooms."""
        for key, room in self.plan.rooms.items():
            right, back = room.left + room.width, room.front + room.depth
            known = self.hour.rooms.get(key) if self.hour else None
            pen = wash_of(known["operative_c"]) if known else "paper"
            yield rectangle(room.left, room.front, right, back, f"{pen} edge")

    def words(self) -> Iterator[Item]:
        """The words of all rooms."""
        for key, box in self.boxes.items():
            middle, down = (box.left + box.right) / 2, 0.4
            items: list[Item] = []
            for text, size, pen in self._lines[key]:
                down += size + SIZE
                items.append(Text((middle, box.top), text, pen, size, shift=(0.0, -down)))
            says = ", ".join([key, *(text for text, _, pen in self._lines[key] if "figure" in pen)])
            yield Group(tuple(items), says, classes="room", data=(("room", key),))

    @cached_property
    def boxes(self) -> dict[str, Bounds]:
        """Where each room's words stand: in its middle, or aside where arrows leave more room."""
        return {
            key: freest(self._places(room, self._lines[key]), self.taken)
            for key, room in self.plan.rooms.items()
        }

    def _places(self, room: Room, lines: Sequence[Lettered]) -> Iterator[Bounds]:
        wide = max(text_width(text, size) for text, size, _ in lines) + 0.8
        high = sum(size + SIZE for _, size, _ in lines) + 0.8
        middle = room.left + room.width / 2, room.front + room.depth / 2
        across, up = (
            max(size / self.mm - words - EDGE, 0.0) / 2
            for size, words in ((room.width, wide), (room.depth, high))
        )
        for aside in (0.0, -0.5, 0.5, -1.0, 1.0):
            for share in (0.0, 0.35, -0.35, 0.7, -0.7, 1.0, -1.0):
                at = moved(middle, (aside * across, share * up), self.mm)
                yield box_about(at, wide / 2, high / 2, self.mm)

    @cached_property
    def _lines(self) -> dict[str, list[Lettered]]:
        return {key: list(self._lines_of(key, room)) for key, room in self.plan.rooms.items()}

    def _lines_of(self, key: str, room: Room) -> Iterator[Lettered]:
        space = room.width / self.mm - EDGE
        size = NAME
        while size > SMALLEST and any(text_width(word, size) > space for word in key.split()):
            size -= 0.1
        for line in wrapped(key, size, space):
            yield line, size, "note"
        known = self.hour.rooms.get(key) if self.hour else None
        if known:
            warmth = units.format_temperature(known["operative_c"], self.system)
            yield warmth, LETTERING, "figure"
        for way in self._ways(key):
            for line in _broken(way, space):
                yield line, SMALL, "figure halo"

    def _ways(self, key: str) -> Iterator[str]:
        """What goes up or down from a room, as words."""
        for door, here, there in self.plan.ways_up_or_down:
            if here != key:
                continue
            name = "stair" if door.kind == "stair" else "door"
            up = self.plan.house.rooms[there].storey > self.plan.storey
            if self.hour is None:
                # Which way a stair goes is part of a plan; a door to the loft would crowd a small room.
                if door.kind == "stair":
                    yield f"{name} {'up' if up else 'down'}"
                continue
            flow = self.hour.between(here, there).net
            if self.hour.shows(abs(flow)):
                rises = (flow > 0) == up
                told = Words(self.system).flow(abs(flow))
                yield f"{name} {'up' if rises else 'down'} {told}"


def _broken(text: str, space: float) -> list[str]:
    """The way and its figure on one line; on two or three where a room is narrow."""
    if text_width(text, SMALL) <= space:
        return [text]
    words = text.split(" ")
    way = " ".join(words[:2])
    ways = [way] if text_width(way, SMALL) <= space else words[:2]
    return [*ways, *([" ".join(words[2:])] if words[2:] else [])]
