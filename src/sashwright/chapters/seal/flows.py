"""What passes a window in all its states at once: paths side by side, and the storm sash before them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sashwright.chapters.seal.paths import PLACES, Leak, coefficients, exponents
from sashwright.knowledge.tables import Knowledge, Leakage
from sashwright.physics.leakage import coefficient_from_area, parallel_flow, stages_flow
from sashwright.window.cracks import Cracks
from sashwright.window.spec import Family

Array = NDArray[np.float64]
Guess = Literal["likely", "low", "high"]

HOLE_DISCHARGE = 0.6
"""Discharge coefficient of a weep hole [-]; usual for a sharp-edged hole."""
NO_STORM_SASH = "storm-wood-average"
"""The storm sash that is reckoned with where the family has none."""
SCREEN = "screen-cloth"


@dataclass(frozen=True, slots=True)
class Barrier:
    """A storm sash or a screen before the window: its paths side by side, each shape (paths,)."""

    row: Leakage
    likely: Array
    low: Array
    high: Array
    exponents: Array

    def coefficients(self, guess: Guess) -> Array:
        return {"likely": self.likely, "low": self.low, "high": self.high}[guess]

    def flow(self, pressure: float) -> float:
        """Of the barrier alone [m3/s]."""
        return float(parallel_flow(self.likely, self.exponents, pressure))


def storm_of(family: Family, cracks: Cracks, knowledge: Knowledge) -> Barrier:
    """The family's storm sash with its weep holes, or an average one where it has none."""
    spec = family.storm_sash
    key = family.seals.storm if family.storm != "none" else NO_STORM_SASH
    row: Leakage = knowledge.find("leakage", key)
    hole = spec.weep_holes * math.pi / 4 * spec.weep_diameter**2
    if spec.kind == "combination":
        hole = 0.0
    drained = float(coefficient_from_area(hole, 0.5, discharge_coefficient=HOLE_DISCHARGE))
    joints = [
        float(coefficient_from_area(cracks.joint * area, row.exponent, row.reference_pressure))
        for area in (row.area, row.area_low, row.area_high)
    ]
    likely, low, high = (np.array([joint, drained]) for joint in joints)
    return Barrier(row, likely, low, high, np.array([row.exponent, 0.5]))


def screen_of(cracks: Cracks, knowledge: Knowledge) -> Barrier:
    """An insect screen over the whole window."""
    row: Leakage = knowledge.find("leakage", SCREEN)
    likely, low, high = (
        np.array(
            [float(coefficient_from_area(cracks.area * a, row.exponent, row.reference_pressure))]
        )
        for a in (row.area, row.area_low, row.area_high)
    )
    return Barrier(row, likely, low, high, np.array([row.exponent]))


def flows_of(
    states: Sequence[Sequence[Leak]],
    pressures: Array,
    barrier: Barrier | None = None,
    guess: Guess = "likely",
    *,
    wall: bool = True,
) -> Array:
    """Flow of each state at each pressure, shape (states, pressures) [m3/s].

    Parameters
    ----------
    states : sequence of paths
        Each the paths of the window in one state, in the order of ``PLACES``.
    pressures : array
        Shape (pressures,) [Pa].
    barrier : Barrier, optional
        A storm sash or screen in series with all paths that have to pass it.
    guess : {"likely", "low", "high"}
        Every path at its likely coefficient, or all at the ends of their ranges.
    wall : bool
        Whether the joint of frame and wall counts.
    """
    C = np.stack([coefficients(leaks, guess) for leaks in states], axis=1)[:, :, None]
    n = np.stack([exponents(leaks) for leaks in states], axis=1)[:, :, None]
    counted = np.array([wall or not place.of_the_wall for place in PLACES])
    behind = np.array([place.behind_storm and barrier is not None for place in PLACES]) & counted
    free = counted & ~behind
    flow = np.asarray(parallel_flow(C[free], n[free], pressures), dtype=np.float64)
    if barrier is None:
        return flow
    before = (barrier.coefficients(guess)[:, None, None], barrier.exponents[:, None, None])
    through = np.asarray(stages_flow([(C[behind], n[behind]), before], pressures))
    total: Array = flow + through
    return total
