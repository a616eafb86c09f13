"""Adaptive comfort against the standards' lines and published validation rows.

Sources: ASHRAE 55 (section 5.4) and EN 16798-1 (annex B); the public validation rows for adaptive comfort,
printed to 0.1 K.
"""

from __future__ import annotations

import numpy as np
import pytest

from sashwright.physics.comfort import (
    SEVEN_DAYS,
    Category,
    Standard,
    adaptive_band,
    comfort_temperature,
    comfortable,
    prevailing_mean,
    running_mean,
    seven_day_mean,
)

RUNNING = np.linspace(10, 30, 81)


@pytest.mark.parametrize(
    ("mean", "eighty", "ninety"),
    [
        # ASHRAE 55 figure 5-8, its end points as the equations of the standard give them.
        (10.0, (17.4, 24.4), (18.4, 23.4)),
        (20.0, (20.5, 27.5), (21.5, 26.5)),
        (33.5, (24.685, 31.685), (25.685, 30.685)),
    ],
)
def test_bands_of_ashrae_55(
    mean: float, eighty: tuple[float, float], ninety: tuple[float, float]
) -> None:
    assert adaptive_band("ASHRAE 55", mean, "80 %") == pytest.approx(eighty, abs=1e-9)
    assert adaptive_band("ASHRAE 55", mean, "90 %") == pytest.approx(ninety, abs=1e-9)


def test_bands_in_fahrenheit() -> None:
    """Validation row: at 68 °F the line is 75.2 °F, 80 % 68.9 to 81.5 °F, 90 % 70.7 to 79.7 °F."""
    fahrenheit = [
        value * 1.8 + 32
        for category in ("80 %", "90 %")
        for value in adaptive_band("ASHRAE 55", 20.0, category)
    ]
    assert fahrenheit == pytest.approx([68.9, 81.5, 70.7, 79.7], abs=0.05)


@pytest.mark.parametrize(
    ("category", "low", "high"),
    [("I", 22.4, 27.4), ("II", 21.4, 28.4), ("III", 20.4, 29.4)],
)
def test_bands_of_en_16798(category: Category, low: float, high: float) -> None:
    """Validation row: at a running mean of 20 °C the line is 25.4 °C."""
    assert comfort_temperature("EN 16798-1", 20.0) == pytest.approx(25.4)
    assert adaptive_band("EN 16798-1", 20.0, category) == pytest.approx((low, high))


@pytest.mark.parametrize(
    ("operative", "mean", "eighty", "ninety"),
    [(19.6, 17.0, True, False), (19.6, 25.0, False, False), (25.0, 9.0, False, False)],
)
def test_validation_rows(operative: float, mean: float, eighty: bool, ninety: bool) -> None:
    """Published rows: content or not; the last lies beyond the standard."""
    assert bool(comfortable("ASHRAE 55", mean, "80 %", operative, 0.1)) is eighty
    assert bool(comfortable("ASHRAE 55", mean, "90 %", operative, 0.1)) is ninety


@pytest.mark.parametrize(
    ("standard", "mean", "inside"),
    [
        ("ASHRAE 55", 9.99, False),
        ("ASHRAE 55", 10.0, True),
        ("ASHRAE 55", 33.5, True),
        ("ASHRAE 55", 33.51, False),
        ("EN 16798-1", 9.99, False),
        ("EN 16798-1", 10.0, True),
        ("EN 16798-1", 30.0, True),
        ("EN 16798-1", 30.01, False),
    ],
)
def test_limits(standard: Standard, mean: float, inside: bool) -> None:
    assert bool(np.isfinite(comfort_temperature(standard, mean))) is inside


def test_running_means() -> None:
    """Weeks worked out apart from this program."""
    mild = [22, 20.5, 19, 21, 18.5, 17, 16.5]
    warm = [26.5, 24, 23.5, 27, 25.5, 22, 21]
    assert prevailing_mean(mild, 0.8) == pytest.approx(19.9385, abs=5e-5)
    assert seven_day_mean(mild) == pytest.approx(20.0263, abs=5e-5)
    assert seven_day_mean(warm) == pytest.approx(24.8158, abs=5e-5)
    for alpha, mean in ((0.6, 25.1798), (0.8, 24.7310), (0.9, 24.4774)):
        assert prevailing_mean(warm, alpha) == pytest.approx(mean, abs=5e-5)
    # 18 °C and a day of 25 °C make 19.4 °C.
    assert running_mean([25.0, 0.0], before=18.0)[1] == pytest.approx(19.4)
    assert sum(SEVEN_DAYS) == pytest.approx(3.8)


def test_the_recursion_is_the_weighted_mean_of_all_days_before() -> None:
    rng = np.random.default_rng(5)
    daily = 12 + 9 * np.sin(np.arange(365) / 58) + rng.normal(0, 3, 365)
    year = running_mean(daily)
    for day in (0, 1, 180, 364):
        # Two hundred days remember all that a float can hold.
        before = np.roll(daily, -day)[::-1][:200]
        assert year[day] == pytest.approx(prevailing_mean(before), abs=1e-9)
