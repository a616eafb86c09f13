"""Every plan through all the days that windows are for: what each is worth, season by season."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sashwright.chapters.breathe.judge import Judged, Score, judge, moves_a_day, score
from sashwright.chapters.breathe.plans import Household, OpeningPlan
from sashwright.chapters.breathe.search import KELVIN_COST, MOVE_COST
from sashwright.chapters.breathe.seasons import PART_OF_HOUR, PARTS, SeasonName
from sashwright.chapters.building import Scenario

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]
Whole = NDArray[np.int64]

START = 20.0
"""Of the house before the lead days [°C]."""


@dataclass(frozen=True, slots=True, eq=False)
class Felt:
    """What is kept of a course, half of it, for pictures of any hour; n hours, R rooms."""

    air: Array
    """(n, R) [°C]"""
    operative: Array
    """(n, R) [°C]"""
    fresh: Array
    """Air from outdoors, (n, R) [kg/s]."""
    forth: Array
    """Flow of each link from its start to its end, (n, links) [kg/s]."""
    back: Array
    """And the other way."""


@dataclass(frozen=True)
class Lived:
    """A plan followed through the seasons."""

    household: Household
    plan: OpeningPlan
    scenario: Scenario
    felt: Felt
    judged: Judged

    @property
    def at(self) -> Whole:
        return self.judged.at

    @cached_property
    def counted(self) -> Mask:
        """Hours that are not lead and within what the standard speaks of, (n,)."""
        calendar = self.household.calendar
        mask: Mask = (calendar.open_hours & calendar.judged)[self.at]
        return mask

    def in_season(self, name: SeasonName) -> Mask:
        season = next(s for s in self.household.calendar.seasons if s.name == name)
        mask: Mask = self.counted & season.hours[self.at]
        return mask

    @cached_property
    def score(self) -> Score:
        return score(self.judged, self.counted)

    @cached_property
    def by_season(self) -> Mapping[SeasonName, Score]:
        names = [season.name for season in self.household.calendar.seasons]
        return {name: score(self.judged, self.in_season(name)) for name in names}

    def moves(self, mask: Mask) -> float:
        return moves_a_day(self.scenario, self.at, mask)

    def cost(self, name: SeasonName) -> float:
        """As the search reckons it, by all days of the season."""
        mine = self.by_season[name]
        if not mine.hours:
            return 0.0
        out = 1 - mine.share
        kelvins = KELVIN_COST * (mine.over_kh + mine.under_kh) / mine.hours
        return out + kelvins + MOVE_COST * self.moves(self.in_season(name))

    def air_changes(self, mask: Mask) -> float:
        """Outdoor air into the heated rooms, mean of some hours [1/h]."""
        if not mask.any():
            return 0.0
        volume = self.household.building.plan.heated_volume
        return float(self.judged.fresh[mask].mean() * 3600 / volume)

    def values(self) -> dict[str, Any]:
        """For people and pictures."""
        return {
            "name": self.plan.name,
            "limited": self.plan.limited,
            **self._figures(self.score, self.counted),
            "seasons": {
                name: self._figures(mine, self.in_season(name))
                for name, mine in self.by_season.items()
            },
        }

    def _figures(self, mine: Score, mask: Mask) -> dict[str, Any]:
        hours = max(mine.hours, 1e-9)
        parts = PART_OF_HOUR[self.at]
        return {
            "occupied_room_hours": mine.hours,
            "comfortable_room_hours": mine.comfortable,
            "overheated_room_hours": mine.hot,
            "cold_room_hours": mine.cold,
            "comfortable_share": mine.comfortable / hours,
            "comfortable_share_en": mine.en_comfortable / hours,
            "overheated_share": mine.hot / hours,
            "cold_share": mine.cold / hours,
            "overheated_kelvin_hours": mine.over_kh,
            "moves_per_day": self.moves(mask),
            "air_changes_h": self.air_changes(mask),
            "air_changes_by_part_h": {
                part: self.air_changes(mask & (parts == number))
                for number, part in enumerate(PARTS)
            },
        }


def live(household: Household, plan: OpeningPlan) -> Lived:
    """A plan through all seasons, with a week before each stretch of them."""
    at = household.calendar.followed()
    scenario = household.scenario(plan)
    found = household.building.course(scenario, at, start=START, warm_up=0)
    course = found.course
    judged = judge(household, found, at)
    felt = Felt(course.air, judged.operative, course.flows.fresh, found.forth, found.back)
    return Lived(household, plan, scenario, felt, judged)
