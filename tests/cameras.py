"""Cameras that look at a plane: where a point of it falls in the picture, exactly."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sashwright.physics.homography import Array

SIZE = (3000.0, 4000.0)
"""Of every picture, held upright [pixels]."""
WIDE, HIGH = 32 * 0.0254, 62.5 * 0.0254
"""An ordinary opening [m]."""
CORNERS = np.array([[0.0, 0], [WIDE, 0], [WIDE, HIGH], [0, HIGH]])


@dataclass(frozen=True)
class PinholeCamera:
    """By its focal length [pixels], turn (3, 3) and place (3,) [m]; looks along its own third axis."""

    focal: float
    turn: Array
    place: Array
    bend: float = 0.0
    """Of the lens: the division model's coefficient; none for a pinhole."""

    def sees(self, points: Array) -> Array:
        """Points of the plane (n, 2) [m] in the picture [pixels]."""
        about = points - np.array([WIDE / 2, HIGH / 2])
        seen = about @ self.turn[:, :2].T + self.place
        flat: Array = self.focal * seen[:, :2] / seen[:, 2:] + np.array(SIZE) / 2
        return flat if self.bend == 0 else bent(flat, self.bend)

    @property
    def oblique(self) -> float:
        """Between its axis and the plane's [degrees]."""
        return float(np.degrees(np.arccos(self.turn[2, 2])))


def bent(points: Array, bend: float) -> Array:
    """Points as a lens shows them: the division model turned round, in closed form."""
    middle = np.array(SIZE) / 2
    away = (points - middle) / np.hypot(*middle)
    far = np.linalg.norm(away, axis=-1, keepdims=True)
    seen = 2 * far / (1 + np.sqrt(1 - 4 * bend * far**2))
    moved: Array = middle + away / far * seen * np.hypot(*middle)
    return moved


def turned(across: float, up: float, roll: float) -> Array:
    """A turn about the upright, the level and the camera's own axis [degrees]."""
    a, b, c = np.radians([across, up, roll])
    round_y = np.array([[np.cos(a), 0, np.sin(a)], [0, 1, 0], [-np.sin(a), 0, np.cos(a)]])
    round_x = np.array([[1, 0, 0], [0, np.cos(b), -np.sin(b)], [0, np.sin(b), np.cos(b)]])
    round_z = np.array([[np.cos(c), -np.sin(c), 0], [np.sin(c), np.cos(c), 0], [0, 0, 1]])
    found: Array = round_z @ round_x @ round_y
    return found


def any_camera(rng: np.random.Generator, most: float = 45.0, bend: float = 0.0) -> PinholeCamera:
    """A camera somewhere before the opening, all corners in its picture, no more oblique than ``most``.

    The opening is at least 40 % as high as the picture: whoever measures goes near enough.
    """
    while True:
        turn = turned(rng.uniform(-most, most), rng.uniform(-0.6, 0.6) * most, rng.uniform(-10, 10))
        far = rng.uniform(1.2, 3.5) * HIGH
        aside = rng.uniform(-0.15, 0.15, 2) * far
        camera = PinholeCamera(rng.uniform(0.7, 1.3) * SIZE[0], turn, np.array([*aside, far]), bend)
        seen = camera.sees(CORNERS)
        whole = (seen > 0).all() and (seen < np.array(SIZE)).all()
        if whole and camera.oblique <= most and np.ptp(seen[:, 1]) > 0.4 * SIZE[1]:
            return camera


def two_points(rng: np.random.Generator, least: float = 0.05) -> Array:
    """Two points of the opening, at least so far apart [m]."""
    while True:
        points = rng.uniform(0, 1, (2, 2)) * np.array([WIDE, HIGH])
        if np.linalg.norm(points[0] - points[1]) > least:
            found: Array = points
            return found
