"""The rooms of a house as zones of warmth and air, and how they lie to each other."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from statistics import median
from typing import Literal

from sashwright.window.heights import FOUNDATION_RISE, STOREY
from sashwright.window.rooms import Door
from sashwright.window.spec import House

Use = Literal["day", "night", "passing"]

FLOOR_THICKNESS = 0.3
"""Of joists, boards and plaster between two storeys [m]; common practice."""
_FACING = 46.0


@dataclass(frozen=True, slots=True)
class Edge:
    """An outside wall of a zone: where it looks, from north by east [degrees], and its length [m]."""

    faces: float
    length: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Zone:
    """A room.

    ``floor`` is its height over the ground [m]; ``people`` and ``appliances`` [W] are means of a day.
    """

    key: str
    storey: int
    floor: float
    area: float
    height: float
    heated: bool = True
    people: float = 0.0
    appliances: float = 0.0
    use: Use = "day"
    edges: tuple[Edge, ...] = ()

    @property
    def volume(self) -> float:
        """[m3]"""
        return self.area * self.height

    @property
    def ceiling(self) -> float:
        """Height over the ground [m]."""
        return self.floor + self.height

    @property
    def middle(self) -> float:
        """Height over the ground [m]."""
        return self.floor + self.height / 2


@dataclass(frozen=True, slots=True)
class Plan:
    """Zones, the doors between them, and how they lie to each other.

    ``over`` has the floor that two zones share, the lower one first [m2]; ``beside`` the length of the
    partition between two [m]; ``assumed`` says in sentences what nobody measured.
    """

    zones: tuple[Zone, ...]
    doors: tuple[Door, ...]
    over: Mapping[tuple[str, str], float]
    beside: Mapping[tuple[str, str], float]
    room_of: Mapping[str, str]
    """Zone of each window, by its number; windows that stand in no room are left out."""
    assumed: tuple[str, ...] = ()

    @property
    def index(self) -> dict[str, int]:
        return {zone.key: at for at, zone in enumerate(self.zones)}

    def zone(self, key: str) -> Zone:
        return self.zones[self.index[key]]

    @property
    def heated_volume(self) -> float:
        """[m3]"""
        return sum(zone.volume for zone in self.zones if zone.heated)

    @property
    def heated_floor(self) -> float:
        """[m2]"""
        return sum(zone.area for zone in self.zones if zone.heated)


def apart(one: float, other: float) -> float:
    """Angle between two bearings, 0 to 180 [degrees]."""
    return abs((one - other + 180) % 360 - 180)


def edge_at(zone: Zone, faces: float) -> Edge | None:
    """The outside wall of a zone that looks that way; the longest where there are several."""
    found = [edge for edge in zone.edges if apart(edge.faces, faces) < _FACING]
    return max(found, key=lambda edge: edge.length, default=None)


def some(lengths: Mapping[tuple[str, str], float]) -> dict[tuple[str, str], float]:
    """Of lengths or areas between zones those that are more than nothing."""
    return {pair: length for pair, length in lengths.items() if length > 0.05}


def floors_of(house: House, heights: Mapping[int, float]) -> dict[int, float]:
    """Height of each storey's floor over the ground: by the sills of its windows, else stacked up [m]."""
    known: dict[int, list[float]] = {}
    for window in house.windows:
        if window.sill_above_floor is not None and window.sill_above_ground is not None:
            height = window.sill_above_ground - window.sill_above_floor
            known.setdefault(window.storey, []).append(height)
    found: dict[int, float] = {}
    for storey in sorted(heights):
        below = storey - 1
        if storey in known:
            found[storey] = median(known[storey])
        elif below in found:
            found[storey] = found[below] + heights[below] + FLOOR_THICKNESS
        else:
            found[storey] = FOUNDATION_RISE + STOREY * (storey - 1)
    return found
