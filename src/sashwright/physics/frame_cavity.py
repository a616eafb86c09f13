"""What air in a cavity of a frame conducts, as if it were a solid.

Method: ISO 10077-2:2012, 6.3 and 6.4, the single equivalent conductivity, as restated in public
finite-element code; the cases of its annex D are calculated with it. The edition of 2017 has a second
method, by radiosities, beside this one.
"""

from __future__ import annotations

import math
from typing import Literal

from sashwright.physics.constants import STEFAN_BOLTZMANN

Ventilation = Literal["closed", "slightly ventilated"]

STILL_AIR = 0.025
"""Conductivity of air at rest [W/(m K)]: C1 of the standard."""
CONVECTION = 0.73
"""Coefficient for convection at 1 K of difference [W/(m2 K^(4/3))]: C2 of the standard."""
NARROW = 0.005
"""Width below which air does not move [m]."""
DIFFERENCE = 10.0
"""Between the faces of a cavity of which nothing is known [K]."""
MEAN = 283.0
"""Mean temperature of such a cavity [K]."""
EMISSIVITY = 0.9
"""Of wood, paint, putty and plastics [-]."""
CLOSED_SLIT = 0.002
"""A cavity open to either side by no more than this counts as closed [m]."""
OPEN_SLIT = 0.010
"""One open by more counts as part of that side [m]; between the two it is slightly ventilated."""
VENTILATED = 2.0
"""How many times what a closed cavity conducts a slightly ventilated one does [-]."""


def equivalent_conductivity(
    depth: float,
    width: float,
    *,
    difference: float = DIFFERENCE,
    mean: float = MEAN,
    emissivities: tuple[float, float] = (EMISSIVITY, EMISSIVITY),
    ventilation: Ventilation = "closed",
) -> float:
    r"""Conductivity that stands for a rectangular cavity [W/(m K)].

    .. math::
        \lambda &= d (h_a + h_r) \\
        h_a &= C_1 / d \quad (b < 5\,mm), \qquad
            \max(C_1 / d,\ C_2 \Delta T^{1/3}) \quad \text{otherwise} \\
        h_r &= 4 \sigma T_m^3 E F, \quad E = (1/\varepsilon_1 + 1/\varepsilon_2 - 1)^{-1}, \quad
            F = \tfrac12 \left(1 + \sqrt{1 + (d/b)^2} - d/b\right)

    Parameters
    ----------
    depth : float
        d, along the flow of heat [m].
    width : float
        b, across it [m].
    difference : float
        Greatest difference of temperature between its faces [K].
    mean : float
        Mean temperature of its faces [K].
    emissivities : pair of float
        Of the faces that the heat leaves and enters [-].
    ventilation : {"closed", "slightly ventilated"}
        The latter conducts twice as much.

    Examples
    --------
    The cavities of example D.4 of the standard are 54 by 6 mm and 34 by 5 mm.

    >>> round(equivalent_conductivity(0.054, 0.006), 3)
    0.205
    """
    if min(depth, width) <= 0:
        raise ValueError(f"found a cavity of {depth} by {width} m, expected both above 0")
    still = STILL_AIR / depth
    moving = CONVECTION * math.cbrt(difference) if width >= NARROW else 0.0
    exchange = 1 / (1 / emissivities[0] + 1 / emissivities[1] - 1)
    slender = depth / width
    view = (1 + math.sqrt(1 + slender**2) - slender) / 2
    radiation = 4 * STEFAN_BOLTZMANN * mean**3 * exchange * view
    closed = depth * (max(still, moving) + radiation)
    return closed * (VENTILATED if ventilation == "slightly ventilated" else 1.0)


def rectangle_of(area: float, depth: float, width: float) -> tuple[float, float]:
    """Depth and width of the rectangle that stands for a cavity of another shape [m].

    It has the cavity's ``area`` and the proportions of the rectangle round it, ``depth`` along the flow
    of heat by ``width``.
    """
    return math.sqrt(area * depth / width), math.sqrt(area * width / depth)


def ventilation_of(slit: float) -> Ventilation | None:
    """How a cavity counts that is open by a slit of this width [m]; None if it is no cavity any more."""
    if slit > OPEN_SLIT:
        return None
    return "closed" if slit <= CLOSED_SLIT else "slightly ventilated"
