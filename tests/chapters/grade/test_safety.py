"""Safety flags: truth tables round every limit, and what is said of a window."""

from __future__ import annotations

import math
from itertools import product
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sashwright.chapters.answer import Finding, WindowAnswer
from sashwright.chapters.grade.safety import Flags, code_of, house_safety, safety
from sashwright.chapters.grade.safety_codes import (
    ESCAPE,
    FALL,
    KEPT,
    SQUARE_FOOT,
    Code,
    PaneAt,
    both,
    escape_faults,
    guarding_due,
    hazardous,
    impact_class,
)
from sashwright.chapters.grade.safety_work import force_class
from sashwright.chapters.words import Words
from sashwright.window.escape import clear_opening
from sashwright.window.resolve import place
from sashwright.window.use import Use
from tests.chapters.houses import INCH, KNOWLEDGE, Document, house_of

EPS = 0.001
CODES: tuple[Code, ...] = ("IRC", "IBC", "England")
WINDOW: Document = {
    "width": "36",
    "height": "66",
    "sill_above_floor": "30",
    "sill_above_ground": "60",
}


def around(limit: float) -> tuple[float, float, float]:
    """Just below a limit, at it, just above it."""
    return limit - EPS, limit, limit + EPS


def flags(
    family: Document | None = None,
    code: Code | None = None,
    window: Document = WINDOW,
    house: Document | None = None,
    **use: Any,
) -> Flags:
    document = {**window, "use": use} if use else window
    made = house_of(family or {}, document, **(house or {"built": 1900}))
    return safety(place(made, "1", KNOWLEDGE), made, Words("us"), code=code)


def about(found: Flags, on: str) -> list[Finding]:
    return [each for each in found.findings if each.on == on]


# --- truth tables ---------------------------------------------------------------------


@pytest.mark.parametrize("code", CODES)
def test_escape_all_combinations_around_the_limits(code: Code) -> None:
    rule = ESCAPE[code]
    assert rule.sill is not None
    checked = 0
    for width, height, sill, grade in product(
        (*around(rule.width), 0.8, 1.2),
        (*around(rule.height), 0.8, 1.2),
        (*around(rule.sill), None),
        (True, False, None),
    ):
        least = {True: rule.grade_area, False: rule.area, None: rule.area}[grade]
        faults = escape_faults(rule, width, height, sill, grade)
        assert faults["width"] is (width < rule.width)
        assert faults["height"] is (height < rule.height)
        assert faults["sill"] is (None if sill is None else sill > rule.sill)
        area = width * height
        if grade is None and rule.grade_area <= area < rule.area:
            assert faults["area"] is None
        else:
            assert faults["area"] is (area < least)
        checked += 1
    assert checked == 5 * 5 * 4 * 3


@pytest.mark.parametrize("code", CODES)
@pytest.mark.parametrize("grade", [True, False])
def test_escape_area_around_its_limit(code: Code, grade: bool) -> None:
    rule = ESCAPE[code]
    least = rule.grade_area if grade else rule.area
    for width in (rule.width, 0.7, 1.0):
        for area in around(least):
            found = escape_faults(rule, width, area / width, 0.5, grade)
            assert found["area"] is (area < least)


def test_least_width_and_height_together_are_not_enough() -> None:
    for code in CODES:
        rule = ESCAPE[code]
        found = escape_faults(rule, rule.width, rule.height, 0.5, True)
        assert found == {"width": False, "height": False, "area": True, "sill": False}


@pytest.mark.parametrize("code", CODES)
def test_guarding_all_combinations_around_the_limits(code: Code) -> None:
    rule = FALL[code]
    wanted = 0
    for sill, drop, opens in product(around(rule.floor), around(rule.drop), around(rule.ball)):
        due = guarding_due(rule, sill, drop, opens)
        assert due is (sill < rule.floor and drop > rule.drop and opens >= rule.ball)
        wanted += due is True
    # Below the one, above the other, and a ball that just passes or passes easily.
    assert wanted == 2


@pytest.mark.parametrize("code", CODES)
def test_guarding_hangs_on_what_is_not_known_only_where_it_matters(code: Code) -> None:
    rule = FALL[code]
    low, high, wide = rule.floor - EPS, rule.drop + EPS, rule.ball + EPS
    assert guarding_due(rule, None, high, wide) is None
    assert guarding_due(rule, low, None, wide) is None
    assert guarding_due(rule, None, None, wide) is None
    assert guarding_due(rule, rule.floor, None, wide) is False
    assert guarding_due(rule, None, rule.drop, wide) is False
    assert guarding_due(rule, None, None, rule.ball - EPS) is False


def pane(width: float, height: float, bottom: float | None, thickness: float = 0.003) -> PaneAt:
    top = None if bottom is None else bottom + height
    return PaneAt(width, height, width * height, bottom, top, thickness)


@pytest.mark.parametrize("code", ["IRC", "IBC"])
def test_low_window_all_four_conditions_and_the_bar(code: Code) -> None:
    hits = 0
    for area, bottom, top, away, bar in product(
        around(9 * SQUARE_FOOT),
        around(18 * INCH),
        around(36 * INCH),
        around(36 * INCH),
        (None, False, True),
    ):
        each = PaneAt(area / 1.0, 1.0, area, bottom, top, 0.003)
        found = hazardous(code, each, Use(walking_surface=away, bar=bar))["low window"]
        expected = (
            area > 9 * SQUARE_FOOT
            and bottom < 18 * INCH
            and top > 36 * INCH
            and away <= 36 * INCH
            and bar is not True
        )
        assert found is expected
        hits += expected
    assert hits == 2 * 2


@pytest.mark.parametrize(
    ("spot", "field", "bottom", "away", "at_limit"),
    [
        ("beside a door", "door", 60, 24, True),
        ("wet room", "water", 60, 60, True),
        ("stair", "stair", 36, 36, False),
        ("foot of a stair", "stair_foot", 36, 60, True),
    ],
)
def test_doors_water_and_stairs(
    spot: Any, field: str, bottom: float, away: float, at_limit: bool
) -> None:
    for low, far in product(around(bottom * INCH), around(away * INCH)):
        found = hazardous("IRC", pane(0.3, 0.4, low), Use(**{field: far}))[spot]
        near = far <= away * INCH if at_limit else far < away * INCH
        assert found is (low < bottom * INCH and near)
    low = (bottom - 1) * INCH
    assert hazardous("IRC", pane(0.3, 0.4, low), Use())[spot] is None
    assert hazardous("IRC", pane(0.3, 0.4, bottom * INCH), Use())[spot] is False
    assert hazardous("IRC", pane(0.3, 0.4, None), Use(**{field: 0.1}))[spot] is None
    # A bar holds a person off a stair window, not one beside a door or a bath.
    behind = hazardous("IRC", pane(0.3, 0.4, low), Use(**{field: 0.1}, bar=True))[spot]
    assert behind is (spot != "stair")


def test_english_critical_zone_and_small_panes() -> None:
    for bottom in around(0.8):
        found = hazardous("England", pane(0.5, 0.6, bottom), Use())
        assert found["low window"] is (bottom < 0.8)
    for bottom, away in product(around(1.5), around(0.3)):
        found = hazardous("England", pane(0.5, 0.6, bottom), Use(door=away))
        assert found["beside a door"] is (bottom < 1.5 and away <= 0.3)
    for side, area, thickness in product(around(0.25), around(0.5), around(0.0058)):
        each = pane(side, area / side, 0.1, thickness)
        small = side <= 0.25 and area <= 0.5 and thickness >= 0.0058
        assert hazardous("England", each, Use())["low window"] is not small


def test_impact_class() -> None:
    small, large = pane(0.5, 0.5, 0.1), pane(1.0, 1.0, 0.1)
    assert impact_class("IRC", "beside a door", small).endswith("category I")
    assert impact_class("IRC", "beside a door", large).endswith("category II")
    assert impact_class("IRC", "wet room", small).endswith("category II")
    assert impact_class("England", "beside a door", large).endswith("class 2")
    assert impact_class("England", "low window", large).endswith("class 3")


def test_conditions_not_known() -> None:
    for values in product((True, False, None), repeat=3):
        expected = False if False in values else (None if None in values else True)
        assert both(*values) is expected


# --- the clear opening ----------------------------------------------------------------


@settings(max_examples=40, deadline=None)
@given(
    width=st.floats(24, 60),
    height=st.floats(44, 96),
    share=st.floats(0.4, 0.65),
    stop=st.floats(0.4, 1.5),
    horn=st.floats(0, 4),
)
def test_clear_opening_lies_within_the_window(
    width: float, height: float, share: float, stop: float, horn: float
) -> None:
    family = {"frame": {"inside_stop_thickness": f"{stop:.3f}"}, "sash": {"horn": f"{horn:.3f}"}}
    window = {
        "width": f"{width:.3f}",
        "height": f"{height:.3f}",
        "meeting_height": f"{height * share:.3f}",
    }
    layout = place(house_of(family, window), "1", KNOWLEDGE).layout
    found = clear_opening(layout)
    # What the file says, to a thousandth of an inch.
    width, stop, horn = round(width, 3), round(stop, 3), round(horn, 3)
    assert found.width == pytest.approx((width - 2 * max(stop, 0.5)) * INCH, abs=1e-9)
    top = found.sill + found.height
    assert top <= layout.lower.bottom + layout.travel("lower") + 1e-12
    assert top <= layout.upper.bottom - horn * INCH + 1e-9
    assert found.travel == pytest.approx(layout.travel("lower"))
    assert found.area == pytest.approx(found.width * found.height)


def test_clear_opening_by_hand() -> None:
    # 36 by 66 in. Equal daylight puts the top of the meeting rails at
    # (66 - 1/16 - 2 + 3 + 1 1/8) / 2 = 34 1/32 in, so the lower sash rises 31 31/32 in.
    made = house_of({"frame": {"inside_stop_thickness": "3/4"}}, WINDOW)
    found = clear_opening(place(made, "1", KNOWLEDGE).layout)
    meets = (66 - 1 / 16 - 2 + 3 + 1.125) / 2
    # The stool stands half an inch over the sill, which rises 14 degrees to the inside stop.
    foot = (1.375 + 1 / 16) * math.tan(math.radians(14)) + 0.5
    assert found.width / INCH == pytest.approx(34.5)
    assert found.travel / INCH == pytest.approx(66 - meets)
    assert found.height / INCH == pytest.approx(66 - meets - foot)
    assert not found.upper_hangs_in


def test_horns_and_stops_shorten_it() -> None:
    plain = flags().values["escape"]
    horned = flags({"sash": {"horn": "3"}}).values["escape"]
    stopped = flags({"hanging": {"lower_travel": "12"}}).values["escape"]
    # A horn on the lower sash meets the head 3 in sooner, on the upper one hangs down as far.
    assert horned["clear_height_mm"] == pytest.approx(plain["clear_height_mm"] - 3 * 25.4)
    assert stopped["travel_mm"] == pytest.approx(12 * 25.4)
    assert stopped["clear_width_mm"] == plain["clear_width_mm"]


# --- what is said ---------------------------------------------------------------------


def test_a_bedroom_with_a_way_out() -> None:
    found = flags(bedroom=True)
    (out,) = about(found, "lower.escape")
    assert out.level == "ok"
    assert "R310.2" in out.source
    assert "check local amendments" in out.source
    assert found.values["escape"]["meets"] is True


def test_a_bedroom_too_small_and_a_room_not_known() -> None:
    # 24 in wide: 23 in clear, which leaves 4.9 ft2; enough for a window that is kept.
    narrow = {**WINDOW, "width": "24"}
    (out,) = about(flags(window=narrow, bedroom=True), "lower.escape")
    assert (out.level, "R310.7.1" in out.source) == ("caution", True)
    assert "in area." in out.says
    (out,) = about(flags(window={**narrow, "height": "48"}, bedroom=True), "lower.escape")
    assert out.level == "fail"
    assert "height and area" in out.says
    (out,) = about(flags(window=narrow), "lower.escape")
    assert out.level == "note"
    assert "sleeps" in out.says
    assert not about(flags(window=narrow, bedroom=False), "lower.escape")
    assert not about(flags(), "lower.escape")


def test_an_english_bedroom_knows_no_smaller_kept_window() -> None:
    small = {**WINDOW, "width": "24", "height": "34"}
    (out,) = about(flags(window=small, code="England", bedroom=True), "lower.escape")
    assert out.level == "fail"
    assert KEPT["England"] is None


def test_sills_not_known_are_asked_for() -> None:
    bare = {"width": "36", "height": "66", "storey": 1}
    found = flags(window=bare, bedroom=True)
    (out,) = about(found, "lower.escape")
    assert (out.level, found.values["escape"]["meets"]) == ("note", None)
    assert "the sill above the floor" in out.says
    # 28 in wide leaves 5.7 to 5.8 ft2; a little less height puts it between the two areas.
    between = {**WINDOW, "width": "28", "height": "62"}
    del between["sill_above_ground"]
    (out,) = about(flags(window=between, bedroom=True), "lower.escape")
    assert "the sill above the ground" in out.says


def test_a_stop_that_lets_go_keeps_the_way_out() -> None:
    family = {"hanging": {"lower_travel": "4"}}
    low = {**WINDOW, "sill_above_floor": "18", "sill_above_ground": "120", "storey": 2}
    held = flags(family, window=low, bedroom=True)
    (out,) = about(held, "lower.escape")
    assert (out.level, "lets go by hand" in out.says) == ("fail", True)
    # With the stop at 4 in the sash opens less over the stool, so no ball of 4 in passes.
    (fall,) = about(held, "lower.fall")
    assert fall.level == "ok"
    freed = flags(family, window=low, bedroom=True, stop_lets_go=True)
    assert about(freed, "lower.escape")[0].level == "ok"
    assert about(freed, "lower.fall")[0].level == "ok"


def test_storm_and_screen_before_a_way_out() -> None:
    family = {"storm": "winter", "screen": {"kind": "full"}}
    found = flags(family, bedroom=True)
    assert [each.level for each in about(found, "storm")] == ["caution"]
    assert [each.level for each in about(found, "screen")] == ["note"]
    assert not about(flags(family), "storm")


def test_a_low_sill_upstairs() -> None:
    low = {**WINDOW, "sill_above_floor": "18", "sill_above_ground": "120"}
    (fall,) = about(flags(window=low, bedroom=True), "lower.fall")
    assert fall.level == "caution"
    assert "lets go by hand" in fall.says
    assert "without key or tool" in fall.says
    assert "R312.2" in fall.source
    # IBC asks for 36 in: a sill at 30 in is low there and not in a house.
    higher = {**low, "sill_above_floor": "30"}
    assert not about(flags(window=higher), "lower.fall")
    assert about(flags(window=higher, code="IBC"), "lower.fall")[0].level == "caution"
    # On an upper storey nobody has to climb down to measure.
    storey = {"width": "36", "height": "66", "sill_above_floor": "18", "storey": 2}
    assert about(flags(window=storey), "lower.fall")[0].level == "caution"
    # On the ground floor the ground is asked for.
    ground = {"width": "36", "height": "66", "sill_above_floor": "18", "storey": 1}
    (asked,) = about(flags(window=ground), "lower.fall")
    assert (asked.level, "above the ground" in asked.says) == ("note", True)


def test_the_upper_sash_of_a_low_window() -> None:
    tall = {
        "width": "36",
        "height": "66",
        "meeting_height": "26",
        "sill_above_floor": "6",
        "sill_above_ground": "120",
    }
    found = flags(window=tall, code="IBC")
    assert {each.on for each in found.findings if each.level == "caution"} >= {
        "lower.fall",
        "upper.fall",
    }


LOW: Document = {**WINDOW, "width": "44", "height": "84", "sill_above_floor": "10"}
"""A one-over-one whose lower pane is over 9 ft2 and begins under 18 in."""


def test_a_large_low_pane() -> None:
    (asked,) = about(flags(window=LOW), "lower.glass")
    assert (asked.level, "walking" in asked.says or "floor" in asked.says) == ("note", True)
    (found,) = about(flags(window=LOW, walking_surface="20"), "lower.glass")
    assert found.level == "caution"
    for treatment in ("laminated", "film", "bar"):
        assert treatment in found.says
    assert "IEBC" in found.because
    assert "there .3" in found.source
    assert not about(flags(window=LOW, walking_surface="37"), "lower.glass")
    assert not about(flags(window=LOW, walking_surface="20", bar=True), "lower.glass")
    # Divided lites are judged one by one.
    divided = flags({"sash": {"lites": "2x1"}}, window=LOW, walking_surface="20")
    assert divided.values["glass"]["hazardous"] == []
    assert divided.values["glass"]["panes"] == 4


def test_safety_glass_and_film() -> None:
    laminated = {"lower": {"glazing": {"panes": ["laminated-1-4"]}}}
    (found,) = about(flags(laminated, window=LOW, walking_surface="20"), "lower.glass")
    assert found.level == "ok"
    (found,) = about(flags(window=LOW, walking_surface="20", safety_glass=True), "lower.glass")
    assert found.level == "ok"
    half = {"lower": {"glazing": {"panes": ["laminated-1-4", "double-strength"], "gaps": ["1/4"]},
                      "thickness": "2 1/4", "rabbet_depth": "1 1/8"},
            "upper": {"thickness": "2 1/4"}}  # fmt: skip
    (found,) = about(flags(half, window=LOW, walking_surface="20"), "lower.glass")
    assert found.level == "caution"


def test_rooms_whose_name_asks() -> None:
    bath = flags(window={**WINDOW, "room": "Bath"})
    (asked,) = about(bath, "lower.glass")
    assert "water" in asked.says
    assert not about(flags(window={**WINDOW, "room": "study"}), "lower.glass")
    (found,) = about(flags(window={**WINDOW, "room": "study"}, water="30"), "lower.glass")
    assert found.level == "caution"
    assert not about(
        flags(window={**WINDOW, "room": "Bath", "sill_above_floor": "60"}), "lower.glass"
    )


def test_several_places_are_said_at_once() -> None:
    (found,) = about(flags(door="12", water="20", stair="6"), "lower.glass")
    assert "beside a door, beside water and on a stair" in found.says
    assert "category II" in found.because
    assert "bar" not in found.says
    assert {row["place"] for row in flags(door="12", water="20").values["glass"]["hazardous"]} == {
        "beside a door",
        "wet room",
    }


def test_force() -> None:
    assert [force_class(n) for n in (135.0, 135.1, 200.0, 200.1)] == ["R", "LC", "AW", None]
    easy = flags()
    (found,) = about(easy, "lower.force")
    assert found.level == "ok"
    assert easy.values["force"]["lower"]["class"] == "R"
    stiff = flags({"strips": {"sides": "spring-bronze"}, "hanging": {"lower_travel": "10"}})
    force = stiff.values["force"]["lower"]["force_n"]
    assert force > easy.values["force"]["lower"]["force_n"]
    fixed = flags(window={**WINDOW, "hung": "single"})
    assert fixed.values["force"]["upper"]["force_n"] is None


def test_a_sash_too_hard_to_move() -> None:
    made = house_of({"strips": {"sides": "spring-bronze"}}, WINDOW, built=1900)
    placed = place(made, "1", KNOWLEDGE)
    heavy = WindowAnswer("1", {"upper": None, "lower": {"effort_max_n": 140.0, "stays_put": False}})
    found = safety(placed, made, Words("us"), hung=heavy)
    assert [each.level for each in about(found, "lower.force")] == ["caution", "caution"]
    assert not about(found, "upper.force")


def test_glass_over_a_way() -> None:
    assert about(flags(over_way=True), "upper.glass")[0].level == "caution"
    assert not about(flags(over_way=False), "upper.glass")


@pytest.mark.parametrize(
    ("built", "code", "paint", "putty"),
    [
        (1900, None, "caution", "note"),
        (1977, None, "caution", "note"),
        (1978, None, None, "note"),
        (1989, None, None, "note"),
        (1990, None, None, None),
        (1991, "England", "caution", "note"),
        (1992, "England", None, "note"),
        (2000, "England", None, None),
        (None, None, "note", None),
    ],
)
def test_lead_and_asbestos_by_year(
    built: int | None, code: Code | None, paint: str | None, putty: str | None
) -> None:
    house = {} if built is None else {"built": built}
    found = house_safety(house_of({}, WINDOW, **house), code)
    levels = {each.on: each.level for each in found.findings}
    assert (levels.get("paint"), levels.get("putty")) == (paint, putty)


def test_whose_code() -> None:
    assert code_of(house_of({}, WINDOW)) == "IRC"
    metric = house_of({}, {"width": "900 mm", "height": "1700 mm"}, units="metric")
    assert code_of(metric) == "England"
    found = safety(place(metric, "1", KNOWLEDGE), metric, Words("metric"))
    assert found.values["code"] == "England"
    # Both systems in their own words.
    assert all('"' not in each.says for each in found.findings)


@pytest.mark.parametrize("code", CODES)
@pytest.mark.parametrize("bedroom", [True, False, None])
def test_every_finding_names_its_source(code: Code, bedroom: bool | None) -> None:
    use: dict[str, Any] = {} if bedroom is None else {"bedroom": bedroom}
    for window in (WINDOW, LOW, {"width": "26", "height": "40", "room": "bath hall", "storey": 2}):
        for each in flags({"storm": "winter"}, code=code, window=window, door="3", **use).findings:
            assert each.says.endswith(".")
            assert each.because
            assert each.source
            if each.on.endswith((".escape", ".fall", ".glass")):
                assert "check local amendments" in each.source
