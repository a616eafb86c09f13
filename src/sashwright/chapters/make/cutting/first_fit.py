"""First fit decreasing: what a careful hand does without searching, the start and the yardstick."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

from sashwright.chapters.make.cutting.problem import (
    Area,
    Cutting,
    Face,
    Plan,
    Strip,
    Used,
    better,
)

MOST_VARIANTS = 12
"""Orders of stock that are tried."""


@dataclass(frozen=True, slots=True)
class Taken:
    """What is looked at: places without a penalty or with one, strips of the piece's width or any."""

    dear: bool
    tight: bool


CHEAP = (Taken(False, True), Taken(False, False))
DEAR = (Taken(True, False),)


@dataclass(slots=True)
class _Strip:
    area: Area
    width: int
    rest: int
    faces: list[int] = field(default_factory=list)


@dataclass(slots=True)
class _Area:
    area: Area
    rest: int
    strips: list[_Strip] = field(default_factory=list)


@dataclass(slots=True)
class _Bench:
    """The plan as it grows."""

    cutting: Cutting
    order: Sequence[int]
    """Stock, the preferred first."""
    tight: bool
    """Whether strips of a piece's own width, even new ones, go before wider ones."""
    left: list[int | None]
    opened: list[tuple[int, int, list[_Area]]] = field(default_factory=list)
    areas: list[_Area] = field(default_factory=list)
    strips: list[_Strip] = field(default_factory=list)

    def place(self, faces: Sequence[int]) -> bool:
        """Put one piece, by one of its faces, where it first fits."""
        return any(
            step(face, taken)
            for taken in (CHEAP[not self.tight :] + DEAR)
            for step in (self._in_strip, self._in_area, self._in_stock)
            for face in faces
        )

    def _allowed(self, area: Area, width: int, face: int, taken: Taken) -> bool:
        cutting = self.cutting
        rate, rest = cutting.penalty[area.kind][face], width - cutting.faces[face].across
        return (
            rate is not None
            and (rate > 0) == taken.dear
            and cutting.trims(rest)
            and (rest == 0 or not taken.tight)
        )

    def _in_strip(self, face: int, taken: Taken) -> bool:
        along = self.cutting.faces[face].along
        for strip in self.strips:
            rest = strip.rest - along
            if self.cutting.rests(strip.area.kind, rest) and self._allowed(
                strip.area, strip.width, face, taken
            ):
                strip.rest = rest
                strip.faces.append(face)
                return True
        return False

    def _in_area(self, face: int, taken: Taken) -> bool:
        return any(self._cut_strip(area, face, taken) for area in self.areas)

    def _width(self, area: Area, rest: int, face: int, taken: Taken) -> int | None:
        """The narrowest strip for it that the area still gives."""
        if not self.cutting.rests(area.kind, area.along - self.cutting.faces[face].along):
            return None
        fitting = (
            width
            for width in sorted(area.widths)
            if self.cutting.rests(area.kind, rest - width)
            and self._allowed(area, width, face, taken)
        )
        return next(fitting, None)

    def _cut_strip(self, place: _Area, face: int, taken: Taken) -> bool:
        width = self._width(place.area, place.rest, face, taken)
        if width is None:
            return False
        place.rest -= width
        rest = place.area.along - self.cutting.faces[face].along
        strip = _Strip(place.area, width, rest, [face])
        place.strips.append(strip)
        self.strips.append(strip)
        return True

    def _in_stock(self, face: int, taken: Taken) -> bool:
        for index in self.order:
            if self.left[index] == 0:
                continue
            for at, way in enumerate(self.cutting.stocks[index].ways):
                if any(self._width(a, a.across, face, taken) is not None for a in way.areas):
                    self._open(index, at)
                    return self._in_area(face, taken)
        return False

    def _open(self, index: int, way: int) -> None:
        areas = [_Area(a, a.across) for a in self.cutting.stocks[index].ways[way].areas]
        self.opened.append((index, way, areas))
        self.areas += areas
        left = self.left[index]
        self.left[index] = None if left is None else left - 1


def first_fit(
    cutting: Cutting,
    demand: Sequence[int],
    left: Sequence[int | None],
    order: Sequence[int],
    by: Callable[[Face], tuple[int, ...]],
    tight: bool,
) -> Plan:
    """Pieces one by one, the greatest ``by`` first, each where it first fits."""
    bench = _Bench(cutting, order, tight, list(left))
    faces: dict[int, list[int]] = {item: [] for item in range(len(demand))}
    for index, face in enumerate(cutting.faces):
        if face.number == 1:
            faces[face.item].append(index)
    short = [0] * len(demand)
    for item in sorted(faces, key=lambda i: by(cutting.faces[faces[i][0]]), reverse=True):
        for done in range(demand[item]):
            if not bench.place(faces[item]):
                short[item] = demand[item] - done
                break
    used = [
        Used(stock, way, [[Strip(s.width, tuple(s.faces)) for s in a.strips] for a in areas])
        for stock, way, areas in bench.opened
    ]
    return Plan(tuple(used), tuple(short))


def best_first_fit(
    cutting: Cutting, demand: Sequence[int], left: Sequence[int | None], variants: int
) -> Plan:
    """The best of first fit decreasing over orders of the stock and of the pieces.

    Stock at hand is used before anything is bought, its shortest or its longest first; each kind that
    can be bought is once the preferred one. Pieces go by their length, and once by their width; into any
    strip that is open, and once into strips of their own width before any other.
    """
    plans = [
        shrunk(first_fit(cutting, demand, left, order, by, tight), cutting, left)
        for order in list(_orders(cutting))[:variants]
        for tight in (True, False)
        for by in (lambda face: (face.along, face.across), lambda face: (face.across, face.along))
    ]
    return better(plans, cutting)


def _orders(cutting: Cutting) -> Iterator[list[int]]:
    stocks = cutting.stocks
    hand = [i for i, stock in enumerate(stocks) if stock.count is not None]
    bought = [i for i, stock in enumerate(stocks) if stock.count is None]

    def size(index: int) -> int:
        return sum(area.along * area.across for way in stocks[index].ways[:1] for area in way.areas)

    by_rate = sorted(bought, key=lambda i: stocks[i].cost / max(size(i), 1))
    for at in range(max(len(by_rate), 1)):
        rest = by_rate[at : at + 1] + by_rate[:at] + by_rate[at + 1 :]
        yield sorted(hand, key=size) + rest
        if hand:
            yield sorted(hand, key=size, reverse=True) + rest


def shrunk(plan: Plan, cutting: Cutting, left: Sequence[int | None]) -> Plan:
    """The plan with each piece of stock exchanged for the cheapest that gives the same strips."""
    free = list(left)
    for used in plan.used:
        number = free[used.stock]
        free[used.stock] = None if number is None else number - 1
    cheap = sorted(range(len(cutting.stocks)), key=lambda i: cutting.stocks[i].cost)
    changed = []
    for used in plan.used:
        now = used
        if len(used.areas) == 1:
            for index in cheap:
                if cutting.stocks[index].cost >= cutting.stocks[used.stock].cost:
                    break
                other = None if free[index] == 0 else _moved(used, index, cutting)
                if other is not None:
                    for stock, step in ((index, -1), (used.stock, 1)):
                        number = free[stock]
                        free[stock] = None if number is None else number + step
                    now = other
                    break
        changed.append(now)
    return Plan(tuple(changed), plan.short)


def _moved(used: Used, index: int, cutting: Cutting) -> Used | None:
    """The same strips from another stock of one area, if they fit there at no greater penalty."""
    before = cutting.stocks[used.stock].ways[used.way].areas[0]
    strips = used.areas[0]
    faces = {face for strip in strips for face in strip.faces}
    across = sum(strip.width for strip in strips)
    for at, way in enumerate(cutting.stocks[index].ways):
        if len(way.areas) != 1:
            continue
        area = way.areas[0]
        fits = (
            cutting.rests(area.kind, area.across - across)
            and {strip.width for strip in strips} <= set(area.widths)
            and all(
                cutting.rests(
                    area.kind, area.along - sum(cutting.faces[f].along for f in strip.faces)
                )
                for strip in strips
            )
            and all(cutting.penalty[area.kind][f] == cutting.penalty[before.kind][f] for f in faces)
        )
        if fits:
            return Used(index, at, [list(strips)])
    return None
