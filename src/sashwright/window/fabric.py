"""What the specification says of the house round the windows: walls, heating, cooling, what they cost."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from sashwright.window.names import Key
from sashwright.window.partial import Model
from sashwright.window.quantities import Percent

Yearly = Annotated[float, Percent(-5, 20)]
"""Change or interest in a year [%]."""


class Fabric(Model):
    """The opaque parts of the house: rows of the fabric table."""

    wall: Key = "wall-frame-empty"
    ceiling: Key = "ceiling-6-in"
    roof: Key = "roof-bare"
    """Over an attic that has rooms or windows of its own."""
    floor: Key = "floor-cellar"
    absorbs: Annotated[float, Field(ge=0, le=1)] = 0.6
    """Share of the sun that the outside of the walls takes up."""


class Running(Model):
    """What heats and cools the house, and what that costs."""

    heating: Key = "gas-middling"
    """A row of the plant table."""
    cooling: Key | None = None
    """A row of the plant table; left out where nothing cools the house."""
    heating_price: Annotated[float, Field(gt=0, le=1000)] | None = None
    """Of one unit of the heating's fuel; a dated figure of the fuel table where not given."""
    electricity_price: Annotated[float, Field(gt=0, le=10)] | None = None
    """Of one kilowatt hour; likewise."""
    fuel_rise: Yearly = 1.0
    """How much faster than other prices the fuel's price rises."""
    discount: Yearly = 3.0
    """Interest over and above the rise of prices."""
    years: Annotated[int, Field(ge=1, le=150)] = 60
    """That the comparison looks ahead."""
    costs: dict[Key, Annotated[float, Field(gt=0, le=1_000_000)]] = {}
    """Of work on one window, by quotes: rows of the measure table with what they cost here."""
