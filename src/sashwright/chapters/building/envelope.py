"""The opaque parts of a house: walls, ceilings, floors, partitions and roofs as rows of nodes.

U and capacity are rows of the fabric table. Behind each outer face lies one column of the weather, named by
its :class:`Behind`.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sashwright.chapters.building.rooms import Edge, Plan, Zone, edge_at
from sashwright.knowledge.tables import Knowledge
from sashwright.physics.hourly_year import HourlyYear
from sashwright.physics.house_heat.elements import (
    DOWNWARD,
    LEVEL,
    OUTSIDE,
    UPWARD,
    Chain,
    Element,
    Film,
    between_faces,
    five_nodes,
    massless,
)
from sashwright.physics.house_heat.outside import behind_face, ground, sees_sky
from sashwright.physics.sunlight import Sky, on_plane
from sashwright.window.spec import House

Array = NDArray[np.float64]

OVER_CRAWL_SPACE = "floor-boards"
"""The row of the fabric table whose floor has outdoor air under it; all others have ground or a cellar."""
GROUND_DEPTH = 1.0
"""At which the ground's warmth through the year stands for what lies under a floor [m]; judgement."""
BETWEEN_STOREYS = (0.35, 45_000.0)
"""Resistance from face to face [m2 K/W] and capacity [J/(m2 K)] of boards, joists and plaster between two
rooms; usual values, from memory."""
PARTITION = (0.35, 50_000.0)
"""The same of lath and plaster on both sides of studs."""
ROOF_SLOPE = 35.0
"""Of a roof nobody measured [degrees]; judgement."""
ROOF_ABSORBS = 0.85
"""Of shingles or slate for the sun [-]; usual for dark roofs, from memory."""
LEAST_RESISTANCE = 0.002
"""From face to face, of what the films alone nearly make up [m2 K/W]."""


@dataclass(frozen=True, slots=True)
class Behind:
    """What lies behind outer faces: a plane in sun and wind, or the ``ground``."""

    kind: str = "plane"
    faces: float = 0.0
    tilt: float = 90.0
    absorbs: float = 0.0


AIR = Behind("air")
GROUND = Behind("ground")


@dataclass(frozen=True, slots=True)
class Opaque:
    """An opaque element and what it is, for values and working. ``behind`` is None between two zones."""

    what: str
    zone: str
    row: str
    element: Element
    behind: Behind | None


@dataclass(frozen=True, slots=True)
class Hole:
    """What windows take out of the walls: ``zone``, where they face, area with the frame [m2]."""

    zone: str
    faces: float
    area: float


class Exposures:
    """Columns of the weather, each once."""

    def __init__(self) -> None:
        self.list: list[Behind] = []

    def column(self, behind: Behind) -> int:
        if behind not in self.list:
            self.list.append(behind)
        return self.list.index(behind)

    def temperatures(self, year: HourlyYear, sky: Sky) -> Array:
        """(8760, columns) [°C]"""
        return np.column_stack([_temperature(behind, year, sky) for behind in self.list])


def _temperature(behind: Behind, year: HourlyYear, sky: Sky) -> Array:
    if behind.kind == "air":
        return year.temperature
    if behind.kind == "ground":
        return ground(year.temperature, GROUND_DEPTH)
    sun = on_plane(sky, behind.faces, behind.tilt).total if behind.absorbs > 0 else 0.0
    return behind_face(year.temperature, sun, absorptance=behind.absorbs, sky=sees_sky(behind.tilt))


def opaque(
    house: House,
    plan: Plan,
    holes: Iterable[Hole],
    exposures: Exposures,
    knowledge: Knowledge,
    front: float,
) -> list[Opaque]:
    """All opaque elements of a house. Raises ``KnowledgeError`` for an unknown row of the fabric table."""
    maker = _Maker(house, plan, exposures, knowledge, front)
    return [*maker.walls(list(holes)), *maker.levels(), *maker.partitions()]


@dataclass(frozen=True)
class _Maker:
    house: House
    plan: Plan
    exposures: Exposures
    knowledge: Knowledge
    front: float

    def _chain(self, key: str, inside: Film, outside: Film, mass: str = "inside") -> Chain:
        row = self.knowledge.find("fabric", key)
        resistance = between_faces_or_least(row.u_value, inside, outside)
        return five_nodes(resistance, row.capacity, mass)  # type: ignore[arg-type]

    def walls(self, holes: list[Hole]) -> Iterator[Opaque]:
        """Outside walls less their windows."""
        index, fabric = self.plan.index, self.house.fabric
        taken: dict[tuple[str, float], float] = {}
        for hole in holes:
            edge = edge_at(self.plan.zone(hole.zone), hole.faces)
            if edge is not None:
                at = (hole.zone, edge.faces)
                taken[at] = taken.get(at, 0.0) + hole.area
        for zone in self.plan.zones:
            for edge in zone.edges:
                area = _gross(zone, edge) - taken.get((zone.key, edge.faces), 0.0)
                if area <= 0.01:
                    continue
                key = fabric.wall if zone.heated else fabric.roof
                behind = Behind("plane", edge.faces, 90.0, fabric.absorbs)
                chain = self._chain(key, LEVEL, OUTSIDE)
                element = Element(area, chain, index[zone.key], self.exposures.column(behind))
                yield Opaque("wall", zone.key, key, element, behind)

    def levels(self) -> Iterator[Opaque]:
        """Floors, ceilings and roofs."""
        for zone in self.plan.zones:
            yield from self._under(zone)
            if not zone.heated and not self._has_above(zone):
                yield from self._roof(zone)
        for (low, high), area in self.plan.over.items():
            yield self._between(self.plan.zone(low), self.plan.zone(high), area)

    def _has_above(self, zone: Zone) -> bool:
        return any(low == zone.key for low, _ in self.plan.over)

    def _under(self, zone: Zone) -> Iterator[Opaque]:
        """The floor, as far as no zone lies under it: on the ground, or over outdoors upstairs."""
        held = sum(area for (_, high), area in self.plan.over.items() if high == zone.key)
        area = zone.area - held
        if area < 0.05 * zone.area:
            return
        key = self.house.fabric.floor
        lowest = zone.storey <= min(each.storey for each in self.plan.zones)
        behind = GROUND if lowest and key != OVER_CRAWL_SPACE else AIR
        chain = self._chain(key, DOWNWARD, OUTSIDE)
        element = Element(
            area,
            chain,
            self.plan.index[zone.key],
            self.exposures.column(behind),
            inside=DOWNWARD,
            sun_inside=True,
        )
        yield Opaque("floor", zone.key, key, element, behind)

    def _roof(self, zone: Zone) -> Iterator[Opaque]:
        """Two slopes, to the front and to the back."""
        slope = self.house.site.roof_slope
        tilt = ROOF_SLOPE if slope is None else slope
        area = zone.area / 2 / math.cos(math.radians(min(tilt, 70.0)))
        key = self.house.fabric.roof
        for faces in (self.front, (self.front + 180) % 360):
            behind = Behind("plane", faces, tilt, ROOF_ABSORBS)
            chain = self._chain(key, UPWARD, OUTSIDE)
            element = Element(
                area,
                chain,
                self.plan.index[zone.key],
                self.exposures.column(behind),
                inside=UPWARD,
            )
            yield Opaque("roof", zone.key, key, element, behind)

    def _between(self, low: Zone, high: Zone, area: float) -> Opaque:
        """Floor of the zone above, ceiling of that below."""
        index = self.plan.index
        if low.heated and not high.heated:
            key = self.house.fabric.ceiling
            chain = self._chain(key, UPWARD, DOWNWARD)
            element = Element(
                area, chain, index[low.key], other_room=index[high.key],
                inside=UPWARD, outside=DOWNWARD, sun_outside=True,
            )  # fmt: skip
            return Opaque("ceiling", low.key, key, element, None)
        resistance, capacity = BETWEEN_STOREYS
        element = Element(
            area, five_nodes(resistance, capacity, "both"), index[high.key],
            other_room=index[low.key], inside=DOWNWARD, outside=UPWARD, sun_inside=True,
        )  # fmt: skip
        return Opaque("floor between", high.key, "", element, None)

    def partitions(self) -> Iterator[Opaque]:
        index = self.plan.index
        for (one, other), length in self.plan.beside.items():
            height = min(self.plan.zone(one).height, self.plan.zone(other).height)
            resistance, capacity = PARTITION
            element = Element(
                length * height,
                five_nodes(resistance, capacity, "both"),
                index[one],
                other_room=index[other],
                outside=LEVEL,
            )
            yield Opaque("partition", one, "", element, None)


def _gross(zone: Zone, edge: Edge) -> float:
    """A heated zone's wall with the floor under it; under a roof the slope takes half [m2]."""
    return edge.length * zone.height * (1.0 if zone.heated else 0.5)


def between_faces_or_least(u: float, inside: Film = LEVEL, outside: Film = OUTSIDE) -> float:
    """Resistance from face to face of a U [m2 K/W], where the films alone would resist more the least."""
    try:
        return max(between_faces(u, inside, outside), LEAST_RESISTANCE)
    except ValueError:
        return LEAST_RESISTANCE


def pane(u: float, covered: float = 0.0) -> Chain:
    """A window of a U [W/(m2 K)], with a covering's resistance [m2 K/W] on the room's side of it."""
    return massless(between_faces_or_least(u) + covered)


def areas(parts: Iterable[Opaque]) -> Mapping[str, float]:
    """Area of each kind of part [m2]."""
    found: dict[str, float] = {}
    for part in parts:
        found[part.what] = found.get(part.what, 0.0) + part.element.area
    return found
