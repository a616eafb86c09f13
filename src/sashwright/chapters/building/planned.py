"""The plan of a house: its rooms as drawn, or as assumed, under a roof space where nothing covers them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from sashwright.chapters.building.assumed import assumed
from sashwright.chapters.building.rooms import (
    FLOOR_THICKNESS,
    Edge,
    Plan,
    Zone,
    floors_of,
    some,
)
from sashwright.window.front import front_of
from sashwright.window.plan import bearing, outside_edges, overlap, shared_edge
from sashwright.window.spec import House

ROOF_SPACE = "roof space"
"""Name of the attic of a house that says nothing of it."""


def plan_of(house: House) -> Plan:
    """The zones of a house, with a roof space over what no room covers."""
    return _roofed(_drawn(house) if house.rooms else assumed(house))


def _drawn(house: House) -> Plan:
    rooms, front = house.rooms, front_of(house)
    floors = floors_of(house, {s: _height(house, s) for s in {r.storey for r in rooms.values()}})
    zones = []
    for key, room in rooms.items():
        joined: dict[float, float] = {}
        for stretch in outside_edges(key, rooms):
            faces = bearing(stretch.side, front)
            joined[faces] = joined.get(faces, 0.0) + stretch.length
        zones.append(
            Zone(
                key=key,
                storey=room.storey,
                floor=floors[room.storey],
                area=room.area,
                height=room.height,
                heated=room.heated,
                people=room.people,
                appliances=room.appliances,
                use=room.use,
                edges=tuple(Edge(*pair) for pair in joined.items()),
            )
        )
    names = list(rooms)
    over = {
        (low, high): overlap(rooms[low], rooms[high])
        for low in names
        for high in names
        if rooms[high].storey == rooms[low].storey + 1
    }
    beside = {
        (a, b): shared_edge(rooms[a], rooms[b]) for at, a in enumerate(names) for b in names[:at]
    }
    room_of, lost = {}, []
    for window in house.windows:
        if window.room in rooms:
            room_of[window.number] = window.room
        else:
            lost.append(window.number)
    said = (
        (f"Windows {', '.join(lost)} stand in no room of the plan and are left out.",)
        if lost
        else ()
    )
    return Plan(
        tuple(zones), house.doors, some(over), some(beside), room_of, said
    )  # fmt: skip


def _height(house: House, storey: int) -> float:
    return max(room.height for room in house.rooms.values() if room.storey == storey)


# --- the roof space -------------------------------------------------------------------


def _roofed(plan: Plan) -> Plan:
    """With an unheated zone over heated rooms that nothing covers."""
    bare = dict(_uncovered(plan))
    if not bare:
        return plan
    below = [plan.zone(key) for key in bare]
    area = sum(bare.values())
    top = max(below, key=lambda zone: zone.ceiling)
    # A pitched roof's mean height over its floor.
    height = max(0.15 * math.sqrt(area), 0.5)
    roof = Zone(
        key=ROOF_SPACE,
        storey=top.storey + 1,
        floor=top.ceiling + FLOOR_THICKNESS,
        area=area,
        height=height,
        heated=False,
        use="passing",
    )
    over = dict(plan.over) | {(key, ROOF_SPACE): size for key, size in bare.items()}
    return replace(plan, zones=(*plan.zones, roof), over=over)


def _uncovered(plan: Plan) -> Iterator[tuple[str, float]]:
    for zone in plan.zones:
        covered = sum(size for (low, _), size in plan.over.items() if low == zone.key)
        left = zone.area - covered
        if zone.heated and left > 0.05 * zone.area:
            yield zone.key, left
