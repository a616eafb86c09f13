"""What comes of cutting glass: sheets, the cuts in their order, and lites in their places."""

from __future__ import annotations

from dataclasses import dataclass

from sashwright.chapters.make.panes import Lite, Sheet
from sashwright.chapters.make.plan import Plan


@dataclass(frozen=True, slots=True)
class PlacedLite:
    """A lite on its sheet, from the sheet's lower left corner [m]; ``turned`` where it lies across."""

    label: str
    x: float
    y: float
    width: float
    height: float
    turned: bool
    arched: bool


@dataclass(frozen=True, slots=True)
class CutSheet:
    """One sheet of the plan."""

    sheet: Sheet
    upright: bool
    """Whether the first cuts, which part the strips, run up the sheet; else they run across it."""
    lites: tuple[PlacedLite, ...]

    @property
    def used(self) -> float:
        """Area of its lites, of the sheet's [-]."""
        return sum(lite.width * lite.height for lite in self.lites) / self.sheet.area


@dataclass(frozen=True, slots=True)
class MissingLite:
    """Lites that no sheet is left for, and why."""

    lite: Lite
    count: int
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class GlassPlan(Plan):
    """Which lites from which sheet; the bound is for plans of strips, pieces and trims."""

    sheets: tuple[CutSheet, ...]
    missing: tuple[MissingLite, ...]
    area_bound: float
    """No plan at all costs less, guillotine or not: the lites' area at the cheapest glass there is."""

    @property
    def glass_yield(self) -> float:
        """Lites over sheets, by area [-]; nought where nothing is cut."""
        total = sum(each.sheet.area for each in self.sheets)
        lites = sum(each.used * each.sheet.area for each in self.sheets)
        return lites / total if total else 0.0
