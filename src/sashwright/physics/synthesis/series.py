"""Series of chance and of season that the parts of a typical year are made of.

All are cyclic: the last day of December leads into the first of January.
"""

from __future__ import annotations

import itertools
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from sashwright.physics.hourly_year import DAYS, DAYS_OF_MONTH

Array = NDArray[np.float64]

_NORMAL = NormalDist()


def normal_scores(count: int) -> Array:
    """The ``count`` equally likely middles of a standard normal distribution, rising, sd 1."""
    middles = (np.arange(count) + 0.5) / count
    scores: Array = np.array([_NORMAL.inv_cdf(float(middle)) for middle in middles])
    return scores / scores.std() if count > 1 else scores


def white(rng: np.random.Generator, count: int) -> Array:
    """Independent standard normal numbers, shape (count,).

    By Box and Muller from uniform numbers: numpy promises to keep those the same from version to
    version for a given seed, and its own normal numbers it does not (NEP 19).
    """
    pairs = (count + 1) // 2
    # In (0, 1], so that its logarithm is finite.
    radius = np.sqrt(-2 * np.log(1 - rng.random(pairs)))
    angle = 2 * np.pi * rng.random(pairs)
    both: Array = np.concatenate([radius * np.cos(angle), radius * np.sin(angle)])
    return both[:count]


def autocorrelated(rng: np.random.Generator, count: int, lag: float) -> Array:
    """A cyclic first-order autoregressive series of variance 1, shape (count,).

    ``lag`` is the correlation of neighbours, 0 to below 1. The recursion
    ``x[t] = lag x[t - 1] + sqrt(1 - lag^2) e[t]`` is solved around the circle by Fourier transform.
    """
    turn = np.exp(-2j * np.pi * np.arange(count // 2 + 1) / count)
    shocks = np.fft.rfft(white(rng, count)) * np.sqrt(1 - lag * lag)
    series: Array = np.fft.irfft(shocks / (1 - lag * turn), count)
    return series


def ranked(series: Array, quantiles: Array) -> Array:
    """The rising ``quantiles`` in the order of the ``series``: same ranks, new distribution."""
    order = np.empty(len(series), dtype=np.intp)
    order[np.argsort(series, kind="stable")] = np.arange(len(series))
    placed: Array = quantiles[order]
    return placed


def _middles_of_months() -> Array:
    ends = np.cumsum(DAYS_OF_MONTH)
    middles: Array = ends - np.asarray(DAYS_OF_MONTH) / 2
    return middles


def _month_weights() -> Array:
    """Straight lines between the middles of months: weight of each month in each day, (365, 12)."""
    middles = _middles_of_months()
    around = np.concatenate([[middles[-1] - DAYS], middles, [middles[0] + DAYS]])
    weights = np.zeros((DAYS, 12))
    for day in range(DAYS):
        noon = day + 0.5
        right = int(np.searchsorted(around, noon))
        share = (noon - around[right - 1]) / (around[right] - around[right - 1])
        weights[day, (right - 2) % 12] += 1 - share
        weights[day, (right - 1) % 12] += share
    return weights


def through_months(monthly: Array) -> Array:
    """Daily values of the season, shape (365,), whose mean in each month is the month's.

    Straight lines from mid-month to mid-month, their corners moved so that every month keeps its mean.
    """
    weights = _month_weights()
    ends = np.cumsum((0, *DAYS_OF_MONTH))
    means = np.stack([weights[a:b].mean(axis=0) for a, b in itertools.pairwise(ends)])
    season: Array = weights @ np.linalg.solve(means, monthly)
    return season


def through_days(daily: Array) -> Array:
    """Hourly values, shape (365, 24), whose mean in each day is the day's.

    Straight lines from noon to noon, their corners moved so that every day keeps its mean.
    """
    hours = (np.arange(24) + 0.5) / 24
    before, after = np.maximum(0.5 - hours, 0.0), np.maximum(hours - 0.5, 0.0)
    here = 1 - before - after
    # The mean of a day takes from its neighbours what the lines take; undone around the circle.
    kernel = np.zeros(len(daily))
    kernel[0], kernel[1], kernel[-1] = here.mean(), before.mean(), after.mean()
    corners = np.fft.irfft(np.fft.rfft(daily) / np.fft.rfft(kernel), len(daily))
    lines: Array = (
        np.outer(np.roll(corners, 1), before)
        + np.outer(corners, here)
        + np.outer(np.roll(corners, -1), after)
    )
    return lines
