"""Money over the years: discount factors, and costs of many years as one sum.

Conventions of NIST Handbook 135 (and ASTM E917): the base date is year 0, what a year costs or saves falls
at its end, and the first payment of a price that grows is (1 + growth) times the base date's. Rates are per
year, as shares (0.03 for 3 %), above −1. In constant dollars rates and growth are real, in dollars of the
day nominal: never both in one sum.

Everything takes numbers or arrays, which broadcast: thousands of draws go through at once. Years may be
broken. Flows are arrays whose last axis is the years, from year 0 on; draws go before it.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

_CLOSE = 1e-9
"""Rates nearer than that count as the same: the sum over a year's ratio of 1 is the number of years."""


def single_present_value(rate: ArrayLike, years: ArrayLike, growth: ArrayLike = 0.0) -> Array:
    """What one payment after ``years`` is worth today, as a share of its price today (SPV, SPV*)."""
    rates, rising = _rates(rate), _rates(growth)
    return np.asarray(((1 + rising) / (1 + rates)) ** np.asarray(years, dtype=float))


def uniform_present_value(rate: ArrayLike, years: ArrayLike, growth: ArrayLike = 0.0) -> Array:
    """What a payment each year is worth today, as a multiple of its price today (UPV, UPV*).

    (1 + e) / (d − e) (1 − ((1 + e) / (1 + d))^n), and n where d = e.
    """
    rates, rising = _rates(rate), _rates(growth)
    count = np.asarray(years, dtype=float)
    apart = rates - rising
    same = np.abs(apart) < _CLOSE
    # expm1 and log1p keep the digits where the two rates are close.
    left = -np.expm1(count * (np.log1p(rising) - np.log1p(rates)))
    with np.errstate(divide="ignore", invalid="ignore"):
        factor = (1 + rising) / np.where(same, 1.0, apart) * left
    return np.asarray(np.where(same, count, factor))


def capital_recovery(rate: ArrayLike, years: ArrayLike) -> Array:
    """The level payment each year that is worth 1 today (UCR). Infinite for 0 years."""
    with np.errstate(divide="ignore"):
        return np.asarray(1 / uniform_present_value(rate, years))


def compound_amount(rate: ArrayLike, years: ArrayLike) -> Array:
    """What 1 today has grown to (SCA)."""
    return np.asarray((1 + _rates(rate)) ** np.asarray(years, dtype=float))


def nominal(real: ArrayLike, inflation: ArrayLike) -> Array:
    """A real rate, or growth, in dollars of the day: (1 + d)(1 + I) − 1."""
    rates = _rates(real)
    rising = _rates(inflation)
    return np.asarray(rates + rising + rates * rising)


def real(nominal_rate: ArrayLike, inflation: ArrayLike) -> Array:
    """A rate in dollars of the day in constant ones: (1 + D) / (1 + I) − 1."""
    rising = _rates(inflation)
    return np.asarray((_rates(nominal_rate) - rising) / (1 + rising))


def present_value(flows: ArrayLike, rate: ArrayLike) -> Array:
    """The worth today of flows, shape (..., years + 1): the net present cost, where they are costs.

    ``rate`` has the shape before the last axis, or broadcasts to it.
    """
    each = np.asarray(flows, dtype=float)
    return np.asarray((each * _weights(rate, each.shape[-1])).sum(axis=-1))


def annual_worth(present: ArrayLike, rate: ArrayLike, years: ArrayLike) -> Array:
    """A present value spread evenly over the years."""
    return np.asarray(np.asarray(present, dtype=float) * capital_recovery(rate, years))


def yearly(
    price: ArrayLike, years: int, growth: ArrayLike = 0.0, first: int = 1, every: int = 1
) -> Array:
    """Flows of what costs ``price`` at today's level in year ``first`` and ``every`` so many years after.

    Shape (..., years + 1); with ``growth`` the price rises from the base date on. Raises ``ValueError``
    for a first year before the base date, or steps of less than a year.
    """
    if first < 0 or every < 1 or years < 0:
        raise ValueError(
            f"found first year {first}, every {every} of {years} years, expected a first year from 0, "
            "steps from 1, years from 0"
        )
    when = np.arange(years + 1)
    due = (when >= first) & ((when - first) % every == 0)
    prices = np.asarray(price, dtype=float)[..., None]
    return np.asarray(prices * (1 + _rates(growth)[..., None]) ** when * due)


def discounted(flows: ArrayLike, rate: ArrayLike) -> Array:
    """Each year's flow at its worth today, shape (..., years + 1)."""
    each = np.asarray(flows, dtype=float)
    return np.asarray(each * _weights(rate, each.shape[-1]))


def _weights(rate: ArrayLike, count: int) -> Array:
    return np.asarray((1 + _rates(rate)[..., None]) ** -np.arange(count, dtype=float))


def _rates(rate: ArrayLike) -> Array:
    rates = np.asarray(rate, dtype=float)
    if (rates <= -1).any():
        raise ValueError(f"found a rate of {rates.min():g} a year, expected more than -1")
    return rates
