"""Weather and indoor air day by day: what wood, which never hurries, needs to know of a climate."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sashwright.physics.hourly_year import DAYS, HourlyYear, WeatherError, daily_means
from sashwright.physics.indoor import IndoorClimate
from sashwright.physics.sun import sun_hours, toward_sun

Array = NDArray[np.float64]

FACINGS = 8
"""North, northeast and so on round to northwest."""

TYPICAL_SUN = (56.0, 69.0, 94.0, 112.0, 117.0, 114.0, 96.0, 70.0)
"""Mean irradiance on upright walls over a year, by facing [W/m2].

Mean of four typical years (TMY3: Atlanta, Chicago, Duluth, Portland OR; National Renewable Energy
Laboratory) by :func:`facade_sun`; single places lie within a fifth of it.
"""

_GROUND = 0.2
"""Share of light that the ground throws back [-]; the usual value of solar engineering for open ground."""


@dataclass(frozen=True, slots=True, eq=False)
class DailyClimate:
    """Daily means of the air outside and inside, each of shape (365,), from 1 January.

    Raises
    ------
    WeatherError
        When an array has another shape, a hole, or a value that no air has, such as a humidity in
        percent.
    """

    outdoor_temperature: Array
    """[°C]"""
    outdoor_humidity: Array
    """Relative, over water [-]."""
    indoor_temperature: Array
    """[°C]"""
    indoor_humidity: Array
    """Relative, over water [-]."""
    source: str
    """Where the days come from, in words for a reader."""
    facade_sun: Array | None = None
    """Irradiance on upright walls facing north, northeast … northwest, shape (8, 365) [W/m2].

    Where it is not known, the mean of typical years.
    """

    def __post_init__(self) -> None:
        for name, high in (
            ("outdoor_temperature", 65.0),
            ("outdoor_humidity", 1.0),
            ("indoor_temperature", 65.0),
            ("indoor_humidity", 1.0),
        ):
            low = 0.0 if high == 1.0 else -75.0
            _check(name, getattr(self, name), (DAYS,), low, high)
        if self.facade_sun is not None:
            _check("facade_sun", self.facade_sun, (FACINGS, DAYS), 0.0, 1500.0)

    def sun_on(self, faces: float) -> Array:
        """Irradiance on an upright wall that looks to a bearing [degrees from north], (365,) [W/m2]."""
        sun = self.facade_sun
        if sun is None:
            sun = np.repeat(np.array(TYPICAL_SUN)[:, None], DAYS, axis=1)
        place = faces / 360 * FACINGS % FACINGS
        first, share = int(place), place % 1.0
        between: Array = (1 - share) * sun[first % FACINGS] + share * sun[(first + 1) % FACINGS]
        return between


def _check(name: str, values: Array, shape: tuple[int, ...], low: float, high: float) -> None:
    words = name.replace("_", " ")
    if values.shape != shape:
        raise WeatherError(f"{words}: found shape {values.shape}, expected {shape}")
    wrong = ~((values >= low) & (values <= high))
    if wrong.any():
        found = float(values[wrong][0])
        raise WeatherError(f"{words}: found {found:g}, expected {low:g} to {high:g}")


def daily(year: HourlyYear, indoor: IndoorClimate) -> DailyClimate:
    """Daily means of an hourly year and the air inside, which may be hourly or daily."""

    def days(values: Array) -> Array:
        return values if len(values) == DAYS else daily_means(values)

    return DailyClimate(
        daily_means(year.temperature),
        daily_means(year.humidity),
        days(indoor.temperature),
        np.clip(days(indoor.humidity), 0.0, 1.0),
        year.source,
        facade_sun(year),
    )


def facade_sun(year: HourlyYear) -> Array:
    """Daily mean irradiance on upright walls facing north, northeast … northwest, (8, 365) [W/m2].

    The beam by its angle in the middle of each hour's sunshine, half of an evenly bright sky, and half of
    what level ground throws back; nothing stands in the way.
    """
    hours = sun_hours(year.latitude, year.longitude, year.utc_offset)
    east, north, _ = toward_sun(year.latitude, hours)
    beam = year.direct_normal.reshape(DAYS, 24)
    level = year.diffuse_horizontal + _GROUND * year.global_horizontal
    azimuth = 2 * np.pi * np.arange(FACINGS)[:, None, None] / FACINGS
    toward = np.sin(azimuth) * east + np.cos(azimuth) * north
    sun: Array = (beam * np.maximum(toward, 0.0)).mean(axis=2) + daily_means(level) / 2
    return sun
