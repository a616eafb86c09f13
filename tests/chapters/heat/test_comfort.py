"""What a person before a cold window feels: bounds, limits, and how it all hangs together."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sashwright.chapters.heat.comfort import (
    FAR,
    NEAR,
    asymmetry,
    bothered_by_cool_wall,
    comfort_of,
    downdraught,
    draught_rating,
    facing,
)


@given(st.floats(0.2, 3), st.floats(0.2, 3), st.floats(0.1, 5))
def test_one_sees_no_more_than_everything(width: float, height: float, distance: float) -> None:
    factor = facing(width, height, distance)
    assert 0 < factor < 1
    assert facing(height, width, distance) == pytest.approx(factor)
    assert facing(width * 1.2, height, distance) > factor


def test_an_endless_wall_is_all_that_one_sees() -> None:
    assert facing(1e4, 1e4, 1.0) == pytest.approx(1.0, abs=1e-3)
    # Far off, a small window is its area over pi times the distance squared.
    assert facing(0.1, 0.1, 5.0) == pytest.approx(0.01 / (3.14159265 * 25), rel=1e-3)


@given(st.floats(-20, 20), st.floats(0, 1))
def test_asymmetry_is_at_most_the_difference(face: float, factor: float) -> None:
    found = asymmetry(face, 20.0, factor)
    assert -1e-9 <= found <= 20 - face + 1e-9


def test_an_endless_cold_wall_makes_all_of_it() -> None:
    assert asymmetry(5.0, 20.0, 1.0) == pytest.approx(15.0)
    assert asymmetry(20.0, 20.0, 0.7) == pytest.approx(0.0, abs=1e-9)


@given(st.floats(0.1, 40), st.floats(0.3, 3))
def test_air_is_fastest_at_the_wall_and_slows_across_the_floor(below: float, height: float) -> None:
    speeds = [downdraught(below, height, x) for x in (0.1, NEAR, 1.0, FAR, 3.0)]
    assert all(far <= near * 1.005 for near, far in itertools.pairwise(speeds))


def test_the_three_reaches_meet() -> None:
    for x in (NEAR, FAR):
        before, after = (downdraught(20, 1.5, x + step) for step in (-1e-9, 1e-9))
        assert before == pytest.approx(after, rel=0.03)


def test_a_warm_face_makes_no_draught() -> None:
    found = comfort_of(22.0, 22.0, 20.0, (0.8, 1.4), 1.4)
    assert found.speed == found.draught == found.bothered == 0.0


@given(st.floats(18, 26), st.floats(0, 0.5))
def test_nobody_is_bothered_more_by_slower_air(air: float, speed: float) -> None:
    assert 0 <= draught_rating(air, speed) <= draught_rating(air, speed + 0.05) <= 100


def test_more_people_mind_a_colder_wall() -> None:
    shares = [bothered_by_cool_wall(difference) for difference in (0, 5, 10, 15, 25)]
    assert shares == sorted(shares)
    assert shares[-1] == shares[-2]  # the curve ends at 15 K
