"""Series of chance and season: the statistics they promise."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra import numpy as arrays

from sashwright.physics.hourly_year import DAYS, daily_means, monthly_means
from sashwright.physics.synthesis import series

MONTHS = arrays.arrays(np.float64, 12, elements=st.floats(-40, 40))


def generator(seed: int = 7) -> np.random.Generator:
    return np.random.Generator(np.random.PCG64(seed))


@given(MONTHS)
def test_season_keeps_every_month(monthly: np.ndarray) -> None:
    np.testing.assert_allclose(
        monthly_means(series.through_months(monthly)), monthly, rtol=0, atol=1e-9
    )


@given(arrays.arrays(np.float64, DAYS, elements=st.floats(-40, 40)))
def test_hours_keep_every_day(daily: np.ndarray) -> None:
    hours = series.through_days(daily)
    np.testing.assert_allclose(daily_means(hours.ravel()), daily, rtol=0, atol=1e-9)


def test_an_even_season_stays_even() -> None:
    np.testing.assert_allclose(series.through_months(np.full(12, 5.0)), 5.0, atol=1e-12)
    np.testing.assert_allclose(series.through_days(np.full(DAYS, 5.0)), 5.0, atol=1e-12)


@pytest.mark.parametrize("lag", [0.0, 0.3, 0.63, 0.85, 0.97])
def test_neighbours_are_correlated_as_asked(lag: float) -> None:
    drawn = series.autocorrelated(generator(), 200_000, lag)
    around = np.roll(drawn, 1)
    found = float((drawn * around).mean() / (drawn * drawn).mean())
    # Four standard errors of a lag-one correlation, sqrt((1 - lag^2) / n).
    assert found == pytest.approx(lag, abs=4 * np.sqrt((1 - lag * lag) / 200_000) + 1e-4)
    # Variance: neighbours that agree leave fewer independent numbers.
    free = 200_000 * (1 - lag * lag) / (1 + lag * lag)
    assert drawn.var() == pytest.approx(1.0, abs=4 * np.sqrt(2 / free))


def test_chance_is_normal() -> None:
    drawn = series.white(generator(), 100_001)
    assert len(drawn) == 100_001
    # Shares of a normal distribution within 1, 2 and 3 deviations; four standard errors.
    for deviations, share in ((1, 0.68269), (2, 0.95450), (3, 0.99730)):
        allowed = 4 * np.sqrt(share * (1 - share) / len(drawn))
        assert (np.abs(drawn) < deviations).mean() == pytest.approx(share, abs=allowed)


def test_the_first_numbers_never_change() -> None:
    """Years already shown to a customer must come out the same with every later version."""
    drawn = series.white(generator(1), 4)
    np.testing.assert_allclose(
        drawn, [0.738978961771, 2.325050458899, 0.942368785339, -0.777328312168], rtol=1e-11
    )


@given(st.integers(2, 60))
def test_scores_are_standard(count: int) -> None:
    scores = series.normal_scores(count)
    assert scores.mean() == pytest.approx(0, abs=1e-12)
    assert scores.std() == pytest.approx(1)
    assert (np.diff(scores) > 0).all()


def test_ranks_keep_order_and_change_values() -> None:
    placed = series.ranked(np.array([0.3, -5.0, 9.0]), np.array([1.0, 2.0, 3.0]))
    assert placed.tolist() == [2.0, 1.0, 3.0]
