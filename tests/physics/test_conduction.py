"""Conduction through sections: balance, overlaps, and what is refused."""

from __future__ import annotations

import numpy as np
import pytest

from sashwright.physics.conduction import Boundary, settled, solve
from sashwright.physics.section_mesh import Mesh, Point, Region, triangles

SQUARE: tuple[Point, ...] = ((0, 0), (0.1, 0), (0.1, 0.1), (0, 0.1))
PUTTY: tuple[Point, ...] = ((0, 0), (0.03, 0), (0, 0.04))
BELOW = Boundary(((0, 0), (0.1, 0)), 0, 0.04)
ABOVE = Boundary(((0, 0.1), (0.1, 0.1)), 20, 0.13)


def test_nothing_is_lost_with_slanted_parts() -> None:
    ours = solve([Region(SQUARE, 0.13), Region(PUTTY, 0.5)], [BELOW, ABOVE])
    assert sum(ours.flows) == pytest.approx(0, abs=1e-6 * ours.flows[1])
    plain = 0.1 * 20 / (0.17 + 0.1 / 0.13)
    better = 0.1 * 20 / (0.17 + 0.06 / 0.13 + 0.04 / 0.5)
    assert plain < ours.flows[1] < better


def test_the_later_polygon_counts() -> None:
    whole = solve([Region(SQUARE, 5.0), Region(SQUARE, 0.13)], [BELOW, ABOVE])
    assert whole.flows[1] == pytest.approx(0.1 * 20 / (0.17 + 0.1 / 0.13), rel=1e-6)


def test_more_conductive_parts_never_lower_the_flow() -> None:
    flows = [
        solve([Region(SQUARE, 0.13), Region(PUTTY, one)], [BELOW, ABOVE]).flows[1]
        for one in (0.03, 0.13, 0.25, 0.5, 5.0, 50.0)
    ]
    assert flows == sorted(flows)


def test_a_path_round_corners_and_in_parts() -> None:
    round_it = Boundary(((0.1, 0.05), (0.1, 0.1), (0, 0.1)), 20, 0.13)
    parts = [Boundary(round_it.path[:2], 20, 0.13), Boundary(round_it.path[1:], 20, 0.13)]
    one = solve([Region(SQUARE, 0.13)], [BELOW, round_it])
    two = solve([Region(SQUARE, 0.13)], [BELOW, *parts])
    assert one.flows[0] == pytest.approx(two.flows[0], rel=1e-3)
    assert one.lowest[1] == pytest.approx(min(two.lowest[1:]), abs=0.05)


def test_at_rest_between_equal_temperatures() -> None:
    cool = Boundary(ABOVE.path, 12, 0.13)
    ours = solve([Region(SQUARE, 0.13)], [Boundary(BELOW.path, 12, 0.04), cool], [(0.05, 0.05)])
    assert ours.temperatures[0] == pytest.approx(12, abs=1e-9)
    assert ours.flows == pytest.approx((0, 0), abs=1e-9)


def test_two_parts_that_touch_in_no_line() -> None:
    """Each stands by itself; heat passes only through the one between the films."""
    apart = tuple((x + 0.2, y) for x, y in SQUARE)
    ours = solve(
        [Region(SQUARE, 0.13), Region(apart, 0.13)],
        [BELOW, ABOVE, Boundary(((0.2, 0), (0.3, 0)), 5, 0.04)],
    )
    assert ours.flows[1] == pytest.approx(0.1 * 20 / (0.17 + 0.1 / 0.13), rel=1e-6)
    assert ours.flows[2] == pytest.approx(0, abs=1e-9)


def doubled_areas(mesh: Mesh) -> np.ndarray:
    a, b, c = (mesh.nodes[mesh.triangles[:, k]] for k in range(3))
    u, v = b - a, c - a
    return u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]


def test_triangles_fit_together_however_they_are_divided() -> None:
    """No area is lost, no side belongs to more than two, no triangle turns over or is in two polygons."""
    mesh = triangles([Region(SQUARE, 0.13), Region(PUTTY, 0.5)], [BELOW.path])
    putty = 0.03 * 0.04 / 2
    for marked in (np.arange(3), np.array([0]), np.arange(0, 40, 5), np.arange(10)):
        twice = doubled_areas(mesh)
        assert (twice > 0).all()
        assert twice.sum() / 2 == pytest.approx(0.01)
        assert twice[mesh.region == 1].sum() / 2 == pytest.approx(putty)
        counts = np.bincount(mesh.sides_of.ravel())
        assert set(counts) == {1, 2}
        assert mesh.lengths[mesh.outer].sum() == pytest.approx(0.4)
        finer = mesh.refined(marked)
        assert len(finer.triangles) >= len(mesh.triangles) + 3 * len(marked)
        mesh = finer


def test_bounded_by_the_first_polygon() -> None:
    over: tuple[Point, ...] = ((-0.02, -0.02), (0.05, -0.02), (0.05, 0.12), (-0.02, 0.12))
    mesh = triangles([Region(SQUARE, 0.13), Region(over, 0.5)], [], bounded=True)
    assert doubled_areas(mesh).sum() / 2 == pytest.approx(0.01)
    assert doubled_areas(mesh)[mesh.region == 1].sum() / 2 == pytest.approx(0.005)


def test_one_mesh_for_other_conductivities() -> None:
    section = settled([Region(SQUARE, 0.13), Region(PUTTY, 0.5)], [BELOW, ABOVE])
    assert section.at_rest().flows == solve(
        [Region(SQUARE, 0.13), Region(PUTTY, 0.5)], [BELOW, ABOVE]
    ).flows  # fmt: skip
    plain = section.at_rest(np.array([0.2, 0.2]))
    assert plain.flows[1] == pytest.approx(0.1 * 20 / (0.17 + 0.1 / 0.2), rel=1e-9)
    assert plain.lowest[0] == pytest.approx(0.04 * 20 / (0.17 + 0.1 / 0.2), rel=1e-9)
    assert len(plain.at_nodes) == len(plain.mesh.nodes)


def test_refused() -> None:
    region = [Region(SQUARE, 0.13)]
    with pytest.raises(ValueError, match="on the edge of the section"):
        solve(region, [Boundary(((0, 0.05), (0.1, 0.05)), 0, 0.04)])
    with pytest.raises(ValueError, match="outside the section"):
        solve(region, [BELOW, ABOVE], [(0.3, 0.05)])
    with pytest.raises(ValueError, match="no boundary"):
        solve(region, [])
    apart = Region(((0.2, 0), (0.3, 0), (0.3, 0.1)), 0.13)
    with pytest.raises(ValueError, match="no boundary touches"):
        solve([*region, apart], [BELOW, ABOVE])
    with pytest.raises(ValueError, match="no polygon"):
        solve([], [BELOW])
    with pytest.raises(ValueError, match="very small one"):
        Boundary(BELOW.path, 0, 0)
    with pytest.raises(ValueError, match="at least 2"):
        Boundary(((0, 0),), 0, 0.1)
    with pytest.raises(ValueError, match="crosses itself"):
        Region(((0, 0), (1, 1), (1, 0), (0, 1)), 0.13)
    with pytest.raises(ValueError, match="conductivity"):
        Region(SQUARE, 0)
