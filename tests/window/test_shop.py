"""A shop's document read: what is written, in which units, and what is refused."""

from __future__ import annotations

from typing import Any

import pytest

from sashwright.knowledge.load import load
from sashwright.units import INCH, POUND
from sashwright.window.shop import Shop, natural
from sashwright.window.shop_check import ShopError, shop_from

KNOWLEDGE = load()
BOARD = {"species": "white pine", "quarters": 8, "width": "6 1/4", "length": "10 ft"}


def problems(**said: Any) -> dict[str, str]:
    with pytest.raises(ShopError) as caught:
        shop_from(said, KNOWLEDGE)
    return {problem.field: problem.expected for problem in caught.value.problems}


def test_a_board_is_read_as_it_is_written() -> None:
    shop = shop_from({"boards": {"B1": BOARD | {"defects": ["27 to 30", "5 ft to 62"]}}}, KNOWLEDGE)
    board = shop.boards["B1"]
    assert board.width == pytest.approx(6.25 * INCH)
    assert board.length == pytest.approx(120 * INCH)
    ends = [end / INCH for d in board.defects for end in (d.start, d.end)]
    assert ends == pytest.approx([27, 30, 60, 62])
    assert board.count == 1
    written = shop.model_dump(mode="json", context={"system": "us"})["boards"]["B1"]
    assert written["defects"] == ["27 in to 30 in", "60 in to 62 in"]
    assert shop_from({"boards": {"B1": written | {"cost": None}}}, KNOWLEDGE) == shop


def test_bare_numbers_are_of_the_shops_own_units() -> None:
    shop = shop_from(
        {"units": "metric", "weights": {"31": {"mass": 3.6, "length": 420, "size": 38}}}, KNOWLEDGE
    )
    weight = shop.weights["31"]
    assert (weight.mass, weight.length, weight.size) == pytest.approx((3.6, 0.42, 0.038))


def test_a_shop_that_says_nothing_has_the_usual_rules() -> None:
    shop = Shop()
    assert shop.bin.tolerance == pytest.approx(POUND / 4)
    assert shop.saw.kerf == pytest.approx(INCH / 8)
    assert shop.table.least_strip == pytest.approx(0.010)
    assert not shop.boards


def test_everything_wrong_is_told_at_once() -> None:
    told = problems(
        hours={"bench-hand": 40, "overhead": 3},
        boards={"B1": BOARD | {"species": "balsa"}, "B2": BOARD | {"defects": ["100 to 130"]}},
        sheets={"G1": {"glass": "double-strength", "width": 20, "height": 30, "trim": "1/8"}},
        weights={"1": {"mass": "8 lb", "length": 17, "size": 1.5, "material": "gold"}},
        supplies={"cords": {"hemp": "20 ft"}},
    )
    assert set(told) == {
        "hours.overhead", "boards.B1.species", "boards.B2.defects.0", "sheets.G1.trim",
        "weights.1.material", "supplies.cords.hemp",
    }  # fmt: skip
    assert told["hours.overhead"] == "a skill that is paid by the hour"
    assert "10 mm" in told["sheets.G1.trim"]


@pytest.mark.parametrize("defect", ["27", "30 to 27", "27 and 30", "27 to soft"])
def test_a_defect_that_makes_no_sense_is_refused(defect: str) -> None:
    assert problems(boards={"B1": BOARD | {"defects": [defect]}})


@pytest.mark.parametrize("label", ["", "B.1", "-1", "B" * 25])
def test_a_label_that_no_address_can_hold_is_refused(label: str) -> None:
    assert problems(boards={label: BOARD})


def test_labels_are_sorted_as_people_number() -> None:
    labels = ["B10", "B2", "12", "9", "B2a", "b1"]
    assert sorted(labels, key=natural) == ["9", "12", "b1", "B2", "B2a", "B10"]


def test_the_schema_knows_every_drawer() -> None:
    properties = Shop.model_json_schema()["properties"]
    assert {"boards", "strips", "sheets", "weights", "lumber", "glass", "supplies"} <= set(
        properties
    )
