"""A small house in plan, to be followed through a year: two rooms below, one above, and its weather."""

from __future__ import annotations

from functools import cache
from typing import Any

from sashwright.chapters.building import Building, building
from sashwright.chapters.weather import year_of
from sashwright.knowledge.climate_load import gazetteer
from sashwright.physics.hourly_year import HourlyYear
from sashwright.window.spec import House
from tests.chapters.houses import KNOWLEDGE, house_of

FAMILY = {"storm": "winter", "screen": {"kind": "half"}}
ROOMS = {
    "kitchen": {"width": "12'", "depth": "12'", "height": "8'", "use": "day", "people": 0.5},
    "parlor": {"left": "12'", "width": "12'", "depth": "12'", "height": "8'", "use": "day"},
    "bedroom": {
        "storey": 2, "width": "24'", "depth": "12'", "height": "8'", "use": "night", "people": 0.6,
    },
}  # fmt: skip
DOORS = [
    {"between": ["kitchen", "parlor"], "width": "32", "height": "80"},
    {"between": ["kitchen", "bedroom"], "kind": "stair", "width": "36", "height": "96"},
]
LOW = {"width": "32", "height": "60", "sill_above_floor": "30", "sill_above_ground": "50"}
HIGH = {
    "width": "32", "height": "60", "storey": 2, "room": "bedroom", "sill_above_floor": "30",
    "sill_above_ground": "13'-4\"",
}  # fmt: skip
WINDOWS = (
    {**LOW, "room": "kitchen", "wall": "south"},
    {**LOW, "room": "parlor", "wall": "east"},
    {**HIGH, "wall": "north"},
    {**HIGH, "wall": "south"},
)
BOX = {"rooms": ROOMS, "doors": DOORS, "changeover": {"front": "south"}}


def cottage(*windows: dict[str, Any], family: dict[str, Any] | None = None, **house: Any) -> House:
    """Two rooms under a bedroom, 24 by 12 ft, four windows; what is given is put over that."""
    return house_of(FAMILY if family is None else family, *(windows or WINDOWS), **{**BOX, **house})


@cache
def year_in(place: str) -> HourlyYear:
    return year_of(gazetteer().find(place))


def made(*windows: dict[str, Any], place: str = "Sacramento, CA", **house: Any) -> Building:
    return building(cottage(*windows, **house), KNOWLEDGE, year_in(place))


@cache
def usual() -> Building:
    """The cottage in a warm dry place."""
    return made()
