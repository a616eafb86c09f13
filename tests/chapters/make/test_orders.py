"""What to order: nothing forgotten, nothing twice, less the stock and what is on order."""

from __future__ import annotations

from collections import Counter
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sashwright.chapters.hang import hang
from sashwright.chapters.make.cutlist import cut_list
from sashwright.chapters.make.needs import BOARDS, CUT, OUTSIDE, PANES, Need, needs_of
from sashwright.chapters.make.orders import orders
from sashwright.chapters.make.stocked import stock_of
from sashwright.chapters.make.wanted import Wanted, wanted_of
from sashwright.knowledge.load import load
from sashwright.window.check import house_from
from sashwright.window.shop import Shop
from sashwright.window.spec import House
from tests.factories import family_document, house_document, window_document

KNOWLEDGE = load()
EVERYTHING = [
    {"on": "lower.bottom_rail", "fault": "decay", "severity": "severe", "length": "6"},
    {"on": "upper.lite.1.1", "fault": "glass-broken"},
    {"on": "lower.cord", "fault": "cord-broken", "count": 1},
    {"on": "lower.weight", "fault": "weight-missing", "count": 1},
    {"on": "frame.sill", "fault": "decay", "severity": "severe", "length": "5"},
    {"on": "upper.left_stile", "fault": "worn", "length": "12"},
]
ALTERNATIVES = ("shop", "new-sash", "storm", "shop-storm", "in-place")


def house(**more: Any) -> House:
    """A window for each alternative, each with everything wrong that a task mends."""
    windows = [
        window_document(
            f"10{number}",
            decision={"alternative": alternative},
            condition={"found": EVERYTHING},
            wall=("north", "east", "south", "west", "north")[number],
        )
        for number, alternative in enumerate(ALTERNATIVES)
    ]
    family = family_document(screen={"kind": "half"}, sash={"lites": "2x1"})
    return house_from(house_document(families={"A": family}, windows=windows, **more), KNOWLEDGE)


HOUSE = house()
NEEDS = needs_of(HOUSE, KNOWLEDGE)
WANTED = {each.number: each for each in wanted_of(HOUSE, KNOWLEDGE)[0]}
CUTS = cut_list(HOUSE, KNOWLEDGE)


def of(item: str) -> Need:
    return next(need for need in NEEDS if need.item == item)


def amounts(wanted: Wanted) -> Counter[str]:
    """Every material that the tasks of a window name, waste included."""
    found: Counter[str] = Counter()
    assert wanted.alternative is not None
    for work in wanted.alternative.work:
        for amount in work.task.amounts:
            waste = 1 + KNOWLEDGE.material[amount.material].waste
            found[amount.material] += amount.amount * work.charged * waste
    return found


# --- nothing forgotten ------------------------------------------------------------


@pytest.mark.parametrize("number", sorted(WANTED))
def test_every_material_of_every_task_has_its_line(number: str) -> None:
    for key in amounts(WANTED[number]):
        kind = KNOWLEDGE.material[key].supplier
        lines = [n for n in NEEDS if n.supplier == kind and number in n.windows]
        assert lines, (number, key)


def test_every_need_is_on_exactly_one_line() -> None:
    values = orders(HOUSE, KNOWLEDGE, needs=NEEDS).values
    lines = [row["item"] for kind in values["kinds"].values() for row in kind["lines"]]
    assert Counter(lines) == Counter(need.item for need in NEEDS)
    assert max(Counter(lines).values()) == 1


def test_materials_that_no_chapter_knows_better_add_up() -> None:
    """Everything but what the cutting list, the hang chapter and the strips stand for."""
    better = BOARDS | PANES | OUTSIDE | {"cord", "weight", "pulley", "strip", "putty", "cloth"}
    priced: Counter[str] = Counter()
    for wanted in WANTED.values():
        priced.update(amounts(wanted))
    for key in set(priced) - better:
        assert of(f"material/{key}").quantity == pytest.approx(priced[key]), key
    assert of("putty/linseed-oil-putty").quantity == pytest.approx(priced["putty"])


def test_parts_and_panes_of_the_cutting_list_add_up() -> None:
    lumber = sum(need.quantity for need in NEEDS if need.item.startswith("lumber/"))
    waste = 1 + KNOWLEDGE.material["board"].waste
    assert lumber == pytest.approx(waste * CUTS.totals.board_feet)
    panes = sum(need.quantity for need in NEEDS if need.item.startswith("glass/"))
    assert panes == sum(part.count for part in CUTS.glass)
    strips = sum(need.quantity for need in NEEDS if need.item.startswith("strip/"))
    assert strips == pytest.approx(1.1 * sum(CUTS.totals.strips.values()))
    hooks = of("hardware/hook-and-eye").quantity
    assert hooks == CUTS.totals.hardware["hook-and-eye"]


def test_boards_of_tasks_that_the_cutting_list_has_not_stay() -> None:
    """Building out a stile takes strips of wood that are ripped, not listed."""
    assert "build-out" not in CUT
    tasks = {work.task.key for each in WANTED.values() for work in each.alternative.work}  # type: ignore[union-attr]
    assert "build-out" in tasks
    assert of("material/board").quantity > 0


def test_cords_are_as_long_as_the_hang_chapter_has_them() -> None:
    asked = [n for n, w in WANTED.items() if any(k.task.key == "cord" for k in w.alternative.work)]  # type: ignore[union-attr]
    hung = {each.number: each.values for each in hang(HOUSE, KNOWLEDGE, asked).windows}
    by_hand = 0.0
    for number in asked:
        way = WANTED[number].alternative
        assert way is not None
        for work in way.work:
            if work.task.key == "cord":
                assert work.of is not None
                by_hand += work.charged * hung[number][work.of]["cord_each_mm"] / 1000 * 1.1
    assert of("cord/cotton-8").quantity == pytest.approx(by_hand)


def test_a_missing_weight_is_ordered_by_its_mass() -> None:
    weights = [need for need in NEEDS if need.supplier == "weights"]
    assert weights
    values = hang(HOUSE, KNOWLEDGE, [weights[0].windows[0]]).windows[0].values["lower"]
    assert weights[0].item == f"weight/cast-iron/{values['weight_each_kg']:.2f}"
    found = orders(HOUSE, KNOWLEDGE, needs=NEEDS).findings
    assert any("Weigh each sash" in finding.says for finding in found)


# --- less stock and orders --------------------------------------------------------

PLACES = st.lists(st.floats(0, 2), min_size=len(NEEDS), max_size=len(NEEDS))


@given(stock=PLACES, ordered=PLACES, came=PLACES)
def test_orders_sum(stock: list[float], ordered: list[float], came: list[float]) -> None:
    """Of each thing: stock used + on order + received + to order = need, or all of it is there."""
    here = {need.item: share * need.quantity for need, share in zip(NEEDS, stock, strict=True)}
    asked = {need.item: share * need.quantity for need, share in zip(NEEDS, ordered, strict=True)}
    got = {item: min(share, 1) * asked[item] for item, share in zip(asked, came, strict=True)}
    answer = orders(HOUSE, KNOWLEDGE, needs=NEEDS, stock=here, ordered=asked, received=got)
    for kind in answer.values["kinds"].values():
        for row in kind["lines"]:
            covered = row["in_stock"] + row["on_order"] + row["received"]
            total = covered + row["to_order"]
            assert row["to_order"] >= 0
            assert row["in_stock"] <= row["need"] + 1e-9
            assert total >= row["need"] - 1e-6 * max(row["need"], 1)
            if row["to_order"] > 0 and row["unit"] not in ("piece", "pane", "window", "cartridge"):
                assert total == pytest.approx(row["need"])


def test_no_part_of_a_piece_is_ordered() -> None:
    answer = orders(HOUSE, KNOWLEDGE, needs=NEEDS, stock={"material/pin": 0.5})
    for kind in answer.values["kinds"].values():
        for row in kind["lines"]:
            if row["unit"] in ("piece", "pane"):
                assert row["to_order"] == int(row["to_order"]), row["item"]


def test_what_is_ordered_and_not_needed_any_more_is_told() -> None:
    answer = orders(HOUSE, KNOWLEDGE, needs=NEEDS, ordered={"pulley/gold": 2.0})
    assert answer.values["no_longer_needed"] == ["pulley/gold"]
    assert any("pulley/gold" in finding.says for finding in answer.findings)


def test_all_there() -> None:
    stock = {need.item: need.quantity + 1 for need in NEEDS}
    answer = orders(HOUSE, KNOWLEDGE, needs=NEEDS, stock=stock)
    assert answer.values["to_order"] == 0
    assert answer.worst == "caution"  # weights are weighed first, also those in stock
    assert [f.level for f in answer.findings if f.on == "orders"] == ["ok"]


def test_the_shop_has_what_it_says() -> None:
    pine = {"species": "eastern-white-pine", "quarters": 8}
    document = {
        "boards": {
            "B1": {**pine, "width": "6", "length": "72", "count": 2},
            "B2": {**pine, "width": "12", "length": "12"},
        },
        "supplies": {
            "cords": {"cotton-8": "100'"},
            "pulleys": {"plain-2": 4},
            "putty": {"linseed-oil-putty": "5 lb"},
            "materials": {"primer": 2},
        },
    }
    shop = Shop.model_validate(document, context={"system": "us"})
    stock = stock_of(shop, KNOWLEDGE)
    # 2 in by 6 in by 6 ft is 6 board feet, twice; 2 by 12 by 1 ft is 2.
    assert stock["lumber/eastern-white-pine/8"] == pytest.approx(14)
    assert stock["cord/cotton-8"] == pytest.approx(30.48)
    assert stock["pulley/plain-2"] == 4
    assert stock["putty/linseed-oil-putty"] == pytest.approx(2.26796, abs=1e-4)
    assert stock["material/primer"] == 2
