"""The best choice of one pair for each sash: set packing, its bound by column generation."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import Bounds, LinearConstraint, linprog, milp
from scipy.sparse import coo_array, csc_array

from sashwright.chapters.make.bin_pairs import (
    BOUGHT,
    Floats,
    Ints,
    Pairs,
    Passing,
    passing_of,
)
from sashwright.chapters.make.budget import Budget
from sashwright.chapters.make.weights import SashNeed

FIRST = 12
"""Pairs of each sash to begin with."""
MORE = 12
"""Pairs of each sash added in one round, at most."""
LEAST_TIME = 0.01
"""What a solver gets even when nothing is left [s]; to it nought means no limit."""
SAME = 1e-7
"""Costs nearer than this are equal [kg]."""


@dataclass(frozen=True, slots=True)
class Choice:
    """The pair taken for each sash, and the least that all pairs together can cost."""

    rows: Ints
    bound: float


@dataclass(frozen=True)
class _Programme:
    """Each sash takes one pair; each weight hangs once; weights that strike exclude each other."""

    pairs: Pairs
    weights: int
    sashes: int
    passing: Passing

    @property
    def matrix(self) -> csc_array:
        """Rows: sash, weights, passing; a column for each pair."""
        pairs, number = self.pairs, len(self.pairs)
        every = np.arange(number)
        rows, columns = [pairs.sash], [every]
        for at in (pairs.first, pairs.second):
            real = at != BOUGHT
            rows.append(self.sashes + at[real])
            columns.append(every[real])
        rows.append(self.sashes + self.weights + self.passing.row)
        columns.append(self.passing.pair)
        at_row, at_column = np.concatenate(rows), np.concatenate(columns)
        shape = (self.sashes + self.weights + self.passing.rows, number)
        return csc_array(coo_array((np.ones(len(at_row)), (at_row, at_column)), shape=shape))


def choose_pairs(
    pairs: Pairs,
    weights: int,
    sashes: Sequence[SashNeed],
    together: Mapping[str, float],
    budget: Budget,
) -> Choice:
    """The cheapest pairs found in time, with the bound."""
    passing = passing_of(pairs, sashes, together)
    programme = _Programme(pairs, weights, len(sashes), passing)
    matrix = programme.matrix
    best = _greedy(pairs, programme, matrix)
    bound, taken, rest = _relaxed(pairs, matrix, len(sashes), budget)
    for reach in (0.0, None):
        worth = float(pairs.cost[best].sum())
        if worth <= bound + SAME or budget.over:
            break
        # First over the pairs that the relaxed programme met, then over all that can be in a better one.
        limit = worth - bound + SAME
        keep = np.flatnonzero(taken if reach == 0.0 else rest <= limit)
        found, least = _whole(
            pairs, matrix, len(sashes), keep, budget.share(0.3 if reach == 0.0 else 1.0)
        )
        if found is not None and pairs.cost[found].sum() < worth:
            best = found
        if reach is None:
            bound = max(bound, min(least, worth))
    return Choice(best, min(bound, float(pairs.cost[best].sum())))


def _greedy(pairs: Pairs, programme: _Programme, matrix: csc_array) -> Ints:
    """Pair after pair, the cheapest that is still free; the two bought ones where none is.

    Pairs beside which the window's other sash could not hang two bought ones are left out.
    """
    used = np.zeros(matrix.shape[0], dtype=np.bool_)
    taken: dict[int, int] = {}
    barred = _beside_bought(pairs, programme.passing)
    for row in np.argsort(pairs.cost, kind="stable").tolist():
        sash = int(pairs.sash[row])
        rows = matrix.indices[matrix.indptr[row] : matrix.indptr[row + 1]]
        if sash in taken or barred[row] or used[rows].any():
            continue
        used[rows] = True
        taken[sash] = row
    return np.array([taken[sash] for sash in range(programme.sashes)])


def _beside_bought(pairs: Pairs, passing: Passing) -> NDArray[np.bool_]:
    """Pairs that exclude the bought weights of the window's other sash."""
    barred = np.zeros(len(pairs), dtype=np.bool_)
    bought = pairs.bought[passing.pair] == 2
    for row, pair in zip(passing.row[bought], passing.pair[bought], strict=True):
        mates = passing.pair[passing.row == row]
        barred[mates[pairs.sash[mates] != pairs.sash[pair]]] = True
    return barred


def _relaxed(
    pairs: Pairs, matrix: csc_array, sashes: int, budget: Budget
) -> tuple[float, NDArray[np.bool_], Floats]:
    """Bound over parts of pairs, the pairs that were tried, and what each pair adds to the bound."""
    cost = pairs.cost
    inside = np.zeros(len(pairs), dtype=np.bool_)
    order = np.lexsort((cost, pairs.sash))
    inside[_first_of_each(pairs.sash[order], order, FIRST)] = True
    inside |= pairs.bought == 2
    bound, rest = 0.0, np.zeros(len(pairs))
    while True:
        columns = np.flatnonzero(inside)
        part = matrix[:, columns]
        found = linprog(
            cost[columns],
            A_eq=part[:sashes],
            b_eq=np.ones(sashes),
            A_ub=part[sashes:],
            b_ub=np.ones(part.shape[0] - sashes),
            method="highs",
            options={"time_limit": max(budget.left, LEAST_TIME)},
        )
        if found.x is None:
            return bound, inside, rest
        prices = np.concatenate([found.eqlin.marginals, np.minimum(found.ineqlin.marginals, 0.0)])
        rest = cost - matrix.T @ prices
        # Whatever the prices: no sash gets a pair for less than its cheapest at these prices.
        cheapest = np.full(sashes, np.inf)
        np.minimum.at(cheapest, pairs.sash, rest)
        bound = max(bound, float(prices.sum() + np.minimum(cheapest, 0.0).sum()))
        wanted = np.flatnonzero((rest < -SAME) & ~inside)
        if not len(wanted) or budget.over:
            return bound, inside, rest - np.minimum(cheapest, 0.0)[pairs.sash]
        ranked = wanted[np.lexsort((rest[wanted], pairs.sash[wanted]))]
        inside[_first_of_each(pairs.sash[ranked], ranked, MORE)] = True


def _first_of_each(sash: Ints, rows: Ints, number: int) -> Ints:
    """The first so many rows of each sash; ``sash`` is sorted."""
    starts = np.searchsorted(sash, sash, side="left")
    return rows[np.arange(len(rows)) - starts < number]


def _whole(
    pairs: Pairs, matrix: csc_array, sashes: int, keep: Ints, budget: Budget
) -> tuple[Ints | None, float]:
    """The best whole choice among some of the pairs, and the least that it can cost."""
    part = matrix[:, keep]
    low = np.full(part.shape[0], -np.inf)
    low[:sashes] = 1.0
    found = milp(
        pairs.cost[keep],
        constraints=LinearConstraint(part, low, np.ones(part.shape[0])),
        integrality=np.ones(len(keep)),
        bounds=Bounds(0, 1),
        options={"time_limit": max(budget.left, LEAST_TIME), "mip_rel_gap": 0.0},
    )
    least = -np.inf if found.mip_dual_bound is None else float(found.mip_dual_bound)
    if found.x is None:
        # No choice among these is left at all.
        return None, np.inf if found.status == 2 else least
    chosen = keep[np.rint(found.x) == 1]
    return chosen[np.argsort(pairs.sash[chosen])], least
