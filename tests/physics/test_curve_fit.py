"""Lines and arcs through points: what they were drawn from is found again."""

from __future__ import annotations

import math

import numpy as np
import pytest

from sashwright.knowledge import curves
from sashwright.physics.curve_fit import deviation, even, fit_outline
from sashwright.physics.cutterhead import ground_depth

QUARTER = math.tan(math.pi / 8)
OVOLO: tuple[curves.Vertex, ...] = ((0, 0, 0), (0, 1, QUARTER), (11, 12, 0), (13, 12, 0))
STRIP: tuple[curves.Vertex, ...] = (
    (0, 0, 0), (40, 0, 0), (40, 10, QUARTER), (34, 16, 0), (12, 16, -QUARTER), (4, 8, 0), (0, 8, 0),
)  # fmt: skip


@pytest.mark.parametrize("noise", [0.0, 0.02])
def test_an_ovolo_is_found_again(noise: float) -> None:
    points = even(np.array(curves.flat(OVOLO, closed=False, per_arc=200)), 300)
    points += np.random.default_rng(7).normal(0, noise, points.shape)
    fitted = fit_outline(points, 0.02 if noise == 0 else 0.1)
    assert len(fitted.vertices) == len(OVOLO)
    found = np.array(fitted.vertices)
    assert found[:, :2] == pytest.approx(np.array(OVOLO)[:, :2], abs=0.02 if noise == 0 else 0.06)
    assert found[:, 2] == pytest.approx(np.array(OVOLO)[:, 2], abs=0.01)
    # What it says of itself is what the points are from it.
    assert fitted.error == pytest.approx(deviation(points, found), rel=1e-9)
    assert fitted.error < (0.03 if noise == 0 else 0.1)


def test_a_closed_section_is_found_again() -> None:
    points = even(np.array(curves.flat(STRIP, closed=True, per_arc=200)), 2000)[:-1]
    fitted = fit_outline(points, 0.05, closed=True)
    assert len(fitted.vertices) == len(STRIP)
    assert curves.enclosed(fitted.vertices) == pytest.approx(curves.enclosed(STRIP), rel=1e-3)
    assert fitted.error < 0.02


def test_deviation_looks_both_ways() -> None:
    line = np.column_stack([np.linspace(0, 10, 50), np.zeros(50)])
    spike = ((0, 0, 0), (5, 0, 0), (5, 3, 0), (5, 0, 0), (10, 0, 0))
    assert deviation(line, spike) == pytest.approx(3.0, abs=0.01)


def test_too_little_to_fit() -> None:
    with pytest.raises(ValueError, match="at least 4"):
        fit_outline(np.zeros((3, 2)), 0.1)
    with pytest.raises(ValueError, match="no tolerance"):
        fit_outline(np.zeros((9, 2)), 0.0)


def test_a_knife_with_a_hook_is_ground_deeper() -> None:
    # A radial face cuts what it is ground to.
    assert ground_depth(0.010, 0.060, 0.0) == pytest.approx(0.010)
    # By hand, R 60, hook 30 degrees: e = 30; sqrt(3600 - 900) - sqrt(2500 - 900) = 51.9615 - 40 mm.
    assert ground_depth(0.010, 0.060, 30.0) == pytest.approx(0.0119615, abs=1e-7)
    with pytest.raises(ValueError, match="expected less than"):
        ground_depth(0.040, 0.060, 30.0)
    with pytest.raises(ValueError, match="0 to 90"):
        ground_depth(0.010, 0.060, 95.0)
