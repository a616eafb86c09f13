"""What all openings share: their discharge, the density of the air, Bernoulli over a height."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sashwright.physics.psychrometrics import air_density

Array = NDArray[np.float64]
Number = float | Array

USUAL_DISCHARGE = 0.6
"""Discharge coefficient of a plain window or door [-]: 0.60 to 0.65 for sharp edges; common practice."""


def mean_root(low: Array, high: Array) -> Array:
    """Mean of √Δ where Δ is above zero, and of nothing elsewhere, as Δ goes from low to high."""
    x, y = np.maximum(low, 0.0), np.maximum(high, 0.0)
    u, v = np.sqrt(x), np.sqrt(y)
    both, span = u + v, np.abs(high - low)
    crosses = (low < 0) != (high < 0)
    share = np.where(crosses, np.maximum(x, y) / np.where(crosses, span, 1.0), 1.0)
    mean = 2 / 3 * (x + u * v + y) / np.where(both > 0, both, 1.0)
    found: Array = share * mean
    return found


def densities(one: ArrayLike, other: ArrayLike, pressure: ArrayLike) -> tuple[Array, Array]:
    first, second, p = arrays(one, other, pressure)
    return air_density(first, np.zeros(()), p), air_density(second, np.zeros(()), p)


def arrays(*values: ArrayLike) -> list[Array]:
    return [np.asarray(value, dtype=np.float64) for value in values]


def plain(value: ArrayLike) -> Number:
    """A plain float where there is one number only."""
    array = np.asarray(value, dtype=np.float64)
    return float(array) if array.ndim == 0 else array
