"""What a window really opens: the clear gaps over and under its sash, as far as both are moved."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sashwright.physics.openings import USUAL_DISCHARGE
from sashwright.window.escape import clear_opening
from sashwright.window.outlines.frame_edges import FrameEdges
from sashwright.window.resolve import Placed

Array = NDArray[np.float64]

LIGHT_AIR = 0.95
"""β of a woven screen in light air, Re 40 on the gap between wires [-]: Blevins, *Applied Fluid Dynamics
Handbook* (1984), round-wire screens, as open programs have it."""


@dataclass(frozen=True)
class Opens:
    """The two gaps of one window. Heights are above the sill at the parting bead [m]."""

    placed: Placed

    @cached_property
    def _edges(self) -> FrameEdges:
        return FrameEdges(self.placed.layout)

    @cached_property
    def width(self) -> float:
        """Clear, at the narrowest on the way out [m]."""
        return clear_opening(self.placed.layout).width

    @property
    def can_open(self) -> bool:
        """False where a wood storm sash hangs all year."""
        family = self.placed.family
        return family.storm != "all year" or family.storm_sash.kind == "combination"

    @property
    def opens_in_winter(self) -> bool:
        """Whether a sash can be opened while the storm is on, or no storm ever is."""
        family = self.placed.family
        return family.storm == "none" or family.storm_sash.kind == "combination"

    @cached_property
    def lower_travel(self) -> float:
        return max(self.placed.layout.travel("lower"), 0.0)

    @cached_property
    def upper_travel(self) -> float:
        return max(self.placed.layout.travel("upper"), 0.0)

    @property
    def sill(self) -> float:
        """Lower edge of the lower gap: the stool, or the sill where it rises above that."""
        return self._edges.stool_top

    @property
    def head(self) -> float:
        """Upper edge of the upper gap: the blind stop's, at the sides if arched."""
        return self.placed.layout.head_at_side - max(-self._edges.blind_edge, 0.0)

    def free(self, lowered: ArrayLike, raised: ArrayLike) -> tuple[Array, Array]:
        """Clear heights over and under the sash, the upper one lowered and the lower one raised so far [m].

        Moved far enough the sash cover each other's gap again.
        """
        layout = self.placed.layout
        down = np.clip(np.asarray(lowered, dtype=np.float64), 0.0, self.upper_travel)
        up = np.clip(np.asarray(raised, dtype=np.float64), 0.0, self.lower_travel)
        upper, lower = layout.upper, layout.lower
        top = layout.head_at_side if upper.arc is not None else upper.top
        under = np.minimum(lower.bottom + up, upper.stile_bottom - down) - self.sill
        over = self.head - np.maximum(top - down, lower.stile_top + up)
        return np.maximum(over, 0.0), np.maximum(under, 0.0)

    @cached_property
    def widest(self) -> tuple[float, float]:
        """Clear heights over and under, each with the other sash shut [m]."""
        over, _ = self.free(self.upper_travel, 0.0)
        _, under = self.free(0.0, self.lower_travel)
        return float(over), float(under)

    def discharge(self, which: str) -> float:
        """Discharge coefficient of a gap, its screen included [-]: √(Cd² / (1 + K Cd²))."""
        screen = self.placed.family.screen
        if screen.kind == "none" or (screen.kind == "half" and which == "upper"):
            return USUAL_DISCHARGE
        openness = self.placed.knowledge.find("mesh", screen.mesh).openness
        loss = screen_loss(openness)
        return float(USUAL_DISCHARGE / np.sqrt(1 + loss * USUAL_DISCHARGE**2))


def screen_loss(openness: float, beta: float = LIGHT_AIR) -> float:
    """Loss coefficient of a woven screen on the speed before it [-]: β (1 - α²) / α²."""
    if not 0 < openness <= 1:
        raise ValueError(f"openness: found {openness:g}, expected above 0, up to 1")
    return beta * (1 - openness**2) / openness**2
