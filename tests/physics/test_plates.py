"""What holds for any plate."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sashwright.physics.plates import bend, small_coefficients, small_deflection, small_stress


@given(ratio=st.floats(1.0, 2.0))
@settings(max_examples=10)
def test_a_plate_stiffens(ratio: float) -> None:
    """The middle of a long one yields by 2 % first, as its ends hold it less."""
    loads = [1.0, 4.0, 16.0, 64.0, 256.0]
    bent = bend(ratio, loads, poisson=0.22, terms=4)
    each = [b.deflection / b.load for b in bent]
    assert all(after < before for before, after in pairwise(each))
    assert all(b.deflection > a.deflection for a, b in pairwise(bent))
    assert bent[0].weight.sum() == pytest.approx(1.0)


def test_straight_edges_bear_more() -> None:
    for ratio in (1.0, 2.0):
        (slipping,) = bend(ratio, [200.0], poisson=0.3, terms=6)
        (straight,) = bend(ratio, [200.0], poisson=0.3, terms=6, edges="straight")
        assert straight.deflection < slipping.deflection


def test_more_terms_change_little() -> None:
    """Deflection at once, stress by and by: under 1 % from 6 terms to 9 up to loads of some 500."""
    few, more = (bend(1.3, [10.0, 100.0, 500.0], poisson=0.22, terms=n) for n in (6, 9))
    for one, other in zip(few, more, strict=True):
        assert one.deflection == pytest.approx(other.deflection, rel=1e-3)
        assert one.stress == pytest.approx(other.stress, rel=0.01)


def test_a_load_does_not_depend_on_the_way_to_it() -> None:
    (at_once,) = bend(1.5, [800.0], poisson=0.22, terms=5)
    slowly = bend(1.5, list(np.linspace(20, 800, 12)), poisson=0.22, terms=5)[-1]
    assert at_once.deflection == pytest.approx(slowly.deflection, rel=1e-9)
    assert at_once.stress == pytest.approx(slowly.stress, rel=1e-9)


@given(ratio=st.floats(1.0, 50.0))
def test_coefficients_lie_between_square_and_strip(ratio: float) -> None:
    deflection, across, along = small_coefficients(ratio)
    assert 0.00406 < deflection < 5 / 384 + 1e-9
    assert 0.0368 < across < 1 / 8 + 1e-6
    assert -1e-9 < along < 0.0369


def test_no_load_no_sag() -> None:
    (bent,) = bend(1.0, [0.0], poisson=0.22, terms=3)
    assert bent.deflection == 0.0
    assert bent.stress == 0.0


def test_refusals() -> None:
    with pytest.raises(ValueError, match="long over short"):
        bend(0.8, [1.0], poisson=0.22)
    with pytest.raises(ValueError, match="loads that fall"):
        bend(1.0, [2.0, 1.0], poisson=0.22)
    with pytest.raises(ValueError, match="long side below"):
        small_deflection(1.0, 0.5, 0.003, 10.0, modulus=70e9, poisson=0.22)
    with pytest.raises(ValueError, match="zero or less"):
        small_stress(0.0, 0.5, 0.003, 10.0, poisson=0.22)
