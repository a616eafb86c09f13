"""One window of a closed room."""

from __future__ import annotations

from typing import Literal, get_args

import numpy as np
from numpy.typing import ArrayLike

from sashwright.physics.constants import GRAVITY, KELVIN, STANDARD_PRESSURE
from sashwright.physics.openings.shared import (
    USUAL_DISCHARGE,
    Array,
    Number,
    arrays,
    densities,
    mean_root,
    plain,
)
from sashwright.physics.openings.stack import StackFlow

Airing = Literal["de Gids and Phaff", "Warren", "EN 16798-7"]

# Halvings of a height: down to the last digit.
_HALVINGS = 60


def single_sided_flow(
    area: ArrayLike,
    height: ArrayLike,
    *,
    wind_speed: ArrayLike,
    indoor_temperature: ArrayLike,
    outdoor_temperature: ArrayLike,
    method: Airing = "de Gids and Phaff",
    discharge_coefficient: ArrayLike = USUAL_DISCHARGE,
) -> Number:
    r"""Fresh air through one open window of an otherwise closed room [m3/s], by published fits.

    Parameters
    ----------
    area : float or array
        Open [m2].
    height : float or array
        Of the opening, bottom to top [m].
    wind_speed : float or array
        U; that of the weather, 10 m high [m/s].
    indoor_temperature, outdoor_temperature : float or array
        [°C]
    method : {"de Gids and Phaff", "Warren", "EN 16798-7"}
        :math:`\tfrac12 A \sqrt{0.001 U^2 + 0.0035 H \Delta T + 0.01}` (1982);
        the larger of :math:`0.025 A U` and :math:`\tfrac13 C_d A \sqrt{g H \Delta T / T}` (also BS 5925);
        :math:`\tfrac12 A \sqrt{\max(0.001 U^2, 0.0035 H \Delta T)}`. All from memory.
    discharge_coefficient : float or array
        For Warren's.

    Examples
    --------
    >>> weather = dict(wind_speed=2.5, indoor_temperature=23.0, outdoor_temperature=15.0)
    >>> round(single_sided_flow(1.0, 1.2, **weather), 6)
    0.111636
    """
    if method not in get_args(Airing):
        raise ValueError(
            f"found the method {method!r}, expected one of {', '.join(get_args(Airing))}"
        )
    A, H, U, Ti, To, Cd = arrays(
        area, height, wind_speed, indoor_temperature, outdoor_temperature, discharge_coefficient
    )
    difference = np.abs(Ti - To)
    wind, warmth = 0.001 * U**2, 0.0035 * H * difference
    if method == "Warren":
        warmer = np.maximum(Ti, To) + KELVIN
        buoyant = Cd / 3 * A * np.sqrt(GRAVITY * H * difference / warmer)
        return plain(np.maximum(0.025 * A * U, buoyant))
    if method == "EN 16798-7":
        return plain(0.5 * A * np.sqrt(np.maximum(wind, warmth)))
    return plain(0.5 * A * np.sqrt(wind + warmth + 0.01))


def sash_window_flow(
    width: ArrayLike,
    height: ArrayLike,
    bottom_gap: ArrayLike,
    top_gap: ArrayLike,
    *,
    indoor_temperature: ArrayLike,
    outdoor_temperature: ArrayLike,
    discharge_coefficient: ArrayLike = USUAL_DISCHARGE,
    pressure: ArrayLike = STANDARD_PRESSURE,
) -> StackFlow:
    """Air exchange, without wind, of a closed room through a window open at its bottom and top.

    Parameters
    ----------
    width, height : float or array
        Of the window from sill to head [m].
    bottom_gap, top_gap : float or array
        How high it is open from the sill up and from the head down [m]. Either may be 0, and they may
        not overlap.
    indoor_temperature, outdoor_temperature, discharge_coefficient, pressure
        As for :func:`stack_flow`.

    Returns
    -------
    StackFlow
        Its ``mass_flow`` is what comes in and goes out [kg/s], zero or more; ``neutral_level`` is over the
        sill, and within the window.

    Notes
    -----
    The height of the neutral level at which as much comes in as goes out, by halving; each gap
    passes air as :func:`two_way_flow`.

    Examples
    --------
    The same total open at one end only, and half at either:

    >>> room = dict(indoor_temperature=25, outdoor_temperature=17)
    >>> one, both = (sash_window_flow(0.8, 1.6, *gaps, **room) for gaps in ((0.8, 0), (0.4, 0.4)))
    >>> round(both.mass_flow / one.mass_flow, 3)
    1.828
    """
    W, H, low, high, Cd = arrays(width, height, bottom_gap, top_gap, discharge_coefficient)
    if np.any((low < 0) | (high < 0) | (low + high > H * (1 + 1e-12))):
        raise ValueError("found gaps below zero or together higher than the window")
    inside, outside = densities(indoor_temperature, outdoor_temperature, pressure)
    rate = GRAVITY * (outside - inside)

    def flows(level: Array) -> tuple[Array, Array]:
        """Out of the room and into it, with the neutral level there."""
        out = into = np.zeros(())
        for start, end in ((np.zeros(()), low), (H - high, H)):
            edges = rate * (start - level), rate * (end - level)
            size = Cd * W * (end - start) * np.sqrt(2)
            out = out + size * np.sqrt(inside) * mean_root(*edges)
            into = into + size * np.sqrt(outside) * mean_root(-edges[0], -edges[1])
        return out, into

    shape = np.broadcast_shapes(*(value.shape for value in (W, H, low, high, Cd, rate)))
    under, over = np.zeros(shape), np.broadcast_to(H, shape).copy()
    for _ in range(_HALVINGS):
        middle = (under + over) / 2
        out, into = flows(middle)
        # A warm room loses less the higher its neutral level, a cool one more.
        raise_it = (out - into) * np.where(rate >= 0, 1.0, -1.0) > 0
        under, over = np.where(raise_it, middle, under), np.where(raise_it, over, middle)
    level = (under + over) / 2
    out, into = flows(level)
    mass = (out + into) / 2
    return StackFlow(plain(mass), plain(mass / outside), plain(mass / inside), plain(level))
