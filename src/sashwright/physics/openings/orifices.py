"""Openings at one pressure difference each: one, several in a row, and what wind blows through them."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from sashwright.physics.openings.shared import (
    USUAL_DISCHARGE,
    Number,
    arrays,
    plain,
)

SQUARE_ON = 0.55
"""Effectiveness of an opening that the wind meets square on [-]: 0.5 to 0.6; askew 0.25 to 0.35. ASHRAE
Handbook of Fundamentals, chapter on ventilation and infiltration (askew from memory)."""


def orifice_flow(
    area: ArrayLike,
    pressure_difference: ArrayLike,
    *,
    density: ArrayLike = 1.2,
    discharge_coefficient: ArrayLike = USUAL_DISCHARGE,
) -> Number:
    r"""Flow through an opening at one pressure difference [kg/s]; it follows the difference's sign.

    .. math:: \dot m = C_d A \sqrt{2 \rho\, \Delta p}

    Examples
    --------
    >>> round(orifice_flow(series_area([0.5, 0.5]), 4.0), 6)
    0.657267
    """
    A, p, rho, Cd = arrays(area, pressure_difference, density, discharge_coefficient)
    return plain(Cd * A * np.sign(p) * np.sqrt(2 * rho * np.abs(p)))


def series_area(areas: ArrayLike) -> Number:
    r"""Area of one opening like several that the air passes one after another [m2], along the first axis.

    .. math:: A = \Bigl(\sum_i A_i^{-2}\Bigr)^{-1/2}

    Openings side by side are simply added. Holds for equal discharge coefficients and densities.

    Examples
    --------
    >>> round(series_area([0.6, 0.3]), 6)
    0.268328
    """
    A = np.asarray(areas, dtype=np.float64)
    with np.errstate(divide="ignore"):
        return plain(np.sum(A**-2.0, axis=0) ** -0.5)


def wind_flow(
    area: ArrayLike, wind_speed: ArrayLike, *, effectiveness: ArrayLike = SQUARE_ON
) -> Number:
    """Air that wind blows into a house through its inlets [m3/s]: effectiveness times area times speed.

    ASHRAE Handbook of Fundamentals, chapter on ventilation and infiltration; with outlets as large as
    the inlets, which the ``area`` [m2] counts alone.

    Examples
    --------
    >>> round(wind_flow(1.0, 3.0), 3)
    1.65
    """
    A, U, share = arrays(area, wind_speed, effectiveness)
    return plain(share * A * U)


def cross_flow(
    inlet_area: ArrayLike,
    outlet_area: ArrayLike,
    wind_speed: ArrayLike,
    *,
    coefficient_difference: ArrayLike,
    discharge_coefficient: ArrayLike = 0.61,
) -> Number:
    r"""Air that wind blows through a room from one face of the house to another [m3/s].

    .. math:: Q = C_d A U \sqrt{\Delta C_p}, \qquad A^{-2} = A_1^{-2} + A_2^{-2}

    BS 5925:1991 (from memory): ``coefficient_difference`` is that of the wind's pressure coefficients
    [-], below zero where it blows the other way; all openings of a face count together.

    Examples
    --------
    >>> round(cross_flow(0.8, 0.6, 3.0, coefficient_difference=0.8), 6)
    0.785665
    """
    A1, A2, U, Cp, Cd = arrays(
        inlet_area, outlet_area, wind_speed, coefficient_difference, discharge_coefficient
    )
    area = np.asarray(series_area(np.stack(np.broadcast_arrays(A1, A2))))
    return plain(Cd * area * U * np.sign(Cp) * np.sqrt(np.abs(Cp)))
