"""Small problems to the end: every pattern that a better plan could have, and the best of all plans."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sashwright.chapters.make.budget import Budget
from sashwright.chapters.make.cutting.fill import Floats
from sashwright.chapters.make.cutting.problem import Plan, Pool
from sashwright.chapters.make.cutting.programme import Master
from sashwright.chapters.make.cutting.rounding import whole

MOST_PATTERNS = 20_000
"""With more patterns than these the whole-number programme would not end in any useful time."""
MOST_NODES = 200_000
"""Steps of the search for them."""
SOLVED_TO = 1e-6
"""Share of its cost that the linear programme is solved to."""
LOOK_EVERY = 500
"""Steps between two looks at the clock."""


def finish(
    master: Master, target: int, relaxed: float, duals: Floats, budget: Budget
) -> tuple[Plan | None, float] | None:
    """The best plan that costs no more than ``target``, if there is one, and what such a plan costs at least.

    ``relaxed`` and ``duals`` are of the finished linear programme. A pattern that alone puts it above the
    target is in no such plan. None where there are too many patterns, infinite cost where no plan exists.
    """
    # With what the linear solver may be off.
    slack = target - relaxed + SOLVED_TO * relaxed
    nodes = _Nodes(budget.share(0.5))
    if not (_all_cuts(master, duals, slack, nodes) and _all_rips(master, duals, slack, nodes)):
        return None
    return whole(master, duals, slack, budget)


class _Nodes:
    """Counts the steps and the patterns, and looks at the clock now and then."""

    def __init__(self, budget: Budget) -> None:
        self.budget = budget
        self.steps = 0
        self.patterns = 0

    @property
    def too_many(self) -> bool:
        if self.steps % LOOK_EVERY == 0 and self.budget.over:
            self.steps = MOST_NODES + 1
        return self.steps > MOST_NODES or self.patterns > MOST_PATTERNS


def _all_cuts(master: Master, duals: Floats, slack: float, nodes: _Nodes) -> bool:
    cutting = master.cutting
    for at, pool in enumerate(master.pools):
        faces = cutting.faces_in(pool.kind, pool.width)
        rates = [cutting.penalty[pool.kind][face] or 0 for face in faces]
        items = [cutting.faces[face] for face in faces]
        values = [
            float(duals[face.item]) * face.number - rate
            for face, rate in zip(items, rates, strict=True)
        ]
        found = fillings(
            [face.along for face in items],
            values,
            [cutting.demand[face.item] // face.number for face in items],
            pool.along,
            float(duals[master.pool_row + at]) - slack,
            nodes,
        )
        full = not cutting.least_rest[pool.kind]
        for counts, room in found:
            if not cutting.rests(pool.kind, room):
                continue
            # Beside what more would fit for nothing a pattern is of no use.
            if full and any(
                face.along <= room and not rate and counts[k] < cutting.demand[face.item]
                for k, (face, rate) in enumerate(zip(items, rates, strict=True))
                if face.number == 1
            ):
                continue
            nodes.patterns += 1
            on_faces = [0] * len(cutting.faces)
            for face, number in zip(faces, counts, strict=True):
                on_faces[face] = number
            master.add_cut(at, on_faces)
        if nodes.too_many:
            return False
    return True


def _all_rips(master: Master, duals: Floats, slack: float, nodes: _Nodes) -> bool:
    cutting = master.cutting
    for site, area in master.sites.items():
        pools = [
            master.pool_at[pool]
            for pool in (Pool(area.kind, area.along, width) for width in area.widths)
            if pool in master.pool_at
        ]
        sizes = [master.pools[pool].width for pool in pools]
        found = fillings(
            sizes,
            [float(duals[master.pool_row + pool]) for pool in pools],
            [area.across // size for size in sizes],
            area.across,
            float(duals[master.site_row + master.site_at[site]]) - slack,
            nodes,
        )
        full = not cutting.least_rest[area.kind]
        for counts, room in found:
            if not cutting.rests(area.kind, room) or (full and any(s <= room for s in sizes)):
                continue
            nodes.patterns += 1
            on_pools = [0] * len(master.pools)
            for pool, number in zip(pools, counts, strict=True):
                on_pools[pool] = number
            master.add_rip(site, on_pools)
        if nodes.too_many:
            return False
    return True


def fillings(
    sizes: Sequence[int],
    values: Sequence[float],
    copies: Sequence[int],
    room: int,
    least: float,
    nodes: _Nodes,
) -> Iterator[tuple[list[int], int]]:
    """Every filling of a room worth at least so much, with the room that it leaves.

    The most valuable for its size comes first, so that what is left bounds what can still be gained.
    """
    order = sorted(range(len(sizes)), key=lambda k: values[k] / sizes[k], reverse=True)
    rates = [max(values[k] / sizes[k], 0.0) for k in order] + [0.0]
    hair = 1e-6 * max(1.0, abs(least))
    counts = [0] * len(sizes)

    def search(place: int, left: int, value: float) -> Iterator[tuple[list[int], int]]:
        nodes.steps += 1
        if nodes.too_many or value + left * rates[place] < least - hair:
            return
        if place == len(order):
            yield list(counts), left
            return
        at = order[place]
        for number in range(min(copies[at], left // sizes[at]), -1, -1):
            counts[at] = number
            yield from search(place + 1, left - number * sizes[at], value + number * values[at])
        counts[at] = 0

    return search(0, room, 0.0)
