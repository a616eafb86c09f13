"""Where the sun stands through a common year, and what falls outside the atmosphere.

Enough for making a typical year and for clearness; screening of windows wants a finer algorithm.
Angles in radians unless said otherwise, irradiance in W/m2. Hours are those of local standard time,
0 for the hour from midnight to one.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

DAYS = 365
SOLAR_CONSTANT = 1367.0
"""Irradiance outside the atmosphere at the mean distance of the sun [W/m2].

The value of the World Radiation Centre that the correlations used here were made with; measured
since at 1361 (Kopp and Lean 2011).
"""

# The sun moves 15 degrees in an hour.
_HOUR = math.pi / 12


def _day_angle() -> Array:
    """Where the earth stands in its year at noon of each day.

    Spencer counts whole days from 1 January. Half a day on his series follow the sun of today's years,
    leap days averaged, within 0.2°; as printed they run 0.35° behind around the equinoxes.
    """
    days: Array = 2 * np.pi * (np.arange(DAYS) + 0.5) / DAYS
    return days


def declination() -> Array:
    """Declination of the sun at noon of each day, shape (365,) [rad].

    J. W. Spencer, "Fourier series representation of the position of the sun", *Search* 2 (1971) 172.
    """
    g = _day_angle()
    series: Array = (
        0.006918
        - 0.399912 * np.cos(g)
        + 0.070257 * np.sin(g)
        - 0.006758 * np.cos(2 * g)
        + 0.000907 * np.sin(2 * g)
        - 0.002697 * np.cos(3 * g)
        + 0.00148 * np.sin(3 * g)
    )
    return series


def equation_of_time() -> Array:
    """How far the sun is ahead of the mean sun on each day, shape (365,) [h]; Spencer (1971)."""
    g = _day_angle()
    series: Array = (
        0.0000075
        + 0.001868 * np.cos(g)
        - 0.032077 * np.sin(g)
        - 0.014615 * np.cos(2 * g)
        - 0.040849 * np.sin(2 * g)
    )
    return series / _HOUR


def extraterrestrial_normal() -> Array:
    """Irradiance across the beam outside the atmosphere on each day, shape (365,) [W/m2]."""
    g = _day_angle()
    distance: Array = (
        1.000110
        + 0.034221 * np.cos(g)
        + 0.001280 * np.sin(g)
        + 0.000719 * np.cos(2 * g)
        + 0.000077 * np.sin(2 * g)
    )
    return SOLAR_CONSTANT * distance


def sunset_angle(latitude: float) -> Array:
    """Hour angle of sunset on each day, shape (365,) [rad]: 0 in polar night, pi in polar day.

    Geometric: the middle of the disc on a level horizon, without refraction.
    """
    cosine = -math.tan(math.radians(latitude)) * np.tan(declination())
    angle: Array = np.arccos(np.clip(cosine, -1.0, 1.0))
    return angle


def day_length(latitude: float) -> Array:
    """Hours from sunrise to sunset of each day, shape (365,) [h]; ``latitude`` in degrees."""
    return 2 * sunset_angle(latitude) / _HOUR


def daily_extraterrestrial(latitude: float) -> Array:
    """Mean over 24 hours of irradiance on a level outside the atmosphere, shape (365,) [W/m2].

    Times 0.024 it is kWh/m2 in the day. ``latitude`` in degrees.
    """
    phi, delta, sunset = math.radians(latitude), declination(), sunset_angle(latitude)
    height = math.sin(phi) * np.sin(delta) * sunset + math.cos(phi) * np.cos(delta) * np.sin(sunset)
    mean: Array = extraterrestrial_normal() * np.maximum(height, 0.0) / math.pi
    return mean


@dataclass(frozen=True, slots=True)
class SunHours:
    """The sun over every hour of a year, each of shape (365, 24)."""

    hour_angle: Array
    """At the middle of what the hour sees of the sun, from solar noon, mornings below zero [rad]."""
    up: Array
    """Share of the hour with the sun above the horizon [-]."""
    height: Array
    """Mean over the whole hour of the cosine of the zenith angle, nights counting as 0 [-]."""


def sun_hours(latitude: float, longitude: float, utc_offset: float) -> SunHours:
    """The sun over the hours of local standard time.

    Parameters
    ----------
    latitude, longitude : float
        North and east of Greenwich counted up [degrees].
    utc_offset : float
        Local standard time less universal time [h].

    Notes
    -----
    The cosine of the zenith angle is integrated over the hour, cut off at sunrise and sunset, so that
    the hours of a day add up to :func:`daily_extraterrestrial`.
    """
    late = longitude / 15 - utc_offset + equation_of_time()[:, None]
    start = (np.arange(24) + late - 12) * _HOUR
    # Turned into -pi to pi; clocks far from the sun's time begin the day in the evening before.
    start = (start + np.pi) % (2 * np.pi) - np.pi
    sunset = sunset_angle(latitude)[:, None]
    phi, delta = math.radians(latitude), declination()[:, None]
    level, swing = math.sin(phi) * np.sin(delta), math.cos(phi) * np.cos(delta)
    first, last = np.maximum(start, -sunset), np.minimum(start + _HOUR, sunset)
    # An hour across midnight sees the sun of polar summer on both sides of it.
    again = np.maximum(np.minimum(start + _HOUR - 2 * np.pi, sunset) + sunset, 0.0)
    again = np.where(start + _HOUR > np.pi, again, 0.0)
    up = (np.maximum(last - first, 0.0) + again) / _HOUR
    height = _swept(first, last, level, swing) + _swept(-sunset, again - sunset, level, swing)
    middle = np.where(last > first, (first + last) / 2, start + _HOUR / 2)
    return SunHours(middle, up, np.maximum(height / _HOUR, 0.0))


def toward_sun(latitude: float, hours: SunHours) -> tuple[Array, Array, Array]:
    """East, north and up parts of the direction of the sun, each of shape (365, 24) [-].

    In the middle of what each hour sees of the sun; at night it points below the ground. ``latitude`` in
    degrees.
    """
    phi, delta = math.radians(latitude), declination()[:, None]
    omega = hours.hour_angle
    east: Array = -np.cos(delta) * np.sin(omega)
    north: Array = np.cos(phi) * np.sin(delta) - np.sin(phi) * np.cos(delta) * np.cos(omega)
    up: Array = math.sin(phi) * np.sin(delta) + math.cos(phi) * np.cos(delta) * np.cos(omega)
    return east, north, up


def _swept(first: Array, last: Array, level: Array, swing: Array) -> Array:
    """Integral of the cosine of the zenith angle between two hour angles; 0 where they are crossed."""
    area: Array = level * (last - first) + swing * (np.sin(last) - np.sin(first))
    return np.where(last > first, area, 0.0)
