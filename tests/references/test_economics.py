"""Discount factors and measures of worth against printed tables, hand sums and independent formulas.

Sources: factors printed to four or five places in tables of compound interest (0.25 %, years 1 and 2 at 1 to
7 %, year 18 at 4 %); NIST Handbook 135 and its Annual Supplement, factors at 3 % and an example from memory;
10 CFR 436.22 for the adjusted return; scipy's root finder for the rate at which nothing is gained.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import brentq

from sashwright.physics.economics import (
    annual_worth,
    capital_recovery,
    compound_amount,
    nominal,
    present_value,
    real,
    single_present_value,
    uniform_present_value,
    yearly,
)
from sashwright.physics.paybacks import (
    adjusted_return,
    discounted_payback,
    level_payback,
    net_savings,
    savings_to_investment,
    simple_payback,
)


@pytest.mark.parametrize(
    ("years", "single", "uniform", "recovery", "compound"),
    [
        # Printed columns P/F, P/A, A/P, F/P at 0.25 % a period.
        (1, 0.9975, 0.9975, 1.00250, 1.0025),
        (5, 0.9876, 4.9627, 0.20150, 1.0126),
        (10, 0.9753, 9.8639, 0.10138, 1.0253),
        (20, 0.9513, 19.4845, 0.05132, 1.0512),
        (25, 0.9395, 24.2055, 0.04131, 1.0644),
    ],
)
def test_table_at_a_quarter_per_cent(
    years: int, single: float, uniform: float, recovery: float, compound: float
) -> None:
    rate = 0.0025
    assert single_present_value(rate, years) == pytest.approx(single, abs=5.1e-5)
    assert uniform_present_value(rate, years) == pytest.approx(uniform, abs=5.1e-5)
    assert capital_recovery(rate, years) == pytest.approx(recovery, abs=5.1e-6)
    assert compound_amount(rate, years) == pytest.approx(compound, abs=5.1e-5)


def test_first_two_years_at_one_to_seven_per_cent() -> None:
    rates = np.arange(1, 8) / 100
    first = [0.9901, 0.9804, 0.9709, 0.9615, 0.9524, 0.9434, 0.9346]
    second = [0.9803, 0.9612, 0.9426, 0.9246, 0.9070, 0.8900, 0.8734]
    assert single_present_value(rates, 1) == pytest.approx(first, abs=5.1e-5)
    assert single_present_value(rates, 2) == pytest.approx(second, abs=5.1e-5)
    assert uniform_present_value(rates, 2) == pytest.approx(np.add(first, second), abs=1.1e-4)


@pytest.mark.parametrize(
    ("rate", "years", "single", "uniform"),
    [
        # From memory: the tables of Handbook 135's Annual Supplement (3 %) and textbooks (5 and 7 %).
        (0.03, 5, 0.8626, 4.5797),
        (0.03, 10, 0.7441, 8.5302),
        (0.03, 20, 0.5537, 14.8775),
        (0.03, 25, 0.4776, 17.4131),
        (0.03, 30, 0.4120, 19.6004),
        # Printed on a course's work sheet of life-cycle costs.
        (0.04, 18, 0.4936, 12.659),
        (0.05, 10, 0.6139, 7.7217),
        (0.05, 30, 0.2314, 15.3725),
        (0.07, 10, 0.5083, 7.0236),
        (0.07, 40, 0.0668, 13.3317),
    ],
)
def test_usual_tables(rate: float, years: int, single: float, uniform: float) -> None:
    assert single_present_value(rate, years) == pytest.approx(single, abs=5.1e-5)
    # To the last digit that is printed: four decimals, or five figures.
    digit = 5.1e-4 if uniform == 12.659 else 5.1e-5
    assert uniform_present_value(rate, years) == pytest.approx(uniform, abs=digit)


@pytest.mark.parametrize(
    ("rate", "growth", "factors"),
    [
        # UPV* for 10, 20, 30 years, worked out apart from this program.
        (0.03, -0.01, (8.0946, 13.5418, 17.2075)),
        (0.03, 0.01, (8.9919, 16.3827, 22.4576)),
        (0.03, 0.02, (9.4813, 18.0812, 25.8818)),
        (0.03, 0.03, (10.0, 20.0, 30.0)),
        (0.05, 0.02, (8.5559, 14.9587, 19.7503)),
    ],
)
def test_growing_prices(rate: float, growth: float, factors: tuple[float, ...]) -> None:
    years = np.array([10, 20, 30])
    assert uniform_present_value(rate, years, growth) == pytest.approx(factors, abs=5.1e-5)
    # The same as the flows themselves, discounted one by one.
    for count, factor in zip(years, factors, strict=True):
        flows = yearly(1.0, int(count), growth)
        assert flows[0] == 0
        assert present_value(flows, rate) == pytest.approx(factor, abs=5.1e-5)


def test_real_and_nominal_give_one_answer() -> None:
    """Handbook 135: constant dollars with real rates, or dollars of the day with nominal ones."""
    discount, growth, inflation = 0.03, 0.012, 0.024
    constant = uniform_present_value(discount, 25, growth)
    current = uniform_present_value(nominal(discount, inflation), 25, nominal(growth, inflation))
    assert current == pytest.approx(constant, rel=1e-12)
    assert real(nominal(discount, inflation), inflation) == pytest.approx(discount, rel=1e-12)
    # 3 % real with 2.4 % of inflation is 5.472 %.
    assert nominal(discount, inflation) == pytest.approx(0.05472, abs=1e-9)


def test_two_plants_for_heating_and_cooling() -> None:
    """NIST Handbook 135's example of a usual and a thriftier plant, 20 years at 3 %, electricity by a printed
    UPV* of 15.13. From memory; the parts as remembered add up to the totals as remembered, to the dollar. Its
    other factors have three figures (0.701, 0.554, 14.88), which is up to 20 dollars here."""
    years, rate, energy_factor = 20, 0.03, 15.13
    growth = brentq(
        lambda e: float(uniform_present_value(rate, years, e)) - energy_factor, -0.01, 0.01
    )
    assert uniform_present_value(rate, years, growth) == pytest.approx(energy_factor, abs=1e-9)

    def flows(
        first: float, renewal: float, left: float, energy: float, upkeep: float
    ) -> np.ndarray:
        found = yearly(energy, years, growth) + yearly(upkeep, years)
        found[0] += first
        found[12] += renewal
        found[20] -= left
        return found

    base = flows(103_000, 12_000, 3_500, 20_000, 7_000)
    other = flows(110_000, 12_500, 3_700, 13_000, 8_000)
    assert present_value(base, rate) == pytest.approx(516_233, abs=20)
    assert present_value(other, rate) == pytest.approx(432_443, abs=20)
    assert net_savings(base, other, rate) == pytest.approx(83_790, abs=20)
    # By hand from the same parts: (105,910 - 14,880) / (7,000 + 351 - 111).
    saved = present_value(yearly(7_000, years, growth) - yearly(1_000, years), rate)
    more = 7_000 + 500 * single_present_value(rate, 12) - 200 * single_present_value(rate, 20)
    ratio = savings_to_investment(saved, more)
    assert ratio == pytest.approx(12.57, abs=0.01)
    assert adjusted_return(ratio, years, rate) == pytest.approx(0.1690, abs=1e-4)
    yearly_gain = yearly(7_000, years, growth) - yearly(1_000, years)
    assert simple_payback(7_000, yearly_gain) == pytest.approx(7_000 / 6_000, abs=0.01)
    # 6,010 / 1.03 in the first year, the rest of 7,000 from the second's 6,020 / 1.03^2.
    assert discounted_payback(7_000, yearly_gain, rate) == pytest.approx(1.205, abs=0.005)


def test_a_storm_by_hand() -> None:
    """$300, $20 a year for 20 years at 3 %: factors 14.8775 and 18.0812 by hand."""
    level, rising = yearly(20.0, 20), yearly(20.0, 20, 0.02)
    for savings, present, ratio, back, whole in (
        (level, 297.55, 0.9918, 0.02958, 20.23),
        (rising, 361.62, 1.2054, 0.03967, 16.30),
    ):
        worth = present_value(savings, 0.03)
        assert worth == pytest.approx(present, abs=0.005)
        sir = savings_to_investment(worth, 300.0)
        assert sir == pytest.approx(ratio, abs=5e-5)
        assert adjusted_return(sir, 20, 0.03) == pytest.approx(back, abs=5e-6)
        growth = 0.02 if savings is rising else 0.0
        assert level_payback(300.0, 20.0, 0.03, growth) == pytest.approx(whole, abs=0.005)
    assert simple_payback(300.0, level) == pytest.approx(15.0)
    # Longer than the study: it never pays within it.
    assert discounted_payback(300.0, level, 0.03) == np.inf
    assert discounted_payback(300.0, rising, 0.03) == pytest.approx(16.30, abs=0.02)


def test_keep_restore_or_replace_by_hand() -> None:
    """One window, 30 years, 3 %, energy growing 1 % a year; sums by hand with the factors above."""
    years, rate, growth = 30, 0.03, 0.01
    paint = yearly(60.0, years, first=7, every=7)
    keep = yearly(40.0, years, growth) + paint
    restore = yearly(18.0, years, growth) + paint
    restore[0] += 650
    replace = yearly(17.0, years, growth)
    replace[0] += 1100
    replace[20] += 1100
    replace[30] -= 550
    assert present_value(keep, rate) == pytest.approx(1045.23, abs=0.01)
    assert present_value(restore, rate) == pytest.approx(1201.17, abs=0.01)
    assert present_value(replace, rate) == pytest.approx(1864.23, abs=0.01)
    assert net_savings(keep, restore, rate) == pytest.approx(-155.93, abs=0.011)
    assert net_savings(keep, replace, rate) == pytest.approx(-819.00, abs=0.011)
    saved = 22 * uniform_present_value(rate, years, growth)
    sir = savings_to_investment(saved, 650.0)
    assert sir == pytest.approx(0.7601, abs=5e-5)
    assert adjusted_return(sir, years, rate) == pytest.approx(0.02063, abs=5e-6)
    spent = 1100 + 1100 * single_present_value(rate, 20) - 550 * single_present_value(rate, 30)
    sir = savings_to_investment(663.45, spent)
    assert spent == pytest.approx(1482.45, abs=0.01)
    assert sir == pytest.approx(0.4475, abs=5e-5)
    assert adjusted_return(sir, years, rate) == pytest.approx(0.00276, abs=5e-6)


@pytest.mark.parametrize("growth", [-0.02, 0.0, 0.03])
def test_payback_at_the_rate_of_return_is_the_life(growth: float) -> None:
    """At the internal rate of return, found by a root finder, the savings just make up for the cost."""
    cost, life = 420.0, 18
    savings = yearly(37.0, life, growth)

    def gained(rate: float) -> float:
        return float(sum(flow / (1 + rate) ** year for year, flow in enumerate(savings)) - cost)

    rate = brentq(gained, 1e-6, 0.5, xtol=1e-14)
    assert discounted_payback(cost, savings, rate - 1e-9) == pytest.approx(life, abs=1e-4)
    assert level_payback(cost, 37.0, rate, growth) == pytest.approx(life, abs=1e-6)
    assert discounted_payback(cost, savings, rate + 1e-6) == np.inf
    # The adjusted return at that rate is the rate itself.
    sir = savings_to_investment(present_value(savings, rate), cost)
    assert adjusted_return(sir, life, rate) == pytest.approx(rate, abs=1e-9)


def test_adjusted_return_from_what_the_savings_grow_to() -> None:
    """10 CFR 436.22: the root of terminal value over present cost, less 1, each year put out again."""
    cost, life, rate = 300.0, 15, 0.03
    savings = yearly(31.0, life, 0.01)
    grown = sum(flow * (1 + rate) ** (life - year) for year, flow in enumerate(savings))
    by_hand = (grown / cost) ** (1 / life) - 1
    sir = savings_to_investment(present_value(savings, rate), cost)
    assert adjusted_return(sir, life, rate) == pytest.approx(by_hand, abs=1e-12)


def test_annual_worth_is_what_a_loan_would_cost() -> None:
    """A loan of 1000 at 7 % over 10 years: 142.38 a year, paid off to nothing."""
    payment = float(annual_worth(1000.0, 0.07, 10))
    assert payment == pytest.approx(142.38, abs=0.005)
    owed = 1000.0
    for _ in range(10):
        owed = owed * 1.07 - payment
    assert owed == pytest.approx(0.0, abs=1e-9)
