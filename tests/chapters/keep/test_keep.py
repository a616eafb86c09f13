"""Upkeep: lives by exposure, clocks set by visits, shop and survey, the plan by year."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sashwright.chapters.answer import Answer
from sashwright.chapters.days import date_of, day_number, year_of, years_later
from sashwright.chapters.keep import Recorded, Visited, keep
from sashwright.chapters.keep.exposure import COVER, HIGH, LEAST, MOST, RAIN, SUN, exposure_of
from sashwright.chapters.keep.upkeep import row_of
from sashwright.chapters.make.standing import Move
from sashwright.knowledge.load import load
from sashwright.window.check import house_from
from sashwright.window.resolve import place
from sashwright.window.spec import House
from tests.factories import family_document, house_document, window_document

KNOWLEDGE = load()
TODAY = "2026-11-25"
SURVEY = {"condition": {"on": "2026-04-07"}}


def house(family: Any = None, walls: Any = None, **window: Any) -> House:
    document = house_document(
        families={"A": family_document(**(family or {}))},
        windows=[window_document("101", **window)],
        **({"walls": walls} if walls else {}),
    )
    return house_from(document, KNOWLEDGE)


def answer(of: House, *visits: Visited, today: str = TODAY, moves: Any = ()) -> Answer:
    return keep(of, KNOWLEDGE, today=today, record=Recorded(visits, moves))


def item(of: Answer, what: str) -> dict[str, Any]:
    items = of.windows[0].values["items"]
    found: dict[str, Any] = next(each for each in items if each["what"] == what)
    return found


# --- lives ------------------------------------------------------------------------


def wall(faces: str, weather: str = "usual") -> dict[str, Any]:
    return {"east": {"faces": faces, "weather": weather}}


def paint(of: House) -> float:
    return float(item(answer(of), "paint")["life_years"])


def test_the_plain_life_is_that_of_the_measure_table() -> None:
    north = house(walls=wall("N"))
    found = item(answer(north), "paint")
    row = KNOWLEDGE.measure["paint"]
    assert found["factor"] == 1.0
    assert (found["life_years_low"], found["life_years"], found["life_years_high"]) == (
        row.life_years_low, row.life_years, row.life_years_high,
    )  # fmt: skip
    assert item(answer(north), "cord")["life_years"] == KNOWLEDGE.measure["cord"].life_years
    assert item(answer(north), "putty")["life_years"] == KNOWLEDGE.measure["putty"].life_years


def test_sun_and_rain_shorten_and_a_storm_spares() -> None:
    north, south = paint(house(walls=wall("N"))), paint(house(walls=wall("S")))
    assert south < paint(house(walls=wall("W"))) < north
    assert south == pytest.approx(7 * (1 - SUN * 0.9397), abs=1e-3)
    assert paint(house(walls=wall("N", "driving rain"))) == pytest.approx(7 * RAIN["driving rain"])
    assert paint(house(walls=wall("N"), storey=3)) == pytest.approx(7 * HIGH)
    assert paint(house(walls=wall("N", "sheltered"), storey=3)) == pytest.approx(
        7 * RAIN["sheltered"]
    )
    assert paint(house({"storm": "winter"}, walls=wall("N"))) == pytest.approx(7 * COVER["winter"])


def test_cords_mind_no_weather() -> None:
    south = answer(house(walls=wall("S", "driving rain")))
    assert item(south, "cord")["factor"] == 1.0


@given(
    bearing=st.floats(0, 360),
    weather=st.sampled_from(sorted(RAIN)),
    storm=st.sampled_from(sorted(COVER)),
    storey=st.integers(-1, 9),
)
def test_factors_stay_within_bounds(bearing: float, weather: str, storm: str, storey: int) -> None:
    of = house(
        {"storm": storm},
        walls={"east": {"faces": bearing % 360, "weather": weather}},
        storey=storey,
    )
    found = exposure_of(place(of, "101", KNOWLEDGE), of.walls["east"])
    for covered in (True, False):
        assert LEAST <= found.factor(covered=covered) <= MOST
    assert found.factor(covered=True) >= found.factor(covered=False)


def test_what_a_window_has_not_is_not_kept_up() -> None:
    plain = {each["what"] for each in answer(house()).windows[0].values["items"]}
    assert not {"hooks", "storm-paint", "screen-cloth", "strip", "unit"} & plain
    rich = house(
        {
            "storm": "winter",
            "screen": {"kind": "full"},
            "strips": {"sides": "spring-bronze", "head": "felt"},
            "hanging": {"suspension": "chain-steel-light"},
            "sash": {"coating": "linseed-paint"},
        }
    )
    rows = {each["key"]: each for each in answer(rich).windows[0].values["items"]}
    assert {"hooks", "storm-paint", "screen-cloth", "chain", "linseed", "strip"} <= set(rows)
    # Felt goes first, after a year or two; the bronze beside it would last for decades.
    assert rows["strip"]["life_years"] == 1.5


def test_strips_that_are_only_planned_do_not_wear() -> None:
    planned = house({"strips": {"sides": "plastic-v", "state": "planned"}})
    assert "strip" not in {each["what"] for each in answer(planned).windows[0].values["items"]}


# --- clocks -----------------------------------------------------------------------


def test_nobody_has_looked_yet() -> None:
    found = answer(house())
    assert item(found, "inspect")["status"] == "due"
    assert item(found, "paint")["status"] == "unknown"
    assert found.values["unknown"] > 5
    assert found.values["next_look"] == TODAY


def test_a_survey_looks_and_leaves_half_a_life() -> None:
    found = answer(house(walls=wall("N"), **SURVEY))
    assert (item(found, "inspect")["last"], item(found, "inspect")["due"]) == (
        "2026-04-07", "2027-04-07",
    )  # fmt: skip
    painted = item(found, "paint")
    assert painted["last"] is None
    assert painted["due"] == years_later("2026-04-07", 3.5)
    assert painted["due_early"] == "2026-04-07"
    assert painted["due_late"] == years_later("2026-04-07", 10)


def test_a_fault_is_due_at_once_and_a_visit_ends_it() -> None:
    worn = house(
        walls=wall("N"),
        condition={"on": "2026-04-07", "found": [{"on": "frame.paint", "fault": "paint-worn"}]},
    )
    found = item(answer(worn), "paint")
    assert (found["status"], found["planned"]) == ("due", TODAY)
    assert found["faults"] == ["paint worn thin or chalking on frame.paint"]
    done = item(answer(worn, Visited("2026-06-20", "Paint outside", "101")), "paint")
    assert (done["status"], done["last"], done["due"]) == (
        "later", "2026-06-20", years_later("2026-06-20", 7),
    )  # fmt: skip
    before = item(answer(worn, Visited("2026-04-01", "paint", "101")), "paint")
    assert before["status"] == "due"


def test_a_visit_counts_where_it_was() -> None:
    of = house(**SURVEY)
    assert item(answer(of, Visited("2026-10-01", "wash")), "wash")["last"] == "2026-10-01"
    elsewhere = item(answer(of, Visited("2026-10-01", "wash", "102")), "wash")
    assert elsewhere["last"] is None
    own_words = answer(of, Visited("2026-10-01", "sang a song", "101"))
    assert {each["last"] for each in own_words.windows[0].values["items"]} == {None, "2026-04-07"}


def test_the_latest_of_several_counts() -> None:
    visits = [Visited("2024-10-01", "cord"), Visited("2025-10-01", "new cords")]
    assert item(answer(house(), *visits), "cord")["last"] == "2025-10-01"


def test_what_the_shop_did_counts_when_the_last_sash_hangs() -> None:
    of = house(decision={"alternative": "shop"}, **SURVEY)
    upper = Move("101", "upper", "hung", "2026-09-01")
    assert item(answer(of, moves=[upper]), "putty")["last"] is None
    both = [upper, Move("101", "lower", "hung", "2026-09-08")]
    found = answer(of, moves=both)
    for what in ("putty", "paint", "cord"):
        assert item(found, what)["last"] == "2026-09-08", what
    assert item(found, "pulleys")["last"] is None


def test_hours_written_down_count() -> None:
    of = house(spent=[{"task": "cord", "hours": 1.2, "on": "2026-05-01"}], **SURVEY)
    assert item(answer(of), "cord")["last"] == "2026-05-01"


# --- the plan ---------------------------------------------------------------------


def test_every_thing_comes_again_life_by_life() -> None:
    found = answer(house(walls=wall("N"), **SURVEY), Visited("2026-06-01", "paint"))
    days = item(found, "paint")["times"]
    assert days[0] == "2033-06-01"
    gaps = [day_number(b) - day_number(a) for a, b in pairwise(days)]
    assert all(abs(gap - 7 * 365.25) < 200 for gap in gaps)
    assert all(day[5:] == "06-01" for day in days)
    assert year_of(days[-1]) <= year_of(TODAY) + 30


def test_a_round_goes_back_to_its_month_at_the_first_chance() -> None:
    found = answer(house())
    assert item(found, "inspect")["times"][:3] == [TODAY, "2027-04-01", "2028-04-01"]
    surveyed = item(answer(house(**SURVEY)), "sill")["times"]
    assert surveyed[:3] == ["2028-04-01", "2030-04-01", "2032-04-01"]


@given(days=st.integers(0, 40_000), what=st.sampled_from(sorted(KNOWLEDGE.upkeep)))
def test_days_of_the_plan_rise_and_none_lies_behind(days: int, what: str) -> None:
    on = date_of(day_number("1990-01-01") + days % 13_000)
    found = answer(house({"storm": "winter", "screen": {"kind": "half"}}), Visited(on, what))
    for each in found.windows[0].values["items"]:
        times = each["times"]
        assert times == sorted(set(times))
        assert all(day >= TODAY for day in times)


def test_the_years_hold_every_day_of_the_windows() -> None:
    found = answer(house(**SURVEY))
    by_year = sum(len(row["windows"]) for year in found.values["years"] for row in year["rows"])
    by_window = sum(
        len({day[:4] for day in each["times"]}) for each in found.windows[0].values["items"]
    )
    assert by_year == by_window


def test_what_is_due_is_told() -> None:
    found = answer(house(**SURVEY), Visited("2019-06-01", "paint"))
    assert [row["key"] for row in found.values["due"]].count("paint") == 1
    (finding,) = [f for f in found.windows[0].findings if f.on == "paint"]
    assert finding.level == "caution"
    assert finding.says.startswith("Paint outside: due since ")


def test_changes_need_weather_and_something_to_change() -> None:
    assert answer(house({"storm": "winter"})).values["changes"] == []


def test_a_day_that_is_none() -> None:
    with pytest.raises(ValueError, match="expected a date such as"):
        answer(house(), today="next week")


# --- the table --------------------------------------------------------------------


def test_words_of_visits_lead_to_rows() -> None:
    for row in KNOWLEDGE.upkeep.values():
        assert row_of(row.key, KNOWLEDGE) is row
        assert row_of(f" {row.name.upper()} ", KNOWLEDGE) is row
    assert row_of("sang a song", KNOWLEDGE) is None


def test_rows_name_what_the_other_tables_have() -> None:
    for row in KNOWLEDGE.upkeep.values():
        assert set(row.tasks) <= set(KNOWLEDGE.task), row.key
        assert set(row.faults) <= set(KNOWLEDGE.fault), row.key
        assert not row.life or row.life in KNOWLEDGE.measure
        assert set(row.coatings) <= set(KNOWLEDGE.coating)
    for stage in KNOWLEDGE.stage.values():
        assert set(stage.tasks) <= set(KNOWLEDGE.task), stage.key
        assert set(stage.putty) <= set(KNOWLEDGE.putty), stage.key
        assert set(stage.coatings) <= set(KNOWLEDGE.coating), stage.key
