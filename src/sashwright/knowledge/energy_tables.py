"""The house round the windows: what its walls lose, what heats and cools it, what that burns."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sashwright.knowledge.rows import KnowledgeError, Row, si

FabricPart = Literal["wall", "ceiling", "floor"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fabric(Row):
    """An opaque part of the house.

    ``u_value`` is of the whole part, films included; ``capacity`` the heat it stores on the room side, by
    area.
    """

    part: FabricPart
    u_value: float = si("W/(m2 K)")
    capacity: float = si("J/(m2 K)")


@dataclass(frozen=True, slots=True, kw_only=True)
class Fuel(Row):
    """What heating and cooling run on.

    ``unit`` is what it is sold by, ``energy`` the heat in one (higher heating value), ``carbon`` what one
    joule gives off [kg CO2/J]. ``price`` of one unit is a dated figure to be written over with the house's
    own bills.
    """

    unit: str
    energy: float = si("J")
    carbon: float = si("kg/J")
    price: float
    currency: str = "USD"
    priced: str = ""

    def __post_init__(self) -> None:
        if self.energy <= 0:
            raise KnowledgeError(f"found an energy of {self.energy:g} J, expected more than 0")


@dataclass(frozen=True, slots=True, kw_only=True)
class Plant(Row):
    """A furnace, boiler, heat pump or air conditioner.

    ``yield_`` columns are heat moved over energy bought, by the season: low, likely and high.
    """

    does: Literal["heating", "cooling"]
    fuel: str
    """A row of the fuel table."""
    yield_low: float
    yield_likely: float
    yield_high: float

    def __post_init__(self) -> None:
        if not 0 < self.yield_low <= self.yield_likely <= self.yield_high:
            raise KnowledgeError(
                f"found yields of {self.yield_low:g}, {self.yield_likely:g}, {self.yield_high:g}, "
                "expected low, likely and high in rising order, above 0"
            )
