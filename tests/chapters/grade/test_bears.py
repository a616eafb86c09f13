"""What a window bears: properties of glass, wood, locks, water, and what is said of them."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sashwright.chapters.answer import Answer, WindowAnswer
from sashwright.chapters.grade import grade, grade_window, rating
from sashwright.chapters.grade.glass import pane_resistance
from sashwright.chapters.grade.pressure import ground_of
from sashwright.chapters.grade.timber import section_of, timber_of
from sashwright.chapters.grade.window import Graded
from sashwright.chapters.hang import hang_window
from sashwright.chapters.seal.window import Factor, Sealed
from sashwright.drawing.elevation import elevation
from sashwright.knowledge.load import load
from sashwright.record.housefile import read_house
from sashwright.window.profile import profile
from sashwright.window.resolve import place, place_all
from sashwright.window.spec import Glazing, House
from tests.chapters.houses import INCH, KNOWLEDGE, PLAIN, Document, findings, house_of, only

DEMO = Path(__file__).parents[3] / "src" / "sashwright" / "record" / "demo" / "house.toml"
SITE = {
    "wind_speed": "115 mph",
    "exposure": "B",
    "roof_height": "30 ft",
    "confirmed_by": "the town",
}


def graded(family: Document | None = None, window: Document = PLAIN, **house: Any) -> WindowAnswer:
    (answer,) = grade(house_of(family or {}, window, **house), KNOWLEDGE).windows
    return answer


def capacity(answer: WindowAnswer, on: str, kind: str) -> float:
    parts = answer.values["utilisation"]
    return float(min(p["capacity_pa"] for p in parts if (p["on"], p["kind"]) == (on, kind)))


# --- the demo house -------------------------------------------------------------------


@pytest.fixture(scope="module")
def demo() -> House:
    return read_house(DEMO, load())


@pytest.fixture(scope="module")
def answer(demo: House) -> Answer:
    return grade(demo, load())


def test_every_window_answers(demo: House, answer: Answer) -> None:
    assert [window.number for window in answer.windows] == [w.number for w in demo.windows]
    for window in answer.windows:
        values = window.values
        assert values["wind"]["capacity_pa"] > 0
        assert values["water"]["held_pa"] > 0
        assert values["pressure"]["greatest_pa"] > 0
        assert values["utilisation"]
        assert any("only a test laboratory can certify" in f.says for f in window.findings)
        for step in window.working:
            assert isinstance(step.result, (int, float, str))
    json.dumps(answer.to_dict())


def test_parts_have_the_names_of_the_drawing(demo: House, answer: Answer) -> None:
    placed = {each.window.number: each for each in place_all(demo, load())}
    for number in ("101", "103", "104", "109", "301"):
        drawn = parts_drawn(elevation(placed[number], "outside"))
        window = next(each for each in answer.windows if each.number == number)
        named = {part["on"] for part in window.values["utilisation"]}
        assert {name for name in named if not name.startswith("storm.")} <= drawn


def parts_drawn(item: Any) -> set[str]:
    found = {value for key, value in getattr(item, "data", ()) if key == "part"}
    for inner in getattr(item, "items", ()):
        found |= parts_drawn(inner)
    return found


def test_the_demo_house_waits_for_its_wind_speed(answer: Answer) -> None:
    (said,) = [f for f in answer.findings if f.on == "site.wind_speed"]
    assert said.level == "caution"
    assert "placeholder" in said.says
    assert answer.worst != "fail"
    assert answer.values["overloaded"] == ["109"]


# --- no wind speed --------------------------------------------------------------------


def test_without_a_speed_there_is_no_demand_but_a_capacity() -> None:
    house = house_of({}, PLAIN)
    answer = grade(house, KNOWLEDGE)
    (window,) = answer.windows
    assert window.values["pressure"] is None
    assert window.values["wind"]["utilisation"] is None
    assert {part["load_pa"] for part in window.values["utilisation"]} == {None}
    assert window.values["wind"]["grade"] >= 15
    (said,) = [f for f in answer.findings if f.on == "site.wind_speed"]
    assert said.says.startswith("No design wind speed is given")
    assert "building department" in said.says
    assert "good only as a placeholder" in said.because
    # A window asked for by itself says so too.
    alone = grade_window(place(house, "1", KNOWLEDGE), house)
    assert said in alone.findings
    assert alone.values["wind"] == window.values["wind"]


def test_a_speed_changes_what_is_asked_and_not_what_is_borne() -> None:
    still, windy = graded(), graded(site=SITE)
    for name in ("capacity_pa", "breaks_at_pa", "grade", "en_12210"):
        assert still.values["wind"][name] == windy.values["wind"][name]


# --- utilisation ----------------------------------------------------------------------


@given(st.floats(100, 200))
@settings(max_examples=10, deadline=None)
def test_utilisation_is_load_over_capacity_and_goes_with_the_square_of_the_speed(
    mph: float,
) -> None:
    # Above the least pressure of the standard.
    base = graded(site={**SITE, "exposure": "D", "wind_speed": "100 mph"})
    more = graded(site={**SITE, "exposure": "D", "wind_speed": f"{mph!r} mph"})
    for a, b in zip(base.values["utilisation"], more.values["utilisation"], strict=True):
        assert b["utilisation"] == pytest.approx(b["load_pa"] / b["capacity_pa"])
        assert b["utilisation"] / a["utilisation"] == pytest.approx((mph / 100) ** 2, rel=1e-9)
    wind = more.values["wind"]
    assert wind["utilisation"] == max(
        p["utilisation"] for p in more.values["utilisation"] if not p["on"].startswith("storm")
    )


WEAK = {"sash": {"lites": "2x1"}}
TALL = {"width": "36", "height": "108"}


def test_only_a_confirmed_speed_that_breaks_something_fails() -> None:
    site = {**SITE, "exposure": "D", "wind_speed": "170 mph"}
    breaks = graded(WEAK, TALL, site=site)
    assert breaks.values["wind"]["breaks_at_pa"] < breaks.values["pressure"]["greatest_pa"]
    (found,) = findings(breaks, "fail", "upper.upright_bar") or findings(
        breaks, "fail", "lower.upright_bar"
    )
    assert "The design wind is" in found.says
    unsure = graded(WEAK, TALL, site={**site, "confirmed_by": ""})
    assert not findings(unsure, "fail", "upper.upright") + findings(unsure, "fail", "lower.upright")
    assert "nobody has confirmed" in only(unsure, "caution", found.on, "The design wind is").because
    # A bar that only sags too far is a caution.
    mild = graded(WEAK, {"width": "36", "height": "84"}, site=SITE)
    assert mild.values["wind"]["utilisation"] > 1
    assert mild.values["wind"]["breaks_at_pa"] > mild.values["pressure"]["greatest_pa"]
    only(mild, "caution", mild.values["wind"]["governs"], "it sags more than glass may")


# --- glass ----------------------------------------------------------------------------


ORDINARY = Glazing()


def resistance(wide: float, high: float, glazing: Glazing = ORDINARY) -> float:
    return float(pane_resistance(np.array([wide]), np.array([high]), glazing, KNOWLEDGE)[0][0])


@given(st.floats(0.15, 1.2), st.floats(1.0, 4.0), st.floats(1.02, 2.0))
@settings(max_examples=60)
def test_a_bigger_pane_of_the_same_shape_never_carries_more(
    short: float, ratio: float, times: float
) -> None:
    assert resistance(short * times, short * times * ratio) < resistance(short, short * ratio)


def test_scratched_thin_sealed_and_laminated_glass() -> None:
    sound = resistance(0.7, 0.8)
    assert resistance(0.7, 0.8, Glazing(surface="scratched")) == pytest.approx(sound / 2)
    thin = resistance(0.7, 0.8, Glazing(least_thickness=0.0024))
    assert thin < sound
    # No measurement makes glass thicker than it is likely to be.
    assert resistance(0.7, 0.8, Glazing(least_thickness=0.019)) < 1.3 * sound
    pair = Glazing(panes=("double-strength", "double-strength"), gaps=(0.0064,))
    assert resistance(0.7, 0.8, pair) == pytest.approx(1.8 * sound)
    uneven = Glazing(panes=("single-strength", "double-strength"), gaps=(0.0064,))
    assert sound < resistance(0.7, 0.8, uneven) < resistance(0.7, 0.8, pair)


def test_panes_that_are_no_glass_are_not_judged() -> None:
    plastic = [row.key for row in KNOWLEDGE.glass.values() if row.kind == "acrylic"]
    answer = graded({"lower": {"glazing": {"panes": [plastic[0]]}}})
    assert not any(part["on"].startswith("lower.lite") for part in answer.values["utilisation"])
    only(answer, "caution", "lower.glass", "not glazed with glass")


def test_old_glass_asks_to_be_measured() -> None:
    old = {"sash": {"glazing": {"panes": ["old-sheet-single"]}}}
    only(graded(old), "note", "upper.lite", "Measure the old panes")
    measured = {"sash": {"glazing": {"panes": ["old-sheet-single"], "least_thickness": "1/16"}}}
    assert not [f for f in graded(measured).findings if "Measure the old panes" in f.says]


def test_a_remedy_is_worth_what_it_says() -> None:
    old = {"sash": {"glazing": {"panes": ["old-sheet-single"], "surface": "scratched"}}}
    window = {"width": "44", "height": "84"}
    answer = graded(old, window, site={**SITE, "wind_speed": "140 mph"})
    (raised,) = [r for r in answer.values["raises"] if r["raises"] == "wind"]
    name = raised["does"].partition(" with ")[2]
    (key,) = [row.key for row in KNOWLEDGE.glass.values() if row.name == name]
    better = graded({"sash": {"glazing": {"panes": [key]}}}, window, site=SITE)
    assert capacity(better, raised["on"], "glass") == pytest.approx(raised["to"])
    assert raised["grade"] == rating.wind_grade(raised["to"])


# --- wood -----------------------------------------------------------------------------


def test_sections_and_moisture() -> None:
    square = ((0.0, 0.0, 0.0), (1.0, 0.0, 0.0))
    plain = profile(0.04, 0.0, 0.01, 0.0, 0.01, square)
    section = section_of(0.03, plain, 2)
    assert section.inertia == pytest.approx(0.03 * 0.04**3 / 12)
    assert section.modulus == pytest.approx(0.03 * 0.04**2 / 6)
    thicker = section_of(0.03, plain, 2, 0.01)
    assert thicker.inertia == pytest.approx(0.03 * 0.05**3 / 12)
    rabbeted = section_of(0.03, profile(0.04, 0.005, 0.01, 0.0, 0.01, square), 2)
    assert rabbeted.inertia < section.inertia
    pine = KNOWLEDGE.find("wood", "eastern-white-pine")
    dry, damp, wet = (timber_of(pine, moisture) for moisture in (8.0, 18.0, 24.0))
    assert dry.modulus == pine.modulus_elasticity
    assert dry.modulus > damp.modulus > wet.modulus
    assert dry.bending == damp.bending > wet.bending


def test_a_lock_makes_one_of_the_meeting_rails() -> None:
    locked, loose = graded(), graded({"hardware": []})
    plain = graded({"meeting": {"style": "plain"}})
    assert locked.values["meeting_rails"]["together"]
    for answer in (loose, plain):
        assert not answer.values["meeting_rails"]["together"]
        assert capacity(answer, "upper.meeting_rail", "stiffness") < capacity(
            locked, "upper.meeting_rail", "stiffness"
        )
    only(loose, "note", "upper.meeting_rail", "No lock ties the meeting rails")
    only(plain, "note", "upper.meeting_rail", "Plain meeting rails")
    # Two rails as one sag alike; neither bears more than both together would of twice the load.
    weaker = min(capacity(loose, f"{w}.meeting_rail", "stiffness") for w in ("upper", "lower"))
    stronger = max(capacity(loose, f"{w}.meeting_rail", "stiffness") for w in ("upper", "lower"))
    assert weaker <= capacity(locked, "upper.meeting_rail", "stiffness") <= stronger


def test_a_mullion_carries_half_of_both_windows() -> None:
    house = house_of({}, PLAIN, {**PLAIN, "beside": "1"})
    left, right = grade(house, KNOWLEDGE).windows
    assert capacity(left, "frame.casing.right", "strength") == pytest.approx(
        capacity(right, "frame.casing.left", "strength")
    )
    alone = graded()
    assert not [p for p in alone.values["utilisation"] if p["on"].startswith("frame.")]


# --- storm, water, air, force ---------------------------------------------------------


def test_a_storm_sash_is_judged_and_never_counted_on() -> None:
    bare, behind = graded(site=SITE), graded({"storm": "winter"}, site=SITE)
    assert bare.values["storm"] is None
    assert behind.values["wind"] == bare.values["wind"]
    storm = behind.values["storm"]
    assert 0 < storm["steady_share"] < 1
    assert {p["on"] for p in behind.values["utilisation"]} >= {"storm.lite", "storm.left_stile"}
    four = graded({"storm": "winter", "storm_sash": {"hook_count": 4}})
    # Half the span, a quarter of the moment.
    assert capacity(four, "storm.left_stile", "strength") == pytest.approx(
        4 * capacity(behind, "storm.left_stile", "strength")
    )
    tracked = graded({"storm": "all year", "storm_sash": {"kind": "combination"}})
    assert tracked.values["storm"]["capacity_pa"] is None
    only(tracked, "note", "storm", "ask its maker")


def test_a_tighter_storm_takes_more_of_a_wind_that_lasts() -> None:
    shares = [
        graded({"storm": "winter", "seals": {"storm": key}}).values["storm"]["steady_share"]
        for key in ("storm-wood-average", "storm-two-track")
    ]
    areas = [KNOWLEDGE.leakage[key].area for key in ("storm-wood-average", "storm-two-track")]
    assert (shares[0] > shares[1]) == (areas[0] < areas[1])


def test_water_at_the_sill() -> None:
    loose = graded()
    tight = graded({"strips": {"sill": "bulb-kerf"}})
    assert loose.values["water"]["grade"] is None
    assert tight.values["water"]["held_pa"] > loose.values["water"]["held_pa"]
    assert tight.values["water"]["grade"] >= 15
    remedy = next(r for r in loose.values["raises"] if r["raises"] == "water")
    assert remedy["to"] == pytest.approx(tight.values["water"]["dams"][0]["held_pa"])
    steep = graded({"frame": {"sill_slope": 20}})
    assert steep.values["water"]["held_pa"] > loose.values["water"]["held_pa"]
    asked = graded(site={**SITE, "wind_speed": "150 mph", "exposure": "C"})
    assert (
        asked.values["water"]["asked_pa"]
        == rating.pressures_of(asked.values["grade"]["needed"]).water
    )
    only(asked, "caution", "frame.sill", "climbs over")


def test_air_force_and_the_grade_of_all() -> None:
    shut = dict.fromkeys(
        ("upper_sides", "lower_sides", "head", "meeting_rail", "sill"), "joint-painted-shut"
    )
    tight = {"seals": {**shut, "pulleys": "pulley-none"}}
    good = graded(tight, {"width": "48", "height": "84"})
    assert good.values["air"]["meets"]
    assert good.values["force"]["meets"]
    assert good.values["grade"]["lacking"] == []
    found = good.values["grade"]["performance_grade"]
    assert found == min(good.values["wind"]["grade"], good.values["water"]["grade"])
    assert good.values["grade"]["tests"]["design_pa"] == 48 * found
    leaky = graded({}, {"width": "48", "height": "84"})
    assert leaky.values["grade"]["performance_grade"] is None
    assert "air" in leaky.values["grade"]["lacking"]


def test_fixings_are_a_list_of_loads() -> None:
    answer = graded({"storm": "winter"}, site=SITE)
    rows = {row["on"]: row for row in answer.values["fixings"]}
    stops = rows["frame.inside_stop"]
    assert stops["at_pa"] == answer.values["pressure"]["greatest_pa"]
    assert stops["each_n"] == pytest.approx(stops["line_n_m"] * stops["apart_m"])
    # All of the wind on 32 by 66 in goes into four fasteners.
    area = 32 * 66 * INCH**2
    assert rows["storm.hangers"]["each_n"] == pytest.approx(stops["at_pa"] * area / 4)


def test_a_window_that_contradicts_itself_is_told_and_the_others_answered() -> None:
    house = house_of({}, PLAIN, PLAIN)
    wrong = house.windows[0].model_copy(update={"meeting_height": 0.1})
    broken = house.model_copy(update={"windows": (wrong, house.windows[1])})
    first, second = grade(broken, KNOWLEDGE).windows
    assert first.worst == "fail"
    assert not first.values
    assert second.values["wind"]["grade"]


def test_sentences_in_either_system() -> None:
    us, metric = (
        grade(house_of({}, PLAIN, site=SITE), KNOWLEDGE, None, system).windows[0]
        for system in ("us", "metric")
    )
    assert us.values == metric.values
    assert any(" psf" in f.because for f in us.findings)
    assert not any("psf" in f.says + f.because for f in metric.findings if f.on != "rating")


def test_the_effort_is_the_hang_chapters() -> None:
    house = house_of({}, PLAIN)
    placed = place(house, "1", KNOWLEDGE)
    hung = hang_window(placed)
    each = Graded(placed, ground_of(house), Sealed(placed, Factor()), hung)
    assert each.hardest == max(hung.values[w]["effort_max_n"] for w in ("upper", "lower"))
