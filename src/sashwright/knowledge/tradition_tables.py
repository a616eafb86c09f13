"""What was usual in a place and a time: proportions of sash and frame, patterns of lites. Advice, no rule."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sashwright.knowledge.rows import KnowledgeError, Row, si

HeadShape = Literal["square", "segmental", "full arch"]
BoxPlace = Literal["behind", "within"]
SizeName = Literal[
    "thickness", "stile", "top-rail", "meeting-rail", "bottom-rail", "muntin", "horn",
    "rabbet-width", "rabbet-depth", "moulding-width", "moulding-depth",
    "pulley-stile", "head", "sill", "parting-bead", "bead-projection", "inside-stop",
    "inside-stop-width", "blind-stop", "blind-projection", "track-play", "casing", "brick-mould",
    "pocket", "head-room", "reveal", "bed",
]  # fmt: skip
"""Of the sash; of the frame; between the frame and the opening in the wall."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tradition(Row):
    """A region and a time. Its sizes and its patterns of lites are rows of two tables of their own."""

    region: Literal["New England and mid-Atlantic", "United States", "Britain"]
    from_year: int
    to_year: int
    heads: tuple[HeadShape, ...]
    """The usual one first."""
    meeting: Literal["check", "plain"]
    """How the meeting rails close."""
    moulding: str
    """A row of the moulding table."""
    wood: str
    panes: tuple[str, ...]
    """Rows of the glass table: what a new window of the kind is usually glazed with today."""
    box: BoxPlace
    """How a box frame stands in masonry: behind the outer reveal, or within the opening, its box showing."""
    sill_slope: float
    """In degrees."""
    bias: str
    """Closing bias: a row of the bias table."""

    def __post_init__(self) -> None:
        if self.from_year >= self.to_year:
            raise KnowledgeError(
                f"found years from {self.from_year} to {self.to_year}, expected the earlier one first"
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class TraditionSize(Row):
    """A size that was usual, and between which sizes it is found, in one tradition or in several.

    Of two rows for the same size in one tradition the later one in the table counts, so that a shop's own
    row goes before the package's.
    """

    traditions: tuple[str, ...]
    size: SizeName
    low: float = si("m")
    usual: float = si("m")
    high: float = si("m")

    def __post_init__(self) -> None:
        if not self.low <= self.usual <= self.high:
            raise KnowledgeError(
                f"found {self.low * 1000:g}, {self.usual * 1000:g} and {self.high * 1000:g} mm, expected "
                "the low, the usual and the high size in this order"
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class TraditionLites(Row):
    """A pattern of lites that was usual for sash openings of some width.

    ``ratio`` is the height of a lite of the upper sash over its width, in daylight.
    """

    traditions: tuple[str, ...]
    upper: str
    """Lites wide by high, such as 3x2."""
    lower: str
    standing: Literal["usual", "also"]
    width_low: float = si("m")
    width_high: float = si("m")
    ratio_low: float
    ratio_usual: float
    ratio_high: float

    def __post_init__(self) -> None:
        for grid in (self.upper, self.lower):
            columns, cross, rows = grid.partition("x")
            if not (cross and columns.isdigit() and rows.isdigit() and int(columns) * int(rows)):
                raise KnowledgeError(
                    f"found the lites {grid!r}, expected wide by high, such as 3x2"
                )
        if not 0 < self.ratio_low <= self.ratio_usual <= self.ratio_high:
            raise KnowledgeError(
                f"found the ratios {self.ratio_low:g}, {self.ratio_usual:g} and {self.ratio_high:g}, "
                "expected the low, the usual and the high one in this order, all more than 0"
            )
        if self.width_low >= self.width_high:
            raise KnowledgeError("found no width between the two, expected the lower one first")
