"""The linear programme of cutting: its rows, the patterns made so far, and its least cost.

A variable for every way to begin a piece of stock, every set of strips of an area and every filling of a
strip, of which only those are made that pay.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from scipy.optimize import linprog
from scipy.sparse import csc_array

from sashwright.chapters.make.cutting.fill import Floats
from sashwright.chapters.make.cutting.problem import Area, Cutting, Plan, Pool

HAIR = 1e-7
"""Share of a cost below which two are equal: the linear solver's own tolerance."""

Site = tuple[int, int, int]
"""An area: its stock, way and place."""


@dataclass
class Master:
    """Patterns found so far, and the linear programme over them."""

    cutting: Cutting
    take: list[tuple[int, int]] = field(init=False)
    rips: list[tuple[Site, tuple[int, ...]]] = field(default_factory=list)
    """An area, and how many strips of each pool; only the pools that the area can give."""
    cuts: list[tuple[int, tuple[int, ...]]] = field(default_factory=list)
    """A pool, and how many of each face are cut from one strip."""

    def __post_init__(self) -> None:
        cutting = self.cutting
        self.take = [
            (index, at)
            for index, stock in enumerate(cutting.stocks)
            for at in range(len(stock.ways))
        ]
        self.pools = cutting.pools
        self.pool_at = {pool: at for at, pool in enumerate(self.pools)}
        self.sites: dict[Site, Area] = {
            (index, at, place): area
            for index, at in self.take
            for place, area in enumerate(cutting.stocks[index].ways[at].areas)
        }
        self.site_at = {site: at for at, site in enumerate(self.sites)}
        self.limited = [i for i, stock in enumerate(cutting.stocks) if stock.count is not None]
        items, pools, sites = len(cutting.demand), len(self.pools), len(self.sites)
        self.pool_row, self.site_row = items, items + pools
        self.count_row = items + pools + sites
        self.rows = self.count_row + len(self.limited)
        self._known: set[tuple[object, ...]] = set()
        area = [0] * items
        for face in cutting.faces:
            area[face.item] = face.along * face.across // face.number
        dearest = max((stock.cost for stock in cutting.stocks), default=1) or 1
        least = min(area, default=1) or 1
        worst = max((rate or 0 for rates in cutting.penalty for rate in rates), default=0)
        self.lack = np.array([4.0 * (dearest + worst) * (1 + size / least) for size in area])
        """Price of a piece that stays without stock: dearer than any stock."""
        self._siblings: dict[tuple[int, int], list[int]] = {}
        for at, pool in enumerate(self.pools):
            self._siblings.setdefault((pool.kind, pool.width), []).append(at)
        self.rip_at: list[int] = []
        self.cut_at: list[int] = []
        self._costs: list[float] = []
        self._rows: list[int] = []
        self._values: list[float] = []
        self._ends = [0]
        self._begin()

    # --- patterns -------------------------------------------------------------

    def add_rip(self, site: Site, counts: Sequence[int]) -> bool:
        """A set of strips of an area; False where it is known."""
        if not self._new("rip", site, tuple(counts)):
            return False
        self.rips.append((site, tuple(counts)))
        self.rip_at.append(len(self._costs))
        found = [(self.pool_row + at, -float(n)) for at, n in enumerate(counts) if n]
        found.append((self.site_row + self.site_at[site], 1.0))
        self._add(0.0, dict(found))
        return True

    def add_cut(self, pool: int, counts: Sequence[int]) -> bool:
        """A filling of a strip; also of the shortest strip that holds it. False where it is known."""
        if not self._new("cut", pool, tuple(counts)):
            return False
        self.cuts.append((pool, tuple(counts)))
        self.cut_at.append(len(self._costs))
        self._add(*self._cut_column(pool, counts))
        shortest = self._shortest(pool, counts)
        if shortest is not None:
            self.add_cut(shortest, counts)
        return True

    def _new(self, *key: object) -> bool:
        if key in self._known:
            return False
        self._known.add(key)
        return True

    def _shortest(self, pool: int, counts: Sequence[int]) -> int | None:
        """The shortest pool of the same kind and width that such a filling fits, if not this one."""
        mine = self.pools[pool]
        used = sum(n * face.along for n, face in zip(counts, self.cutting.faces, strict=True) if n)
        fitting = [
            at
            for at in self._siblings[mine.kind, mine.width]
            if used <= self.pools[at].along < mine.along
            and self.cutting.rests(mine.kind, self.pools[at].along - used)
        ]
        return min(fitting, key=lambda at: self.pools[at].along, default=None)

    def _add(self, cost: float, column: Mapping[int, float]) -> None:
        self._costs.append(cost)
        self._rows += column.keys()
        self._values += column.values()
        self._ends.append(len(self._rows))

    def learn(self, plan: Plan) -> None:
        """The patterns of a plan, as far as the programme has rows for them."""
        faces = len(self.cutting.faces)
        for used in plan.used:
            for place, strips in enumerate(used.areas):
                site = (used.stock, used.way, place)
                area = self.sites[site]
                counts = [0] * len(self.pools)
                for strip in strips:
                    pool = self.pool_at.get(Pool(area.kind, area.along, strip.width))
                    if pool is None:
                        break
                    counts[pool] += 1
                    self.add_cut(pool, np.bincount(strip.faces, minlength=faces).tolist())
                else:
                    self.add_rip(site, counts)

    # --- the linear programme -------------------------------------------------

    def _begin(self) -> None:
        """Stock taken, and pieces short: columns that are always there, the first of all."""
        cutting = self.cutting
        for index, at in self.take:
            stock = cutting.stocks[index]
            places = range(len(stock.ways[at].areas))
            column = {self.site_row + self.site_at[index, at, place]: -1.0 for place in places}
            if stock.count is not None:
                column[self.count_row + self.limited.index(index)] = 1.0
            self._add(float(stock.cost), column)
        for item, lack in enumerate(self.lack.tolist()):
            self._add(lack, {item: -1.0})

    def _cut_column(self, pool: int, counts: Sequence[int]) -> tuple[float, dict[int, float]]:
        rates = self.cutting.penalty[self.pools[pool].kind]
        made: dict[int, float] = {self.pool_row + pool: 1.0}
        cost = 0.0
        for index, number in enumerate(counts):
            if number:
                face = self.cutting.faces[index]
                made[face.item] = made.get(face.item, 0.0) - number * face.number
                cost += number * (rates[index] or 0)
        return cost, made

    def matrix(self) -> tuple[Floats, csc_array]:
        """Costs and coefficients of all columns: stock taken, pieces short, then patterns as made."""
        shape = (self.rows, len(self._costs))
        entries = (np.array(self._values), np.array(self._rows), np.array(self._ends))
        return np.array(self._costs), csc_array(entries, shape=shape)

    def right_side(self, demand: Sequence[int], left: Sequence[int | None]) -> Floats:
        found = np.zeros(self.rows)
        found[: len(demand)] = -np.array(demand, dtype=float)
        found[self.count_row :] = [float(left[index] or 0) for index in self.limited]
        return found

    def relax(
        self, demand: Sequence[int], left: Sequence[int | None]
    ) -> tuple[float, Floats, Floats]:
        """Least cost over the patterns so far, how much of each, and the price of each piece."""
        costs, matrix = self.matrix()
        found = linprog(costs, A_ub=matrix, b_ub=self.right_side(demand, left), method="highs")
        if found.x is None:
            raise ArithmeticError(f"the linear programme was not solved: {found.message}")
        duals = np.maximum(-found.ineqlin.marginals, 0.0)
        return float(found.fun), np.asarray(found.x), duals
