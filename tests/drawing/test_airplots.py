"""Plans and sections with air in them, the calendar of comfort, the plans beside each other."""

from __future__ import annotations

import math
from functools import cache
from typing import Any

import pytest

from sashwright import units
from sashwright.chapters.words import Words
from sashwright.drawing.airhour import AirHour, opened_of
from sashwright.drawing.airkey import air_key, wash_of
from sashwright.drawing.airplan import air_plan
from sashwright.drawing.airsection import air_section
from sashwright.drawing.arrows import arrow, width_of
from sashwright.drawing.clear import shared_area
from sashwright.drawing.comfortcalendar import comfort_calendar, counts_of, kinds_of
from sashwright.drawing.floorplan import FloorPlan
from sashwright.drawing.model import Drawing, Group, Line, Polygon, Text, bounds_of, walk
from sashwright.drawing.paper import lettering_of, letters_box
from sashwright.drawing.planbars import WIDTH, plan_bars
from sashwright.drawing.svg import to_svg
from sashwright.physics.hourly_year import DAYS
from sashwright.physics.leakage import AIR_DENSITY
from sashwright.window.check import house_from
from sashwright.window.front import front_of
from sashwright.window.spec import House
from tests.airhouse import airy_document, hour_values
from tests.drawing.scenes import KNOWLEDGE, parsed

SYSTEMS: tuple[units.System, ...] = ("us", "metric")
FOOT = 0.3048


@cache
def house(front: str = "") -> House:
    changeover = {"changeover": {"front": front}} if front else {}
    return house_from(airy_document(**changeover), KNOWLEDGE)


def hour(**changes: Any) -> AirHour:
    values = hour_values(**changes)
    return AirHour(values, opened_of(values["opened"]))


def texts(drawn: Drawing) -> list[str]:
    return [item.text for item in walk(drawn.items) if isinstance(item, Text)]


def groups(drawn: Drawing, name: str) -> list[Group]:
    return [g for g in walk(drawn.items) if isinstance(g, Group) and name in g.classes.split()]


# --- where things lie -----------------------------------------------------------------


def test_windows_lie_in_the_wall_that_looks_their_way() -> None:
    places = {
        each.window.number: each
        for storey in (1, 2)
        for each in FloorPlan(house(), storey, front_of(house())).windows
    }
    assert {number: each.side for number, each in places.items()} == {
        "101": "front", "102": "right", "103": "back", "201": "left", "202": "back",
    }  # fmt: skip
    assert places["101"].at == pytest.approx((7 * FOOT, 0.0))
    assert places["102"].at == pytest.approx((27 * FOOT, 7 * FOOT))
    # Seen from outside, the back begins at the right end of the plan, the left side at its back.
    assert places["103"].at == pytest.approx((21 * FOOT, 14 * FOOT))
    assert places["201"].at == pytest.approx((0.0, 7 * FOOT))


def test_a_house_whose_front_is_another_wall_is_turned() -> None:
    plan = FloorPlan(house("east"), 1, front_of(house("east")))
    assert plan.side_of(90.0) == "front"
    assert plan.side_of(180.0) == "left"
    # East lies below; so north is to the right.
    assert plan.towards(90.0) == pytest.approx((0.0, -1.0), abs=1e-9)
    assert plan.towards(0.0) == pytest.approx((1.0, 0.0), abs=1e-9)


def test_doors_stand_in_the_middle_of_the_edge_that_two_rooms_share() -> None:
    plan = FloorPlan(house(), 1, 180.0)
    (door,) = plan.doors
    assert door.at == pytest.approx((15 * FOOT, 7 * FOOT))
    assert door.way == (1.0, 0.0)
    ((stair, here, there),) = plan.ways_up_or_down
    assert (stair.kind, here, there) == ("stair", "parlor", "chamber")


# --- the plan -------------------------------------------------------------------------


@pytest.mark.parametrize("system", SYSTEMS)
def test_the_plan_says_the_air_and_the_warmth_that_the_hour_has(system: units.System) -> None:
    drawn, words = air_plan(house(), 1, hour(), system), Words(system)
    said = texts(drawn)
    assert words.flow(0.24 / AIR_DENSITY) in said
    for celsius in (24.6, 26.4):
        assert units.format_temperature(celsius, system) in said
    assert f"stair up {words.flow(0.24 / AIR_DENSITY)}" in said
    assert {"parlor", "kitchen", "101", "102", "103"} <= set(said)
    assert not {"201", "chamber"} & set(said)
    assert any("from SW" in text for text in said)
    parsed(to_svg(drawn))


def test_arrows_point_the_way_the_air_goes() -> None:
    drawn = air_plan(house(), 1, hour())
    window = next(g for g in groups(drawn, "window") if dict(g.data)["number"] == "102")
    tips = [
        tip_of(item)
        for item in window.items
        if isinstance(item, Polygon) and "solid halo" in item.pen
    ]
    # Air comes in from the right: to the left.
    assert [tip[0] < 0 for tip in tips] == [True]
    # Through the archway as much as 0.30 - 0.06 flows on the whole, from the kitchen to the parlor.
    (air,) = groups(drawn, "air")
    assert air.title == f"{Words('us').flow(0.24 / AIR_DENSITY)} from kitchen to parlor"
    tip = next(tip_of(item) for item in air.items if isinstance(item, Polygon))
    assert tip[0] < 0
    assert abs(tip[1]) < 1e-9


def tip_of(item: Polygon) -> tuple[float, float]:
    """Way from an arrow's tail to its tip."""
    xs = [(v.x, v.y) for v in item.points]
    tail = ((xs[0][0] + xs[6][0]) / 2, (xs[0][1] + xs[6][1]) / 2)
    return xs[3][0] - tail[0], xs[3][1] - tail[1]


def test_a_window_through_which_air_goes_both_ways_has_two_arrows() -> None:
    values = hour_values()
    values["links"][1] |= {"forth_kg_s": 0.12, "back_kg_s": 0.10}
    drawn = air_plan(house(), 1, AirHour(values, opened_of(values["opened"])))
    said = texts(drawn)
    assert f"in {Words('us').flow(0.10)}" in said
    assert f"out {Words('us').flow(0.10 / AIR_DENSITY)}" in said


def test_the_mark_of_a_window_is_dark_where_its_sash_leaves_it_open() -> None:
    for storey, number, at_the_head in ((1, "102", False), (2, "201", True)):
        drawn = air_plan(house(), storey, hour())
        window = next(g for g in groups(drawn, "window") if dict(g.data)["number"] == number)
        box = next(i for i in window.items if isinstance(i, Polygon) and i.pen == "solid")
        frame = [i for i in window.items if isinstance(i, Polygon) and "paper" in i.pen][-1]
        dark, whole = bounds_of([box]), bounds_of([frame])
        assert (dark.top == pytest.approx(whole.top)) is at_the_head
        assert (dark.bottom == pytest.approx(whole.bottom)) is not at_the_head


def test_shut_windows_have_a_number_and_no_mark() -> None:
    drawn = air_plan(house(), 1, hour())
    for number in ("101", "103"):
        window = next(g for g in groups(drawn, "window") if dict(g.data)["number"] == number)
        assert not any(isinstance(i, Polygon) and "solid" in i.pen for i in window.items)


@pytest.mark.parametrize("storey", [1, 2])
def test_words_and_figures_stand_clear_of_each_other(storey: int) -> None:
    drawn = air_plan(house(), storey, hour())
    k = 1000 * drawn.scale
    boxes = [
        (item.text, letters_box(letters))
        for item in walk(drawn.items)
        if isinstance(item, Text) and (letters := lettering_of(item, k)) is not None
    ]
    for at, (text, box) in enumerate(boxes):
        for other, beside in boxes[:at]:
            assert shared_area(box, beside) < 0.3, (text, other)


def test_the_bare_plan_has_rooms_and_windows_and_no_air() -> None:
    drawn = air_plan(house(), 1)
    assert not groups(drawn, "air")
    assert {"parlor", "stair up", "102"} <= set(texts(drawn))
    assert not any("°F" in text for text in texts(drawn))


def test_a_storey_without_rooms_says_so() -> None:
    assert texts(air_plan(house(), 3)) == ["No rooms are recorded for this storey."]


def test_warmer_rooms_have_darker_washes() -> None:
    pens = [wash_of(celsius) for celsius in (18.0, 22.0, 25.0, 27.0, 29.0, 33.0)]
    assert pens == ["cool", "paper", "warm-1", "warm-2", "warm-3", "warm-4"]
    assert "68 °F" in texts(air_key("us"))


def test_the_widest_arrow_is_that_of_the_greatest_flow() -> None:
    widths = [width_of(flow, 2.0) for flow in (0.0, 0.5, 2.0, 9.0)]
    assert widths[0] < widths[1] < widths[2] == widths[3]
    # A quarter of the flow is half of what the greatest adds.
    assert widths[1] - widths[0] == pytest.approx((widths[2] - widths[0]) / 2)


def test_an_arrow_is_as_long_and_as_wide_as_is_said() -> None:
    (item,) = arrow((1.0, 2.0), (0.0, 1.0), 8.0, 2.0, 0.01)
    assert isinstance(item, Polygon)
    box = bounds_of([item])
    assert box.height == pytest.approx(0.08)
    assert (box.bottom + box.top) / 2 == pytest.approx(2.0)
    assert math.dist(
        (item.points[0].x, item.points[0].y), (item.points[6].x, item.points[6].y)
    ) == (pytest.approx(0.02))


# --- the section ----------------------------------------------------------------------


@pytest.mark.parametrize("system", SYSTEMS)
def test_the_section_adds_up_what_comes_in_and_leaves(system: units.System) -> None:
    drawn, flow = air_section(house(), hour(), system), Words(system).flow(0.24 / AIR_DENSITY)
    said = texts(drawn)
    assert f"in: {flow}" in said
    assert f"out: {flow}" in said
    titles = [group.title for group in groups(drawn, "air")]
    assert f"{flow} in through the lower sash of 102" in titles
    assert f"{flow} out through the upper sash of 201" in titles
    assert f"{flow} up from storey 1 to 2" in titles
    parsed(to_svg(drawn))


def test_the_neutral_level_lies_at_its_height() -> None:
    (group,) = groups(air_section(house(), hour()), "neutral")
    line = next(item for item in group.items if isinstance(item, Line))
    assert line.start[1] == line.end[1] == pytest.approx(4.1)


def test_where_the_wind_rules_no_neutral_level_is_drawn() -> None:
    rooms = [row | {"neutral_level_m": 40.0} for row in hour_values()["rooms"]]
    drawn = air_section(house(), hour(rooms=rooms))
    assert not groups(drawn, "neutral")
    assert any("the wind rules" in text for text in texts(drawn))


def test_the_section_of_a_house_without_a_plan_is_drawn_all_the_same() -> None:
    bare = house_from(airy_document(rooms={}, doors=[]), KNOWLEDGE)
    assert "102" in " ".join(g.title for g in groups(air_section(bare, hour()), "air"))


# --- the calendar and the bars --------------------------------------------------------


def year(share: float, hot: float, days: range) -> dict[str, Any]:
    def rows(value: float) -> list[list[float | None]]:
        return [[value if day in days else None] * 24 for day in range(DAYS)]

    return {"plan": "the plan", "share": rows(share), "hot": rows(hot)}


def test_hours_are_what_most_rooms_are() -> None:
    for share, hot, kind in ((0.6, 0.4, "comfortable"), (0.2, 0.7, "warm"), (0.2, 0.1, "cool")):
        values = year(share, hot, range(180, 190))
        counts = counts_of(kinds_of(values["share"], values["hot"]))
        assert counts == {"comfortable": 0, "warm": 0, "cool": 0} | {kind: 240}


def test_the_calendar_draws_each_stretch_alike_as_one() -> None:
    drawn = comfort_calendar(year(0.2, 0.8, range(182, 192)))
    (zone,) = groups(drawn, "warm")
    (box,) = zone.items
    # 1 to 10 July, of a July that is all that is shown.
    assert bounds_of([box]).left == pytest.approx(0.084 * 1 / 31)
    assert bounds_of([box]).width == pytest.approx(0.084 * 10 / 31)
    assert "too warm 100 %" in texts(drawn)
    assert {"July"} <= set(texts(drawn))


def test_too_warm_and_too_cool_differ_without_colour() -> None:
    for hot, level in ((0.9, True), (0.0, False)):
        drawn = comfort_calendar(year(0.1, hot, range(182, 192)))
        strokes = [i for g in groups(drawn, "strokes") for i in g.items if isinstance(i, Line)]
        assert strokes
        assert all((line.start[1] == line.end[1]) is level for line in strokes)


PLANS = [
    {
        "name": name, "comfortable_share": good, "overheated_share": hot, "cold_share": 1 - good - hot,
        "air_changes_h": changes, "moves_per_day": moves,
        "seasons": {"hot": {"comfortable_share": 0.5, "overheated_share": 0.5, "cold_share": 0.0,
                            "air_changes_h": 1.0, "moves_per_day": 0.0}},
    }
    for name, good, hot, changes, moves in (
        ("all shut", 0.7, 0.2, 0.3, 0.0), ("the plan", 0.9, 0.05, 4.2, 11.6),
    )
]  # fmt: skip


def test_bars_are_as_long_as_their_shares() -> None:
    drawn = plan_bars(PLANS, best="the plan")
    bar = next(g for g in groups(drawn, "bar") if dict(g.data)["plan"] == "the plan")
    good = next(i for i in bar.items if isinstance(i, Polygon) and "wood" in i.pen)
    assert bounds_of([good]).width == pytest.approx(0.9 * WIDTH)
    said = texts(drawn)
    assert "4.2 air changes an hour, 12 moves a day" in said
    assert "0.3 air changes an hour, none moved" in said
    marked = [i.text for i in walk(drawn.items) if isinstance(i, Text) and "pencil" in i.pen]
    assert marked == ["The plan"]


def test_one_season_has_bars_of_its_own() -> None:
    assert texts(plan_bars(PLANS, season="hot")).count("50 %") == 5
