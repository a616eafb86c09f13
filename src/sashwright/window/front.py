"""Where the front of a house looks to."""

from __future__ import annotations

from sashwright.window.spec import House


def front_of(house: House) -> float:
    """Bearing of the front of the plan: the wall that the walk starts at, else the first; 0 without any."""
    if house.changeover.front in house.walls:
        return house.walls[house.changeover.front].faces
    return next((wall.faces for wall in house.walls.values()), 0.0)
