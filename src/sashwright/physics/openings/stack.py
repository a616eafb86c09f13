"""Two openings, one over the other."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from sashwright.physics.constants import GRAVITY, KELVIN, STANDARD_PRESSURE
from sashwright.physics.openings.shared import (
    USUAL_DISCHARGE,
    Number,
    arrays,
    densities,
    plain,
)


@dataclass(frozen=True, slots=True)
class StackFlow:
    """Air through two openings, one over the other.

    ``mass_flow`` is above zero where air enters below and leaves above [kg/s]; ``inflow`` and ``outflow``
    are its volume outdoors and in the room [m3/s]. ``neutral_level`` is the height over the lower
    opening at which the room presses like the outdoors at the upper opening's face [m]; it lies beyond
    both where wind outdoes warmth, and is not finite at equal temperatures.
    """

    mass_flow: Number
    inflow: Number
    outflow: Number
    neutral_level: Number


def stack_flow(
    lower_area: ArrayLike,
    upper_area: ArrayLike,
    height: ArrayLike,
    *,
    indoor_temperature: ArrayLike,
    outdoor_temperature: ArrayLike,
    wind_difference: ArrayLike = 0.0,
    discharge_coefficient: ArrayLike = USUAL_DISCHARGE,
    pressure: ArrayLike = STANDARD_PRESSURE,
) -> StackFlow:
    r"""Air through a room with a lower and an upper opening, driven by warmth and wind.

    .. math::

        \Delta p = g H (\rho_o - \rho_i) + \Delta p_w, \qquad
        \dot m = C_d \sqrt{\frac{2 |\Delta p|}{1/(\rho_1 A_1^2) + 1/(\rho_2 A_2^2)}}

    Parameters
    ----------
    lower_area, upper_area : float or array
        A_1 and A_2 [m2], each at one height.
    height : float or array
        H between them [m].
    indoor_temperature, outdoor_temperature : float or array
        [°C]
    wind_difference : float or array
        Δp_w, pressure of the wind at the lower opening less that at the upper one [Pa].
    discharge_coefficient : float or array
        C_d of both.
    pressure : float or array
        Of the atmosphere [Pa].

    Notes
    -----
    Exact for ideal gases. At small differences of temperature it becomes the handbooks'
    :math:`Q = C_d A \sqrt{2 g H \Delta T / T}` with :math:`A = A_1 A_2 / \sqrt{A_1^2 + A_2^2}`, and
    the neutral level is that of API RP 500.

    Examples
    --------
    >>> found = stack_flow(0.3, 0.3, 3.0, indoor_temperature=25, outdoor_temperature=15)
    >>> round(found.inflow, 4), round(found.outflow, 4), round(found.neutral_level, 4)
    (0.1773, 0.1835, 1.4744)
    """
    A1, A2, H, Cd, wind = arrays(
        lower_area, upper_area, height, discharge_coefficient, wind_difference
    )
    inside, outside = densities(indoor_temperature, outdoor_temperature, pressure)
    weight = GRAVITY * (outside - inside)
    drive = weight * H + wind
    # The lower opening passes outdoor air where the air rises, the upper one where it falls.
    low, high = np.where(drive >= 0, outside, inside), np.where(drive >= 0, inside, outside)
    with np.errstate(divide="ignore", invalid="ignore"):
        first, second = 1 / (low * A1**2), 1 / (high * A2**2)
        mass = np.sign(drive) * Cd * np.sqrt(2 * np.abs(drive) / (first + second))
        share = np.where(np.isinf(first), 1.0, first / (first + second))
        level = (drive * share - wind) / weight
    volume = np.abs(mass)
    return StackFlow(plain(mass), plain(volume / outside), plain(volume / inside), plain(level))


def neutral_level(
    lower_area: ArrayLike,
    upper_area: ArrayLike,
    height: ArrayLike,
    *,
    indoor_temperature: ArrayLike,
    outdoor_temperature: ArrayLike,
) -> Number:
    r"""Height over the lower of two openings where indoors and outdoors press alike, without wind [m].

    .. math:: h = \frac{H}{1 + (A_1/A_2)^2\, T_i/T_o}

    for a room warmer than outdoors (API RP 500); for a cooler one with T_o/T_i. Also for equal temperatures.
    """
    A1, A2, H, Ti, To = arrays(
        lower_area, upper_area, height, indoor_temperature, outdoor_temperature
    )
    ratio = (Ti + KELVIN) / (To + KELVIN)
    return plain(H / (1 + (A1 / A2) ** 2 * np.maximum(ratio, 1 / ratio)))
