"""Indoor air: balances by hand, limits, and series that close on themselves."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra import numpy as arrays

from sashwright.physics import psychrometrics as air
from sashwright.physics.indoor import (
    Household,
    continental,
    excess_from_gain,
    indoor_climate,
    indoor_temperature,
    lagged,
    moisture_excess,
)

DAYS = arrays.arrays(np.float64, 365, elements=st.floats(-30, 40))


def test_a_winter_day_by_hand() -> None:
    """0 °C and 80 % outside, 20 °C inside, half of class 2: 2 g/m3 more.

    489 Pa come in (0.8 x 611.2); 0.002 x 461.5 x 293.15 = 270.6 Pa are added; of 2339.2 Pa that makes
    32.5 %.
    """
    outside = np.zeros(365)
    vapour = 0.8 * air.saturation_pressure(outside)
    inside = indoor_climate(outside, vapour)
    np.testing.assert_allclose(inside.temperature, 20.0)
    np.testing.assert_allclose(inside.humidity, 0.3247, atol=5e-5)


def test_classes_fall_to_nothing_at_twenty_degrees() -> None:
    temperatures = np.array([-15.0, 0.0, 10.0, 20.0, 30.0])
    assert moisture_excess(temperatures, 3).tolist() == [0.006, 0.006, 0.003, 0.0, 0.0]


def test_excess_from_gain_by_hand() -> None:
    """10 kg a day into 340 m3 aired half a time an hour: 0.1157 g/s over 0.0472 m3/s = 2.45 g/m3."""
    assert excess_from_gain(10 / 86400, 340 * 0.5 / 3600) == pytest.approx(0.00245, abs=5e-6)
    with pytest.raises(ValueError, match="above zero, found 0 m3/s"):
        excess_from_gain(1e-4, 0.0)


@given(DAYS)
def test_set_points_hold(outside: np.ndarray) -> None:
    household = Household(heating=19.0, cooling=25.0)
    inside = indoor_temperature(outside, household)
    assert inside.min() >= 19.0
    assert inside.max() <= 25.0


@given(DAYS, st.floats(0.05, 1.0))
def test_humidity_stays_possible(outside: np.ndarray, humidity: float) -> None:
    vapour = humidity * air.saturation_pressure(outside)
    for household in (None, Household(cooling=24.0, humidity_class=4, share_of_class=1.0)):
        inside = indoor_climate(outside, vapour, household)
        assert inside.humidity.min() > 0
        assert inside.humidity.max() <= 1.0
    cooled = inside.temperature >= 24.0
    assert (inside.humidity[cooled] <= 0.60).all()


def test_hours_and_days_agree_for_a_slow_season() -> None:
    hours = 10 - 12 * np.cos(2 * np.pi * np.arange(8760) / 8760)
    days = hours.reshape(365, 24).mean(axis=1)
    household = Household()
    by_hour = indoor_temperature(hours, household).reshape(365, 24).mean(axis=1)
    # A step of a day carries the lag half a step differently; the season moves 0.2 K a day.
    np.testing.assert_allclose(by_hour, indoor_temperature(days, household), atol=0.15)


@given(DAYS, st.floats(0.1, 60))
def test_a_lag_keeps_the_mean_and_solves_its_recursion(series: np.ndarray, constant: float) -> None:
    smooth = lagged(series, constant, 1.0)
    assert smooth.mean() == pytest.approx(series.mean(), abs=1e-9)
    keep = np.exp(-1.0 / constant)
    recursion = keep * np.roll(smooth, 1) + (1 - keep) * series
    np.testing.assert_allclose(smooth, recursion, atol=1e-9)


def test_no_lag_changes_nothing() -> None:
    series = np.arange(365.0)
    assert lagged(series, 0.0, 1.0) is series


def test_the_standards_simple_alternative() -> None:
    """Corners of the two diagrams: 20 °C to 10 °C outside, 25 °C at 20 °C; 30 to 60 %."""
    inside = continental(np.array([-20.0, -10.0, 5.0, 10.0, 15.0, 20.0, 30.0]))
    assert inside.temperature.tolist() == [20, 20, 20, 20, 22.5, 25, 25]
    np.testing.assert_allclose(inside.humidity, [0.3, 0.3, 0.45, 0.5, 0.55, 0.6, 0.6])
    damp = continental(np.array([-20.0, 30.0]), "high")
    np.testing.assert_allclose(damp.humidity, [0.4, 0.7])
