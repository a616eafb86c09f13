"""Regions in the plane of the window, and the solids they make through its thickness.

Every piece of a sash, at a given depth, is a *band*: bounded left and right by upright lines, below and
above by a level line or by an arc of a circle. Its bounds move with the member's inset at that depth, so
volume and centre of gravity are integrals of closed forms over the profile's nodes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from sashwright.window.profile import Array, Nodes


class Arc(NamedTuple):
    """Upper part of a circle centred on the window's middle line: height of its centre, radius [m]."""

    centre: float
    radius: float

    def height(self, x: float) -> float:
        """Height of the arc at ``x`` [m]; the centre's height beyond its ends."""
        return float(self.centre + np.sqrt(max(self.radius**2 - x * x, 0.0)))


class Band(NamedTuple):
    """A region that shifts with the inset of the profile.

    At inset ``p`` and depth ``z`` it spans ``left + left_p p`` .. ``right + right_p p`` and
    ``bottom + bottom_p p + bottom_z z`` .. ``top + top_p p``. Where an arc is given it takes the place of
    the level line, with its radius grown by ``p`` times the factor of that line.
    """

    left: float
    right: float
    bottom: float
    top: float
    left_p: float = 0.0
    right_p: float = 0.0
    bottom_p: float = 0.0
    top_p: float = 0.0
    bottom_z: float = 0.0
    bottom_arc: Arc | None = None
    top_arc: Arc | None = None


@dataclass(frozen=True, slots=True)
class Solid:
    """Volume [m3] and first moments about the axes [m4]."""

    volume: float = 0.0
    x: float = 0.0
    y: float = 0.0
    z: float = 0.0

    def __add__(self, other: Solid) -> Solid:
        return Solid(
            self.volume + other.volume, self.x + other.x, self.y + other.y, self.z + other.z
        )

    def __sub__(self, other: Solid) -> Solid:
        return self + other.scaled(-1.0)

    def scaled(self, factor: float) -> Solid:
        return Solid(self.volume * factor, self.x * factor, self.y * factor, self.z * factor)

    @property
    def centre(self) -> tuple[float, float, float]:
        """Centre of gravity [m]."""
        return self.x / self.volume, self.y / self.volume, self.z / self.volume


NOTHING = Solid()


class Bands:
    """Many bands at once: their solids come from one array computation."""

    def __init__(self, bands: Sequence[Band]) -> None:
        table = np.array([band[:9] for band in bands]).T[:, :, None]
        self._left, self._right, self._bottom, self._top = table[:4]
        self._left_p, self._right_p, self._bottom_p, self._top_p, self._bottom_z = table[4:]
        self._top_arcs = _Arcs([band.top_arc for band in bands])
        self._bottom_arcs = _Arcs([band.bottom_arc for band in bands])

    def solids(self, nodes: Nodes) -> list[Solid]:
        """The solids the bands make through the depths of ``nodes``."""
        p, z = nodes.inset, nodes.z
        x0, x1 = self._left + self._left_p * p, self._right + self._right_p * p
        grown_top, grown_bottom = self._top_p * p, self._bottom_p * p
        plane = _below_line(self._top + grown_top, x0, x1)
        self._top_arcs.follow(plane, grown_top, x0, x1)
        below = _below_line(self._bottom + grown_bottom + self._bottom_z * z, x0, x1)
        self._bottom_arcs.follow(below, grown_bottom, x0, x1)
        plane -= below
        sums = plane @ nodes.weight
        depth = plane[0] @ (nodes.weight * z)
        return [Solid(*row) for row in zip(*sums.tolist(), depth.tolist(), strict=True)]


class _Arcs:
    """Those of some bands that are bounded by an arc."""

    def __init__(self, arcs: Sequence[Arc | None]) -> None:
        self.rows = [row for row, arc in enumerate(arcs) if arc is not None]
        if self.rows:
            found = np.array([arc for arc in arcs if arc is not None])
            self._centre, self._radius = found[:, :1], found[:, 1:]

    def follow(self, moments: Array, growth: Array, x0: Array, x1: Array) -> None:
        """Replace the moments under level lines by those under the arcs, grown by ``growth``."""
        if not self.rows:
            return
        rows = self.rows
        radius = self._radius + growth[rows]
        far = _under_arc(x1[rows], radius, self._centre)
        moments[:, rows] = far - _under_arc(x0[rows], radius, self._centre)


def _below_line(height: Array, x0: Array, x1: Array) -> Array:
    """Area, x-moment and y-moment between y = 0 and a level line, from ``x0`` to ``x1``."""
    area = height * (x1 - x0)
    return np.array((area, area * (x0 + x1) / 2, area * height / 2))


def _under_arc(x: Array, radius: Array, centre: Array) -> Array:
    """Integrals from 0 to ``x`` under an arc: of its height, of x times it, of half its square."""
    square, round_ = x * x, radius * radius
    root = np.sqrt(np.maximum(round_ - square, 0.0))
    # A grown sight line may overshoot its own arc by the last bit.
    angle = np.arcsin(np.minimum(np.maximum(x / radius, -1.0), 1.0))
    half_disc = (x * root + round_ * angle) / 2
    area = centre * x + half_disc
    first = centre * square / 2 + (round_ * radius - root * root * root) / 3
    second = (centre * centre * x + 2 * centre * half_disc + round_ * x - x * square / 3) / 2
    return np.array((area, first, second))
