"""Keeping or replacing: what work on a window costs, lasts and is made of, and what others have found."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sashwright.knowledge.rows import KnowledgeError, Row, si


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure(Row):
    """Work on one window that comes again when its life is over.

    Costs are of one window of an ordinary size, work and material; ``area_share`` is the part of it that
    goes with the area of the opening. They are starting allowances to be written over with quotes.
    ``carbon`` is what making it gives off, ``landfill`` the mass thrown away, both by area of the opening
    and each time. What ``begins`` later is upkeep: first due after one life.
    """

    begins: Literal["now", "later"]
    cost_low: float
    cost: float
    cost_high: float
    currency: str = "USD"
    area_share: float = 0.5
    life_years_low: float
    life_years: float
    life_years_high: float
    carbon: float = si("kg/m2")
    landfill: float = si("kg/m2")

    def __post_init__(self) -> None:
        for name, low, likely, high in (
            ("cost", self.cost_low, self.cost, self.cost_high),
            ("life", self.life_years_low, self.life_years, self.life_years_high),
        ):
            if not 0 < low <= likely <= high:
                raise KnowledgeError(
                    f"found a {name} of {low:g}, {likely:g}, {high:g}, expected low, likely and high in "
                    "rising order, above 0"
                )
        if not 0 <= self.area_share <= 1:
            raise KnowledgeError(f"found an area share of {self.area_share:g}, expected 0 to 1")


@dataclass(frozen=True, slots=True, kw_only=True)
class Study(Row):
    """What a published study found, as a range of one quantity.

    ``of`` is the alternative that it speaks of, ``against`` what it was compared with.
    """

    quantity: Literal["payback in years", "share of heating saved", "saved with one window a year"]
    of: str
    against: str
    low: float
    high: float
    unit: str

    def __post_init__(self) -> None:
        if self.low > self.high:
            raise KnowledgeError(
                f"found {self.low:g} to {self.high:g}, expected the lower figure first"
            )
