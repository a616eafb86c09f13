"""Moist air: saturation, dew point, humidity, density.

Temperatures in °C, pressures in Pa, relative humidity from 0 to 1. As weather services do, relative
humidity refers to saturation over **water**, also below freezing (World Meteorological Organization,
*Guide to Meteorological Instruments*, WMO-No. 8, annex 4.A).
"""

from __future__ import annotations

from typing import Literal, TypeVar

import numpy as np
from numpy.typing import NDArray

from sashwright.physics.constants import KELVIN, STANDARD_PRESSURE

Array = NDArray[np.float64]
Values = TypeVar("Values", float, Array)
Phase = Literal["water", "ice"]

GAS_CONSTANT_DRY_AIR = 287.042
"""Gas constant of dry air [J/(kg K)]; ASHRAE Handbook of Fundamentals, ch. 1."""

GAS_CONSTANT_VAPOUR = 461.524
"""Gas constant of water vapour [J/(kg K)]; ASHRAE Handbook of Fundamentals, ch. 1."""

MASS_RATIO = GAS_CONSTANT_DRY_AIR / GAS_CONSTANT_VAPOUR
"""Molar mass of water over that of dry air [-]: 0.62194."""


# Sonntag (1990), ln p = a/T + b + c T + d T2 + e ln T with p in Pa and T in K.
_SONNTAG: dict[Phase, tuple[float, float, float, float, float]] = {
    "water": (-6096.9385, 21.2409642, -2.711193e-2, 1.673952e-5, 2.433502),
    "ice": (-6024.5282, 29.32707, 1.0613868e-2, -1.3198825e-5, -0.49382577),
}


def saturation_pressure(temperature: Values, over: Phase = "water") -> Values:
    r"""Vapour pressure of saturated air [Pa].

    .. math:: \ln p = a/T + b + c\,T + d\,T^2 + e \ln T

    Parameters
    ----------
    temperature : float or array
        Of the air [°C].
    over : {"water", "ice"}
        The surface that the vapour is in balance with. Over water below 0 °C means supercooled water.

    Notes
    -----
    D. Sonntag, "Important new values of the physical constants of 1986, vapour pressure formulations
    based on the ITS-90, and psychrometer formulae", *Zeitschrift für Meteorologie* 40 (1990) 340-344:
    -100 to 100 °C over water, -100 to 0 °C over ice.

    Examples
    --------
    >>> round(saturation_pressure(20.0))
    2339
    """
    a, b, c, d, e = _SONNTAG[over]
    T = temperature + KELVIN
    pressure: Values = np.exp(a / T + b + c * T + d * T * T + e * np.log(T))
    return pressure


def saturation_slope(temperature: Values, over: Phase = "water") -> Values:
    """Change of :func:`saturation_pressure` with temperature [Pa/K]; its derivative."""
    a, _, c, d, e = _SONNTAG[over]
    T = temperature + KELVIN
    return saturation_pressure(temperature, over) * (-a / (T * T) + c + 2 * d * T + e / T)


def dew_point(vapour_pressure: Values, over: Phase = "water") -> Values:
    """Temperature at which air with this vapour pressure is saturated [°C].

    Parameters
    ----------
    vapour_pressure : float or array
        Above zero [Pa].
    over : {"water", "ice"}
        ``ice`` gives the frost point.

    Raises
    ------
    ValueError
        When a pressure is not above zero.

    Notes
    -----
    The inverse of :func:`saturation_pressure`, by Newton's steps on its logarithm from the Magnus
    form; three leave less than 1e-9 K between -80 and 60 °C.

    Examples
    --------
    >>> round(dew_point(1169.6), 2)
    9.27
    """
    if not np.all(np.asarray(vapour_pressure) > 0):
        raise ValueError(f"vapour pressure must be above zero, found {vapour_pressure}")
    wanted: Values = np.log(vapour_pressure)
    # Magnus form with the constants of Alduchov and Eskridge (1996).
    x = wanted - np.log(610.94)
    found: Values = 243.04 * x / (17.625 - x)
    for _ in range(4):
        pressure = saturation_pressure(found, over)
        step: Values = (np.log(pressure) - wanted) * pressure / saturation_slope(found, over)
        found = found - step
    return found


def relative_humidity(temperature: Values, dew: Values) -> Values:
    """Relative humidity over water [-] of air at a temperature and a dew point [°C]."""
    return saturation_pressure(dew) / saturation_pressure(temperature)


def dew_point_from_humidity(temperature: Values, humidity: Values) -> Values:
    """Dew point [°C] of air at a temperature [°C] and a relative humidity above 0 [-]."""
    return dew_point(humidity * saturation_pressure(temperature))


def humidity_ratio(vapour_pressure: Values, pressure: Values) -> Values:
    r"""Mass of vapour over that of dry air [kg/kg]: :math:`0.62194\, p_v / (p - p_v)`.

    ASHRAE Handbook of Fundamentals, ch. 1, eq. 20: ideal gases.
    """
    return MASS_RATIO * vapour_pressure / (pressure - vapour_pressure)


def vapour_pressure_from_ratio(ratio: Values, pressure: Values) -> Values:
    """Vapour pressure [Pa] of air with a humidity ratio [kg/kg]; inverse of ``humidity_ratio``."""
    return pressure * ratio / (MASS_RATIO + ratio)


def vapour_density(vapour_pressure: Values, temperature: Values) -> Values:
    """Mass of vapour in a volume of air [kg/m3], at its temperature [°C]: the ideal gas law."""
    return vapour_pressure / (GAS_CONSTANT_VAPOUR * (temperature + KELVIN))


def air_density(temperature: Values, vapour_pressure: Values, pressure: Values) -> Values:
    r"""Density of moist air [kg/m3]: :math:`(p - p_v)/(R_a T) + p_v/(R_v T)`.

    Notes
    -----
    Ideal gases; real air is 0.03 to 0.06 % denser at 0 to 30 °C and sea level.
    """
    T = temperature + KELVIN
    dry = (pressure - vapour_pressure) / (GAS_CONSTANT_DRY_AIR * T)
    return dry + vapour_density(vapour_pressure, temperature)


def standard_pressure(elevation: Values) -> Values:
    r"""Pressure of the standard atmosphere [Pa]: :math:`101325 (1 - 2.25577\cdot10^{-5} z)^{5.2559}`.

    ASHRAE Handbook of Fundamentals, ch. 1, eq. 3; elevation in m, -5,000 to 11,000. Weather moves the
    true pressure by some 3 % about it.
    """
    pressure: Values = STANDARD_PRESSURE * (1 - 2.25577e-5 * elevation) ** 5.2559
    return pressure
