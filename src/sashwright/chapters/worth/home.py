"""The house as one heated zone, with all that no alternative changes worked out once.

Walls, floors, windows and their air are those of :mod:`sashwright.chapters.building`; all heated rooms are
one here, all unheated ones (attic, roof space) another. What differs from one alternative to the next is
then a conductance of the windows, a flow of air and a gain of the sun.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from sashwright.chapters.building import Building, Glazed
from sashwright.chapters.building.envelope import Behind, pane
from sashwright.chapters.seal.house import Exchange, exchange_of, weather_of
from sashwright.physics.hourly_year import HourlyYear
from sashwright.physics.house_heat.elements import FURNITURE, Element, Room
from sashwright.physics.psychrometrics import air_density
from sashwright.physics.sunlight import OnPlane, Sky, on_plane, sky_of
from sashwright.window.spec import House

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

USUAL_GAINS = 3.0
"""Of people, lamps and appliances by heated floor, where the rooms say nothing [W/m2]; usual for dwellings,
ISO 13790 (from memory)."""
INDOORS = 20.0
"""At which the density of the air in the rooms is taken [°C]."""
_WINDOWS = Behind("plane", 0.0, 90.0, 0.0)
HEATED, COLD = 0, 1
"""The two zones."""


@dataclass(frozen=True)
class Home:
    """A house, its windows and its weather, ready to be followed through the year."""

    building: Building

    @property
    def house(self) -> House:
        return self.building.house

    @property
    def year(self) -> HourlyYear:
        return self.building.year

    @property
    def windows(self) -> tuple[Glazed, ...]:
        return self.building.windows

    @cached_property
    def warm(self) -> tuple[bool, ...]:
        """Whether each window's room is heated."""
        plan = self.building.plan
        return tuple(plan.zone(each.zone).heated for each in self.windows)

    @property
    def winter(self) -> Mask:
        """Hours in which storms hang that come off for summer, (8760,)."""
        return self.building.storms_on

    # --- what it is made of

    @cached_property
    def rooms(self) -> tuple[Room, ...]:
        """The heated zone, and the other where there is one."""
        zones, plan = self.building.zones, self.building.plan
        heated = Room(plan.heated_volume, FURNITURE * plan.heated_floor)
        others = [zone for zone in zones if not zone.heated]
        if not others:
            return (heated,)
        volume, area = sum(z.volume for z in others), sum(z.area for z in others)
        return heated, Room(volume, FURNITURE * area)

    @cached_property
    def elements(self) -> tuple[Element, ...]:
        """All but the windows."""
        at = [HEATED if zone.heated else COLD for zone in self.building.zones]
        return _together(_moved(part.element, at) for part in self.building.opaque)

    @cached_property
    def window_column(self) -> int:
        """Of the weather, behind the windows."""
        _ = self.elements
        return self.building.exposures.column(_WINDOWS)

    @cached_property
    def sky(self) -> Sky:
        return sky_of(self.year)

    @cached_property
    def beyond(self) -> Array:
        """Temperature behind each exposure, (8760, columns) [°C]."""
        _ = self.window_column
        return self.building.exposures.temperatures(self.year, self.sky)

    @cached_property
    def _planes(self) -> dict[float, OnPlane]:
        return {}

    def on(self, faces: float) -> OnPlane:
        """Sun on a wall; worked out once for each bearing."""
        if faces not in self._planes:
            self._planes[faces] = on_plane(self.sky, faces)
        return self._planes[faces]

    def window_element(self, area: float, u: float, room: int) -> Element:
        """All windows of a zone as one."""
        return Element(area, pane(u), room, self.window_column)

    @cached_property
    def gains(self) -> float:
        """Of people, lamps and appliances in the heated rooms, as a mean [W]."""
        said = float(self.building.gains[:, self.building.heated].sum(axis=1).mean())
        return said if said > 0 else USUAL_GAINS * self.building.plan.heated_floor

    # --- air

    @cached_property
    def exchange(self) -> Exchange:
        """How wind and warmth drive air through the house, hour by hour."""
        weather = weather_of(self.year, None)
        assert weather is not None
        return exchange_of(self.house, [each.sealed for each in self.windows], weather)

    @property
    def rest_at_4(self) -> float:
        """Of the heated rooms but for their windows [m3/s]."""
        return self.building.air_side.background

    @property
    def tested(self) -> bool:
        """Whether a fan test says how leaky the house is."""
        return self.building.air_side.tested

    @cached_property
    def density(self) -> float:
        """Of the air in the rooms [kg/m3]."""
        return float(air_density(INDOORS, 0.0, float(self.year.pressure.mean())))


def _moved(element: Element, at: list[int]) -> Element:
    other = None if element.other_room is None else at[element.other_room]
    return replace(element, room=at[element.room], other_room=other)


def _together(elements: Iterable[Element]) -> tuple[Element, ...]:
    """Elements that are alike but for their area as one."""
    found: dict[tuple[object, ...], Element] = {}
    for each in elements:
        chain = each.chain.resistances.tobytes(), each.chain.capacities.tobytes()
        place = each.room, each.exposure, each.other_room, each.sun_inside, each.sun_outside
        like = (*chain, *place, each.inside, each.outside)
        first = found.get(like)
        found[like] = each if first is None else replace(first, area=first.area + each.area)
    return tuple(found.values())
