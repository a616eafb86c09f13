"""What comes of cutting lumber: boards, strips, parts in their places, off-cuts, and how good the plan is."""

from __future__ import annotations

from dataclasses import dataclass

from sashwright.chapters.make.boards import Board, LumberPart
from sashwright.chapters.make.plan import Plan
from sashwright.chapters.make.rough import board_feet


@dataclass(frozen=True, slots=True)
class Cut:
    """A part on its strip, from and to along the board [m]; ``width`` is the part's own."""

    label: str
    start: float
    end: float
    width: float


@dataclass(frozen=True, slots=True)
class CutStrip:
    """A strip: its edges across the board, the clear stretch it was ripped from, and its parts [m]."""

    near: float
    far: float
    start: float
    end: float
    cuts: tuple[Cut, ...]


@dataclass(frozen=True, slots=True)
class OffCut:
    """What is left and worth keeping: its size, and where it begins along and across the board [m]."""

    length: float
    width: float
    start: float = 0.0
    near: float = 0.0


@dataclass(frozen=True, slots=True)
class CutBoard:
    """One board of the plan."""

    board: Board
    strips: tuple[CutStrip, ...]
    offcuts: tuple[OffCut, ...]

    @property
    def parts_feet(self) -> float:
        """Board feet of its parts."""
        return sum(
            board_feet(self.board.quarters, cut.width, cut.end - cut.start)
            for strip in self.strips
            for cut in strip.cuts
        )


@dataclass(frozen=True, slots=True)
class Missing:
    """Parts that no board is left for, and why."""

    part: LumberPart
    count: int
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LumberPlan(Plan):
    """Which parts from which board; costs count what wished-for clear wood was given up for.

    Parts that would fit no board at all are in ``missing`` and not in the bound.
    """

    boards: tuple[CutBoard, ...]
    missing: tuple[Missing, ...]

    @property
    def offcuts(self) -> tuple[OffCut, ...]:
        return tuple(piece for board in self.boards for piece in board.offcuts)

    @property
    def board_feet(self) -> float:
        """Of all boards cut."""
        return sum(each.board.board_feet for each in self.boards)

    @property
    def wood_yield(self) -> float:
        """Parts over boards, by volume [-]; nought where nothing is cut."""
        total = self.board_feet
        return sum(each.parts_feet for each in self.boards) / total if total else 0.0
