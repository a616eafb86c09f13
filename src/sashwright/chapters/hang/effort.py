"""The force to move a sash, at every position of its travel."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sashwright.knowledge.tables import Pulley, Suspension
from sashwright.physics.hanging import (
    Array,
    axle_loss,
    forces_to_move,
    tension_ratio,
)
from sashwright.window.pocket import Hang

POSITIONS = np.linspace(0.0, 1.0, 41)
"""Where along the travel the effort is worked out, as shares of it."""
HAIR = 0.1
"""An imbalance that no sash shows: about a third of an ounce of force [N]; judgement."""


@dataclass(frozen=True, slots=True)
class Effort:
    """Forces over the travel: ``moved`` from closed [m]; to raise and to lower the sash [N].

    ``calm_raise`` and ``calm_lower`` are the same with the least drag the weatherstrip may have.
    """

    moved: Array
    raising: Array
    lowering: Array
    calm_raise: Array
    calm_lower: Array
    ratio: float

    @property
    def greatest(self) -> float:
        return float(max(self.raising.max(), self.lowering.max()))

    @property
    def stays_put(self) -> bool:
        """Whether it stays wherever it is let go, with the usual drag."""
        return bool(min(self.raising.min(), self.lowering.min()) >= -HAIR)

    @property
    def surely_stays(self) -> bool:
        """The same with the least drag."""
        return bool(min(self.calm_raise.min(), self.calm_lower.min()) >= -HAIR)


def effort_of(
    mass: float,
    weight: float,
    hang: Hang,
    suspension: Suspension,
    pulley: Pulley,
    drag: tuple[float, float],
) -> Effort:
    """Effort over the travel of a sash of ``mass`` on two weights of ``weight`` [kg].

    ``drag`` is the sliding friction of its weatherstrip, usual and least [N].
    """
    moved = POSITIONS * hang.travel
    up = 1.0 if hang.which == "lower" else -1.0
    run = suspension.mass_per_length * (hang.run - up * moved)
    drop = suspension.mass_per_length * (hang.drop + up * moved)
    ratio = tension_ratio(axle_loss(pulley.friction_coefficient, pulley.axle_diameter, hang.wheel))
    raising, lowering = forces_to_move(mass, weight, run, drop, ratio, drag[0])
    ease = drag[0] - drag[1]
    return Effort(moved, raising, lowering, raising - ease, lowering - ease, ratio)
