"""Laws of clear wood: density and heat conduction.

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

SHRINKAGE_BY_GRAVITY = 0.265
"""Volumetric shrinkage, green to oven-dry, over basic specific gravity [-].

The average of all species that the Wood Handbook's chapter 4 and ASTM D2395 take where a wood's own
shrinkage is not known: S0 = 26.5 Gb percent, beside eq. 4-9 (from memory; the species of table 4-3
scatter about it by a tenth).
"""

# Oven-dry density of a wood of specific gravity 1 [kg/m3].
_WATER = 1000.0


@overload
def specific_gravity(
    basic_specific_gravity: float,
    moisture_content: float,
    shrinkage_volumetric: float | None = None,
    fibre_saturation: float = FIBRE_SATURATION,
) -> float: ...
@overload
def specific_gravity(
    basic_specific_gravity: Array,
    moisture_content: Array | float,
    shrinkage_volumetric: Array | float | None = None,
    fibre_saturation: Array | float = FIBRE_SATURATION,
) -> Array: ...
@overload
def specific_gravity(
    basic_specific_gravity: float,
    moisture_content: Array,
    shrinkage_volumetric: Array | float | None = None,
    fibre_saturation: Array | float = FIBRE_SATURATION,
) -> Array: ...
def specific_gravity(
    basic_specific_gravity: Array | float,
    moisture_content: Array | float,
    shrinkage_volumetric: Array | float | None = None,
    fibre_saturation: Array | float = FIBRE_SATURATION,
) -> Array | float:
    r"""Specific gravity on the volume at a moisture content [-].

    .. math:: G_M = G_b / (1 - S_M), \qquad S_M = S_0 (1 - M / M_{fs})

    Parameters
    ----------
    basic_specific_gravity : float or array
        Oven-dry mass over green volume [-].
    moisture_content : float or array
        Moisture content [-].
    shrinkage_volumetric : float or array, optional
        S0, from green to oven-dry, share of the green volume [-]; where it is not known,
        0.265 times the basic specific gravity.
    fibre_saturation : float or array
        Moisture content at which shrinkage starts [-].

    Notes
    -----
    Wood Handbook eq. 4-7 and 4-9. Above fibre saturation nothing shrinks and the basic value holds.
    """
    return _on_volume(
        basic_specific_gravity, moisture_content, shrinkage_volumetric, fibre_saturation
    )


def _on_volume(
    basic: Array | float,
    moisture: Array | float,
    shrinkage: Array | float | None,
    saturation: Array | float,
) -> Array | float:
    whole = SHRINKAGE_BY_GRAVITY * basic if shrinkage is None else shrinkage
    gravity: Array | float = basic / (1 - whole * np.maximum(1 - moisture / saturation, 0.0))
    return gravity


@overload
def density(
    basic_specific_gravity: float,
    moisture_content: float,
    shrinkage_volumetric: float | None = None,
    fibre_saturation: float = FIBRE_SATURATION,
) -> float: ...
@overload
def density(
    basic_specific_gravity: Array,
    moisture_content: Array | float,
    shrinkage_volumetric: Array | float | None = None,
    fibre_saturation: Array | float = FIBRE_SATURATION,
) -> Array: ...
@overload
def density(
    basic_specific_gravity: float,
    moisture_content: Array,
    shrinkage_volumetric: Array | float | None = None,
    fibre_saturation: Array | float = FIBRE_SATURATION,
) -> Array: ...
def density(
    basic_specific_gravity: Array | float,
    moisture_content: Array | float,
    shrinkage_volumetric: Array | float | None = None,
    fibre_saturation: Array | float = FIBRE_SATURATION,
) -> Array | float:
    r"""Density of moist wood on its volume at that moisture content [kg/m3].

    .. math:: \rho = 1000\, G_M (1 + M)

    Parameters are those of :func:`specific_gravity`.

    Examples
    --------
    Eastern white pine at 12 %; trade data give 402 kg/m3.

    >>> round(float(density(0.34, 0.12, shrinkage_volumetric=0.082)), 1)
    400.5

    Without its own shrinkage:

    >>> round(float(density(0.34, 0.12)), 1)
    402.6
    """
    gravity = _on_volume(
        basic_specific_gravity, moisture_content, shrinkage_volumetric, fibre_saturation
    )
    return _WATER * gravity * (1 + moisture_content)


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
