"""What the site asks: how pressure goes with speed, height, ground, place on the wall and area."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sashwright.chapters.grade.pressure import (
    PLACEHOLDER,
    Pressure,
    ground_of,
    pressures_on,
    worst_of,
    zones_of,
)
from sashwright.window.check import HouseError
from sashwright.window.heights import FOUNDATION_RISE, STOREY
from sashwright.window.site import Site
from sashwright.window.spec import House
from tests.chapters.houses import house_of

FOOT = 0.3048
WINDOW = {"width": "36", "height": "60", "wall": "south"}
SPEED = {"wind_speed": "120 mph"}


def house(site: dict[str, Any], window: dict[str, Any] | None = None, **other: Any) -> House:
    return house_of({}, {**WINDOW, **(window or {})}, site=site, **other)


def asked(site: dict[str, Any], area: float = 1.4, **other: Any) -> Pressure:
    found = house({**SPEED, **site}, **other)
    pressure = worst_of(pressures_on(ground_of(found), found.windows[0], area))
    assert pressure is not None
    return pressure


@given(st.floats(15, 58), st.floats(0.2, 1.9), st.sampled_from(["ASCE 7-16", "ASCE 7-22"]))
@settings(max_examples=30)
def test_it_rises_with_the_height_of_the_roof(feet: float, more: float, standard: str) -> None:
    low = asked({"roof_height": f"{feet:.2f} ft", "standard": standard})
    high = asked({"roof_height": f"{feet + more:.2f} ft", "standard": standard})
    assert low.inward < high.inward
    assert low.outward > high.outward


def test_it_rises_with_speed_and_open_ground_and_falls_with_thin_air() -> None:
    tall = {"roof_height": "40 ft"}
    by_exposure = [asked({**tall, "exposure": e}).greatest for e in ("B", "C", "D")]
    assert by_exposure == sorted(by_exposure)
    assert asked({**tall, "wind_speed": "140 mph"}).greatest / asked(
        {**tall, "wind_speed": "120 mph"}
    ).greatest == pytest.approx((140 / 120) ** 2)
    assert asked({**tall, "elevation": "5000 ft"}).greatest < asked(tall).greatest
    assert asked({**tall, "enclosure": "partially enclosed"}).greatest > asked(tall).greatest
    assert asked({**tall, "roof_slope": 5}).greatest < asked(tall).greatest


def test_strength_level_is_the_whole_of_which_allowable_stress_takes_six_tenths() -> None:
    pressure = asked({"roof_height": "30 ft"})
    assert pressure.inward == pytest.approx(0.6 * pressure.strength_inward)
    assert pressure.outward == pytest.approx(0.6 * pressure.strength_outward)


def test_a_hill_is_worked_out_from_its_sizes() -> None:
    hill = {"kind": "ridge", "rise": "100 ft", "half_length": "200 ft"}
    by_hill = asked({"hill": hill}).greatest
    factor = ground_of(house({**SPEED, "hill": hill})).topography
    assert factor > 1.5
    assert by_hill == pytest.approx(asked({"topography": factor}).greatest)


def test_a_larger_thing_feels_no_more() -> None:
    areas = [asked({}, area).greatest for area in (0.1, 0.9, 1.0, 3.0, 60.0)]
    assert areas == sorted(areas, reverse=True)


# --- zones ----------------------------------------------------------------------------

LONG = {"south": {"faces": "S", "length": "50 ft"}, "east": {"faces": "E", "length": "40 ft"}}


@pytest.mark.parametrize(
    ("along", "walls", "least", "zones"),
    [
        # The edge zone of a house 40 ft wide is 4 ft: 10 % of its least side.
        ("5 ft", LONG, None, ("5",)),
        ("6 ft", LONG, None, ("4",)),
        ("45 ft", LONG, None, ("5",)),
        ("44 ft", LONG, None, ("4",)),
        (None, LONG, None, ("4", "5")),
        ("20 ft", {"south": {"faces": "S"}}, None, ("4", "5")),
        # Without the wall's length the left corner alone can tell that it is near.
        ("5 ft", {"south": {"faces": "S"}}, "40 ft", ("5",)),
        ("20 ft", {"south": {"faces": "S"}}, "40 ft", ("4", "5")),
    ],
)
def test_american_zones(
    along: str | None, walls: dict[str, Any], least: str | None, zones: tuple[str, ...]
) -> None:
    window = {} if along is None else {"along": along}
    site = SPEED if least is None else {**SPEED, "least_side": least}
    found = house({**site, "roof_height": "30 ft"}, window, walls=walls)
    assert zones_of(ground_of(found), found.windows[0]) == zones
    answers = pressures_on(ground_of(found), found.windows[0], 1.4)
    # The worst of them comes first, and counts.
    assert answers[0].zone == max(zones)


@pytest.mark.parametrize(
    ("along", "zone"), [("5 ft", "A"), ("20 ft", "B"), ("45 ft", "A"), (None, "A")]
)
def test_european_zones(along: str | None, zone: str) -> None:
    site = {
        "standard": "EN 1991-1-4", "wind_speed": "24 m/s", "terrain": "III", "roof_height": "26 ft",
    }  # fmt: skip
    window = {} if along is None else {"along": along}
    found = house(site, window, walls=LONG, air={"eaves": "20 ft"})
    answers = pressures_on(ground_of(found), found.windows[0], 1.4)
    assert answers[0].zone == zone
    assert len(answers) == (3 if along is None else 1)
    # EN 1991-1-4, table 7.1: +0.8 to +1.0 before the wind; partial factor 1.5.
    assert 0.7 <= answers[0].inward_coefficient <= 1.0
    assert answers[0].strength_inward == pytest.approx(1.5 * answers[0].inward)
    assert answers[0].outward < 0 < answers[0].inward


def test_the_ridge_stands_as_far_over_the_mean_as_the_eaves_below() -> None:
    ground = ground_of(house({"roof_height": "26 ft"}, air={"eaves": "20 ft"}))
    assert ground.ridge == pytest.approx(32 * FOOT)


# --- heights and gaps -----------------------------------------------------------------


def test_height_from_the_eaves_and_the_slope() -> None:
    walls = {"south": {"faces": "S", "length": "40 ft"}, "east": {"faces": "E", "length": "30 ft"}}
    found = ground_of(house({"roof_slope": "12 in 12"}, air={"eaves": "20 ft"}, walls={
        **walls, "north": {"faces": "N", "length": "40 ft"}}))  # fmt: skip
    # Half of a rise of 15 ft.
    assert found.roof_height == pytest.approx(27.5 * FOOT)
    assert not found.roof_known
    plain = ground_of(house({}, {"storey": 2}))
    assert plain.eaves == pytest.approx(FOUNDATION_RISE + 2 * STOREY)
    assert plain.roof_height > plain.eaves


def test_nothing_without_a_speed_and_nothing_above_sixty_feet() -> None:
    still = house({})
    assert pressures_on(ground_of(still), still.windows[0], 1.4) == ()
    tall = house({**SPEED, "roof_height": "61 ft"})
    assert pressures_on(ground_of(tall), tall.windows[0], 1.4) == ()
    assert worst_of(()) is None


def test_a_site_that_says_nothing_has_no_speed() -> None:
    site = Site()
    assert site.wind_speed is None
    assert set(PLACEHOLDER) == {"ASCE 7-22", "ASCE 7-16", "EN 1991-1-4"}


@pytest.mark.parametrize(
    ("written", "expected"),
    [("400 mph", "m/s"), ("fast", "a wind speed such as 115 mph"), (-5, "wind speed")],
)
def test_a_speed_that_cannot_be(written: Any, expected: str) -> None:
    with pytest.raises(HouseError) as refused:
        house({"wind_speed": written})
    (problem,) = refused.value.problems
    assert problem.field == "site.wind_speed"
    assert expected in problem.expected


@pytest.mark.parametrize(
    ("written", "units", "speed"),
    [("115 mph", "us", 51.4096), (115, "us", 51.4096), (51.4, "metric", 51.4), ("185 km/h", "us", 51.3889)],
)  # fmt: skip
def test_a_speed_in_either_system(written: Any, units: str, speed: float) -> None:
    window = {"width": "900 mm", "height": "1500 mm"}
    found = house_of({}, window, site={"wind_speed": written}, units=units)
    assert found.site.wind_speed == pytest.approx(speed, abs=1e-4)
