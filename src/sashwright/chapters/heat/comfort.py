"""How a cold window feels: warmth of its inner face, one-sided chill, and the air that falls down it.

Screening values for one person at rest before one window of a room that is otherwise at its own
temperature. Radiant asymmetry, its share of people bothered and the draught rating: ISO 7730:2005, 6 (from
memory). Falling air: P. Heiselberg, "Draught risk from cold vertical surfaces", Building and Environment 29
(1994) 297-301 (formulas from memory).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

ASYMMETRY_LIMIT = 10.0
"""Most that a cool wall may make, categories A and B [K]; ISO 7730:2005, table A.4."""
DRAUGHT_LIMIT = 20.0
"""Most people bothered by moving air, category B [%]; ISO 7730:2005, table A.1."""
DRAUGHT_MOST = 30.0
"""The same, category C [%]."""
PERSON_AT = 1.0
"""Distance of the person from the glass [m]; judgement: a chair by the window."""
TURBULENCE = 40.0
"""Of the air in a room, where nobody measured it [%]; ISO 7730:2005."""
NEAR, FAR = 0.4, 2.0
"""Distances from the wall between which the falling air spreads over the floor [m]."""
_SKIN = 34.0
_STILL = 0.05
_COLDEST_AIR = 20.0


@dataclass(frozen=True, slots=True)
class Comfort:
    """What a person before the window feels in one weather."""

    glass: float
    """Inner face at the centre, the two sash by their areas [°C]."""
    coldest: float
    """Coldest spot of the room's faces, at the edges of the glass [°C]."""
    asymmetry: float
    """Radiant temperature asymmetry [K]."""
    bothered: float
    """By it [%]."""
    speed: float
    """Of the falling air at the person's feet [m/s]."""
    speed_near: float
    """The same within ``NEAR`` of the wall."""
    draught: float
    """People bothered by it [%]."""


def facing(width: float, height: float, distance: float) -> float:
    """View factor of a small face for a rectangle opposite to it, centred [-]; closed form, any textbook."""
    x, y = width / 2 / distance, height / 2 / distance
    along, up = math.hypot(1.0, x), math.hypot(1.0, y)
    corner = x / along * math.atan(y / along) + y / up * math.atan(x / up)
    return 4 * corner / (2 * math.pi)


def asymmetry(face: float, room: float, factor: float) -> float:
    """Radiant temperature of the room's side less that of the window's [K]; all else at the room's."""
    kelvin = 273.15
    seen = factor * (face + kelvin) ** 4 + (1 - factor) * (room + kelvin) ** 4
    return room + kelvin - float(seen**0.25)


def bothered_by_cool_wall(difference: float) -> float:
    """Share of people [%], up to 15 K; ISO 7730:2005, eq. 12."""
    if difference <= 0:
        return 0.0
    return 100 / (1 + math.exp(6.61 - 0.345 * min(difference, 15.0)))


def downdraught(difference: float, height: float, distance: float) -> float:
    r"""Highest speed of air that has come down a cold face [m/s].

    .. math::
        0.055 \sqrt{\Delta T h},\quad 0.095 \frac{\sqrt{\Delta T h}}{x + 1.32},\quad 0.028 \sqrt{\Delta T h}

    within 0.4 m of the wall, from there to 2 m, and beyond.

    Parameters
    ----------
    difference : float
        Room less face [K]; 0 where the face is the warmer.
    height : float
        Of the cold face [m].
    distance : float
        From the wall [m].
    """
    root = math.sqrt(max(difference, 0.0) * height)
    if distance < NEAR:
        return 0.055 * root
    if distance <= FAR:
        return 0.095 * root / (distance + 1.32)
    return 0.028 * root


def draught_temperature(room: float, difference: float, distance: float) -> float:
    """Of the falling air where it is fastest [°C]: the room's less (0.30 - 0.034 x) of the difference."""
    return room - (0.30 - 0.034 * min(max(distance, NEAR), FAR)) * max(difference, 0.0)


def draught_rating(air: float, speed: float, turbulence: float = TURBULENCE) -> float:
    """People bothered by moving air [%]; ISO 7730:2005, eq. 8, for 20 to 26 °C.

    Colder air counts as of 20 °C: the formula was found at the neck, and feet mind less.
    """
    if speed <= _STILL:
        return 0.0
    air = max(air, _COLDEST_AIR)
    moved: float = (speed - _STILL) ** 0.62 * (0.37 * speed * turbulence + 3.14)
    return min((_SKIN - air) * moved, 100.0)


def comfort_of(
    glass: float, coldest: float, room: float, size: tuple[float, float], drop: float
) -> Comfort:
    """All of it for one window.

    ``glass`` and ``coldest`` faces and ``room`` [°C]; ``size`` of the window's glass, width and height;
    ``drop`` the height that the air falls along it [m].
    """
    unlike = asymmetry(glass, room, facing(*size, PERSON_AT))
    below = room - glass
    speed = downdraught(below, drop, PERSON_AT)
    air = draught_temperature(room, below, PERSON_AT)
    return Comfort(
        glass,
        coldest,
        unlike,
        bothered_by_cool_wall(unlike),
        speed,
        downdraught(below, drop, 0.0),
        draught_rating(air, speed),
    )
