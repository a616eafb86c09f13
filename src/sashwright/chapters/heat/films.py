"""What stands on both sides of a section by either convention: temperatures and films."""

from __future__ import annotations

from dataclasses import dataclass

from sashwright.chapters.heat.cut import Edge
from sashwright.chapters.heat.exposed import Stretch
from sashwright.chapters.heat.flows import Convention
from sashwright.physics.conduction import Boundary
from sashwright.physics.constants import STEFAN_BOLTZMANN
from sashwright.physics.frame_cavity import EMISSIVITY

OUTSIDE_RESISTANCE = 0.04
"""Rse [m2 K/W]; ISO 10077-2."""
INSIDE_RESISTANCE = 0.13
"""Rsi [m2 K/W]; ISO 10077-2."""
CORNER_RESISTANCE = 0.20
"""Rsi where faces of a step see each other [m2 K/W]; ISO 10077-2."""
WOOD_CONVECTION = 2.44
"""Along the room side of wooden frames [W/(m2 K)]; NFRC 100 (from memory)."""
WIND_CONVECTION = 26.0
"""Along all of the outside, in a wind of 5.5 m/s [W/(m2 K)]; NFRC 100 (from memory)."""

_FACES = 288.0, 257.0  # of a wooden frame in the rating's winter, room side and outside [K]

TEMPERATURES: dict[Convention, tuple[float, float]] = {"en": (0.0, 20.0), "na": (-18.0, 21.0)}
"""Outdoors and room [°C]: ISO 10077-2; NFRC 100 (from memory)."""


def radiated(kelvin: float) -> float:
    """Film for radiation between a wooden face and surroundings nearly as warm [W/(m2 K)]."""
    return 4 * EMISSIVITY * STEFAN_BOLTZMANN * kelvin**3


@dataclass(frozen=True, slots=True)
class Films:
    """The films of one convention."""

    convention: Convention

    def glass(self, edge: Edge) -> tuple[float, float]:
        """Over the glass at an edge, outdoors and in the room [W/(m2 K)]."""
        if self.convention == "en":
            return 1 / OUTSIDE_RESISTANCE, 1 / INSIDE_RESISTANCE
        return edge.films

    def frame(self) -> tuple[float, float]:
        """Over wood, outdoors and in the room [W/(m2 K)]."""
        if self.convention == "en":
            return 1 / OUTSIDE_RESISTANCE, 1 / INSIDE_RESISTANCE
        room, outside = _FACES
        return WIND_CONVECTION + radiated(outside), WOOD_CONVECTION + radiated(room)

    def boundary(self, stretch: Stretch, edges: tuple[Edge, ...]) -> Boundary:
        """Its film."""
        inside = stretch.where == "room"
        temperature = TEMPERATURES[self.convention][inside]
        if self.convention == "en" and inside and stretch.reduced:
            return Boundary(stretch.path, temperature, CORNER_RESISTANCE)
        films = self.glass(edges[stretch.edge]) if stretch.glass else self.frame()
        return Boundary(stretch.path, temperature, 1 / films[inside])
