"""The edge of a section that heat passes: which film, which part of the window it belongs to."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray

from sashwright.chapters.heat.cut import Cut
from sashwright.chapters.heat.geometry import EDGE_BAND
from sashwright.chapters.heat.spaces import GRID, Spaces, Where
from sashwright.physics.section_mesh import SNAP, Point

Array = NDArray[np.float64]

CORNER = 0.030
"""Longest leg of a corner with a reduced film [m]; ISO 10077-2."""

_STEP = 0.002  # shallower corners are none [m]
_TURN = math.radians(45)
_NEAR = 3 * GRID


@dataclass(frozen=True, slots=True)
class Stretch:
    """A stretch of the edge: ``path`` [m]; on ``glass`` or not; in the corner of a step (``reduced``).

    ``part`` is the frame, or the ``edge`` zone or the ``centre`` of the glass at the edge of that number.
    """

    path: tuple[Point, ...]
    where: Where
    part: str
    edge: int
    glass: bool
    reduced: bool


def exposed(cut: Cut, spaces: Spaces) -> Iterator[Stretch]:
    """All of the edge but what lets nothing through."""
    panes = [shapely.Polygon(s.points) for s in spaces.solids if s.kind in ("glass", "panel")]
    glass = shapely.union_all(panes, grid_size=GRID)
    for shape in (glass, spaces.walls, *spaces.open.values()):
        shapely.prepare(shape)
    ring = _with_corners_of(spaces.walls, shapely.orient_polygons(spaces.whole).exterior)
    for where, chain in _chains(cut, spaces, ring):
        yield from _stretches(cut, chain, where, glass)


def _with_corners_of(walls: shapely.Geometry, ring: shapely.LinearRing) -> Array:
    """The ring's corners, and those where walls begin and end along it."""
    corners = shapely.points(shapely.get_coordinates(walls))
    on = corners[shapely.distance(corners, ring) < _NEAR]
    own = shapely.get_coordinates(ring)
    if not on.size:
        return np.asarray(own)
    run = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(own, axis=0).T))])
    more = shapely.line_locate_point(ring, on)
    far = np.abs(more[:, None] - run).min(axis=1) > _NEAR
    places = np.concatenate([run, more[far]])
    points = np.concatenate(
        [own, shapely.get_coordinates(shapely.line_interpolate_point(ring, more[far]))]
    )
    return np.asarray(points[np.argsort(places, kind="stable")])


def _chains(cut: Cut, spaces: Spaces, ring: Array) -> Iterator[tuple[Where, list[Point]]]:
    """Runs of the ring that one side touches, from where nothing passes to where nothing passes."""
    middles = shapely.points((ring[:-1] + ring[1:]) / 2)
    along = shapely.get_y(middles)
    shut = (np.abs(along - cut.span[0]) < _NEAR) | (np.abs(along - cut.span[1]) < _NEAR)
    if not shapely.is_empty(spaces.walls):
        shut |= shapely.distance(middles, spaces.walls) < _NEAR
    sides: tuple[Where, Where] = ("outdoors", "room")
    away = [shapely.distance(middles, spaces.open[side]) for side in sides]
    of = np.where(shut, -1, np.where(away[0] <= away[1], 0, 1))
    # What touches neither is a crack too small to count.
    of[~shut & (np.minimum(*away) > 0.003)] = -1
    count = len(of)
    changes = np.flatnonzero(of != np.roll(of, 1))
    if not changes.size:
        changes = np.array([0])
    for first, last in zip(changes, [*changes[1:], changes[0] + count], strict=True):
        side = of[first]
        if side >= 0:
            rows = [(k % count) for k in range(first, last)]
            points = [tuple(ring[k]) for k in rows] + [tuple(ring[rows[-1] + 1])]
            yield sides[side], [(float(z), float(s)) for z, s in points]


def _stretches(
    cut: Cut, chain: Sequence[Point], where: Where, glass: shapely.Geometry
) -> Iterator[Stretch]:
    line = shapely.LineString(chain)
    corners = list(_corners(chain, line)) if where == "room" else []
    marks = {0.0, line.length, *(at for pair in corners for at in pair)}
    marks |= set(_crossings(cut, chain))
    run = [0.0, *np.cumsum([math.dist(a, b) for a, b in pairwise(chain)])]
    # Corners near a mark stand for it.
    places = sorted({*run, *(m for m in marks if min(abs(m - r) for r in run) > 10 * SNAP)})
    points = [line.interpolate(at) for at in places]
    last: tuple[str, int, bool, bool] | None = None
    path: list[Point] = []
    for (a, start), (b, end) in pairwise(zip(points, places, strict=True)):
        middle = line.interpolate((start + end) / 2)
        reduced = any(near - 1e-9 <= (start + end) / 2 <= far + 1e-9 for near, far in corners)
        tag = (*_part(cut, middle.y), bool(shapely.distance(middle, glass) < _NEAR), reduced)
        if tag != last:
            if last is not None:
                yield Stretch(tuple(path), where, *last)
            last, path = tag, [(a.x, a.y)]
        path.append((b.x, b.y))
    if last is not None:
        yield Stretch(tuple(path), where, *last)


def _part(cut: Cut, along: float) -> tuple[str, int]:
    if cut.frame[0] - _NEAR <= along <= cut.frame[1] + _NEAR:
        return "frame", 0
    for k, edge in enumerate(cut.edges):
        beyond = (along - edge.sight) * edge.towards
        if beyond > 0:
            return ("edge" if beyond <= EDGE_BAND else "centre"), k
    # Below a sill or beyond the frame.
    return "frame", 0


def _crossings(cut: Cut, chain: Sequence[Point]) -> Iterator[float]:
    """Distances along the chain at which it passes from one part to the next."""
    values = [*cut.frame, *(edge.sight + edge.towards * EDGE_BAND for edge in cut.edges)]
    done = 0.0
    for (z0, s0), (z1, s1) in pairwise(chain):
        length = math.dist((z0, s0), (z1, s1))
        for value in values:
            if min(s0, s1) < value < max(s0, s1):
                yield done + length * (value - s0) / (s1 - s0)
        done += length


def _corners(chain: Sequence[Point], line: shapely.LineString) -> Iterator[tuple[float, float]]:
    """Where on the chain faces of a step see each other: as far from its corner as it is deep."""
    plain = shapely.get_coordinates(shapely.simplify(line, _STEP))
    for k in range(1, len(plain) - 1):
        back, on = plain[k - 1] - plain[k], plain[k + 1] - plain[k]
        legs = math.hypot(*back), math.hypot(*on)
        # The body lies on the left: a turn to the right is a corner of the air.
        turn = math.atan2(-back[0] * on[1] + back[1] * on[0], -back[0] * on[0] - back[1] * on[1])
        if turn > -_TURN:
            continue
        reach = min(CORNER, *legs)
        ends = (plain[k] + back * reach / legs[0], plain[k] + on * reach / legs[1])
        near, far = (line.project(shapely.Point(end)) for end in ends)
        yield min(near, far), max(near, far)
