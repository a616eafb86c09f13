"""Vapour in the space between two panes that air leaks through, and water on its coldest face.

Humidity as a ratio of mass to dry air [kg/kg], flows of dry air and of vapour in kg/s, states hour by hour
along the first axis. The space is one well-mixed volume, small enough that what it stores does not count
against an hour: 100 litres with 0.5 litre a second are changed in some three minutes.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numba import njit
from numpy.typing import ArrayLike, NDArray

from sashwright.physics.psychrometrics import dew_point, humidity_ratio, saturation_pressure

Array = NDArray[np.float64]

FREEZING = 0.01
"""Below this a face carries ice, its vapour pressure that over ice: the triple point of water [°C]."""
HOUR = 3600.0
"""[s]"""


@dataclass(frozen=True, slots=True, eq=False)
class Moisture:
    """Air of a space and water on its coldest face; all of the shape of the states."""

    ratio: Array
    """Humidity ratio of the air [kg/kg]."""
    rate: Array
    """Water that settles on the face, below zero where it dries off [kg/s]."""
    held: Array
    """Water on the face at the end of the hour [kg]."""
    ran_off: Array
    """Water that ran down in the hour because the face holds no more [kg]."""


def face_pressure(temperature: ArrayLike) -> Array:
    """Vapour pressure of air in balance with wet, or below freezing with frosted, glass [Pa]."""
    face = np.asarray(temperature, dtype=np.float64)
    frosted = saturation_pressure(np.minimum(face, FREEZING), "ice")
    return np.asarray(np.where(face < FREEZING, frosted, saturation_pressure(face)))


def face_ratio(temperature: ArrayLike, pressure: ArrayLike) -> Array:
    """Humidity ratio of that air at a pressure [kg/kg]; ``temperature`` of the face [°C]."""
    return np.asarray(
        humidity_ratio(face_pressure(temperature), np.asarray(pressure, dtype=np.float64))
    )


def wetting_temperature(vapour_pressure: ArrayLike) -> Array:
    """Temperature below which a face in air of this vapour pressure [Pa] is wet or frosted [°C].

    Inverse of :func:`face_pressure`: the dew point, below freezing the frost point.
    """
    vapour = np.asarray(vapour_pressure, dtype=np.float64)
    dew = dew_point(vapour)
    return np.asarray(np.where(dew < FREEZING, dew_point(vapour, "ice"), dew))


def humidity_at_start(face: ArrayLike, room: ArrayLike) -> Array:
    r"""Relative humidity of a room at which a face in it becomes wet, or frosted [-]; at most 1.

    .. math:: \varphi = p_{sat}(T_{face}) / p_{sat}(T_{room})

    ``face`` and ``room`` [°C]. EN ISO 13788, 5: the criterion of condensation on a surface.
    """
    air = saturation_pressure(np.asarray(room, dtype=np.float64))
    return np.asarray(np.minimum(face_pressure(face) / air, 1.0))


def face_temperature(factor: ArrayLike, outdoors: ArrayLike, room: ArrayLike) -> Array:
    """Temperature of a face from its factor, 0 as outdoors, 1 as the room [°C]; ISO 10211, 3."""
    f = np.asarray(factor, dtype=np.float64)
    cold = np.asarray(outdoors, dtype=np.float64)
    return np.asarray(cold + f * (np.asarray(room, dtype=np.float64) - cold))


def mixed_ratio(
    room: ArrayLike, outdoors: ArrayLike, from_room: ArrayLike, from_outdoors: ArrayLike
) -> Array:
    """Humidity ratio of a space that takes in air from both sides [kg/kg]; flows in any one unit.

    Without any air it is the outdoors', which wood and putty let through last.
    """
    inward, outward, warm, cold = (
        np.asarray(value, dtype=np.float64) for value in (room, outdoors, from_room, from_outdoors)
    )
    total = warm + cold
    share = np.divide(warm, total, out=np.zeros(np.shape(total)), where=total > 0)
    return np.asarray(outward + share * (inward - outward))


def space_moisture(
    room: Array,
    outdoors: Array,
    saturated: Array,
    from_room: Array,
    from_outdoors: Array,
    *,
    film: ArrayLike,
    most: ArrayLike,
    repeats: bool = True,
) -> Moisture:
    r"""Vapour balance of a space through a season.

    .. math::
        \dot m_r (W_r - W) + \dot m_o (W_o - W) = g, \qquad g = k\,(W - W_{sat})

    where water settles or is there to dry off; else g = 0. What is on the face dries before the air of
    the space can become drier than the face.

    Parameters
    ----------
    room, outdoors : array
        Humidity ratios on both sides [kg/kg].
    saturated : array
        That of air in balance with the face, :func:`face_ratio` [kg/kg].
    from_room, from_outdoors : array
        Dry air that comes in from either side [kg/s]; as much goes out.
    film : float or array
        k, transfer to the face: area times coefficient of convection over the specific heat of air, by
        Lewis's relation [kg/s].
    most : float or array
        Water that the face holds before it runs down [kg].
    repeats : bool
        Whether the hours are a year that follows itself; otherwise the face is dry at their beginning.

    All broadcast together; the first axis is hours.
    """
    mixed = mixed_ratio(room, outdoors, from_room, from_outdoors)
    total = np.asarray(from_room + from_outdoors)
    k = np.asarray(film, dtype=np.float64)
    eased = np.divide(k * total, total + k, out=np.zeros(np.shape(total + k)), where=total > 0)
    gain = np.asarray(eased * (mixed - saturated) * HOUR)
    before, held, ran_off = hold(gain, most, repeats=repeats)
    rate = (held + ran_off - before) / HOUR
    dried = np.divide(rate, total, out=np.zeros(np.shape(rate)), where=total > 0)
    return Moisture(np.asarray(mixed - dried), rate, held, ran_off)


def hold(gain: Array, most: ArrayLike, *, repeats: bool = True) -> tuple[Array, Array, Array]:
    """Water on a face, hour by hour.

    Parameters
    ----------
    gain : array
        What each hour would add, or dry off, if there were no end to it; hours first [kg].
    most : float or array
        What the face holds [kg].
    repeats : bool
        As for :func:`space_moisture`.

    Returns
    -------
    before, after, ran off
        Water at the beginning and the end of each hour, and what ran down in it [kg]; as ``gain``.
    """
    shape = np.shape(gain)
    columns = np.ascontiguousarray(gain, dtype=np.float64).reshape(shape[0], -1)
    top = np.broadcast_to(np.asarray(most, dtype=np.float64), shape[1:]).reshape(-1)
    start = np.zeros(columns.shape[1])
    # From dry glass the first year ends with what the next begins with; a face that never dries fills up
    # to what it holds.
    for _ in range(_YEARS if repeats else 1):
        before, after, ran_off = _through(columns, top.copy(), start)
        if np.array_equal(after[-1], start):
            break
        start = after[-1].copy()
    return before.reshape(shape), after.reshape(shape), ran_off.reshape(shape)


_YEARS = 50


@njit(cache=True)
def _through(gain: Array, most: Array, start: Array) -> tuple[Array, Array, Array]:
    hours, columns = gain.shape
    before, after = np.empty((hours, columns)), np.empty((hours, columns))
    ran_off = np.zeros((hours, columns))
    now = start.copy()
    for h in range(hours):
        for c in range(columns):
            before[h, c] = now[c]
            water = max(now[c] + gain[h, c], 0.0)
            if water > most[c]:
                ran_off[h, c] = water - most[c]
                water = most[c]
            now[c] = water
            after[h, c] = water
    return before, after, ran_off
