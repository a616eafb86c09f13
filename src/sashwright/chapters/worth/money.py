"""Money over the years of an alternative: first costs, renewals by lives, energy, what is left at the end.

Conventions of NIST Handbook 135: the base date is year 0, costs fall at the end of their year, constant
dollars. Numbers or draws: all that varies has the shape (draws,), flows (draws, years + 1).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sashwright.chapters.worth.alternatives import Alternative
from sashwright.knowledge.worth_tables import Measure
from sashwright.physics.economics import annual_worth, present_value, yearly
from sashwright.physics.paybacks import (
    adjusted_return,
    discounted_payback,
    savings_to_investment,
    simple_payback,
)

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Flows:
    """Costs of an alternative by year, shape (draws, years + 1); what is left at the end is below zero."""

    investment: Array
    """First costs, their renewals, what is left of them at the end."""
    upkeep: Array
    energy: Array

    @property
    def total(self) -> Array:
        whole: Array = self.investment + self.upkeep + self.energy
        return whole


def due(life: Array, years: int) -> Array:
    """Whether something that lives so long is renewed in a year, shape (draws, years + 1).

    At the end of the year in which its life is over; nothing is renewed in the last year.
    """
    when = np.arange(years + 1)
    lives = np.asarray(life, dtype=np.float64)[..., None]
    # A hair, so that a life of whole years does not slip by a rounding.
    done = np.floor(when / lives + 1e-9)
    renewed = np.zeros(done.shape)
    renewed[..., 1:] = done[..., 1:] - done[..., :-1] > 0
    renewed[..., -1] = 0.0
    return renewed


def left_at_end(life: Array, years: int) -> Array:
    """Share of the last doing's life that is left at the end, in even steps (straight line) [-]."""
    lives = np.asarray(life, dtype=np.float64)
    when = np.arange(years + 1)
    last = (due(lives, years) * when).max(axis=-1)
    share: Array = np.maximum(1 - (years - last) / lives, 0.0)
    return share


def measure_flows(cost: Array, life: Array, years: int, *, now: bool) -> Array:
    """Costs of one measure by year; what begins now counts for what is left of it at the end."""
    price = np.asarray(cost, dtype=np.float64)
    flows: Array = price[..., None] * due(life, years)
    if now:
        flows[..., 0] += price
        flows[..., -1] -= price * left_at_end(life, years)
    return flows


def flows_of(
    alternative: Alternative,
    measures: Mapping[str, Measure],
    costs: Mapping[str, Array],
    lives: Mapping[str, Array],
    energy: Array,
    rise: Array,
    years: int,
) -> Flows:
    """All flows of an alternative.

    Parameters
    ----------
    costs, lives : mapping
        Of each measure, shape (draws,): of one window of the ordinary size, in years.
    energy : array
        Cost of a year's energy at today's prices, (draws,).
    rise : array
        By how much it rises more than other prices [1/year].
    """
    shape = (*np.shape(energy), years + 1)
    invested, upkeep = np.zeros(shape), np.zeros(shape)
    for key, amount in alternative.amounts.items():
        now = measures[key].begins == "now"
        flows = measure_flows(amount * costs[key], lives[key], years, now=now)
        if now:
            invested += flows
        else:
            upkeep += flows
    return Flows(invested, upkeep, yearly(energy, years, rise))


def first_cost(
    alternative: Alternative, measures: Mapping[str, Measure], costs: Mapping[str, Array]
) -> Array:
    """What it costs now."""
    total = np.zeros(np.shape(next(iter(costs.values()))))
    for key, amount in alternative.amounts.items():
        if measures[key].begins == "now":
            total = total + amount * costs[key]
    return total


@dataclass(frozen=True, eq=False)
class Money:
    """What an alternative comes to, beside the one that all are compared with. Shapes (draws,)."""

    present_cost: Array
    annual_cost: Array
    net_savings: Array
    ratio: Array
    """Savings to investment; not a number for the base itself."""
    adjusted_return: Array
    simple_payback: Array
    """Of the first cost over the base's, by energy and upkeep saved [years]."""
    discounted_payback: Array
    energy_payback: Array
    """First cost over the base's by the first year's energy saved alone [years]."""


def money_of(base: Flows, other: Flows, rate: float) -> Money:
    """Compare two alternatives by NIST Handbook 135 (ASTM E917, E964, E1057, E1121)."""
    years = other.total.shape[-1] - 1
    cost = present_value(other.total, rate)
    saved = (base.energy + base.upkeep) - (other.energy + other.upkeep)
    more = other.investment - base.investment
    first = more[..., 0]
    gained = present_value(saved, rate)
    invested = present_value(more, rate)
    ratio = savings_to_investment(gained, invested)
    energy = (base.energy - other.energy)[..., 1]
    return Money(
        cost,
        annual_worth(cost, rate, years),
        present_value(base.total, rate) - cost,
        ratio,
        adjusted_return(np.where(np.isfinite(ratio), ratio, np.nan), years, rate),
        simple_payback(first, saved),
        discounted_payback(first, saved, rate),
        _level(first, energy),
    )


def _level(cost: Array, saving: Array) -> Array:
    """Cost over saving; none where there is no cost, never where there is no saving."""
    with np.errstate(divide="ignore", invalid="ignore"):
        years = np.where(saving > 0, cost / np.where(saving > 0, saving, 1.0), np.inf)
    return np.where(cost <= 0, 0.0, years)
