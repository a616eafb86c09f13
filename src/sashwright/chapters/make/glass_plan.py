"""What comes of cutting glass: sheets, the cuts in their order, and lites in their places."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from sashwright.chapters.make.panes import Lite, Sheet


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


@dataclass(frozen=True, slots=True)
class GlassPlan:
    """Which lites from which sheet; costs in the money of the sheets' prices."""

    sheets: tuple[CutSheet, ...]
    missing: tuple[MissingLite, ...]
    cost: float
    bound: float | None
    """No plan of strips, pieces and trims costs less; None where sheets do not suffice."""
    area_bound: float
    """No plan at all costs less, guillotine or not: the lites' area at the cheapest glass there is."""
    first_fit_cost: float
    exact: bool
    """Whether all sizes are whole steps of one grid; else they were rounded to the safe side."""
    bought: Mapping[str, int] = field(default_factory=dict)

    @property
    def gap(self) -> float | None:
        """What the plan may cost more than the best of its scheme, of its cost [-]."""
        if self.bound is None:
            return None
        return max(self.cost - self.bound, 0.0) / self.cost if self.cost else 0.0

    @property
    def proven(self) -> bool:
        """Whether no plan of strips, pieces and trims is cheaper."""
        return self.gap is not None and self.gap < 1e-9

    @property
    def saved(self) -> float:
        """Against first fit decreasing, of its cost [-]."""
        return 1 - self.cost / self.first_fit_cost if self.first_fit_cost else 0.0

    @property
    def glass_yield(self) -> float:
        """Lites over sheets, by area [-]; nought where nothing is cut."""
        total = sum(each.sheet.area for each in self.sheets)
        lites = sum(each.used * each.sheet.area for each in self.sheets)
        return lites / total if total else 0.0
