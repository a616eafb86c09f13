"""A plan of how windows stand by season and part of the day, and what it means hour by hour.

Windows are set in groups: those of one wall and storey move alike. All plans shut a window in hours colder
outdoors than its season's ``shut_below``, and open none on days that do not get as warm as ``warm_from``.
Both are what a household can see on a thermometer before the door, or hear in the forecast.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sashwright.chapters.breathe.limits import SIDES, Limits
from sashwright.chapters.breathe.seasons import (
    PART_OF_HOUR,
    PARTS,
    Calendar,
    PartName,
    SeasonName,
    SeasonOf,
)
from sashwright.chapters.building import Building, Scenario
from sashwright.chapters.building.rooms import apart
from sashwright.physics.hourly_year import HOURS
from sashwright.units import INCH
from sashwright.window.layout import Which

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

FULL = 9.0
"""More than any sash moves: as far as it goes [m]."""
LEVELS = (0.0, 4 * INCH, 8 * INCH, FULL)
"""How far sash are moved [m]: what a household can follow."""
SHUT_BELOW = 12.0
"""Outdoors; colder than that nobody leaves windows open [°C]; judgement."""
WARM_FROM = 22.0
"""What a day must reach outdoors for windows to be opened for comfort [°C]; judgement."""
SUMMER, SHADED = 2, 3
"""Places among the building's usual states."""


@dataclass(frozen=True, slots=True, order=True)
class Group:
    """Sash that move together: ``wall``, ``storey`` and which sash."""

    wall: str
    storey: int
    which: Which


@dataclass(frozen=True)
class SeasonPlan:
    """One season: how far each group stands open in each part of the day [m], doors, coverings.

    What is not named stays shut. ``doors`` opens all inside doors between heated rooms, else they stand as
    usual; ``attic`` opens those to rooms that are not heated, evening to morning; ``shaded`` shuts coverings
    by day.
    """

    settings: Mapping[tuple[Group, PartName], float] = field(default_factory=dict)
    doors: bool = False
    attic: bool = False
    shaded: bool = False
    shut_below: float = SHUT_BELOW
    warm_from: float = WARM_FROM

    def at(self, group: Group, part: PartName) -> float:
        return self.settings.get((group, part), 0.0)

    def with_setting(self, group: Group, part: PartName, level: float) -> SeasonPlan:
        return replace(self, settings={**self.settings, (group, part): level})


@dataclass(frozen=True)
class OpeningPlan:
    """A plan for the year. ``limited`` says whether falls, burglars and rain hold its sash."""

    name: str
    seasons: Mapping[SeasonName, SeasonPlan]
    limited: bool = True


@dataclass(frozen=True)
class Household:
    """A house, its calendar and limits: makes scenarios of plans."""

    building: Building
    calendar: Calendar
    limits: Limits

    @cached_property
    def groups(self) -> dict[Group, list[str]]:
        """Numbers of the windows whose sash can move, by group."""
        found: dict[Group, list[str]] = {}
        for glazed in self.building.windows:
            window = glazed.placed.window
            for which in SIDES:
                if self.limits.travel(glazed.number, which) > 0.01:
                    group = Group(window.wall, window.storey, which)
                    found.setdefault(group, []).append(glazed.number)
        return found

    def pair(
        self, number: str, part: PartName, levels: tuple[float, float], limited: bool
    ) -> tuple[float, float]:
        """How far the upper and the lower sash of a window are moved for two levels [m].

        Together no further than the limits let them: the wider one gives way, or both alike.
        """
        upper, lower = (
            min(level, self._most(number, which, part, limited))
            for which, level in zip(SIDES, levels, strict=True)
        )
        span = self.limits.together(number, part, limited=limited)
        if upper == 0 or lower == 0 or upper + lower <= span:
            return upper, lower
        if min(upper, lower) > span / 2:
            return span / 2, span / 2
        return (span - lower, lower) if upper > lower else (upper, span - upper)

    def _most(self, number: str, which: Which, part: PartName, limited: bool) -> float:
        if limited:
            return self.limits.all[number, which, part].most
        return self.limits.travel(number, which)

    def positions(
        self, plan: SeasonPlan, part: PartName, limited: bool
    ) -> dict[str, tuple[float, float]]:
        """Of both sash of every window that is not shut, by its number [m]."""
        found = {}
        for number in self.limits.building.by_number:
            levels = self._levels(plan, number, part)
            if any(levels):
                pair = self.pair(number, part, levels, limited)
                if any(pair):
                    found[number] = pair
        return found

    def _levels(self, plan: SeasonPlan, number: str, part: PartName) -> tuple[float, float]:
        window = self.building.by_number[number].placed.window
        upper, lower = (plan.at(Group(window.wall, window.storey, which), part) for which in SIDES)
        return upper, lower

    @cached_property
    def _free(self) -> Mask:
        """Hours without storms, (8760,)."""
        return ~self.building.storms_on

    def scenario(self, plan: OpeningPlan) -> Scenario:
        """What the plan means in each hour of the year."""
        building, calendar = self.building, self.calendar
        lowered: dict[str, Array] = {}
        raised: dict[str, Array] = {}
        doors: dict[int, ArrayLike] = {}
        state = building.usual_state.copy()
        for season in calendar.seasons:
            mine = plan.seasons.get(season.name, SeasonPlan())
            warm = season.hours & (building.year.temperature >= mine.shut_below)
            warm &= calendar.high >= mine.warm_from
            for at_part, part in enumerate(PARTS):
                now = warm & (at_part == PART_OF_HOUR)
                for number, pair in self.positions(mine, part, plan.limited).items():
                    where = now if building.opens[number].opens_in_winter else now & self._free
                    for into, far in zip((lowered, raised), pair, strict=True):
                        if far > 0:
                            into.setdefault(number, np.zeros(HOURS))[where] = far
            if mine.shaded:
                sunny = season.hours & self._free & (calendar.high >= mine.warm_from)
                state[sunny & (PART_OF_HOUR == 1)] = SHADED
            for at, open_ in self._doors(season, mine):
                doors[at] = np.where(season.hours, open_, doors.get(at, self._usual(at)))
        return Scenario(
            building.usual_states,
            state,
            lowered,
            raised,
            doors,
            heat_to=np.where(calendar.heating, building.house.heated_to, -np.inf),
        )

    def _usual(self, at: int) -> float:
        return float(self.building.plan.doors[at].usual == "open")

    def _doors(self, season: SeasonOf, plan: SeasonPlan) -> Iterator[tuple[int, Array | float]]:
        for at, door in enumerate(self.building.plan.doors):
            if not door.shuts:
                continue
            if self.to_attic(at):
                if plan.attic:
                    yield at, np.where(PART_OF_HOUR != 1, 1.0, self._usual(at))
            elif plan.doors:
                yield at, 1.0

    def to_attic(self, at: int) -> bool:
        """Whether a door leads to a room that is not heated."""
        zones = self.building.plan
        return not all(zones.zone(key).heated for key in zones.doors[at].between)

    @property
    def has_attic_door(self) -> bool:
        doors = self.building.plan.doors
        return any(door.shuts and self.to_attic(at) for at, door in enumerate(doors))

    @property
    def has_coverings(self) -> bool:
        return any(glazed.covering[0] != "none" for glazed in self.building.windows)

    # --- the plans that everybody knows

    def _each(self, name: str, make: SeasonPlan, *, limited: bool) -> OpeningPlan:
        return OpeningPlan(name, {s.name: make for s in self.calendar.seasons}, limited)

    @cached_property
    def shut(self) -> OpeningPlan:
        return self._each("all shut", SeasonPlan(), limited=True)

    @cached_property
    def lower_only(self) -> OpeningPlan:
        """Every lower sash up, day and night, nothing held back."""
        settings = {(g, part): FULL for g in self.groups if g.which == "lower" for part in PARTS}
        return self._each("lower sash up", SeasonPlan(settings), limited=False)

    @cached_property
    def all_open(self) -> OpeningPlan:
        """Both sash of every window as wide as they go together, all doors open, nothing held back."""
        settings = {(g, part): FULL for g in self.groups for part in PARTS}
        return self._each("everything open", SeasonPlan(settings, doors=True), limited=False)

    @cached_property
    def rule(self) -> OpeningPlan:
        """The old rule: upper sash down on the lee, lower sash up to windward; shut by day in the heat."""
        return OpeningPlan(
            "the old rule",
            {season.name: self.rule_for(season) for season in self.calendar.seasons},
        )

    def rule_for(self, season: SeasonOf) -> SeasonPlan:
        """By the season's usual wind; without one the front counts as windward."""
        parts = (
            ("morning", "evening", "night")
            if season.name == "hot"
            else ("morning", "day", "evening")
        )
        settings = {
            (group, part): FULL
            for group in self.groups
            for part in parts
            if group.which == ("lower" if group.wall in self.windward(season) else "upper")
        }
        shaded = season.name == "hot" and self.has_coverings
        return SeasonPlan(settings, shaded=shaded)  # type: ignore[arg-type]

    def windward(self, season: SeasonOf) -> list[str]:
        """Walls that the season's usual wind meets."""
        walls = self.building.house.walls
        from_ = self.calendar.wind_from(season)
        if from_ is None:
            from_ = next(iter(walls.values())).faces
        return [key for key, wall in walls.items() if apart(wall.faces, from_) < 90]
