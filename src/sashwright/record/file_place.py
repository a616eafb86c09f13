"""The monthly climate of a weather file that the shop has, in the shape of a place of the gazetteer."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sashwright.knowledge.climate import MonthClimate, Place
from sashwright.physics.hourly_year import (
    MONTH_OF_DAY,
    MONTH_OF_HOUR,
    HourlyYear,
    daily_means,
    degree_days,
    monthly_means,
)

Array = NDArray[np.float64]

COUNTED = "counted in the file"
"""Where its degree days come from."""

CALM = 0.5
"""Wind below it has no direction [m/s]: less than a cup anemometer turns at; common practice."""


def place_of(year: HourlyYear, path: Path) -> Place:
    """A year of weather as a place: means of its months, degree days counted in it.

    Parameters
    ----------
    year : HourlyYear
        As :func:`sashwright.record.hourly.read_hourly` gives it.
    path : Path
        The file it was read from, which names the place.
    """
    heating, cooling = degree_days(year.temperature)
    return Place(
        key=path.name,
        name=path.stem,
        region="",
        country="",
        latitude=year.latitude,
        longitude=year.longitude,
        elevation=year.elevation,
        utc_offset=year.utc_offset,
        months=_months(year),
        heating_degree_days=heating,
        cooling_degree_days=cooling,
        source=year.source,
        period="the year of the file",
        status="published",
    )


def _months(year: HourlyYear) -> tuple[MonthClimate, ...]:
    days = year.temperature.reshape(365, 24)
    highest, lowest = _of_days(days.max(axis=1)), _of_days(days.min(axis=1))
    means = daily_means(year.temperature)
    fields = ("temperature", "humidity", "dew_point", "pressure", "wind_speed", "global_horizontal",
              "direct_normal", "diffuse_horizontal")  # fmt: skip
    monthly: dict[str, Any] = {name: monthly_means(getattr(year, name)).tolist() for name in fields}
    return tuple(
        MonthClimate(
            temperature_max=float(highest[month]),
            temperature_min=float(lowest[month]),
            temperature_deviation=float(means[month == MONTH_OF_DAY].std()),
            wind_deviation=float(year.wind_speed[month == MONTH_OF_HOUR].std()),
            **_rose(year, month),
            **{name: values[month] for name, values in monthly.items()},
        )
        for month in range(12)
    )


def _of_days(values: Array) -> Sequence[float]:
    return [float(values[month == MONTH_OF_DAY].mean()) for month in range(12)]


def _rose(year: HourlyYear, month: int) -> dict[str, Any]:
    """Shares and speeds of the wind from the eight directions, from north by east."""
    chosen = month == MONTH_OF_HOUR
    speed, bearing = year.wind_speed[chosen], year.wind_direction[chosen]
    sector = np.round(bearing / 45).astype(int) % 8
    blows = speed >= CALM
    shares, speeds = [], []
    for direction in range(8):
        hours = speed[blows & (sector == direction)]
        shares.append(len(hours) / len(speed))
        speeds.append(float(hours.mean()) if len(hours) else 0.0)
    return {"wind_shares": tuple(shares), "wind_speeds": tuple(speeds)}
