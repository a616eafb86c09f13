"""Outlines of lines and arcs against a polygon library and closed forms."""

from __future__ import annotations

import math
from collections.abc import Sequence

import pytest
from shapely import Polygon

from sashwright.knowledge import curves

QUARTER = math.tan(math.pi / 8)
BRICK: tuple[curves.Vertex, ...] = (
    (0, 0, 0), (50, 0, 0), (50, 20, QUARTER), (44, 26, 0), (38, 26, -QUARTER), (30, 18, 0),
    (10, 18, 0), (10, 28, 0), (0, 28, 0),
)  # fmt: skip
"""A brick mould: a round of radius 6 and a hollow of radius 8."""


def polygon(outline: Sequence[curves.Vertex]) -> Polygon:
    return Polygon(curves.flat(outline, closed=True, per_arc=2000))


def test_area_and_length_of_a_section() -> None:
    # By hand: rectangles, less the corner outside the round, less the hollow.
    by_hand = 50 * 18 + 10 * 10 + 12 * 8 + (8 * 8 - math.pi * 64 / 4) - (1 - math.pi / 4) * 36
    assert curves.enclosed(BRICK) == pytest.approx(by_hand, rel=1e-12)
    assert curves.enclosed(BRICK) == pytest.approx(polygon(BRICK).area, rel=1e-6)
    assert curves.run(BRICK, closed=True) == pytest.approx(polygon(BRICK).length, rel=1e-6)
    assert curves.enclosed(BRICK[::-1]) < 0


def test_a_circle_of_two_halves() -> None:
    circle: tuple[curves.Vertex, ...] = ((0, 0, 1), (2, 0, 1))
    assert curves.enclosed(circle) == pytest.approx(math.pi)
    assert curves.run(circle, closed=True) == pytest.approx(2 * math.pi)
    assert curves.reach(circle, closed=True) == pytest.approx((0, -1, 2, 1))


def test_an_arc_reaches_past_its_ends() -> None:
    left, bottom, right, top = curves.reach(((0, 0, 0.5), (2, 0, 0)), closed=False)
    # Sagitta of an arc: bulge times half the chord.
    assert (left, bottom, right, top) == pytest.approx((0, -0.5, 2, 0))


@pytest.mark.parametrize("bulge", [-1.8, -1.0, -0.3, 0.05, 0.41, 1.0, 2.5])
def test_a_bulge_found_again_from_a_point_on_its_arc(bulge: float) -> None:
    start, end = (1.0, 2.0, bulge), (4.0, -1.0, 0.0)
    (x, y), radius, first, sweep = curves.arc_of(start, end)
    for share in (0.2, 0.5, 0.9):
        angle = first + share * sweep
        middle = (x + radius * math.cos(angle), y + radius * math.sin(angle))
        assert curves.bulge_through(start[:2], middle, end[:2]) == pytest.approx(bulge, rel=1e-9)
    with pytest.raises(ValueError, match="one place"):
        curves.bulge_through((0, 0), (0, 0), (1, 0))


def test_crossings() -> None:
    assert curves.crossing(BRICK, closed=True) is None
    bow_tie: tuple[curves.Vertex, ...] = ((0, 0, 0), (2, 2, 0), (2, 0, 0), (0, 2, 0))
    assert curves.crossing(bow_tie, closed=True) == (0, 2)
    # An arc that reaches down through the piece below it.
    sagging: tuple[curves.Vertex, ...] = ((0, 0, 0), (4, 0, 0), (4, 0.5, -0.6), (0, 0.5, 0))
    assert curves.crossing(sagging, closed=True) is not None
    there_and_back: tuple[curves.Vertex, ...] = ((0, 0, 0), (3, 0, 0), (1, 0, 0), (1, 2, 0))
    assert curves.crossing(there_and_back, closed=False) == (0, 1)
