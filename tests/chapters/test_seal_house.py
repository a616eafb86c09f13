"""The house: totals, fan tests before and after, and the air that wind and warmth exchange."""

from __future__ import annotations

import json
from typing import Any

import numpy as np
import pytest

from sashwright.chapters.answer import Answer
from sashwright.chapters.seal import seal
from sashwright.chapters.seal.house import REPEATS
from sashwright.chapters.weather import normals_of, year_of
from sashwright.knowledge.climate_load import gazetteer
from sashwright.physics.hourly_year import DAYS_OF_MONTH, HOURS
from sashwright.physics.infiltration import enhanced_infiltration, wind_at
from sashwright.window.check import HouseError
from sashwright.window.spec import House
from tests.chapters.houses import KNOWLEDGE, PLAIN, Document, house_of

ROUNDING = 1e-9
BURLINGTON = gazetteer().find("Burlington, VT")
MANY = tuple({**PLAIN, "storey": 1 + n % 2} for n in range(20))
"""Twenty windows on two storeys."""
PLANNED = {
    "strips": {**dict.fromkeys(("sides", "head", "sill", "meeting_rail"), "spring-bronze"),
               "state": "planned"}
}  # fmt: skip


def answer(air: Document | None = None, family: Document | None = None, **given: Any) -> Answer:
    return seal(house(air, family), KNOWLEDGE, **given)


def house(air: Document | None = None, family: Document | None = None) -> House:
    return house_of(family or PLANNED, *MANY, air=air or {})


def total(found: Answer, name: str, at: str, *, storm: bool = False) -> float:
    rows = found.values["totals"]
    row = next(row for row in rows if (row["name"], row["storm"]) == (name, storm))
    return float(row[f"flow_{at}_m3_s"])


def says(found: Answer, level: str, words: str) -> str:
    (finding,) = [f for f in found.findings if f.level == level and words in f.says]
    return finding.says + finding.because


# --- totals ---------------------------------------------------------------------------


def test_windows_add_up() -> None:
    found = answer()
    for at in ("4", "50", "75"):
        each = [w.values["as_found"][f"flow_{at}_m3_s"] for w in found.windows]
        assert total(found, "as found", at) == pytest.approx(sum(each), rel=ROUNDING)
    assert total(found, "as the family has it", "75") < total(found, "repaired", "75")
    assert total(found, "as found", "75", storm=True) < total(found, "as found", "75")
    assert found.values["house_flow_4_m3_s"] is None
    assert "only the air through its windows" in says(found, "note", "not been tested")


def test_some_windows_only_leave_the_house_whole() -> None:
    few = answer(numbers=["3", "1"])
    assert [window.number for window in few.windows] == ["3", "1"]
    assert few.values["totals"] == answer().values["totals"]


def test_a_window_that_cannot_be_says_so_and_the_rest_answer() -> None:
    broken = house().windows[0].model_copy(update={"width": 0.05})
    whole = house()
    found = seal(whole.model_copy(update={"windows": (broken, *whole.windows[1:])}), KNOWLEDGE)
    assert found.windows[0].worst == "fail"
    assert found.windows[0].values == {}
    assert found.values["windows"] == 19


def test_a_row_no_table_has_says_so() -> None:
    whole = house()
    family = whole.families["A"]
    seals = family.seals.model_copy(update={"sill": "chewing-gum"})
    families = {"A": family.model_copy(update={"seals": seals})}
    found = seal(whole.model_copy(update={"families": families}), KNOWLEDGE)
    assert {window.worst for window in found.windows} == {"fail"}
    assert found.values["windows"] == 0
    json.dumps(found.to_dict())


def test_an_empty_house() -> None:
    found = seal(House(name="empty"), KNOWLEDGE, place=BURLINGTON)
    assert found.windows == []
    assert found.findings == []
    json.dumps(found.to_dict())


# --- fan tests ------------------------------------------------------------------------


def fan_tests(factor: float, before: float = 1.5) -> dict[str, Any]:
    """Fan tests of a house whose windows change ``factor`` times what the tables say [m3/s]."""
    plain = answer()
    change = total(plain, "as found", "50") - total(plain, "as the family has it", "50")
    after = before - factor * change
    return {"before": {"flow": f"{before} m3/s"}, "after": {"flow": f"{after} m3/s"}}


@pytest.mark.parametrize("factor", [0.7, 1.0, 1.4])
def test_before_and_after_find_the_factor(factor: float) -> None:
    found = answer(fan_tests(factor))
    calibration = found.values["calibration"]
    assert calibration["factor"] == pytest.approx(factor, rel=1e-6)
    # Bounds: two standard deviations of both tests, as a share of the change.
    before, after = calibration["before_50_m3_s"], calibration["after_50_m3_s"]
    doubt = 2 * REPEATS * np.hypot(before, after) / calibration["expected_change_50_m3_s"]
    assert calibration["factor_high"] - calibration["factor"] == pytest.approx(doubt, rel=1e-6)
    assert calibration["factor"] - calibration["factor_low"] == pytest.approx(doubt, rel=1e-6)
    # What is used lies between tables and tests, and all windows are scaled by it.
    used = calibration["factor_used"]
    assert min(1, factor) - ROUNDING <= used <= max(1, factor) + ROUNDING
    plain = answer()
    for mine, theirs in zip(found.windows, plain.windows, strict=True):
        assert mine.values["factor"] == used
        assert mine.values["factor_source"] == "house test"
        ratio = mine.values["as_found"]["flow_75_m3_s"] / theirs.values["as_found"]["flow_75_m3_s"]
        assert ratio == pytest.approx(used, rel=1e-9)
    says(found, "ok", "By the fan tests the windows leak")


def test_a_sharper_pair_of_tests_counts_for_more() -> None:
    """The same change in a tighter house stands out further from what the tests repeat within."""
    leaky = answer(fan_tests(1.5, before=4.0)).values["calibration"]
    tight = answer(fan_tests(1.5, before=1.0)).values["calibration"]
    assert leaky["factor"] == pytest.approx(tight["factor"], rel=1e-6)
    assert 1 < leaky["factor_used"] < tight["factor_used"] < 1.5


def test_tests_beyond_the_ranges_are_held() -> None:
    found = answer(fan_tests(6.0, before=3.0))
    calibration = found.values["calibration"]
    assert calibration["factor_used"] <= calibration["tables_high"] < 6
    assert "Something else in the house" in says(found, "caution", "ask for 6.00 times")


def test_no_change_or_more_air_after_the_work_is_held_too() -> None:
    found = answer(fan_tests(-0.5))
    calibration = found.values["calibration"]
    assert calibration["factor"] == pytest.approx(-0.5, rel=1e-6)
    assert calibration["tables_low"] <= calibration["factor_used"] < 1
    says(found, "caution", "ask for -0.50 times")


def test_a_window_with_its_own_test_keeps_it() -> None:
    windows = [{**window} for window in MANY]
    windows[0]["measured"] = {"air": {"flow": "40 cfm"}}
    found = seal(house_of(PLANNED, *windows, air=fan_tests(1.3)), KNOWLEDGE)
    first, second = found.windows[0].values, found.windows[1].values
    assert first["factor_source"] == "window test"
    assert second["factor_source"] == "house test"
    assert first["as_found"]["flow_75_m3_s"] == pytest.approx(40 * 4.719474432e-4, rel=1e-9)


def test_air_changes_need_the_volume() -> None:
    volume = {"volume": "12000 ft3"}
    flow = answer({**volume, "before": {"flow": "2000 cfm"}}).values["house_flow_4_m3_s"]
    changes = answer({**volume, "before": {"air_changes": 10}}).values["house_flow_4_m3_s"]
    # 10 x 12,000 ft3 an hour are 2,000 cfm.
    assert changes == pytest.approx(flow, rel=1e-9)
    for wrong, says_ in (
        ({"before": {"air_changes": 10}}, "expected the volume of the house"),
        ({"before": {}}, "expected one of the two"),
        ({**volume, "before": {"air_changes": 10, "flow": "2000 cfm"}}, "one of the two"),
    ):
        with pytest.raises(HouseError, match=says_):
            house(wrong)


def test_shares_of_the_house() -> None:
    plain = total(answer(), "as found", "4")
    flow = plain * (50 / 4) ** 0.65
    found = answer({"before": {"flow": f"{4 * flow} m3/s"}})
    assert found.values["windows_share"] == pytest.approx(0.25, rel=1e-9)
    assert says(found, "note", "Windows take 25 % of the air")
    found = answer({"before": {"flow": f"{0.5 * flow} m3/s"}})
    assert "2 times what the whole house does" in says(found, "caution", "too leaky")


# --- air exchange ---------------------------------------------------------------------


def exchange(found: Answer) -> dict[str, Any]:
    return dict(found.values["air_exchange"])


def rows(found: Answer) -> dict[tuple[str, bool], dict[str, Any]]:
    return {(row["name"], row["storm"]): row for row in exchange(found)["scenarios"]}


AIR = {"volume": "12000 ft3", "eaves": "18 ft", "before": {"flow": "2400 cfm"}}


def test_no_weather_no_exchange() -> None:
    assert answer(AIR).values["air_exchange"] is None


def test_months_by_hand() -> None:
    found = answer(AIR, place=BURLINGTON)
    months = rows(found)["as found", False]["months_m3_s"]
    normals = normals_of(BURLINGTON)
    at_4 = found.values["house_flow_4_m3_s"]
    by_hand = enhanced_infiltration(
        at_4 / 4**0.65,
        0.65,
        np.maximum(20.0 - normals.temperature, 0.0),
        wind_at(normals.wind_speed, 18 * 0.3048, "suburb"),
        storeys=2,
        shielding="heavy",
    )
    assert months == pytest.approx(by_hand.tolist(), rel=1e-9)
    row = rows(found)["as found", False]
    mean = float(np.average(months, weights=DAYS_OF_MONTH))
    assert row["mean_m3_s"] == pytest.approx(mean, rel=1e-9)
    assert row["air_changes_h"] == pytest.approx(mean * 3600 / (12000 * 0.3048**3), rel=1e-9)
    assert exchange(found)["by"] == "months"


def test_hours_and_months_agree_roughly() -> None:
    """Mean temperature and wind of a month leave out the swings within it.

    Calm and windy hours together exchange about what the mean wind does, for the flow grows with wind
    to the power 1.3; within a tenth through the heating season at this station.
    """
    hourly = rows(answer(AIR, year=year_of(BURLINGTON)))["as found", False]
    monthly = rows(answer(AIR, place=BURLINGTON))["as found", False]
    assert hourly["heating_mean_m3_s"] == pytest.approx(monthly["heating_mean_m3_s"], rel=0.10)
    assert len(hourly["months_m3_s"]) == 12
    # Where a year is given it comes before the place.
    both = answer(AIR, year=year_of(BURLINGTON), place=BURLINGTON)
    assert exchange(both)["by"] == "hours"


def test_tightening_exchanges_less_and_storms_less_again() -> None:
    found = rows(answer(AIR, place=BURLINGTON))
    for storm in (False, True):
        means = [found[name, storm]["mean_m3_s"]
                 for name in ("as found", "repaired", "as the family has it", "every step")]  # fmt: skip
        assert means == sorted(means, reverse=True)
    for name in ("as found", "repaired", "every step"):
        assert found[name, True]["mean_m3_s"] < found[name, False]["mean_m3_s"]
    # The windows' own saving, and no more, is taken from the house.
    plain = answer(AIR, place=BURLINGTON)
    saved = total(plain, "as found", "4") - total(plain, "repaired", "4")
    area = saved / (2 * 4 / 1.2) ** 0.5 * 1e4
    rows_ = rows(plain)
    before, after = (rows_[n, False]["leakage_area_cm2"] for n in ("as found", "repaired"))
    assert before - after == pytest.approx(area, rel=1e-6)


def test_an_untested_house_answers_for_its_windows() -> None:
    found = answer(place=BURLINGTON)
    assert exchange(found)["of"] == "windows"
    assert exchange(found)["eaves_m"] == pytest.approx(0.6 + 2 * 2.7)
    area = rows(found)["as found", False]["leakage_area_cm2"]
    each = sum(w.values["as_found"]["leakage_area_cm2"] for w in found.windows)
    assert area == pytest.approx(each, rel=1e-6)


def test_a_test_after_the_work_gives_the_house_before_it() -> None:
    plain = answer()
    saved = total(plain, "as found", "4") - total(plain, "as the family has it", "4")
    after = answer({"after": {"flow": "2000 cfm"}}).values["house_flow_4_m3_s"]
    same = answer({"before": {"flow": "2000 cfm"}}).values["house_flow_4_m3_s"]
    assert after - same == pytest.approx(saved, rel=1e-9)


def test_flue_shelter_and_storeys_are_taken() -> None:
    def mean(**more: Any) -> float:
        return float(
            rows(answer({**AIR, **more}, place=BURLINGTON))["as found", False]["mean_m3_s"]
        )

    plain = mean()
    assert mean(flue=True) > plain
    assert mean(shielding="none") > plain > mean(shielding="very heavy")
    assert mean(terrain="open") > plain > mean(terrain="city")
    assert mean(storeys=3) > plain > mean(storeys=1)
    assert mean(eaves="30 ft") > plain


def test_summer_warmth_counts_only_when_the_house_is_cooled() -> None:
    """Without cooling a house follows the weather above its heating; with it air comes in for warmth."""
    hot = gazetteer().find("Phoenix, AZ")
    july = [
        rows(seal(house_of(PLANNED, *MANY, **extra), KNOWLEDGE, place=hot))["as found", False][
            "months_m3_s"
        ][6]
        for extra in ({}, {"cooled_to": "76 F"})
    ]
    assert july[0] < july[1]


def test_the_house_answers_in_plain_data() -> None:
    found = answer(fan_tests(1.2) | {"volume": "12000"}, year=year_of(BURLINGTON))
    json.dumps(found.to_dict())
    assert all(step.source for step in found.working)
    names = {step.step for step in found.working}
    assert {"factor of the fan tests", "factor used", "mean air exchange as found"} <= names
    assert len(year_of(BURLINGTON).temperature) == HOURS
