"""Weather and indoor air day by day."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from sashwright.physics.daily import FACINGS, TYPICAL_SUN, DailyClimate, daily
from sashwright.physics.hourly_year import WeatherError
from sashwright.physics.indoor import Household, IndoorClimate, indoor_climate
from sashwright.physics.psychrometrics import saturation_pressure
from sashwright.physics.typical_year import typical_year
from tests.physics.climates import temperate


def plain(**changes: Any) -> DailyClimate:
    day = np.zeros(365)
    fields: dict[str, Any] = {
        "outdoor_temperature": day + 10,
        "outdoor_humidity": day + 0.7,
        "indoor_temperature": day + 20,
        "indoor_humidity": day + 0.4,
        "source": "made up",
    }
    return DailyClimate(**(fields | changes))


@pytest.mark.parametrize(
    ("field", "values", "says"),
    [
        ("outdoor_humidity", np.full(365, 70.0), "outdoor humidity: found 70, expected 0 to 1"),
        ("indoor_humidity", np.full(365, np.nan), "indoor humidity: found nan, expected 0 to 1"),
        ("outdoor_temperature", np.zeros(8760), r"found shape \(8760,\), expected \(365,\)"),
        ("indoor_temperature", np.full(365, 68.0), "found 68, expected -75 to 65"),
        ("facade_sun", np.zeros((4, 365)), r"facade sun: found shape \(4, 365\)"),
    ],
)
def test_air_that_cannot_be_is_refused(field: str, values: Any, says: str) -> None:
    with pytest.raises(WeatherError, match=says):
        plain(**{field: values})


def test_sun_between_facings() -> None:
    climate = plain()
    for at, mean in enumerate(TYPICAL_SUN):
        assert climate.sun_on(at * 45.0).mean() == pytest.approx(mean)
    assert climate.sun_on(360.0) == pytest.approx(climate.sun_on(0.0))
    halfway = (TYPICAL_SUN[2] + TYPICAL_SUN[3]) / 2
    assert climate.sun_on(112.5)[0] == pytest.approx(halfway)


def test_a_climates_own_sun_comes_first() -> None:
    own = np.arange(FACINGS)[:, None] * np.ones(365)
    assert plain(facade_sun=own).sun_on(180.0)[17] == 4.0


def test_days_of_an_hourly_year() -> None:
    year = typical_year(
        temperate(), latitude=42, longitude=-71, elevation=50, utc_offset=-5, of="a made-up place"
    )
    vapour = year.humidity * saturation_pressure(year.temperature)
    hourly = indoor_climate(year.temperature, vapour, Household())
    days = daily(year, hourly)
    assert days.outdoor_temperature[10] == pytest.approx(year.temperature[240:264].mean())
    assert days.indoor_humidity[200] == pytest.approx(hourly.humidity[4800:4824].mean())
    assert days.source == year.source
    assert days.facade_sun is not None
    # Days of indoor air are taken as they are.
    same = daily(year, IndoorClimate(days.indoor_temperature, days.indoor_humidity))
    assert same.indoor_humidity == pytest.approx(days.indoor_humidity)
