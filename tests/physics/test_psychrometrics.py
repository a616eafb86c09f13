"""Moist air: inverses, bounds and refusals. Checks against print are in tests/references."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sashwright.physics import psychrometrics as air

TEMPERATURES = st.floats(-60, 60)
HUMIDITIES = st.floats(0.01, 1)


@given(TEMPERATURES, HUMIDITIES)
def test_dew_point_and_humidity_are_inverses(temperature: float, humidity: float) -> None:
    dew = air.dew_point_from_humidity(temperature, humidity)
    assert dew <= temperature + 1e-9
    assert air.relative_humidity(temperature, dew) == pytest.approx(humidity, rel=1e-9)


@given(TEMPERATURES)
def test_the_slope_is_the_derivative(temperature: float) -> None:
    step = 1e-3
    above, below = (air.saturation_pressure(temperature + sign * step) for sign in (1, -1))
    numeric = (above - below) / (2 * step)
    assert air.saturation_slope(temperature) == pytest.approx(numeric, rel=1e-6)


@given(st.floats(-60, 0))
def test_frost_point_lies_above_dew_point(temperature: float) -> None:
    """Ice holds its vapour tighter than supercooled water: less vapour, so saturation sooner."""
    pressure = air.saturation_pressure(temperature)
    assert air.dew_point(pressure, "ice") >= temperature - 1e-9


def test_arrays_and_numbers_agree() -> None:
    temperatures = np.array([-20.0, 0.0, 20.0])
    pressures = air.saturation_pressure(temperatures)
    assert [air.saturation_pressure(float(t)) for t in temperatures] == list(pressures)
    np.testing.assert_allclose(air.dew_point(pressures), temperatures, atol=1e-9)


def test_dry_air_has_no_dew_point() -> None:
    with pytest.raises(ValueError, match="above zero, found 0"):
        air.dew_point(0.0)


@given(TEMPERATURES, HUMIDITIES, st.floats(70_000, 105_000))
def test_damp_air_is_lighter(temperature: float, humidity: float, pressure: float) -> None:
    vapour = humidity * air.saturation_pressure(temperature)
    dry = air.air_density(temperature, 0.0, pressure)
    assert air.air_density(temperature, vapour, pressure) < dry
    ratio = air.humidity_ratio(vapour, pressure)
    assert air.vapour_pressure_from_ratio(ratio, pressure) == pytest.approx(vapour, rel=1e-12)
    # The same mass of vapour, reckoned in two ways.
    partial = (pressure - vapour) / (air.GAS_CONSTANT_DRY_AIR * (temperature + 273.15))
    assert air.vapour_density(vapour, temperature) == pytest.approx(ratio * partial, rel=1e-12)
