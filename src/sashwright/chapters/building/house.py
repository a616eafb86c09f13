"""A house ready to be followed through a year: its rooms, walls, windows and air, for `physics.house_heat`.

A :class:`Building` is made once for a house and a year; a :class:`Scenario` says what people do with it, and
:meth:`Building.course` answers with temperatures, heat and air flows. Both chapters that follow a house
through the year, breathe and worth, build on it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sashwright.chapters.building.air import AirSide
from sashwright.chapters.building.envelope import AIR, Behind, Exposures, Hole, Opaque, opaque
from sashwright.chapters.building.glass import Glazed, WindowState
from sashwright.chapters.building.opened import fractions
from sashwright.chapters.building.openings import Opens
from sashwright.chapters.building.people import NIGHT, gains, occupied
from sashwright.chapters.building.rooms import Plan, Zone
from sashwright.chapters.building.scenario import HouseState, Scenario
from sashwright.chapters.season.calendar import Season, mean_day, season_of
from sashwright.knowledge.tables import Knowledge
from sashwright.physics.hourly_year import DAYS, HOURS, HourlyYear
from sashwright.physics.house_heat import (
    FURNITURE,
    GAINS_TO_AIR,
    WARM_UP,
    Air,
    Coupled,
    Element,
    Factors,
    Hours,
    Room,
    air,
    coupled,
    factors,
    hours,
    sun_in_room,
)
from sashwright.physics.house_heat import House as HeatHouse
from sashwright.physics.sunlight import OnPlane, on_plane, sky_of
from sashwright.window.front import front_of
from sashwright.window.spec import House

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]
Whole64 = NDArray[np.int64]


@dataclass(frozen=True)
class Building:
    """A house, its rooms and all that heat and air need of it, for one year of weather."""

    house: House
    knowledge: Knowledge
    year: HourlyYear
    plan: Plan
    windows: tuple[Glazed, ...]
    wrong: Mapping[str, str]
    """Windows left out, and why."""

    # --- what it is made of

    @property
    def zones(self) -> tuple[Zone, ...]:
        return self.plan.zones

    @cached_property
    def exposures(self) -> Exposures:
        return Exposures()

    @cached_property
    def opaque(self) -> list[Opaque]:
        """Walls, floors, ceilings, roofs and partitions."""
        holes = [Hole(each.zone, each.faces, each.area) for each in self.windows]
        found = opaque(
            self.house, self.plan, holes, self.exposures, self.knowledge, front_of(self.house)
        )
        self.exposures.column(AIR)
        return found

    @cached_property
    def air_side(self) -> AirSide:
        return AirSide(self.house, self.plan, self.windows)

    @cached_property
    def by_number(self) -> dict[str, Glazed]:
        return {each.number: each for each in self.windows}

    @cached_property
    def heated(self) -> Mask:
        return np.array([zone.heated for zone in self.zones])

    @cached_property
    def season(self) -> Season | None:
        """Days between which storms hang, by the house's own limits."""
        found = mean_day(self.year, None)
        change = self.house.changeover
        return None if found is None else season_of(found[0], change.warm, change.cool, found[1])

    @cached_property
    def storms_on(self) -> Mask:
        """Hours in which what the record calls winter storms hang, (8760,): by the season chapter's weeks."""
        if self.season is None:
            return np.zeros(HOURS, dtype=bool)
        return np.repeat(self.season.hung, HOURS // DAYS)

    # --- states

    def state(self, name: str, choose: Callable[[Glazed], WindowState]) -> HouseState:
        """A state of the house from that of each window."""
        return HouseState(name, tuple((each.number, choose(each)) for each in self.windows))

    @cached_property
    def winter(self) -> HouseState:
        """Storms and panels as the record has them."""
        return self.state("winter", lambda g: WindowState(g.winter))

    @cached_property
    def winter_night(self) -> HouseState:
        """The same with what is drawn at night."""
        return self.state(
            "winter night", lambda g: WindowState(g.winter, False, g.covering[0] != "none")
        )

    @cached_property
    def summer(self) -> HouseState:
        """Storms off, screens on."""
        return self.state(
            "summer", lambda g: WindowState(g.summer, g.placed.family.screen.kind != "none")
        )

    @cached_property
    def summer_shaded(self) -> HouseState:
        """The same with what can be drawn or shut against the sun."""
        return self.state(
            "summer, shaded",
            lambda g: WindowState(
                g.summer, g.placed.family.screen.kind != "none", g.covering[0] != "none"
            ),
        )

    @property
    def usual_states(self) -> tuple[HouseState, ...]:
        """Winter, winter night, summer, summer shaded."""
        return (self.winter, self.winter_night, self.summer, self.summer_shaded)

    @cached_property
    def usual_state(self) -> Whole64:
        """Place in :attr:`usual_states` of each hour: storms by the changeover, coverings drawn at night."""
        return np.where(self.storms_on, np.where(NIGHT, 1, 0), 2).astype(np.int64)

    # --- heat

    def heat_house(self, state: HouseState) -> HeatHouse:
        """The house in one state as `physics.house_heat` wants it."""
        index = self.plan.index
        elements = [part.element for part in self.opaque]
        for glazed in self.windows:
            behind = Behind("plane", glazed.faces, 90.0, 0.0)
            chain = glazed.chain(state.of(glazed.number))
            column = self.exposures.column(behind)
            elements.append(Element(glazed.area, chain, index[glazed.zone], column))
        rooms = tuple(Room(zone.volume, FURNITURE * zone.area) for zone in self.zones)
        return HeatHouse(rooms, tuple(elements))

    @cached_property
    def _factors(self) -> dict[tuple[HouseState, ...], Factors]:
        return {}

    def factors(self, states: Sequence[HouseState]) -> Factors:
        """Arrays of the house in these states; kept."""
        key = tuple(states)
        if key not in self._factors:
            self._factors[key] = factors([self.heat_house(state) for state in key])
        return self._factors[key]

    @cached_property
    def _sky(self) -> dict[float, OnPlane]:
        sky = sky_of(self.year)
        return {faces: on_plane(sky, faces) for faces in {each.faces for each in self.windows}}

    @cached_property
    def beyond(self) -> Array:
        """Temperature behind each exposure, (8760, columns) [°C]."""
        return self.exposures.temperatures(self.year, sky_of(self.year))

    @cached_property
    def sun_shares(self) -> Array:
        """On the floor, and on all faces, of the sun in each zone, (R, 2)."""
        index = self.plan.index
        faces, glass = np.zeros(len(self.zones)), np.zeros(len(self.zones))
        for part in self.opaque:
            for room in (part.element.room, part.element.other_room):
                if room is not None:
                    faces[room] += part.element.area
        for each in self.windows:
            faces[index[each.zone]] += each.area
            glass[index[each.zone]] += sum(each.glass("prime").values())
        found = [sun_in_room(g, f) for g, f in zip(glass, faces, strict=True)]
        return np.array([(each.floor, each.faces) for each in found])

    def sun(self, state: HouseState) -> Array:
        """What comes in through the windows of each zone in a state, (8760, R) [W]."""
        if state not in self._suns:
            index, found = self.plan.index, np.zeros((HOURS, len(self.zones)))
            for each in self.windows:
                found[:, index[each.zone]] += each.sun(state.of(each.number), self._sky[each.faces])
            self._suns[state] = found
        return self._suns[state]

    @cached_property
    def _suns(self) -> dict[HouseState, Array]:
        return {}

    @cached_property
    def occupied(self) -> Array:
        """Whether somebody is in each zone in each hour, (8760, R): 1 or 0."""
        return occupied(self.zones)

    @cached_property
    def gains(self) -> Array:
        """Of people and appliances, (8760, R) [W]: means of a day, people's in the hours they are there."""
        return gains(self.zones, self.occupied)

    def hours(self, scenario: Scenario, at: Whole64 | None = None) -> Hours:
        """What happens to the house in the year, or in the hours ``at`` of it."""
        f = self.factors(scenario.states)
        where = np.arange(HOURS) if at is None else at
        state = np.broadcast_to(np.asarray(scenario.state, dtype=np.int64), (HOURS,))[where]
        sun = np.zeros((len(where), len(self.zones)))
        for number, each in enumerate(scenario.states):
            mine = state == number
            if mine.any():
                sun[mine] = self.sun(each)[where[mine]]
        gains = self.gains[where]
        return hours(
            f,
            self.year.temperature[where],
            self.beyond[where],
            convective=GAINS_TO_AIR * gains,
            radiant=(1 - GAINS_TO_AIR) * gains + self.sun_shares[:, 1] * sun,
            sun=self.sun_shares[:, 0] * sun,
            heat_to=self._set(scenario.heat_to, where, -np.inf),
            cool_to=self._set(scenario.cool_to, where, np.inf),
            state=state,
        )

    def _set(self, point: ArrayLike, where: Whole64, none: float) -> Array:
        values = np.asarray(point, dtype=np.float64)
        each = values[where] if values.ndim else np.full(len(where), float(values))
        return np.where(self.heated, each[:, None], none)

    # --- air

    @cached_property
    def opens(self) -> dict[str, Opens]:
        """What each window can open, by its number."""
        return {each.number: Opens(each.placed) for each in self.windows}

    @cached_property
    def wind(self) -> Array:
        """Pressure on each face of the network, (8760, faces) [Pa]."""
        return self.air_side.wind(self.year)

    def fractions(self, scenario: Scenario, at: Whole64 | None = None) -> Array:
        """How much of each link is open, (hours, links)."""
        where = np.arange(HOURS) if at is None else at
        return fractions(self.air_side, self.opens, scenario, where)

    def moved(self, fractions: Array, at: Whole64 | None = None) -> Air:
        """What moves the air in these hours, with so much of each link open."""
        where = np.arange(HOURS) if at is None else at
        network = self.air_side.network
        return air(
            network.arrays(),
            network.levels(),
            len(where),
            wind=self.wind[where],
            fraction=fractions,
            pressure=self.year.pressure[where],
        )

    def course(
        self,
        scenario: Scenario,
        at: Whole64 | None = None,
        *,
        start: float = 20.0,
        warm_up: int = WARM_UP,
    ) -> Coupled:
        """The house through the year, or through the hours ``at`` of it as if they followed on each other.

        Parameters
        ----------
        scenario : Scenario
            What people do.
        at : array, optional
            Numbers of the hours, 0 to 8759.
        start, warm_up
            As :func:`~sashwright.physics.house_heat.coupled.coupled` takes them.
        """
        during = self.hours(scenario, at)
        return coupled(
            self.factors(scenario.states),
            during,
            self.moved(self.fractions(scenario, at), at),
            start=float(start),
            warm_up=int(warm_up),
        )

    def shut(self) -> Scenario:
        """All windows shut through the year, storms by the changeover, the rooms heated as the house says."""
        return Scenario(
            self.usual_states, self.usual_state, heat_to=self.house.heated_to,
            cool_to=np.inf if self.house.cooled_to is None else self.house.cooled_to,
        )  # fmt: skip
