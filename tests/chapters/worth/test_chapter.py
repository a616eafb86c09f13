"""The answer for a house: whole, plain data, and on no side."""

from __future__ import annotations

import json
from typing import Any

import pytest

from sashwright.chapters.worth import worth
from sashwright.window.check import house_from
from sashwright.window.spec import House
from tests.chapters.worth.towns import KNOWLEDGE, year

WINDOW = {"family": "A", "width": "32", "height": "60", "room": "parlor"}


def house(**fields: Any) -> House:
    windows = [
        {**WINDOW, "number": str(at + 1), "wall": wall}
        for at, wall in enumerate(("north", "east", "south", "west"))
    ]
    document = {
        "name": "12 Elm Street",
        "families": {"A": {}},
        "windows": windows,
        "air": {"volume": "9000 ft3"},
        **fields,
    }
    return house_from(document, KNOWLEDGE)


def test_it_answers_with_plain_data_that_say_what_was_compared() -> None:
    answer = worth(house(), KNOWLEDGE, year=year("Boston"), draws=60)
    data = json.loads(json.dumps(answer.to_dict(), allow_nan=False))
    values = data["values"]
    assert values["base"] == "keep"
    assert "nothing before the windows" in values["baseline"]
    assert len(data["windows"]) == values["windows"] == 4
    keys = [each["key"] for each in values["alternatives"]]
    assert keys[0] == "keep"
    assert {"repair", "storm-low-e", "inside", "new-sash", "replace-pvc"} <= set(keys)
    best = min(values["alternatives"], key=lambda each: each["net_present_cost"])
    assert values["cheapest"] == best["key"]
    for each in values["alternatives"]:
        assert len(each["cost_by_year"]) == values["years"] + 1
        assert each["cost_by_year"][-1] == pytest.approx(each["net_present_cost"])
        assert each["cost_by_year"][0] == pytest.approx(each["first_cost"])
    assert len(values["inputs"]) > 10
    assert any(study["study"].startswith("The trade") for study in values["studies"])
    assert any("starting allowances" in finding["says"] for finding in data["findings"])
    assert len(data["working"]) >= 3


def test_it_says_replace_where_replacing_is_cheapest() -> None:
    free = {"costs": {"replace-pvc": 1.0, "unit-seal": 1.0, "replaced-upkeep": 1.0}}
    answer = worth(house(running=free), KNOWLEDGE, year=year("Boston"), draws=40)
    assert answer.values["cheapest"] == "replace-pvc"
    assert answer.findings[0].says.startswith("Replace:")
    assert answer.findings[0].level == "ok"
    assert answer.values["margin"]["keeping_costs_less_share"] < 0.1


def test_the_same_seed_gives_the_same_answer() -> None:
    one, again = (
        worth(house(), KNOWLEDGE, year=year("Boston"), draws=20, seed=4).to_dict() for _ in "ab"
    )
    assert one == again


def test_without_draws_there_are_no_ranges() -> None:
    answer = worth(house(), KNOWLEDGE, year=year("Boston"), draws=0)
    assert answer.values["inputs"] == []
    assert all(each["ranges"] is None for each in answer.values["alternatives"])


def test_a_quote_in_the_house_file_takes_the_place_of_the_allowance() -> None:
    answer = worth(
        house(running={"costs": {"repair": 1000.0}}), KNOWLEDGE, year=year("Boston"), draws=0
    )
    repair = next(each for each in answer.values["alternatives"] if each["key"] == "repair")
    assert repair["first_cost"] == pytest.approx(1000 * repair["work"]["repair"], rel=1e-3)
    assert not any("allowances" in finding.says for finding in answer.findings)


def test_it_needs_weather_and_windows() -> None:
    with pytest.raises(ValueError, match="expected one of the two"):
        worth(house(), KNOWLEDGE)
    answer = worth(house(windows=[]), KNOWLEDGE, year=year("Boston"))
    assert answer.worst == "fail"
    assert answer.values == {}


def test_windows_that_cannot_be_laid_out_are_told_and_left_out() -> None:
    good = {**WINDOW, "number": "1", "wall": "north"}
    spoiled = house().model_copy(
        update={"windows": (*house(windows=[good]).windows, house().windows[1].model_copy(
            update={"number": "9", "family": "Z"}))}
    )  # fmt: skip
    answer = worth(spoiled, KNOWLEDGE, year=year("Boston"), draws=0)
    told = {each.number: each.worst for each in answer.windows}
    assert told == {"1": "ok", "9": "fail"}
    assert answer.values["windows"] == 1
