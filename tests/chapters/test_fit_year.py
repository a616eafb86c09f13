"""The fit chapter: what follows for any window from air, paint, grain, wall and meter."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sashwright.chapters.fit import fit, fit_window, household_of
from sashwright.physics.daily import DailyClimate
from sashwright.window.resolve import place
from sashwright.window.spec import House, Wall
from tests.chapters.daily_climates import greensboro, waves
from tests.chapters.houses import KNOWLEDGE, PLAIN, house_of
from tests.window.strategies import houses

Document = Mapping[str, Any]
STATES = ("bare", "failed", "primed", "painted")
"""From the quickest to the slowest."""


def values(
    family: Document, climate: DailyClimate | None = None, window: Document = PLAIN, **asked: Any
) -> Any:
    (answer,) = fit(house_of(family, window), KNOWLEDGE, climate or waves(), **asked).windows
    return answer.values


def curve(found: Any, place: str, band: str = "usual") -> np.ndarray:
    return np.array(found["curves"]["clearance_mm"][place][band])


def moisture(found: Any, which: str = "lower", band: str = "usual") -> np.ndarray:
    return np.array(found["curves"]["moisture_pct"][which][band])


# --- shape --------------------------------------------------------------------------


def test_the_answer_is_plain_json() -> None:
    house = house_of({"strips": {"sides": "interlocking-rib"}}, PLAIN, {**PLAIN, "wall": "south"})
    answer = fit(house, KNOWLEDGE, greensboro(), today=45)
    document = json.loads(json.dumps(answer.to_dict()))
    assert document["chapter"] == "fit"
    assert [window["number"] for window in document["windows"]] == ["1", "2"]
    found = document["windows"][0]["values"]
    assert set(found["clearances"]) == {
        "upper.sides", "upper.faces", "upper.strip", "lower.sides", "lower.faces", "lower.strip",
        "rails", "meeting", "notch",
    }  # fmt: skip
    for curves in found["curves"].values():
        for band in curves.values():
            assert {name: len(band[name]) for name in band} == {
                "low": 365,
                "usual": 365,
                "high": 365,
            }


def test_the_summary_agrees_with_the_curves() -> None:
    found = values({}, greensboro(), today=45)
    for name, each in found["clearances"].items():
        usual = curve(found, name)
        assert each["least_mm"] == pytest.approx(usual.min(), abs=0.006)
        assert each["greatest_mm"] == pytest.approx(usual.max(), abs=0.006)
        assert usual[each["least_day"] - 1] == pytest.approx(usual.min(), abs=0.006)
        assert each["today_mm"] == pytest.approx(usual[44], abs=0.006)
        assert each["low_mm"] == pytest.approx(curve(found, name, "low").min(), abs=0.006)
        assert each["high_mm"] == pytest.approx(curve(found, name, "high").max(), abs=0.006)
    for name in ("upper", "lower", "frame"):
        each = found["moisture"][name]
        assert each["greatest_pct"] == pytest.approx(moisture(found, name).max(), abs=0.006)
        assert each["mean_pct"] == pytest.approx(moisture(found, name).mean(), abs=0.006)


def test_the_band_holds_the_usual_course() -> None:
    found = values({"sash": {"grain": "mixed"}}, greensboro())
    for curves in found["curves"].values():
        for name, band in curves.items():
            low, usual, high = (np.array(band[name]) for name in ("low", "usual", "high"))
            assert (low <= usual).all()
            assert (usual <= high).all()
            # The frame's tracks are bare: no paint to be unsure of.
            assert name == "frame" or (low < high).any()


def test_at_the_moisture_it_was_measured_at_a_gap_is_as_measured() -> None:
    """In still air of 65 % at 20 °C, without sun, all wood stands at the 12 % it was measured at."""
    still = DailyClimate(
        *(np.full(365, v) for v in (20.0, 0.65, 20.0, 0.65)), "still air", np.zeros((8, 365))
    )
    walls = {"porch": {"faces": "N", "weather": "sheltered"}}
    house = house_of({}, {**PLAIN, "wall": "porch"}, walls=walls)
    (answer,) = fit(house, KNOWLEDGE, still).windows
    found = answer.values
    # Wood Handbook table 4-2 prints 12.0 and 12.1 near there; a porch is wet in 1 of 100 hours.
    assert moisture(found) == pytest.approx(np.full(365, 12.0), abs=0.07)
    assert moisture(found, "frame") == pytest.approx(np.full(365, 12.0), abs=0.01)
    for name, each in found["clearances"].items():
        assert curve(found, name) == pytest.approx(np.full(365, each["as_measured_mm"]), abs=0.025)


def test_windows_asked_for_come_in_order_and_agree_with_the_whole() -> None:
    house = house_of({}, PLAIN, {**PLAIN, "wall": "south"}, {**PLAIN, "wall": "west"})
    whole = fit(house, KNOWLEDGE, waves())
    some = fit(house, KNOWLEDGE, waves(), ["3", "2"])
    assert [answer.number for answer in some.windows] == ["3", "2"]
    assert some.windows[0].values == whole.windows[2].values
    assert some.windows[1].findings == whole.windows[1].findings
    with pytest.raises(KeyError):
        fit(house, KNOWLEDGE, waves(), ["4"])


def test_one_window_alone_is_the_same() -> None:
    house = house_of({}, {**PLAIN, "wall": "west"})
    alone = fit_window(place(house, "1", KNOWLEDGE), waves(), house.walls["west"], today=200)
    (among,) = fit(house, KNOWLEDGE, waves(), today=200).windows
    assert alone.values == among.values
    assert [step.to_dict() for step in alone.working] == [s.to_dict() for s in among.working]


def test_a_day_that_no_year_has() -> None:
    house = house_of({}, PLAIN)
    with pytest.raises(ValueError, match="found day 0 of the year, expected 1 to 366"):
        fit(house, KNOWLEDGE, waves(), today=0)
    # 31 December of a leap year counts as that of any other.
    assert values({}, today=366)["today"] == 365


def test_sizes_that_contradict_each_other_do_not_stop_the_rest() -> None:
    house = house_of({}, PLAIN, PLAIN)
    spoiled = house.model_copy(
        update={
            "windows": (
                house.windows[0].model_copy(update={"width": 0.1}),
                house.windows[1],
            )
        }
    )
    wrong, right = fit(spoiled, KNOWLEDGE, waves()).windows
    assert wrong.worst == "fail"
    assert wrong.values == {}
    assert right.values["clearances"]


@given(houses)
@settings(max_examples=20)
def test_every_window_has_an_answer(house: House) -> None:
    (answer,) = fit(house, KNOWLEDGE, waves(), today=100).windows
    if not answer.values:
        assert answer.worst == "fail"  # sizes that contradict each other
        return
    json.dumps(answer.to_dict(), allow_nan=False)
    for each in answer.values["clearances"].values():
        assert each["low_mm"] <= each["least_mm"] <= each["greatest_mm"] <= each["high_mm"]
        assert each["binding_days"] <= each["binding_days_at_worst"]
        assert each["leave_today_mm"] >= each["wanted_least_mm"]


# --- air ----------------------------------------------------------------------------


@given(
    drier=st.floats(0.01, 0.25),
    family=st.fixed_dictionaries(
        {
            "sash": st.fixed_dictionaries(
                {
                    "coating_state": st.sampled_from(STATES),
                    "grain": st.sampled_from(["flat", "quarter", "mixed"]),
                    "wood": st.sampled_from(
                        ["eastern-white-pine", "white-oak", "western-redcedar"]
                    ),
                }
            ),
            "storm": st.sampled_from(["none", "winter", "all year"]),
        }
    ),
)
@settings(max_examples=15)
def test_drier_air_never_tightens(drier: float, family: Document) -> None:
    """Of the gaps that sash and frame close together; a track's own width moves the other way."""
    damp, dry = values(family, waves()), values(family, waves(drier=drier))
    for name in ("upper.sides", "lower.sides", "rails", "notch"):
        for band in ("low", "usual", "high"):
            assert (curve(dry, name, band) >= curve(damp, name, band) - 0.011).all()
    assert (moisture(dry) <= moisture(damp) + 0.011).all()


def test_more_paint_never_speeds_the_wood() -> None:
    found = [values({"sash": {"coating_state": state}}) for state in STATES]
    swings = [np.ptp(moisture(each)) for each in found]
    assert swings == sorted(swings, reverse=True)
    dampest = [each["moisture"]["lower"]["greatest_day"] for each in found]
    assert dampest == sorted(dampest)
    # A tight film makes the better part of a month.
    assert dampest[-1] >= dampest[0] + 4


@pytest.mark.parametrize("coating", ["oil-primer", "oil-paint", "acrylic-paint", "acrylic-primer"])
def test_a_coat_more_never_speeds_the_wood(coating: str) -> None:
    swings = [
        np.ptp(moisture(values({"sash": {"coating": coating, "coats": coats}})))
        for coats in (0, 1, 2, 3, 6)
    ]
    assert swings == sorted(swings, reverse=True)


def test_a_heated_house_is_dry_in_winter_and_a_cooled_one_in_summer() -> None:
    free, cooled = (
        values(
            {},
            waves(mean=16, humidity=0.78, household=household_of(house_of({}, PLAIN, **house))),
        )
        for house in ({}, {"cooled_to": "75 F"})
    )
    assert free["moisture"]["lower"]["least_day"] < 140
    assert 200 < free["moisture"]["lower"]["greatest_day"] < 300
    assert cooled["moisture"]["lower"]["greatest_pct"] < free["moisture"]["lower"]["greatest_pct"]


def test_living_adds_moisture() -> None:
    greatest = [
        values({}, waves(household=household_of(house_of({}, PLAIN, living=living))))["moisture"][
            "lower"
        ]["least_pct"]
        for living in ("empty", "airy", "close", "damp")
    ]
    assert greatest == sorted(greatest)
    assert greatest[0] < greatest[-1] - 0.5


# --- walls and storms ---------------------------------------------------------------


def test_sunny_walls_are_drier_than_shady_ones() -> None:
    means = {
        wall: values({}, greensboro(), {**PLAIN, "wall": wall})["moisture"]["lower"]["mean_pct"]
        for wall in ("north", "east", "south", "west")
    }
    assert means["south"] < means["east"] < means["north"]
    assert means["south"] < means["west"] < means["north"]


def test_rain_wets_the_weather_side() -> None:
    house = house_of({"sash": {"coating_state": "failed"}}, PLAIN)
    placed = place(house, "1", KNOWLEDGE)
    means = [
        fit_window(placed, waves(), Wall(faces=90.0, weather=weather)).values["moisture"]["lower"]
        for weather in ("sheltered", "usual", "driving rain")
    ]
    dampest = [each["greatest_pct"] for each in means]
    assert dampest == sorted(dampest)
    assert dampest[2] > dampest[0] + 0.3


def test_a_storm_sash_keeps_sun_and_rain_off_and_the_prime_sash_warm() -> None:
    none, winter, always = (
        values({"storm": storm, "sash": {"coating_state": "primed"}}, greensboro())
        for storm in ("none", "winter", "all year")
    )
    january, july = slice(0, 31), slice(181, 212)
    # Warm in winter, the wood dries.
    assert moisture(winter)[january].mean() < moisture(none)[january].mean() - 0.2
    assert moisture(winter)[january] == pytest.approx(moisture(always)[january], abs=0.3)
    # By July a primed sash has forgotten it.
    assert moisture(winter)[july] == pytest.approx(moisture(none)[july], abs=0.2)


def test_frames_inside_are_alike_on_every_wall() -> None:
    house = house_of({}, {**PLAIN, "wall": "north"}, {**PLAIN, "wall": "south"})
    north, south = (answer.values for answer in fit(house, KNOWLEDGE, waves()).windows)
    assert north["moisture"]["frame"] == south["moisture"]["frame"]
    assert north["moisture"]["lower"] != south["moisture"]["lower"]


# --- grain and species --------------------------------------------------------------


def test_quarter_sawn_stiles_move_a_third() -> None:
    """White pine: 0.00071 radially, 0.00212 tangentially."""
    flat, quarter = (values({"sash": {"grain": grain}}) for grain in ("flat", "quarter"))
    swings = [np.ptp(curve(each, "rails")) for each in (flat, quarter)]
    assert swings[1] / swings[0] == pytest.approx(0.00071 / 0.00212, rel=0.01)
    # Each 2 in stile swells so much less beyond the 12 % it was measured at; the frame is the same.
    less = 50.8 * (0.00212 - 0.00071) * (moisture(flat) - 12)
    apart = curve(quarter, "lower.sides") - curve(flat, "lower.sides")
    assert apart == pytest.approx(less, abs=0.011)


def test_another_wood_stands_beside_the_present_one() -> None:
    found = values({"sash": {"wood": "white-oak"}}, waves(), alternative="eastern-white-pine")
    present, other = found["alternative"]["present"], found["alternative"]["other"]
    assert (present["name"], other["name"]) == ("White oak", "Eastern white pine")
    assert present["clearances"]["rails"]["movement_mm"] == pytest.approx(
        np.ptp(curve(found, "rails")), abs=0.011
    )
    # As if the sash were made of it from the start.
    alone = values({"sash": {"wood": "eastern-white-pine"}}, waves())
    for name, each in other["clearances"].items():
        assert each["least_mm"] == alone["clearances"][name]["least_mm"]


def test_a_sash_of_the_alternative_is_set_beside_another() -> None:
    found = values({"sash": {"wood": "mahogany"}}, waves())
    assert found["alternative"]["other"]["wood"]["lower"] == "eastern-white-pine"


def test_modified_wood_hardly_moves() -> None:
    found = values({}, waves(), alternative="acetylated-pine")
    other = found["alternative"]["other"]["clearances"]
    present = found["alternative"]["present"]["clearances"]
    assert other["rails"]["movement_mm"] < 0.45 * present["rails"]["movement_mm"]


# --- the meter ----------------------------------------------------------------------


def metered(percent: float, date: str | None = "2026-02-14") -> Document:
    reading = {"moisture": percent, **({"moisture_on": date} if date else {})}
    return {**PLAIN, "measured": {"lower": reading}}


def test_a_reading_moves_the_whole_curve_of_its_sash() -> None:
    guessed, read = values({}, waves()), values({}, waves(), metered(11.5))
    shift = moisture(read) - moisture(guessed)
    assert np.ptp(shift) < 0.011  # rounding of the curves
    assert moisture(read)[44] == pytest.approx(11.5, abs=0.006)
    assert read["moisture"]["lower"]["source"] == "meter"
    assert read["moisture"]["lower"]["reading_day"] == 45
    assert read["moisture"]["lower"]["shift_pct"] == pytest.approx(shift.mean(), abs=0.01)
    # The other sash, which the meter did not touch, stays.
    assert moisture(read, "upper") == pytest.approx(moisture(guessed, "upper"))
    assert read["moisture"]["upper"]["source"] == "estimated"
    # Damper than thought, so tighter, all year.
    assert (curve(read, "lower.sides") < curve(guessed, "lower.sides")).all()


def test_a_reading_narrows_the_band_on_its_day() -> None:
    read = values({}, waves(), metered(11.5))
    width = moisture(read, band="high") - moisture(read, band="low")
    assert width[44] == pytest.approx(0, abs=0.011)
    assert width.max() > 0.3


def test_a_reading_without_a_day_counts_for_today_or_not_at_all() -> None:
    today = values({}, waves(), metered(11.5, None), today=45)
    assert moisture(today) == pytest.approx(moisture(values({}, waves(), metered(11.5))))
    never = values({}, waves(), metered(11.5, None))
    assert moisture(never) == pytest.approx(moisture(values({}, waves())))
    (answer,) = fit(house_of({}, metered(11.5, None)), KNOWLEDGE, waves()).windows
    (note,) = [f for f in answer.findings if "has no date" in f.says]
    assert note.on == "lower.sash"


def test_a_reading_far_from_the_estimate_wants_a_second_look() -> None:
    (answer,) = fit(house_of({}, metered(17)), KNOWLEDGE, waves()).windows
    (caution,) = [f for f in answer.findings if f.says.startswith("The meter says 17 %")]
    assert caution.level == "caution"
    assert "on 14 February" in caution.says
    (near,) = fit(house_of({}, metered(10)), KNOWLEDGE, waves()).windows
    assert not [f for f in near.findings if f.says.startswith("The meter says")]


def test_another_wood_is_read_by_the_same_meter() -> None:
    """Where the sash is damper than thought, so would a sash of another wood be."""
    read = values({}, waves(), metered(11.5), alternative="mahogany")
    guess = values({}, waves(), alternative="mahogany")
    tighter = (
        guess["alternative"]["other"]["clearances"]["lower.sides"]["least_mm"]
        - read["alternative"]["other"]["clearances"]["lower.sides"]["least_mm"]
    )
    shift = read["moisture"]["lower"]["shift_pct"]
    assert tighter == pytest.approx(50.8 * 0.00238 * shift, abs=0.002)
