"""Storms and screens: sizes, lifting, groups, the change of seasons, the list and the rack."""

from __future__ import annotations

import json
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sashwright.chapters.answer import Answer, WindowAnswer
from sashwright.chapters.season import season, season_window
from sashwright.chapters.season.calendar import date_words, mean_day, season_of
from sashwright.chapters.season.groups import ALIKE
from sashwright.chapters.season.handling import LIFT_LIMIT, ONE_ON_A_LADDER, TWO_ON_LADDERS
from sashwright.chapters.weather import normals_of, year_of
from sashwright.knowledge.climate_load import gazetteer
from sashwright.physics.hourly_year import DAYS, monthly_means
from sashwright.window.resolve import place
from tests.chapters.houses import INCH, KNOWLEDGE, PLAIN, Document, findings, house_of, only

PLACES = gazetteer()
WINTER: Document = {"storm": "winter", "screen": {"kind": "full"}}


def answer(family: Document, *windows: Document, **given: Any) -> Answer:
    where = given.pop("place", None)
    house = house_of(family, *(windows or (PLAIN,)), **given)
    return season(house, KNOWLEDGE, place=where)


def outside(family: Document, window: Document = PLAIN, **given: Any) -> WindowAnswer:
    (found,) = answer(family, window, **given).windows
    return found


# --- one window -----------------------------------------------------------------------


def test_sizes_from_the_rabbet() -> None:
    values = outside(WINTER).values
    storm, screen = values["storm"], values["screen"]
    assert storm["width_mm"] == screen["width_mm"] == pytest.approx(31.875 * 25.4, abs=1e-3)
    # Both close on the head alike; a thinner screen stands further in, where the sill lies higher.
    assert storm["top_mm"] == screen["top_mm"]
    assert storm["height_mm"] - screen["height_mm"] == pytest.approx(
        0.25 * 25.4 * storm["bevel"], abs=1e-2
    )
    assert storm["lap_mm"] == pytest.approx(7 / 16 * 25.4, abs=1e-3)
    middle = storm["bottom_mm"] + storm["middle_rail_at_mm"]
    upper = place(house_of(WINTER, PLAIN), "1", KNOWLEDGE).layout.upper
    seen = (upper.bottom + upper.bottom_rail / 2) * 1000
    assert middle == pytest.approx(seen, abs=1e-2)


def test_parts_and_glass_to_cut() -> None:
    storm = outside(
        {**WINTER, "storm_sash": {"lites": "matched"}, "upper": {"lites": "2x1"}}
    ).values["storm"]
    names = [row["name"] for row in storm["parts"]]
    assert names == ["stile", "bottom rail", "middle rail", "top rail", "upright bar"]
    assert sum(row["count"] for row in storm["glass"]) == 3
    wood = sum(row["count"] * row["mass_kg"] for row in storm["parts"])
    assert wood == pytest.approx(storm["mass_parts_kg"]["wood"], abs=1e-6)
    assert sum(storm["mass_parts_kg"].values()) == pytest.approx(storm["mass_kg"], rel=1e-12)


def test_the_air_between() -> None:
    """From the storm's inner glass face to each sash's outer one, through the section.

    Storm: rabbet 7/16 less bed 1/16 in from a face at 3 15/16 in out. Upper sash: its face at 1 15/16
    in less the play's half out, rabbet 1/2 less bed 1/16 less 3.16 mm of glass.
    """
    storm = outside(WINTER).values["storm"]
    inner = -3.9375 + 0.4375 - 0.0625
    upper = -(0.5 + 0.03125 + 1.375) + 0.5 - 0.0625 - 3.16 / 25.4
    lower = 0.03125 + 0.5 - 0.0625 - 3.16 / 25.4
    assert storm["air_space_upper_mm"] == pytest.approx((upper - inner) * 25.4, abs=1e-3)
    assert storm["air_space_lower_mm"] == pytest.approx((lower - inner) * 25.4, abs=1e-3)


@pytest.mark.parametrize(
    ("family", "level", "says"),
    [
        ({"frame": {"storm_rabbet_width": "1/4"}}, "caution", "laps the blind stop by only"),
        ({"frame": {"storm_rabbet_depth": "7/8"}}, "note", '1/4" proud of its rabbet'),
        (
            {"storm_sash": {"weep_holes": 0, "sill_gap": "0"}},
            "caution",
            "Nothing drains the space",
        ),
    ],
)
def test_how_it_sits(family: Document, level: str, says: str) -> None:
    only(outside({**WINTER, **family}), level, "storm", says)
    assert not [f for f in outside(WINTER).findings if says in f.says]


def test_a_thin_space_of_air_is_told() -> None:
    """Glass of the storm 3/8 in before its back, a blind stop of 0.2 in, glass 1/8 in deep in the sash."""
    found = outside(
        {
            **WINTER,
            "frame": {"blind_stop_thickness": "0.2"},
            "storm_sash": {
                "thickness": "3/4",
                "rabbet_depth": "7/16",
                "moulding": {"depth": "3/16"},
            },
            "sash": {"rabbet_depth": "5/16"},
        }
    )
    space = 0.375 + 0.2 + 0.03125 + 0.3125 - 0.0625 - 3.16 / 25.4
    assert found.values["storm"]["air_space_upper_mm"] == pytest.approx(space * 25.4, abs=1e-3)
    assert space < 0.75
    only(found, "note", "storm", "of air stand between")


def test_an_arched_storm_wants_a_pattern() -> None:
    found = outside(WINTER, {**PLAIN, "head": {"shape": "full arch"}})
    storm = found.values["storm"]
    # The casing's edge is flush with the opening here: 16 in less the clearance.
    assert storm["arc_radius_mm"] == pytest.approx((16 - 1 / 16) * 25.4, abs=1e-3)
    only(found, "note", "storm", "take a pattern of the casing")


def test_windows_without_a_storm_get_the_size_of_one() -> None:
    found = outside({})
    assert found.values["storm_hangs"] == "none"
    assert found.values["storm"]["width_mm"] > 0
    only(found, "note", "storm", "for one to be made")
    assert found.values["screen"] is None


def test_combination_windows_stay() -> None:
    found = outside({"storm": "all year", "storm_sash": {"kind": "combination"}})
    assert found.values["storm"] is None
    only(found, "note", "storm", "stays up all year")


def test_a_storm_that_stays_leaves_no_place_for_a_screen() -> None:
    found = outside({"storm": "all year", "screen": {"kind": "half"}})
    only(found, "caution", "screen", "no place")
    only(found, "note", "screen", "lower sash only")


def test_a_rabbet_that_is_none_fails_for_its_window_only() -> None:
    windows = (PLAIN, {**PLAIN, "changes": {"frame": {"storm_rabbet_width": "0"}}})
    found = answer(WINTER, *windows)
    assert [window.worst for window in found.windows][1] == "fail"
    assert found.windows[0].values["storm"] is not None
    assert [row["number"] for row in found.values["swaps"]] == ["1"]
    json.dumps(found.to_dict())


# --- lifting --------------------------------------------------------------------------


def reach(window: Document, **storm: Any) -> dict[str, Any]:
    found = outside({"storm": "winter", "storm_sash": storm}, window)
    return dict(found.values["storm"])


def test_reach_by_the_height_of_the_hangers() -> None:
    low = reach({"width": "24", "height": "36", "sill_above_ground": "40"})
    middle = reach({**PLAIN, "sill_above_ground": "40"})
    high = reach({**PLAIN, "sill_above_ground": "160"})
    assert [each["reach"] for each in (low, middle, high)] == ["ground", "steps", "ladder"]
    assert middle["top_above_ground_mm"] == pytest.approx((40 + 66 - 1 / 16) * 25.4, abs=1e-2)
    assert (low["minutes"], middle["minutes"], high["minutes"]) == (12.5, 12.5, 25)
    # Where the height is not recorded the storey tells.
    assert reach(PLAIN)["reach"] == "steps"
    assert reach({**PLAIN, "storey": 2})["reach"] == "ladder"


def test_people_by_the_mass() -> None:
    light = reach({"width": "28", "height": "54"})
    heavy = reach({"width": "40", "height": "78"}, glazing={"panes": ["double-strength"]})
    assert light["mass_kg"] < ONE_ON_A_LADDER < heavy["mass_kg"] < TWO_ON_LADDERS
    assert (light["people"], heavy["people"]) == (1, 2)
    # On firm ground one person may lift more.
    low = {"width": "44", "height": "50", "sill_above_ground": "30"}
    ground = reach(low, glazing={"panes": ["double-strength"]})
    assert ONE_ON_A_LADDER < ground["mass_kg"] < LIFT_LIMIT
    assert (ground["reach"], ground["people"]) == ("ground", 1)


def test_cautions_name_the_limits() -> None:
    storm = {"glazing": {"panes": ["double-strength"]}}
    heavy = outside({"storm": "winter", "storm_sash": storm}, {"width": "40", "height": "78"})
    caution = only(heavy, "caution", "storm", "two people from a stepladder")
    assert "NIOSH" in caution.source
    assert "50 lb 11 oz" in caution.because
    huge = outside({"storm": "winter", "storm_sash": storm}, {"width": "60", "height": "108"})
    only(huge, "fail", "storm", "too much for two people")
    light = outside({"storm": "winter"}, {"width": "28", "height": "54"})
    only(light, "ok", "storm", "one person can hang it")


# --- groups ---------------------------------------------------------------------------


def groups(*windows: Document, **family: Any) -> list[list[str]]:
    found = answer({**WINTER, **family}, *windows)
    return list(found.values["interchangeable"]["storms"])


def test_pieces_of_one_size_are_grouped() -> None:
    sizes = [("32", "66"), ("32 1/16", "66"), ("32 1/8", "66"), ("28", "54"), ("32", "66")]
    windows = [{"width": w, "height": h, "wall": "north", "along": str(400 - 60 * n)}
               for n, (w, h) in enumerate(sizes)]  # fmt: skip
    # The third is a sixteenth from the second, an eighth from the first and the last.
    assert groups(*windows) == [["101", "102", "105"]]


def test_other_heads_and_lights_are_no_stand_in() -> None:
    arched = {**PLAIN, "head": {"shape": "segmental", "rise": "4"}}
    assert groups(PLAIN, arched) == []
    matched = {"storm_sash": {"lites": "matched"}}
    assert groups(PLAIN, {**PLAIN, "upper": "2x1"}, **matched) == []
    assert len(groups(PLAIN, {**PLAIN, "upper": "2x1"})) == 1


@given(st.lists(st.integers(0, 12), min_size=2, max_size=8))
@settings(max_examples=25)
def test_any_two_of_a_group_are_alike(sixteenths: list[int]) -> None:
    """Widths and heights from 30 in up by thirty-seconds."""
    windows = [{"width": f"{30 + n / 32} in", "height": "60"} for n in sixteenths]
    found = answer(WINTER, *windows)
    by_mark = {w.values["mark"]: w.values["storm"]["width_mm"] for w in found.windows}
    listed: list[str] = []
    for group in found.values["interchangeable"]["storms"]:
        widths = [by_mark[mark] for mark in group]
        assert max(widths) - min(widths) <= ALIKE * 1000 + 1e-2
        listed += group
    assert len(listed) == len(set(listed))
    # Windows of the very same size always stand together.
    for width in set(by_mark.values()):
        same = {mark for mark, w in by_mark.items() if w == width}
        homes = {tuple(g) for g in found.values["interchangeable"]["storms"] if same & set(g)}
        assert len(homes) <= 1


# --- the change of seasons ------------------------------------------------------------


def test_the_northern_calendar() -> None:
    """The trade's calendar of the northern states: on mid-October to early November, off mid-April to May.

    Boston: the mean day falls through 13 and 7 °C and rises again. Within a week of the saying.
    """
    found = answer(WINTER, place=PLACES.find("Boston, MA")).values["changeover"]
    saying = {"storms_on_from": 15 + 273, "storms_on_by": 5 + 304,
              "screens_on_from": 15 + 90, "screens_on_by": 5 + 120}  # fmt: skip
    for name, day in saying.items():
        assert found[name]["day"] == pytest.approx(day, abs=7), name


def test_a_sine_crosses_where_it_must() -> None:
    """Mean day 10 + 15 sin: through 13 and 7 °C at asin(+-0.2) either side of its middle."""
    days = np.arange(DAYS)
    curve = 10 - 15 * np.cos(2 * np.pi * (days - 20) / DAYS)
    found = season_of(curve, 13.0, 7.0, "a sine")
    offset = np.arcsin(0.2) / (2 * np.pi) * DAYS
    quarter = DAYS / 4
    expected = (20 + 3 * quarter - offset, 20 + 3 * quarter + offset,
                20 + quarter - offset, 20 + quarter + offset)  # fmt: skip
    ours = (found.storms_from, found.storms_by, found.screens_from, found.screens_by)
    for day, crossing in zip(ours, expected, strict=True):
        assert day is not None
        assert crossing <= day < crossing + 1


def test_storms_count_as_hung_from_amid_the_weeks_of_the_change() -> None:
    """The mean day passes 10 °C at the quarters of the sine, halfway between the first and the last day."""
    days = np.arange(DAYS)
    curve = 10 - 15 * np.cos(2 * np.pi * (days - 20) / DAYS)
    found = season_of(curve, 13.0, 7.0, "a sine")
    on, off = 20 + 3 * DAYS / 4, 20 + DAYS / 4
    assert found.hung.sum() == pytest.approx(DAYS - (on - off), abs=1)
    around = [int(on) - 2, int(on) + 2, int(off) - 2, int(off) + 2]
    assert found.hung[around].tolist() == [False, True, True, False]


@pytest.mark.parametrize(("level", "share"), [(20.0, 0.0), (-5.0, 1.0)])
def test_where_no_season_turns_storms_hang_always_or_never(level: float, share: float) -> None:
    curve = level - np.cos(2 * np.pi * np.arange(DAYS) / DAYS)
    assert season_of(curve, 13.0, 7.0, "level").hung.mean() == share


@given(st.integers(0, DAYS - 1), st.floats(-5, 25), st.floats(1, 20))
@settings(max_examples=60)
def test_the_order_of_the_year(shift: int, middle: float, swing: float) -> None:
    """Wherever summer lies: on from, on by, off from, off by, round the year."""
    curve = middle - swing * np.cos(2 * np.pi * (np.arange(DAYS) - shift) / DAYS)
    found = season_of(curve, 13.0, 7.0, "a sine")
    hottest = int(np.argmax(curve))
    days = (found.storms_from, found.storms_by, found.screens_from, found.screens_by)
    since = [(day - hottest) % DAYS for day in days if day is not None]
    assert since == sorted(since)
    hangs = (0 < found.hung.sum() < DAYS) and found.storms_by is not None
    if hangs and found.storms_from is not None:
        first = (hottest + int(np.argmax(np.roll(found.hung, -hottest)))) % DAYS
        amid = [(day - hottest) % DAYS for day in (found.storms_from, first, found.storms_by)]
        assert amid == sorted(amid)
    if found.storms_from is not None:
        assert curve[found.storms_from] < 13 <= curve[found.storms_from - 1]
    if found.screens_from is not None:
        assert curve[found.screens_from] > 7 >= curve[found.screens_from - 1]


@pytest.mark.parametrize(
    ("where", "says"),
    [("Miami, FL", "no storm sash is needed"), ("Barrow, AK", "may stay all year")],
)
def test_where_the_seasons_do_not_turn(where: str, says: str) -> None:
    found = answer(WINTER, place=PLACES.find(where))
    (told,) = [f for f in found.findings if f.on == "changeover"]
    assert says in told.says
    assert found.values["changeover"]["storms_on_from"] is None


def test_a_year_and_its_months_give_the_same_weeks() -> None:
    """The mean day is the season's line through the months: by hours or by months, within two days."""
    burlington = PLACES.find("Burlington, VT")
    house = house_of(WINTER, PLAIN)
    by_month = season(house, KNOWLEDGE, place=burlington).values["changeover"]
    by_hour = season(house, KNOWLEDGE, year=year_of(burlington)).values["changeover"]
    for name in ("storms_on_from", "storms_on_by", "screens_on_from", "screens_on_by"):
        assert by_hour[name]["day"] == pytest.approx(by_month[name]["day"], abs=2)
    known = mean_day(None, burlington)
    assert known is not None
    assert monthly_means(known[0]) == pytest.approx(normals_of(burlington).temperature, abs=1e-9)


def test_set_temperatures_are_the_houses_own() -> None:
    boston = PLACES.find("Boston, MA")

    def days(**changeover: str) -> list[int]:
        found = answer(WINTER, changeover=changeover, place=boston).values["changeover"]
        return [found[n]["day"] for n in ("storms_on_from", "storms_on_by", "screens_on_by")]

    usual, hardy = days(), days(warm="50 F", cool="40 F")
    # Who waits for colder weather hangs later and takes down earlier.
    assert hardy[0] > usual[0]
    assert hardy[1] > usual[1]
    assert hardy[2] < usual[2]


def test_dates_in_words() -> None:
    assert [date_words(day) for day in (0, 31, 58, 59, 364)] == [
        "1 January", "1 February", "28 February", "1 March", "31 December",
    ]  # fmt: skip


# --- list, rack, marks ----------------------------------------------------------------


def test_the_list_follows_the_walk() -> None:
    windows = (
        {**PLAIN, "wall": "south", "along": "60", "room": "parlor"},
        {**PLAIN, "wall": "south", "along": "200"},
        {**PLAIN, "wall": "west", "storey": 2, "sill_above_ground": "160"},
    )
    found = answer(WINTER, *windows, changeover={"front": "south", "crew": 2})
    swaps = found.values["swaps"]
    assert [row["number"] for row in swaps] == ["2", "1", "3"]
    assert [row["mark"] for row in swaps] == ["101", "102", "201"]
    assert [row["minutes"] for row in swaps] == [12.5, 12.5, 25]
    assert found.values["swap_minutes"] == 50
    assert found.values["swap_hours_of_crew"] == pytest.approx(50 / 60 / 2)
    assert swaps[1]["room"] == "parlor"


def test_what_stays_is_not_on_the_list() -> None:
    assert answer({}).values["swaps"] == []
    assert answer({"storm": "all year"}).values["swaps"] == []
    (row,) = answer({"screen": {"kind": "full"}}).values["swaps"]
    assert (row["storm"], row["screen"]) == (False, True)


def test_the_rack_by_hand() -> None:
    """Three storms of 1 1/8 in and three screens of 7/8 in, 3/4 in between: 5 5/8 and 4 7/8 in."""
    found = answer(WINTER, PLAIN, PLAIN, PLAIN).values["rack"]
    assert found["storms_length_mm"] == pytest.approx(3 * 1.875 * 25.4, abs=0.05)
    assert found["screens_length_mm"] == pytest.approx(3 * 1.625 * 25.4, abs=0.05)
    assert found["length_mm"] == found["storms_length_mm"]
    assert found["depth_mm"] == pytest.approx(31.875 * 25.4, abs=0.05)


def test_proposed_marks_are_told_until_they_are_kept() -> None:
    found = answer(WINTER, PLAIN, {**PLAIN, "mark": "7"})
    assert found.values["marks"] == {"1": "101", "2": "7"}
    assert found.values["marks_proposed"] == ["1"]
    (told,) = [f for f in found.findings if f.on == "marks"]
    assert told.says.startswith("1 of 2 windows")
    assert not [f for f in answer(WINTER, {**PLAIN, "mark": "7"}).findings if f.on == "marks"]


def test_the_answer_is_plain_data_and_says_its_sources() -> None:
    found = answer(WINTER, PLAIN, place=PLACES.find("Boston, MA"))
    json.dumps(found.to_dict())
    (window,) = found.windows
    assert all(step.source for step in (*found.working, *window.working))
    assert all(f.because and f.source for f in (*found.findings, *window.findings))
    assert {"before hanging", "when hanging", "when storing"} == {
        row["when"] for row in found.values["care"]
    }


def test_one_window_answers_as_within_the_house() -> None:
    house = house_of(WINTER, PLAIN)
    alone = season_window(place(house, "1", KNOWLEDGE), mark="101", rules=house.changeover)
    assert alone.to_dict() == season(house, KNOWLEDGE).windows[0].to_dict()


def test_sizes_do_not_depend_on_who_reads() -> None:
    us = outside(WINTER)
    (metric,) = season(house_of(WINTER, PLAIN), KNOWLEDGE, system="metric").windows
    assert us.values == metric.values
    assert "kg" in " ".join(f.says for f in metric.findings)
    assert findings(metric, "fail") == []
    assert INCH == 0.0254
