"""Lengths of a window's joints."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings

from sashwright.window.cracks import Cracks, cracks_of
from sashwright.window.resolve import place
from sashwright.window.spec import House
from tests.chapters.houses import KNOWLEDGE, Document, house_of
from tests.window.strategies import houses
from tests.window.test_geometry import placed

INCH = 0.0254
LITTLE = 1e-6
"""Of a length found by adding up 20,000 chords of a curve, as a share."""


def cracks(window: Document, family: Document | None = None) -> Cracks:
    return cracks_of(place(house_of(family or {}, window), "1", KNOWLEDGE).layout)


def test_two_heights_and_three_widths() -> None:
    found = cracks({"width": "36", "height": "60"})
    assert found.joint == pytest.approx((2 * 60 + 3 * 36) * INCH, rel=1e-12)
    assert found.area == pytest.approx(36 * 60 * INCH**2, rel=1e-12)
    assert found.pulleys == 4
    assert cracks({"width": "36", "height": "60", "hung": "single"}).pulleys == 2


def test_edges_of_the_glass() -> None:
    """Daylight of a one-over-one and its lap of 1/8 in, all round both panes."""
    found = cracks({"width": "32", "height": "66"})
    wide = 31.875 - 4 + 0.25
    # 66 in less 1/16 at the head, rails of 2, 1 1/8 and 3 in, shared by two equal lights.
    high = (66 - 1 / 16 - 2 - 1.125 - 3) / 2 + 0.25
    assert found.glass == pytest.approx(2 * 2 * (wide + high) * INCH, rel=1e-12)


@pytest.mark.parametrize("head", [{"shape": "segmental", "rise": "5"}, {"shape": "full arch"}])
def test_an_arched_head(head: Document) -> None:
    window = {"width": "32", "height": "66", "head": head}
    found = cracks(window)
    layout = place(house_of({}, window), "1", KNOWLEDGE).layout
    assert layout.head_arc is not None
    # The arc as many short chords; the rest of the joints as before.
    half = layout.window.width / 2
    angle = math.asin(min(1.0, half / layout.head_arc.radius))
    turns = np.linspace(-angle, angle, 20_001)
    x, y = (layout.head_arc.radius * f(turns) for f in (np.sin, np.cos))
    along = float(np.hypot(np.diff(x), np.diff(y)).sum())
    assert found.head == pytest.approx(along, rel=LITTLE)
    under = float(((y[1:] + y[:-1]) / 2 * np.diff(x)).sum()) + layout.head_arc.centre * 2 * half
    assert found.area == pytest.approx(under, rel=LITTLE)
    assert found.upper_sides + found.lower_sides == pytest.approx(2 * layout.head_at_side)


@given(houses)
@settings(max_examples=100)
def test_joints_go_round_the_opening(house: House) -> None:
    found = cracks_of(placed(house).layout)
    window = house.windows[0]
    assert min(found.upper_sides, found.lower_sides, found.head, found.glass) > 0
    assert found.head >= window.width - 1e-12
    assert found.area <= window.width * window.height + 1e-12
    # No joint is shorter than the round of a level opening of the same springing.
    assert found.joint >= 3 * window.width
