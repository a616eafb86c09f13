"""Filling in what nobody measured."""

from __future__ import annotations

import numpy as np
import pytest

from sashwright.physics import psychrometrics as air
from sashwright.physics import sun
from sashwright.physics.hourly_year import DAYS_OF_MONTH, WeatherError, monthly_means
from sashwright.physics.normals import Known, complete_normals, deviation_of_days, monthly_diffuse
from tests.physics.climates import SEASON, temperate

HIGHEST, LOWEST = 14.5 + 12.5 * SEASON, 4 + 11.5 * SEASON
HUMIDITY, SUNSHINE = np.full(12, 0.75), 150 + 60 * SEASON


def test_little_is_enough() -> None:
    known = Known(
        temperature_max=HIGHEST, temperature_min=LOWEST, humidity=HUMIDITY, sunshine=SUNSHINE
    )
    normals = complete_normals(known, 51.5, 100.0)
    np.testing.assert_allclose(normals.temperature, (HIGHEST + LOWEST) / 2)
    back = air.relative_humidity(normals.temperature, normals.dew_point)
    np.testing.assert_allclose(back, HUMIDITY, rtol=1e-9)
    np.testing.assert_allclose(normals.pressure, air.standard_pressure(100.0))
    assert set(normals.estimated) == {
        "temperature",
        "temperature_deviation",
        "dew_point",
        "pressure",
        "wind_speed",
        "wind_deviation",
        "wind_shares",
        "wind_speeds",
        "global_horizontal",
        "diffuse_horizontal",
        "direct_normal",
    }


def test_what_is_given_is_kept() -> None:
    assert temperate().estimated == ("direct_normal",)


def test_sunshine_becomes_irradiance() -> None:
    """Without any sunshine a quarter of the outer irradiance comes down, with all three quarters."""
    outside = monthly_means(sun.daily_extraterrestrial(51.5))
    possible = monthly_means(sun.day_length(51.5)) * np.array(DAYS_OF_MONTH)
    for share, fraction in ((0.0, 0.25), (1.0, 0.75), (1.4, 0.75)):
        known = Known(
            temperature_max=HIGHEST,
            temperature_min=LOWEST,
            humidity=HUMIDITY,
            sunshine=share * possible,
        )
        level = complete_normals(known, 51.5, 0.0).global_horizontal
        np.testing.assert_allclose(level, fraction * outside)


def test_diffuse_by_hand() -> None:
    """Clearness 0.5 in July at 42° N: 1.311 - 1.511 + 0.85675 - 0.227625 = 0.429."""
    outside = monthly_means(sun.daily_extraterrestrial(42.0))
    diffuse = monthly_diffuse(42.0, 0.5 * outside)
    assert diffuse[6] / (0.5 * outside[6]) == pytest.approx(0.429125)


def test_deviation_by_hand() -> None:
    """Even 10 °C all year: 0.43 sqrt(31) (1.45 - 0.29) = 2.78 K in January."""
    assert deviation_of_days(np.full(12, 10.0))[0] == pytest.approx(2.777, abs=0.001)


def test_refusals() -> None:
    with pytest.raises(WeatherError, match="neither humidity nor dew point"):
        complete_normals(
            Known(temperature_max=HIGHEST, temperature_min=LOWEST, sunshine=SUNSHINE), 50.0, 0.0
        )
    with pytest.raises(WeatherError, match="neither irradiance nor sunshine"):
        complete_normals(
            Known(temperature_max=HIGHEST, temperature_min=LOWEST, humidity=HUMIDITY), 50.0, 0.0
        )
    with pytest.raises(WeatherError, match=r"humidity by month: found .*nan.*, expected numbers"):
        temperate(humidity=np.full(12, np.nan))
