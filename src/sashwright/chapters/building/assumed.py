"""Rooms of a house that has no plan, guessed from its windows.

One room for each room word of the windows on each storey, round a hall, with the floor that the house's
volume or its walls leave; each room has the walls that its windows stand in.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from sashwright.chapters.building.rooms import (
    FLOOR_THICKNESS,
    Edge,
    Plan,
    Use,
    Zone,
    apart,
    floors_of,
    some,
)
from sashwright.window.front import front_of
from sashwright.window.heights import STOREY
from sashwright.window.rooms import Door
from sashwright.window.spec import House, Wall, Window

ASSUMED_HEIGHT = STOREY - FLOOR_THICKNESS
"""Of a room nobody measured [m]."""
ASSUMED_ROOM = 14.0
"""Floor of a room where neither volume nor walls are known [m2]; judgement."""
HALL_SHARE = 0.15
"""Of a storey's floor that is hall, where no plan says so [-]; judgement."""
ATTIC_WORDS = ("attic", "loft", "garret", "roof")
NIGHT_WORDS = ("chamber", "bed", "nursery", "sleep")
PASSING_WORDS = ("hall", "stair", "bath", "pantry", "closet", "porch", "landing", *ATTIC_WORDS)
"""Words in the names of rooms that say who is in them, and when."""


def assumed(house: House) -> Plan:
    """The plan that the windows of a house let guess."""
    words: dict[tuple[int, str], list[Window]] = {}
    for window in house.windows:
        words.setdefault((window.storey, window.room or "room"), []).append(window)
    storeys = sorted({storey for storey, _ in words}) or [1]
    twice = {word for _, word in words if sum(w == word for _, w in words) > 1}
    floors = floors_of(house, dict.fromkeys(storeys, ASSUMED_HEIGHT))
    zones: list[Zone] = []
    doors: list[Door] = []
    room_of: dict[str, str] = {}
    beside: dict[tuple[str, str], float] = {}
    sizes = _storey_floor(house, [s for s, word in words if not _says(word, ATTIC_WORDS)])
    for storey in storeys:
        here = {word: ws for (s, word), ws in words.items() if s == storey}
        attic = all(_says(word, ATTIC_WORDS) for word in here) and bool(here)
        hall = f"hall of storey {storey}"
        floor = sizes if sizes is not None else ASSUMED_ROOM * max(len(here), 1) / (1 - HALL_SHARE)
        empty = Zone(key="", storey=storey, floor=floors[storey], area=0.0, height=ASSUMED_HEIGHT)
        shares = _shares(here)
        rooms = floor if attic else (1 - HALL_SHARE) * floor
        lengths = _wall_lengths(house, floor)
        edges = _assumed_edges(house, here, lengths)
        for word, windows in here.items():
            key = f"{word} of storey {storey}" if word in twice else word
            area = rooms * shares[word]
            zones.append(
                replace(
                    empty, key=key, area=area, heated=not attic, use=_use(word, windows),
                    edges=edges[word],
                )
            )  # fmt: skip
            room_of |= {window.number: key for window in windows}
            if not attic:
                doors.append(Door.model_construct(between=(hall, key)))
                beside[hall, key] = 2 * math.sqrt(area)
        if not attic:
            zones.append(
                replace(empty, key=hall, area=HALL_SHARE * floor, use="passing", edges=edges[""])
            )
            if any(zone.key == f"hall of storey {storey - 1}" for zone in zones):
                ends = (f"hall of storey {storey - 1}", hall)
                doors.append(
                    Door.model_construct(between=ends, kind="stair", width=1.0, height=3.0)
                )
    over = {
        (low.key, high.key): low.area * high.area / sum(z.area for z in zones if z.storey == high.storey)
        for low in zones
        for high in zones
        if high.storey == low.storey + 1
    }  # fmt: skip
    said = (
        "The house has no plan of its rooms: one room for each room word of its windows is assumed, round a "
        f"hall on each storey, with {sum(z.area for z in zones if z.heated):.0f} m2 of floor.",
    )
    return Plan(tuple(zones), tuple(doors), some(over), some(beside), room_of, said)


def _says(word: str, words: Sequence[str]) -> bool:
    return any(each in word.lower() for each in words)


def _use(word: str, windows: Sequence[Window]) -> Use:
    if _says(word, NIGHT_WORDS) or any(window.use.bedroom for window in windows):
        return "night"
    return "passing" if _says(word, PASSING_WORDS) else "day"


def _storey_floor(house: House, storeys: Sequence[int]) -> float | None:
    """Of each storey: by the volume of the house, else by two walls whose lengths are known [m2]."""
    count = max(len(set(storeys)), 1)
    if house.air.volume is not None:
        return house.air.volume / ASSUMED_HEIGHT / count
    front = front_of(house)
    along = [w.length for w in house.walls.values() if w.length and _along(w, front)]
    deep = [w.length for w in house.walls.values() if w.length and not _along(w, front)]
    return max(along) * max(deep) if along and deep else None


def _along(wall: Wall, front: float) -> bool:
    return apart(wall.faces, front) < 45 or apart(wall.faces, front) > 135


def _shares(here: Mapping[str, Sequence[Window]]) -> dict[str, float]:
    """Of the rooms' floor, by the breadth of their windows; at least half an even share."""
    wide = {word: sum(window.width for window in windows) for word, windows in here.items()}
    even = 1 / max(len(wide), 1)
    raw = {word: max(each / sum(wide.values()), even / 2) for word, each in wide.items()}
    return {word: each / sum(raw.values()) for word, each in raw.items()}


def _wall_lengths(house: House, floor: float) -> dict[str, float]:
    return {key: wall.length or math.sqrt(floor) for key, wall in house.walls.items()}


def _assumed_edges(
    house: House, here: Mapping[str, Sequence[Window]], lengths: Mapping[str, float]
) -> dict[str, tuple[Edge, ...]]:
    """Each wall is shared by the rooms that have windows in it; the hall, "", has those without."""
    found: dict[str, list[Edge]] = {word: [] for word in (*here, "")}
    for key, wall in house.walls.items():
        wide = {
            word: sum(window.width for window in windows if window.wall == key)
            for word, windows in here.items()
        }
        total = sum(wide.values())
        for word, each in wide.items():
            if each > 0:
                found[word].append(Edge(wall.faces, lengths[key] * each / total))
        if total == 0:
            found[""].append(Edge(wall.faces, lengths[key]))
    return {word: tuple(edges) for word, edges in found.items()}
