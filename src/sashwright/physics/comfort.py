"""Adaptive comfort: what people who open their own windows find neither warm nor cool.

For rooms without running heating or cooling, people at light work (1.0 to 1.3 met) free to dress. Sources:
ANSI/ASHRAE Standard 55, section 5.4; EN 16798-1:2019, annex B; operative temperature also ISO 7726. The
figures of EN 16798-1 were read in an open program that follows it, not in the standard.

Temperatures in °C, air speeds in m/s. Everything takes numbers or arrays, which broadcast.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.signal import lfilter

Array = NDArray[np.float64]
Standard = Literal["ASHRAE 55", "EN 16798-1"]
Category = Literal["80 %", "90 %", "I", "II", "III"]
"""Share of people content (ASHRAE 55), or level of expectation (EN 16798-1)."""


@dataclass(frozen=True, slots=True)
class _Model:
    """Comfort line of a standard: slope and level, range of the running mean, bands below and above it."""

    slope: float
    level: float
    limits: tuple[float, float]
    bands: Mapping[Category, tuple[float, float]]


_MODELS: Mapping[Standard, _Model] = {
    "ASHRAE 55": _Model(0.31, 17.8, (10.0, 33.5), {"80 %": (3.5, 3.5), "90 %": (2.5, 2.5)}),
    "EN 16798-1": _Model(
        0.33, 18.8, (10.0, 30.0), {"I": (3.0, 2.0), "II": (4.0, 3.0), "III": (5.0, 4.0)}
    ),
}

ALPHA = 0.8
"""Weight of the day before against the day after it [-]: EN 16798-1; ASHRAE 55 allows 0.6 to 0.9."""
SEVEN_DAYS = (1.0, 0.8, 0.6, 0.5, 0.4, 0.3, 0.2)
"""Weights of yesterday and the six days before [-]: EN 16798-1's short form; their sum is 3.8."""

WARM = 25.0
"""Above this operative temperature moving air widens the band [°C]; both standards, from memory."""
_SPEEDS = (0.6, 0.9, 1.2)
_RISES = (0.0, 1.2, 1.8, 2.2)
"""By how much, below 0.6 m/s and from each speed on [K]; ASHRAE 55 table 5-13, EN 16798-1 table B.4."""


def comfort_temperature(standard: Standard, running_mean_c: ArrayLike) -> Array:
    """The temperature found neither warm nor cool; NaN beyond the limits of the standard."""
    model = _MODELS[standard]
    running = np.asarray(running_mean_c, dtype=float)
    return np.where(within_limits(standard, running), model.slope * running + model.level, np.nan)


def within_limits(standard: Standard, running_mean_c: ArrayLike) -> NDArray[np.bool_]:
    """Whether the standard speaks of such weather at all."""
    low, high = _MODELS[standard].limits
    running = np.asarray(running_mean_c, dtype=float)
    return np.asarray((running >= low) & (running <= high))


def adaptive_band(
    standard: Standard,
    running_mean_c: ArrayLike,
    category: Category,
    hold: bool = False,
) -> tuple[Array, Array]:
    """Lowest and highest operative temperature of comfort, in air that hardly moves.

    Parameters
    ----------
    running_mean_c
        Running mean outdoor temperature, of any shape.
    category
        ``"80 %"`` or ``"90 %"`` of ASHRAE 55, ``"I"``, ``"II"`` or ``"III"`` of EN 16798-1.
    hold
        Beyond the standard's limits, keep the band of the nearer limit; else it is NaN there. That is no
        longer the standard.

    Raises
    ------
    ValueError
        For a category of the other standard.
    """
    bands = _MODELS[standard].bands
    if category not in bands:
        raise ValueError(
            f"found category {category!r} for {standard}, expected one of {', '.join(bands)}"
        )
    running = np.asarray(running_mean_c, dtype=float)
    if hold:
        running = np.clip(running, *_MODELS[standard].limits)
    middle = comfort_temperature(standard, running)
    below, above = bands[category]
    return middle - below, middle + above


def air_speed_rise(air_speed: ArrayLike, operative_c: ArrayLike) -> Array:
    """How much warmer the upper limit may be for the speed of the air, which people must control [K].

    Only where the operative temperature is above ``WARM``; steps at 0.6, 0.9 and 1.2 m/s.
    """
    speed, operative = np.asarray(air_speed, float), np.asarray(operative_c, float)
    rise = np.take(np.array(_RISES), np.searchsorted(_SPEEDS, speed, side="right"))
    rise = np.where(np.isnan(speed), np.nan, rise)
    return np.where(operative > WARM, rise, 0.0)


def comfortable(
    standard: Standard,
    running_mean_c: ArrayLike,
    category: Category,
    operative_c: ArrayLike,
    air_speed: ArrayLike = 0.0,
    hold: bool = False,
) -> NDArray[np.bool_]:
    """Whether an operative temperature lies in the band; never where the band is NaN. Raises likewise."""
    low, high = adaptive_band(standard, running_mean_c, category, hold)
    operative = np.asarray(operative_c, dtype=float)
    return np.asarray(
        (operative >= low) & (operative <= high + air_speed_rise(air_speed, operative))
    )


def running_mean(daily_c: ArrayLike, alpha: float = ALPHA, before: float | None = None) -> Array:
    """Running mean outdoor temperature of each day, from the days before it.

    T(i) = (1 − alpha) t(i−1) + alpha T(i−1), with t the daily mean outdoors.

    Parameters
    ----------
    daily_c
        Daily means, shape (..., days), the first day first.
    alpha
        From 0 to below 1; a large one remembers long.
    before
        Running mean of the first day. Where not given, the days are taken to go round, as a year does.

    Raises
    ------
    ValueError
        For an ``alpha`` out of range.
    """
    if not 0 <= alpha < 1:
        raise ValueError(f"found alpha {alpha:g}, expected 0 to below 1")
    daily = np.asarray(daily_c, dtype=float)
    if before is None:
        # Once round from nothing leaves the share alpha^n of the start, so the start follows.
        days = daily.shape[-1]
        once, _ = _remember(daily, alpha, np.zeros((*daily.shape[:-1], 1)))
        first = once[..., -1:] / (1 - alpha**days)
    else:
        first = np.full((*daily.shape[:-1], 1), float(before))
    after, _ = _remember(daily, alpha, alpha * first)
    return np.concatenate((first, after[..., :-1]), axis=-1)


def _remember(daily: Array, alpha: float, state: Array) -> tuple[Array, Array]:
    after, last = lfilter([1 - alpha], [1.0, -alpha], daily, axis=-1, zi=state)
    return np.asarray(after, dtype=float), np.asarray(last, dtype=float)


def prevailing_mean(previous_c: ArrayLike, alpha: float = ALPHA) -> Array:
    """Weighted mean of some days before, shape (..., days), yesterday first.

    Weights alpha^k over their sum: ASHRAE 55 with 7 to 30 days.
    """
    previous = np.asarray(previous_c, dtype=float)
    return _weighted(previous, np.power(alpha, np.arange(previous.shape[-1], dtype=float)))


def seven_day_mean(previous_c: ArrayLike) -> Array:
    """EN 16798-1's short form, shape (..., 7), yesterday first. Raises ``ValueError`` for other lengths."""
    previous = np.asarray(previous_c, dtype=float)
    if previous.shape[-1:] != (len(SEVEN_DAYS),):
        raise ValueError(f"found {previous.shape[-1:]} days, expected {len(SEVEN_DAYS)}")
    return _weighted(previous, np.array(SEVEN_DAYS))


def _weighted(values: Array, weights: Array) -> Array:
    return np.asarray((values * weights).sum(axis=-1) / weights.sum())


def operative_temperature(
    air_c: ArrayLike,
    radiant_c: ArrayLike,
    air_speed: ArrayLike = 0.1,
    standard: Standard = "ASHRAE 55",
) -> Array:
    """One temperature for air and surroundings.

    ASHRAE 55: the air counts 0.5 below 0.2 m/s, 0.6 below 0.6 m/s, else 0.7. EN 16798-1 after ISO 7726:
    it counts √(10 v) against 1.
    """
    air, radiant = np.asarray(air_c, dtype=float), np.asarray(radiant_c, dtype=float)
    speed = np.asarray(air_speed, dtype=float)
    if standard == "ASHRAE 55":
        share = np.take(np.array((0.5, 0.6, 0.7)), np.searchsorted((0.2, 0.6), speed, side="right"))
    else:
        root = np.sqrt(10 * speed)
        share = root / (1 + root)
    return np.asarray(share * air + (1 - share) * radiant)
