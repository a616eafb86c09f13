"""What holds for any boards in any air."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from sashwright.physics.diffusion import fit_diffusion
from sashwright.physics.slab import (
    DAY,
    STEPS,
    Slabs,
    Surroundings,
    march,
    mean_weights,
    transfer_coefficient,
    year_round,
)

Array = NDArray[np.float64]

ROUNDING = 1e-12
BLUR = 2e-5
"""By so much may a scheme in steps overshoot what the exact course never passes [-]."""

TRANSFERS = st.floats(-10, -6.3).map(lambda power: 10.0**power)


def pine(*thicknesses: float, depth: float = 0.05) -> Slabs:
    count = len(thicknesses)
    fit = np.repeat(fit_diffusion(0.37)[:, :, None], count, axis=2)
    return Slabs(np.array(thicknesses), fit, np.full(count, depth))


def weather(seed: int, swing: float = 0.02) -> Array:
    """Moisture that wood would settle at, day by day: a season and the weather on it, (365,)."""
    rng = np.random.default_rng(seed)
    noise = np.convolve(rng.normal(0, swing, 368), [0.4, 0.3, 0.2, 0.1], "valid")[:365]
    year: Array = 0.13 + 0.03 * np.cos(2 * np.pi * (np.arange(365) - 250) / 365) + noise
    return year


def around(
    outer: Array, inner: Array, transfer: tuple[float, float, float], boards: int = 1
) -> Surroundings:
    """Two airs at the faces of like boards, half of each at the edge, cool outside and warm inside."""
    day = np.arange(365)
    cold = 8 - 12 * np.cos(2 * np.pi * (day - 20) / 365)

    def every(values: Array) -> Array:
        return np.repeat(values[..., None], boards, axis=-1)

    return Surroundings(
        every(np.stack([cold, np.maximum(cold, 16.0)])),
        every(np.stack([outer, inner, (outer + inner) / 2])),
        every(np.repeat(np.array(transfer)[:, None], 365, axis=1)),
    )


def test_weights_make_a_mean() -> None:
    place = np.linspace(0, 1, STEPS + 1)
    weights = mean_weights(STEPS)
    assert weights.sum() == pytest.approx(1, abs=ROUNDING)
    # Simpson's rule is exact up to the third power.
    assert weights @ place**3 == pytest.approx(1 / 4, abs=ROUNDING)


def test_transfer_by_hand() -> None:
    """125 ng/(Pa s m2), 2339 Pa, 380 kg/m3 and 0.236: 1.25e-10 x 2339 / (380 x 0.236)."""
    assert transfer_coefficient(1.25e-10, 2339.0, 0.236, 380.0) == pytest.approx(3.26e-9, rel=1e-3)


def test_closed_boards_keep_what_they_hold() -> None:
    start = np.linspace(0.08, 0.20, STEPS + 1)[:, None]
    air = around(weather(1), weather(2), (0.0, 0.0, 0.0))
    profile, means = march(pine(0.035), air, start, DAY)
    # Trapezoid, by which the scheme counts what passes.
    held = [(p[:-1] + p[1:]).sum() for p in (start[:, 0], profile[:, 0])]
    assert held[0] == pytest.approx(held[1], abs=1e-10)
    assert means[-1, 0] == pytest.approx(0.14, abs=1e-4)


def test_wood_in_the_air_that_it_is_settled_in_stays() -> None:
    still = np.full(365, 0.12)
    year = year_round(pine(0.035), around(still, still, (1e-9, 3e-8, 4e-7)))
    assert np.abs(year - 0.12).max() < 1e-10


@given(seed=st.integers(0, 1000), transfer=st.tuples(TRANSFERS, TRANSFERS, TRANSFERS))
@settings(max_examples=25)
def test_wood_stays_between_its_airs(seed: int, transfer: tuple[float, float, float]) -> None:
    outer, inner = weather(seed), weather(seed + 1) - 0.04
    year = year_round(pine(0.035), around(outer, inner, transfer))
    assert min(outer.min(), inner.min()) - BLUR <= year.min()
    assert year.max() <= max(outer.max(), inner.max()) + BLUR


@given(
    seed=st.integers(0, 1000),
    transfer=st.tuples(TRANSFERS, TRANSFERS, TRANSFERS),
    drier=st.floats(0.001, 0.05),
)
@settings(max_examples=25)
def test_drier_air_never_makes_wetter_wood(
    seed: int, transfer: tuple[float, float, float], drier: float
) -> None:
    outer, inner = weather(seed), weather(seed + 1) - 0.03
    damp = year_round(pine(0.035), around(outer, inner, transfer))
    # Drier on some days only, and on one side.
    rng = np.random.default_rng(seed)
    less = np.where(rng.random(365) < 0.5, drier, 0.0)
    dry = year_round(pine(0.035), around(outer - less, inner, transfer))
    assert (dry <= damp + 5 * BLUR).all()
    assert dry.mean() < damp.mean()


@given(transfer=st.floats(-9.7, -7).map(lambda power: 10.0**power), slower=st.floats(0.1, 0.9))
@settings(max_examples=25)
def test_paint_never_speeds_wood(transfer: float, slower: float) -> None:
    """Behind more paint the year's wave of the wood is smaller and later."""
    air = 0.12 + 0.03 * np.cos(2 * np.pi * np.arange(365) / 365)

    def wave(ease: float) -> complex:
        year = year_round(pine(0.035), around(air, air, (ease, ease, 0.0)))
        return complex(np.fft.rfft(year[:, 0])[1])

    open_, painted = wave(transfer), wave(transfer * slower)
    assert abs(painted) < abs(open_)
    assert np.angle(painted) < np.angle(open_)


def test_boards_do_not_know_of_each_other() -> None:
    outer, inner = weather(3), weather(4) - 0.04
    together = year_round(
        pine(0.012, 0.035, 0.057), around(outer, inner, (2e-9, 2e-9, 3e-7), boards=3)
    )
    for column, thickness in enumerate((0.012, 0.035, 0.057)):
        alone = year_round(pine(thickness), around(outer, inner, (2e-9, 2e-9, 3e-7)))
        # How a quick board's start fades is guessed from what rounding left of it.
        assert together[:, column] == pytest.approx(alone[:, 0], abs=1e-7)


@pytest.mark.parametrize(
    ("transfer", "years", "apart"),
    [
        ((2e-9, 2e-9, 4e-7), 3, 2e-5),
        # So tightly painted all round that it lags by two years.
        ((2e-10, 2e-10, 2e-10), 25, 2e-5),
        ((4e-7, 4e-7, 4e-7), 3, 5e-5),
    ],
)
def test_the_year_closes(transfer: tuple[float, float, float], years: int, apart: float) -> None:
    """Walked on for years, the boards do nothing new."""
    outer, inner = weather(5), weather(6) - 0.04
    slabs, air = pine(0.044), around(outer, inner, transfer)
    year = year_round(slabs, air)
    ring = air.at(np.arange(366) % 365)
    profile = np.full((STEPS + 1, 1), year.mean())
    for _ in range(years):
        profile, means = march(slabs, ring, profile, DAY)
    assert np.abs(means[:365] - year).max() < apart


def test_finer_steps_of_time_change_little_and_ever_less() -> None:
    air = around(weather(7), weather(8) - 0.04, (4e-7, 4e-7, 4e-7))
    slabs = pine(0.035)
    finest = year_round(slabs, air, parts=16)
    off = [np.abs(year_round(slabs, air, parts=parts) - finest).max() for parts in (1, 2, 4)]
    assert off[1] < 1e-4
    # Second order: each halving leaves a quarter; at least a third is asked.
    assert off[1] < off[0] / 3
    assert off[2] < off[1] / 2


def test_finer_steps_through_the_wood_change_little() -> None:
    air = around(weather(9), weather(10) - 0.04, (3e-9, 3e-9, 4e-7))
    slabs = pine(0.035)
    eight, thirty_two = (year_round(slabs, air, steps=steps) for steps in (8, 32))
    assert np.abs(eight - thirty_two).max() < 1e-4


def test_a_slow_board_hardly_moves() -> None:
    air = around(weather(11), weather(11), (1e-12, 1e-12, 0.0))
    year = year_round(pine(0.057), air)
    lag = 0.057 / (2 * 1e-12) / DAY / 365
    # The yearly wave of 0.03 shrinks by 1 / (2 pi lag in years).
    assert np.ptp(year) < 2 * 0.035 / (2 * math.pi * lag)
