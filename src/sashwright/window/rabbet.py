"""The rabbet outside the sash: where storm sash and screens hang, and what it leaves them.

It is bounded by the outside casing at the sides and the head, by the blind stop behind, by the sloping sill
below. Coordinates are those of ``spec``, all [m].
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from sashwright.window.bands import Arc
from sashwright.window.layout import WindowLayout


@dataclass(frozen=True, slots=True)
class Fitted:
    """The outline of a piece that hangs in a rabbet, its clearances taken off."""

    half: float
    """Half of its width."""
    bottom: float
    """Of its bevelled foot, at its weather face."""
    top: float
    """At the crown, if arched."""
    face: float
    """Depth z of its weather face."""
    slope: float
    """Rise of its foot per unit of depth."""
    arc: Arc | None

    @property
    def width(self) -> float:
        return 2 * self.half

    @property
    def height(self) -> float:
        return self.top - self.bottom


@dataclass(frozen=True)
class StormRabbet:
    """The rabbet of one window."""

    layout: WindowLayout

    @property
    def width(self) -> float:
        """Across one side: how much of the blind stop's face a piece can lap."""
        return self.layout.family.frame.storm_rabbet_width

    @property
    def out(self) -> float:
        """From the edge of the sash opening out to the casing; less than zero where it overhangs."""
        return self.width - self.layout.family.frame.blind_stop_projection

    @property
    def half(self) -> float:
        """Half of the width between the casings."""
        return self.layout.window.width / 2 + self.out

    @property
    def top(self) -> float:
        """Height of the casing's edge at the head, at the crown if arched."""
        return self.layout.window.height + self.out

    @property
    def arc(self) -> Arc | None:
        """The casing's edge over an arched head."""
        head = self.layout.head_arc
        return None if head is None else Arc(head.centre, head.radius + self.out)

    @property
    def back(self) -> float:
        """Depth z of the blind stop's outer face, which the pieces lie against."""
        frame = self.layout.family.frame
        sash = frame.parting_bead_thickness + frame.track_play + self.layout.upper.thickness
        return -sash - frame.blind_stop_thickness

    @property
    def slope(self) -> float:
        """Of the sill [-]."""
        return math.tan(math.radians(self.layout.family.frame.sill_slope))

    def fit(self, thickness: float, clearance: float, sill_gap: float) -> Fitted:
        """The largest piece of a thickness that leaves ``clearance`` at sides and head."""
        half, face = self.half - clearance, self.back - thickness
        arc, top = self.arc, self.top - clearance
        if arc is not None:
            # Never narrower than the piece: the sides' clearance rules in a full arch.
            arc = Arc(arc.centre, max(arc.radius - clearance, half))
        return Fitted(half, self.slope * face + sill_gap, top, face, self.slope, arc)
