"""European wind pressures against published worked examples and EN 1991-1-4's own tables."""

from __future__ import annotations

import pytest

from sashwright.physics.wind import (
    Terrain,
    WallZone,
    peak_velocity_pressure_en,
    wall_coefficient_en,
    wall_pressure_en,
)


@pytest.mark.parametrize(
    ("velocity", "terrain", "height", "printed"),
    [
        # Access Steel SX016a, "Determination of loads on a building envelope": a hall 7.3 m high.
        (26.0, "II", 7.3, 911.0),
        # A worked hall with a duopitch roof, 9 m, in town: q_b 422 Pa, c_r 0.54, I_v 0.434.
        (26.0, "IV", 9.0, 497.0),
        # A tower by the sea, 77.36 m, and its lower 28 m: c_r 1.585 and 1.426, I_v 0.098 and 0.109.
        (25.0, "0", 77.36, 1658.0),
        (25.0, "0", 28.0, 1403.0),
    ],
)
def test_worked_examples(velocity: float, terrain: Terrain, height: float, printed: float) -> None:
    ours = peak_velocity_pressure_en(basic_velocity=velocity, terrain=terrain, height=height)
    # They round on the way.
    assert ours == pytest.approx(printed, rel=2e-3)


@pytest.mark.parametrize(
    ("terrain", "height", "printed"),
    # Exposure factors c_e as read from EN 1991-1-4, figure 4.2 (from memory, to a twentieth).
    [("0", 10, 3.0), ("I", 10, 2.8), ("II", 10, 2.35), ("III", 10, 1.7), ("IV", 10, 1.2)],
)
def test_exposure_factors(terrain: Terrain, height: float, printed: float) -> None:
    base = 1.25 / 2 * 27.0**2
    ours = peak_velocity_pressure_en(basic_velocity=27.0, terrain=terrain, height=height) / base
    assert ours == pytest.approx(printed, abs=0.05)


@pytest.mark.parametrize(
    ("zone", "slender", "ten", "one"),
    # EN 1991-1-4, table 7.1, as two open programs have it.
    [
        ("A", 0.25, -1.2, -1.4),
        ("A", 5, -1.2, -1.4),
        ("B", 1, -0.8, -1.1),
        ("C", 1, -0.5, -0.5),
        ("D", 5, 0.8, 1.0),
        ("D", 1, 0.8, 1.0),
        ("D", 0.25, 0.7, 1.0),
        ("E", 5, -0.7, -0.7),
        ("E", 1, -0.5, -0.5),
        ("E", 0.25, -0.3, -0.3),
        # Straight in h/d, as example SX016a has it: 7.3 m high, 30 m deep lies below the first column;
        # half-way from 0.25 to 1 is 0.625.
        ("D", 7.3 / 30, 0.7, 1.0),
        ("D", 0.625, 0.75, 1.0),
        ("E", 0.625, -0.4, -0.4),
        ("E", 3, -0.6, -0.6),
    ],
)
def test_walls(zone: WallZone, slender: float, ten: float, one: float) -> None:
    for area, printed in ((0.5, one), (1.0, one), (10.0, ten), (40.0, ten)):
        ours = wall_coefficient_en(zone=zone, height=10 * slender, depth=10, area=area)
        assert ours == pytest.approx(printed, abs=1e-9)
    middle = wall_coefficient_en(zone=zone, height=10 * slender, depth=10, area=10**0.5)
    assert middle == pytest.approx((ten + one) / 2, abs=1e-9)


def test_a_window_by_hand() -> None:
    """A pane of 1.5 m2 near a corner, 1000 Pa: -1.4 + 0.2 log 1.5 = -1.365, less 0.2 within."""
    c = wall_coefficient_en(zone="A", height=8, depth=8, area=1.5)
    most, least = wall_pressure_en(1000.0, c)
    assert least == pytest.approx(-1565, abs=1)
    assert most == pytest.approx(-1065, abs=1)
