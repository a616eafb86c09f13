"""Parts to cut, boards to cut them from, and the saw."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from sashwright.chapters.make.rough import board_feet
from sashwright.units import INCH

Clear = Literal["must", "wish", "no"]
"""Whether a part must be of clear wood, is better so, or may be of any."""


@dataclass(frozen=True, slots=True)
class LumberPart:
    """Parts alike: rough size [m], thickness in quarters of an inch; the label tells the window."""

    label: str
    length: float
    width: float
    quarters: int
    species: str
    count: int = 1
    clear: Clear = "no"


@dataclass(frozen=True, slots=True)
class Board:
    """Boards alike, at hand (``count``) or to be bought (``count`` None)."""

    label: str
    length: float
    width: float
    quarters: int
    species: str
    rip: bool = False
    """Ripped to strips of the parts' widths; else it is a strip itself."""
    count: int | None = None
    cost: float | None = None
    """In the shop's money, or what a board at hand is worth to it; board feet where not said."""
    clear: bool = False
    defects: tuple[tuple[float, float], ...] = ()
    """From and to, along the board [m]: cut out over its whole width."""

    @property
    def board_feet(self) -> float:
        return board_feet(self.quarters, self.width, self.length)

    @property
    def price(self) -> float:
        return self.board_feet if self.cost is None else self.cost

    def clear_stretches(self, trim: float) -> tuple[tuple[float, float], ...]:
        """From and to, along the board, between its trimmed ends and defects [m]."""
        found, start = [], trim
        for low, high in (*sorted(self.defects), (self.length - trim, self.length)):
            if low > start:
                found.append((start, low))
            start = max(start, high)
        return tuple(found)


@dataclass(frozen=True, slots=True)
class Saw:
    """What sawing takes [m]; sizes of saws and habits of shops, from memory."""

    kerf: float = INCH / 8
    """Of a crosscut."""
    rip_kerf: float = INCH / 8
    end_trim: float = INCH / 2
    """Off each end of a board, for checks; its kerf included."""
    edge_trim: float = INCH / 4
    """Off each edge of a board that is ripped; its kerf included."""
    keep_length: float = 12 * INCH
    """An off-cut at least so long goes back to stock."""
    keep_width: float = 0.0
    """And at least so wide, or as the narrowest part if that is wider."""
    from_wider: bool = False
    """Whether parts may be ripped from strips wider than the narrowest that can be bought for them."""
    wish: float = 0.5
    """How much dearer, as a share, clear wood may be for a part that is better so."""


def check(parts: Sequence[LumberPart], boards: Sequence[Board], saw: Saw) -> None:
    """Raise ``ValueError`` where a size makes no sense."""
    for part in parts:
        if min(part.length, part.width) <= 0 or part.count < 0:
            raise ValueError(
                f"part {part.label!r}: found {part.count} of {part.length:g} by {part.width:g} m, "
                "expected a length and width above 0 and a count of 0 or more"
            )
    for board in boards:
        if min(board.length, board.width) <= 0 or (board.count or 0) < 0:
            raise ValueError(
                f"board {board.label!r}: found {board.length:g} by {board.width:g} m, count "
                f"{board.count}, expected a length and width above 0 and a count of 0 or more"
            )
        if board.price < 0 or (board.count is None and board.price <= 0):
            raise ValueError(
                f"board {board.label!r}: found a cost of {board.price:g}, expected more than 0 for a "
                "board to be bought, 0 or more for one at hand"
            )
        if any(not low < high for low, high in board.defects):
            raise ValueError(f"board {board.label!r}: a defect must end after it begins")
    if min(saw.kerf, saw.rip_kerf, saw.end_trim, saw.edge_trim, saw.wish) < 0:
        raise ValueError("saw: found a kerf, trim or wish below 0, expected 0 or more")
