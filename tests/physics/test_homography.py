"""A plane seen through a camera, and back: laws that hold whatever the numbers."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sashwright.physics.homography import (
    angle,
    bend_of,
    carried,
    goes_round,
    homography,
    length,
    mapped,
    rectangle,
    spacing,
    straightened,
)
from tests.cameras import CORNERS, HIGH, SIZE, WIDE, any_camera, bent, turned


@given(st.integers(0, 10_000))
def test_there_and_back(seed: int) -> None:
    rng = np.random.default_rng(seed)
    camera = any_camera(rng)
    points = rng.uniform(0, 1, (20, 2)) * np.array([WIDE, HIGH])
    found = homography(camera.sees(CORNERS), rectangle(WIDE, HIGH))
    assert np.abs(mapped(found, camera.sees(points)) - points).max() < 1e-9
    back = np.linalg.inv(found)
    assert np.abs(mapped(back, points) - camera.sees(points)).max() < 1e-6


def test_several_at_once_are_each_by_itself() -> None:
    rng = np.random.default_rng(3)
    seen = np.stack([any_camera(rng).sees(CORNERS) for _ in range(5)])
    together = homography(seen, rectangle(WIDE, HIGH))
    for one, each in zip(seen, together, strict=True):
        assert np.allclose(homography(one, rectangle(WIDE, HIGH)), each, rtol=1e-9)


def test_straight_lines_stay_straight() -> None:
    rng = np.random.default_rng(4)
    camera = any_camera(rng)
    line = np.linspace([0.1, 0.2], [0.7, 1.4], 9)
    seen = camera.sees(line)
    along, away = seen[-1] - seen[0], seen[1:-1] - seen[0]
    off = away[:, 0] * along[1] - away[:, 1] * along[0]
    assert np.abs(off).max() < 1e-6 * (along @ along)


def test_three_points_fix_no_plane() -> None:
    with pytest.raises(ValueError, match="at least 4"):
        homography(CORNERS[:3], CORNERS[:3])


@pytest.mark.parametrize(
    ("corners", "good"),
    [
        ([[0, 0], [9, 1], [8, 9], [1, 8]], True),
        ([[0, 0], [1, 8], [8, 9], [9, 1]], True),
        ([[0, 0], [8, 9], [9, 1], [1, 8]], False),
        ([[0, 0], [9, 0], [2, 2], [0, 9]], False),
        ([[0, 0], [5, 0], [9, 0], [3, 6]], False),
        ([[3, 3]] * 4, False),
    ],
)
def test_whether_corners_go_round(corners: list[list[float]], good: bool) -> None:
    assert goes_round(np.array(corners, float)) is good


def test_what_is_measured_does_not_mind_how_the_plane_lies() -> None:
    points = np.array([[0.1, 0.2], [0.4, 0.6], [0.7, 1.0], [0.3, 0.1]])
    spin = turned(0, 0, 37)[:2, :2]
    for what in (length, angle):
        assert np.allclose(what(points), what(points @ spin + 3.0))
    assert length(points[:2])[0] == pytest.approx(0.5)
    assert spacing(points[:3]) == pytest.approx([0.5, 0.5])
    across = np.array([[0.0, 0], [2, 0], [1, 1], [1, 5]])
    assert angle(across)[0] == pytest.approx(90)
    assert angle(across[[0, 1, 1, 0]])[0] == pytest.approx(0, abs=1e-9)


def test_a_lens_and_back() -> None:
    rng = np.random.default_rng(5)
    points = rng.uniform(0, 1, (30, 2)) * np.array(SIZE)
    for bend in (-0.15, -0.02, 0.03, 0.1):
        assert np.abs(straightened(bent(points, bend), bend, SIZE) - points).max() < 1e-8


def edges(bend: float, rng: np.random.Generator) -> list[np.ndarray]:
    """Six edges as a person would mark them, to a pixel."""
    wide, high = SIZE
    lines = []
    for at in (0.06, 0.5, 0.93):
        down = np.linspace([at * wide, 200], [at * wide + 150, high - 200], 8)
        across = np.linspace([150, at * high], [wide - 150, at * high - 90], 8)
        lines += [bent(line, bend) + rng.normal(0, 1, line.shape) for line in (down, across)]
    return lines


def test_the_lens_is_told_from_straight_edges_within_its_error() -> None:
    rng = np.random.default_rng(6)
    off = []
    for _ in range(120):
        bend = rng.uniform(-0.1, 0.1)
        found, error = bend_of(edges(bend, rng), SIZE, 1.0)
        assert error < 0.003
        off.append((found - bend) / error)
    assert abs(np.mean(off)) < 0.3
    assert 0.8 < np.std(off) < 1.2


def test_edges_through_the_middle_tell_nothing() -> None:
    line = np.linspace([1500.0, 200], [1500, 3800], 7)
    assert bend_of([line], SIZE, 1.0)[1] > 1e3


def test_errors_of_sums_and_products_by_hand() -> None:
    value, error, shares = carried(
        lambda rows: np.stack((rows[:, 0] + rows[:, 1], rows[:, 0] * rows[:, 1]), axis=-1),
        np.array([3.0, 4.0]),
        np.array([0.3, 0.4]),
    )
    assert value == pytest.approx([7, 12])
    assert error == pytest.approx([0.5, np.hypot(4 * 0.3, 3 * 0.4)])
    assert shares == pytest.approx(np.array([[0.3, 1.2], [0.4, 1.2]]))


def test_what_is_exact_has_no_share() -> None:
    _, error, shares = carried(
        lambda rows: rows[:, :1] * rows[:, 1:], np.array([2.0, 5.0]), np.array([0.0, 0.1])
    )
    assert error == pytest.approx([0.2])
    assert shares[0, 0] == 0
