"""The plan for the household: searched on sample days, then held against the old rule on all of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace

from sashwright.chapters.breathe.compare import Lived, live
from sashwright.chapters.breathe.limits import Limits
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
    quiet: Lived | None
    """The plan that was found for quiet outside; nothing where noise holds no sash."""
    taken: Mapping[SeasonName, str]
    """Whose setting each season has: ``search``, or the name of a plan that did better on all its days."""

    @property
    def all(self) -> tuple[Lived, ...]:
        return (*self.others, self.best)

    def named(self, name: str) -> Lived:
        return next(each for each in self.all if each.plan.name == name)


def compare(household: Household, seconds: float) -> Compared:
    """Search a plan with so much time, and follow it and the others through the seasons.

    Where noise holds sash, the plan for quiet is searched first, and from there that for the noise, in half
    as much time again: so what noise costs is not how lucky two searches were.
    """
    budget = budget_of(household, seconds)
    quiet = _in_quiet(household)
    searches = [Search(quiet or household, s, budget) for s in household.calendar.seasons]
    found = _searched(searches)
    undisturbed = None
    if quiet is not None:
        undisturbed = live(quiet, OpeningPlan(NAME, found))
        again = [
            Search(household, s, budget // 2, found[s.name]) for s in household.calendar.seasons
        ]
        found = _searched(again)
        searches += again
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
    return Compared(plan, others, sum(search.tried for search in searches), undisturbed, taken)


def _searched(searches: Sequence[Search]) -> dict[SeasonName, SeasonPlan]:
    """What each finds. No season's plan hangs on another's, so they are searched side by side."""
    if not searches:
        return {}
    with ThreadPoolExecutor(len(searches)) as pool:
        plans = list(pool.map(Search.best, searches))
    return {search.season.name: plan for search, plan in zip(searches, plans, strict=True)}


def _in_quiet(household: Household) -> Household | None:
    """The household as it were with quiet outside; nothing where noise holds no sash."""
    if not household.limits.noise:
        return None
    return replace(household, limits=Limits(household.building, quiet=True))
