"""Places: found by name and by coordinates, read from the package and from a shop's file."""

from __future__ import annotations

import time
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sashwright.knowledge import climate
from sashwright.knowledge.climate import Near, Spot
from sashwright.knowledge.climate_load import TMY3_CREDIT, gazetteer
from sashwright.knowledge.tables import KnowledgeError

PLACES = gazetteer()

YARD = """\
[place.yard]
name = "The shop's yard"
region = "ME"
aliases = ["yard"]
latitude = 43.66
longitude = -70.26
elevation_ft = 50
utc_offset_h = -5
temperature_max_F = [31, 34, 41, 52, 63, 73, 79, 78, 69, 58, 47, 36]
temperature_min_F = [14, 16, 25, 34, 45, 54, 60, 59, 51, 40, 31, 21]
humidity_pct = [66, 65, 66, 65, 69, 73, 74, 75, 75, 72, 71, 69]
global_kwh_m2_day = [1.9, 2.8, 4.0, 4.8, 5.6, 6.2, 6.1, 5.4, 4.2, 2.8, 1.8, 1.5]
wind_mph = 9
period = "2005 to 2024"
period_end = 2024
source = "weather station behind the shop"
"""


def shop_file(folder: Path, text: str) -> Path:
    file = folder / "places.toml"
    file.write_text(text, encoding="utf-8")
    return file


def refusal(folder: Path, text: str) -> str:
    with pytest.raises(KnowledgeError) as refused:
        gazetteer(shop_file(folder, text))
    return str(refused.value)


# --- by name -----------------------------------------------------------------------


@pytest.mark.parametrize(
    "words",
    [
        "Portland, ME",
        "Portland ME",
        "portland maine",
        "PORTLAND, MAINE",
        " portland  me ",
        "726060",
    ],
)
def test_many_ways_to_say_portland(words: str) -> None:
    assert PLACES.find(words).key == "726060"


@pytest.mark.parametrize(
    ("words", "key"),
    [
        ("portland or", "726980"),
        ("Boston", "725090"),
        ("Chicago IL", "725300"),
        ("Denver", "725650"),
        ("St. Louis, MO", "724340"),
        ("Saint Louis", "724340"),
        ("Kansas City", "724460"),
        ("new york", "744860"),
        ("Washington DC", "724030"),
        ("Mt Washington", "726130"),
        ("Burlington, Vermont", "726170"),
        ("O'Hare", "725300"),
        ("London, England", "gb-london"),
        ("Sheffield", "gb-sheffield"),
        ("Glasgow, Scotland", "gb-glasgow"),
    ],
)
def test_names(words: str, key: str) -> None:
    assert PLACES.find(words).key == key


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (
            "Portland",
            "'Portland International Jetport, ME' or 'Portland International Airport, OR'",
        ),
        ("Springfield", "Add the state."),
        ("Maine", "expected one place"),
        ("Bostn MA", "did you mean 'Boston Logan International Airport, MA'"),
        ("Atlnta", "'Atlanta Hartsfield International Airport, GA'"),
        ("Xyzzy", "expected the name of a place, a station number or coordinates."),
    ],
)
def test_doubtful_names_are_answered_in_one_sentence(words: str, said: str) -> None:
    with pytest.raises(KnowledgeError) as refused:
        PLACES.find(words)
    message = str(refused.value)
    assert message.startswith(f"Found {words!r}, expected")
    assert said in message
    assert "\n" not in message


def test_every_american_station_is_found_by_its_full_name() -> None:
    for spot in PLACES.spots.values():
        assert PLACES.search(spot.full_name)[0].full_name == spot.full_name


def test_search_lists_what_find_chooses_from() -> None:
    found = [spot.full_name for spot in PLACES.search("portland")]
    assert found[:2] == ["Portland International Jetport, ME", "Portland International Airport, OR"]
    assert len(found) == 4


# --- by coordinates ----------------------------------------------------------------


@pytest.mark.parametrize(
    ("words", "point"),
    [
        ("43.65, -70.30", (43.65, -70.30)),
        ("43.65 -70.3", (43.65, -70.3)),
        ("43.65 N 70.3 W", (43.65, -70.3)),
        ("43.65°N, 70.3°W", (43.65, -70.3)),
        ("33.9s; 18.4e", (-33.9, 18.4)),
        ("726060", None),
        ("Portland, ME", None),
    ],
)
def test_coordinates(words: str, point: tuple[float, float] | None) -> None:
    assert climate.coordinates(words) == point


def test_the_nearest_stations_come_in_order() -> None:
    near = PLACES.near(43.65, -70.30, elevation=120.0, count=3)
    assert near[0].spot.key == "726060"
    assert [each.distance for each in near] == sorted(each.distance for each in near)
    assert near[0].distance < 1000
    assert near[0].rise == near[0].spot.elevation - 120.0
    assert PLACES.find("43.65, -70.30").key == "726060"


def test_no_elevation_no_difference() -> None:
    assert PLACES.near(43.65, -70.30, count=1)[0].rise is None


@pytest.mark.parametrize("point", [(91.0, 0.0), (0.0, 181.0)])
def test_points_off_the_earth_are_refused(point: tuple[float, float]) -> None:
    with pytest.raises(KnowledgeError, match="expected -90 to 90 and -180 to 180 degrees"):
        PLACES.near(*point)


def spot(latitude: float, longitude: float) -> Spot:
    return Spot(
        key="x",
        name="X",
        region="",
        country="US",
        latitude=latitude,
        longitude=longitude,
        elevation=0.0,
        utc_offset=0.0,
    )


def test_distances_by_hand() -> None:
    """A quarter of the globe, a degree of the equator, and across the date line."""
    quarter = 6_371_008.8 * 3.141592653589793 / 2
    assert climate.distance(0, 0, spot(90, 0)) == pytest.approx(quarter)
    assert climate.distance(0, 0, spot(0, 90)) == pytest.approx(quarter)
    assert climate.distance(0, 179.5, spot(0, -179.5)) == pytest.approx(quarter / 90)


@given(st.floats(-90, 90), st.floats(-180, 180), st.floats(-90, 90), st.floats(-180, 180))
def test_distance_is_the_same_both_ways(a: float, b: float, c: float, d: float) -> None:
    there, back = climate.distance(a, b, spot(c, d)), climate.distance(c, d, spot(a, b))
    assert there == pytest.approx(back, abs=1e-3)
    assert 0 <= there <= 6_371_008.8 * 3.1415927


# --- what is shipped ----------------------------------------------------------------


def test_american_places_say_where_they_come_from() -> None:
    place = PLACES.find("Portland ME")
    assert place.credit == TMY3_CREDIT
    assert "National Renewable Energy Laboratory" in place.source
    assert "today's normals are warmer" in place.period
    assert place.status == "published"


def test_every_place_can_be_read() -> None:
    assert len(PLACES.spots) == 1019 + 3
    for key in PLACES.spots:
        place = PLACES.place(key)
        assert place.key == key
        assert len(place.source) > 10
        assert len(place.period) > 5
        assert len(place.credit) > 10
        for month in place.months:
            assert month.temperature_min <= month.temperature_max
            assert month.wind_shares is None or sum(month.wind_shares) <= 1.005


def test_doubtful_elevations_are_told() -> None:
    assert "its pressures are those of about 360 m" in PLACES.find("Medford OR").note
    assert PLACES.find("Portland ME").note == ""


def test_a_place_is_found_and_read_quickly() -> None:
    """Well under 50 ms once the table is unpacked, so that a command may look a place up."""
    fresh = gazetteer()
    start = time.process_time()
    fresh.find("Bangor, Maine")
    assert time.process_time() - start < 0.05


# --- a shop's own --------------------------------------------------------------------


def test_a_shops_own_place(tmp_path: Path) -> None:
    places = gazetteer(shop_file(tmp_path, YARD))
    place = places.find("yard")
    assert place.status == "shop"
    assert place.elevation == pytest.approx(15.24)
    january = place.months[0]
    assert january.temperature_max == pytest.approx(-0.5556, abs=1e-4)
    assert january.temperature is None
    assert january.humidity == pytest.approx(0.66)
    assert january.wind_speed == pytest.approx(4.0234, abs=1e-4)
    assert january.global_horizontal == pytest.approx(1900 / 24)
    nearest: Near = places.near(43.66, -70.26, count=1)[0]
    assert nearest.spot.key == "yard"
    # The package's own stay as they were.
    assert places.find("Boston").key == "725090"
    assert "yard" not in PLACES.spots


def test_a_wind_rose(tmp_path: Path) -> None:
    rose = "wind_shares_pct = [5, 5, 10, 10, 15, 20, 20, 10]\n"
    speeds = "wind_speeds_mph = [6, 6, 6, 8, 8, 9, 10, 10]\n"
    months = gazetteer(shop_file(tmp_path, YARD + rose + speeds)).find("yard").months
    assert months[3].wind_shares == pytest.approx((0.05, 0.05, 0.1, 0.1, 0.15, 0.2, 0.2, 0.1))
    half = refusal(tmp_path, YARD + rose)
    assert "found half a wind rose, expected both its shares and its speeds" in half
    much = refusal(tmp_path, YARD + rose.replace("5, 5,", "50, 50,") + speeds)
    assert "add up to 100 % at most" in much


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("elevation_ft = 50", "", "elevation: found nothing, expected it"),
        ("elevation_ft = 50", 'elevation_ft = "50"', "elevation_ft: found '50', expected a number"),
        ("31, 34, 41,", "31, 34,", "expected 12 numbers, January to December"),
        ("humidity_pct = [66", "humidity_pct = [660", "found a humidity of 660 %"),
        ("humidity_pct", "humidty_pct", "expected one such as humidity_pct"),
        ("[31, 34", "[3, 34", "expected them in rising order"),
        ("wind_mph = 9", "wind_mph = 9\nwind_m_s = 4", "expected wind_speed once, in one unit"),
        ("latitude = 43.66", "latitude = 143.66", "found latitude 143.66"),
        ("period_end = 2024", 'period_end = "now"', "period_end: found 'now', expected a year"),
        ('region = "ME"', 'region = "ME"\nstatus = "sure"', "expected one of published"),
    ],
)
def test_mistakes_are_told_with_their_place(tmp_path: Path, old: str, new: str, said: str) -> None:
    assert old in YARD
    message = refusal(tmp_path, YARD.replace(old, new))
    assert "places.toml, [place.yard]" in message
    assert said in message


def test_all_mistakes_at_once(tmp_path: Path) -> None:
    text = YARD.replace("latitude = 43.66\n", "").replace('source = "', 'sauce = "')
    assert refusal(tmp_path, text).count("\n") == 2


def test_other_files_are_refused(tmp_path: Path) -> None:
    assert "found no readable TOML" in refusal(tmp_path, "not toml")
    assert "found wood, expected [place.my-own]" in refusal(tmp_path, "[wood.oak]\nx = 1")
    with pytest.raises(KnowledgeError, match="found no readable text file"):
        gazetteer(tmp_path / "missing.toml")
