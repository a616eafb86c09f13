"""The fit chapter: when a window sticks or rattles, and what it says to do."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

import numpy as np
import pytest

from sashwright.chapters.answer import WindowAnswer
from sashwright.chapters.fit import fit
from sashwright.chapters.fit.calendar import date_words, day_of_date
from sashwright.chapters.fit.judge import PAINT_FILM, RATTLE_BEYOND
from sashwright.physics.daily import DailyClimate
from sashwright.physics.indoor import Household
from tests.chapters.daily_climates import greensboro, waves
from tests.chapters.houses import KNOWLEDGE, PLAIN, findings, house_of, only

Document = Mapping[str, Any]
INCH = 0.0254


def answered(
    family: Document, climate: DailyClimate | None = None, window: Document = PLAIN, **asked: Any
) -> WindowAnswer:
    (answer,) = fit(house_of(family, window), KNOWLEDGE, climate or greensboro(), **asked).windows
    return answer


# --- the window that sticks in August -------------------------------------------------

SNUG: Document = {
    # Fitted tight in a dry winter shop, and its paint has since failed.
    "sash": {"moisture": 9, "coating_state": "failed"},
    "frame": {"moisture": 9, "side_clearance": "1/64", "head_clearance": "1/8"},
}


def test_a_window_that_sticks_in_the_wet_season_as_found() -> None:
    answer = answered(SNUG)
    sides = answer.values["clearances"]["lower.sides"]
    assert 60 < sides["binding_days"] < 300
    months = np.array(answer.values["curves"]["clearance_mm"]["lower.sides"]["usual"])
    assert (months[213:243] <= PAINT_FILM * 1000).all()  # all of August
    assert (months[31:59] > PAINT_FILM * 1000).all()  # no day of February
    found = only(answer, "fail", "lower.sides", "The lower sash sticks between the pulley stiles")
    assert "plane" in found.says
    assert "worst about" in found.says
    assert answer.worst == "fail"


def test_it_does_not_stick_after_the_relief_that_was_advised() -> None:
    before = answered(SNUG).values["clearances"]
    relief = {which: before[f"{which}.sides"]["relief_mm"] / 1000 for which in ("upper", "lower")}
    assert relief["lower"] > 0.0005
    width = 32 * INCH - 2 * INCH / 64
    planed = {which: {"width": f"{(width - 2 * relief[which]) * 1000:.4f} mm"} for which in relief}
    after = answered(SNUG, window={**PLAIN, "measured": planed})
    for which in relief:
        sides = after.values["clearances"][f"{which}.sides"]
        assert sides["binding_days_at_worst"] == 0
        # On the dampest day, with grain and paint at their worst, the least wanted is just left.
        assert sides["low_mm"] == pytest.approx(INCH / 64 * 1000, abs=0.002)
        assert sides["relief_mm"] == pytest.approx(0, abs=0.002)
        # And it has not become a rattle.
        assert sides["rattling_days"] == 0
    assert not findings(after, "fail", "lower.sides")


def test_the_advice_is_rounded_up_to_what_a_plane_can_take() -> None:
    answer = answered(SNUG)
    relief = answer.values["clearances"]["lower.sides"]["relief_mm"]
    says = only(answer, "fail", "lower.sides", "plane").says
    (count, parts) = re.search(r"plane (\d+)/(\d+)\" off", says).groups()  # type: ignore[union-attr]
    shown = int(count) / int(parts) * 25.4
    assert relief <= shown < relief + 25.4 / 64


# --- what to leave today -----------------------------------------------------------


@pytest.mark.parametrize("today", [15, 105, 227, 319])
def test_what_is_left_today_is_just_enough(today: int) -> None:
    """Fit the sash with that gap at today's moisture: on the dampest day the least is left."""
    first = answered({}, today=today)
    leave = first.values["clearances"]["lower.sides"]["leave_today_mm"]
    state = first.values["moisture"]["lower"]["today_pct"]
    # The frame is where it is today; its own movement is in the curve already.
    frame = first.values["curves"]["moisture_pct"]["frame"]["usual"][today - 1]
    gap = {
        "sash": {"moisture": state},
        "frame": {"moisture": frame, "side_clearance": f"{leave} mm"},
    }
    then = answered(gap, today=today)
    sides = then.values["clearances"]["lower.sides"]
    assert sides["today_mm"] == pytest.approx(leave, abs=0.005)
    assert sides["low_mm"] == pytest.approx(INCH / 64 * 1000, abs=0.01)


def test_more_is_left_in_the_dry_season_than_in_the_wet() -> None:
    leave = {
        today: answered({}, today=today).values["clearances"]["rails"]["leave_today_mm"]
        for today in (45, 105, 258)
    }
    assert leave[105] > leave[45] > leave[258]


def test_the_meter_decides_what_is_left() -> None:
    window = {**PLAIN, "measured": {"lower": {"moisture": 7, "moisture_on": "2026-02-14"}}}
    dry = answered({}, window=window, today=45)
    says = only(dry, "note", "lower.sides", "leave at least")
    assert says.says.startswith("With the wood at 7 %, on 14 February, leave at least ")
    assert "the moisture is the meter's" in says.because
    upper = only(dry, "note", "upper.sides", "leave at least")
    assert "the moisture is estimated" in upper.because


def test_without_a_day_nothing_is_said_of_today() -> None:
    answer = answered({})
    assert answer.values["today"] is None
    assert answer.values["clearances"]["rails"]["today_mm"] is None
    assert not [f for f in answer.findings if "With the wood at" in f.says]


# --- rattles, rails, meeting rails --------------------------------------------------


def test_a_loose_window_rattles() -> None:
    loose = {"frame": {"side_clearance": "1/4", "track_play": "3/16"}}
    answer = answered(loose)
    for name in ("sides", "faces"):
        each = answer.values["clearances"][f"lower.{name}"]
        assert each["rattling_days"] == 365
        assert each["rattles_above_mm"] == pytest.approx((1 / 16 + 1 / 16) * 25.4, abs=0.001)
        assert only(answer, "caution", f"lower.{name}", "rattles").says.count("all the year") == 1


def test_it_may_rattle_in_the_dry_season_only() -> None:
    """Fitted close in a damp August it is loose by April."""
    family = {
        "sash": {"moisture": 15, "coating_state": "failed"},
        "frame": {"moisture": 14, "side_clearance": "2.7 mm"},
    }
    sides = answered(family).values["clearances"]["lower.sides"]
    assert 0 < sides["rattling_days"] < 250
    usual = np.array(answered(family).values["curves"]["clearance_mm"]["lower.sides"]["usual"])
    above = usual > (1 / 16 * INCH + RATTLE_BEYOND) * 1000
    assert above[60:90].all()
    assert not above[213:273].any()


def test_rails_that_swell_keep_the_meeting_rails_from_level() -> None:
    family = {"sash": {"moisture": 7}, "frame": {"head_clearance": "1/32"}}
    answer = answered(family)
    found = only(answer, "fail", "rails", "the meeting rails do not come level")
    assert "off the bottom rail" in found.says


def test_the_shops_own_gaps_rule() -> None:
    wide, strict = (
        answered({"gaps": {"least": least}}).values["clearances"]["lower.sides"]
        for least in ("1/64", "3/32")
    )
    assert wide["relief_mm"] == 0
    assert strict["relief_mm"] == pytest.approx(3 / 32 * 25.4 - strict["low_mm"], abs=0.001)
    free = answered({"frame": {"side_clearance": "1/4"}, "gaps": {"sides": "1/4"}})
    assert free.values["clearances"]["lower.sides"]["rattling_days"] == 0


def test_a_wood_that_moves_too_much_for_any_gap() -> None:
    family = {
        "sash": {"wood": "white-oak", "stile": "6", "coating_state": "bare"},
        "gaps": {"sides": "1/64", "least": "1/32"},
    }
    answer = answered(family)
    assert only(answer, "note", "lower.sides", "No gap suits the whole year")


def test_wet_wood_is_warned_of() -> None:
    """An empty house, hardly heated, in a damp place."""
    cold = Household(heating=4.0, gain=0.5)
    fog = waves(mean=10, swing=6, humidity=0.94, humidity_swing=0.02, household=cold)
    answer = answered({"sash": {"coating_state": "bare"}}, fog)
    assert only(answer, "caution", "lower.sash", "wet enough for decay")
    assert not findings(answered({}), "caution", "lower.sash")


def test_a_window_without_fault_says_so() -> None:
    answer = answered({})
    assert answer.worst == "ok"
    assert only(answer, "ok", "window", "neither sticks nor rattles")


# --- the inside stop ----------------------------------------------------------------


def test_one_setting_of_the_stop_does_for_pine() -> None:
    answer = answered({})
    stop = answer.values["stop"]
    assert stop["single_shift_mm"] is not None
    assert stop["slot_long_enough"]
    assert only(answer, "ok", "lower.stop", "One setting of the inside stop does all year")


def test_stop_settings_give_the_play_aimed_at() -> None:
    """Wet and dry settings put the play of their days at 1/16 in; what lies between is the reach."""
    answer = answered({"frame": {"track_play": "1/4"}})
    stop, faces = answer.values["stop"], answer.values["clearances"]["lower.faces"]
    assert faces["least_mm"] + stop["wet_shift_mm"] == pytest.approx(25.4 / 16, abs=0.002)
    assert faces["greatest_mm"] + stop["dry_shift_mm"] == pytest.approx(25.4 / 16, abs=0.002)
    assert stop["reach_mm"] == pytest.approx(faces["greatest_mm"] - faces["least_mm"], abs=0.002)
    assert (stop["wet_day"], stop["dry_day"]) == (faces["least_day"], faces["greatest_day"])


def test_a_slot_may_be_too_short() -> None:
    family = {
        "sash": {"wood": "white-oak", "thickness": "2 1/4"},
        "frame": {"wood": "white-oak", "stop_slot": "1/128"},
        "gaps": {"faces": "1/64", "least": "3/64"},
    }
    answer = answered(family)
    assert not answer.values["stop"]["slot_long_enough"]
    assert only(answer, "caution", "lower.stop", "too short")


def test_a_nailed_stop_has_to_be_moved_by_hand() -> None:
    family = {
        "frame": {"wood": "white-oak", "stop_slot": 0},
        "gaps": {"faces": "1/64", "least": "1/16"},
    }
    assert only(answered(family), "note", "lower.stop", "is nailed")


# --- the whole house, the words, the days --------------------------------------------


def test_the_house_says_which_windows_want_what() -> None:
    house = house_of(
        {"sash": {"moisture": 12}},
        PLAIN,
        {**PLAIN, "changes": dict(SNUG)},
        {**PLAIN, "changes": {"frame": {"side_clearance": "1/4"}}},
    )
    totals = fit(house, KNOWLEDGE, greensboro()).values
    assert totals["sticking"] == ["2"]
    assert totals["rattling"] == ["3"]
    assert totals["wanting_relief"] == ["2"]
    assert "Greensboro" in totals["climate"] or "723170" in totals["climate"]


def test_metric_words() -> None:
    answer = answered(SNUG, system="metric")
    says = only(answer, "fail", "lower.sides", "plane").says
    assert "mm off each stile" in says
    assert '"' not in says


def test_every_finding_has_reason_and_source() -> None:
    for family in ({}, SNUG, {"frame": {"side_clearance": "1/4"}}):
        for finding in answered(family, today=45).findings:
            assert finding.says.endswith(".")
            assert len(finding.because) > 10
            assert len(finding.source) > 10


@pytest.mark.parametrize(
    ("date", "day", "words"),
    [
        ("2026-01-01", 0, "1 January"),
        ("2026-02-28", 58, "28 February"),
        ("2024-02-29", 58, "28 February"),
        ("2026-03-01", 59, "1 March"),
        ("2026-08-15", 226, "15 August"),
        ("2026-12-31", 364, "31 December"),
    ],
)
def test_days_of_the_year(date: str, day: int, words: str) -> None:
    assert day_of_date(date) == day
    assert date_words(day) == words


# --- the working ----------------------------------------------------------------------


def step(answer: WindowAnswer, starts: str) -> Any:
    return next(step for step in answer.working if step.step.startswith(starts))


def test_a_clearance_can_be_worked_by_hand_from_its_step() -> None:
    answer = answered(SNUG, today=45)
    for name, each in answer.values["clearances"].items():
        found = step(answer, f"{each['name']}, ")
        inputs = dict(found.inputs)
        gap = inputs.pop("as_measured_m")
        for mover in inputs.values():
            gap -= (
                mover["size_m"]
                * mover["per_percent"]
                * 100
                * (mover["moisture_to"] - mover["moisture_from"])
            )
        # The moistures shown have four digits: half of the last moves 2 in of pine by 5e-7 m.
        assert found.result == pytest.approx(gap, abs=3e-6), name
        assert found.result == pytest.approx(each["least_mm"] / 1000, abs=1e-6)
        assert "eq. 13-2" in found.source


def test_the_lag_can_be_worked_by_hand_from_its_step() -> None:
    found = step(answered({}), "how many days the lower sash lags")
    see = found.inputs
    # Tetens' formula for the vapour pressure, within 0.3 % of any other.
    saturation = 610.78 * np.exp(17.27 * see["wood_c"] / (see["wood_c"] + 237.3))
    film = saturation / (see["air_and_paint_pa_s_m2_kg"] * see["dry_density_kg_m3"] * see["dM_dh"])
    days = (
        see["thickness_m"] ** 2 / (np.pi**2 * see["D_m2_s"]) + see["thickness_m"] / (2 * film)
    ) / 86400
    assert found.result == pytest.approx(days, rel=0.005)


def test_every_step_names_its_source() -> None:
    for each in answered(SNUG, today=45).working:
        assert each.unit
        assert len(each.source) > 10
