"""The storm sash and the screen in elevation."""

from __future__ import annotations

from typing import Any

import pytest

from sashwright.chapters.season import season_window
from sashwright.drawing.model import Dimension, Drawing, Text, bounds_of, walk
from sashwright.drawing.storm import storm_elevation
from sashwright.drawing.svg import to_svg
from sashwright.window.check import house_from
from sashwright.window.resolve import Placed, place
from tests.drawing.scenes import KNOWLEDGE, NUMBERS, PLACED, groups, parsed, parts


def figures(drawing: Drawing) -> dict[str, str]:
    return {i.title: i.text for i in walk(drawing.items) if isinstance(i, Dimension)}


def with_screen(**screen: Any) -> Placed:
    data = {
        "name": "x",
        "families": {"A": {"screen": {"kind": "full", **screen}}},
        "windows": [{"number": "1", "family": "A", "width": "32", "height": "62"}],
    }
    return place(house_from(data, KNOWLEDGE), "1", KNOWLEDGE)


@pytest.mark.parametrize("number", NUMBERS)
def test_a_storm_is_drawn_to_the_size_of_its_answer(number: str) -> None:
    placed = PLACED[number]
    answer = season_window(placed, mark=f"{number}X")
    drawn = storm_elevation(placed, answer)
    values = answer.values["storm"]
    box = bounds_of(groups(drawn))
    assert box.width * 1000 == pytest.approx(values["width_mm"], abs=0.01)
    assert box.height * 1000 == pytest.approx(values["height_mm"], abs=0.01)
    assert f"{number}X" in [i.text for i in walk(drawn.items) if isinstance(i, Text)]
    assert f"mark {number}X" in drawn.description
    parsed(to_svg(drawn))


def test_its_figures_are_those_to_make_it_by() -> None:
    placed = PLACED["103"]
    drawn = storm_elevation(placed, season_window(placed), system="metric")
    values = season_window(placed).values["storm"]
    found = figures(drawn)
    assert found["width"] == f"{values['width_mm']:.0f}"
    assert found["height, from the low edge of its foot"] == f"{values['height_mm']:.0f}"
    assert found["to the springing"] == f"{values['side_height_mm']:.0f}"
    assert found["to the middle of the middle rail"] == f"{values['middle_rail_at_mm']:.0f}"
    assert not figures(storm_elevation(placed, dimensions=False))


def test_a_screen_shows_its_cloth() -> None:
    placed = with_screen(middle_rail="2")
    drawn = storm_elevation(placed, season_window(placed), "screen")
    assert [len(group.items) for group in parts(drawn, "screen.cloth")] == [1, 1]
    assert len(parts(drawn, "screen.middle_rail")) == 1
    half = storm_elevation(with_screen(kind="half"), None, "screen")
    assert half.bounds.height < drawn.bounds.height * 0.7


def test_no_screen_is_said() -> None:
    drawn = storm_elevation(PLACED["101"], None, "screen")
    assert [i.text for i in walk(drawn.items) if isinstance(i, Text)] == ["no screen"]
