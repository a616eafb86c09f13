"""Column generation: patterns that pay at the prices of the pieces, and the bound that the prices prove.

Gilmore and Gomory, Operations Research 9 (1961), 11 (1963) and 13 (1965).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sashwright.chapters.make.budget import Budget
from sashwright.chapters.make.cutting.fill import Filled, Floats, fill
from sashwright.chapters.make.cutting.problem import Ints, Pool
from sashwright.chapters.make.cutting.programme import HAIR, Master, Site

EXTRA = 6
"""Fillings of one pool added in one round, each of what the one before left over."""
FEW_POOLS = 3
"""With no more pools than these, extra fillings are made."""
MOST_ROUNDS = 4000
MANY_STEPS = 20_000
"""In a strip of more steps patterns are first sought on a grid coarser than the steps of its sizes."""
COARSE_STEPS = 2_000
"""Steps of that grid in a strip."""


@dataclass(frozen=True, slots=True)
class Priced:
    """Best strips and pieces of stock at given prices of the pieces."""

    strips: dict[Pool, tuple[float, int, Filled]]
    areas: dict[Site, tuple[float, Ints]]
    bound: float


def price(
    master: Master,
    prices: Floats,
    demand: Sequence[int],
    left: Sequence[int | None],
    coarse: bool = False,
) -> Priced:
    """The best strips and stock at these prices, and the bound that follows.

    Scaled so that no unlimited stock is worth more than it costs, prices are feasible for the dual of
    the whole programme: their sum over the demand, less what limited stock is worth beyond its cost,
    bounds every plan from below; not so if ``coarse``.
    """
    strips = _price_strips(master, prices, demand, coarse)
    areas = _price_areas(master, strips)
    worth = [0.0] * len(master.cutting.stocks)
    for index, at in master.take:
        places = range(len(master.cutting.stocks[index].ways[at].areas))
        worth[index] = max(worth[index], sum(areas[index, at, place][0] for place in places))
    scale = 1.0
    for stock, value in zip(master.cutting.stocks, worth, strict=True):
        if stock.count is None:
            scale = max(scale, value / stock.cost)
    bound = float(prices @ np.array(demand)) / scale
    for index in master.limited:
        over = worth[index] / scale - master.cutting.stocks[index].cost
        bound -= (left[index] or 0) * max(over, 0.0)
    return Priced(strips, areas, bound)


def _price_strips(
    master: Master, prices: Floats, demand: Sequence[int], coarse: bool
) -> dict[Pool, tuple[float, int, Filled]]:
    longest: dict[tuple[int, int], int] = {}
    for pool in master.pools:
        key = pool.kind, pool.width
        longest[key] = max(longest.get(key, 0), pool.along)
    filled = {
        (kind, width): fill_strip(master, kind, width, room, prices, demand, coarse)
        for (kind, width), room in longest.items()
    }
    found = {}
    for pool in master.pools:
        table = filled[pool.kind, pool.width]
        rest = master.cutting.least_rest[pool.kind]
        found[pool] = (*table.within(pool.along, rest), table)
    return found


def fill_strip(
    master: Master,
    kind: int,
    width: int,
    room: int,
    prices: Floats,
    demand: Sequence[int],
    coarse: bool,
) -> Filled:
    """Fillings of a strip at these prices; pieces are numbered as ``faces_in`` has them."""
    cutting = master.cutting
    faces = [cutting.faces[index] for index in cutting.faces_in(kind, width)]
    rates = [cutting.penalty[kind][index] or 0 for index in cutting.faces_in(kind, width)]
    values = np.array([face.number * prices[face.item] for face in faces]) - np.array(rates)
    sizes = [face.along for face in faces]
    step = room // COARSE_STEPS if coarse and _coarse(master, kind, room) else 1
    return fill(sizes, values, [demand[face.item] // face.number for face in faces], room, step)


def _coarse(master: Master, kind: int, room: int) -> bool:
    """Whether a coarser grid helps; not where a rounded total would not tell what breaks off cleanly."""
    return room > MANY_STEPS and not master.cutting.least_rest[kind]


def _price_areas(
    master: Master, strips: dict[Pool, tuple[float, int, Filled]]
) -> dict[Site, tuple[float, Ints]]:
    """The best strips of each area; areas alike but for their size across share one table."""
    alike: dict[tuple[int, int, tuple[int, ...]], list[Site]] = {}
    for site, area in master.sites.items():
        alike.setdefault((area.kind, area.along, area.widths), []).append(site)
    found: dict[Site, tuple[float, Ints]] = {}
    for (kind, along, widths), sites in alike.items():
        pools = [Pool(kind, along, width) for width in widths]
        pools = [pool for pool in pools if pool in strips]
        values = np.array([strips[pool][0] for pool in pools])
        room = max(master.sites[site].across for site in sites)
        sizes = [pool.width for pool in pools]
        table = fill(sizes, values, [room // size for size in sizes], room)
        at = [master.pool_at[pool] for pool in pools]
        for site in sites:
            value, total = table.within(master.sites[site].across, master.cutting.least_rest[kind])
            counts = np.zeros(len(master.pools), dtype=np.int64)
            counts[at] = table.pieces(total)
            found[site] = value, counts
    return found


def grow(
    master: Master,
    demand: Sequence[int],
    left: Sequence[int | None],
    budget: Budget,
    until: float = HAIR,
    coarse_only: bool = False,
) -> tuple[float, Floats]:
    """Add patterns until the bound meets the programme's cost; the best bound, and the solution.

    ``until``: share of the cost that bound and programme may differ by. ``coarse_only``: on the
    coarser grid, which proves no bound.
    """
    bound = 0.0
    coarse = any(_coarse(master, pool.kind, pool.along) for pool in master.pools)
    for _ in range(MOST_ROUNDS):
        cost, amounts, duals = master.relax(demand, left)
        priced = price(master, duals[: master.pool_row], demand, left, coarse)
        met = priced.bound >= cost * (1 - until)
        if not coarse:
            bound = max(bound, priced.bound)
            met = bound >= cost * (1 - until)
        if budget.over:
            break
        if met or not _add_paying(master, priced, duals, demand, coarse):
            if not coarse or coarse_only:
                break
            coarse = False
    return bound, amounts


def _add_paying(
    master: Master, priced: Priced, duals: Floats, demand: Sequence[int], coarse: bool
) -> bool:
    added = False
    for pool, (value, total, table) in priced.strips.items():
        at = master.pool_at[pool]
        if value > duals[master.pool_row + at] * (1 + HAIR) + HAIR:
            faces = master.cutting.faces_in(pool.kind, pool.width)
            counts = _on_faces(master, faces, table.pieces(total))
            added |= master.add_cut(at, counts)
            if len(master.pools) <= FEW_POOLS:
                _add_extra(master, pool, counts, duals, demand, coarse)
    for site, (value, rips) in priced.areas.items():
        if value > duals[master.site_row + master.site_at[site]] * (1 + HAIR) + HAIR:
            added |= master.add_rip(site, rips.tolist())
    return added


def _on_faces(master: Master, faces: Sequence[int], pieces: Ints) -> list[int]:
    counts = [0] * len(master.cutting.faces)
    for index, number in zip(faces, pieces.tolist(), strict=True):
        counts[index] = number
    return counts


def _add_extra(
    master: Master,
    pool: Pool,
    first: Sequence[int],
    duals: Floats,
    demand: Sequence[int],
    coarse: bool,
) -> None:
    """More strips of one pool, of the pieces that those before left over."""
    rest, counts = list(demand), list(first)
    faces = master.cutting.faces_in(pool.kind, pool.width)
    for _ in range(EXTRA):
        for index, number in enumerate(counts):
            face = master.cutting.faces[index]
            rest[face.item] = max(rest[face.item] - number * face.number, 0)
        if not any(rest):
            return
        table = fill_strip(master, pool.kind, pool.width, pool.along, duals, rest, coarse)
        value, total = table.within(pool.along, master.cutting.least_rest[pool.kind])
        if value <= 0:
            return
        counts = _on_faces(master, faces, table.pieces(total))
        master.add_cut(master.pool_at[pool], counts)
