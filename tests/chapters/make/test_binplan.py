"""The bin on a house: every weight once, near its target and in its pocket, as few bought as can be."""

from __future__ import annotations

import time
from itertools import permutations
from typing import Any

import pytest

from benchmarks.houses import house_of
from sashwright.chapters.answer import Answer
from sashwright.chapters.hang import hang
from sashwright.chapters.make.binplan import bin_plan
from sashwright.chapters.make.budget import Budget
from sashwright.knowledge.load import load
from sashwright.units import POUND
from sashwright.window.pocket import room_through_wall
from sashwright.window.resolve import Placed, place_each
from sashwright.window.shop import Shop
from sashwright.window.shop_check import shop_from
from sashwright.window.spec import House

KNOWLEDGE = load()
HAIR = 1e-9


def shop(masses: list[float], length: float = 0.3, **rules: Any) -> Shop:
    """Weights of these masses [kg], 1 1/2 in thick."""
    weights = {
        str(at): {"mass": f"{mass!r} kg", "length": f"{length * 1000} mm", "size": "1 1/2"}
        for at, mass in enumerate(masses, 1)
    }
    return shop_from({"weights": weights, "bin": rules}, KNOWLEDGE)


def ask(some: House, stock: Shop, seconds: float = 2.0) -> Answer:
    return bin_plan(some, KNOWLEDGE, stock, Budget(seconds, time.monotonic))


def targets(some: House) -> dict[tuple[str, str], dict[str, Any]]:
    return {
        (window.number, which): window.values[which]
        for window in hang(some, KNOWLEDGE).windows
        for which in ("upper", "lower")
        if window.values.get(which)
    }


def check(answer: Answer, some: House, stock: Shop) -> None:
    """Against the hang chapter and the shop's rules, from the answer alone."""
    wanted, used = targets(some), []
    rooms = {
        window.number: room_through_wall(placed.layout)
        for window, placed in place_each(some, KNOWLEDGE)
        if isinstance(placed, Placed)
    }
    bought = 0
    for window in answer.windows:
        thick: dict[str, list[float]] = {"left": [], "right": []}
        for which in ("upper", "lower"):
            values = window.values.get(which)
            if values is None:
                continue
            target = wanted[window.number, which]
            masses = []
            for side in ("left", "right"):
                weight = values[side]
                if weight is None:
                    bought += 1
                    masses.append(target["weight_each_kg"])
                    thick[side].append((target["weight_size_mm"] or 0.0) / 1000)
                    continue
                used.append(weight["number"])
                masses.append(weight["mass_kg"])
                thick[side].append(weight["size_mm"] / 1000)
                assert (
                    abs(weight["mass_kg"] - target["weight_each_kg"]) <= stock.bin.tolerance + HAIR
                )
                assert weight["length_mm"] <= target["longest_weight_mm"] + 1e-6
                assert weight["size_mm"] <= target["thickest_weight_mm"] + 1e-6
            assert abs(masses[0] - masses[1]) <= stock.bin.apart + HAIR
        for side, sizes in thick.items():
            assert sum(sizes) <= rooms[window.number] + 1e-6, (window.number, side)
    assert len(used) == len(set(used)) == answer.values["used"]
    left = {weight["number"] for weight in answer.values["left"]}
    assert left | set(used) == set(stock.weights)
    assert bought == answer.values["bought"]


def test_a_good_bin_hangs_everything() -> None:
    some = house_of(5)
    each = [v["weight_each_kg"] for v in targets(some).values()]
    stock = shop([mass for mass in each for _ in range(2)])
    answer = ask(some, stock)
    check(answer, some, stock)
    assert answer.values["bought"] == 0
    assert answer.values["proven"]
    assert answer.values["off_kg"] == pytest.approx(0.0, abs=1e-6)


def test_an_empty_bin_buys_everything() -> None:
    some = house_of(5)
    answer = ask(some, shop([]))
    check(answer, some, shop([]))
    assert answer.values["bought"] == 2 * len(targets(some))
    assert any("bin is empty" in finding.says for finding in answer.findings)
    says = [f.says for w in answer.windows for f in w.findings]
    assert any("two bought" in each for each in says)


def test_the_fewest_are_bought_and_then_the_nearest() -> None:
    """Against every way to hang four weights on the sash of one window."""
    some = house_of(5)
    some = some.model_copy(update={"windows": some.windows[:1]})
    need = [v["weight_each_kg"] for v in targets(some).values()]
    masses = [need[0] + 0.08, need[0] - 0.02, need[1] + 0.05, need[1] - 0.11, need[0] + 0.01]
    stock = shop(masses, length=0.2)
    answer = ask(some, stock)
    check(answer, some, stock)
    limit, best = stock.bin.tolerance, (9, 9.0)
    for hung in permutations([None, None, None, None, *masses], 2 * len(need)):
        off = 0.0
        for at, each in enumerate(need):
            pair = [each if one is None else one for one in hung[2 * at : 2 * at + 2]]
            if max(abs(one - each) for one in pair) > limit or abs(pair[0] - pair[1]) > limit:
                break
            off += sum(abs(one - each) for one in pair)
        else:
            best = min(best, (sum(one is None for one in hung), off))
    assert answer.values["bought"] == best[0]
    assert answer.values["off_kg"] == pytest.approx(best[1], abs=1e-6)


def test_rules_of_the_shop_count() -> None:
    some = house_of(5)
    each = [v["weight_each_kg"] + 0.1 for v in targets(some).values()]
    masses = [mass for mass in each for _ in range(2)]
    assert ask(some, shop(masses)).values["bought"] == 0
    strict = shop(masses, tolerance="2 oz")
    answer = ask(some, strict)
    check(answer, some, strict)
    assert answer.values["bought"] > 0


def test_forty_windows_and_three_hundred_weights_are_proven() -> None:
    some = house_of(40)
    each = [v["weight_each_kg"] for v in targets(some).values()]
    # Spread round the targets, in ounces as the scale gives them.
    ounce = POUND / 16
    masses = [
        max(round((each[at % len(each)] + ((7 * at) % 23 - 11) * ounce) / ounce), 8) * ounce
        for at in range(300)
    ]
    stock = shop(masses, length=0.25)
    answer = bin_plan(some, KNOWLEDGE, stock, Budget(10.0, time.process_time))
    check(answer, some, stock)
    assert answer.values["proven"]
    assert answer.values["bought"] == answer.values["least_bought"]
