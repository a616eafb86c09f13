"""Sun and sky on planes of any tilt, hour by hour, by the model of Perez.

R. Perez, P. Ineichen, R. Seals, J. Michalsky and R. Stewart, "Modeling daylight availability and
irradiance components from direct and global irradiance", *Solar Energy* 44 (1990) 271-289; the model of
ISO 52010-1. The sky is even but for a glow around the sun, which is counted with the beam, and a band
along the horizon.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sashwright.physics.hourly_year import DAYS, HOURS, HourlyYear
from sashwright.physics.sun import extraterrestrial_normal, sun_hours, toward_sun

Array = NDArray[np.float64]

GROUND = 0.2
"""Share of the sun that ground throws back [-]; ISO 52010-1, default."""

# All sites composite: for each class of clearness f11 f12 f13 f21 f22 f23.
_CLASSES = np.array([1.065, 1.230, 1.500, 1.950, 2.800, 4.500, 6.200])
_PEREZ = np.array(
    [
        [-0.008, 0.588, -0.062, -0.060, 0.072, -0.022],
        [0.130, 0.683, -0.151, -0.019, 0.066, -0.029],
        [0.330, 0.487, -0.221, 0.055, -0.064, -0.026],
        [0.568, 0.187, -0.295, 0.109, -0.152, -0.014],
        [0.873, -0.392, -0.362, 0.226, -0.462, 0.001],
        [1.132, -1.237, -0.412, 0.288, -0.823, 0.056],
        [1.060, -1.600, -0.359, 0.264, -1.127, 0.131],
        [0.678, -0.327, -0.250, 0.156, -1.377, 0.251],
    ]
)
_KAPPA = 1.041
# The glow is not spread over a plane thinner than at 85° from the zenith.
_LOWEST = np.cos(np.radians(85.0))


@dataclass(frozen=True, slots=True, eq=False)
class Sky:
    """Sun and sky over a place, each of shape (8760,): once for a house, whatever its planes."""

    east: Array
    north: Array
    up: Array
    """Parts of the direction of the sun [-]."""
    beam: Array
    """Across the beam; 0 with the sun down [W/m2]."""
    diffuse: Array
    """Of the sky on a level [W/m2]."""
    level: Array
    """Of sun and sky on a level [W/m2]."""
    glow: Array
    """F1: share of the diffuse that comes from around the sun [-]."""
    band: Array
    """F2: what the horizon adds, below zero where it is darker [-]."""


@dataclass(frozen=True, slots=True, eq=False)
class OnPlane:
    """Irradiance of a plane, each of shape (8760,)."""

    cosine: Array
    """Of the angle of incidence; 0 with the sun behind the plane [-]."""
    beam: Array
    """Of the sun and the glow around it, at that angle [W/m2]."""
    diffuse: Array
    """Of the rest of the sky [W/m2]."""
    ground: Array
    """Thrown back by the ground [W/m2]."""

    @property
    def total(self) -> Array:
        """[W/m2]"""
        return self.beam + self.diffuse + self.ground


def air_mass(up: Array) -> Array:
    """Relative optical mass of air that the beam crosses [-]; ``up``, cosine of the zenith angle.

    F. Kasten and A. T. Young, "Revised optical air mass tables and approximation formula", *Applied
    Optics* 28 (1989) 4735-4738; with the sun below the horizon as with it there.
    """
    zenith = np.degrees(np.arccos(np.clip(up, 0.0, 1.0)))
    mass: Array = 1 / (np.maximum(up, 0.0) + 0.50572 * (96.07995 - zenith) ** -1.6364)
    return mass


def sky_factors(up: Array, beam: Array, diffuse: Array, outside: Array) -> tuple[Array, Array]:
    """F1 and F2 of Perez's model [-].

    Parameters
    ----------
    up : array
        Cosine of the zenith angle [-].
    beam, diffuse : array
        Irradiance across the beam, and of the sky on a level [W/m2].
    outside : array
        Irradiance across the beam outside the atmosphere [W/m2].
    """
    zenith = np.arccos(np.clip(up, -1.0, 1.0))
    lit = diffuse > 0
    ratio = np.divide(beam, diffuse, out=np.zeros_like(beam), where=lit)
    bent = _KAPPA * zenith**3
    clearness = (1 + ratio + bent) / (1 + bent)
    brightness = diffuse * air_mass(up) / outside
    f11, f12, f13, f21, f22, f23 = _PEREZ[np.searchsorted(_CLASSES, clearness, side="right")].T
    glow = np.maximum(f11 + f12 * brightness + f13 * zenith, 0.0)
    band = f21 + f22 * brightness + f23 * zenith
    return np.where(lit, glow, 0.0), np.where(lit, band, 0.0)


def sky_of(year: HourlyYear) -> Sky:
    """Sun and sky through a year of weather."""
    hours = sun_hours(year.latitude, year.longitude, year.utc_offset)
    east, north, up = (part.reshape(HOURS) for part in toward_sun(year.latitude, hours))
    outside = np.repeat(extraterrestrial_normal(), HOURS // DAYS)
    beam = np.where(up > 0, year.direct_normal, 0.0)
    glow, band = sky_factors(up, beam, year.diffuse_horizontal, outside)
    return Sky(east, north, up, beam, year.diffuse_horizontal, year.global_horizontal, glow, band)


def on_plane(sky: Sky, facing: float, tilt: float = 90.0, ground: float = GROUND) -> OnPlane:
    """Sun and sky on a plane with nothing in the way.

    Parameters
    ----------
    sky : Sky
        Over the place.
    facing : float
        From north by east [degrees].
    tilt : float
        0 for a roof that lies flat, 90 for a wall [degrees].
    ground : float
        Share of the sun that the ground throws back [-].
    """
    lean, azimuth = np.radians(tilt), np.radians(facing)
    outward = np.sin(lean) * (np.sin(azimuth) * sky.east + np.cos(azimuth) * sky.north)
    cosine = np.maximum(outward + np.cos(lean) * sky.up, 0.0)
    around = sky.glow * cosine / np.maximum(sky.up, _LOWEST)
    rest = (1 - sky.glow) * (1 + np.cos(lean)) / 2 + sky.band * np.sin(lean)
    # A dark horizon must not take more than there is.
    rest = np.maximum(rest, -around)
    return OnPlane(
        cosine,
        sky.beam * cosine + sky.diffuse * around,
        sky.diffuse * rest,
        sky.level * ground * (1 - np.cos(lean)) / 2,
    )
