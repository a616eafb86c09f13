"""Sun through glazing hour by hour: what passes, and what each pane takes up."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sashwright.physics.glazing.optics import AnyPane, at_angle, diffuse

Array = NDArray[np.float64]

ANGLES = 361
"""In the table from straight on to along the glass: one for each quarter of a degree."""


@dataclass(frozen=True, slots=True, eq=False)
class Sunlit:
    """Sun through glazing, per area of glass; ``...`` is the shape of the hours.

    ``transmitted`` straight to the room [W/m2]; ``absorbed`` in each pane from outdoors to the room
    [W/m2], shape (panes, ...): as :func:`~sashwright.physics.glazing.balance.detailed_balance` takes it.
    """

    transmitted: Array
    absorbed: Array


def hourly_gain(
    stack: Sequence[AnyPane],
    incidence: Array | float,
    direct: Array | float,
    diffuse_sun: Array | float,
) -> Sunlit:
    """What panes let through and take up of the sun, for all hours of a year at once.

    Parameters
    ----------
    stack : sequence
        Panes from outdoors to the room, in the sun's band.
    incidence : array
        Angle between the sun and the perpendicular of the glass [rad]; from pi/2 on the sun is behind it.
    direct : array
        Of the sun on the plane of the glass, so with the cosine in it [W/m2].
    diffuse_sun : array
        Of the sky and the ground on the plane of the glass, taken as alike from all sides [W/m2].

    Raises
    ------
    ValueError
        If the stack is empty, or there is direct sun below zero or a value that is no number.

    Notes
    -----
    Between ``ANGLES`` angles worked out by :func:`~sashwright.physics.glazing.optics.at_angle` straight
    lines are taken. Up to 85° they are within 1e-4 of the direct sun, and at any angle within 1e-5 of the
    sun across its beam.
    """
    given = (np.asarray(value, dtype=np.float64) for value in (incidence, direct, diffuse_sun))
    angle, beam, rest = np.broadcast_arrays(*given)
    if not all(np.isfinite(value).all() for value in (angle, beam, rest)):
        raise ValueError("found sun or its angle that is no number")
    if beam.min(initial=0.0) < 0 or angle.min(initial=0.0) < 0:
        raise ValueError("found direct sun or its angle below 0")
    even = diffuse(stack)
    shares = np.array([even.transmittance, *even.absorptances])
    found = shares.reshape(-1, *(1,) * rest.ndim) * rest
    lit = (beam > 0) & (angle < np.pi / 2)
    found[:, lit] += _at_angles(stack, angle[lit]) * beam[lit]
    return Sunlit(found[0], found[1:])


def _at_angles(stack: Sequence[AnyPane], angle: Array) -> Array:
    """Transmittance and each pane's absorptance [-], by lines between the angles of a table."""
    step = np.pi / 2 / (ANGLES - 1)
    angles: Array = np.linspace(0.0, np.pi / 2, ANGLES)
    beam = at_angle(stack, angles)
    table = np.stack([beam.transmittance, *beam.absorptances])
    place = angle / step
    below = np.minimum(place.astype(np.intp), ANGLES - 2)
    part = place - below
    first: Array = table[:, below]
    return first + part * np.diff(table, axis=1)[:, below]
