"""What holds for wind on any wall."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sashwright.physics.wind import (
    ALLOWABLE,
    Edition,
    Exposure,
    Site,
    Terrain,
    WallZone,
    Zone,
    edge_zone_width,
    effective_area,
    low_rise_wall_pressure,
    peak_velocity_pressure_en,
    topographic_factor,
    velocity_pressure,
    wall_coefficient_en,
    wall_coefficients,
)

EXPOSURES = st.sampled_from(["B", "C", "D"])
EDITIONS = st.sampled_from(["7-16", "7-22"])
ZONES = st.sampled_from([4, 5])
HEIGHTS = st.floats(2.0, 18.0)
AREAS = st.floats(0.1, 60.0)


@given(exposure=EXPOSURES, edition=EDITIONS, low=HEIGHTS, high=HEIGHTS, speed=st.floats(30, 90))
def test_higher_is_windier(
    exposure: Exposure, edition: Edition, low: float, high: float, speed: float
) -> None:
    low, high = sorted((low, high))
    q = velocity_pressure(
        Site(
            wind_speed=speed, exposure=exposure, roof_height=np.array([low, high]), edition=edition
        )
    )
    assert q[0] <= q[1]
    if high <= 4.572:
        # Below 15 ft all is as at 15 ft.
        assert q[0] == q[1]
    elif high > 1.001 * low:
        assert q[0] < q[1]


@given(edition=EDITIONS, height=HEIGHTS)
def test_open_country_is_windier(edition: Edition, height: float) -> None:
    q = [
        velocity_pressure(
            Site(wind_speed=50.0, exposure=exposure, roof_height=height, edition=edition)
        )
        for exposure in ("B", "C", "D")
    ]
    assert q[0] < q[1] < q[2]


@given(small=AREAS, large=AREAS)
def test_small_areas_and_corners_bear_more(small: float, large: float) -> None:
    small, large = sorted((small, large))
    areas = np.array([small, large])
    for zone in (4, 5):
        push, pull = wall_coefficients(areas, zone)
        assert push[0] >= push[1]
        assert pull[0] <= pull[1]
    assert np.all(wall_coefficients(areas, 5)[1] <= wall_coefficients(areas, 4)[1] + 1e-12)


@given(exposure=EXPOSURES, zone=ZONES, area=AREAS, height=HEIGHTS)
def test_a_house_that_opens_bears_more(
    exposure: Exposure, zone: Zone, area: float, height: float
) -> None:
    site = Site(wind_speed=60.0, exposure=exposure, roof_height=height)
    shut = low_rise_wall_pressure(site=site, area=area, zone=zone)
    burst = low_rise_wall_pressure(site=site, area=area, zone=zone, enclosure="partially enclosed")
    assert burst.inward > shut.inward > 0 > shut.outward > burst.outward
    strength = low_rise_wall_pressure(site=site, area=area, zone=zone, level="LRFD")
    assert ALLOWABLE * strength.inward == pytest.approx(shut.inward)
    flat = low_rise_wall_pressure(site=site, area=area, zone=zone, roof_slope=5.0)
    assert flat.inward < shut.inward
    steep = low_rise_wall_pressure(site=site, area=area, zone=zone, roof_slope=30.0)
    assert steep.inward == shut.inward


@given(exposure=EXPOSURES, factor=st.floats(1.0, 3.0))
def test_square_of_the_speed_and_hills(exposure: Exposure, factor: float) -> None:
    plain = velocity_pressure(Site(wind_speed=40.0, exposure=exposure, roof_height=9.0))
    faster = velocity_pressure(Site(wind_speed=40.0 * factor, exposure=exposure, roof_height=9.0))
    hilly = velocity_pressure(
        Site(wind_speed=40.0, exposure=exposure, roof_height=9.0, topography=factor**2)
    )
    assert faster == pytest.approx(factor**2 * plain)
    assert hilly == pytest.approx(faster)


@given(
    rise=st.floats(5, 200),
    length=st.floats(10, 800),
    near=st.floats(0, 500),
    far=st.floats(0, 500),
    downwind=st.booleans(),
)
def test_hills_fade(rise: float, length: float, near: float, far: float, downwind: bool) -> None:
    distance = np.array(sorted((near, far)))
    factor = topographic_factor(
        "ridge",
        "C",
        rise=rise,
        half_length=length,
        distance=distance,
        height=8.0,
        downwind=downwind,
    )
    assert factor[0] >= factor[1] >= 1.0


def test_gentle_hills_do_not_count() -> None:
    gentle: dict[str, Any] = {"distance": 0.0, "height": 5.0, "downwind": True}
    assert topographic_factor("hill", "C", rise=19, half_length=100, **gentle) == 1.0
    assert topographic_factor("hill", "B", rise=15, half_length=40, **gentle) == 1.0
    assert topographic_factor("hill", "C", rise=15, half_length=40, **gentle) > 1.2


def test_arrays_give_what_single_numbers_give() -> None:
    speeds, areas = np.array([45.0, 60.0]), np.array([0.8, 6.0])
    site = Site(wind_speed=speeds, exposure="C", roof_height=7.0, elevation=300.0)
    both = low_rise_wall_pressure(site=site, area=areas, zone=5)
    for i in (0, 1):
        one = low_rise_wall_pressure(
            site=Site(wind_speed=speeds[i], exposure="C", roof_height=7.0, elevation=300.0),
            area=float(areas[i]),
            zone=5,
        )
        assert isinstance(one.outward, float)
        assert both.outward[i] == pytest.approx(one.outward)


def test_sizes() -> None:
    # 36 by 60 in is more than a third of its length wide; a slit of 1.5 m counts as 0.5 m wide.
    assert effective_area(1.524, 0.9144) == pytest.approx(1.524 * 0.9144)
    assert effective_area(1.5, 0.2) == pytest.approx(0.75)
    # A house 10 m wide and 6 m high; one of 30 m, 2 m high; a small one.
    assert edge_zone_width(10.0, 6.0) == pytest.approx(1.0)
    assert edge_zone_width(30.0, 2.0) == pytest.approx(1.2)
    assert edge_zone_width(5.0, 6.0) == pytest.approx(0.9144)


@pytest.mark.parametrize("speed", [0.0, -3.0, float("nan"), None])
def test_no_speed_is_guessed(speed: Any) -> None:
    with pytest.raises(ValueError, match="map of the local code"):
        velocity_pressure(Site(wind_speed=speed, exposure="B", roof_height=9.0))
    with pytest.raises(ValueError, match="map of the local code"):
        peak_velocity_pressure_en(basic_velocity=speed, terrain="II", height=9.0)


def test_refusals() -> None:
    good = Site(wind_speed=50.0, exposure="B", roof_height=9.0)
    with pytest.raises(ValueError, match="60 ft"):
        velocity_pressure(Site(wind_speed=50.0, exposure="B", roof_height=20.0))
    with pytest.raises(ValueError, match="an exposure: B, C, D"):
        velocity_pressure(Site(wind_speed=50.0, exposure="A", roof_height=9.0))  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="a zone: 4, 5"):
        low_rise_wall_pressure(site=good, area=1.0, zone=3)  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="area of zero"):
        low_rise_wall_pressure(site=good, area=0.0, zone=4)
    with pytest.raises(ValueError, match="200 m"):
        peak_velocity_pressure_en(basic_velocity=25.0, terrain="II", height=250.0)
    with pytest.raises(ValueError, match=r"table 7\.1 ends"):
        wall_coefficient_en(zone="D", height=30, depth=5, area=2)


@given(low=st.floats(1, 200), high=st.floats(1, 200))
def test_european_wind_rises(low: float, high: float) -> None:
    heights = np.array(sorted((low, high)))
    by_terrain: list[Terrain] = ["0", "I", "II", "III", "IV"]
    pressures = [
        peak_velocity_pressure_en(basic_velocity=25.0, terrain=each, height=heights)
        for each in by_terrain
    ]
    for each in pressures:
        assert each[0] <= each[1]
    for smooth, rough in pairwise(pressures):
        assert np.all(smooth > rough)


@given(
    zone=st.sampled_from(["A", "B", "C", "D", "E"]),
    slender=st.floats(0.05, 5.0),
    small=st.floats(0.1, 20),
    large=st.floats(0.1, 20),
)
def test_european_small_areas_bear_more(
    zone: WallZone, slender: float, small: float, large: float
) -> None:
    areas = np.array(sorted((small, large)))
    c = np.abs(wall_coefficient_en(zone=zone, height=slender, depth=1.0, area=areas))
    assert c[0] >= c[1] - 1e-12
