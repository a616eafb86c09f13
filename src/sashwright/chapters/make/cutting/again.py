"""A plan made better piece by piece: some of its stock is put back and cut anew."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from sashwright.chapters.make.budget import Budget
from sashwright.chapters.make.cutting.columns import grow
from sashwright.chapters.make.cutting.first_fit import best_first_fit, shrunk
from sashwright.chapters.make.cutting.problem import (
    Area,
    Cutting,
    Ints,
    Plan,
    Used,
    Way,
    better,
    cost_of,
)
from sashwright.chapters.make.cutting.programme import Master
from sashwright.chapters.make.cutting.rounding import FEW_VARIANTS, dive, whole

PUT_BACK = 8
"""Pieces of stock that are cut anew together."""
STRANGER = 0.1
"""How much less likely stock of other widths is put back along with the first."""
SECONDS = 0.5
"""What one attempt may take [s]."""


def cut_again(plan: Plan, cutting: Cutting, budget: Budget, seed: int) -> Plan:
    """The plan with some pieces of stock, the wasteful likelier, cut anew if that is cheaper."""
    if not plan.used:
        return plan
    chance = np.random.default_rng(seed)
    waste = np.array([_waste(used, cutting) for used in plan.used])
    number = min(PUT_BACK, len(waste))
    likely = (waste + 1e-3) * chance.random(len(waste))
    first = _widths(plan.used[int(np.argmax(likely))], cutting)
    # Pieces change places only between stock that gives strips of the same widths.
    kin = np.array([_widths(used, cutting) == first for used in plan.used])
    rank = np.argsort(-likely * np.where(kin, 1.0, STRANGER))
    back = set(rank[:number].tolist())
    kept = [used for at, used in enumerate(plan.used) if at not in back]
    freed = [used for at, used in enumerate(plan.used) if at in back]
    demand = _pieces(freed, cutting) + np.array(plan.short)
    part = _part_of(cutting, tuple(demand.tolist()), _left(kept, cutting))
    before = Plan(tuple(freed), plan.short)
    found = better([before, _cut(part, before, budget)], part)
    return Plan((*kept, *found.used), found.short)


def _part_of(cutting: Cutting, demand: tuple[int, ...], left: Sequence[int | None]) -> Cutting:
    """The problem of a part of the pieces: without stock that is used up, and strips that none needs."""
    wanted = {face.across for face in cutting.faces if demand[face.item]}

    def slim(area: Area) -> Area:
        return replace(area, widths=tuple(w for w in area.widths if w in wanted) or area.widths)

    stocks = tuple(
        replace(
            stock,
            count=number,
            ways=()
            if number == 0
            else tuple(Way(tuple(slim(area) for area in way.areas)) for way in stock.ways),
        )
        for stock, number in zip(cutting.stocks, left, strict=True)
    )
    return replace(cutting, demand=demand, stocks=stocks)


def _cut(part: Cutting, before: Plan, budget: Budget) -> Plan:
    left = [stock.count for stock in part.stocks]
    quick = Budget(min(SECONDS, budget.left), budget.clock)
    start = best_first_fit(part, part.demand, left, FEW_VARIANTS)
    plans = [before, start]
    master = Master(part)
    for plan in plans:
        master.learn(plan)
    grow(master, part.demand, left, quick.share(0.5), coarse_only=True)
    dived = dive(master, quick.share(0.5))
    if dived is not None:
        plans.append(dived)
        master.learn(dived)
    best = better([shrunk(plan, part, left) for plan in plans], part)
    master.learn(best)
    bound, _, duals = master.relax(part.demand, left)
    slack = cost_of(best, part) - bound if best.complete else None
    found, _ = whole(master, duals, slack, quick)
    return best if found is None else better([best, shrunk(found, part, left)], part)


def _widths(used: Used, cutting: Cutting) -> tuple[tuple[int, ...], ...]:
    areas = cutting.stocks[used.stock].ways[used.way].areas
    return tuple(sorted({area.widths for area in areas}))


def _waste(used: Used, cutting: Cutting) -> float:
    """Share of the stock's areas that no piece takes."""
    areas = cutting.stocks[used.stock].ways[used.way].areas
    whole_area = sum(area.along * area.across for area in areas)
    cut = sum(
        cutting.faces[face].along * cutting.faces[face].across
        for strip in used.strips()
        for face in strip.faces
    )
    return 1 - cut / whole_area


def _pieces(used: Sequence[Used], cutting: Cutting) -> Ints:
    counts = np.zeros(len(cutting.demand), dtype=np.int64)
    for each in used:
        for strip in each.strips():
            for face in strip.faces:
                counts[cutting.faces[face].item] += cutting.faces[face].number
    return counts


def _left(kept: Sequence[Used], cutting: Cutting) -> list[int | None]:
    left = [stock.count for stock in cutting.stocks]
    for each in kept:
        number = left[each.stock]
        left[each.stock] = None if number is None else number - 1
    return left
