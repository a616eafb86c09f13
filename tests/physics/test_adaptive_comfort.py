"""What holds of adaptive comfort for all inputs."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sashwright.physics.comfort import (
    adaptive_band,
    air_speed_rise,
    comfortable,
    running_mean,
    seven_day_mean,
    within_limits,
)


def test_a_category_of_the_other_standard_is_refused() -> None:
    with pytest.raises(ValueError, match="expected one of 80 %, 90 %"):
        adaptive_band("ASHRAE 55", 20.0, "II")
    with pytest.raises(ValueError, match="expected one of I, II, III"):
        adaptive_band("EN 16798-1", 20.0, "80 %")


def test_bands_lie_within_each_other_and_move_with_the_weather() -> None:
    means = np.linspace(10, 30, 41)
    outer, inner = (adaptive_band("ASHRAE 55", means, each) for each in ("80 %", "90 %"))
    assert (outer[0] < inner[0]).all()
    assert (outer[1] > inner[1]).all()
    assert (np.diff(outer[1]) > 0).all()
    third, second, first = (adaptive_band("EN 16798-1", means, each) for each in ("III", "II", "I"))
    assert (third[0] < second[0]).all()
    assert (second[0] < first[0]).all()
    assert (third[1] > second[1]).all()
    assert (second[1] > first[1]).all()


def test_beyond_the_limits_it_is_silent_or_holds() -> None:
    means = np.array([-5.0, 10.0, 20.0, 33.5, 40.0])
    low, _ = adaptive_band("ASHRAE 55", means, "80 %")
    assert np.isnan(low).tolist() == [True, False, False, False, True]
    assert not comfortable("ASHRAE 55", -5.0, "80 %", 20.0)
    held, _ = adaptive_band("ASHRAE 55", means, "80 %", hold=True)
    assert held[0] == held[1]
    assert held[4] == held[3]
    assert within_limits("ASHRAE 55", means).tolist() == [False, True, True, True, False]
    assert comfortable("ASHRAE 55", -5.0, "80 %", 20.0, hold=True)


def test_moving_air_helps_only_where_it_is_warm() -> None:
    speeds = np.linspace(0, 2, 201)
    rise = air_speed_rise(speeds, 27.0)
    assert (np.diff(rise) >= 0).all()
    assert (rise[0], rise[-1]) == (0.0, 2.2)
    assert not air_speed_rise(speeds, 25.0).any()
    assert comfortable("ASHRAE 55", 20.0, "80 %", 28.5, 0.7)
    assert not comfortable("ASHRAE 55", 20.0, "80 %", 28.5, 0.5)


@settings(max_examples=30, deadline=None)
@given(
    st.lists(st.floats(-30, 40), min_size=2, max_size=60),
    st.floats(0, 0.95),
    st.integers(0, 59),
)
def test_a_year_that_goes_round_has_no_beginning(
    days: list[float], alpha: float, turn: int
) -> None:
    found = running_mean(days, alpha)
    turned = running_mean(np.roll(days, turn), alpha)
    assert np.roll(found, turn) == pytest.approx(turned, abs=1e-8)
    assert found.mean() == pytest.approx(np.mean(days), abs=1e-8)
    assert found.min() >= min(days) - 1e-9
    assert found.max() <= max(days) + 1e-9


def test_many_years_at_once() -> None:
    years = np.random.default_rng(2).normal(10, 8, (3, 4, 50))
    together = running_mean(years)
    assert together.shape == years.shape
    assert together[1, 2] == pytest.approx(running_mean(years[1, 2]), abs=1e-12)
    steady = running_mean(np.full(20, 14.0))
    assert steady == pytest.approx(14.0)


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(ValueError, match="expected 0 to below 1"):
        running_mean([1.0, 2.0], 1.0)
    with pytest.raises(ValueError, match="expected 7"):
        seven_day_mean([1.0] * 6)
