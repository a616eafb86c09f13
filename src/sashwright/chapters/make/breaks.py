"""A sheet's plan as the glazier breaks it: every break from edge to edge in its order, and what is left."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sashwright.chapters.make.glass_plan import CutSheet, PlacedLite
from sashwright.chapters.make.panes import Table

SLIVER = (0.0006, 0.003)
"""Less than half the least strip, within these, beside a lite is the rounding of the plan [m]."""


_DEEPEST = 6


@dataclass(frozen=True, slots=True)
class Region:
    """A piece of the sheet, from the sheet's lower left corner [m]."""

    left: float
    low: float
    right: float
    high: float

    @property
    def width(self) -> float:
        return self.right - self.left

    @property
    def height(self) -> float:
        return self.high - self.low

    def span(self, *, upright: bool) -> tuple[float, float]:
        """From and to across the breaks that run up the sheet, or across it."""
        return (self.left, self.right) if upright else (self.low, self.high)

    def between(self, first: float, last: float, *, upright: bool) -> Region:
        if upright:
            return Region(first, self.low, last, self.high)
        return Region(self.left, first, self.right, last)


@dataclass(frozen=True, slots=True)
class Break:
    """One break: straight, over the whole of the piece that is broken [m]."""

    order: int
    upright: bool
    at: float
    start: float
    end: float
    level: int
    """0 trims the sheet, 1 parts strips, 2 pieces, 3 lites; more where a lite is trimmed."""


@dataclass(frozen=True, slots=True)
class Broken:
    """All breaks of a sheet, and the pieces that are nobody's."""

    breaks: tuple[Break, ...]
    waste: tuple[Region, ...]


def broken(cut: CutSheet, table: Table) -> Broken:
    """The order of breaking, found from where the lites lie.

    Raises ``ValueError`` for a plan whose lites no breaks from edge to edge can free.
    """
    work = _Breaking(table)
    sheet = cut.sheet
    whole = Region(0.0, 0.0, sheet.width, sheet.height)
    inner = whole
    if sheet.trim:
        inner = work.trimmed(whole, sheet.trim)
    work.part(inner, list(cut.lites), upright=cut.upright, level=1)
    return Broken(tuple(work.breaks), tuple(work.waste))


class _Breaking:
    """Breaks as they are made, one after another."""

    def __init__(self, table: Table) -> None:
        self.kerf = table.kerf
        self.sliver = min(max(table.least_strip / 2, SLIVER[0]), SLIVER[1])
        self.breaks: list[Break] = []
        self.waste: list[Region] = []

    def trimmed(self, whole: Region, trim: float) -> Region:
        """The two near edges off. The far ones go with what is left beyond the last lite, in one break."""
        self._break(whole, trim - self.kerf, upright=True, level=0)
        narrower = whole.between(trim, whole.right, upright=True)
        self._break(narrower, trim - self.kerf, upright=False, level=0)
        return narrower.between(trim, whole.high, upright=False)

    def part(self, piece: Region, lites: list[PlacedLite], *, upright: bool, level: int) -> None:
        """Break a piece one way, then what came of it the other way, until every lite is free."""
        if not lites:
            self.waste.append(piece)
            return
        if len(lites) == 1 and self._is(piece, lites[0]):
            return
        runs = list(_runs(lites, upright=upright))
        first, last = piece.span(upright=upright)
        parts: list[tuple[Region, list[PlacedLite]]] = []
        for at, (_, end, mine) in enumerate(runs):
            beyond = runs[at + 1][0] - self.kerf if at + 1 < len(runs) else end
            goes_on = at + 1 < len(runs) or last - beyond > self.sliver
            edge = beyond if goes_on else last
            if goes_on:
                self._break(piece, edge, upright=upright, level=level)
            parts.append((piece.between(first, edge, upright=upright), mine))
            first = edge + self.kerf
        if last - first > self.sliver:
            parts.append((piece.between(first, last, upright=upright), []))
        if len(parts) == 1 and level > _DEEPEST:
            raise ValueError("found lites that no break from edge to edge can free")
        for region, mine in parts:
            self.part(region, mine, upright=not upright, level=level + 1)

    def _is(self, piece: Region, lite: PlacedLite) -> bool:
        """Whether the piece is the lite, but for the plan's rounding."""
        rest = max(piece.width - lite.width, piece.height - lite.height)
        return rest <= self.sliver

    def _break(self, piece: Region, at: float, *, upright: bool, level: int) -> None:
        start, end = piece.span(upright=not upright)
        self.breaks.append(Break(len(self.breaks) + 1, upright, at, start, end, level))


def _runs(
    lites: Sequence[PlacedLite], *, upright: bool
) -> Iterator[tuple[float, float, list[PlacedLite]]]:
    """Lites that overlap across the breaks belong together: from, to, and which."""

    def span(lite: PlacedLite) -> tuple[float, float]:
        if upright:
            return lite.x, lite.x + lite.width
        return lite.y, lite.y + lite.height

    start = end = None
    mine: list[PlacedLite] = []
    for lite in sorted(lites, key=lambda each: span(each)[0]):
        low, high = span(lite)
        if start is None or end is None:
            start, end = low, high
        elif low >= end - 1e-6:
            yield start, end, mine
            start, end, mine = low, high, []
        mine.append(lite)
        end = max(end, high)
    if start is not None and end is not None:
        yield start, end, mine
