"""How long each joint of a shut window is, and how large the window is."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sashwright.window.bands import Arc
from sashwright.window.layout import Lite, WindowLayout


@dataclass(frozen=True, slots=True)
class Cracks:
    """Lengths [m], counts and areas of what air can pass at in one window."""

    upper_sides: float
    lower_sides: float
    head: float
    """Along the arc, if arched."""
    meeting_rail: float
    sill: float
    pulleys: int
    glass: float
    """Round all lites of both sash."""
    area: float
    """Of the sash opening [m2]."""

    @property
    def joint(self) -> float:
        """All joints of the sash: the trade's two heights and three widths, if the head is square."""
        sides = self.upper_sides + self.lower_sides
        return sides + self.head + self.meeting_rail + self.sill


def cracks_of(layout: WindowLayout) -> Cracks:
    """Joints of a window, measured at its sash opening."""
    window = layout.window
    meets, springs = layout.lower.top, layout.head_at_side
    hung = [sash for sash in (layout.upper, layout.lower) if sash.hung]
    lites = [(sash, lite) for sash in (layout.upper, layout.lower) for lite in sash.lites]
    laps = [sash.spec.rabbet_width - sash.spec.glazing.clearance for sash, _ in lites]
    return Cracks(
        upper_sides=2 * (springs - meets),
        lower_sides=2 * meets,
        head=_head_length(window.width, layout.head_arc),
        meeting_rail=window.width,
        sill=window.width,
        pulleys=2 * len(hung),
        glass=sum(_round(lite, lap) for (_, lite), lap in zip(lites, laps, strict=True)),
        area=window.width * springs + _over_chord(window.width, layout.head_arc),
    )


def _head_length(width: float, arc: Arc | None) -> float:
    return width if arc is None else _arc_length(arc.radius, -width / 2, width / 2)


def _arc_length(radius: float, left: float, right: float) -> float:
    """Along an arc over the middle line, from one upright to another."""
    first, last = (math.asin(max(-1.0, min(1.0, x / radius))) for x in (left, right))
    return radius * (last - first)


def _over_chord(width: float, arc: Arc | None) -> float:
    """Area between an arched head and the level line where it springs [m2]."""
    if arc is None:
        return 0.0
    half = width / 2
    root = math.sqrt(max(arc.radius**2 - half**2, 0.0))
    return arc.radius**2 * math.asin(min(half / arc.radius, 1.0)) - half * root


def _round(lite: Lite, lap: float) -> float:
    """Round the edge of a pane."""
    left, right, low = lite.left - lap, lite.right + lap, lite.bottom - lap
    if lite.arc is None:
        return 2 * (right - left + lite.top + lap - low)
    arc = Arc(lite.arc.centre, lite.arc.radius + lap)
    uprights = arc.height(left) + arc.height(right) - 2 * low
    return right - left + uprights + _arc_length(arc.radius, left, right)
