"""Draws: their shapes, that they repeat, and what matters among them."""

from __future__ import annotations

import numpy as np
import pytest

from sashwright.chapters.worth.chance import Terms, range_of, spread, weights_of
from sashwright.chapters.worth.energy import Range
from sashwright.chapters.worth.inputs import Input, ranks, triangle
from tests.chapters.worth.towns import model

EVEN = (np.arange(20_000) + 0.5) / 20_000


def test_triangles_have_their_mean_and_variance() -> None:
    found = triangle(EVEN, 2.0, 3.0, 7.0)
    assert found.mean() == pytest.approx((2 + 3 + 7) / 3, rel=1e-4)
    variance = (4 + 9 + 49 - 6 - 14 - 21) / 18
    assert found.var() == pytest.approx(variance, rel=1e-3)
    assert found.min() >= 2
    assert found.max() <= 7


@pytest.mark.parametrize(("low", "likely", "high"), [(1, 1, 1), (1, 1, 4), (1, 4, 4)])
def test_triangles_may_lean_or_have_no_width(low: float, likely: float, high: float) -> None:
    found = triangle(EVEN, low, likely, high)
    assert np.isfinite(found).all()
    assert found.mean() == pytest.approx((low + likely + high) / 3, rel=1e-3)


def test_each_input_is_spread_evenly_and_the_same_seed_gives_the_same() -> None:
    inputs = [Input("a", "a", 0, 1, 2, "-"), Input("b", "b", 0, 1, 2, "-")]
    one, again, other = (ranks(inputs, 100, seed) for seed in (1, 1, 2))
    assert (one["a"] == again["a"]).all()
    assert (one["a"] != other["a"]).any()
    assert (np.floor(np.sort(one["b"]) * 100) == np.arange(100)).all()


def test_leakage_keeps_to_its_range() -> None:
    found = spread(EVEN, Range(1.0, 2.0, 8.0))
    assert found.min() >= 1
    assert found.max() <= 8
    assert spread(EVEN, Range(0.0, 0.0, 0.0)).max() == 0


def test_shares_find_the_input_that_matters() -> None:
    inputs = [Input(name, name, -1, 0, 1, "-") for name in "abc"]
    terms = Terms.drawn(inputs, ranks(inputs, 4000, 3))
    result = 3 * terms.values["a"] - 1 * terms.values["b"]
    first, second, third = weights_of(inputs, terms, result)
    assert [first.name, second.name, third.name] == ["a", "b", "c"]
    # Ranks follow the figures so nearly that the shares are those of variance, 9 to 1.
    assert first.share == pytest.approx(0.9, abs=0.02)
    assert second.correlation < 0 < first.correlation
    assert first.at_low < 0 < first.at_high
    assert first.share + second.share + third.share == pytest.approx(1.0)


def test_ranges_hold_what_never_comes() -> None:
    values = np.array([1.0] * 80 + [np.inf] * 20)
    assert range_of(values) == (1.0, 1.0, np.inf)


def test_the_house_in_draws() -> None:
    found = model(draws=200)
    assert sum(found.wins.values()) == pytest.approx(1.0)
    for key, drawn in found.drawn.items():
        low, _, high = range_of(drawn.money.present_cost)
        assert low < found.cost(key) < high, key
    assert sum(each.share for each in found.weights) == pytest.approx(1.0)
    assert found.weights[0].share > 0.1
