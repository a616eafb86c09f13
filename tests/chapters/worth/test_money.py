"""Renewals by lives, what is left at the end, and the measures of an alternative beside the base."""

from __future__ import annotations

import numpy as np
import pytest

from sashwright.chapters.worth.carbon import Carbon, carbon_payback
from sashwright.chapters.worth.money import (
    Flows,
    due,
    left_at_end,
    measure_flows,
    money_of,
)
from sashwright.physics.economics import present_value


@pytest.mark.parametrize(
    ("life", "years", "when"),
    [
        (7.0, 30, [7, 14, 21, 28]),
        (20.0, 30, [20]),
        (10.0, 30, [10, 20]),
        (30.0, 30, []),
        (2.5, 10, [3, 5, 8]),
        (1.5, 6, [2, 3, 5]),
        (0.4, 3, [1, 2]),
    ],
)
def test_renewals_fall_due_when_a_life_is_over_but_not_in_the_last_year(
    life: float, years: int, when: list[int]
) -> None:
    assert np.flatnonzero(due(np.array(life), years)).tolist() == when


@pytest.mark.parametrize(
    ("life", "years", "share"),
    [(20.0, 30, 0.5), (30.0, 30, 0.0), (40.0, 30, 0.25), (10.0, 30, 0.0)],
)
def test_what_is_left_at_the_end_is_the_share_of_the_last_life(
    life: float, years: int, share: float
) -> None:
    assert left_at_end(np.array(life), years) == pytest.approx(share)


def test_lives_in_many_draws_are_those_of_each() -> None:
    lives = np.array([3.3, 7.0, 12.9, 50.0])
    together = due(lives, 40)
    for life, row in zip(lives, together, strict=True):
        assert (row == due(np.array(life), 40)).all()


def test_upkeep_begins_later_and_leaves_nothing() -> None:
    flows = measure_flows(np.array(60.0), np.array(7.0), 30, now=False)
    assert flows[0] == 0
    assert flows.sum() == 240


def test_an_alternative_that_is_the_base_saves_nothing() -> None:
    flows = Flows(np.zeros((1, 31)), np.full((1, 31), 5.0), np.full((1, 31), 40.0))
    found = money_of(flows, flows, 0.03)
    assert found.net_savings == 0
    assert found.simple_payback == 0
    assert np.isnan(found.ratio)
    assert found.present_cost == pytest.approx(present_value(flows.total, 0.03))


def test_a_saving_that_is_none_never_pays_back() -> None:
    base = Flows(np.zeros((1, 11)), np.zeros((1, 11)), np.full((1, 11), 10.0))
    dear = np.zeros((1, 11))
    dear[0, 0] = 100
    other = Flows(dear, np.zeros((1, 11)), np.full((1, 11), 12.0))
    found = money_of(base, other, 0.03)
    assert np.isinf(found.simple_payback)
    assert np.isinf(found.energy_payback)


@pytest.mark.parametrize(
    ("made", "a_year", "years"),
    [(114.0, 77.9, 114 / 22.1), (0.0, 70.0, 0.0), (50.0, 101.0, np.inf)],
)
def test_carbon_pays_back_by_what_is_burnt_less(made: float, a_year: float, years: float) -> None:
    base = Carbon(0.0, 0.0, 100.0, 0.0, 0.0, 0.0)
    other = Carbon(made, 0.0, a_year, 0.0, 0.0, 0.0)
    assert carbon_payback(base, other) == pytest.approx(years)
