"""The whole search: first fit, bound, dives and the whole-number master, the best plan so far at any time."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from sashwright.chapters.make.budget import Budget
from sashwright.chapters.make.cutting.again import cut_again
from sashwright.chapters.make.cutting.columns import grow, price
from sashwright.chapters.make.cutting.exact import finish
from sashwright.chapters.make.cutting.first_fit import MOST_VARIANTS, best_first_fit, shrunk
from sashwright.chapters.make.cutting.problem import Cutting, Plan, better, cost_of
from sashwright.chapters.make.cutting.programme import HAIR, Master
from sashwright.chapters.make.cutting.rounding import dive, whole

MOST_TRIES = 1000
"""Beyond these nothing new is to be expected; usually time or a proof ends the search."""
WHOLE_EVERY = 4
"""Dives from one whole-number programme to the next, which is slow."""
FINISHED = 1e-6
"""Share of the programme's cost by which what its prices prove may be less."""
FINISH_AT = 2
"""Dives before all patterns of use are made, if there are few: most problems are done by then."""
FEW_ITEMS = 15
"""With no more kinds of pieces than these, all patterns of use are made after the first dive."""
MOST_PASSES = 50
"""Rounds over the problems that are not done; usually time ends them."""
AGAIN = 40
"""Parts of the plan cut anew after each dive, at most."""
IDLE = 3
"""Such attempts in vain after which the next dive comes."""


@dataclass(frozen=True, slots=True)
class Solved:
    """A plan, what it costs, and what every plan of this scheme costs at least."""

    plan: Plan
    first_fit: Plan
    cost: int
    first_fit_cost: int
    bound: int | None
    """None where pieces stay without stock."""

    @property
    def gap(self) -> float | None:
        """What the plan may be dearer than the best one, of its cost [-]."""
        if self.bound is None:
            return None
        return (self.cost - self.bound) / self.cost if self.cost else 0.0

    @property
    def proven(self) -> bool:
        return self.bound is not None and self.cost <= self.bound


def solve(cutting: Cutting, budget: Budget, enough: float = 0.0) -> Solved:
    """The best plan found in time; the search ends early at a gap of ``enough``."""
    (found,) = solve_all([cutting], budget, enough)
    return found


def solve_all(cuttings: Sequence[Cutting], budget: Budget, enough: float = 0.0) -> list[Solved]:
    """The best plan found for each of several problems, which share the time by their pieces.

    What one does not need goes to those after it, and then to those not yet done.
    """
    searches = [_Search(cutting, enough) for cutting in cuttings]
    waiting = searches
    for _ in range(MOST_PASSES):
        pieces = [sum(search.cutting.demand) for search in waiting]
        for at, search in enumerate(waiting):
            search.run(budget.share(pieces[at] / max(sum(pieces[at:]), 1)))
        waiting = [search for search in waiting if not search.near()]
        if not waiting or budget.over:
            break
    return [search.solved() for search in searches]


class _Search:
    """The best plan and the bound as they stand; goes on where it stopped."""

    def __init__(self, cutting: Cutting, enough: float) -> None:
        self.cutting, self.enough = cutting, enough
        self.left = [stock.count for stock in cutting.stocks]
        self.start = best_first_fit(cutting, cutting.demand, self.left, MOST_VARIANTS)
        self.best, self.bound, self.tries = self.start, 0, 0
        self.master = Master(cutting)
        self.master.learn(self.start)

    def run(self, budget: Budget) -> None:
        if not self.cutting.demand or budget.over:
            return
        self.budget = budget
        grown, _ = grow(self.master, self.cutting.demand, self.left, budget.share(0.6))
        self.bound = max(self.bound, rounded_up(grown, self.cutting))
        last = FINISH_AT if len(self.cutting.demand) > FEW_ITEMS else 0
        while not self.done() and self.tries < MOST_TRIES:
            number, self.tries = self.tries, self.tries + 1
            self._take(dive(self.master, budget.share(0.5 if number else 0.8), number or None))
            if number == last:
                self._finish()
            if number % WHOLE_EVERY == 0 and not self.done():
                self._whole(0.3)
            self._again(AGAIN * number)

    def solved(self) -> Solved:
        cost = cost_of(self.best, self.cutting)
        return Solved(
            self.best,
            self.start,
            cost,
            cost_of(self.start, self.cutting),
            min(self.bound, cost) if self.best.complete else None,
        )

    def near(self) -> bool:
        """Whether the plan is good enough."""
        cost = cost_of(self.best, self.cutting)
        return self.best.complete and cost - self.bound <= self.enough * cost

    def done(self) -> bool:
        """Whether it is, or time is over."""
        return self.near() or self.budget.over

    def _take(self, plan: Plan | None) -> None:
        if plan is not None:
            plan = shrunk(plan, self.cutting, self.left)
            self.best = better([self.best, plan], self.cutting)

    def _again(self, seed: int) -> None:
        """Parts of the plan cut anew, for as long as that helps now and then."""
        idle = 0
        for step in range(AGAIN):
            if self.done() or idle == IDLE:
                break
            before = self.best
            self.best = cut_again(before, self.cutting, self.budget, seed + step)
            idle = (
                0 if cost_of(self.best, self.cutting) < cost_of(before, self.cutting) else idle + 1
            )

    def _whole(self, share: float) -> None:
        self.master.learn(self.best)
        _, _, duals = self.master.relax(self.cutting.demand, self.left)
        cost = cost_of(self.best, self.cutting)
        slack = cost - self.bound if self.best.complete else None
        plan, _ = whole(self.master, duals, slack, self.budget.share(share))
        self._take(plan)

    def _finish(self) -> None:
        """Where the patterns of use are few, every one: a plan as cheap as the bound, or a better bound.

        First only those that a plan at the bound could have, then those of any that is cheaper than ours.
        """
        cost, _, duals = self.master.relax(self.cutting.demand, self.left)
        prices = duals[: self.master.pool_row]
        relaxed = price(self.master, prices, self.cutting.demand, self.left).bound
        if not self.best.complete or relaxed < cost * (1 - FINISHED):
            # Time ended before the programme had all its patterns.
            return
        step = step_of(self.cutting)
        for at_bound in (True, False):
            if self.done():
                return
            target = self.bound if at_bound else cost_of(self.best, self.cutting) - step
            found = finish(self.master, target, relaxed, duals, self.budget.share(0.4))
            if found is None:
                return
            plan, least = found
            self._take(plan)
            # A plan above the target may have patterns that were left out.
            known = min(max(least, self.bound), target + step)
            self.bound = max(self.bound, rounded_up(known, self.cutting))


def step_of(cutting: Cutting) -> int:
    """What all costs of plans are multiples of."""
    steps = [stock.cost for stock in cutting.stocks]
    steps += [rate for rates in cutting.penalty for rate in rates if rate]
    return math.gcd(*steps) or 1


def rounded_up(bound: float, cutting: Cutting) -> int:
    """The least cost that a plan can have: whole, and a multiple of what all costs are multiples of."""
    step = step_of(cutting)
    return math.ceil(bound * (1 - HAIR) / step - HAIR) * step
