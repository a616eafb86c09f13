"""One hour of a warm day: what stands open is what the card says, and air is neither made nor lost."""

from __future__ import annotations

from typing import Any

import pytest

from sashwright.chapters.answer import Answer
from sashwright.chapters.breathe import breathe, breathe_hour
from sashwright.knowledge.load import load
from sashwright.record.outdoors import named
from sashwright.window.check import house_from
from tests.airhouse import airy_document

KNOWLEDGE = load()
HOUSE = house_from(airy_document(), KNOWLEDGE)
FEW = 0.3


@pytest.fixture(scope="module")
def answer() -> Answer:
    return breathe(HOUSE, KNOWLEDGE, year=named("Portland, Maine").year, seconds=FEW)


def at(season: str, hour: int, **more: Any) -> dict[str, Any] | None:
    year = named("Portland, Maine").year
    return breathe_hour(HOUSE, KNOWLEDGE, season=season, hour=hour, year=year, seconds=FEW, **more)


@pytest.mark.parametrize(
    ("hour", "part"), [(7, "morning"), (14, "day"), (21, "evening"), (3, "night")]
)
def test_what_stands_open_is_what_the_card_says(answer: Answer, hour: int, part: str) -> None:
    values = at("hot", hour)
    assert values is not None
    card = next(each for each in answer.values["card"] if each["season"] == "hot")
    mine = next(each for each in card["parts"] if each["part"] == part)
    wanted = {(row["window"], row["sash"]): row["open_m"] for row in mine["positions"]}
    found = {(row["window"], row["sash"]): row["open_m"] for row in values["opened"]}
    # On a cool day, or in a cold hour, all stays shut.
    assert found in (pytest.approx(wanted), {})


def test_all_that_comes_into_a_room_leaves_it() -> None:
    values = at("hot", 15, plan="everything open")
    assert values is not None
    assert len(values["opened"]) == 10
    for room in ("parlor", "kitchen", "chamber"):
        net = gross = 0.0
        for link in values["links"]:
            into = link["forth_kg_s"] - link["back_kg_s"]
            sign = (link["to"] == room) - (link["from"] == room)
            net += sign * into
            gross += abs(sign) * (link["forth_kg_s"] + link["back_kg_s"])
        # Leaks too small for a picture are left out of the links.
        assert abs(net) < 0.01 * gross


def test_doors_say_how_they_stand() -> None:
    values = at("hot", 15)
    assert values is not None
    assert [(row["kind"], row["open"]) for row in values["doors"]] == [
        ("archway", True),
        ("stair", True),
    ]


def test_the_hour_is_of_the_season_that_is_asked_for(answer: Answer) -> None:
    for season in answer.values["seasons"]:
        values = at(season["name"], 12)
        assert values is not None
        assert values["name"].split()[1].strip(",") in season["months"]


def test_there_is_no_hour_of_a_season_that_the_place_has_not() -> None:
    assert at("wet", 12) is None


def test_there_is_no_hour_of_a_house_without_windows() -> None:
    bare = house_from(airy_document(windows=[]), KNOWLEDGE)
    year = named("Portland, Maine").year
    assert breathe_hour(bare, KNOWLEDGE, season="hot", hour=3, year=year) is None
