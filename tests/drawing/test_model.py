"""The drawing model: bends, mirrors, bounds, marks."""

from __future__ import annotations

import math

import pytest

from sashwright.drawing.model import (
    Arc,
    Callouts,
    Chain,
    Dimension,
    Group,
    Item,
    Line,
    Polygon,
    Polyline,
    Text,
    Vertex,
    arc_of,
    bounds_of,
    bulge_of,
    drawing,
    flattened,
    marked,
    mirrored,
    part,
    rectangle,
)


def test_bulge_and_arc_say_the_same_circle() -> None:
    centre, radius = (0.3, -0.2), 0.7
    start, end = (
        (centre[0] + radius * math.cos(a), centre[1] + radius * math.sin(a)) for a in (0.4, 2.9)
    )
    bulge = bulge_of(centre, start, end, clockwise=False)
    found, size, first, sweep = arc_of(Vertex(*start, bulge), Vertex(*end))
    assert found == pytest.approx(centre)
    assert size == pytest.approx(radius)
    assert (first, sweep) == pytest.approx((0.4, 2.5))
    assert bulge_of(centre, end, start, clockwise=True) == pytest.approx(-bulge)


def test_a_half_circle_reaches_its_crown() -> None:
    shape = (Vertex(1, 0, 1.0), Vertex(-1, 0))
    assert bounds_of([Polygon(shape, "edge")]).top == pytest.approx(1.0)
    assert max(y for _, y in flattened(shape)) == pytest.approx(1.0)


ITEMS: list[Item] = [
    Line((1, 2), (3, 5), "edge"),
    Polyline((Vertex(0, 0, 0.3), Vertex(2, 1)), "edge"),
    Polygon((Vertex(0, 0), Vertex(2, 0, 0.5), Vertex(1, 3)), "cut", "end-grain", (4, 4)),
    Arc((1, 1), 0.5, "edge", 10, 60),
    Text((1, 1), "a"),
    Dimension((0, 0), (2, 0), "x", 7, "2"),
    Dimension((0, 0), (0, 2), "y", 7, "2"),
    Chain((Dimension((0, 0), (2, 0), "x", 7, "2"), Dimension((2, 0), (3, 0), "x", 7, "1"))),
    Callouts("right", 4, 6, (((1, 1), "a"), ((2, 2), "b"))),
]


@pytest.mark.parametrize("item", [*ITEMS, Group(tuple(ITEMS), shift=(1.0, 2.0))])
def test_mirrored_twice_is_where_it_was(item: Item) -> None:
    assert mirrored(mirrored(item)) == item
    box, turned = bounds_of([item]), bounds_of([mirrored(item)])
    assert turned == pytest.approx((-box.right, box.bottom, -box.left, box.top))


def test_bounds_follow_the_shift_of_groups() -> None:
    inner = Group((rectangle(0, 0, 1, 1, "edge"),), shift=(0, 5))
    assert bounds_of([Group((inner,), shift=(2, 0))]) == (2, 5, 3, 6)
    assert drawing("t", "d", []).bounds == (0, 0, 0, 0)


def test_marks_go_to_a_part_and_all_that_belongs_to_it() -> None:
    names = ["lower.weight.left", "lower.weight.right", "frame.pocket.left", "lower.weights"]
    whole = Group(tuple(part(name, "", ()) for name in names))
    found = marked(whole, {"lower.weight": "finding-fail", "pocket": "finding-note"})
    assert isinstance(found, Group)
    classes = [item.classes for item in found.items if isinstance(item, Group)]
    assert classes == ["finding-fail", "finding-fail", "finding-note", ""]
