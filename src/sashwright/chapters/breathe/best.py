"""The plan for the household: searched on sample days, then held against the old rule on all of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from sashwright.chapters.breathe.compare import Lived, live
from sashwright.chapters.breathe.plans import Household, OpeningPlan, SeasonPlan
from sashwright.chapters.breathe.search import Search, budget_of
from sashwright.chapters.breathe.seasons import SeasonName

NAME = "the plan"


@dataclass(frozen=True)
class Compared:
    """The plan and those that it stands beside, all followed through the same days."""

    best: Lived
    others: tuple[Lived, ...]
    """All shut, lower sash up, everything open, the old rule."""
    tried: int
    """Plans that the search followed."""
    taken: Mapping[SeasonName, str]
    """Whose setting each season has: ``search``, or the name of a plan that did better on all its days."""

    @property
    def all(self) -> tuple[Lived, ...]:
        return (*self.others, self.best)

    def named(self, name: str) -> Lived:
        return next(each for each in self.all if each.plan.name == name)


def compare(household: Household, seconds: float) -> Compared:
    """Search a plan with so much time, and follow it and the others through the seasons."""
    budget = budget_of(household, seconds)
    searches = [Search(household, season, budget) for season in household.calendar.seasons]
    found = {search.season.name: search.best() for search in searches}
    plan = live(household, OpeningPlan(NAME, found))
    others = tuple(
        live(household, each)
        for each in (household.shut, household.lower_only, household.all_open, household.rule)
    )
    rivals = [other for other in others if other.plan.limited]
    taken: dict[SeasonName, str] = {}
    final: dict[SeasonName, SeasonPlan] = {}
    for name, setting in found.items():
        better = min(rivals, key=lambda other: other.cost(name))
        if better.cost(name) < plan.cost(name):
            taken[name], final[name] = better.plan.name, better.plan.seasons[name]
        else:
            taken[name], final[name] = "search", setting
    if any(who != "search" for who in taken.values()):
        plan = live(household, OpeningPlan(NAME, final))
    return Compared(plan, others, sum(search.tried for search in searches), taken)
