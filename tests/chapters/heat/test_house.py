"""A house's windows together: totals, the wind on them, and each state added up."""

from __future__ import annotations

import json
from functools import cache

import pytest

from sashwright.chapters.answer import Answer
from sashwright.chapters.heat import heat
from sashwright.chapters.weather import year_of
from sashwright.knowledge.climate_load import gazetteer
from sashwright.window.spec import House
from tests.chapters.houses import KNOWLEDGE, PLAIN, house_of

PORTLAND = gazetteer().find("Portland, ME")
LOW_E = {"storm_sash": {"glazing": {"coatings": ["none", "hard-coat"]}}}


def house() -> House:
    """Three windows, two with clear storms, one with a low-e storm and shutters."""
    changed = {**PLAIN, "changes": {**LOW_E, "covering": "shutters"}}
    return house_of({"storm": "winter"}, PLAIN, {**PLAIN, "storey": 2}, changed)


@cache
def with_weather() -> Answer:
    return heat(house(), KNOWLEDGE, year=year_of(PORTLAND), place=PORTLAND)


@cache
def without() -> Answer:
    return heat(house(), KNOWLEDGE)


def totals(answer: Answer) -> dict[str, dict[str, float]]:
    return {row["key"]: row for row in answer.values["totals"]}


def test_the_whole_answer_is_data() -> None:
    for answer in (with_weather(), without()):
        assert json.loads(json.dumps(answer.to_dict(), allow_nan=False)) == answer.to_dict()
        assert answer.chapter == "heat"
        assert [window.number for window in answer.windows] == ["1", "2", "3"]
        assert answer.findings
        assert answer.working


def test_totals_are_the_sums_of_the_windows() -> None:
    found = totals(with_weather())["as found"]
    for name in ("loss_en_w_k", "loss_na_w_k", "leak_w_k", "total_en_w_k"):
        each = [
            next(row for row in w.values["alternatives"] if row["key"] == w.values["as_found"])[
                name
            ]
            for w in with_weather().windows
        ]
        assert found[name] == pytest.approx(sum(each))
    area = sum(w.values["area_m2"] for w in with_weather().windows)
    assert found["u_en_w_m2k"] == pytest.approx(found["loss_en_w_k"] / area)


@pytest.mark.parametrize("convention", ["en", "na"])
def test_each_measure_for_all_windows_saves(convention: str) -> None:
    rows = {key: row[f"total_{convention}_w_k"] for key, row in totals(with_weather()).items()}
    assert rows["prime"] > rows["storm-clear"] > rows["storm"] > rows["storm-low-e"]
    assert rows["as found"] == rows["storm"]
    assert rows["prime"] > rows["inside"] > rows["inside-low-e"]
    assert totals(with_weather())["prime"][f"saves_{convention}_share"] == 0


def test_a_state_says_how_many_windows_can_have_it() -> None:
    assert totals(with_weather())["storm-clear"]["windows"] == 1
    assert totals(with_weather())["storm-low-e"]["windows"] == 2
    assert totals(with_weather())["prime"]["windows"] == 3


def test_the_wind_is_that_of_the_heating_season() -> None:
    values = with_weather().values
    # A sheltered house in Maine: a third of a pascal to two, by wind and by warmth.
    assert 0.2 < values["pressure_pa"] < 2
    assert "Portland" in values["pressure_source"]
    assert without().values["pressure_pa"] == 4.0
    assert (
        totals(without())["as found"]["leak_w_k"] > totals(with_weather())["as found"]["leak_w_k"]
    )


def test_more_wind_carries_more_heat_off() -> None:
    windy = house().model_copy(
        update={"air": house().air.model_copy(update={"shielding": "none", "terrain": "flat"})}
    )
    ours = heat(windy, KNOWLEDGE, ["1"], year=year_of(PORTLAND))
    assert ours.values["pressure_pa"] > 1.5 * with_weather().values["pressure_pa"]


def test_the_design_temperature_comes_from_the_year() -> None:
    cold, freezing = with_weather().windows[0].values["weathers"]
    assert -22 < cold["outdoor_c"] < -10
    assert freezing["outdoor_c"] == 0.0
    assert [row["outdoor_c"] for row in without().windows[0].values["weathers"]] == [-18.0, 0.0]


def test_water_on_the_glass_is_followed_through_the_year() -> None:
    followed = with_weather().windows[0]
    assert followed.values["condensation"]["year"] is not None
    assert any(finding.on.startswith("condensation") for finding in followed.findings)
    assert without().windows[0].values["condensation"]["year"] is None


def test_only_the_windows_asked_for_are_counted() -> None:
    some = heat(house(), KNOWLEDGE, ["2"])
    assert [window.number for window in some.windows] == ["2"]
    assert some.values["windows"] == 1
    with pytest.raises(KeyError):
        heat(house(), KNOWLEDGE, ["9"])
