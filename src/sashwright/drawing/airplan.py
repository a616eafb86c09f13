"""The plan of a storey with the air through it in one hour: rooms, how windows stand, arrows, warmth.

Drawn so that the whole house is as wide as a phone. Arrows are wider for more air; the dark half of a
window's mark is the part that its sash leaves open; every room's temperature stands in it as a figure.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from sashwright import units
from sashwright.chapters.words import Words
from sashwright.drawing.airhour import AirHour
from sashwright.drawing.airkey import CALM, SMALL, wind_words
from sashwright.drawing.arrows import arrow, length_of, width_of
from sashwright.drawing.clear import box_about, freest, moved
from sashwright.drawing.floorplan import OUTWARD, DoorAt, FloorPlan
from sashwright.drawing.model import (
    Arc,
    Bounds,
    Drawing,
    Group,
    Item,
    Line,
    Point,
    Text,
    drawing,
    rectangle,
)
from sashwright.drawing.paper import text_width
from sashwright.drawing.planrooms import RoomWords
from sashwright.drawing.planwindows import LINE, REACH, PlanWindows
from sashwright.window.front import front_of
from sashwright.window.spec import House

WIDTH = 80.0
"""Of the house on paper, and at most so high [mm]."""


def air_plan(
    house: House,
    storey: int,
    hour: AirHour | None = None,
    system: units.System = "us",
    *,
    width: float = WIDTH,
) -> Drawing:
    """One storey of a house.

    Parameters
    ----------
    storey
        One that has rooms in the house's plan; others give an empty drawing that says so.
    hour
        The air and warmth of an hour; the bare plan without.
    width
        Of the house on paper, and at most so high [mm]; its words are laid out for that.
    """
    plan = FloorPlan(house, storey, front_of(house))
    title = f"{house.name}, storey {storey}" + (", air and warmth" if hour else "")
    if not plan.rooms:
        note = Text((0.0, 0.0), "No rooms are recorded for this storey.")
        return drawing(title, "No rooms are recorded.", (note,), 0.01)
    sheet = _Sheet(plan, hour, system, width)
    return drawing(title, sheet.describe(), sheet.items(), 0.001 / sheet.mm)


@dataclass(frozen=True)
class _Sheet:
    plan: FloorPlan
    hour: AirHour | None
    system: units.System
    width: float

    @cached_property
    def mm(self) -> float:
        """Metres of a paper millimetre."""
        left, front, right, back = self.plan.box
        return max(right - left, back - front) / self.width

    @property
    def words(self) -> Words:
        return Words(self.system)

    def items(self) -> Iterator[Item]:
        yield from self.rooms.floors()
        yield Group(tuple(Line(*ends, "wall") for ends in self.plan.outside()), classes="walls")
        for place in self.plan.doors:
            yield self._door(place)
        yield from self.rooms.words()
        windows = PlanWindows(self.hour, self.system, self.mm)
        for side in OUTWARD:
            yield from windows.side([each for each in self.plan.windows if each.side == side])
        if self.hour is not None:
            for place in self.plan.doors:
                yield from self._through_door(self.hour, place)
        yield from self._head()

    @cached_property
    def rooms(self) -> RoomWords:
        taken = self._doors_taken if self.hour is None else self._arrows_taken
        return RoomWords(self.plan, self.hour, self.system, self.mm, taken)

    @property
    def _doors_taken(self) -> list[Bounds]:
        return [
            box_about(each.at, *self._gap(each, 1.2, each.door.width / 2 / self.mm), self.mm)
            for each in self.plan.doors
        ]

    @cached_property
    def _arrows_taken(self) -> list[Bounds]:
        """Where arrows stand in the rooms, and the figures of those through doors."""
        hour = self.hour
        if hour is None:
            return []
        found = []
        for place in self.plan.doors:
            flow = abs(hour.between(*place.door.between).net)
            if hour.shows(flow):
                found.append(box_about(place.at, *self._gap(place, 4.2, 2.2), self.mm))
            if hour.tells(flow):
                found.append(self._figure_places(place, flow)[0])
        for window in self.plan.windows:
            air = hour.window(window.window.number)
            if hour.shows(max(air.forth, air.back)):
                found.append(box_about(window.at, 4.2, 4.2, self.mm))
        return found

    def _figure_places(self, place: DoorAt, flow: float) -> list[Bounds]:
        """Where the figure of an arrow through a door may stand: over or under it, to its right or left."""
        wide = text_width(self.words.flow(flow), SMALL)
        greatest = self.hour.greatest if self.hour else 0.0
        far = width_of(flow, greatest) / 2
        ways = ((0.0, far + 2.5), (0.0, -far - 2.5))
        if place.way[1]:
            ways = ((far + 1.6 + wide / 2, 0.0), (-far - 1.6 - wide / 2, 0.0))
        return [box_about(moved(place.at, way, self.mm), wide / 2, 1.2, self.mm) for way in ways]

    # --- doors

    def _gap(self, place: DoorAt, thick: float, half: float) -> tuple[float, float]:
        """Half the width and height of a door's gap on the sheet."""
        return (thick, half) if place.way[0] else (half, thick)

    def _door(self, place: DoorAt) -> Group:
        """A gap in the partition; a door that stands shut closes it with a line."""
        (x, y), (wx, wy) = place.at, place.way
        half, thick = place.door.width / 2, 0.55 * self.mm
        across = self._gap(place, thick, half)
        items: list[Item] = [
            rectangle(x - across[0], y - across[1], x + across[0], y + across[1], "paper")
        ]
        for sign in (-1, 1):
            jamb = (x + sign * half * abs(wy), y + sign * half * abs(wx))
            ends = [(jamb[0] + s * thick * wx, jamb[1] + s * thick * wy) for s in (-1, 1)]
            items.append(Line(ends[0], ends[1], "outline"))
        if not self._is_open(place):
            start = (x - half * abs(wy), y - half * abs(wx))
            end = (x + half * abs(wy), y + half * abs(wx))
            items.append(Line(start, end, "outline"))
        return Group(tuple(items), " – ".join(place.door.between), classes="door")

    def _is_open(self, place: DoorAt) -> bool:
        if not place.door.shuts:
            return True
        told = self.hour.values.get("doors") if self.hour else None
        for row in told or ():
            if set(row["between"]) == set(place.door.between):
                return bool(row["open"])
        return place.door.usual == "open"

    def _through_door(self, hour: AirHour, place: DoorAt) -> Iterator[Item]:
        flow = hour.between(*place.door.between).net
        if not hour.shows(abs(flow)):
            return
        (wx, wy), sign = place.way, 1.0 if flow > 0 else -1.0
        way = (sign * wx, sign * wy)
        length, width = (f(abs(flow), hour.greatest) for f in (length_of, width_of))
        items = list(arrow(place.at, way, length * 0.9, width, self.mm))
        if hour.tells(abs(flow)):
            box = freest(self._figure_places(place, abs(flow)), self.rooms.boxes.values())
            at = ((box.left + box.right) / 2, (box.bottom + box.top) / 2)
            text = self.words.flow(abs(flow))
            items.append(Text(at, text, "figure halo", SMALL, shift=(0.0, -0.85)))
        one, other = place.door.between if flow > 0 else place.door.between[::-1]
        says = f"{self.words.flow(abs(flow))} from {one} to {other}"
        yield Group(tuple(items), says, classes="air")

    # --- the head of the sheet

    def _head(self) -> Iterator[Item]:
        left, _, right, back = self.plan.box
        lines = 3 if self.hour else 1
        top = back + (REACH + lines * LINE + 2.0) * self.mm
        yield Text(
            (left, top), f"Storey {self.plan.storey}", "title", 3.2, "start", shift=(-8.0, 1.0)
        )
        yield Group(tuple(self._rose((right, top + 2.0 * self.mm))), "north", classes="rose")
        if self.hour is not None:
            yield Text((right, top), self._weather(), "note", SMALL, "end", shift=(-6.4, 0.4))

    def _weather(self) -> str:
        assert self.hour is not None
        values = self.hour.values
        outdoors = units.format_temperature(values["outdoors_c"], self.system)
        return f"outdoors {outdoors}, {wind_words(values, self.system)}"

    def _rose(self, at: Point) -> Iterator[Item]:
        """A circle with north, and the wind as an arrow that flies over it."""
        radius = 3.4
        nx, ny = self.plan.towards(0.0)
        yield Arc(at, radius * self.mm, "fine-outline")
        tip = moved(at, (nx, ny), radius * self.mm)
        yield Line(moved(at, (nx, ny), (radius - 1.2) * self.mm), tip, "outline")
        x, y = moved(at, (nx, ny), (radius + 1.7) * self.mm)
        yield Text((x, y), "N", "figure", SMALL, shift=(0.0, -0.75))
        if self.hour is not None and self.hour.values["wind_m_s"] > CALM:
            fx, fy = self.plan.towards(self.hour.values["wind_from_deg"])
            yield from arrow(at, (-fx, -fy), 5.6, 0.7, self.mm, "pencil-fill")

    # --- in words

    def describe(self) -> str:
        rooms = ", ".join(self.plan.rooms)
        if self.hour is None:
            return f"Rooms: {rooms}."
        said = [self._weather().capitalize() + "."]
        warmths = [
            f"{key} {units.format_temperature(row['operative_c'], self.system)}"
            for key, row in self.hour.rooms.items()
            if key in self.plan.rooms
        ]
        said.append(f"{', '.join(warmths)}.")
        for place in self.plan.windows:
            air = self.hour.window(place.window.number)
            if self.hour.tells(max(air.forth, air.back)):
                said.append(
                    f"Window {place.window.number}: {self.words.flow(air.forth)} in, "
                    f"{self.words.flow(air.back)} out."
                )
        return " ".join(said)
