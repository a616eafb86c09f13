"""The four lines of each alternative are what the other chapters say of the window as it then stands."""

from __future__ import annotations

from typing import Any

import pytest

from sashwright.chapters.grade import grade_window
from sashwright.chapters.heat import heat_window
from sashwright.chapters.price import price
from sashwright.chapters.seal import seal_window
from sashwright.chapters.treat.beside import DURABLE, WORTH_WAY, as_left, beside
from sashwright.chapters.worth.alternatives import BY_KEY
from sashwright.knowledge.load import load
from sashwright.window.check import house_from
from sashwright.window.resolve import Placed, place
from sashwright.window.spec import House
from tests.factories import family_document, house_document, window_document

KNOWLEDGE = load()


def made(**family: Any) -> tuple[Placed, House]:
    document = house_document(
        families={"A": family_document(**family)},
        windows=[window_document("101")],
        site={"wind_speed": "120 mph"},
    )
    house = house_from(document, KNOWLEDGE)
    return place(house, "101", KNOWLEDGE), house


@pytest.fixture(scope="module")
def bare() -> tuple[Placed, House]:
    return made()


@pytest.fixture(scope="module")
def lines(bare: tuple[Placed, House]) -> dict[str, dict[str, Any]]:
    return beside(*bare, conventions=("na",))


def test_every_alternative_that_can_be_has_its_lines(lines: dict[str, Any]) -> None:
    assert list(lines) == list(KNOWLEDGE.scope)
    storms = {key for key, row in KNOWLEDGE.scope.items() if row.only_without_storm == "yes"}
    placed, house = made(storm="winter")
    assert set(beside(placed, house, conventions=())) == set(KNOWLEDGE.scope) - storms


def test_air_is_that_of_the_seal_chapter(bare: tuple[Placed, House], lines: dict[str, Any]) -> None:
    rows = {(r["name"], r["storm"]): r for r in seal_window(bare[0]).values["scenarios"]}
    for key, state, storm in (
        ("leave", "as found", False), ("in-place", "repaired", False),
        ("shop", "spring strip", False), ("new-sash", "spring strip", False),
        ("storm", "repaired", True), ("shop-storm", "spring strip", True),
    ):  # fmt: skip
        for name in ("flow_75_m3_s", "flow_75_low_m3_s", "flow_75_high_m3_s"):
            assert lines[key][name] == pytest.approx(rows[state, storm][name], rel=1e-9), (
                key,
                name,
            )


def test_heat_is_that_of_the_heat_chapter(
    bare: tuple[Placed, House], lines: dict[str, Any]
) -> None:
    rows = {row["key"]: row for row in heat_window(bare[0]).values["alternatives"]}
    for key, state in (("leave", "prime"), ("shop", "prime"), ("shop-storm", "storm")):
        assert lines[key]["heat_state"] == state
        assert lines[key]["u_na_w_m2k"] == pytest.approx(rows[state]["u_na_w_m2k"], rel=1e-9)
    # White oak conducts better than pine.
    assert lines["new-sash"]["u_na_w_m2k"] > lines["shop"]["u_na_w_m2k"]


def test_grade_as_found_is_that_of_the_grade_chapter(
    bare: tuple[Placed, House], lines: dict[str, Any]
) -> None:
    found = grade_window(*bare).values
    assert lines["leave"]["performance_grade"] == found["grade"]["performance_grade"]
    assert lines["leave"]["wind_used"] == found["wind"]["utilisation"]
    # What is tightened falls short of less.
    assert set(lines["shop"]["grade_lacks"]) < set(lines["leave"]["grade_lacks"])


def test_new_sash_are_of_the_durable_species(bare: tuple[Placed, House]) -> None:
    stood = as_left(bare[0], KNOWLEDGE.scope["new-sash"])
    assert {stood.layout.upper.spec.wood, stood.layout.lower.spec.wood} == {DURABLE}
    assert as_left(bare[0], KNOWLEDGE.scope["shop"]).layout.lower.spec == bare[0].layout.lower.spec


def test_a_strip_that_is_better_already_stays() -> None:
    rib = dict.fromkeys(("sides", "head", "sill"), "interlocking-rib")
    placed, house = made(strips={**rib, "meeting_rail": "interlocking-hook"})
    lines = beside(placed, house, conventions=())
    assert lines["shop"]["flow_75_m3_s"] <= lines["in-place"]["flow_75_m3_s"]
    assert lines["in-place"]["flow_75_m3_s"] < lines["leave"]["flow_75_m3_s"]


def test_money_comes_from_the_price_chapter_or_is_not_worked_out(
    bare: tuple[Placed, House], lines: dict[str, Any]
) -> None:
    assert {each["price"] for each in lines.values()} == {None}
    assert {each["worth"] for each in lines.values()} == {None}
    priced = price(bare[1], KNOWLEDGE, ["101"]).windows[0].values
    quoted = beside(*bare, conventions=(), prices=priced)
    rows = {row["key"]: row for row in priced["alternatives"]}
    for key, each in quoted.items():
        assert each["price"]["likely"] == rows[key]["likely"]
        assert each["price"]["currency"] == "USD"


def test_worth_is_quoted_for_the_ways_that_are_the_same(bare: tuple[Placed, House]) -> None:
    assert set(WORTH_WAY.values()) <= set(BY_KEY)
    row = {"key": "repair-storm", "net_savings": 1234.5, "energy_payback_years": 7.0}
    worth = {"alternatives": [row], "years": 30, "currency": "USD"}
    quoted = beside(*bare, conventions=(), worth=worth)
    assert quoted["storm"]["worth"]["net_savings"] == 1234.5
    assert quoted["shop"]["worth"] is None
