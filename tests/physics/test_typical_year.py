"""A typical year keeps the figures it was made from. Checks against real years: tests/references."""

from __future__ import annotations

import hashlib
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sashwright.physics import sun
from sashwright.physics.hourly_year import (
    MONTH_OF_DAY,
    MONTH_OF_HOUR,
    WEATHER,
    HourlyYear,
    daily_means,
    monthly_means,
)
from sashwright.physics.normals import Normals
from sashwright.physics.synthesis import radiation, wind
from sashwright.physics.synthesis.temperature import day_shape
from sashwright.physics.typical_year import typical_year
from tests.physics.climates import temperate

SEEDS = st.integers(0, 2**32)
PLACE: dict[str, Any] = {
    "latitude": 42.0,
    "longitude": -72.0,
    "elevation": 50.0,
    "utc_offset": -5.0,
    "of": "nowhere",
}


def year(normals: Normals, seed: int = 1, **place: Any) -> HourlyYear:
    return typical_year(normals, **(PLACE | place), seed=seed)


@settings(max_examples=8)
@given(SEEDS)
def test_monthly_figures_come_back(seed: int) -> None:
    normals = temperate()
    drawn = year(normals, seed)
    by_day = drawn.temperature.reshape(365, 24)

    def same(found: Any, wanted: Any, within: float) -> None:
        np.testing.assert_allclose(found, wanted, rtol=0, atol=within)

    # These are met by construction, to rounding.
    same(monthly_means(drawn.temperature), normals.temperature, 1e-9)
    same(monthly_means(drawn.pressure), normals.pressure, 1e-6)
    same(monthly_means(drawn.global_horizontal), normals.global_horizontal, 1e-9)
    same(monthly_means(drawn.wind_speed), normals.wind_speed, 1e-9)
    # These by a search that stops; a year must keep 0.3 K and 3 % of humidity.
    same(monthly_means(by_day.max(axis=1)), normals.temperature_max, 0.3)
    same(monthly_means(by_day.min(axis=1)), normals.temperature_min, 0.3)
    same(monthly_means(drawn.humidity), normals.humidity, 0.002)
    same(monthly_means(drawn.dew_point), normals.dew_point, 0.3)
    same(monthly_means(drawn.diffuse_horizontal), normals.diffuse_horizontal, 0.01)
    days = daily_means(drawn.temperature)
    same(_deviations(days, MONTH_OF_DAY), normals.temperature_deviation, 0.01)
    same(_deviations(drawn.wind_speed, MONTH_OF_HOUR), normals.wind_deviation, 0.05)


def _deviations(values: Any, months: Any) -> list[float]:
    return [float(values[months == month].std()) for month in range(12)]


@settings(max_examples=8)
@given(SEEDS)
def test_the_rose_comes_back(seed: int) -> None:
    normals = temperate()
    drawn = year(normals, seed)
    sector = np.floor((drawn.wind_direction + 22.5) % 360 / 45).astype(int)
    blowing = drawn.wind_speed > 0
    for month in range(12):
        hours = month == MONTH_OF_HOUR
        for each in range(8):
            here = hours & blowing & (sector == each)
            # One hour of 672 is 0.0015.
            share = here.sum() / hours.sum()
            assert share == pytest.approx(normals.wind_shares[month, each], abs=0.003)
            # Mean of some 35 hours in the smallest sector.
            mean = drawn.wind_speed[here].mean()
            assert mean == pytest.approx(normals.wind_speeds[month, each], abs=0.15)


@settings(max_examples=8)
@given(SEEDS)
def test_the_laws_hold_every_hour(seed: int) -> None:
    drawn = year(temperate(), seed)
    assert (drawn.dew_point <= drawn.temperature + 1e-9).all()
    assert (drawn.diffuse_horizontal <= drawn.global_horizontal + 1e-9).all()
    hours = sun.sun_hours(PLACE["latitude"], PLACE["longitude"], PLACE["utc_offset"])
    dark = hours.up.ravel() == 0
    assert drawn.global_horizontal[dark].max() == 0
    assert drawn.direct_normal[dark].max() == 0
    # Global = diffuse + beam on the level, but where a sliver of sun was held down.
    up = np.where(hours.up > 0, hours.up, 1.0)
    beam = drawn.direct_normal * (hours.height / up).ravel()
    off = drawn.global_horizontal - drawn.diffuse_horizontal - beam
    assert off.min() > -1e-6
    assert off.max() < 5


def test_the_same_seed_gives_the_same_year() -> None:
    first, again, other = year(temperate()), year(temperate()), year(temperate(), 2)
    for field in WEATHER:
        np.testing.assert_array_equal(getattr(first, field), getattr(again, field))
    assert np.abs(first.temperature - other.temperature).mean() > 1
    assert "seed 1" in first.source
    assert "nowhere" in first.source


def test_a_year_once_drawn_stays() -> None:
    """To 0.01 K: a year behind a printed paper must come out the same with later versions."""
    rounded = np.round(year(temperate()).temperature, 2) + 0.0
    digest = hashlib.sha256(np.round(100 * rounded).astype("<i4").tobytes()).hexdigest()
    assert digest[:16] == "91a0c4d2936b8f8e"


def test_december_leads_into_january() -> None:
    drawn = year(temperate())
    steps = np.abs(np.diff(np.append(drawn.temperature, drawn.temperature[0])))
    assert steps[-1] < np.quantile(steps, 0.999)


def test_weather_lasts() -> None:
    """Days resemble the day before and hours the hour before, as typical years do."""
    drawn = year(temperate())
    days = daily_means(drawn.temperature)
    lags = [_lag(days[month == MONTH_OF_DAY]) for month in range(12)]
    # 0.63 on average; twelve months of 30 days leave a standard error of 0.04.
    assert np.mean(lags) == pytest.approx(0.63, abs=0.10)
    assert _lag(drawn.wind_speed) == pytest.approx(0.83, abs=0.04)


def _lag(values: Any) -> float:
    return float(np.corrcoef(values[1:], values[:-1])[0, 1])


def test_calm_places_are_calm() -> None:
    calm = temperate(
        wind_speed=np.full(12, 0.3),
        wind_deviation=np.full(12, 0.8),
        wind_shares=np.full((12, 8), 0.02),
        wind_speeds=np.full((12, 8), 0.3 / 0.16),
    )
    drawn = year(calm)
    assert (drawn.wind_speed == 0).mean() == pytest.approx(0.84, abs=0.002)
    still = temperate(
        wind_speed=np.zeros(12),
        wind_deviation=np.zeros(12),
        wind_shares=np.zeros((12, 8)),
        wind_speeds=np.zeros((12, 8)),
    )
    assert year(still).wind_speed.max() == 0


def test_polar_night_has_no_sun() -> None:
    level = np.maximum(120 + 130 * -np.cos(2 * np.pi * (np.arange(12) + 0.5) / 12), 0.0)
    level[[0, 10, 11]] = 0.0
    normals = temperate(global_horizontal=level, diffuse_horizontal=0.6 * level)
    drawn = year(normals, latitude=71.3)
    assert drawn.global_horizontal[:700].max() == 0
    np.testing.assert_allclose(monthly_means(drawn.global_horizontal), level, atol=1e-9)


def test_an_island_without_days_that_differ() -> None:
    normals = temperate(
        temperature_deviation=np.zeros(12),
        temperature=np.full(12, 9.0),
        temperature_max=np.full(12, 14.0),
        temperature_min=np.full(12, 5.0),
    )
    days = daily_means(year(normals).temperature)
    np.testing.assert_allclose(days, 9.0, atol=1e-9)


def test_day_shape_has_its_lowest_at_six_and_highest_at_three() -> None:
    shape = day_shape()
    # Value t - 1 stands for t o'clock.
    assert (shape.argmin() + 1, shape.argmax() + 1) == (6, 15)
    assert shape.mean() == pytest.approx(0, abs=1e-12)


@given(st.floats(0.3, 0.7), st.integers(28, 400))
def test_bendts_days_have_the_months_mean(mean: float, count: int) -> None:
    drawn = radiation.bendt_quantiles(mean, count)
    assert (np.diff(drawn) > 0).all()
    # The published fit of gamma itself misses the mean by up to 0.012.
    assert drawn.mean() == pytest.approx(mean, abs=0.015)


@given(st.floats(0.1, 0.95))
def test_weibull_shape_by_its_approximation(variation: float) -> None:
    """Justus and others (1978) say k = cv ** -1.086, good to about 3 % for k from 1 to 10."""
    assert wind.weibull_shape(variation) == pytest.approx(variation**-1.086, rel=0.035)
