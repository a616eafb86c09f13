"""Air exchange of a house: signs, shapes, and what more wind, warmth and shelter do."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sashwright.physics.infiltration import (
    SHIELDINGS,
    TERRAINS,
    Leaks,
    Shielding,
    basic_infiltration,
    enhanced_in_full,
    enhanced_infiltration,
    wind_at,
)

differences = st.floats(0.0, 60.0)
winds = st.floats(0.0, 25.0)
storeys = st.integers(1, 3)
shieldings = st.sampled_from(SHIELDINGS)


@given(differences, differences, winds, winds, storeys, shieldings)
def test_more_wind_and_more_warmth_drive_more_air(
    warm: float, more: float, wind: float, gust: float, floors: int, shielding: Shielding
) -> None:
    def basic(d: float, w: float) -> float:
        return basic_infiltration(0.05, d, w, storeys=floors, shielding=shielding)

    def enhanced(d: float, w: float) -> float:
        return enhanced_infiltration(0.05, 0.65, d, w, storeys=floors, shielding=shielding)

    for model in (basic, enhanced):
        assert model(warm, wind) <= model(warm + more, wind + gust)
        # Warmth to either side drives alike.
        assert model(-warm, wind) == model(warm, wind)


@given(differences, st.floats(0.5, 25.0), storeys)
def test_more_shelter_lets_less_through(warm: float, wind: float, floors: int) -> None:
    for flue in (False, True):
        flows = [
            enhanced_infiltration(0.05, 0.65, warm, wind, storeys=floors, shielding=each, flue=flue)
            for each in SHIELDINGS
        ]
        assert flows == sorted(flows, reverse=True)
    basic = [
        basic_infiltration(0.05, warm, wind, storeys=floors, shielding=each) for each in SHIELDINGS
    ]
    assert basic == sorted(basic, reverse=True)


def test_air_exchange_is_proportional_to_the_leaks() -> None:
    def at(coefficient: float) -> float:
        return enhanced_infiltration(coefficient, 0.65, 30.0, 4.0, storeys=2, shielding="moderate")

    assert at(0.06) == pytest.approx(2 * at(0.03), rel=1e-14)


def test_taller_than_the_tables_counts_as_three_storeys() -> None:
    def at(floors: int) -> float:
        return enhanced_infiltration(0.05, 0.65, 30.0, 4.0, storeys=floors, shielding="none")

    assert at(7) == at(3)
    assert at(0) == at(1)


def test_arrays() -> None:
    warm, wind = np.array([0.0, 10.0, 30.0]), np.array([0.0, 4.0, 2.0])
    flow = enhanced_infiltration(0.05, 0.65, warm, wind, storeys=2, shielding="light")
    assert flow.shape == (3,)
    assert flow[0] == 0.0
    one = enhanced_infiltration(0.05, 0.65, 30.0, 2.0, storeys=2, shielding="light")
    assert flow[2] == pytest.approx(one, rel=1e-14)


def test_wind_slows_toward_the_ground_and_over_rough_land() -> None:
    for terrain in TERRAINS:
        assert wind_at(5.0, 4.0, terrain) < wind_at(5.0, 8.0, terrain)
    at_eaves = [wind_at(5.0, 6.0, terrain) for terrain in ("city", "suburb", "open", "flat")]
    assert at_eaves == sorted(at_eaves)
    # At the station itself nothing changes.
    assert wind_at(5.0, 10.0, "open") == pytest.approx(5.0, rel=1e-14)


@given(st.floats(0.5, 0.9), st.floats(1.0, 40.0), st.floats(0.5, 12.0))
def test_the_full_model_joins_wind_and_warmth(n: float, warm: float, wind: float) -> None:
    def at(d: float, w: float) -> float:
        return enhanced_in_full(0.05, n, d, w, height=5.0, indoors=20.0, shelter=0.7)

    together, by_warmth, by_wind = at(warm, wind), at(warm, 0.0), at(0.0, wind)
    # Less than their sum, because both share the same leaks; not less than the square root's half.
    assert together < by_warmth + by_wind
    assert together > 0.8 * max(by_warmth, by_wind)


def test_a_crawl_space_takes_wind_from_the_floor() -> None:
    def at(leaks: Leaks) -> float:
        return enhanced_in_full(
            0.05, 0.67, 0.0, 5.0, height=5.0, indoors=20.0, shelter=0.7, leaks=leaks
        )

    # Its floor leaks stand in the wind's lee and its pressure: less wind drives the house.
    assert at(Leaks(foundation="crawl space")) < at(Leaks())
