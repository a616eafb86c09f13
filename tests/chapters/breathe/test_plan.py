"""The plan for the household: its limits, what it means hour by hour, and that it is no worse than doing
nothing."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from sashwright.chapters.answer import Answer
from sashwright.chapters.breathe import breathe
from sashwright.chapters.breathe.compare import live
from sashwright.chapters.breathe.limits import FALL_OUT, SECURE, WET, Limits
from sashwright.chapters.breathe.plans import FULL, Household, OpeningPlan, SeasonPlan
from sashwright.chapters.breathe.search import Search
from sashwright.chapters.breathe.seasons import PART_OF_HOUR, PARTS, Calendar
from tests.chapters.cottage import HIGH, cottage, made, usual, year_in
from tests.chapters.houses import KNOWLEDGE

WARM = "Sacramento, CA"


@cache
def household() -> Household:
    return Household(usual(), Calendar(usual().year), Limits(usual()))


@cache
def answer() -> Answer:
    return breathe(cottage(), KNOWLEDGE, year=year_in(WARM), seconds=0.5)


def all_open(shut_below: float, warm_from: float) -> OpeningPlan:
    settings = {(g, p): FULL for g in household().groups for p in PARTS}
    return OpeningPlan(
        "open",
        {
            s.name: SeasonPlan(settings, shut_below=shut_below, warm_from=warm_from)
            for s in household().calendar.seasons
        },
    )


# --- limits


def test_at_night_the_ground_floor_opens_a_hand_only() -> None:
    limits = household().limits
    assert limits.all["1", "lower", "night"].most == SECURE
    assert limits.all["1", "lower", "day"].most == limits.travel("1", "lower")
    # The bedroom's windows are out of reach and their sills are 30 in over the floor.
    assert limits.all["3", "lower", "night"].most == limits.travel("3", "lower")


def test_a_low_sill_over_a_drop_is_held_unless_barred() -> None:
    low = {**HIGH, "wall": "north", "sill_above_floor": "18"}
    held = Limits(made(low)).all["1", "lower", "day"]
    assert held.most == pytest.approx(4 * 0.0254)
    assert held.why == FALL_OUT
    barred = Limits(made({**low, "use": {"bar": True}})).all["1", "lower", "day"]
    assert barred.why == ""


def test_the_weather_side_is_held_at_night_but_under_the_eaves() -> None:
    walls = {"north": {"faces": "N", "weather": "driving rain"}, "south": {"faces": "S"}}
    limits = Limits(made({**HIGH, "wall": "north"}, walls=walls)).all
    assert limits["1", "lower", "night"].most == WET
    assert limits["1", "upper", "night"].why == ""


def test_sash_are_never_moved_past_each_other() -> None:
    house = household()
    span = min(house.limits.travel("3", "upper"), house.limits.travel("3", "lower"))
    assert sum(house.pair("3", "day", (FULL, FULL), False)) == pytest.approx(span)
    upper, lower = house.pair("3", "day", (FULL, 0.1), False)
    assert upper == pytest.approx(span - 0.1)
    assert lower == 0.1
    assert house.pair("3", "day", (FULL, 0.0), False) == (house.limits.travel("3", "upper"), 0.0)


# --- hour by hour


def test_windows_open_only_on_warm_days_in_warm_hours_without_storms() -> None:
    house = household()
    scenario = house.scenario(all_open(shut_below=15.0, warm_from=25.0))
    row = np.asarray(scenario.raised["3"])
    opened = row > 0
    year, calendar = house.building.year, house.calendar
    assert opened.any()
    assert year.temperature[opened].min() >= 15.0
    assert calendar.high[opened].min() >= 25.0
    assert not (opened & house.building.storms_on).any()
    assert not (opened & ~calendar.open_hours).any()


def test_parts_of_the_day_begin_at_their_hours() -> None:
    starts = [int(np.flatnonzero(PART_OF_HOUR[6:30] == part)[0]) + 6 for part in range(4)]
    assert starts == [6, 10, 18, 22]
    assert (PART_OF_HOUR[:6] == 3).all()


def test_a_days_warmth_goes_with_its_night() -> None:
    high = household().calendar.high
    day = high[24 * 100 + 6 : 24 * 101 + 6]
    assert (day == day[0]).all()
    temperature = household().building.year.temperature
    assert day[0] == temperature[24 * 100 + 6 : 24 * 101 + 6].max()


# --- the search


def test_the_search_finds_the_same_plan_twice_and_keeps_to_its_budget() -> None:
    season = household().calendar.seasons[-1]
    searches = [Search(household(), season, 20) for _ in range(2)]
    first, second = (each.best() for each in searches)
    assert first == second
    assert searches[0].tried <= 24


def test_the_plan_costs_no_more_than_all_shut_or_the_old_rule() -> None:
    house = household()
    found = Search(house, house.calendar.seasons[-1], 30)
    best = found.cost(found.best())
    assert best <= found.cost(SeasonPlan())
    assert best <= found.cost(house.rule_for(house.calendar.seasons[-1]))


def test_open_windows_bring_more_air_and_less_heat_than_shut_ones() -> None:
    house = household()
    shut, opened = live(house, house.shut), live(house, house.all_open)
    assert opened.air_changes(opened.counted) > 8 * shut.air_changes(shut.counted)
    assert opened.score.hot < shut.score.hot
    assert shut.moves(shut.counted) == 0


# --- the answer


def test_all_plans_are_compared_by_the_same_hours() -> None:
    plans = answer().values["plans"]
    assert [plan["name"] for plan in plans] == [
        "all shut", "lower sash up", "everything open", "the old rule", "the plan",
    ]  # fmt: skip
    assert len({plan["occupied_room_hours"] for plan in plans}) == 1
    for plan in plans:
        shares = [plan[f"{what}_share"] for what in ("comfortable", "overheated", "cold")]
        assert sum(shares) == pytest.approx(1.0)
    assert plans[-1]["comfortable_share"] > plans[0]["comfortable_share"]


def test_the_card_says_what_each_window_does() -> None:
    card = answer().values["card"]
    assert [season["season"] for season in card] == ["cool", "mild", "hot"]
    hot = card[-1]
    assert hot["always"][0].startswith("On days that reach ")
    night = next(part for part in hot["parts"] if part["part"] == "night")
    limits = household().limits
    for row in night["positions"]:
        most = limits.all[row["window"], row["sash"], "night"].most
        assert 0 < row["open_m"] <= most + 1e-9
        assert any(row["window"] in line for line in night["lines"])


def test_the_calendar_has_a_row_for_each_day_and_nothing_in_winter() -> None:
    share = answer().values["calendar"]["share"]
    assert (len(share), {len(day) for day in share}) == (365, {24})
    assert all(value is None for value in share[10])
    july = [value for value in share[195] if value is not None]
    assert july
    assert all(0 <= value <= 1 for value in july)


def test_the_pictured_hour_balances_in_every_room() -> None:
    hour = answer().values["hour"]
    rooms = {room["room"]: 0.0 for room in hour["rooms"]}
    for link in hour["links"]:
        net = link["forth_kg_s"] - link["back_kg_s"]
        for end, sign in (("from", -1), ("to", 1)):
            if link[end] in rooms:
                rooms[link[end]] += sign * net
    # Links of less than 0.1 g/s are left out of the picture.
    assert max(map(abs, rooms.values())) < 3e-3
    assert all(room["air_c"] > 10 for room in hour["rooms"])


def test_a_cold_place_has_no_days_for_it() -> None:
    from dataclasses import replace

    warm = year_in(WARM)
    cold = replace(warm, temperature=warm.temperature - 30.0, dew_point=warm.dew_point - 30.0)
    found = breathe(cottage(), KNOWLEDGE, year=cold)
    assert [f.says.split(":")[0] for f in found.findings] == ["Not here"]


def test_without_weather_it_says_what_is_missing() -> None:
    with pytest.raises(ValueError, match="found no weather"):
        breathe(cottage(), KNOWLEDGE)


def test_a_window_that_cannot_be_is_left_out_and_told() -> None:
    house = cottage()
    lost = house.windows[0].model_copy(update={"family": "Z"})
    broken = house.model_copy(update={"windows": (lost, *house.windows[1:])})
    found = breathe(broken, KNOWLEDGE, year=year_in(WARM), seconds=0.0)
    told = [f for f in found.findings if f.on == "window 1"]
    assert [f.level for f in told] == ["caution"]
    assert [w.number for w in found.windows] == ["2", "3", "4"]
    none = breathe(broken.model_copy(update={"windows": (lost,)}), KNOWLEDGE, year=year_in(WARM))
    assert [f.level for f in none.findings] == ["fail"]
