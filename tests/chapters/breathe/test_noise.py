"""Noise at night: it holds the sash of bedrooms in loud walls, and the household is told what that costs."""

from __future__ import annotations

from functools import cache

import pytest

from sashwright.chapters.answer import Answer
from sashwright.chapters.breathe import breathe
from sashwright.chapters.breathe.limits import Limits
from sashwright.chapters.breathe.noise import ASLEEP, OUTDOORS, WHY
from sashwright.chapters.breathe.plans import FULL, Household
from sashwright.chapters.breathe.seasons import Calendar
from sashwright.physics.facade_sound import level_difference
from tests.chapters.cottage import HIGH, cottage, made, year_in
from tests.chapters.houses import KNOWLEDGE

WARM = "Sacramento, CA"


def walls(**noise: str) -> dict[str, dict[str, str]]:
    named = {"north": "N", "east": "E", "south": "S", "west": "W"}
    return {key: {"faces": faces, "noise": noise.get(key, "quiet")} for key, faces in named.items()}


def household(*windows: dict[str, object], **noise: str) -> Household:
    building = made(*windows, walls=walls(**noise))
    return Household(building, Calendar(building.year), Limits(building))


@cache
def answer(south: str) -> Answer:
    house = cottage(walls=walls(south=south))
    return breathe(house, KNOWLEDGE, year=year_in(WARM), seconds=0.3)


def says(south: str) -> list[str]:
    return [finding.says for finding in answer(south).findings]


def test_bedrooms_in_a_loud_wall_are_held_at_night_only() -> None:
    house = household(south="street")
    assert set(house.limits.noise) == {"4"}
    held = house.limits.all["4", "lower", "night"]
    assert 0.05 < held.most < house.limits.travel("4", "lower")
    assert held.why == WHY["street"]
    assert house.limits.all["4", "lower", "evening"].why == ""
    # The kitchen below looks at the street as well, but nobody sleeps in it.
    assert house.limits.all["1", "upper", "night"].why != WHY["street"]


def test_the_gap_keeps_the_room_as_quiet_as_people_want() -> None:
    house = household(south="street", north="street")
    zone = house.building.plan.zone("bedroom")
    opened = sum(gap * house.building.opens[n].width for n, gap in house.limits.noise.items())
    assert set(house.limits.noise) == {"3", "4"}
    inside = OUTDOORS["street"] - float(level_difference(zone.volume, opened))
    assert inside == pytest.approx(ASLEEP, abs=1e-9)


def test_upper_and_lower_sash_share_the_gap() -> None:
    house = household(south="street")
    gap = house.limits.noise["4"]
    assert house.pair("4", "night", (FULL, FULL), True) == pytest.approx((gap / 2, gap / 2))
    assert house.pair("4", "night", (0.0, FULL), True) == pytest.approx((0.0, gap))
    # By day, and for a plan that nothing holds, as far as the sash go.
    assert sum(house.pair("4", "day", (FULL, FULL), True)) > 2 * gap
    assert sum(house.pair("4", "night", (FULL, FULL), False)) > 2 * gap


def test_on_a_loud_road_bedrooms_stay_shut() -> None:
    house = household(south="loud road")
    assert house.limits.noise == {"4": 0.0}
    assert house.pair("4", "night", (FULL, FULL), True) == (0.0, 0.0)


def test_the_tighter_of_two_limits_counts() -> None:
    low = {**HIGH, "wall": "south", "sill_above_ground": "40"}
    house = household(low, south="street")
    assert house.limits.all["1", "lower", "night"].why == "it is within reach from the ground"


def test_quiet_walls_are_not_spoken_of() -> None:
    assert not any("noise" in each.lower() or "heard" in each for each in says("quiet"))


def test_the_household_is_told_what_is_held_and_what_it_costs() -> None:
    told = says("street")
    assert any(
        each.startswith("At night the plan opens 4 ")
        and each.endswith("the street is heard in bed.")
        for each in told
    )
    assert any("noise costs" in each for each in told)
    assert not any(each.startswith("Even shut") for each in told)


def test_a_loud_road_is_loud_through_shut_windows() -> None:
    told = says("loud road")
    assert "At night the plan keeps 4 shut: it is too loud outside to sleep." in told
    assert any(each.startswith("Even shut, more noise comes in at 4 ") for each in told)


def test_the_cost_is_that_of_two_plans() -> None:
    """What is said of hours is the difference of the best plan with and without the limit."""
    found = answer("loud road")
    cost = next(f for f in found.findings if "noise costs" in f.says)
    heeded = found.values["plans"][-1]["comfortable_share"]
    assert cost.because.startswith(f"{100 * heeded:.1f} % of the hours comfortable")


def test_the_card_keeps_to_the_gap_and_says_why() -> None:
    gap = household(south="street").limits.noise["4"]
    for season in answer("street").values["card"]:
        night = next(part for part in season["parts"] if part["part"] == "night")
        mine = [row for row in night["positions"] if row["window"] == "4"]
        assert sum(row["open_m"] for row in mine) <= gap + 1e-9


def test_noise_that_nobody_sleeps_beside_holds_nothing() -> None:
    found = breathe(
        cottage(walls=walls(east="loud road")), KNOWLEDGE, year=year_in(WARM), seconds=0.0
    )
    assert any(f.says.startswith("Noise holds no window") for f in found.findings)


def test_the_working_has_the_gaps() -> None:
    step = next(s for s in answer("street").working if s.step == "gaps for the noise at night")
    assert step.result == pytest.approx(
        {"4": household(south="street").limits.noise["4"]}, abs=1e-4
    )
