"""Moisture in wood: what it settles at in air, and how far wood moves with it.

Moisture content is a fraction of the oven-dry mass everywhere: 0.12 for what the trade calls 12 %.
Formulas and equation numbers are those of the Wood Handbook (Forest Products Laboratory,
FPL-GTR-190, 2010, and FPL-GTR-282, 2021).
"""

from __future__ import annotations

from typing import TypeVar, overload

import numpy as np
from numpy.typing import NDArray

from sashwright.physics.wood import FIBRE_SATURATION

Array = NDArray[np.float64]
Values = TypeVar("Values", float, Array)

# Moisture content at which the coefficients of eq. 13-2 take the dimension [-].
_REFERENCE = 0.10
# The humidity of a moisture content is found by Newton's steps; the isotherm is so smooth that
# seven leave less than 1e-12 between 1 and 99 %.
_STEPS = 7


@overload
def equilibrium_moisture_content(temperature_c: float, relative_humidity: float) -> float: ...
@overload
def equilibrium_moisture_content(
    temperature_c: Array, relative_humidity: Array | float
) -> Array: ...
@overload
def equilibrium_moisture_content(temperature_c: float, relative_humidity: Array) -> Array: ...
def equilibrium_moisture_content(
    temperature_c: Array | float, relative_humidity: Array | float
) -> Array | float:
    r"""Moisture content that wood settles at in air [-].

    .. math::
        M = \frac{18}{W} \left[ \frac{K h}{1 - K h}
            + \frac{K_1 K h + 2 K_1 K_2 K^2 h^2}{1 + K_1 K h + K_1 K_2 K^2 h^2} \right]

    Parameters
    ----------
    temperature_c : float or array
        Of the air [°C].
    relative_humidity : float or array
        Of the air, 0 to 1 [-].

    Raises
    ------
    ValueError
        When a humidity is not between 0 and 1, a percentage for instance.

    Notes
    -----
    Wood Handbook eq. 4-5 with its coefficients for °C. It reproduces table 4-2 (30 to 270 °F, 5 to
    95 %) within 0.07 points; below -1 °C and above 95 % it extrapolates. The data behind it are for
    Sitka spruce between wetting and drying: other species and real boards differ, by 1 to 4 points
    between wetting and drying at 50 %, and more in damp air. Modified wood takes up far less: see
    ``moisture_ratio`` of the wood table.

    Examples
    --------
    >>> round(equilibrium_moisture_content(20.0, 0.65), 4)
    0.12
    """
    h = relative_humidity
    if np.any(np.asarray(h) < 0) or np.any(np.asarray(h) > 1):
        raise ValueError(f"relative humidity must be between 0 and 1, found {h}")
    W, K, K1, K2 = _coefficients(temperature_c)
    Kh = K * h
    first = Kh / (1 - Kh)
    second = (K1 * Kh + 2 * K1 * K2 * Kh**2) / (1 + K1 * Kh + K1 * K2 * Kh**2)
    return 18 / W * (first + second)


def _coefficients(T: Array | float) -> tuple[Array | float, ...]:
    """W, K, K1 and K2 of eq. 4-5 for a temperature [°C]."""
    W = 349 + 1.29 * T + 0.0135 * T**2
    K = 0.805 + 0.000736 * T - 0.00000273 * T**2
    K1 = 6.27 - 0.00938 * T - 0.000303 * T**2
    K2 = 1.91 + 0.0407 * T - 0.000293 * T**2
    return W, K, K1, K2


@overload
def sorption_slope(temperature_c: float, relative_humidity: float) -> float: ...
@overload
def sorption_slope(temperature_c: Array | float, relative_humidity: Array) -> Array: ...
@overload
def sorption_slope(temperature_c: Array, relative_humidity: Array | float) -> Array: ...
def sorption_slope(temperature_c: Array | float, relative_humidity: Array | float) -> Array | float:
    """Change of the equilibrium moisture content with relative humidity, both fractions [-].

    The derivative of :func:`equilibrium_moisture_content`, with its range and units.

    Examples
    --------
    >>> round(sorption_slope(20.0, 0.65), 3)
    0.211
    """
    W, K, K1, K2 = _coefficients(temperature_c)
    Kh = K * relative_humidity
    first = 1 / (1 - Kh) ** 2
    top, below = K1 * Kh + 2 * K1 * K2 * Kh**2, 1 + K1 * Kh + K1 * K2 * Kh**2
    rise = K1 + 4 * K1 * K2 * Kh
    # The derivative of the denominator is K1 + 2 K1 K2 Kh.
    second = (rise * below - top * (K1 + 2 * K1 * K2 * Kh)) / below**2
    return 18 / W * K * (first + second)


def equilibrium_humidity(temperature_c: Array | float, moisture_content: Array | float) -> Array:
    """Relative humidity in which wood of a moisture content neither gains nor loses [-].

    The inverse of :func:`equilibrium_moisture_content`; 1 for wetter wood than damp air can make.

    Examples
    --------
    >>> round(float(equilibrium_humidity(20.0, 0.12)), 3)
    0.65
    """
    T = np.asarray(temperature_c, dtype=np.float64)
    M = np.asarray(moisture_content, dtype=np.float64)
    # Damp air curves steeply; from its side each step stays short of the answer.
    h = np.broadcast_to(1.0, np.broadcast_shapes(T.shape, M.shape))
    for _ in range(_STEPS):
        off = equilibrium_moisture_content(T, h) - M
        h = np.clip(h - off / sorption_slope(T, h), 0.0, 1.0)
    return h


def movement_coefficient(shrinkage: float, fibre_saturation: float = FIBRE_SATURATION) -> float:
    r"""Coefficient of dimensional change for each **1 %** of moisture content [-].

    .. math:: C = \frac{S / f}{1 - S (f - 10) / f}

    with the shrinkage S as a fraction and the fibre saturation f in percent: straight-line
    shrinkage from f, as a share of the dimension at 10 % moisture content.

    Parameters
    ----------
    shrinkage : float
        Radial or tangential, from green to oven-dry, share of the green dimension [-].
    fibre_saturation : float
        Moisture content at which shrinkage starts [-].

    Notes
    -----
    This is how the coefficients of Wood Handbook table 13-5 are made: of 35 species tried, 32
    reproduce every printed digit. Four decimals are all that the data justify; boards of one
    species differ by more.

    Examples
    --------
    Eastern white pine, tangential; table 13-5 prints 0.00212.

    >>> round(movement_coefficient(0.061), 5)
    0.00212
    """
    share = (fibre_saturation - _REFERENCE) / fibre_saturation
    return shrinkage / (100 * fibre_saturation) / (1 - shrinkage * share)


def dimensional_change(
    size_m: float,
    coefficient_per_percent: float,
    moisture_from: Values,
    moisture_to: Values,
) -> Values:
    r"""Change of a dimension across the grain [same unit as ``size_m``].

    .. math:: \Delta D = D_I\, C\, (M_F - M_I)

    Parameters
    ----------
    size_m : float
        At the first moisture content [m].
    coefficient_per_percent : float
        Coefficient for each 1 % of moisture content, C_T for a flat-sawn width, C_R for a
        quarter-sawn one [-].
    moisture_from, moisture_to : float or array
        Moisture contents [-].

    Notes
    -----
    Wood Handbook eq. 13-2, for 6 to 14 % moisture content; the straight line costs about 5 % of the
    true change. Boards are seldom cut perfectly flat or quarter, so it tends to overstate the
    change of a width and to understate that of a thickness. Outside that range use
    :func:`dimensional_change_from_shrinkage`.

    Examples
    --------
    The handbook's flat-sawn white fir board, 232 mm wide, from 8 to 11 %: 1.7 mm.

    >>> round(dimensional_change(0.232, 0.00245, 0.08, 0.11), 4)
    0.0017
    """
    return size_m * coefficient_per_percent * 100 * (moisture_to - moisture_from)


def dimensional_change_from_shrinkage(
    size_m: float,
    shrinkage: float,
    moisture_from: Values,
    moisture_to: Values,
    fibre_saturation: float = FIBRE_SATURATION,
) -> Values:
    r"""Change of a dimension across the grain, from its total shrinkage [same unit].

    .. math:: \Delta D = \frac{D_I (M_F - M_I)}{f / S - f + M_I}

    Parameters
    ----------
    size_m : float
        At the first moisture content [m].
    shrinkage : float
        Radial or tangential, from green to oven-dry, share of the green dimension [-].
    moisture_from, moisture_to : float or array
        Moisture contents; above fibre saturation nothing moves [-].
    fibre_saturation : float
        Moisture content at which shrinkage starts [-].

    Notes
    -----
    Wood Handbook eq. 13-3, for any moisture content: straight-line shrinkage from fibre saturation.
    """
    first = np.minimum(moisture_from, fibre_saturation)
    last = np.minimum(moisture_to, fibre_saturation)
    change: Values = (
        size_m * (last - first) / (fibre_saturation / shrinkage - fibre_saturation + first)
    )
    return change
