"""Polygons of a section cut into triangles that fit together, each in one polygon only."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components
from skfem import MeshTri

Array = NDArray[np.float64]
Point = tuple[float, float]

SNAP = 1e-7
"""Corners nearer to each other are one [m]: a tenth of a micrometre, nothing in a window."""
# No strip of the first mesh is wider than this share of the section.
_STRIP = 1 / 16


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


def triangles(polygons: Sequence[Region], corners: Iterable[Sequence[Point]]) -> MeshTri:
    """A first mesh. All corners of the polygons and all other ``corners`` become its nodes.

    Upright and level lines through all corners cut the polygons into pieces, mostly rectangles, and
    those into triangles.
    """
    if not polygons:
        raise ValueError("found no polygon, expected at least one")
    shapes = [shapely.Polygon(region.outline) for region in polygons]
    nodes = np.concatenate(
        [np.asarray(region.outline, dtype=np.float64) for region in polygons]
        + [np.asarray(points, dtype=np.float64).reshape(-1, 2) for points in corners]
    )
    low, high = nodes.min(axis=0), nodes.max(axis=0)
    lines = [
        *(shapely.LineString([(x, low[1]), (x, high[1])]) for x in _strips(nodes[:, 0])),
        *(shapely.LineString([(low[0], y), (high[0], y)]) for y in _strips(nodes[:, 1])),
        *(shape.exterior for shape in shapes),
    ]
    pieces = shapely.get_parts(shapely.polygonize([shapely.union_all(lines, grid_size=SNAP)]))
    whole = shapely.union_all(shapes, grid_size=SNAP)
    shapely.prepare(whole)
    pieces = pieces[shapely.contains(whole, shapely.point_on_surface(pieces))]
    parts = shapely.get_parts(shapely.constrained_delaunay_triangles(pieces))
    return _mesh(shapely.get_coordinates(parts).reshape(-1, 4, 2)[:, :3])


def _strips(values: Array) -> Array:
    """The values and more between them, so that no strip is too wide."""
    ends = np.unique(np.round(values / SNAP) * SNAP)
    widest = (ends[-1] - ends[0]) * _STRIP
    strips = [ends[:1]]
    for low, high in pairwise(ends):
        count = int(np.ceil((high - low) / widest - 1e-9))
        strips.append(np.linspace(low, high, count + 1)[1:])
    return np.concatenate(strips)


def _mesh(corners: Array) -> MeshTri:
    """Triangles given by their corners, shape (triangles, 3, 2), tied together."""
    keys = np.round(corners.reshape(-1, 2) / SNAP).astype(np.int64)
    unique, number = np.unique(keys, axis=0, return_inverse=True)
    mesh = number.reshape(-1, 3)
    return MeshTri(np.ascontiguousarray(unique.T * SNAP), np.ascontiguousarray(mesh.T))


def regions_of(mesh: MeshTri, polygons: Sequence[Region]) -> NDArray[np.int64]:
    """Which polygon each triangle lies in: the last one that holds its middle."""
    x, y = mesh.p[:, mesh.t].mean(axis=1)
    of = np.full(mesh.nelements, -1)
    for k, region in enumerate(polygons):
        shape = shapely.Polygon(region.outline)
        shapely.prepare(shape)
        of[shapely.contains_xy(shape, x, y)] = k
    stray = np.flatnonzero(of < 0)
    if stray.size:
        # Slivers along a slanting edge, whose corners were moved by no more than a snap.
        shapes = np.array([shapely.Polygon(region.outline) for region in polygons])
        away = shapely.distance(shapes[:, None], shapely.points(x[stray], y[stray]))
        if (away.min(axis=0) > 2 * SNAP).any():
            raise ValueError("found triangles outside all polygons, expected none")
        of[stray] = away.argmin(axis=0)
    return of


def facets_on(mesh: MeshTri, path: Sequence[Point]) -> NDArray[np.int64]:
    """The outer edges of the mesh along a path.

    Raises
    ------
    ValueError
        If any of the path is not on the edge of the section.
    """
    line = shapely.LineString(path)
    outer = mesh.boundary_facets()
    ends = mesh.p[:, mesh.facets[:, outer]]
    middles = shapely.points(*ends.mean(axis=1))
    shapely.prepare(line)
    on = shapely.dwithin(line, middles, 2 * SNAP)
    length = np.hypot(*(ends[:, 1] - ends[:, 0]))[on].sum()
    if abs(length - line.length) > 1e-5 * line.length + 10 * SNAP:
        raise ValueError(
            f"found {length:.6f} m of a boundary of {line.length:.6f} m on the edge of the section, "
            f"expected all of it: {tuple(path)}"
        )
    return np.asarray(outer[on])


def loose_parts(mesh: MeshTri, held: NDArray[np.int64]) -> int:
    """How many separate parts of the mesh have none of the ``held`` edges."""
    first = np.concatenate([mesh.t[0], mesh.t[1]])
    second = np.concatenate([mesh.t[1], mesh.t[2]])
    links = coo_array((np.ones(first.size), (first, second)), shape=(mesh.nvertices,) * 2)
    count, part = connected_components(links, directed=False)
    return int(count - np.unique(part[mesh.facets[0, held]]).size)
