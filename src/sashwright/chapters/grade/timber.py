"""Sections of sash members and the wood they are of: what they bend and what they bear."""

from __future__ import annotations

from dataclasses import dataclass

from sashwright.knowledge.tables import Wood
from sashwright.physics.beams import SEASONED_OF_DRY, allowable_bending
from sashwright.window.profile import Profile

DRY = 12.0
"""Moisture that the wood table's strength is for [%]."""

STIFFNESS_LOST = 0.13 / 8
"""Stiffness lost for each 1 % of moisture above 12 % [-]: 13 % less at 20 %; Wood Handbook, table 5-16,
effects of moisture (from memory). No gain is counted in drier wood."""

SEASONED = 19.0
WET_STRENGTH = 0.85
"""Up to 19 % wood counts as seasoned; above, its bending strength is 0.85 of that [-]; National Design
Specification, wet service."""

WOOD_SOURCE = (
    "allowable stress of clear wood after ASTM D2555 and D245, 1.6 for the gust's short time; "
    "0.65 of the rupture at 12 % stands for seasoned lumber (judgement)"
)


@dataclass(frozen=True, slots=True)
class Timber:
    """Young's modulus and allowable bending stress under a gust [Pa]."""

    modulus: float
    bending: float


def timber_of(wood: Wood, moisture: float) -> Timber:
    """Of clear, straight-grained wood at a moisture content [%]."""
    above = max(min(moisture, 100 * wood.fibre_saturation) - DRY, 0.0)
    bending = float(allowable_bending(SEASONED_OF_DRY * wood.modulus_rupture, seasoning=1.0))
    return Timber(
        wood.modulus_elasticity * (1 - STIFFNESS_LOST * above),
        bending * (WET_STRENGTH if moisture > SEASONED else 1.0),
    )


@dataclass(frozen=True, slots=True)
class Section:
    """Second moment [m4] and section modulus [m3] of a member, bent through the wall."""

    inertia: float
    modulus: float


def section_of(
    face: float, edge: Profile, glazed: int, added: float = 0.0, *, behind: bool = False
) -> Section:
    """A member net of rabbet and moulding.

    Parameters
    ----------
    face : float
        Its width as seen [m].
    edge : Profile
        How far wood stands back along a glazed edge, through the thickness.
    glazed : int
        Glazed edges: 2 of a bar, 1 of a rail or stile.
    added : float
        Thickness that a check rail has beyond the sash [m], over all of its face.
    behind : bool
        Whether that lies on the room face, as in an upper sash, or on the weather face.
    """
    z, weight = edge.nodes.z, edge.nodes.weight
    wide = (face - glazed * edge.nodes.inset) * weight
    extra, middle = face * added, edge.thickness + added / 2 if behind else -added / 2
    area = float(wide.sum()) + extra
    centre = (float(wide @ z) + extra * middle) / area
    inertia = float(wide @ (z - centre) ** 2) + extra * ((middle - centre) ** 2 + added**2 / 12)
    low, high = min(0.0, middle - added / 2), max(edge.thickness, middle + added / 2)
    return Section(inertia, inertia / max(centre - low, high - centre))


def rectangles(*boards: tuple[float, float]) -> Section:
    """Boards side by side, each (thickness, depth through the wall) [m], that bend by themselves alike."""
    inertia = sum(t * d**3 / 12 for t, d in boards)
    deepest = max(d for _, d in boards)
    return Section(inertia, inertia / (deepest / 2))
