"""Laws of clear wood: density, moisture, movement and heat conduction.

Formulas and equation numbers are those of the Wood Handbook (Forest Products Laboratory,
FPL-GTR-190, 2010, and FPL-GTR-282, 2021). Moisture content is a fraction of the oven-dry mass
everywhere here: 0.12 for what the trade calls 12 %.
"""

from __future__ import annotations

from typing import TypeVar, overload

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Values = TypeVar("Values", float, Array)

FIBRE_SATURATION = 0.30
"""Moisture content at which shrinkage starts in most species [-].

The handbook's own assumption in eq. 4-9 and table 13-5; it takes 0.22 for a few, such as western
redcedar, redwood, mahogany and teak.
"""

LONGITUDINAL_MOVEMENT = 0.00005
"""Movement along the grain for each 1 % of moisture content [-].

From 0.1 to 0.2 % of shrinkage, green to oven-dry, of normal wood (Wood Handbook p. 4-5) over 30 %
of moisture content: 0.00003 to 0.00007. Juvenile and reaction wood move up to ten times as much.
"""

# Oven-dry density of a wood of specific gravity 1 [kg/m3].
_WATER = 1000.0
# Moisture content at which the coefficients of eq. 13-2 take the dimension [-].
_REFERENCE = 0.10


def specific_gravity(
    specific_gravity_green: float,
    shrinkage_volumetric: float,
    moisture_content: Values,
    fibre_saturation: float = FIBRE_SATURATION,
) -> Values:
    r"""Specific gravity on the volume at a moisture content [-].

    .. math:: G_M = G_b / (1 - S_M), \qquad S_M = S_0 (1 - M / M_{fs})

    Parameters
    ----------
    specific_gravity_green : float
        Basic specific gravity: oven-dry mass over green volume [-].
    shrinkage_volumetric : float
        From green to oven-dry, share of the green volume [-].
    moisture_content : float or array
        Moisture content [-].
    fibre_saturation : float
        Moisture content at which shrinkage starts [-].

    Notes
    -----
    Wood Handbook eq. 4-7 and 4-9. Above fibre saturation nothing shrinks and the basic value holds.
    """
    shrunk = shrinkage_volumetric * np.maximum(1 - moisture_content / fibre_saturation, 0.0)
    gravity: Values = specific_gravity_green / (1 - shrunk)
    return gravity


def density(
    specific_gravity_green: float,
    shrinkage_volumetric: float,
    moisture_content: Values,
    fibre_saturation: float = FIBRE_SATURATION,
) -> Values:
    r"""Density of moist wood on its volume at that moisture content [kg/m3].

    .. math:: \rho = 1000\, G_M (1 + M)

    Parameters are those of :func:`specific_gravity`.

    Examples
    --------
    Eastern white pine at 12 %; trade data give 402 kg/m3.

    >>> round(float(density(0.34, 0.082, 0.12)), 1)
    400.5
    """
    gravity = specific_gravity(
        specific_gravity_green, shrinkage_volumetric, moisture_content, fibre_saturation
    )
    return _WATER * gravity * (1 + moisture_content)


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
    dimension: float,
    movement: float,
    moisture_from: Values,
    moisture_to: Values,
) -> Values:
    r"""Change of a dimension across the grain [same unit as ``dimension``].

    .. math:: \Delta D = D_I\, C\, (M_F - M_I)

    Parameters
    ----------
    dimension : float
        At the first moisture content.
    movement : float
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

    >>> round(dimensional_change(232.0, 0.00245, 0.08, 0.11), 1)
    1.7
    """
    return dimension * movement * 100 * (moisture_to - moisture_from)


def dimensional_change_from_shrinkage(
    dimension: float,
    shrinkage: float,
    moisture_from: Values,
    moisture_to: Values,
    fibre_saturation: float = FIBRE_SATURATION,
) -> Values:
    r"""Change of a dimension across the grain, from its total shrinkage [same unit].

    .. math:: \Delta D = \frac{D_I (M_F - M_I)}{f / S - f + M_I}

    Parameters
    ----------
    dimension : float
        At the first moisture content.
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
        dimension * (last - first) / (fibre_saturation / shrinkage - fibre_saturation + first)
    )
    return change


@overload
def equilibrium_moisture_content(temperature: float, relative_humidity: float) -> float: ...
@overload
def equilibrium_moisture_content(temperature: Array, relative_humidity: Array | float) -> Array: ...
@overload
def equilibrium_moisture_content(temperature: float, relative_humidity: Array) -> Array: ...
def equilibrium_moisture_content(
    temperature: Array | float, relative_humidity: Array | float
) -> Array | float:
    r"""Moisture content that wood settles at in air [-].

    .. math::
        M = \frac{18}{W} \left[ \frac{K h}{1 - K h}
            + \frac{K_1 K h + 2 K_1 K_2 K^2 h^2}{1 + K_1 K h + K_1 K_2 K^2 h^2} \right]

    Parameters
    ----------
    temperature : float or array
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
    T, h = temperature, relative_humidity
    if np.any(np.asarray(h) < 0) or np.any(np.asarray(h) > 1):
        raise ValueError(f"relative humidity must be between 0 and 1, found {h}")
    W = 349 + 1.29 * T + 0.0135 * T**2
    K = 0.805 + 0.000736 * T - 0.00000273 * T**2
    K1 = 6.27 - 0.00938 * T - 0.000303 * T**2
    K2 = 1.91 + 0.0407 * T - 0.000293 * T**2
    Kh = K * h
    first = Kh / (1 - Kh)
    second = (K1 * Kh + 2 * K1 * K2 * Kh**2) / (1 + K1 * Kh + K1 * K2 * Kh**2)
    return 18 / W * (first + second)


def conductivity(gravity: Values, moisture_content: Values) -> Values:
    r"""Thermal conductivity of wood across the grain [W/(m K)].

    .. math:: k = G_M (B + C M) + A

    Parameters
    ----------
    gravity : float or array
        Specific gravity on the volume at this moisture content (:func:`specific_gravity`) [-].
    moisture_content : float or array
        Moisture content [-].

    Notes
    -----
    Wood Handbook eq. 4-15 with A = 0.01864, B = 0.1941, C = 0.004064 (for percent), for specific
    gravities above 0.3, about 24 °C and less than 25 % moisture content. Real pieces differ by up
    to 20 %; warmth adds 2 to 3 % for each 10 °C; along the grain heat flows 1.5 to 2.8 times as
    well.

    Examples
    --------
    >>> round(conductivity(0.37, 0.12), 4)
    0.1085
    """
    return gravity * (0.1941 + 0.4064 * moisture_content) + 0.01864
