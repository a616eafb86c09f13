"""Lites to cut, sheets to cut them from, and the rules of the cutting table."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Lite:
    """Lites alike: cut size [m] and a row of the glass table; an arched one by the rectangle round it."""

    label: str
    width: float
    height: float
    glass: str
    count: int = 1
    turns: bool = True
    """Whether it may lie across the sheet; not so for figured glass, or old glass whose waves run one way."""
    arched: bool = False


@dataclass(frozen=True, slots=True)
class Sheet:
    """Sheets alike, at hand (``count``) or to be bought (``count`` None); an old pane is a small sheet."""

    label: str
    width: float
    height: float
    glass: str
    count: int | None = None
    cost: float | None = None
    """In the shop's money, or what a sheet at hand is worth to it; its area in m2 where not said."""
    trim: float = 0.0
    """Cut off all four edges [m]: nicked, or etched by old putty."""

    @property
    def area(self) -> float:
        return self.width * self.height

    @property
    def price(self) -> float:
        return self.area if self.cost is None else self.cost


@dataclass(frozen=True, slots=True)
class Table:
    """What breaking and cutting ask for [m]."""

    least_strip: float = 0.010
    """The narrowest strip that breaks off cleanly along a score; glaziers' practice, from memory."""
    kerf: float = 0.0
    """A score takes nothing; a saw for laminated glass does."""
    most_stacked: int = 4
    """Like lites one beside the other across a strip, parted by the last cuts."""


def check(lites: Sequence[Lite], sheets: Sequence[Sheet], table: Table) -> None:
    """Raise ``ValueError`` where a size makes no sense."""
    if min(table.least_strip, table.kerf) < 0 or table.most_stacked < 1:
        raise ValueError(
            "cutting table: found a strip or kerf below 0 or none to stack, expected 0 or more, and 1"
        )
    for lite in lites:
        if min(lite.width, lite.height) < max(table.least_strip, 1e-9) or lite.count < 0:
            raise ValueError(
                f"lite {lite.label!r}: found {lite.count} of {lite.width:g} by {lite.height:g} m, "
                f"expected sides of at least {table.least_strip:g} m and a count of 0 or more"
            )
    for sheet in sheets:
        if min(sheet.width, sheet.height) <= 0 or (sheet.count or 0) < 0:
            raise ValueError(
                f"sheet {sheet.label!r}: found {sheet.width:g} by {sheet.height:g} m, count "
                f"{sheet.count}, expected sides above 0 and a count of 0 or more"
            )
        if sheet.price < 0 or (sheet.count is None and sheet.price <= 0):
            raise ValueError(
                f"sheet {sheet.label!r}: found a cost of {sheet.price:g}, expected more than 0 for a "
                "sheet to be bought, 0 or more for one at hand"
            )
        if 0 < sheet.trim < table.least_strip + table.kerf or sheet.trim < 0:
            raise ValueError(
                f"sheet {sheet.label!r}: found a trim of {sheet.trim:g} m, expected none, or at least "
                f"{table.least_strip + table.kerf:g} m, which breaks off cleanly"
            )
