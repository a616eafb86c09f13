"""The weight pocket: where a weight hangs in it, how thick and how long it may be.

The cord leaves the pulley behind the pulley stile. Its weight hangs straight below, clear of the stile's
back, of the back lining and of the other sash's weight beside it, and must not touch the pulley or the
pocket floor at either end of the travel.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from sashwright.knowledge.tables import Pulley, Suspension, WeightStock
from sashwright.units import INCH
from sashwright.window.layout import Which, WindowLayout

LEAST_CLEARANCE = INCH / 16
"""Between a hanging weight and anything beside it [m]; common practice."""
EPSILON = 1e-9
"""Sizes that are equal on paper must not differ by the last bit [m]."""


@dataclass(frozen=True, slots=True)
class Hang:
    """Where one sash's weights and cords are [m]; heights above the sill."""

    which: Which
    travel: float
    wheel: float
    """Diameter of the pulley's wheel, at the middle of the cord."""
    cord_front: float
    """Middle of the cord in front of the pulley stile's face."""
    offset: float
    """Middle of the weight behind the back of the pulley stile."""
    pulley: float
    floor: float
    knot: float
    """Height of the knot, sash closed."""
    top_closed: float
    """Top of the weight, sash closed."""
    longest: float
    """Longest weight, its eye included, that clears pulley and floor over the whole travel."""

    @property
    def top_open(self) -> float:
        """Top of the weight with the sash at the other end of its travel."""
        return self.top_closed + (self.travel if self.which == "upper" else -self.travel)

    @property
    def run(self) -> float:
        """Cord on the sash's side, from the wheel's level to the knot, sash closed."""
        return self.pulley - self.knot

    @property
    def drop(self) -> float:
        """Cord on the weight's side, from the wheel's level to the weight, sash closed."""
        return self.pulley - self.top_closed


def hang_in(layout: WindowLayout, which: Which, pulley: Pulley, suspension: Suspension) -> Hang:
    """Where the weights of one sash hang in its pocket."""
    hanging = layout.family.hanging
    travel = layout.travel(which)
    height, floor = layout.pulley_height, layout.pocket_floor
    wheel = pulley.wheel_diameter + suspension.thickness
    # A lower sash's weight is at the pulley when the sash is down, an upper one's when it is opened.
    top_closed = height - hanging.top_clearance - (travel if which == "upper" else 0.0)
    longest = height - floor - travel - hanging.top_clearance - hanging.bottom_clearance
    return Hang(
        which=which,
        travel=travel,
        wheel=wheel,
        cord_front=pulley.face_standoff,
        offset=wheel - pulley.face_standoff - layout.family.frame.pulley_stile,
        pulley=height,
        floor=floor,
        knot=layout.knot_height(which),
        top_closed=top_closed,
        longest=longest,
    )


def thickest(layout: WindowLayout, hang: Hang, *, shared: bool) -> float:
    """Thickest weight that clears the pulley stile's back and the other sides of the pocket [m].

    In a pocket shared across a mullion each side may use half of its width.
    """
    pocket = layout.family.pocket
    far = (pocket.mullion / 2 if shared else pocket.across) - hang.offset
    # Two weights meeting in a mullion share one clearance between them.
    beyond = LEAST_CLEARANCE / 2 if shared else LEAST_CLEARANCE
    across = 2 * min(hang.offset - LEAST_CLEARANCE, far - beyond)
    return min(across, pocket.depth - 2 * LEAST_CLEARANCE)


def room_through_wall(layout: WindowLayout) -> float:
    """Greatest sum of the two sash's weight thicknesses that pass each other in one pocket [m]."""
    pocket, spacing = layout.family.pocket, layout.track_spacing
    gaps = 2 * LEAST_CLEARANCE if pocket.pendulum else LEAST_CLEARANCE
    passing = 2 * (spacing - pocket.pendulum - gaps)
    within = 2 * (pocket.depth - spacing - 2 * LEAST_CLEARANCE)
    return min(passing, within)


def cord_length(hang: Hang, suspension: Suspension) -> float:
    """Length of one cord or chain to cut [m]: run, half a turn of the wheel, drop, and the ties."""
    half_turn = math.pi * hang.wheel / 2
    return hang.run + half_turn + hang.drop + suspension.ties


def clears(stock: WeightStock, limit: float) -> bool:
    """Whether a weight is no thicker than ``limit`` [m]."""
    return stock.size <= limit + EPSILON
