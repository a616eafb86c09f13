"""The search for a plan: greedy, season by season, on days that stand for the season.

First the whole house moves alike in each part of the day, then wall by wall, sash by sash; a change stays
when it makes the season better by more than its own trouble. Nothing is left to chance, so the same
house always gets the same plan.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from functools import cached_property, partial

import numpy as np
from numpy.typing import NDArray

from sashwright.chapters.breathe.judge import judge, moves_a_day, score
from sashwright.chapters.breathe.plans import (
    FULL,
    LEVELS,
    Group,
    Household,
    OpeningPlan,
    SeasonPlan,
)
from sashwright.chapters.breathe.seasons import PARTS, PartName, SeasonOf

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]
Whole = NDArray[np.int64]
Change = Callable[[SeasonPlan], SeasonPlan | None]

HOUR_COST = 1.0e-6
"""Time of one hour of one link, on one core of a usual laptop [s]; measured here, sets how much is tried."""
MOVE_COST = 0.0005
"""Share of the occupied hours in comfort that one move of a sash a day must bring [-]; judgement: three
minutes of one room in a house of eight, for some ten seconds of work."""
KELVIN_COST = 0.1
"""Weight of a kelvin beyond the band, beside an hour out of it [1/K]; guides the search where no step brings
an hour into the band."""
OUTDOOR_LIMITS = (10.0, 14.0, 16.0, 18.0)
"""Outdoor temperatures below which windows are shut that the search tries [°C]."""
WARM_DAYS = (20.0, 24.0, 26.0, 28.0)
"""What a day must reach for windows to be opened, that the search tries [°C]."""
ORDER: tuple[PartName, ...] = ("night", "evening", "day", "morning")
LEAD_START = 21.0


@dataclass
class Search:
    """One season's search; ``budget`` is how many plans may be followed.

    With a plan to ``begin`` from, found under fewer limits, it looks about that one only.
    """

    household: Household
    season: SeasonOf
    budget: int
    begin: SeasonPlan | None = None
    tried: int = 0
    _known: dict[tuple[object, ...], float] = field(default_factory=dict)

    @cached_property
    def _sample(self) -> tuple[Whole, Mask]:
        return self.household.calendar.sample(self.season)

    def cost(self, plan: SeasonPlan) -> float:
        """Share of occupied hours out of comfort, kelvins and moves put in; less is better."""
        key = (
            frozenset((k, v) for k, v in plan.settings.items() if v > 0),
            plan.doors, plan.attic, plan.shaded, plan.shut_below, plan.warm_from,
        )  # fmt: skip
        if key not in self._known:
            self.tried += 1
            self._known[key] = self._follow(plan)
        return self._known[key]

    def _follow(self, plan: SeasonPlan) -> float:
        at, counted = self._sample
        house = self.household
        scenario = house.scenario(OpeningPlan("", {self.season.name: plan}))
        found = house.building.course(scenario, at, start=LEAD_START, warm_up=0)
        mine = score(judge(house, found, at), counted)
        if not mine.hours:
            return 0.0
        out = 1 - mine.comfortable / mine.hours
        kelvins = KELVIN_COST * (mine.over_kh + mine.under_kh) / mine.hours
        return out + kelvins + MOVE_COST * moves_a_day(scenario, at, counted)

    @property
    def _left(self) -> bool:
        return self.tried < self.budget

    def best(self) -> SeasonPlan:
        """The plan found."""
        plan = min(self._starts(), key=self.cost)
        whole = (self._whole_house, self._house_switches) if self.begin is None else ()
        for step in (*whole, self._groups, self._drops, self._turns):
            plan = self._walk(plan, step)
        return _tidy(plan)

    def _starts(self) -> list[SeasonPlan]:
        rule = self.household.rule_for(self.season)
        if self.begin is not None:
            return [self.begin, SeasonPlan(), rule]
        return [
            SeasonPlan(),
            rule,
            self._whole(dict.fromkeys(PARTS, FULL)),
            self._whole({"evening": FULL, "night": FULL, "morning": FULL}),
        ]

    def _walk(
        self, plan: SeasonPlan, changes: Callable[[SeasonPlan], Iterator[Change]]
    ) -> SeasonPlan:
        """Take every change that makes it better, in their order."""
        for change in changes(plan):
            if not self._left:
                break
            other = change(plan)
            if other is not None and self.cost(other) < self.cost(plan) - 1e-9:
                plan = other
        return plan

    def _whole(self, levels: dict[PartName, float]) -> SeasonPlan:
        settings = {
            (g, part): level for g in self.household.groups for part, level in levels.items()
        }
        return SeasonPlan(settings)

    def _whole_house(self, _: SeasonPlan) -> Iterator[Change]:
        for part in ORDER:
            for upper, lower in ((0, 0), (2, 2), (3, 0), (0, 3), (1, 1)):
                yield partial(self._set_all, part=part, upper=upper, lower=lower)

    def _set_all(self, plan: SeasonPlan, part: PartName, upper: int, lower: int) -> SeasonPlan:
        settings = dict(plan.settings)
        for group in self.household.groups:
            settings[group, part] = LEVELS[upper if group.which == "upper" else lower]
        return replace(plan, settings=settings)

    def _house_switches(self, _: SeasonPlan) -> Iterator[Change]:
        yield lambda p: replace(p, doors=not p.doors)
        if self.household.has_attic_door:
            yield lambda p: replace(p, attic=not p.attic)
        if self.household.has_coverings:
            yield lambda p: replace(p, shaded=not p.shaded)
        for limit in OUTDOOR_LIMITS:
            yield partial(_with_limits, shut_below=limit)
        for warm in WARM_DAYS:
            yield partial(_with_limits, warm_from=warm)

    def _groups(self, _: SeasonPlan) -> Iterator[Change]:
        """Each group on its own: shut all day, and as it is in the evening the night through."""
        for group in sorted(self.household.groups):
            yield partial(self._keep, group=group, level=0.0)
            yield partial(self._keep, group=group, level=None)

    def _turns(self, _: SeasonPlan) -> Iterator[Change]:
        for part in ORDER:
            for group in sorted(self.household.groups):
                yield partial(self._turn, group=group, part=part)

    def _keep(self, plan: SeasonPlan, group: Group, level: float | None) -> SeasonPlan | None:
        """One position from morning to night: what is given, or the widest that it has."""
        now = [plan.at(group, part) for part in PARTS]
        target = max(now) if level is None else level
        if all(each == target for each in now):
            return None
        settings = dict(plan.settings) | {(group, part): target for part in PARTS}
        return replace(plan, settings=settings)

    def _turn(self, plan: SeasonPlan, group: Group, part: PartName) -> SeasonPlan:
        """Open what is shut, shut what is open."""
        return plan.with_setting(group, part, LEVELS[2] if plan.at(group, part) == 0 else 0.0)

    def _drops(self, _: SeasonPlan) -> Iterator[Change]:
        """Less wide where that does as well."""
        for group in sorted(self.household.groups):
            yield partial(self._narrower, group=group)

    def _narrower(self, plan: SeasonPlan, group: Group) -> SeasonPlan | None:
        settings = dict(plan.settings)
        changed = False
        for part in PARTS:
            at = plan.at(group, part)
            if at in LEVELS and LEVELS.index(at) > 1:
                settings[group, part] = LEVELS[LEVELS.index(at) - 1]
                changed = True
        return replace(plan, settings=settings) if changed else None


def _with_limits(
    plan: SeasonPlan, *, shut_below: float | None = None, warm_from: float | None = None
) -> SeasonPlan:
    return replace(
        plan,
        shut_below=plan.shut_below if shut_below is None else shut_below,
        warm_from=plan.warm_from if warm_from is None else warm_from,
    )


def _tidy(plan: SeasonPlan) -> SeasonPlan:
    return replace(plan, settings={k: v for k, v in plan.settings.items() if v > 0})


def budget_of(household: Household, seconds: float) -> int:
    """How many plans a season's search may follow, of so much time for the year."""
    links = len(household.building.air_side.links)
    seasons = max(len(household.calendar.seasons), 1)
    sample = sum(len(household.calendar.sample(s)[0]) for s in household.calendar.seasons) / seasons
    return max(int(seconds / seasons / (HOUR_COST * links * sample)), 8)
