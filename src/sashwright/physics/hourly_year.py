"""A year of weather, hour by hour, and the sums that are taken of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Whole = NDArray[np.intp]

DAYS = 365
HOURS = 8760
DAYS_OF_MONTH = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
"""Of a common year: a year of weather has no 29 February."""

MONTH_OF_DAY: Whole = np.repeat(np.arange(12), DAYS_OF_MONTH)
"""Month, 0 for January, of each of the 365 days."""

MONTH_OF_HOUR: Whole = np.repeat(MONTH_OF_DAY, 24)
"""Month, 0 for January, of each of the 8,760 hours."""

BASE_65F = (65 - 32) / 1.8
"""Base of the degree days that American tables print [°C]."""

_BOUNDS: Mapping[str, tuple[float, float, str]] = {
    "temperature": (-75.0, 65.0, "°C"),
    "dew_point": (-95.0, 45.0, "°C"),
    "humidity": (0.0, 1.0, "as a fraction"),
    "pressure": (50_000.0, 110_000.0, "Pa"),
    "wind_speed": (0.0, 80.0, "m/s"),
    "wind_direction": (0.0, 360.0, "degrees"),
    "global_horizontal": (0.0, 1500.0, "W/m2"),
    "direct_normal": (0.0, 1500.0, "W/m2"),
    "diffuse_horizontal": (0.0, 1500.0, "W/m2"),
}


class WeatherError(ValueError):
    """Weather that cannot be: the message says what was found, where, and what was expected."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class HourlyYear:
    """8,760 hours of weather at one place, from midnight of 1 January, local standard time.

    Each field of weather is an array of shape (8760,). Irradiance is the mean over its hour; the
    others are read at the **end** of it, as in the files of weather services, and stand for it.

    Raises
    ------
    WeatherError
        When an array has another shape, a hole, or a value that no weather has.
    """

    temperature: Array
    """Of the air [°C]."""
    dew_point: Array
    """[°C]; over water, also below freezing."""
    humidity: Array
    """Relative, over water [-]."""
    pressure: Array
    """At the station [Pa]."""
    wind_speed: Array
    """Usually 10 m above open ground [m/s]."""
    wind_direction: Array
    """Where the wind comes from, 0 to 360 from north by east; means nothing in a calm [degrees]."""
    global_horizontal: Array
    """Irradiance on a level [W/m2]."""
    direct_normal: Array
    """Irradiance of the beam on a plane across it [W/m2]."""
    diffuse_horizontal: Array
    """Irradiance of the sky on a level [W/m2]."""
    latitude: float
    """North counts up [degrees]."""
    longitude: float
    """East counts up [degrees]."""
    elevation: float
    """Above the sea [m]."""
    utc_offset: float
    """Local standard time less universal time [h]."""
    source: str
    """Where the year comes from, in words for a reader."""

    def __post_init__(self) -> None:
        for name, (low, high, unit) in _BOUNDS.items():
            _check(name, getattr(self, name), low, high, unit)
            # Nobody may change a year that others hold.
            getattr(self, name).setflags(write=False)

    @property
    def calm(self) -> NDArray[np.bool_]:
        """Hours without wind, whose direction means nothing."""
        return self.wind_speed < 0.5


WEATHER = tuple(field.name for field in fields(HourlyYear) if field.name in _BOUNDS)
"""The nine fields of weather."""


def _check(name: str, values: Array, low: float, high: float, unit: str) -> None:
    words = name.replace("_", " ")
    if values.shape != (HOURS,):
        raise WeatherError(f"{words}: found shape {values.shape}, expected ({HOURS},)")
    wrong = ~((values >= low) & (values <= high))
    if wrong.any():
        hour = int(np.argmax(wrong))
        raise WeatherError(
            f"{words}, {hour_name(hour)}: found {values[hour]:g}, expected "
            f"{low:g} to {high:g} {unit}"
        )


def hour_name(hour: int) -> str:
    """An hour in words, counted from 0: ``29 January, 00:00 to 01:00`` for hour 672."""
    day = hour // 24
    month = int(MONTH_OF_DAY[day])
    date = day - sum(DAYS_OF_MONTH[:month]) + 1
    return f"{date} {MONTH_NAMES[month]}, {hour % 24:02}:00 to {hour % 24 + 1:02}:00"


MONTH_NAMES = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)


def monthly_means(values: Array) -> Array:
    """Mean of each month, shape (12,), of 365 daily or 8,760 hourly values."""
    months = MONTH_OF_DAY if len(values) == DAYS else MONTH_OF_HOUR
    means: Array = np.bincount(months, weights=values) / np.bincount(months)
    return means


def daily_means(values: Array) -> Array:
    """Mean of each day, shape (365,), of 8,760 hourly values."""
    means: Array = values.reshape(DAYS, 24).mean(axis=1)
    return means


def degree_days(temperature: Array, base: float = BASE_65F) -> tuple[float, float]:
    """Heating and cooling degree days of a year of hourly temperatures [K day].

    Parameters
    ----------
    temperature : array
        Of shape (8760,) [°C].
    base : float
        Heating counts below, cooling above [°C].

    Notes
    -----
    By (highest + lowest) / 2 of the day, as weather services count. Counted by the mean of the day, or
    hour by hour, a year has up to a tenth more or less. Times 1.8 for °F day.
    """
    day = temperature.reshape(DAYS, 24)
    middle = (day.max(axis=1) + day.min(axis=1)) / 2
    heating = np.maximum(base - middle, 0.0).sum()
    cooling = np.maximum(middle - base, 0.0).sum()
    return float(heating), float(cooling)
