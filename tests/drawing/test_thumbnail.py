"""Small elevations and whole walls."""

from __future__ import annotations

import itertools

import pytest

from sashwright.drawing.model import Group, Text, bounds_of, walk
from sashwright.drawing.thumbnail import LEAST_STOREY, thumbnail, wall_strip
from sashwright.window.resolve import Placed
from tests.drawing.scenes import INCH, NUMBERS, PLACED, groups, polygons


def at(number: str, along: float | None, sill: float | None = None) -> Placed:
    """A window moved along its wall [m]."""
    placed = PLACED[number]
    window = placed.window.model_copy(update={"along": along, "sill_above_floor": sill})
    layout = placed.layout
    moved = type(layout)(window, layout.family, layout.upper, layout.lower, layout.head_arc)
    return Placed(moved, placed.knowledge, placed.left, placed.right)


@pytest.mark.parametrize("number", NUMBERS)
def test_a_thumbnail_has_all_lites_and_no_lettering(number: str) -> None:
    layout = PLACED[number].layout
    drawn = thumbnail(PLACED[number])
    lites = len(layout.upper.lites) + len(layout.lower.lites)
    assert len(list(polygons(drawn.items, "glass"))) == lites
    assert not [item for item in walk(drawn.items) if isinstance(item, Text)]
    assert drawn.bounds.height > layout.window.height


def places(drawn: list[Group]) -> dict[str, tuple[float, float]]:
    return {data["number"]: g.shift for g in drawn if "number" in (data := dict(g.data))}


def test_windows_stand_where_the_survey_has_them() -> None:
    strip = wall_strip([at("101", 1.2), at("102", 3.7, 0.9)])
    found = places(groups(strip))
    assert found["101"][0] == 1.2
    assert found["102"] == (3.7, 0.9)


def test_without_places_they_stand_side_by_side() -> None:
    strip = wall_strip([PLACED[n] for n in ("101", "102", "103", "104")])
    boxes = [bounds_of([group]) for group in groups(strip) if dict(group.data).get("number")]
    for left, right in itertools.pairwise(boxes):
        assert left.right < right.left


def test_a_pair_stands_a_mullion_apart() -> None:
    found = places(groups(wall_strip([PLACED["106"], PLACED["105"]])))
    apart = found["106"][0] - found["105"][0]
    frame = PLACED["105"].family.frame
    assert apart == pytest.approx((28 + 4.5) * INCH + 2 * frame.pulley_stile)


def test_storeys_stand_upon_each_other() -> None:
    found = places(groups(wall_strip([PLACED["201"], PLACED["101"]])))
    assert found["201"][1] - found["101"][1] >= LEAST_STOREY


def test_every_window_carries_number_class_and_link() -> None:
    strip = wall_strip(
        [PLACED["101"], PLACED["102"]],
        "east wall",
        classes={"101": "finding-fail"},
        links={"102": "/windows/102"},
    )
    first, second = [group for group in groups(strip) if dict(group.data).get("number")]
    assert "finding-fail" in first.classes.split()
    assert "finding-fail" not in second.classes.split()
    assert (first.href, second.href) == ("", "/windows/102")
    labels = [item.text for item in walk(strip.items) if isinstance(item, Text)]
    assert labels == ["101", "102"]
    assert strip.title == "east wall"


def test_a_wall_without_windows_can_be_drawn() -> None:
    strip = wall_strip([])
    assert strip.description == "No windows yet."
