"""The clear opening under a raised lower sash: what a person, or a ball, can get through."""

from __future__ import annotations

from dataclasses import dataclass

from sashwright.window.layout import WindowLayout
from sashwright.window.outlines.frame_edges import FrameEdges


@dataclass(frozen=True, slots=True)
class ClearOpening:
    """The opening that is left with the lower sash as high as it goes. All [m] but the area [m2]."""

    width: float
    height: float
    sill: float
    """Of its lower edge above the sill at the parting bead."""
    travel: float
    """Of the lower sash, stops included."""
    upper_hangs_in: bool
    """Whether the upper sash, shut, and not the lower sash bounds it above."""

    @property
    def area(self) -> float:
        return self.width * self.height


def clear_opening(layout: WindowLayout, stopped: bool = True) -> ClearOpening:
    """The clear opening with the lower sash raised until its stop, its horns or the head holds it.

    Without ``stopped`` a stop that shortens the travel is left out of account.

    It is as wide as the narrowest place on the way out: between the inside stops, the parting beads or
    the blind stops. Below it ends at the stool, or at the sill where it rises above that; above at the
    bottom rail, or at the meeting rail of the upper sash. Horns under the upper sash count as if they
    went all across, so that the figure is never too large.
    """
    frame = layout.family.frame
    edges = FrameEdges(layout)
    in_from_sides = max(
        frame.inside_stop_thickness, frame.parting_bead_projection, frame.blind_stop_projection
    )
    sill = edges.stool_top
    travel = layout.travel("lower") if stopped else layout.full_travel("lower")
    travel = max(travel, 0.0)
    # The bevelled foot is lowest at the weather face, where the sash's bottom is measured.
    under_lower = layout.lower.bottom + travel
    under_upper = layout.upper.stile_bottom
    return ClearOpening(
        max(layout.window.width - 2 * in_from_sides, 0.0),
        max(min(under_lower, under_upper) - sill, 0.0),
        sill,
        travel,
        under_upper < under_lower,
    )
