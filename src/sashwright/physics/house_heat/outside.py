"""What lies behind a house's elements: air with sun and sky put in, ground, and sun through windows."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sashwright.physics.house_heat.elements import OUTSIDE, Film
from sashwright.physics.sunlight import OnPlane

Array = NDArray[np.float64]

SKY_COLDER = 11.0
"""How far the sky's radiant temperature lies below the air's [K]; ISO 52016-1:2017 (from memory), for
places between polar and tropical."""
SUN_TO_AIR = 0.1
"""Share of the sun through windows that warms the air at once [-]; ISO 52016-1:2017 (from memory)."""
GAINS_TO_AIR = 0.4
"""Share of the heat of people and appliances that warms the air at once [-]; as above."""
GLASS_TAKES = 0.8
"""What double clear glass does not throw back of diffuse light from the room [-]: by
:func:`sashwright.physics.glazing.diffuse`; single 0.86."""
SOIL = 6.5e-7
"""Diffusivity of the ground [m2/s]; ours, between two that follow from ISO 13370, table 1 (from memory):
clay or silt 1.5 W/(m K) over 3.0 MJ/(m3 K), sand or gravel 2.0 over 2.0."""
_YEAR = 8760 * 3600.0


def sees_sky(tilt: float) -> float:
    """Share of a plane's view that is sky [-]: 1 lying flat, 1/2 upright. ``tilt`` in degrees."""
    return float((1 + np.cos(np.radians(tilt))) / 2)


def behind_face(
    outdoors: ArrayLike,
    sun: ArrayLike = 0.0,
    *,
    absorptance: float = 0.6,
    sky: float = 0.5,
    film: Film = OUTSIDE,
    sky_colder: ArrayLike = SKY_COLDER,
) -> Array:
    r"""Temperature of air alone that would do to a face what air, sun and sky do [°C].

    .. math:: \theta = \theta_e + (\alpha I - F_{sky} h_r \Delta\theta_{sky}) / (h_c + h_r)

    Parameters
    ----------
    outdoors : array
        Of the air [°C].
    sun : array
        On the plane [W/m2].
    absorptance : float
        Of the face for the sun [-]; 0 for a window, whose sun comes with the gains.
    sky : float
        Share of the view that is sky [-]: :func:`sees_sky`.
    film : Film
        The element's outer one.
    sky_colder : array
        How far the sky lies below the air [K].
    """
    air, shine, colder = (np.asarray(v, dtype=np.float64) for v in (outdoors, sun, sky_colder))
    forced = absorptance * shine - sky * film.radiation * colder
    return np.asarray(air + forced / film.total)


@dataclass(frozen=True, slots=True, eq=False)
class SunThrough:
    """What a window does with the sun: total gain g [-] over the cosine of the angle, and for diffuse.

    ``cosines`` rising from 0 to 1; ``gains`` at them; ``diffuse`` for light from all sides alike.
    """

    cosines: Array
    gains: Array
    diffuse: float

    def __post_init__(self) -> None:
        if self.cosines.shape != self.gains.shape or not (np.diff(self.cosines) > 0).all():
            raise ValueError("gain by angle: expected a gain for each cosine, and these rising")
        if self.cosines[0] != 0 or self.cosines[-1] != 1:
            raise ValueError("gain by angle: expected cosines from 0 to 1")


def sun_through(glass: float, sun: OnPlane, window: SunThrough) -> Array:
    """Heat that the sun gives through so much glass [m2] in each hour, (8760,) [W]."""
    straight = np.interp(sun.cosine, window.cosines, window.gains)
    passed: Array = glass * (sun.beam * straight + window.diffuse * (sun.diffuse + sun.ground))
    return passed


@dataclass(frozen=True, slots=True)
class SunShares:
    """Where the sun that has come through a room's windows ends, in parts of it [-].

    ``floor`` and ``faces`` stay, ``lost`` goes back out through the glass; 1 in all.
    """

    floor: float
    faces: float
    lost: float


def sun_in_room(
    glass: float, faces: float, absorptance: float = 0.6, glass_takes: float = GLASS_TAKES
) -> SunShares:
    """The sun falls on the floor; what that throws back is shared by all faces of the room.

    Each takes by its area and absorptance, glass as well; what glass takes is counted as lost, as by the
    solar loss factor of EN ISO 13791 (from memory).

    Parameters
    ----------
    glass, faces : float
        Area of the glass, and of all faces of the room with it [m2].
    absorptance : float
        Of floor and walls [-].
    glass_takes : float
        What the glass does not throw back into the room [-].
    """
    if not 0 <= glass < faces:
        raise ValueError(f"found {glass} m2 of glass in {faces} m2 of faces, expected less glass")
    through, kept = glass * glass_takes, (faces - glass) * absorptance
    lost = (1 - absorptance) * through / (through + kept)
    return SunShares(absorptance, 1 - absorptance - lost, lost)


def ground(outdoors: Array, depth: float, diffusivity: float = SOIL) -> Array:
    r"""Temperature of undisturbed ground at a depth through a year, of the air's shape [°C].

    .. math:: \bar\theta + A e^{-z/d} \cos(\omega t - \varphi - z/d), \quad d = \sqrt{2 a / \omega}

    T. Kusuda and P. R. Achenbach, "Earth temperature and thermal diffusivity at selected stations in the
    United States", *ASHRAE Transactions* 71 (1965) 61-75; its surface follows the year's wave of the air.

    Parameters
    ----------
    outdoors : array
        Of the air through a whole year in even steps [°C].
    depth : float
        z [m]
    diffusivity : float
        a [m2/s]
    """
    turn = 2 * np.pi * (np.arange(len(outdoors)) + 1) / len(outdoors)
    wave = 2 * np.mean(outdoors * np.exp(-1j * turn))
    shrunk = depth / np.sqrt(2 * diffusivity / (2 * np.pi / _YEAR))
    swing: Array = np.real(wave * np.exp(1j * (turn - shrunk))) * np.exp(-shrunk)
    return np.asarray(outdoors.mean() + swing)
