"""Where everything in a window lies: both sash, their lites and bars, the frame, and the travel.

Coordinates are those of ``spec``: x from the middle of the opening, y up from the sill, z inward from the
inner face of the parting bead, all [m], both sash closed.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from sashwright.window.bands import Arc, Band
from sashwright.window.profile import Profile
from sashwright.window.spec import Family, Sash, Window

Which = Literal["upper", "lower"]


@dataclass(frozen=True, slots=True)
class Lite:
    """The daylight opening of one lite; ``arc`` bounds it above in an arched sash."""

    column: int
    row: int
    left: float
    right: float
    bottom: float
    top: float
    arc: Arc | None = None

    @property
    def width(self) -> float:
        return self.right - self.left

    @property
    def band(self) -> Band:
        """The lite grown on all sides by the inset."""
        return Band(
            self.left, self.right, self.bottom, self.top, -1.0, 1.0, -1.0, 1.0, 0.0, None, self.arc
        )

    def crown(self, grown: float = 0.0) -> float:
        """Highest point of the lite grown by ``grown`` [m]."""
        if self.arc is None:
            return self.top + grown
        nearest = min(max(0.0, self.left - grown), self.right + grown)
        return Arc(self.arc.centre, self.arc.radius + grown).height(nearest)


@dataclass(frozen=True)
class SashLayout:
    """One sash, closed: its outline, rails, lites, and where it stands in the wall."""

    which: Which
    spec: Sash
    profile: Profile
    width: float
    bottom: float
    """Bottom edge (of the lower sash: at its weather face) [m]."""
    top: float
    """Top edge, at the crown of an arched sash [m]."""
    face: float
    """z of the weather face [m]."""
    bottom_rail: float
    top_rail: float
    bevel: float
    """Rise of the bottom edge per unit of depth: the sill's slope for the lower sash, else 0."""
    check: tuple[float, float]
    """Mean thickness added to the meeting rail to close on the other [m], and its change per height [-]."""
    check_length: float
    arc: Arc | None
    """Outer edge of an arched head."""
    hung: bool

    @property
    def half(self) -> float:
        return self.width / 2

    @property
    def height(self) -> float:
        return self.top - self.bottom

    @property
    def thickness(self) -> float:
        return self.spec.thickness

    @property
    def check_reach(self) -> float:
        """How far the closing face stands out from the sash where it is thickest [m]."""
        if self.check_length == 0.0:
            return 0.0
        mean, slope = self.check
        return max(mean + abs(slope) * self.spec.meeting_rail / 2, 0.0)

    @property
    def inner_arc(self) -> Arc | None:
        return None if self.arc is None else Arc(self.arc.centre, self.arc.radius - self.top_rail)

    @property
    def daylight(self) -> tuple[float, float, float, float]:
        """Left, right, bottom, top (at the crown) of the sight lines."""
        sight = self.half - self.spec.stile
        return -sight, sight, self.bottom + self.bottom_rail, self.top - self.top_rail

    @property
    def horns(self) -> tuple[float, float]:
        """Length the stiles run past the sash below and above [m]."""
        horn = self.spec.horn
        return (horn, 0.0) if self.which == "upper" else (0.0, horn)

    @property
    def stile_top(self) -> float:
        """Top of the stile at its outer edge."""
        return self.top + self.horns[1] if self.arc is None else self.arc.height(self.half)

    @property
    def stile_bottom(self) -> float:
        return self.bottom - self.horns[0]

    @cached_property
    def columns(self) -> tuple[tuple[float, float], ...]:
        """Left and right of each column of lites."""
        left, right, _, _ = self.daylight
        return _divide(
            left, right, self.spec.lites.columns, self.spec.lites.column_shares, self.spec.muntin
        )

    @cached_property
    def rows(self) -> tuple[tuple[float, float], ...]:
        """Bottom and top of each row of lites; the top row of an arched sash runs on to the arc.

        Rows under an arch divide the height up to where its sight line springs, so that no bar meets it.
        """
        left, _, bottom, top = self.daylight
        if self.inner_arc is not None:
            top = self.inner_arc.height(left)
        return _divide(
            bottom, top, self.spec.lites.rows, self.spec.lites.row_shares, self.spec.muntin
        )

    @cached_property
    def lites(self) -> tuple[Lite, ...]:
        last = len(self.rows) - 1
        return tuple(
            Lite(c, r, left, right, bottom, top, self.inner_arc if r == last else None)
            for r, (bottom, top) in enumerate(self.rows)
            for c, (left, right) in enumerate(self.columns)
        )


def _divide(
    start: float, end: float, count: int, shares: tuple[float, ...] | None, bar: float
) -> tuple[tuple[float, float], ...]:
    clear = (end - start) - (count - 1) * bar
    weights = shares or (1.0,) * count
    total = sum(weights)
    spans = []
    at = start
    for weight in weights:
        size = clear * weight / total
        spans.append((at, at + size))
        at += size + bar
    return tuple(spans)


@dataclass(frozen=True)
class WindowLayout:
    """A window with both sash closed, and what its frame leaves them."""

    window: Window
    family: Family
    upper: SashLayout
    lower: SashLayout
    head_arc: Arc | None

    def sash(self, which: Which) -> SashLayout:
        return self.upper if which == "upper" else self.lower

    @property
    def head_at_side(self) -> float:
        """Height of the head at the pulley stile: the springing of an arched head."""
        return (
            self.window.height
            if self.head_arc is None
            else self.head_arc.height(self.window.width / 2)
        )

    @property
    def pulley_height(self) -> float:
        """Height of the pulley's centre above the sill; measured down from the springing if arched."""
        return self.head_at_side - self.family.hanging.pulley_drop

    @property
    def pocket_floor(self) -> float:
        return 0.0 - self.family.pocket.floor_below_sill

    @property
    def track_spacing(self) -> float:
        """Between the middles of the two sash, through the wall: so far apart hang their weights [m]."""
        upper, lower = self.upper, self.lower
        return (lower.face + lower.thickness / 2) - (upper.face + upper.thickness / 2)

    def knot_height(self, which: Which) -> float:
        """Height of the knot with the sash closed."""
        return self.sash(which).stile_top - self.family.hanging.knot_hole

    def full_travel(self, which: Which) -> float:
        """How far the sash can move, limited by head, sill and its horns only [m]."""
        sash = self.sash(which)
        if which == "lower":
            return self.head_at_side - sash.stile_top
        # The upper sash comes down beside the sill's slope, which is highest at its room side.
        reach = sash.face + sash.thickness + sash.check_reach
        sill = reach * math.tan(math.radians(self.family.frame.sill_slope))
        return sash.stile_bottom - sill

    def travel(self, which: Which) -> float:
        """How far the sash moves, stops included [m]; 0 for a fixed sash."""
        if not self.sash(which).hung:
            return 0.0
        stop = (
            self.family.hanging.upper_travel
            if which == "upper"
            else self.family.hanging.lower_travel
        )
        full = self.full_travel(which)
        return full if stop is None else min(stop, full)
