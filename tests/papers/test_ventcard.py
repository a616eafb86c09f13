"""The ventilation card, read back from the PDF."""

from __future__ import annotations

from typing import Any

import pytest

from sashwright.chapters.breathe import breathe, chapter
from sashwright.knowledge.tables import Knowledge
from sashwright.papers.figures import Pictures
from sashwright.papers.job import take
from sashwright.papers.ventcard import NO_WEATHER, far_words, ventilation_card
from sashwright.record.outdoors import Outdoors, named
from sashwright.window.check import house_from
from sashwright.window.spec import House
from tests.airhouse import airy_document
from tests.papers.printing import Print, squeezed


@pytest.fixture(scope="module")
def airy(knowledge: Knowledge) -> House:
    return house_from(airy_document(), knowledge)


@pytest.fixture(scope="module")
def outdoors() -> Outdoors:
    return named("Portland, Maine")


def card_of(
    house: House, knowledge: Knowledge, outdoors: Outdoors | None, system: Any = "us"
) -> Any:
    job = take(house, knowledge, system, None)
    return ventilation_card(job, Pictures(job, "letter"), outdoors)


@pytest.mark.parametrize("system", ["us", "metric"])
def test_the_card_opens_what_the_plan_opens(
    airy: House, knowledge: Knowledge, outdoors: Outdoors, system: Any
) -> None:
    answer = breathe(airy, knowledge, system, year=outdoors.year, seconds=chapter.SECONDS)
    found = card_of(airy, knowledge, outdoors, system)
    told = {
        (row["when"], sash, number)
        for season in found["seasons"]
        for row in season["rows"]
        for sash in ("upper", "lower")
        for item in row[sash]
        for room in item["rooms"]
        for number in room["numbers"]
    }
    planned = {
        (part["part"], row["sash"], row["window"])
        for season in answer.values["card"]
        for part in season["parts"]
        for row in part["positions"]
    }
    assert planned
    assert {each[1:] for each in told} == {each[1:] for each in planned}
    for part, sash, number in planned:
        whens = [when.lower() for when, s, n in told if (s, n) == (sash, number)]
        assert any(part in when or when == "all day and night" for when in whens)


def test_months_in_which_all_stays_shut_stand_together(
    airy: House, knowledge: Knowledge, outdoors: Outdoors
) -> None:
    seasons = card_of(airy, knowledge, outdoors)["seasons"]
    assert sum(not season["rows"] for season in seasons) <= 1
    months = " ".join(season["title"] for season in seasons)
    answer = breathe(airy, knowledge, year=outdoors.year, seconds=chapter.SECONDS)
    assert all(
        season["months"].split()[0].strip(",") in months for season in answer.values["seasons"]
    )


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_it_is_one_page_with_rooms_numbers_and_cautions(
    printed: Print, airy: House, outdoors: Outdoors, paper: Any
) -> None:
    found = printed(airy, include=["card"], outdoors=outdoors, paper=paper)
    assert len(found.pages) == 1
    text = squeezed(found.text)
    for words in (
        "Which windows to open, and when",
        "Children",
        "on the ground floor",
        "Rain and storm",
    ):
        assert squeezed(words) in text
    assert squeezed("Lower sash up") in text


def test_without_weather_it_says_what_to_write(printed: Print, airy: House) -> None:
    found = printed(airy, include=["card"])
    assert squeezed(NO_WEATHER) in squeezed(found.text)


def test_the_card_is_of_the_whole_house(printed: Print, airy: House, outdoors: Outdoors) -> None:
    whole = printed(airy, include=["card"], outdoors=outdoors).text
    assert printed(airy, include=["card"], outdoors=outdoors, numbers=["101"]).text == whole


@pytest.mark.parametrize(
    ("system", "metres", "words"),
    [("us", 0.2032, "8 in"), ("metric", 0.2032, "20 cm"), ("us", 0.1, "4 in")],
)
def test_sash_go_as_far_as_hands_can_tell(
    airy: House, knowledge: Knowledge, system: Any, metres: float, words: str
) -> None:
    assert far_words(metres, take(airy, knowledge, system, None)) == words
