"""What holds for any pane."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sashwright.physics.glass_strength import (
    MINIMUM_MM,
    MODULUS,
    POISSON,
    deflection,
    load_resistance,
    load_resistance_measured,
    stress_index,
)
from sashwright.physics.plates import bend, small_deflection

SIDES = st.floats(0.1, 2.4)
NOMINALS = st.sampled_from(sorted(MINIMUM_MM))


@given(short=SIDES, long=SIDES, nominal=NOMINALS, larger=st.floats(1.001, 3.0))
def test_a_larger_pane_of_the_same_shape_carries_less(
    short: float, long: float, nominal: float, larger: float
) -> None:
    small, large = load_resistance(
        np.array([short, short * larger]), np.array([long, long * larger]), nominal
    )
    assert large < small


@given(short=SIDES, stretch=st.floats(1.0, 20.0), more=st.floats(1.001, 2.0), nominal=NOMINALS)
def test_a_longer_pane_carries_less(
    short: float, stretch: float, more: float, nominal: float
) -> None:
    long = short * stretch
    one, other = load_resistance(short, np.array([long, long * more]), nominal)
    # The table is joined from straight pieces: a thousandth.
    assert other < one * 1.001


def test_a_wider_pane_of_the_same_length_may_carry_more() -> None:
    """Thin glass 1.92 m long: a membrane starts to bear. The plate itself says so, without the table."""
    sides, t = np.array([0.64, 0.72]), 0.00216
    narrow, wide = load_resistance(sides, 1.92, 2.5)
    assert 1.02 < wide / narrow < 1.08
    # Risk of both under the one pressure: of B all but the exponential and the areas is alike.
    risks = []
    for short in sides:
        load = narrow * (1.92 * short) ** 2 / (MODULUS * t**4)
        (bent,) = bend(1.92 / short, [load], poisson=POISSON, terms=8)
        risks.append(stress_index(bent) - 6 * np.log(1.92 * short))
    assert risks[1] < risks[0]


@given(short=SIDES, long=SIDES, thin=st.floats(0.0015, 0.012), more=st.floats(1.001, 2.0))
def test_thicker_glass_carries_more(short: float, long: float, thin: float, more: float) -> None:
    one, other = load_resistance_measured(short, long, np.array([thin, thin * more]))
    assert other > one


@given(short=SIDES, long=SIDES, nominal=NOMINALS, longer=st.floats(1.001, 1e6))
def test_lasting_loads_and_fewer_breaks_cost(
    short: float, long: float, nominal: float, longer: float
) -> None:
    gust = load_resistance(short, long, nominal)
    assert load_resistance(short, long, nominal, duration_s=3 * longer) < gust
    assert load_resistance(short, long, nominal, breaks_per_1000=1) < gust


@given(short=SIDES, long=SIDES, nominal=NOMINALS)
def test_sides_in_either_order(short: float, long: float, nominal: float) -> None:
    assert load_resistance(short, long, nominal) == load_resistance(long, short, nominal)


@given(short=SIDES, ratio=st.floats(1.0, 4.99), t=st.floats(0.002, 0.012))
def test_sag_rises_with_pressure(short: float, ratio: float, t: float) -> None:
    pressure = np.geomspace(1.0, 2e4, 200)
    long = short * ratio
    sag = deflection(short, long, t, pressure)
    assert np.all(np.diff(sag) >= -1e-12 * t)
    small = small_deflection(short, long, t, pressure, modulus=MODULUS, poisson=POISSON)
    assert np.all(sag <= small * (1 + 1e-12))
    assert deflection(short, long, t, -500.0) == deflection(long, short, t, 500.0)


def test_light_loads_are_in_proportion() -> None:
    """Of thick small panes, far below the table: B goes with q to the 7th."""
    one = load_resistance_measured(0.1, 0.12, 0.02)
    rare = load_resistance_measured(0.1, 0.12, 0.02, breaks_per_1000=0.8)
    risk = np.log1p(-0.0008) / np.log1p(-0.008)
    assert rare / one == pytest.approx(risk ** (1 / 7), rel=1e-9)


def test_arrays_give_what_single_numbers_give() -> None:
    sides = np.array([[0.3, 0.6], [0.9, 1.2]])
    all_at_once = load_resistance(sides, 0.8, 3.0)
    assert all_at_once.shape == (2, 2)
    assert isinstance(load_resistance(0.3, 0.8, 3.0), float)
    for at in np.ndindex(2, 2):
        assert all_at_once[at] == pytest.approx(load_resistance(sides[at], 0.8, 3.0))


def test_refusals() -> None:
    with pytest.raises(ValueError, match=r"expected one of 2\.5"):
        load_resistance(0.5, 0.5, 3.5)
    with pytest.raises(ValueError, match="side or thickness"):
        load_resistance(0.0, 0.5, 3.0)
    with pytest.raises(ValueError, match="breaks of 1000"):
        load_resistance(0.5, 0.5, 3.0, breaks_per_1000=0)
    with pytest.raises(ValueError, match="load of 0 s"):
        load_resistance(0.5, 0.5, 3.0, duration_s=0)
