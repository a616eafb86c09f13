"""What two-dimensional conduction finds in a section of the window, and what it is asked with."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sashwright.physics.glazing.layers import BARE_EMISSIVITY
from sashwright.window.layout import Which

Array = NDArray[np.float64]

Convention = Literal["en", "na"]
"""ISO 10077-2, or ISO 15099 with the films of the North American rating."""
StormPlace = Literal["none", "exterior", "interior"]
Gaps = Sequence[float]
"""Conductance of each space of the glazing from outdoors to the room [W/(m2 K)]: the spaces of a sealed
unit, and the one to the storm in its place among them."""


@dataclass(frozen=True, slots=True)
class InteriorStorm:
    """A flat panel before the whole window, on the room side.

    ``distance`` from the room face of the lower sash to the panel [m]; ``thickness`` [m];
    ``conductivity`` [W/(m K)]; emissivities of its faces [-], used only where no conductance of the
    space is given.
    """

    distance: float
    thickness: float
    conductivity: float
    emissivity_outside: float = BARE_EMISSIVITY
    emissivity_inside: float = BARE_EMISSIVITY

    def __post_init__(self) -> None:
        if min(self.distance, self.thickness, self.conductivity) <= 0:
            raise ValueError(
                f"found an interior storm {self.distance} m inside the sash, {self.thickness} m thick, "
                f"of {self.conductivity} W/(m K), expected all three above 0"
            )


@dataclass(frozen=True)
class Field:
    """Temperatures in a section, to draw lines of equal warmth.

    ``nodes`` (x or z, y) [m], shape (nodes, 2), in the coordinates of the section's drawing: z and y in
    upright sections, x and z in level ones. ``triangles`` node numbers, shape (triangles, 3).
    ``temperatures`` at the nodes [°C]; ``factors`` the same as shares of the difference between outdoors
    (0) and the room (1). ``materials`` one word for each triangle.
    """

    nodes: Array
    triangles: NDArray[np.int64]
    temperatures: Array
    factors: Array
    materials: tuple[str, ...]


@dataclass(frozen=True)
class SectionFlow:
    """Heat through one section, for each metre of its length."""

    name: str
    """Its key: ``head``, ``jamb_upper``, ``jamb_lower``, ``meeting``, ``sill``, ``muntin_upper``,
    ``muntin_lower``, ``mullion_upper``, ``mullion_lower``."""
    title: str
    """In words, such as ``jamb with the stile of the lower sash``."""
    convention: Convention
    storm: StormPlace
    sash: tuple[Which, ...]
    """Whose glass stands at its edges, one for each edge."""
    width: float
    """Projected width of the frame, sight line to the edge of the frame or to the other sight line [m]."""
    inside_opening: float
    """Part of it within the sash opening [m]."""
    glass: float
    """Visible length of glass in the model at each edge [m]."""
    edges: int
    """How many edges of glazing it has: 1, or 2 where there is glass on both sides of the frame."""
    u_glass: tuple[float, ...]
    """Of the glazing at its centre, one for each edge, by the films used here [W/(m2 K)]."""
    u_frame: float
    """Of the frame: with an insulating panel for glass (``en``), with the glass itself (``na``)
    [W/(m2 K)]."""
    psi: float | None
    """Added by each metre of glazing edge (``en``) [W/(m K)]; below 0 where the edge saves heat."""
    u_edge: float | None
    """Of the band of glazing 63.5 mm from the sight line (``na``) [W/(m2 K)]."""
    flow: float
    """Into the section from the room, real glass in place, at the convention's temperatures [W/m]."""
    conductance: float
    """The same for 1 K of difference [W/(m K)]."""
    outdoors: float
    room: float
    """Temperatures of both sides [°C]."""
    factor_glass: float
    """Lowest surface temperature factor on the room side of the glass: 0 as outdoors, 1 as the room."""
    factor_frame: float
    """The same on wood."""
    factor_prime_glass: float
    """The same on the room face of the prime glass; another than the first only behind an interior
    storm."""
    factor_prime_frame: float
    """The same on the wood round the prime glass, behind the interior storm."""
    factor_storm: float | None
    """Lowest on the face of an exterior storm's glass towards the space; none without."""
    left_out: tuple[str, ...]
    """What is in the window, and conducts, but not in the model; in words."""
    field: Field
