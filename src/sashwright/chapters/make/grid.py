"""Lengths as whole steps of one grid, so that sums of them are exact."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

NANO = 1e-9
"""Lengths are read to this, which holds every fraction of an inch down to 1/64 exactly [m]."""
MOST_STEPS = 12_500
"""More steps than these to the longest length are not worked with: 1/64 in of a board of 16 ft."""


@dataclass(frozen=True, slots=True)
class Grid:
    """Steps of so many nanometres; ``exact`` where every length is a whole number of them."""

    step: int
    exact: bool

    @classmethod
    def of(cls, lengths: Iterable[float], most: int = MOST_STEPS) -> Grid:
        """The coarsest grid that holds all lengths [m]; if too fine, ``most`` steps to the longest.

        Off the grid what is needed is rounded up and the room for it down: a plan can always be cut, and
        its bound is that of the rounded sizes.
        """
        whole = [round(length / NANO) for length in lengths]
        step = math.gcd(*whole) or 1
        finest = -(-max(whole, default=1) // most)
        return cls(step, True) if step >= finest else cls(finest, False)

    def up(self, length: float) -> int:
        return -(-round(length / NANO) // self.step)

    def down(self, length: float) -> int:
        return round(length / NANO) // self.step
