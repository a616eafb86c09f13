"""From the specification of a house to its physics: rooms, fabric, windows and air through a year.

:func:`building` makes a :class:`Building`; a :class:`Scenario` says what people do with it. Loads numba; so
it is imported by what needs it, when it needs it.
"""

from sashwright.chapters.building.glass import Glazed, WindowState
from sashwright.chapters.building.house import Building
from sashwright.chapters.building.make import BuildingError, building
from sashwright.chapters.building.planned import plan_of
from sashwright.chapters.building.rooms import Plan, Zone
from sashwright.chapters.building.scenario import HouseState, Scenario

__all__ = [
    "Building",
    "BuildingError",
    "Glazed",
    "HouseState",
    "Plan",
    "Scenario",
    "WindowState",
    "Zone",
    "building",
    "plan_of",
]
