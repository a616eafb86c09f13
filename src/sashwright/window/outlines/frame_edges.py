"""Where the pieces of a frame lie in elevation and through the wall, from its specification.

The specification gives sizes; how they are put together is the trade's common way: the blind stop
is planted against the edge of the pulley stile, the outside casing on the blind stop, the inside
stop against the lower sash, the stool over the inner edge of the sill.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from sashwright.units import INCH
from sashwright.window.bands import Arc
from sashwright.window.layout import SashLayout, WindowLayout

SILL_BEARING = 0.75 * INCH
"""Of the sill's inner edge beyond the lower sash, under the stool [m]; common practice."""
STOOL_RISE = 0.5 * INCH
"""Of the stool's top over the sill at the sash [m]; common practice, the family does not say."""
STOOL_NOSE = 1.25 * INCH
"""Of the stool beyond the inside casing [m]; common practice."""


@dataclass(frozen=True)
class FrameEdges:
    """Edges of the frame's pieces, measured outward from the sash opening [m], and depths z [m]."""

    layout: WindowLayout

    # --- outward from the opening's edge ---

    @property
    def blind_edge(self) -> float:
        return -self.layout.family.frame.blind_stop_projection

    @property
    def casing_edge(self) -> float:
        """Inner edge of the outside casing: the side of the storm rabbet."""
        return self.blind_edge + self.layout.family.frame.storm_rabbet_width

    @property
    def casing_far(self) -> float:
        return self.casing_edge + self.layout.family.frame.casing_width

    @property
    def bead_edge(self) -> float:
        return -self.layout.family.frame.parting_bead_projection

    @property
    def stop_edge(self) -> float:
        return -self.layout.family.frame.inside_stop_thickness

    @property
    def pocket_edge(self) -> float:
        """Back of the pulley stile."""
        return self.layout.family.frame.pulley_stile

    @property
    def pocket_far(self) -> float:
        return self.pocket_edge + self.layout.family.pocket.across

    # --- through the wall ---

    @property
    def blind_in(self) -> float:
        frame, upper = self.layout.family.frame, self.layout.upper
        return -frame.parting_bead_thickness - frame.track_play - upper.thickness

    @property
    def blind_out(self) -> float:
        """Outer face of the blind stop: back of the outside casing and of the storm sash."""
        return self.blind_in - self.layout.family.frame.blind_stop_thickness

    @property
    def casing_out(self) -> float:
        return self.blind_out - self.layout.family.frame.casing_thickness

    @property
    def stop_out(self) -> float:
        """Face of the inside stop that the lower sash slides on."""
        return self.layout.lower.thickness + self.layout.family.frame.track_play

    @property
    def stop_in(self) -> float:
        return self.stop_out + self.layout.family.frame.inside_stop_width

    @property
    def wall_in(self) -> float:
        """Back of the inside casing; never short of the inside stop."""
        return max(self.blind_out + self.layout.family.frame.wall_thickness, self.stop_in)

    @property
    def casing_in(self) -> float:
        return self.wall_in + self.layout.family.frame.inside_casing_thickness

    @property
    def pocket_depths(self) -> tuple[float, float]:
        """Outer and inner face of the weight pocket's clear space.

        The family gives its depth only, so it is set about the two weights as far as blind stop and
        wall let it; a deeper one runs past the blind stop.
        """
        layout = self.layout
        depth, room = layout.family.pocket.depth, self.wall_in - self.blind_in
        if depth >= room:
            return max(self.wall_in - depth, self.blind_out), self.wall_in
        middle = (hanging_depth(layout.upper) + hanging_depth(layout.lower)) / 2
        out = min(max(middle - depth / 2, self.blind_in), self.wall_in - depth)
        return out, out + depth

    # --- sill and stool ---

    @cached_property
    def slope(self) -> float:
        return math.tan(math.radians(self.layout.family.frame.sill_slope))

    def sill_height(self, z: float) -> float:
        """Top of the sill at depth ``z``."""
        return z * self.slope

    @property
    def sill_nose(self) -> float:
        return self.casing_out - self.layout.family.frame.sill_projection

    @property
    def sill_inner(self) -> float:
        return min(self.stop_out + SILL_BEARING, self.wall_in)

    @property
    def sill_drop(self) -> float:
        """Thickness of the sill measured plumb."""
        slope = math.radians(self.layout.family.frame.sill_slope)
        return self.layout.family.frame.sill_thickness / math.cos(slope)

    @property
    def stool_top(self) -> float:
        at_sash = self.sill_height(self.stop_out)
        if self.layout.family.frame.stool_thickness == 0:
            return at_sash
        return max(at_sash + STOOL_RISE, self.sill_height(self.sill_inner))

    @property
    def stool_nose(self) -> float:
        return self.casing_in + STOOL_NOSE

    # --- elevation ---

    def edge_height(self, out: float) -> float:
        """Head of the outline ``out`` beyond the opening, at its sides."""
        layout = self.layout
        if layout.head_arc is None:
            return layout.window.height + out
        arc = layout.head_arc
        return Arc(arc.centre, arc.radius + out).height(layout.window.width / 2 + out)

    def crown(self, out: float) -> float:
        """Highest point of the outline ``out`` beyond the opening."""
        return self.layout.window.height + out


def hanging_depth(sash: SashLayout) -> float:
    """Depth z at which the cords and weights of a sash hang: over its middle [m]."""
    return sash.face + sash.thickness / 2
