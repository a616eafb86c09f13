"""The section of a sash member: its area against closed forms, its drawn edge against its integral."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sashwright.knowledge.load import load
from sashwright.window.profile import Profile, profile

KNOWLEDGE = load()

# Areas that a moulding leaves open in its unit square.
# Quarter round of radius 1: what is left beside the quarter disc.
QUARTER_ROUND = 1 - math.pi / 4
COVE = math.pi / 4
# A quarter round of radius 0.9 set back by a fillet of 0.1, and another fillet of 0.1 behind it.
OVOLO = 0.9 * 0.1 + (0.81 - math.pi / 4 * 0.81) + 0.1 * 1.0
# Two quarter rounds of radius 0.46, the second hollowed and set back by 0.54, and fillets of 0.08.
OGEE = (0.46 * 0.08 + 0.46**2 * QUARTER_ROUND) + (0.46 * 0.54 + 0.46**2 * COVE) + 0.08
# A flat of 0.2, a quarter round of radius 0.3, a quirk to 0.5, and a flat of 0.5 set back so far.
BEAD = 0.3**2 * QUARTER_ROUND + 0.5 * 0.5

AREAS = {
    "square": 0.0,
    "bevel": 0.5,
    "quarter-round": QUARTER_ROUND,
    "cove": COVE,
    "ovolo": OVOLO,
    "ogee": OGEE,
    "bead": BEAD,
}
EXACT = 1e-7
"""The tables give the bulge of a quarter circle to eight digits."""

# Sizes [m] with nothing round about them.
SIZES = {
    "thickness": 0.0413,
    "rabbet_width": 0.0061,
    "rabbet_depth": 0.0127,
    "moulding_width": 0.0053,
    "moulding_depth": 0.0149,
}


def shaped(shape: str, **sizes: float) -> Profile:
    return Profile(**{**SIZES, **sizes}, moulding=KNOWLEDGE.moulding[shape].points)


def segment(chord: float, bulge: float) -> float:
    """Area between a chord and its arc, of which a quarter of the angle has the tangent ``bulge``."""
    angle = 4 * math.atan(bulge)
    radius = chord / 2 / math.sin(angle / 2)
    return radius**2 / 2 * (angle - math.sin(angle))


def lambs_tongue() -> float:
    """Chords as trapeziums, less the swelling segment, more the hollow one."""
    area = 0.4 * (0.06 + 0.55) / 2 + 0.6 * (0.55 + 1) / 2
    hollow = segment(math.hypot(0.4, 0.49), 0.17632698)
    swell = segment(math.hypot(0.6, 0.45), 0.05329)
    return area + hollow - swell


@pytest.mark.parametrize("shape", [*AREAS, "lambs-tongue"])
def test_area_cut_away(shape: str) -> None:
    """Rabbet and moulding, each the area of its rectangle times its share."""
    share = AREAS.get(shape, lambs_tongue())
    rabbet = SIZES["rabbet_width"] * SIZES["rabbet_depth"]
    moulding = SIZES["moulding_width"] * SIZES["moulding_depth"] * share
    assert shaped(shape).removed == pytest.approx(rabbet + moulding, rel=EXACT)


def test_every_shape_of_the_table_is_tried() -> None:
    assert set(KNOWLEDGE.moulding) == {*AREAS, "lambs-tongue"}


def test_a_bevels_centre_of_gravity() -> None:
    """A triangle's: two thirds of the way to the room face."""
    made = shaped("bevel", rabbet_width=0.0, rabbet_depth=0.0127)
    nodes = made.nodes
    middle = float(nodes.weight @ (nodes.inset * nodes.z)) / made.removed
    start = SIZES["thickness"] - SIZES["moulding_depth"]
    assert middle == pytest.approx(start + SIZES["moulding_depth"] * 2 / 3, rel=1e-12)


@pytest.mark.parametrize(
    ("shape", "middle"),
    [
        # The square less a quarter disc, whose moment about its straight side is 1/3.
        ("quarter-round", (1 / 2 - 1 / 3) / QUARTER_ROUND),
        # A quarter disc: 4/(3 pi) before its straight side, at the room face.
        ("cove", 1 - 4 / (3 * math.pi)),
    ],
)
def test_centre_of_gravity_of_round_mouldings(shape: str, middle: float) -> None:
    made = shaped(shape, rabbet_width=0.0)
    nodes = made.nodes
    found = float(nodes.weight @ (nodes.inset * nodes.z)) / made.removed
    start = SIZES["thickness"] - SIZES["moulding_depth"]
    assert found == pytest.approx(start + SIZES["moulding_depth"] * middle, rel=EXACT)


def test_weights_add_up_to_the_thickness() -> None:
    """A straight step back, such as the quirk of a bead, adds none."""
    for shape in KNOWLEDGE.moulding:
        assert shaped(shape).nodes.weight.sum() == pytest.approx(SIZES["thickness"], rel=1e-9)


def test_greatest_inset() -> None:
    assert shaped("ovolo").greatest_inset == SIZES["rabbet_width"]
    assert shaped("ovolo", moulding_width=0.02).greatest_inset == 0.02


def test_nose_lies_between_rabbet_and_moulding() -> None:
    start, end = shaped("ovolo").nose
    assert (start, end) == pytest.approx((0.0127, 0.0413 - 0.0149))
    inset = {
        inset
        for z, inset in zip(shaped("ovolo").nodes.z, shaped("ovolo").nodes.inset, strict=True)
        if start < z < end
    }
    assert inset == {0.0}


# --- the drawn edge ---------------------------------------------------------------------


def area_under(points: list[tuple[float, float]]) -> float:
    """Of the drawn edge, by trapeziums."""
    z, inset = np.array(points).T
    return float(((inset[1:] + inset[:-1]) / 2 * np.diff(z)).sum())


@pytest.mark.parametrize("shape", sorted(KNOWLEDGE.moulding))
def test_the_drawn_edge_approaches_the_integral(shape: str) -> None:
    """A polygon's error falls with the square of the number of its sides."""
    made = shaped(shape)
    coarse, fine = (abs(area_under(made.edge(n)) - made.removed) for n in (32, 64))
    if coarse < 1e-15:
        return  # straight lines only
    assert math.log2(coarse / fine) == pytest.approx(2.0, abs=0.1)
    assert fine < 1e-4 * made.removed


@pytest.mark.parametrize("shape", sorted(KNOWLEDGE.moulding))
def test_the_drawn_edge_runs_from_face_to_face(shape: str) -> None:
    points = shaped(shape).edge()
    assert points[0] == (0.0, SIZES["rabbet_width"])
    assert points[-1][0] == pytest.approx(SIZES["thickness"], rel=1e-12)
    depths = [z for z, _ in points]
    assert all(b >= a - 1e-15 for a, b in pairwise(depths))
    for _, inset in points:
        assert -1e-9 <= inset <= max(SIZES["rabbet_width"], SIZES["moulding_width"]) + 1e-9


@pytest.mark.parametrize("shape", sorted(KNOWLEDGE.moulding))
def test_nodes_lie_on_the_drawn_edge(shape: str) -> None:
    """Between two close corners of the drawing at most the rise of the arc above its chord."""
    made = shaped(shape)
    z, inset = np.array(made.edge(2000)).T
    for at, back in zip(made.nodes.z, made.nodes.inset, strict=True):
        # At a step several corners share their depth: the node is on one of its sides.
        before, after = np.searchsorted(z, at - 1e-6), np.searchsorted(z, at + 1e-6)
        low, high = max(before - 1, 0), min(after + 1, len(z))
        assert inset[low:high].min() - 1e-6 <= back <= inset[low:high].max() + 1e-6


def test_a_moulding_of_no_size_leaves_a_square_edge() -> None:
    made = shaped("ovolo", moulding_width=0.0, moulding_depth=0.0)
    assert made.removed == pytest.approx(SIZES["rabbet_width"] * SIZES["rabbet_depth"])


# --- any sizes ------------------------------------------------------------------------


@given(
    width=st.floats(0.001, 0.02),
    depth=st.floats(0.001, 0.02),
    nose=st.floats(0.003, 0.03),
    rabbet=st.floats(0.005, 0.02),
    shape=st.sampled_from(sorted(AREAS)),
)
def test_area_scales_with_width_and_depth(
    width: float, depth: float, nose: float, rabbet: float, shape: str
) -> None:
    made = shaped(
        shape,
        thickness=rabbet + nose + depth,
        rabbet_depth=rabbet,
        moulding_width=width,
        moulding_depth=depth,
    )
    by_hand = SIZES["rabbet_width"] * rabbet + width * depth * AREAS[shape]
    assert made.removed == pytest.approx(by_hand, rel=EXACT)


def test_a_profile_is_built_once() -> None:
    points = KNOWLEDGE.moulding["ovolo"].points
    first = profile(0.035, 0.005, 0.0127, 0.005, 0.0127, points)
    assert profile(0.035, 0.005, 0.0127, 0.005, 0.0127, points) is first
    assert profile(0.044, 0.005, 0.0127, 0.005, 0.0127, points) is not first
