"""Lites and sheets of one glass as a cutting problem in whole numbers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from sashwright.chapters.make.cutting.problem import Area, Cutting, Face, Stock, Way
from sashwright.chapters.make.grid import NANO, Grid
from sashwright.chapters.make.panes import Lite, Sheet, Table

COST_STEPS = 10_000
"""Costs are reckoned to this part of the money's unit."""
MOST_STEPS = 5_000
"""To the longest sheet: half a millimetre of 2.5 m, less than a hand cuts to."""
ACROSS, UPRIGHT = 0, 1
"""Ways to begin: first cuts across the sheet, or up it. A sheet with trimmed edges is of kind 0 or 1 by
the way, one without of kind 2 or 3."""
UNTRIMMED = 2


@dataclass(frozen=True)
class Group:
    """Lites and sheets of one glass."""

    lites: tuple[Lite, ...]
    sheets: tuple[Sheet, ...]
    table: Table

    @property
    def kind(self) -> str:
        """Its glass."""
        return self.lites[0].glass

    @cached_property
    def grid(self) -> Grid:
        sides = [side for lite in self.lites for side in (lite.width, lite.height)]
        rooms = [side - 2 * s.trim for s in self.sheets for side in (s.width, s.height)]
        rooms = [room for room in rooms if room > 0]
        return Grid.of([*sides, *rooms, self.table.kerf, self.table.least_strip], MOST_STEPS)

    @cached_property
    def _sorted(self) -> tuple[tuple[tuple[Lite, ...], ...], tuple[Lite, ...]]:
        """Lites that fit some sheet, the alike together; and those that fit none."""
        fitting: dict[tuple[object, ...], list[Lite]] = {}
        hopeless = []
        for lite in self.lites:
            if any(self._fits(lite, sheet) for sheet in self.sheets if sheet.count != 0):
                fitting.setdefault((lite.width, lite.height, lite.turns), []).append(lite)
            elif lite.count:
                hopeless.append(lite)
        # Sorted, so that a plan does not hang on the order in which lites were given.
        alike = sorted(
            fitting.values(), key=lambda each: (each[0].height, each[0].width), reverse=True
        )
        return tuple(tuple(each) for each in alike), tuple(hopeless)

    def _fits(self, lite: Lite, sheet: Sheet) -> bool:
        grid = self.grid
        least = 0 if sheet.trim else self._least
        room = [grid.down(max(side - 2 * sheet.trim, 0.0)) for side in (sheet.width, sheet.height)]
        sides = [(lite.width, lite.height), (lite.height, lite.width)]

        def fit(size: float, space: int) -> bool:
            rest = space - grid.up(size)
            return rest == 0 or rest >= max(least, 0)

        return any(
            fit(width, room[0]) and fit(height, room[1])
            for width, height in sides[: 2 if lite.turns else 1]
        )

    @property
    def items(self) -> tuple[tuple[Lite, ...], ...]:
        return self._sorted[0]

    @property
    def hopeless(self) -> tuple[Lite, ...]:
        return self._sorted[1]

    def names(self) -> list[Iterator[Lite]]:
        """For each item its lites one by one, in the order they were given."""
        return [(lite for lite in lites for _ in range(lite.count)) for lites in self.items]

    @property
    def step(self) -> float:
        """One step of the grid [m]."""
        return self.grid.step * NANO

    def turned(self, face: Face, lite: Lite, upright: bool) -> bool:
        """Whether a lite laid so lies across its sheet."""
        along = lite.height if upright else lite.width
        return face.along != self.grid.up(along) + self.kerf

    @property
    def _least(self) -> int:
        return self.grid.up(self.table.least_strip) + self.kerf

    @property
    def kerf(self) -> int:
        return self.grid.up(self.table.kerf)

    @cached_property
    def cutting(self) -> Cutting:
        faces, laid = [], []
        for item, lites in enumerate(self.items):
            lite = lites[0]
            demand = sum(each.count for each in lites)
            sides = {
                (lite.width, lite.height): (True, lite.turns),
                (lite.height, lite.width): (lite.turns, True),
            }
            if lite.width == lite.height:
                sides = {(lite.width, lite.height): (True, True)}
            for (along, across), allowed in sides.items():
                for number in range(1, min(self.table.most_stacked, max(demand, 1)) + 1):
                    size = self.grid.up(along) + self.kerf, self.grid.up(across) + self.kerf
                    faces.append(Face(item, size[0], number * size[1], number))
                    laid.append(allowed)
        rates = [
            tuple(0 if allowed[way] else None for allowed in laid) for way in (ACROSS, UPRIGHT)
        ]
        return Cutting(
            demand=tuple(sum(lite.count for lite in lites) for lites in self.items),
            faces=tuple(faces),
            stocks=tuple(self._stock(sheet, faces) for sheet in self.sheets),
            penalty=(*rates, *rates),
            least_rest=(0, 0, self._least, self._least),
            least_trim=self._least,
        )

    def _stock(self, sheet: Sheet, faces: Sequence[Face]) -> Stock:
        width, height = (
            self.grid.down(max(side - 2 * sheet.trim, 0.0)) + self.kerf
            for side in (sheet.width, sheet.height)
        )
        widths = tuple(sorted({face.across for face in faces if face.number == 1}))
        kind = 0 if sheet.trim else UNTRIMMED
        ways = (
            Way((Area(width, height, widths, kind + ACROSS),)),
            Way((Area(height, width, widths, kind + UPRIGHT),)),
        )
        cost = max(round(sheet.price * COST_STEPS), int(sheet.count is None))
        return Stock(cost, sheet.count, ways)


def groups_of(lites: Sequence[Lite], sheets: Sequence[Sheet], table: Table) -> list[Group]:
    """Lites with the sheets of their glass."""
    kinds = dict.fromkeys(lite.glass for lite in lites)
    return [
        Group(
            tuple(lite for lite in lites if lite.glass == kind),
            tuple(sheet for sheet in sheets if sheet.glass == kind),
            table,
        )
        for kind in kinds
    ]
