"""From finished to rough sizes, thickness in quarters, and board feet."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sashwright.units import INCH

QUARTERS = (4, 5, 6, 8, 10, 12, 16)
"""Thicknesses in which rough lumber is sold, in quarters of an inch; National Hardwood Lumber Association."""
LONG = 48 * INCH
"""A part from here on is long: knots would weaken it and show [m]; judgement."""


@dataclass(frozen=True, slots=True)
class Allowance:
    """What rough sizes have over finished ones [m].

    Shop practice, from memory: 1 to 2 in of length, 1/4 to 3/8 in of width, 1/8 to 1/4 in of thickness.
    Rough length and width are then rounded up to ``step``, which the tape reads.
    """

    length: float = 1 * INCH
    width: float = INCH / 4
    thickness: float = INCH / 8
    step: float = INCH / 16
    horn: float = 1 * INCH
    """Left on each end of a stile until the joint is glued and wedged; from memory, 1 to 3 in."""

    def rough(self, length: float, width: float) -> tuple[float, float]:
        """Rough length and width of a part with these finished sizes [m]."""
        return self._up(length + self.length), self._up(width + self.width)

    def rough_stile(self, length: float, width: float) -> tuple[float, float]:
        """Likewise of a stile, which is mortised close to its ends."""
        longer = max(self.length, 2 * self.horn)
        return self._up(length + longer), self._up(width + self.width)

    def quarters(self, thickness: float) -> int | None:
        """The thinnest rough lumber that a finished thickness can be planed from; None if there is none."""
        needed = (thickness + self.thickness) / (INCH / 4)
        return next((q for q in QUARTERS if q >= needed - 1e-6), None)

    def _up(self, length: float) -> float:
        return math.ceil(length / self.step - 1e-6) * self.step


def board_feet(quarters: int, width: float, length: float) -> float:
    """Thickness in inches times width in inches times length in feet by 12; sizes in [m]."""
    return (quarters / 4) * (width / INCH) * (length / (12 * INCH)) / 12
