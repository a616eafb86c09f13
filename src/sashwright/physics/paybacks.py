"""When a measure has paid for itself, and how well it pays: payback, savings to investment, return.

Conventions of NIST Handbook 135 and ASTM E917, E964, E1057, E1121, as in ``economics``: year 0 is the base
date, savings fall at the end of their year. Payback is a screen, no more: it is blind to what comes after.
Where measures exclude each other choose by net savings, where they add up rank by savings to investment.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sashwright.physics.economics import discounted, present_value

Array = NDArray[np.float64]


def simple_payback(cost: ArrayLike, savings: ArrayLike) -> Array:
    """Years until savings, not discounted, have made up for a cost. Reckoned as ``discounted_payback``."""
    return discounted_payback(cost, savings, 0.0)


def discounted_payback(cost: ArrayLike, savings: ArrayLike, rate: ArrayLike) -> Array:
    """Years until savings, each at its worth today, have made up for a cost.

    Parameters
    ----------
    cost
        Extra cost at the base date, shape (...).
    savings
        What each year saves, shape (..., years + 1), from year 0 on; years that cost more are below zero.
    rate
        Discount rate, shape (...).

    The first time that they have; savings build up evenly through a year, so a broken year is the share
    of that year's (discounted) saving that is still wanted. Zero where there is nothing to make up for;
    infinite where the study ends before; NaN where something is NaN.
    """
    each = discounted(savings, rate)
    owed = np.asarray(cost, dtype=float)
    each, owed = _together(each, owed)
    made = np.cumsum(each, axis=-1)
    enough = made >= owed[..., None]
    first = enough.argmax(axis=-1)[..., None]
    during = np.take_along_axis(each, first, axis=-1)[..., 0]
    before = np.take_along_axis(made, first, axis=-1)[..., 0] - during
    year = first[..., 0]
    with np.errstate(divide="ignore", invalid="ignore"):
        share = np.where(during > 0, (owed - before) / during, 0.0)
    years = np.where(year > 0, year - 1 + share, 0.0)
    years = np.where(enough.any(axis=-1), years, np.inf)
    years = np.where(owed <= 0, 0.0, years)
    return np.where(np.isnan(owed) | np.isnan(made[..., -1]), np.nan, years)


def level_payback(
    cost: ArrayLike, saving: ArrayLike, rate: ArrayLike = 0.0, growth: ArrayLike = 0.0
) -> Array:
    """Discounted payback of a saving that is the same each year but for its price, and never ends.

    ln(1 − C (d − e) / (A (1 + e))) / ln((1 + e) / (1 + d)), and C / A where d = e. It agrees with
    ``discounted_payback`` at whole years and lies a little off between them. Zero for no cost, infinite
    where the savings never make up for it.
    """
    owed, gained = np.asarray(cost, dtype=float), np.asarray(saving, dtype=float)
    rates, rising = np.asarray(rate, dtype=float), np.asarray(growth, dtype=float)
    owed, gained, rates, rising = np.broadcast_arrays(owed, gained, rates, rising)
    apart = np.log1p(rising) - np.log1p(rates)
    same = np.abs(apart) < 1e-12
    with np.errstate(divide="ignore", invalid="ignore"):
        ratio = owed / gained
        left = 1 - ratio * (rates - rising) / (1 + rising)
        curved = np.where(left > 0, np.log(left) / np.where(same, 1.0, apart), np.inf)
    years = np.where(same, ratio, curved)
    years = np.where(gained > 0, years, np.inf)
    years = np.where(owed <= 0, 0.0, years)
    return np.where(np.isnan(owed + gained + rates + rising), np.nan, years)


def net_savings(base: ArrayLike, other: ArrayLike, rate: ArrayLike) -> Array:
    """By how much an alternative's flows of cost, shape (..., years + 1), are worth less than the base's."""
    return np.asarray(present_value(base, rate) - present_value(other, rate))


def savings_to_investment(savings: ArrayLike, investment: ArrayLike) -> Array:
    """Present value of what is saved in running over what is invested more, likewise (SIR).

    Replacements count as investment, what is left at the end against it. Above 1 it is worth doing.
    Infinite where savings ask for no investment, NaN where there are neither.
    """
    gained, spent = np.broadcast_arrays(
        np.asarray(savings, dtype=float), np.asarray(investment, dtype=float)
    )
    with np.errstate(divide="ignore", invalid="ignore"):
        ratio = gained / spent
    free = np.where(gained > 0, np.inf, np.nan)
    return np.where(spent > 0, ratio, np.where(np.isnan(spent + gained), np.nan, free))


def adjusted_return(ratio: ArrayLike, years: ArrayLike, rate: ArrayLike) -> Array:
    """Adjusted internal rate of return (AIRR): (1 + r) SIR^(1/N) − 1, savings put out again at ``rate``.

    10 CFR 436.22: the N-th root of what the savings have grown to over the present cost, less 1. NaN for
    a ratio below zero.
    """
    with np.errstate(invalid="ignore", divide="ignore"):
        root = np.asarray(ratio, dtype=float) ** (1 / np.asarray(years, dtype=float))
    return np.asarray((1 + np.asarray(rate, dtype=float)) * root - 1)


def _together(each: Array, owed: Array) -> tuple[Array, Array]:
    """Flows and costs broadcast to each other, the years left last."""
    shape = np.broadcast_shapes(each.shape[:-1], owed.shape)
    return np.broadcast_to(each, (*shape, each.shape[-1])), np.broadcast_to(owed, shape)
