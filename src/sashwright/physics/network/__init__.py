"""Air between the rooms of a house and outdoors: a network of cracks and openings.

Loads numba, half a second; so it is imported by what needs it, when it needs it.
"""

from sashwright.physics.facing import wall_coefficient, wall_pressures
from sashwright.physics.network.balance import Links
from sashwright.physics.network.hour import solve_hour
from sashwright.physics.network.parts import Crack, Hole, Link, Network, Opening, Zone
from sashwright.physics.network.solve import Solution, solve

__all__ = [
    "Crack",
    "Hole",
    "Link",
    "Links",
    "Network",
    "Opening",
    "Solution",
    "Zone",
    "solve",
    "solve_hour",
    "wall_coefficient",
    "wall_pressures",
]
