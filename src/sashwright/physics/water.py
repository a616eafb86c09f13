r"""Rain against a shut window: how high a pressure lifts water, and what a sill holds back."""

from __future__ import annotations

from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from sashwright.physics.hanging import STANDARD_GRAVITY

Array = NDArray[np.float64]
Values = TypeVar("Values", float, Array)

WATER_DENSITY = 1000.0
"""Of rain [kg/m3]; at 0 to 25 °C it is 0.3 % less at most."""


def water_head(pressure: Values, *, density: float = WATER_DENSITY) -> Values:
    r"""How high a difference of pressure holds a column of water [m]: h = p / (ρ g).

    Parameters
    ----------
    pressure : float or array
        Outside over inside [Pa].
    density : float
        ρ [kg/m3].

    Examples
    --------
    The usual water test of a house window, 2.9 psf, is a good half inch of water:

    >>> round(water_head(140.0) * 1e3, 2)
    14.28
    """
    return pressure / (density * STANDARD_GRAVITY)


def held_pressure(height: Values, *, density: float = WATER_DENSITY) -> Values:
    """Pressure that lifts water just over an upstand of a height [m]: p = ρ g h [Pa]."""
    return height * (density * STANDARD_GRAVITY)


def sill_upstand(run: Values, *, slope: float, lip: float = 0.0) -> Values:
    r"""Height that water must climb over a sloped sill [m]: run × tan(slope) + lip.

    Parameters
    ----------
    run : float or array
        Level distance that the water is driven up the sill, from where it drains freely to the inner
        edge of the joint [m].
    slope : float
        Of the sill against the level [degrees], 0 to 45.
    lip : float
        Upright step at the inner edge, such as the stool's rabbet or a water bar [m].

    Raises
    ------
    ValueError
        When the slope is negative, that is, runs inward, or above 45 degrees.

    Notes
    -----
    Statics of standing water: a tight joint, without drops flung through it, without capillary rise. A
    joint that leaks air carries drops over far higher steps, so this is the most a sill can hold.

    Examples
    --------
    1 1/2 in up a sill of 14 degrees, without a lip:

    >>> round(sill_upstand(0.0381, slope=14.0) * 1e3, 2)
    9.5
    """
    if not 0 <= slope <= 45:
        raise ValueError(f"found a sill sloping {slope:g} degrees, expected 0 to 45, outward")
    return run * float(np.tan(np.radians(slope))) + lip
