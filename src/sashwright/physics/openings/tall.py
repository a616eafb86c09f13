"""One opening so tall that air passes it both ways at once."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from sashwright.physics.constants import GRAVITY, STANDARD_PRESSURE
from sashwright.physics.openings.shared import (
    USUAL_DISCHARGE,
    Number,
    arrays,
    densities,
    mean_root,
    plain,
)


@dataclass(frozen=True, slots=True)
class TwoWayFlow:
    """Air through one tall opening: ``forth`` and ``back`` [kg/s], their volumes at the density of the side
    that they leave [m3/s], and the ``neutral_level`` [m], which may lie beyond the opening and is not a
    number at equal temperatures."""

    forth: Number
    back: Number
    volume_forth: Number
    volume_back: Number
    neutral_level: Number


def two_way_flow(
    width: ArrayLike,
    bottom: ArrayLike,
    top: ArrayLike,
    *,
    start_temperature: ArrayLike,
    end_temperature: ArrayLike,
    pressure_difference: ArrayLike = 0.0,
    level: ArrayLike = 0.0,
    discharge_coefficient: ArrayLike = USUAL_DISCHARGE,
    pressure: ArrayLike = STANDARD_PRESSURE,
) -> TwoWayFlow:
    r"""Air through a tall opening, such as a doorway or a raised sash, both ways at once.

    .. math::

        \Delta(z) = \Delta p + g (\rho_e - \rho_s)(z - z_0), \qquad
        \dot m = C_d W \int \sqrt{2 \rho\, |\Delta(z)|}\, dz

    over the heights at which Δ is above zero, with the density of the start, and over those below, with that
    of the end.

    Parameters
    ----------
    width : float or array
        W [m].
    bottom, top : float or array
        Heights that it reaches from and to [m].
    start_temperature, end_temperature : float or array
        Of the air on either side [°C].
    pressure_difference : float or array
        Δp, start over end, at the height ``level`` [Pa].
    level : float or array
        z_0 [m].
    discharge_coefficient : float or array
        C_d; for one window of a closed room, where streams mix, :func:`mixing_discharge`.
    pressure : float or array
        Of the atmosphere [Pa].

    Notes
    -----
    The integral is exact and nothing cancels in it, however small the difference of temperatures.

    Examples
    --------
    A doorway between 25 and 15 °C with one pressure half way up:

    >>> found = two_way_flow(0.9, 0.0, 2.0, start_temperature=25, end_temperature=15, level=1.0)
    >>> round(found.forth, 4), round(found.back, 4), round(found.neutral_level, 4)
    (0.3517, 0.3578, 1.0)
    """
    W, z1, z2, p, z0, Cd = arrays(
        width, bottom, top, pressure_difference, level, discharge_coefficient
    )
    start, end = densities(start_temperature, end_temperature, pressure)
    rate = GRAVITY * (end - start)
    low, high = p + rate * (z1 - z0), p + rate * (z2 - z0)
    size = Cd * W * (z2 - z1) * np.sqrt(2)
    forth = size * np.sqrt(start) * mean_root(low, high)
    back = size * np.sqrt(end) * mean_root(-low, -high)
    with np.errstate(divide="ignore", invalid="ignore"):
        neutral = np.where(rate == 0, np.nan, z0 - p / rate)
    return TwoWayFlow(
        plain(forth), plain(back), plain(forth / start), plain(back / end), plain(neutral)
    )


def mixing_discharge(indoor_temperature: ArrayLike, outdoor_temperature: ArrayLike) -> Number:
    """Discharge coefficient of one opening with air both ways that mixes [-]: 0.40 + 0.0045 |ΔT|.

    ASHRAE Handbook of Fundamentals 1997, chapter 25, equation 38.
    """
    Ti, To = arrays(indoor_temperature, outdoor_temperature)
    return plain(0.40 + 0.0045 * np.abs(Ti - To))
