"""From parts of patterns to whole ones: diving through the linear programme, and a whole-number master."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp

from sashwright.chapters.make.budget import Budget
from sashwright.chapters.make.cutting.columns import grow
from sashwright.chapters.make.cutting.fill import Floats
from sashwright.chapters.make.cutting.first_fit import best_first_fit
from sashwright.chapters.make.cutting.problem import Ints, Plan, Strip, Used, better
from sashwright.chapters.make.cutting.programme import Master

NEARLY_WHOLE = 1 - 1e-6
ALMOST_NONE = 1e-7
MOST_PRESOLVED = 8_000
"""With more patterns the solver's presolve goes on long after its time is over."""
INFEASIBLE = 2
"""What the solver says where no plan exists."""
FINISH_AT = 0.85
"""First fit finishes a dive's plan each time this share of the pieces is left of those before."""
FEW_VARIANTS = 2
"""Orders of stock that first fit tries after each step of a dive."""
CLOSE_IN_DIVES = 1e-3
"""How near bound and programme come while diving; a start, nothing is proved by it."""


def dive(master: Master, budget: Budget, seed: int | None = None) -> Plan | None:
    """Round piece of stock after piece of stock, making new patterns for what is left; None out of time.

    What is left at each step is also finished by first fit, and the best of all is the answer. With a
    ``seed`` the choice among parts of patterns is by chance, the greater the likelier.
    """
    cutting = master.cutting
    chance = None if seed is None else np.random.default_rng(seed)
    demand = list(cutting.demand)
    left = [stock.count for stock in cutting.stocks]
    used: list[Used] = []
    plans: list[Plan] = []
    next_finish = FINISH_AT * sum(demand)
    while any(demand):
        _, amounts = grow(master, demand, left, budget, CLOSE_IN_DIVES, coarse_only=True)
        if budget.over:
            break
        found = _whole_pieces(master, amounts, demand, left, chance)
        if not found:
            break
        used += found
        if sum(demand) <= next_finish:
            next_finish = FINISH_AT * sum(demand)
            rest = best_first_fit(cutting, demand, left, FEW_VARIANTS)
            plans.append(Plan((*used, *rest.used), rest.short))
    return better(plans, cutting) if plans else None


@dataclass
class _Amounts:
    """How much of each pattern the programme asks for, taken from as pieces are cut."""

    master: Master
    rips: Floats
    cuts: Floats
    chance: Floats
    """What each cut's amount is weighed with when one is chosen."""

    @cached_property
    def pools(self) -> dict[int, Ints]:
        """The cuts of each pool that are asked for."""
        found: dict[int, list[int]] = {}
        for at in np.flatnonzero(self.cuts > ALMOST_NONE).tolist():
            found.setdefault(self.master.cuts[at][0], []).append(at)
        return {pool: np.array(cuts) for pool, cuts in found.items()}

    def proposed(self, rip: int) -> tuple[float, list[tuple[int, int]]]:
        """How whole a ripped area would be, and the pool and cut of each of its strips."""
        strips, taken = [], Counter[int]()
        wholeness = float(self.rips[rip])
        for pool, number in enumerate(self.master.rips[rip][1]):
            cuts = self.pools.get(pool)
            if cuts is None:
                continue
            for _ in range(number):
                rest = self.cuts[cuts] - np.array([taken[at] for at in cuts.tolist()])
                best = int(np.argmax(rest * self.chance[cuts]))
                wholeness = min(wholeness, float(rest[best]))
                strips.append((pool, int(cuts[best])))
                taken[int(cuts[best])] += 1
        return wholeness, strips


def _whole_pieces(
    master: Master,
    amounts: Floats,
    demand: list[int],
    left: list[int | None],
    chance: np.random.Generator | None,
) -> list[Used]:
    """Pieces of stock cut by nearly whole patterns, or else by the greatest part of one."""
    # Fancy indexing copies, and the amounts are older than patterns made since.
    ripped = amounts[[at for at in master.rip_at if at < len(amounts)]]
    cut = amounts[[at for at in master.cut_at if at < len(amounts)]]
    weights = np.ones(len(cut)) if chance is None else chance.random(len(cut))
    asked = _Amounts(master, ripped, cut, weights)
    found: list[Used] = []
    while True:
        choices = [
            (*asked.proposed(rip), rip)
            for rip in np.flatnonzero(ripped > ALMOST_NONE).tolist()
            if left[master.rips[rip][0][0]] != 0
        ]
        choices = [each for each in choices if each[1]]
        if not choices:
            return found
        wholeness, _, rip = max(choices, key=lambda each: each[0])
        if found and wholeness < NEARLY_WHOLE:
            return found
        (index, way, place), _ = master.rips[rip]
        piece = _one_piece(asked, index, way, {place: rip}, demand)
        if piece is None:
            ripped[rip] = 0.0
            continue
        number = left[index]
        left[index] = None if number is None else number - 1
        found.append(piece)


def _one_piece(
    asked: _Amounts, index: int, way: int, chosen: dict[int, int], demand: list[int]
) -> Used | None:
    """One piece of stock by the likeliest patterns, no more cut than is wanted; None for nothing."""
    master = asked.master
    areas = []
    for place in range(len(master.cutting.stocks[index].ways[way].areas)):
        mine = [at for at, (site, _) in enumerate(master.rips) if site == (index, way, place)]
        rip = chosen.get(place, max(mine, key=lambda at: asked.rips[at], default=None))
        strips: list[Strip] = []
        if rip is not None:
            _, proposed = asked.proposed(rip)
            asked.rips[rip] -= 1
            for pool, cut in proposed:
                asked.cuts[cut] -= 1
                strip = cut_strip(master, pool, master.cuts[cut][1], demand)
                if strip.faces:
                    strips.append(strip)
        areas.append(strips)
    return Used(index, way, areas) if any(areas) else None


def cut_strip(master: Master, pool: int, counts: Sequence[int], demand: list[int]) -> Strip:
    """A strip of the pattern's faces, those left out that are wanted no more."""
    faces = []
    for index, number in enumerate(counts):
        face = master.cutting.faces[index]
        for _ in range(number):
            taken = min(face.number, demand[face.item])
            if taken:
                demand[face.item] -= taken
                faces.append(index if taken == face.number else master.cutting.fewer(index, taken))
    return Strip(master.pools[pool].width, tuple(faces))


def whole(
    master: Master, duals: Floats, slack: float | None, budget: Budget
) -> tuple[Plan | None, float]:
    """The best plan of whole patterns that are known, if one is found in time, and its least cost.

    ``duals``: the price of every row; patterns that alone put a plan more than ``slack`` above the
    bound are left out.
    """
    cutting = master.cutting
    costs, matrix = master.matrix()
    keep = np.ones(len(costs), dtype=np.bool_)
    if slack is not None:
        keep = costs + matrix.T @ duals <= slack + 1e-6
    left = [stock.count for stock in cutting.stocks]
    right = master.right_side(cutting.demand, left)
    if budget.over:
        return None, -np.inf
    found = milp(
        costs[keep],
        constraints=LinearConstraint(matrix[:, keep], -np.inf, right),
        integrality=np.ones(int(keep.sum())),
        bounds=Bounds(0, np.inf),
        options={
            "time_limit": budget.left,
            "mip_rel_gap": 0.0,
            "presolve": int(keep.sum()) <= MOST_PRESOLVED,
        },
    )
    least = -np.inf if found.mip_dual_bound is None else float(found.mip_dual_bound)
    if found.x is None:
        # Nothing better is left at all.
        return None, np.inf if found.status == INFEASIBLE else least
    whole_amounts = np.zeros(len(costs))
    whole_amounts[keep] = found.x
    return plan_of(master, np.rint(whole_amounts).astype(np.int64)), least


def plan_of(master: Master, amounts: Ints) -> Plan:
    """The plan that whole amounts of the master's columns stand for."""
    cutting = master.cutting
    rip_left, cut_left = amounts[master.rip_at].tolist(), amounts[master.cut_at].tolist()
    sites: dict[tuple[int, int, int], list[tuple[int, ...]]] = {}
    for (site, counts), number in zip(master.rips, rip_left, strict=True):
        sites.setdefault(site, []).extend([counts] * number)
    fillings: dict[int, list[tuple[int, ...]]] = {}
    for (pool, counts), number in zip(master.cuts, cut_left, strict=True):
        fillings.setdefault(pool, []).extend([counts] * number)
    demand = list(cutting.demand)
    used = []
    for (index, way), number in zip(master.take, amounts.tolist(), strict=False):
        for _ in range(number):
            areas = []
            for place in range(len(cutting.stocks[index].ways[way].areas)):
                waiting = sites.get((index, way, place))
                strips = _strips_of(master, waiting.pop() if waiting else (), fillings, demand)
                areas.append(strips)
            if any(areas):
                used.append(Used(index, way, areas))
    return Plan(tuple(used), tuple(demand))


def _strips_of(
    master: Master,
    rip: Sequence[int],
    fillings: dict[int, list[tuple[int, ...]]],
    demand: list[int],
) -> list[Strip]:
    strips = []
    for pool, number in enumerate(rip):
        for _ in range(number):
            waiting = fillings.get(pool)
            if waiting:
                strip = cut_strip(master, pool, waiting.pop(), demand)
                if strip.faces:
                    strips.append(strip)
    return strips
