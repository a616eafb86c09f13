"""The hourly year: its calendar, its refusals, its sums."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from sashwright.physics.hourly_year import (
    BASE_65F,
    DAYS_OF_MONTH,
    HOURS,
    MONTH_OF_HOUR,
    WEATHER,
    HourlyYear,
    WeatherError,
    degree_days,
    hour_name,
    monthly_means,
)


def still(**changes: Any) -> HourlyYear:
    """A year in which nothing ever changes."""
    even = {
        "temperature": 10.0,
        "dew_point": 5.0,
        "humidity": 0.7,
        "pressure": 101325.0,
        "wind_speed": 3.0,
        "wind_direction": 270.0,
        "global_horizontal": 100.0,
        "direct_normal": 50.0,
        "diffuse_horizontal": 60.0,
    }
    fields: dict[str, Any] = {name: np.full(HOURS, value) for name, value in even.items()}
    head = {"latitude": 45.0, "longitude": -70.0, "elevation": 10.0, "utc_offset": -5.0}
    return HourlyYear(**(fields | head | {"source": "test"} | changes))


def test_the_calendar() -> None:
    assert sum(DAYS_OF_MONTH) * 24 == HOURS
    assert np.bincount(MONTH_OF_HOUR).tolist() == [24 * days for days in DAYS_OF_MONTH]
    assert hour_name(0) == "1 January, 00:00 to 01:00"
    assert hour_name(672) == "29 January, 00:00 to 01:00"
    assert hour_name(59 * 24) == "1 March, 00:00 to 01:00"
    assert hour_name(8759) == "31 December, 23:00 to 24:00"


def test_nobody_changes_a_year() -> None:
    year = still()
    with pytest.raises(ValueError, match="read-only"):
        year.temperature[0] = 99.0


@pytest.mark.parametrize("field", WEATHER)
def test_holes_are_refused(field: str) -> None:
    values = getattr(still(), field).copy()
    values[672] = np.nan
    with pytest.raises(WeatherError, match=r"29 January, 00:00 to 01:00: found nan, expected"):
        still(**{field: values})


def test_other_lengths_are_refused() -> None:
    with pytest.raises(WeatherError, match=r"temperature: found shape \(8784,\), expected"):
        still(temperature=np.zeros(8784))


def test_percent_is_refused() -> None:
    with pytest.raises(WeatherError, match="humidity, 1 January, 00:00 to 01:00: found 70, "):
        still(humidity=np.full(HOURS, 70.0))


def test_degree_days_by_hand() -> None:
    """A swing of 4 K about 10 °C every day: middle 10, so 8.33 K below 65 °F on 365 days."""
    temperature = 10 + 4 * np.sin(2 * np.pi * np.arange(HOURS) / 24)
    heating, cooling = degree_days(temperature)
    assert heating == pytest.approx(365 * (BASE_65F - 10))
    assert cooling == 0
    assert degree_days(temperature, 8.0) == (0.0, pytest.approx(730.0))


def test_monthly_means_of_days_and_hours() -> None:
    hours = MONTH_OF_HOUR.astype(np.float64)
    assert monthly_means(hours).tolist() == list(range(12))
    assert monthly_means(hours.reshape(365, 24).mean(axis=1)).tolist() == list(range(12))


def test_calms() -> None:
    speed = np.full(HOURS, 2.0)
    speed[:10] = 0.2
    assert still(wind_speed=speed).calm.sum() == 10
