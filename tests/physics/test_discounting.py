"""What holds of money over the years for all inputs."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sashwright.physics.economics import (
    capital_recovery,
    compound_amount,
    discounted,
    present_value,
    single_present_value,
    uniform_present_value,
    yearly,
)
from sashwright.physics.paybacks import (
    adjusted_return,
    discounted_payback,
    level_payback,
    savings_to_investment,
    simple_payback,
)

RATES = st.floats(-0.1, 0.2)


@settings(max_examples=60, deadline=None)
@given(rate=RATES, growth=RATES, years=st.integers(0, 60))
def test_factors_hang_together(rate: float, growth: float, years: int) -> None:
    uniform = float(uniform_present_value(rate, years, growth))
    each = float(single_present_value(rate, np.arange(1, years + 1), growth).sum())
    assert uniform == pytest.approx(each, rel=1e-6, abs=1e-9)
    assert present_value(yearly(1.0, years, growth), rate) == pytest.approx(each, rel=1e-9)
    assert single_present_value(rate, years) * compound_amount(rate, years) == pytest.approx(1)
    if years:
        level = uniform_present_value(rate, years)
        assert capital_recovery(rate, years) * level == pytest.approx(1)


@pytest.mark.parametrize("apart", [0.0, 1e-12, 1e-10, 1e-8, 1e-6, 1e-4])
def test_rates_nearly_alike(apart: float) -> None:
    rate = 0.03
    growth = rate - apart
    summed = sum(((1 + growth) / (1 + rate)) ** year for year in range(1, 31))
    assert uniform_present_value(rate, 30, growth) == pytest.approx(summed, rel=1e-7)


def test_draws_go_through_together() -> None:
    rng = np.random.default_rng(3)
    rates, growth = rng.normal(0.03, 0.01, 500), rng.normal(0.01, 0.01, 500)
    costs, saved = rng.uniform(100, 900, 500), rng.uniform(5, 60, 500)
    flows = yearly(saved, 40, growth)
    assert flows.shape == (500, 41)
    worth = present_value(flows, rates)
    back = discounted_payback(costs, flows, rates)
    for draw in (0, 17, 499):
        alone = yearly(saved[draw], 40, growth[draw])
        assert worth[draw] == pytest.approx(float(present_value(alone, rates[draw])))
        assert back[draw] == pytest.approx(
            float(discounted_payback(costs[draw], alone, rates[draw]))
        )
    assert np.isinf(back).any()
    assert np.isfinite(back).any()
    # One cost, many draws of savings, and the other way round.
    assert discounted_payback(300.0, flows, 0.03).shape == (500,)
    assert discounted_payback(costs, flows[0], 0.03).shape == (500,)


def test_no_cost_is_paid_back_at_once() -> None:
    savings = yearly(20.0, 30)
    for cost in (0.0, -50.0):
        assert simple_payback(cost, savings) == 0.0
        assert discounted_payback(cost, savings, 0.05) == 0.0
        assert discounted_payback(cost, np.zeros(31), 0.05) == 0.0
        assert level_payback(cost, 20.0, 0.05) == 0.0
        assert level_payback(cost, 0.0, 0.05) == 0.0


def test_what_never_pays() -> None:
    assert simple_payback(100.0, np.zeros(31)) == np.inf
    assert simple_payback(100.0, -yearly(5.0, 30)) == np.inf
    assert level_payback(100.0, 0.0) == np.inf
    assert level_payback(100.0, -3.0, 0.03) == np.inf
    # 3 a year is worth 100 at 3 % after for ever.
    assert level_payback(100.0, 3.0, 0.03) == np.inf
    assert np.isfinite(level_payback(99.9, 3.0, 0.03))
    assert np.isnan(level_payback(np.nan, 3.0))
    assert np.isnan(discounted_payback(np.nan, np.ones(5), 0.03))
    assert np.isnan(discounted_payback(2.0, [0.0, 1.0, np.nan], 0.03))


@settings(max_examples=60, deadline=None)
@given(
    cost=st.floats(1, 1000),
    saving=st.floats(1, 100),
    rate=st.floats(0, 0.15),
    growth=st.floats(-0.05, 0.05),
)
def test_both_paybacks_agree_to_a_small_part_of_a_year(
    cost: float, saving: float, rate: float, growth: float
) -> None:
    stepwise = float(discounted_payback(cost, yearly(saving, 60, growth), rate))
    formula = float(level_payback(cost, saving, rate, growth))
    if np.isinf(stepwise):
        assert formula > 59.9
    else:
        # A straight line and a curve through the same two points of a year.
        assert abs(stepwise - formula) < 0.03
        assert (
            np.floor(stepwise - 1e-6) == np.floor(formula - 1e-6)
            or abs(stepwise - round(stepwise)) < 1e-4
        )


def test_payback_at_whole_years_and_in_between() -> None:
    assert simple_payback(60.0, yearly(20.0, 10)) == pytest.approx(3.0)
    assert simple_payback(70.0, yearly(20.0, 10)) == pytest.approx(3.5)
    assert simple_payback(5.0, yearly(20.0, 10)) == pytest.approx(0.25)
    for year in (1, 7, 30):
        cost = 20 * float(uniform_present_value(0.04, year))
        assert discounted_payback(cost - 1e-9, yearly(20.0, 40), 0.04) == pytest.approx(year)
        assert level_payback(cost, 20.0, 0.04) == pytest.approx(year)
    # A rebate at the base date counts at once.
    rebate = yearly(20.0, 10)
    rebate[0] = 50.0
    assert simple_payback(40.0, rebate) == 0.0
    assert simple_payback(60.0, rebate) == pytest.approx(0.5)


def test_more_cost_or_a_higher_rate_never_pays_sooner() -> None:
    savings = yearly(30.0, 40, 0.01)
    costs = np.linspace(0, 900, 91)
    back = discounted_payback(costs, savings, 0.03)
    assert (back[1:] >= back[:-1]).all()
    rates = np.linspace(0, 0.1, 41)
    back = discounted_payback(400.0, savings, rates)
    assert (back[1:] >= back[:-1]).all()


def test_ratio_and_return_at_their_edges() -> None:
    assert savings_to_investment(10.0, 0.0) == np.inf
    assert savings_to_investment(10.0, -5.0) == np.inf
    assert np.isnan(savings_to_investment(0.0, 0.0))
    assert np.isnan(savings_to_investment(np.nan, 5.0))
    assert savings_to_investment(-10.0, 5.0) == -2.0
    assert adjusted_return(1.0, 20, 0.03) == pytest.approx(0.03)
    assert adjusted_return(0.0, 20, 0.03) == pytest.approx(-1.0)
    assert np.isnan(adjusted_return(-2.0, 20, 0.03))


def test_years_that_something_falls_due() -> None:
    flows = yearly(60.0, 30, first=7, every=7)
    assert np.flatnonzero(flows).tolist() == [7, 14, 21, 28]
    assert np.flatnonzero(yearly(1.0, 4, first=0)).tolist() == [0, 1, 2, 3, 4]
    assert yearly(100.0, 3, 0.1)[2] == pytest.approx(121.0)
    assert discounted(yearly(100.0, 3, 0.1), 0.1) == pytest.approx([0, 100, 100, 100])


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(ValueError, match="expected more than -1"):
        uniform_present_value(-1.0, 10)
    with pytest.raises(ValueError, match="expected more than -1"):
        present_value([1.0, 2.0], [-1.5])
    with pytest.raises(ValueError, match="expected a first year from 0"):
        yearly(1.0, 10, first=-1)
    with pytest.raises(ValueError, match="steps from 1"):
        yearly(1.0, 10, every=0)
