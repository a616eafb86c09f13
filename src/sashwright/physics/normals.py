"""Monthly climate of a place, and how to fill what nobody measured there.

Months are arrays of shape (12,), January first. Whoever has a month's temperatures and humidity can
have the rest estimated by published correlations; the result names what was estimated.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

from sashwright.physics import psychrometrics, sun
from sashwright.physics.hourly_year import DAYS_OF_MONTH, WeatherError, monthly_means

Array = NDArray[np.float64]

DIRECTIONS = ("N", "NE", "E", "SE", "S", "SW", "W", "NW")

TYPICAL_WIND = 4.0
"""Mean wind 10 m above open ground where none is given [m/s]: the middle of US stations is 3.9."""

_DAYS = np.asarray(DAYS_OF_MONTH, dtype=np.float64)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Normals:
    """The climate of a place by month; each array of shape (12,) unless said otherwise."""

    temperature: Array
    """Mean of all hours [°C]."""
    temperature_max: Array
    """Mean of the days' highest [°C]."""
    temperature_min: Array
    """Mean of the days' lowest [°C]."""
    temperature_deviation: Array
    """Standard deviation of the days' means within the month [K]."""
    humidity: Array
    """Mean of all hours, relative, over water [-]."""
    dew_point: Array
    """Mean of all hours [°C]."""
    pressure: Array
    """Mean at the station [Pa]."""
    wind_speed: Array
    """Mean of all hours [m/s]."""
    wind_deviation: Array
    """Standard deviation of the hours [m/s]."""
    wind_shares: Array
    """Share of all hours with the wind from each of eight directions, shape (12, 8); rest calm [-]."""
    wind_speeds: Array
    """Mean speed from each direction, shape (12, 8) [m/s]."""
    global_horizontal: Array
    """Mean irradiance on a level over all 24 hours [W/m2]; times 0.024 it is kWh/m2 a day."""
    diffuse_horizontal: Array
    """Likewise, of the sky alone [W/m2]."""
    direct_normal: Array | None = None
    """Likewise, of the beam on a plane across it [W/m2]; None where not known."""
    estimated: tuple[str, ...] = ()
    """Names of the fields that were estimated, not given."""

    def __post_init__(self) -> None:
        for name in MONTHLY:
            values = getattr(self, name)
            if values is None:
                continue
            shape = (12, 8) if name in {"wind_shares", "wind_speeds"} else (12,)
            if values.shape != shape or not np.isfinite(values).all():
                raise WeatherError(
                    f"{name.replace('_', ' ')} by month: found {values.tolist()}, expected numbers of "
                    f"shape {shape}"
                )
            values.setflags(write=False)


MONTHLY = tuple(field.name for field in fields(Normals) if field.name != "estimated")
"""The fields that are monthly figures."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Known:
    """What is known of a place by month: the fields of :class:`Normals`, None where not known."""

    temperature_max: Array
    temperature_min: Array
    temperature: Array | None = None
    temperature_deviation: Array | None = None
    humidity: Array | None = None
    dew_point: Array | None = None
    pressure: Array | None = None
    wind_speed: Array | None = None
    wind_deviation: Array | None = None
    wind_shares: Array | None = None
    wind_speeds: Array | None = None
    global_horizontal: Array | None = None
    diffuse_horizontal: Array | None = None
    direct_normal: Array | None = None
    sunshine: Array | None = None
    """Hours of bright sunshine in the whole month, used where irradiance is not known [h]."""


def complete_normals(known: Known, latitude: float, elevation: float) -> Normals:
    """Normals from what is known of a place, the rest estimated.

    Parameters
    ----------
    known : Known
        Monthly figures.
    latitude : float
        [degrees]
    elevation : float
        [m]

    Raises
    ------
    WeatherError
        When both humidity and dew point are missing, or both irradiance and sunshine.

    Notes
    -----
    ========================= ====================================================================
    missing                   taken instead
    ========================= ====================================================================
    mean temperature          (highest + lowest) / 2
    deviation of daily means  from the monthly means, see :func:`deviation_of_days`
    humidity, dew point       each from the other at the mean temperature
    pressure                  standard atmosphere at the elevation
    wind                      ``TYPICAL_WIND``, a Rayleigh distribution (deviation 0.523 of the
                              mean), from all sides alike
    irradiance                from sunshine by Ångström and Prescott with the constants of FAO
                              Irrigation and Drainage Paper 56, eq. 35
    diffuse irradiance        monthly correlation of Erbs, Klein and Duffie (1982)
    ========================= ====================================================================
    """
    highest, lowest = known.temperature_max, known.temperature_min
    temperature = _or(known.temperature, (highest + lowest) / 2)
    humidity, dew_point = _moisture(temperature, known.humidity, known.dew_point)
    wind_speed = _or(known.wind_speed, np.full(12, TYPICAL_WIND))
    shares, speeds = known.wind_shares, known.wind_speeds
    if shares is None or speeds is None:
        shares, speeds = np.full((12, 8), 1 / 8), np.tile(wind_speed[:, None], 8)
    level = known.global_horizontal
    if level is None:
        level = _from_sunshine(latitude, known.sunshine)
    return Normals(
        temperature=temperature,
        temperature_max=highest,
        temperature_min=lowest,
        temperature_deviation=_or(known.temperature_deviation, deviation_of_days(temperature)),
        humidity=humidity,
        dew_point=dew_point,
        pressure=_or(known.pressure, np.full(12, psychrometrics.standard_pressure(elevation))),
        wind_speed=wind_speed,
        wind_deviation=_or(known.wind_deviation, _RAYLEIGH * wind_speed),
        wind_shares=shares,
        wind_speeds=speeds,
        global_horizontal=level,
        diffuse_horizontal=_or(known.diffuse_horizontal, monthly_diffuse(latitude, level)),
        direct_normal=known.direct_normal,
        estimated=tuple(name for name in MONTHLY if getattr(known, name) is None),
    )


def _or(given: Array | None, estimate: Array) -> Array:
    return estimate if given is None else given


# Standard deviation over mean of a Rayleigh distribution.
_RAYLEIGH = math.sqrt(4 / math.pi - 1)


def _moisture(
    temperature: Array, humidity: Array | None, dew_point: Array | None
) -> tuple[Array, Array]:
    if humidity is not None and dew_point is None:
        return humidity, psychrometrics.dew_point_from_humidity(temperature, humidity)
    if humidity is None and dew_point is not None:
        humidity = np.minimum(psychrometrics.relative_humidity(temperature, dew_point), 1.0)
    if humidity is None or dew_point is None:
        raise WeatherError("found neither humidity nor dew point, expected one of them by month")
    return humidity, dew_point


def deviation_of_days(temperature: Array) -> Array:
    r"""Standard deviation of daily means within each month from the monthly means [K].

    .. math:: \sigma_d = 0.43 \sqrt{N}\, (1.45 - 0.0290\, T + 0.0664\, \sigma_y)

    with N days and the standard deviation :math:`\sigma_y` of the twelve means.

    Notes
    -----
    The bracket is the deviation of the month's mean from year to year: D. G. Erbs, S. A. Klein and
    W. A. Beckman, "Estimation of degree-days and ambient temperature bin data from monthly-average
    temperatures", *ASHRAE Journal* 25(6) (1983) 60-65. The factor 0.43 was fitted to typical years of
    41 US stations; days correlated by 0.6 from one to the next would make it 0.5.
    """
    yearly = temperature.std()
    of_month = np.maximum(1.45 - 0.0290 * temperature + 0.0664 * yearly, 0.3)
    days: Array = 0.43 * np.sqrt(_DAYS) * of_month
    return days


def _from_sunshine(latitude: float, sunshine: Array | None) -> Array:
    if sunshine is None:
        raise WeatherError("found neither irradiance nor sunshine, expected one of them by month")
    outside = monthly_means(sun.daily_extraterrestrial(latitude))
    possible = monthly_means(sun.day_length(latitude)) * _DAYS
    share = np.clip(sunshine / np.maximum(possible, 1e-9), 0.0, 1.0)
    level: Array = outside * (0.25 + 0.50 * share)
    return level


def monthly_diffuse(latitude: float, global_horizontal: Array) -> Array:
    """Mean diffuse irradiance of each month [W/m2] from the global one.

    Notes
    -----
    D. G. Erbs, S. A. Klein and J. A. Duffie, "Estimation of the diffuse radiation fraction for hourly,
    daily and monthly-average global radiation", *Solar Energy* 28 (1982) 293-302, eq. 7, for a monthly
    clearness of 0.3 to 0.8 (held at the ends outside). Against typical years of 41 US stations it is
    low by 0.045 of the global irradiance, give or take 0.076.
    """
    outside = monthly_means(sun.daily_extraterrestrial(latitude))
    sunset = monthly_means(sun.sunset_angle(latitude))
    K = np.clip(global_horizontal / np.maximum(outside, 1e-9), 0.3, 0.8)
    winter = 1.391 - 3.560 * K + 4.189 * K**2 - 2.137 * K**3
    rest = 1.311 - 3.022 * K + 3.427 * K**2 - 1.821 * K**3
    diffuse: Array = global_horizontal * np.where(sunset <= math.radians(81.4), winter, rest)
    return diffuse
