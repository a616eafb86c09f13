"""The sun through the year: what must hold everywhere, poles and date line too."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sashwright.physics import sun

LATITUDES = st.floats(-89, 89)


@given(LATITUDES, st.floats(-180, 180), st.integers(-12, 14))
def test_hours_add_up_to_days(latitude: float, longitude: float, offset: int) -> None:
    """Cut at sunrise and sunset, the hours hold what the closed formula gives for the day."""
    hours = sun.sun_hours(latitude, longitude, offset)
    level = (hours.height * sun.extraterrestrial_normal()[:, None]).mean(axis=1)
    np.testing.assert_allclose(level, sun.daily_extraterrestrial(latitude), atol=1e-9)
    np.testing.assert_allclose(hours.up.sum(axis=1), sun.day_length(latitude), atol=1e-9)
    assert hours.up.min() >= 0
    assert hours.up.max() <= 1 + 1e-12


def test_the_equator_has_twelve_hours_of_day() -> None:
    np.testing.assert_allclose(sun.day_length(0.0), 12.0, atol=1e-12)


def test_polar_night_and_polar_day() -> None:
    hours = sun.sun_hours(71.3, -156.8, -9)
    assert hours.up[0].sum() == 0
    assert hours.up[171].sum() == pytest.approx(24)


def test_the_sun_is_highest_at_solar_noon() -> None:
    """Greenwich, clock on universal time: noon by the clock less the equation of time."""
    hours = sun.sun_hours(51.48, 0.0, 0.0)
    noon = 12 - sun.equation_of_time()
    highest = hours.height.argmax(axis=1) + 0.5
    assert np.abs(highest - noon).max() <= 0.5
