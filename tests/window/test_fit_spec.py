"""What the specification says of paint, gaps, moisture readings, weather and the air inside."""

from __future__ import annotations

from typing import Any

import pytest

from sashwright.knowledge.load import load
from sashwright.window.check import HouseError, house_from
from sashwright.window.spec import House

KNOWLEDGE = load()
INCH = 0.0254


def read(system: str = "us", **changes: Any) -> House:
    document = {
        "name": "one",
        "units": system,
        "families": {"A": changes.pop("family", {})},
        "windows": [
            {
                "number": "1",
                "family": "A",
                "width": "32 in",
                "height": "62 1/2 in",
                **changes.pop("window", {}),
            }
        ],
        **changes,
    }
    return house_from(document, KNOWLEDGE)


def problems(**changes: Any) -> dict[str, str]:
    with pytest.raises(HouseError) as refused:
        read(**changes)
    return {each.field: each.expected for each in refused.value.problems}


def test_a_house_that_says_nothing_of_it_is_heated_and_painted() -> None:
    house = read()
    family, window = house.families["A"], house.windows[0]
    assert (house.heated_to, house.cooled_to, house.living) == (20.0, None, "airy")
    assert family.lower_sash.coating_state == "painted"
    assert family.frame.coating_state == "bare"
    assert family.frame.stop_slot == INCH / 8
    assert window.measured.lower.moisture is None
    assert family.storm == "none"
    assert {wall.weather for wall in house.walls.values()} == {"usual"}


@pytest.mark.parametrize(
    ("written", "system", "celsius"),
    [("68", "us", 20.0), ("68 F", "metric", 20.0), (20, "metric", 20.0), ("20 °C", "us", 20.0)],
)
def test_set_points_in_either_system(written: Any, system: str, celsius: float) -> None:
    assert read(system, heated_to=written).heated_to == celsius


@pytest.mark.parametrize("celsius", [20.0, 20.5, 21.111111111111111, 68 / 3, 0.1 + 0.2])
@pytest.mark.parametrize("system", ["us", "metric"])
def test_set_points_are_written_to_the_last_bit(celsius: float, system: str) -> None:
    house = House(name="one", heated_to=celsius)
    written = house.model_dump(mode="json", context={"system": system})
    again = House.model_validate(written, context={"system": system})
    assert again.heated_to == celsius
    if system == "us" and celsius == 20.0:
        assert written["heated_to"] == "68 °F"


def test_paint_by_sash_and_frame() -> None:
    family = {
        "sash": {"coating_state": "failed"},
        "upper": {"coating_state": "primed"},
        "frame": {"wood": "heart pine", "coating": "varnish", "coating_state": "painted"},
        "gaps": {"least": "1/32"},
    }
    found = read(family=family, window={"changes": {"lower": {"coating_state": "bare"}}})
    assert found.families["A"].upper_sash.coating_state == "primed"
    assert found.families["A"].lower_sash.coating_state == "failed"
    assert found.families["A"].gaps.least == INCH / 32


def test_rows_of_the_frame_must_exist() -> None:
    found = problems(family={"frame": {"wood": "ironwood", "coating": "whitewash"}})
    assert set(found) == {"families.A.frame.wood", "families.A.frame.coating"}


@pytest.mark.parametrize("date", ["15 August", "2026-13-01", "2026-8-15", "2026-08-32"])
def test_a_day_is_written_as_numbers(date: str) -> None:
    window = {"measured": {"lower": {"moisture": "12 %", "moisture_on": date}}}
    assert "windows.0.measured.lower.moisture_on" in problems(window=window)


def test_a_reading() -> None:
    window = {"measured": {"lower": {"moisture": "11.5 %", "moisture_on": "2026-08-15"}}}
    reading = read(window=window).windows[0].measured.lower
    assert (reading.moisture, reading.moisture_on) == (11.5, "2026-08-15")


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"heated_to": "120 F"}, "heated_to"),
        ({"living": "tidy"}, "living"),
        ({"walls": {"north": {"faces": "N", "weather": "wet"}}}, "walls.north.weather"),
        ({"family": {"frame": {"stop_slot": "2"}}}, "families.A.frame.stop_slot"),
        ({"family": {"sash": {"coating_state": "new"}}}, "families.A.sash.coating_state"),
    ],
)
def test_slips_of_the_pen(changes: dict[str, Any], field: str) -> None:
    assert field in problems(**changes)
