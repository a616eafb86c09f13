"""What the sun gives to a room through glazing: straight, and by way of the warmed panes."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from sashwright.physics.glazing.balance import detailed_balance
from sashwright.physics.glazing.conditions import Conditions
from sashwright.physics.glazing.layers import Gap, Pane
from sashwright.physics.glazing.optics import Through

Array = NDArray[np.float64]


def inward_fractions(resistances: Array) -> Array:
    """Share of the heat absorbed in each pane that goes to the room [-], shape (panes, ...).

    Resistance from outdoors to the middle of the pane, over the whole; ``resistances`` as of a
    :class:`~sashwright.physics.glazing.balance.Balance`.
    """
    sums = np.cumsum(resistances, axis=0)
    middles: Array = (sums[0:-1:2] + sums[1::2]) / 2 / sums[-1]
    return middles


def solar_heat_gain(
    panes: Sequence[Pane],
    gaps: Sequence[Gap],
    conditions: Conditions,
    sun: Through,
    irradiance: Array | float,
    *,
    height: Array | float = 1.0,
) -> Array:
    r"""Solar heat gain coefficient at the centre of the glass, g [-], by ISO 15099:2003, 4.2.

    .. math:: g = \tau + (q_0 - q_I) / I

    with the heat that the room loses without and with the sun on the glass.

    Parameters
    ----------
    panes, gaps, conditions, height
        As for :func:`~sashwright.physics.glazing.balance.detailed_balance`.
    sun : Through
        What the panes do with the sun.
    irradiance : float or array
        On the glass [W/m2], above 0.
    """
    incident = np.asarray(irradiance, dtype=np.float64)
    if (incident <= 0).any():
        raise ValueError("found no sun on the glass, expected an irradiance above 0 W/m2")
    dark = detailed_balance(panes, gaps, conditions, height=height)
    absorbed = [np.asarray(share) * incident for share in sun.absorptances]
    lit = detailed_balance(panes, gaps, conditions, height=height, absorbed=absorbed)
    return np.asarray(sun.transmittance + (dark.from_room - lit.from_room) / incident)
