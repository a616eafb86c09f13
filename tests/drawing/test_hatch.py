"""Hatching: lines stay inside the shape and cover it evenly."""

from __future__ import annotations

import math

import pytest

from sashwright.drawing.hatch import RING_SPACINGS, rings, slanted
from tests.drawing.scenes import area

ELL = [(0.0, 0.0), (40.0, 0.0), (40.0, 10.0), (12.0, 10.0), (12.0, 30.0), (0.0, 30.0)]
"""A shape with an inner corner [mm]."""


def _inside_ell(x: float, y: float, slack: float = 1e-6) -> bool:
    foot = -slack <= x <= 40 + slack and -slack <= y <= 10 + slack
    leg = -slack <= x <= 12 + slack and -slack <= y <= 30 + slack
    return foot or leg


def test_slanted_lines_stay_inside_and_fill_the_shape() -> None:
    spacing = 0.5
    lines = list(slanted(ELL, spacing))
    for start, end in lines:
        for share in (0.0, 0.5, 1.0):
            x = start[0] + share * (end[0] - start[0])
            y = start[1] + share * (end[1] - start[1])
            assert _inside_ell(x, y)
    length = sum(math.dist(start, end) for start, end in lines)
    # Strips as wide as the spacing tile the shape, but for its ends.
    assert length * spacing == pytest.approx(area(ELL), rel=0.01)


@pytest.mark.parametrize("pith", [(20.0, -60.0), (-30.0, 15.0), (6.0, 6.0), (90.0, 90.0)])
def test_rings_stay_inside_and_fill_the_shape(pith: tuple[float, float]) -> None:
    covered = 0.0
    for piece in rings(ELL, pith):
        assert _inside_ell(*piece.start)
        assert _inside_ell(*piece.end)
        assert math.dist(pith, piece.start) == pytest.approx(piece.radius)
        chord = math.dist(piece.start, piece.end) / 2 / piece.radius
        angle = 2 * math.asin(min(chord, 1.0))
        covered += piece.radius * (math.tau - angle if piece.large else angle)
    spacing = sum(RING_SPACINGS) / len(RING_SPACINGS)
    # Whole circles have no ends and no chord, so a pith inside loses its innermost rings.
    assert covered * spacing == pytest.approx(area(ELL), rel=0.06 if pith[0] != 6.0 else 0.2)
