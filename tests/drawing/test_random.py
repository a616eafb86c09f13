"""Any window that can be laid out can be drawn."""

from __future__ import annotations

import math

from hypothesis import assume, given, settings

from sashwright.chapters.hang import hang_window
from sashwright.drawing.curve import effort_plot
from sashwright.drawing.elevation import elevation
from sashwright.drawing.model import Drawing
from sashwright.drawing.opened import opened
from sashwright.drawing.sections import horizontal_section, vertical_section
from sashwright.drawing.svg import to_svg
from sashwright.drawing.thumbnail import thumbnail
from sashwright.window.problem import LayoutError
from sashwright.window.resolve import Placed, place
from sashwright.window.spec import House
from tests.drawing.scenes import KNOWLEDGE, parsed, polygons
from tests.window.strategies import houses


def _placed(house: House) -> Placed:
    try:
        return place(house, "1", KNOWLEDGE)
    except LayoutError:
        assume(False)
        raise


def _drawings(placed: Placed) -> list[Drawing]:
    answer = hang_window(placed)
    return [
        elevation(placed),
        elevation(placed, "inside", "metric", lift=(0.05, 0.1)),
        opened(placed, answer),
        vertical_section(placed),
        vertical_section(placed, "metric", broken=False),
        horizontal_section(placed, answer, side="both"),
        horizontal_section(placed, None, "metric", broken=False),
        thumbnail(placed),
        effort_plot(answer, "upper"),
        effort_plot(answer, "lower", "metric"),
    ]


@given(houses)
@settings(max_examples=25)
def test_every_drawing_is_finite_and_well_formed(house: House) -> None:
    placed = _placed(house)
    for drawn in _drawings(placed):
        assert all(math.isfinite(edge) for edge in drawn.bounds)
        svg = to_svg(drawn)
        assert "nan" not in svg
        root = parsed(svg)
        width, height = (float(value) for value in (root.get("viewBox") or "").split()[2:])
        assert width > 0
        assert height > 0


@given(houses)
@settings(max_examples=25)
def test_every_lite_has_its_glass(house: House) -> None:
    placed = _placed(house)
    lites = len(placed.layout.upper.lites) + len(placed.layout.lower.lites)
    assert len(list(polygons(elevation(placed).items, "glass"))) == lites
    assert len(list(polygons(thumbnail(placed).items, "glass"))) == lites
