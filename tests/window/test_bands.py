"""Areas and solids of bands: under lines, under arcs, through the depth, against closed forms."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sashwright.window.bands import NOTHING, Arc, Band, Bands, Solid
from sashwright.window.pieces import total
from sashwright.window.profile import LINE_SHARES, LINE_WEIGHTS, Nodes

EXACT = 1e-12
FLAT = Nodes(np.zeros(1), np.ones(1), np.zeros(1))
"""One slice of unit thickness at z = 0: volumes are areas."""


def flat(band: Band, inset: float = 0.0) -> Solid:
    (found,) = Bands([band]).solids(Nodes(np.zeros(1), np.ones(1), np.array([inset])))
    return found


def test_a_rectangle() -> None:
    found = flat(Band(-1.0, 3.0, 2.0, 5.0))
    assert found == Solid(12.0, 12.0 * 1.0, 12.0 * 3.5, 0.0)
    assert found.centre == (1.0, 3.5, 0.0)


def test_a_full_half_disc() -> None:
    """pi r2/2, its centre 4 r/(3 pi) above the middle of the circle."""
    found = flat(Band(-2.0, 2.0, 1.0, 0.0, top_arc=Arc(1.0, 2.0)))
    assert found.volume == pytest.approx(math.pi * 2, rel=EXACT)
    x, y, _ = found.centre
    assert x == pytest.approx(0, abs=EXACT)
    assert y == pytest.approx(1 + 4 * 2 / (3 * math.pi), rel=EXACT)


def test_a_segment() -> None:
    """Radius 34, chord 32, rise 4: r2 (a - sin a)/2; centre c3/(12 A) from the circle's middle."""
    found = flat(Band(-16.0, 16.0, 30.0, 0.0, top_arc=Arc(0.0, 34.0)))
    angle = 2 * math.asin(16 / 34)
    area = 34**2 * (angle - math.sin(angle)) / 2
    assert found.volume == pytest.approx(area, rel=1e-11)
    assert found.centre[1] == pytest.approx(32**3 / (12 * area), rel=1e-11)


def test_half_a_segment_on_one_side() -> None:
    """Its middle by calculus: the integral of x (sqrt(r2 - x2) - 30) from 0 to 16."""
    found = flat(Band(0.0, 16.0, 30.0, 0.0, top_arc=Arc(0.0, 34.0)))
    whole = flat(Band(-16.0, 16.0, 30.0, 0.0, top_arc=Arc(0.0, 34.0)))
    assert found.volume == pytest.approx(whole.volume / 2, rel=1e-11)
    assert found.x == pytest.approx((34**3 - 30**3) / 3 - 30 * 16**2 / 2, rel=1e-10)


def test_a_ring_between_two_arcs() -> None:
    """A quarter of a ring of radii 3 and 2, from 0 to its steep end."""
    outer = flat(Band(0.0, 3.0, 0.0, 0.0, top_arc=Arc(0.0, 3.0)))
    inner = flat(Band(0.0, 2.0, 0.0, 0.0, top_arc=Arc(0.0, 2.0)))
    ring = flat(Band(0.0, 2.0, 0.0, 0.0, bottom_arc=Arc(0.0, 2.0), top_arc=Arc(0.0, 3.0)))
    rest = flat(Band(2.0, 3.0, 0.0, 0.0, top_arc=Arc(0.0, 3.0)))
    assert (ring + rest).volume == pytest.approx(math.pi / 4 * 5, rel=EXACT)
    assert (ring + rest).y == pytest.approx(outer.y - inner.y, rel=EXACT)
    assert (ring + rest).x == pytest.approx((27 - 8) / 3, rel=EXACT)


def test_an_inset_grows_a_band() -> None:
    """A lite of 1 by 2 grown by 0.1 all round, and one under an arc with it."""
    grown = flat(Band(0.0, 1.0, 0.0, 2.0, -1.0, 1.0, -1.0, 1.0), inset=0.1)
    assert grown.volume == pytest.approx(1.2 * 2.2, rel=EXACT)
    assert grown.centre[:2] == pytest.approx((0.5, 1.0))
    arched = flat(Band(-1.0, 1.0, 5.0, 0.0, -1, 1, -1, 1, 0, None, Arc(5.0, 1.0)), inset=0.1)
    assert arched.volume == pytest.approx(math.pi * 1.1**2 / 2 + 2.2 * 0.1, rel=EXACT)


def test_an_inset_shrinks_a_member() -> None:
    bar = Band(0.0, 1.0, 0.0, 2.0, 1.0, -1.0, -1.0, 1.0)
    assert flat(bar, inset=0.1).volume == pytest.approx(0.8 * 2.2, rel=EXACT)


def test_a_bevelled_bottom_edge() -> None:
    """A board 2 wide, 3 high, 0.5 thick, its bottom rising by 0.25 for each unit of depth.

    A wedge of 2 x 0.5 x 0.125/2 is missing below, thickest at the room face.
    """
    nodes = Nodes(0.5 * LINE_SHARES, 0.5 * LINE_WEIGHTS, np.zeros(3))
    (board,) = Bands([Band(0.0, 2.0, 0.0, 3.0, bottom_z=0.25)]).solids(nodes)
    wedge = 2 * 0.5 * 0.125 / 2
    assert board.volume == pytest.approx(3.0 - wedge, rel=EXACT)
    assert board.z == pytest.approx(3.0 * 0.25 - wedge * 0.5 * 2 / 3, rel=EXACT)
    assert board.y == pytest.approx(3.0 * 1.5 - wedge * 0.125 / 3, rel=EXACT)


def test_many_bands_at_once_are_what_each_is_alone() -> None:
    bands = [
        Band(0.0, 1.0, 0.0, 1.0, 1.0, -1.0),
        Band(-1.0, 0.5, 0.0, 0.0, 0.0, 0.0, 0.0, 1.0, 0.1, None, Arc(1.0, 2.0)),
        Band(-1.0, 1.0, 0.0, 0.0, -1.0, 1.0, 1.0, 0.0, 0.0, Arc(1.0, 2.0), Arc(1.0, 3.0)),
        Band(2.0, 3.0, 1.0, 4.0),
    ]
    nodes = Nodes(np.array([0.1, 0.3, 0.7]), np.array([0.2, 0.5, 0.3]), np.array([0.0, 0.1, 0.05]))
    together = Bands(bands).solids(nodes)
    for band, found in zip(bands, together, strict=True):
        (alone,) = Bands([band]).solids(nodes)
        assert found == alone


def test_an_arcs_height() -> None:
    arc = Arc(10.0, 5.0)
    assert arc.height(0) == 15
    assert arc.height(3) == arc.height(-3) == 14
    assert arc.height(5) == arc.height(7) == 10


def test_the_last_bit_beyond_the_end_of_an_arc() -> None:
    """A full arch whose sight line ends a hair outside of its own circle."""
    beyond = 2.0 * (1 + 1e-15)
    found = flat(Band(-beyond, beyond, 0.0, 0.0, top_arc=Arc(0.0, 2.0)))
    assert found.volume == pytest.approx(math.pi * 2, rel=EXACT)


def test_sums_of_solids() -> None:
    one, two = Solid(1.0, 2.0, 3.0, 4.0), Solid(0.5, 0.25, -1.0, 2.0)
    assert one + two == total([one, two]) == Solid(1.5, 2.25, 2.0, 6.0)
    assert one + two - two == one
    assert one - one == NOTHING
    assert one.scaled(2) == one + one
    assert total([]) == NOTHING


@given(
    radius=st.floats(0.2, 20),
    centre=st.floats(-3, 3),
    ends=st.tuples(st.floats(-1, 1), st.floats(-1, 1)).map(sorted),
)
def test_any_piece_under_an_arc(radius: float, centre: float, ends: list[float]) -> None:
    """Against the sum over 4000 strips of x = r sin(angle), which has no steep ends."""
    x0, x1 = (radius * share for share in ends)
    first, last = (math.asin(share) for share in ends)
    angle = first + (np.arange(4000) + 0.5) / 4000 * (last - first)
    x, strip = radius * np.sin(angle), radius * np.cos(angle) * (last - first) / 4000
    height = centre + radius * np.cos(angle)
    found = flat(Band(x0, x1, 0.0, 0.0, top_arc=Arc(centre, radius)))
    # The midpoint rule's error: (angle of a strip)^2 / 24 of the sizes at hand.
    size = radius * (abs(centre) + radius)
    near = 1e-7 * size * max(1.0, radius, abs(centre))
    assert found.volume == pytest.approx(float((height * strip).sum()), abs=near)
    assert found.x == pytest.approx(float((x * height * strip).sum()), abs=near)
    assert found.y == pytest.approx(float((height**2 / 2 * strip).sum()), abs=near)
