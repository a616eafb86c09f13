"""Lumber of one wood and thickness as a cutting problem in whole numbers."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from sashwright.chapters.make.boards import Board, LumberPart, Saw
from sashwright.chapters.make.cutting.problem import Area, Cutting, Face, Stock, Way
from sashwright.chapters.make.grid import Grid

COST_STEPS = 10_000
"""Costs are reckoned to this part of the money's unit."""

Stretch = tuple[float, float]


@dataclass(frozen=True)
class Group:
    """Parts and boards of one wood and thickness."""

    parts: tuple[LumberPart, ...]
    boards: tuple[Board, ...]
    saw: Saw

    @property
    def kind(self) -> tuple[str, int]:
        """Its wood and thickness."""
        return self.parts[0].species, self.parts[0].quarters

    @cached_property
    def along(self) -> Grid:
        stretches = (end - start for each in self.stretches for start, end in each)
        return Grid.of([*(p.length for p in self.parts), *stretches, self.saw.kerf])

    @cached_property
    def across(self) -> Grid:
        widths = [part.width for part in self.parts] + [board.width for board in self.boards]
        return Grid.of([*widths, self.saw.rip_kerf, self.saw.edge_trim])

    @property
    def exact(self) -> bool:
        return self.along.exact and self.across.exact

    @cached_property
    def stretches(self) -> tuple[tuple[Stretch, ...], ...]:
        """The clear stretches of each board."""
        return tuple(board.clear_stretches(self.saw.end_trim) for board in self.boards)

    @cached_property
    def _sorted(self) -> tuple[tuple[tuple[LumberPart, ...], ...], tuple[LumberPart, ...]]:
        """Parts that fit some board, the alike together; and those that fit none."""
        fitting: dict[tuple[object, ...], list[LumberPart]] = {}
        hopeless = []
        for part in self.parts:
            if any(self.takes(at, part) for at in range(len(self.boards))):
                fitting.setdefault((part.length, part.width, part.clear), []).append(part)
            elif part.count:
                hopeless.append(part)
        # Sorted, so that a plan does not hang on the order in which parts were given.
        alike = sorted(
            fitting.values(), key=lambda each: (each[0].length, each[0].width), reverse=True
        )
        return tuple(tuple(each) for each in alike), tuple(hopeless)

    def takes(self, at: int, part: LumberPart) -> bool:
        """Whether a part may come from a board: it fits, and no narrower strip can be bought for it."""
        board = self.boards[at]
        return self._fits(at, part) and (board.rip or board.width <= self._widest(part))

    def _widest(self, part: LumberPart) -> float:
        """Width of the narrowest strip that can be bought for a part; endless where any may do."""
        if self.saw.from_wider:
            return math.inf
        return min(
            (
                board.width
                for at, board in enumerate(self.boards)
                if not board.rip and board.count is None and self._fits(at, part)
            ),
            default=math.inf,
        )

    def _fits(self, at: int, part: LumberPart) -> bool:
        board = self.boards[at]
        wide = board.width - (2 * self.saw.edge_trim if board.rip else 0.0)
        return (
            board.count != 0
            and (board.clear or part.clear != "must")
            and self.across.up(part.width) <= self.across.down(wide)
            and any(
                self.along.up(part.length) <= self.along.down(end - start)
                for start, end in self.stretches[at]
            )
        )

    @property
    def items(self) -> tuple[tuple[LumberPart, ...], ...]:
        return self._sorted[0]

    @property
    def hopeless(self) -> tuple[LumberPart, ...]:
        return self._sorted[1]

    @property
    def narrowest(self) -> float:
        return min((part.width for part in self.parts), default=0.0)

    def names(self) -> list[Iterator[LumberPart]]:
        """For each item its parts one by one, in the order they were given."""
        return [(part for part in parts for _ in range(part.count)) for parts in self.items]

    @cached_property
    def _widths(self) -> dict[int, float]:
        """Strips' widths with their kerf, and what they measure [m]."""
        return {
            self._strip(parts[0].width): parts[0].width
            for parts in sorted(self.items, key=lambda parts: parts[0].width)
        }

    def _strip(self, width: float) -> int:
        return self.across.up(width) + self.across.up(self.saw.rip_kerf)

    def width_of(self, strip: int) -> float:
        """Width of a ripped strip [m]."""
        return self._widths[strip]

    @cached_property
    def cutting(self) -> Cutting:
        kerf = self.along.up(self.saw.kerf)
        faces = tuple(
            Face(item, self.along.up(parts[0].length) + kerf, self._strip(parts[0].width))
            for item, parts in enumerate(self.items)
        )
        return Cutting(
            demand=tuple(sum(part.count for part in parts) for parts in self.items),
            faces=faces,
            stocks=tuple(
                Stock(
                    max(round(board.price * COST_STEPS), int(board.count is None)),
                    board.count,
                    (Way(tuple(self._area(board, stretch) for stretch in stretches)),),
                )
                for board, stretches in zip(self.boards, self.stretches, strict=True)
            ),
            penalty=tuple(
                tuple(self._rate_on(parts[0], *kind) for parts in self.items)
                for kind in self._kinds
            ),
            least_rest=(0,) * len(self._kinds),
        )

    def _area(self, board: Board, stretch: Stretch) -> Area:
        kerf = self.across.up(self.saw.rip_kerf)
        trim = self.saw.edge_trim if board.rip else 0.0
        room = self.across.down(board.width - 2 * trim) + kerf
        return Area(
            along=self.along.down(stretch[1] - stretch[0]) + self.along.up(self.saw.kerf),
            across=room,
            widths=tuple(self._widths) if board.rip else (room,),
            kind=self._kinds[board.clear, None if board.rip else board.width],
        )

    @cached_property
    def _rate(self) -> float:
        """Cost of common boards by area: of the cheapest that can be bought, if any can."""
        common = [board for board in self.boards if not board.clear] or list(self.boards)
        bought = [board for board in common if board.count is None] or common
        return min((board.price / (board.length * board.width) for board in bought), default=0.0)

    @cached_property
    def _kinds(self) -> dict[tuple[bool, float | None], int]:
        """Kinds of area: clear or not, and the width of a strip, None of a board that is ripped."""
        kinds = ((board.clear, None if board.rip else board.width) for board in self.boards)
        return {kind: at for at, kind in enumerate(dict.fromkeys(kinds))}

    def _rate_on(self, part: LumberPart, clear: bool, width: float | None) -> int | None:
        """What the part costs on such a board beyond the wood; None where it must not be."""
        if (part.clear == "must" and not clear) or (width or 0.0) > self._widest(part):
            return None
        if part.clear == "no" or clear:
            return 0
        return round(self.saw.wish * self._rate * part.length * part.width * COST_STEPS)


def groups_of(parts: Sequence[LumberPart], boards: Sequence[Board], saw: Saw) -> list[Group]:
    """Parts and boards that have to do with each other: of one wood and thickness, and joined by fits."""
    found = []
    for species, quarters in dict.fromkeys((part.species, part.quarters) for part in parts):
        kind = Group(
            tuple(p for p in parts if (p.species, p.quarters) == (species, quarters)),
            tuple(b for b in boards if (b.species, b.quarters) == (species, quarters)),
            saw,
        )
        found += [Group(mine, stock, saw) for mine, stock in _joined(kind)]
    return found


def _joined(group: Group) -> list[tuple[tuple[LumberPart, ...], tuple[Board, ...]]]:
    """Parts that share a board, however far round, with all the boards that any of them may have."""
    sets: list[tuple[list[int], set[int]]] = []
    for index, part in enumerate(group.parts):
        mine, stock = [index], {at for at in range(len(group.boards)) if group.takes(at, part)}
        apart = []
        for others, theirs in sets:
            if theirs & stock:
                mine, stock = others + mine, stock | theirs
            else:
                apart.append((others, theirs))
        sets = [*apart, (mine, stock)]
    return [
        (
            tuple(group.parts[index] for index in sorted(mine)),
            tuple(group.boards[at] for at in sorted(stock)),
        )
        for mine, stock in sets
    ]
