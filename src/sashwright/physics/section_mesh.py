"""Polygons of a section cut into triangles that fit together, each in one polygon only."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

Array = NDArray[np.float64]
Indices = NDArray[np.int64]
Point = tuple[float, float]

SNAP = 1e-7
"""Corners nearer to each other are one [m]: a tenth of a micrometre, nothing in a window."""
# Lines that cut up the polygons of the first mesh: no further apart than the first share of the section, and
# not taken through a corner nearer than the second to the last one.
_WIDEST = 1 / 8
_NARROWEST = 1 / 16


@dataclass(frozen=True, slots=True)
class Region:
    """A polygon of one material: ``outline`` [m], ``conductivity`` [W/(m K)]."""

    outline: tuple[Point, ...]
    conductivity: float

    def __post_init__(self) -> None:
        if self.conductivity <= 0:
            raise ValueError(f"found a conductivity of {self.conductivity}, expected more than 0")
        if len(self.outline) < 3 or not shapely.Polygon(self.outline).is_valid:
            raise ValueError(f"found no polygon, or one that crosses itself: {self.outline}")


@dataclass(frozen=True)
class Mesh:
    """Triangles that meet in whole sides.

    ``nodes`` [m], shape (nodes, 2); ``triangles`` their corners, counter-clockwise, shape
    (triangles, 3); ``region`` which polygon each is in.
    """

    nodes: Array
    triangles: Indices
    region: Indices

    @cached_property
    def _sides(self) -> tuple[Indices, Indices, Indices]:
        t = self.triangles
        ends = np.concatenate([t[:, [0, 1]], t[:, [1, 2]], t[:, [2, 0]]])
        ends.sort(axis=1)
        count = len(self.nodes)
        keys, number, shared = np.unique(
            ends[:, 0] * count + ends[:, 1], return_inverse=True, return_counts=True
        )
        sides = np.stack([keys // count, keys % count], axis=1)
        return sides, number.reshape(3, -1).T, np.flatnonzero(shared == 1)

    @property
    def sides(self) -> Indices:
        """Ends of every side, the lower number first, shape (sides, 2)."""
        return self._sides[0]

    @property
    def sides_of(self) -> Indices:
        """Sides of each triangle: from corner 0 to 1, 1 to 2, 2 to 0; shape (triangles, 3)."""
        return self._sides[1]

    @property
    def outer(self) -> Indices:
        """Sides that belong to one triangle only."""
        return self._sides[2]

    @cached_property
    def lengths(self) -> Array:
        """Of all sides [m]."""
        run = self.nodes[self.sides[:, 1]] - self.nodes[self.sides[:, 0]]
        return np.hypot(run[:, 0], run[:, 1])

    def refined(self, marked: Indices) -> Mesh:
        """The mesh with all sides of the ``marked`` triangles halved, and what else that asks for.

        A triangle is always halved across its longest side first (Rivara 1984), so that no angle
        gets smaller than half of the least there was.
        """
        sides_of = self.sides_of
        # A side's number breaks ties, so that both of its triangles find the same one longest.
        ranks = np.empty(len(self.sides), dtype=np.int64)
        ranks[np.lexsort((np.arange(len(self.sides)), self.lengths))] = np.arange(len(self.sides))
        longest = ranks[sides_of].argmax(axis=1)
        rows = np.arange(len(sides_of))
        halved = np.zeros(len(self.sides), dtype=bool)
        halved[sides_of[marked]] = True
        while True:
            touched = halved[sides_of].any(axis=1)
            more = touched & ~halved[sides_of[rows, longest]]
            if not more.any():
                break
            halved[sides_of[more, longest[more]]] = True
        middle = np.full(len(self.sides), -1)
        middle[halved] = len(self.nodes) + np.arange(halved.sum())
        nodes = np.concatenate([self.nodes, self.nodes[self.sides[halved]].mean(axis=1)])
        # Turned so that the longest side leads.
        turn = (longest[:, None] + np.arange(3)) % 3
        corner = np.take_along_axis(self.triangles, turn, axis=1)
        new = np.take_along_axis(middle[sides_of], turn, axis=1)
        (a, b, c), (ab, bc, ca) = corner.T, new.T
        whole = ab < 0
        parts = [(corner[whole], whole)]
        # Either half, from its outer side to the new corner; halved again where that side is.
        for one, two, cut in ((c, a, ca), (b, c, bc)):
            plain, twice = ~whole & (cut < 0), cut >= 0
            parts.append((np.stack([one, two, ab], axis=1)[plain], plain))
            parts.append((np.stack([one, cut, ab], axis=1)[twice], twice))
            parts.append((np.stack([cut, two, ab], axis=1)[twice], twice))
        return Mesh(
            nodes,
            np.concatenate([each for each, _ in parts]),
            np.concatenate([self.region[which] for _, which in parts]),
        )


def triangles(
    polygons: Sequence[Region], paths: Iterable[Sequence[Point]], *, bounded: bool = False
) -> Mesh:
    """A first mesh. All corners of the polygons and of the ``paths`` on their edges become nodes.

    Upright and level lines, mostly through corners, cut the polygons into pieces, and those are cut
    into triangles. Where polygons overlap the later one counts. Where they are ``bounded``, only what
    lies in the first of them is kept.
    """
    if not polygons:
        raise ValueError("found no polygon, expected at least one")
    shapes = [shapely.Polygon(region.outline) for region in polygons]
    nodes = np.concatenate([np.asarray(region.outline, dtype=np.float64) for region in polygons])
    low, high = nodes.min(axis=0), nodes.max(axis=0)
    lines = [
        *(
            shapely.LineString([(x, low[1]), (x, high[1])])
            for x in _strips(nodes[:, 0], high - low)
        ),
        *(
            shapely.LineString([(low[0], y), (high[0], y)])
            for y in _strips(nodes[:, 1], high - low)
        ),
        *(shape.exterior for shape in shapes),
        *(shapely.LineString(path) for path in paths if len(path) > 1),
    ]
    pieces = shapely.get_parts(shapely.polygonize([shapely.union_all(lines, grid_size=SNAP)]))
    inner = shapely.get_coordinates(shapely.point_on_surface(pieces))
    of = _regions(inner, shapes)
    kept = of >= 0
    if bounded:
        kept &= shapely.contains_xy(shapes[0], inner[:, 0], inner[:, 1])
    pieces, of = pieces[kept], of[kept]
    cut, piece = shapely.get_parts(
        shapely.constrained_delaunay_triangles(pieces), return_index=True
    )
    return _mesh(shapely.get_coordinates(cut).reshape(-1, 4, 2)[:, :3], of[piece])


def _strips(values: Array, size: Array) -> Array:
    """Where to cut: through corners that are far enough apart, and between those too far apart."""
    ends = np.unique(np.round(values / SNAP) * SNAP)
    widest, narrowest = size.max() * _WIDEST, size.max() * _NARROWEST
    kept = [ends[0]]
    for at in ends[1:-1]:
        if at - kept[-1] >= narrowest and ends[-1] - at >= narrowest:
            kept.append(at)
    kept.append(ends[-1])
    strips = [np.asarray(kept[:1])]
    for low, high in pairwise(kept):
        count = int(np.ceil((high - low) / widest - 1e-9))
        strips.append(np.linspace(low, high, count + 1)[1:])
    return np.concatenate(strips)


def _regions(points: Array, shapes: Sequence[shapely.Polygon]) -> Indices:
    """Which polygon each point lies in: the last one that holds it, or -1."""
    of = np.full(len(points), -1)
    for k, shape in enumerate(shapes):
        shapely.prepare(shape)
        of[shapely.contains_xy(shape, points[:, 0], points[:, 1])] = k
    return of


def _mesh(corners: Array, region: Indices) -> Mesh:
    """Triangles given by their corners, shape (triangles, 3, 2), tied together."""
    keys = np.round(corners.reshape(-1, 2) / SNAP).astype(np.int64)
    span = keys[:, 1].max() - keys[:, 1].min() + 1
    single = (keys[:, 0] - keys[:, 0].min()) * span + keys[:, 1] - keys[:, 1].min()
    _, first, number = np.unique(single, return_index=True, return_inverse=True)
    nodes, mesh = np.asarray(keys[first] * SNAP, dtype=np.float64), number.reshape(-1, 3)
    a, b, c = (nodes[mesh[:, k]] for k in range(3))
    twice = (b - a)[:, 0] * (c - a)[:, 1] - (b - a)[:, 1] * (c - a)[:, 0]
    mesh[twice < 0] = mesh[twice < 0][:, ::-1]
    solid = np.abs(twice) > SNAP * SNAP
    return Mesh(nodes, mesh[solid], region[solid])


def sides_on(mesh: Mesh, path: Sequence[Point]) -> Indices:
    """The outer sides of the mesh along a path.

    Raises
    ------
    ValueError
        If any of the path is not on the edge of the section.
    """
    line = shapely.LineString(path)
    outer = mesh.outer
    middles = shapely.points(mesh.nodes[mesh.sides[outer]].mean(axis=1))
    shapely.prepare(line)
    on = outer[shapely.dwithin(line, middles, 2 * SNAP)]
    length = mesh.lengths[on].sum()
    if abs(length - line.length) > 1e-5 * line.length + 10 * SNAP:
        raise ValueError(
            f"found {length:.6f} m of a boundary of {line.length:.6f} m on the edge of the section, "
            f"expected all of it: {tuple(path)}"
        )
    return np.asarray(on)


def loose_parts(mesh: Mesh, held: Indices) -> int:
    """How many separate parts of the mesh have none of the ``held`` sides."""
    sides = mesh.sides
    links = coo_array(
        (np.ones(len(sides)), (sides[:, 0], sides[:, 1])), shape=(len(mesh.nodes),) * 2
    )
    count, part = connected_components(links, directed=False)
    return int(count - np.unique(part[sides[held, 0]]).size)
