r"""Pressure of the wind on the walls of a low-rise house, by the way they face.

.. math:: p = C_p\, \tfrac12 \rho\, (s U)^2

with U at the height of the eaves over the terrain (``infiltration.wind_at``) and s the share of it that
shielding leaves (``infiltration.SHELTER``). The coefficient C_p is the mean over a wall: all its windows
have the same, corners and roof edges differ.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sashwright.physics.infiltration import SHELTER, Shielding

Array = NDArray[np.float64]

SIDE_RATIOS = (0.25, 4.0)
"""Between which the fit for walls holds, width of the wall over that of its neighbours [-]; from memory."""


def wall_coefficient(angle: ArrayLike, side_ratio: ArrayLike = 1.0) -> float | Array:
    r"""Mean pressure coefficient of a wall of a low-rise house [-].

    .. math::

        C_p = 0.6 \ln\bigl(1.248 - 0.703 \sin\tfrac{\alpha}{2} - 1.175 \sin^2\alpha
        + 0.131 \sin^3(2 \alpha G) + 0.769 \cos\tfrac{\alpha}{2} + 0.07\, G^2 \sin^2\tfrac{\alpha}{2}
        + 0.717 \cos^2\tfrac{\alpha}{2}\bigr), \qquad G = \ln S

    Parameters
    ----------
    angle : float or array
        α between the wall's outward normal and where the wind comes from [degrees], either way round.
    side_ratio : float or array
        S, width of this wall over that of the walls beside it; beyond ``SIDE_RATIOS`` it counts as there.

    Notes
    -----
    M. V. Swami and S. Chandra, "Procedures for calculating natural ventilation airflow rates in buildings",
    FSEC-CR-163-86 (1987): 544 averages of walls by eight investigators, correlation 0.80. Two texts that
    print it differ in the sign before 0.131. This one gives the lee wall of a shallow house more suction
    than that of a deep one, as ASCE 7 has it.

    Examples
    --------
    >>> [round(wall_coefficient(angle), 2) for angle in (0, 45, 90, 180)]
    [0.6, 0.32, -0.44, -0.36]
    """
    # 0 to 180 degrees, on either side.
    degrees = np.abs((np.asarray(angle, dtype=np.float64) + 180) % 360 - 180)
    alpha, half = np.radians(degrees), np.radians(degrees / 2)
    G = np.log(np.clip(np.asarray(side_ratio, dtype=np.float64), *SIDE_RATIOS))
    inside = (
        1.248
        - 0.703 * np.sin(half)
        - 1.175 * np.sin(alpha) ** 2
        + 0.131 * np.sin(2 * alpha * G) ** 3
        + 0.769 * np.cos(half)
        + 0.07 * G**2 * np.sin(half) ** 2
        + 0.717 * np.cos(half) ** 2
    )
    found = 0.6 * np.log(inside)
    return float(found) if found.ndim == 0 else found


def wall_pressures(
    facing: ArrayLike,
    wind_speed: ArrayLike,
    wind_direction: ArrayLike,
    *,
    side_ratio: ArrayLike = 1.0,
    shielding: Shielding = "moderate",
    density: ArrayLike = 1.2,
) -> Array:
    """Pressure of the wind on each wall, hour by hour [Pa]; (hours, walls).

    Parameters
    ----------
    facing : array (walls,)
        Where each wall looks, from north by east [degrees].
    wind_speed : array (hours,)
        At the height of the eaves over the terrain, before shielding [m/s].
    wind_direction : array (hours,)
        Where it comes from, from north by east [degrees].
    side_ratio : array (walls,)
        Width of each wall over that of the walls beside it [-].
    shielding : {"none", "light", "moderate", "heavy", "very heavy"}
        Of the house.
    density : float or array (hours,)
        Of the outdoor air [kg/m3].
    """
    if shielding not in SHELTER:
        raise ValueError(f"found the shielding {shielding!r}, expected one of {', '.join(SHELTER)}")
    walls = np.atleast_1d(np.asarray(facing, dtype=np.float64))
    speed, direction, rho = (
        np.atleast_1d(np.asarray(value, dtype=np.float64))[:, None]
        for value in (wind_speed, wind_direction, density)
    )
    head = 0.5 * rho * (SHELTER[shielding] * speed) ** 2
    pressures: Array = wall_coefficient(direction - walls, side_ratio) * head
    return pressures
