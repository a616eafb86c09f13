"""What is cut, from what, and a plan of cuts; all sizes are whole steps of one grid.

Stock is cut in two stages and trimmed: across into strips, then each strip along into its pieces, one
beside the other. A saw's kerf is added to every size and once to every room, so that n pieces with n - 1
cuts between them are checked by adding up.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

Ints = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Face:
    """One way to lay pieces of an item: size along and across the strip, kerfs included."""

    item: int
    along: int
    across: int
    number: int = 1
    """Pieces one beside the other across the strip, cut apart by the last cuts."""


@dataclass(frozen=True, slots=True)
class Area:
    """A clear rectangle of a stock piece, the kerf once added; ``widths`` are the strips it may give."""

    along: int
    across: int
    widths: tuple[int, ...]
    kind: int = 0
    """Row of ``Cutting.penalty``: what a face costs beyond the stock."""


@dataclass(frozen=True, slots=True)
class Way:
    """One way to begin cutting a stock piece: the areas that it gives."""

    areas: tuple[Area, ...]


@dataclass(frozen=True, slots=True)
class Stock:
    """A kind of stock piece; ``count`` None where any number can be bought."""

    cost: int
    count: int | None
    ways: tuple[Way, ...]


@dataclass(frozen=True)
class Cutting:
    """A whole problem: ``demand[i]`` pieces of item i, each by one of its faces."""

    demand: tuple[int, ...]
    faces: tuple[Face, ...]
    stocks: tuple[Stock, ...]
    penalty: tuple[tuple[int | None, ...], ...]
    """For each kind of area and each face: what it costs there; None where it must not be."""
    least_rest: tuple[int, ...] = (0,)
    """For each kind of area: what is left at its or a strip's far end is nothing, or at least this."""
    least_trim: int = 0
    """What is trimmed off a piece lower than its strip is nothing, or at least this much."""

    @cached_property
    def pools(self) -> tuple[Pool, ...]:
        """All kinds of strips that any stock may give, the ones of no use left out."""
        found = {
            Pool(area.kind, area.along, width): None
            for stock in self.stocks
            for way in stock.ways
            for area in way.areas
            for width in area.widths
            if any(
                self.faces[face].along <= area.along and self.demand[self.faces[face].item]
                for face in self.faces_in(area.kind, width)
            )
        }
        return tuple(found)

    @cached_property
    def _faces_in(self) -> dict[tuple[int, int], tuple[int, ...]]:
        return {}

    def faces_in(self, kind: int, width: int) -> tuple[int, ...]:
        """Faces that a strip of such an area and width may hold."""
        known = self._faces_in
        if (kind, width) not in known:
            known[kind, width] = tuple(
                index
                for index, face in enumerate(self.faces)
                if self.penalty[kind][index] is not None and self.trims(width - face.across)
            )
        return known[kind, width]

    def trims(self, rest: int) -> bool:
        """Whether so much can be trimmed off along a piece."""
        return rest == 0 or rest >= max(self.least_trim, 0)

    def rests(self, kind: int, rest: int) -> bool:
        """Whether so much may be left at the far end."""
        return rest == 0 or rest >= max(self.least_rest[kind], 0)

    @cached_property
    def _parts_of(self) -> dict[tuple[int, int, int], int]:
        return {(f.item, f.along, f.number): index for index, f in enumerate(self.faces)}

    def fewer(self, face: int, number: int) -> int:
        """The face of only so many of its pieces."""
        whole = self.faces[face]
        return self._parts_of[whole.item, whole.along, number]


@dataclass(frozen=True, slots=True)
class Pool:
    """Strips of one kind, length and width: alike, whatever board they come from."""

    kind: int
    along: int
    width: int


@dataclass(frozen=True, slots=True)
class Strip:
    """A strip of a plan and the faces cut from it, in order."""

    width: int
    faces: tuple[int, ...]


@dataclass(slots=True)
class Used:
    """One stock piece of a plan: by which way it is begun, and the strips of each of its areas."""

    stock: int
    way: int
    areas: list[list[Strip]] = field(default_factory=list)

    def strips(self) -> Iterator[Strip]:
        for strips in self.areas:
            yield from strips


@dataclass(frozen=True, slots=True)
class Plan:
    """Stock pieces cut, and what stayed without stock: pieces short, item by item."""

    used: tuple[Used, ...]
    short: tuple[int, ...]

    @property
    def complete(self) -> bool:
        return not any(self.short)


def cost_of(plan: Plan, cutting: Cutting) -> int:
    """Stock and penalties; what stays without stock is not counted."""
    total = 0
    for used in plan.used:
        stock = cutting.stocks[used.stock]
        total += stock.cost
        for area, strips in zip(stock.ways[used.way].areas, used.areas, strict=True):
            rates = cutting.penalty[area.kind]
            total += sum(rates[face] or 0 for strip in strips for face in strip.faces)
    return total


def better(plans: Sequence[Plan], cutting: Cutting) -> Plan:
    """The plan that leaves least area without stock, and of those the one that costs least."""
    sizes = [0] * len(cutting.demand)
    for face in cutting.faces:
        sizes[face.item] = face.along * face.across // face.number

    def rank(plan: Plan) -> tuple[int, int]:
        short = sum(n * size for n, size in zip(plan.short, sizes, strict=True))
        return short, cost_of(plan, cutting)

    return min(plans, key=rank)
