"""Where a section has air: what is open to outdoors and to the room, what is closed off, what are cracks.

By ISO 10077-2 air in a slit of up to 10 mm belongs to the frame, whatever it opens to. So what is left
between the pieces is opened by a square of 10 mm: where that fits in there is space, where it does not there
are cracks, and those are cut into rectangles.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

import numpy as np
import shapely
from numpy.typing import NDArray

from sashwright.chapters.heat.cut import Cut, Solid
from sashwright.physics.frame_cavity import OPEN_SLIT, Ventilation, ventilation_of
from sashwright.physics.section_mesh import Point

Array = NDArray[np.float64]
Where = Literal["outdoors", "room"]

GRID = 1e-5
"""All corners lie on a grid so fine [m]: what is nearer to each other touches."""

_MARGIN = 0.04  # of air before and behind the section [m]
_CRUMB = 4e-6  # cracks smaller than this are nothing [m2]
_FINE = 3e-4  # by which curves may be straightened [m]
_STRIP = 0.005  # least width of a strip of a wide space [m]
_MITRE = {"join_style": "mitre", "mitre_limit": 2.0}


@dataclass(frozen=True)
class Crack:
    """Air that belongs to the frame: ``outline`` round it, ``area`` without what stands in it [m2].

    ``depth`` and ``width`` of the rectangle round it [m].
    """

    outline: tuple[Point, ...]
    area: float
    depth: float
    width: float
    ventilation: Ventilation


@dataclass(frozen=True)
class Strip:
    """A strip of a wide space between glazing: ``edge`` whose, ``gap`` which of its spaces.

    ``depth`` [m], on average.
    """

    outline: tuple[Point, ...]
    edge: int
    gap: int
    depth: float


@dataclass(frozen=True)
class Spaces:
    """A section with all its air told apart."""

    solids: tuple[Solid, ...]
    """Cut off where the model ends, their curves straightened."""
    cracks: tuple[Crack, ...]
    strips: tuple[Strip, ...]
    whole: shapely.Polygon
    """Everything that heat passes through, without holes."""
    open: dict[Where, shapely.Geometry]
    walls: shapely.Geometry


def spaces_of(cut: Cut) -> Spaces:
    """The section's air. Raises ``ValueError`` if outdoors and the room are one."""
    low, high = cut.span
    solids, shapes = _trimmed(cut)
    body = shapely.union_all(shapes, grid_size=GRID)
    z0, _, z1, _ = body.bounds
    around = shapely.box(z0 - _MARGIN, low, z1 + _MARGIN, high)
    walls = shapely.union_all([shapely.Polygon(wall) for wall in cut.walls], grid_size=GRID)
    walls = shapely.intersection(walls, around, grid_size=GRID)
    free = shapely.difference(around, body, grid_size=GRID)
    free = shapely.difference(free, walls, grid_size=GRID)
    plugs = shapely.union_all([shapely.Polygon(plug) for plug in cut.plugs], grid_size=GRID)
    plugs = shapely.intersection(plugs, free, grid_size=GRID)
    free = shapely.difference(free, plugs, grid_size=GRID)
    spaces = [part for part in shapely.get_parts(_opened(free, cut.span)) if part.area > _CRUMB]
    outside, inside = _at(spaces, z0 - _MARGIN / 2), _at(spaces, z1 + _MARGIN / 2)
    if set(outside) & set(inside):
        raise ValueError(
            f"found outdoors and the room joined in the section through the {cut.title}, "
            "expected glass and wood between them"
        )
    closed = [k for k in range(len(spaces)) if k not in (*outside, *inside)]
    open_ = {
        "outdoors": shapely.union_all([spaces[k] for k in outside], grid_size=GRID),
        "room": shapely.union_all([spaces[k] for k in inside], grid_size=GRID),
    }
    strips: list[Strip] = []
    cracks: list[Crack] = []
    for k in closed:
        between = _between(cut, spaces[k])
        if between is None:
            cracks.append(_crack(spaces[k], "closed"))
        else:
            strips += _strips(cut, spaces[k], between)
    rest = shapely.difference(free, shapely.union_all(spaces, grid_size=GRID), grid_size=GRID)
    both = shapely.union_all(list(open_.values()))
    for part in _parts(rest):
        cracks += [_crack(piece, _ventilated(piece, both)) for piece in _rectangles(part)]
    cracks += [_crack(part, "slightly ventilated") for part in _parts(plugs)]
    outlines = [*(strip.outline for strip in strips), *(crack.outline for crack in cracks)]
    airs = [shapely.Polygon(outline) for outline in outlines]
    whole = _closed(shapely.union_all([body, *airs], grid_size=GRID), cut.span)
    return Spaces(tuple(solids), tuple(cracks), tuple(strips), whole, open_, walls)  # type: ignore[arg-type]


def _closed(shape: shapely.Geometry, span: tuple[float, float]) -> shapely.Polygon:
    """The largest part, its slits of a few grid steps shut, its holes filled."""
    shut = shapely.buffer(shapely.buffer(shape, 3 * GRID, **_MITRE), -3 * GRID, **_MITRE)
    shut = shapely.clip_by_rect(shut, -1e3, span[0], 1e3, span[1])
    plain = shapely.simplify(shapely.set_precision(shut, GRID), 1.5 * GRID)
    largest = max(_parts(plain), key=lambda part: float(part.area))
    return shapely.Polygon(largest.exterior)


def _trimmed(cut: Cut) -> tuple[list[Solid], list[shapely.Polygon]]:
    """Solids within the span."""
    low, high = cut.span
    kept, shapes = [], []
    for solid in cut.solids:
        shape = shapely.Polygon(solid.points)
        if not shape.is_valid:
            shape = shapely.make_valid(shape)
        shape = shapely.simplify(shape, _FINE) if len(solid.points) > 8 else shape
        shape = shapely.clip_by_rect(shape, -1e3, low, 1e3, high)
        for part in _parts(shapely.set_precision(shape, GRID)):
            kept.append(replace(solid, points=_ring(part)))
            shapes.append(part)
    return kept, shapes


def _opened(free: shapely.Geometry, span: tuple[float, float]) -> shapely.Geometry:
    """Where a square as wide as an open slit fits in; at both ends everything goes on as it is there."""
    half = OPEN_SLIT / 2 + 1e-6
    far = [free]
    for end, inward in ((span[0], 1.0), (span[1], -1.0)):
        z0, _, z1, _ = free.bounds
        line = shapely.LineString([(z0, end + inward * 1e-5), (z1, end + inward * 1e-5)])
        for part in shapely.get_parts(shapely.intersection(line, free)):
            a, _, b, _ = part.bounds
            if b > a:
                ends = sorted((end - inward * 4 * half, end + inward * 1e-5))
                far.append(shapely.box(a, ends[0], b, ends[1]))
    more = shapely.union_all(far, grid_size=GRID)
    core = shapely.buffer(more, -half, **_MITRE)
    return shapely.intersection(shapely.buffer(core, half + GRID, **_MITRE), free, grid_size=GRID)


def _at(spaces: Sequence[shapely.Geometry], depth: float) -> list[int]:
    """Which spaces reach this depth."""
    return [k for k, part in enumerate(spaces) if part.bounds[0] <= depth <= part.bounds[2]]


def _parts(shape: shapely.Geometry) -> list[shapely.Polygon]:
    return [
        part for part in shapely.get_parts(shape)
        if part.geom_type == "Polygon" and part.area > 1e-9
    ]  # fmt: skip


def _ring(shape: shapely.Polygon) -> tuple[Point, ...]:
    return tuple((float(x), float(y)) for x, y in shapely.get_coordinates(shape.exterior)[:-1])


# --- cracks ---------------------------------------------------------------------------


def _crack(piece: shapely.Polygon, ventilation: Ventilation) -> Crack:
    z0, s0, z1, s1 = piece.bounds
    return Crack(_ring(piece), float(piece.area), z1 - z0, s1 - s0, ventilation)


def _ventilated(piece: shapely.Polygon, both: shapely.Geometry) -> Ventilation:
    """By the width of its mouth."""
    mouths = shapely.get_parts(shapely.line_merge(_lines(shapely.intersection(piece, both))))
    return ventilation_of(min(max((m.length for m in mouths), default=0.0), OPEN_SLIT)) or "closed"


def _lines(shape: shapely.Geometry) -> shapely.Geometry:
    lines = [part for part in shapely.get_parts(shape) if part.geom_type == "LineString"]
    return shapely.union_all(lines) if lines else shapely.MultiLineString()


def _rectangles(shape: shapely.Polygon) -> Iterator[shapely.Polygon]:
    """Cracks run straight and turn corners: cut into straight runs, the longest first."""
    if shape.area < _CRUMB:
        return
    z, s = (_ticks(shapely.get_coordinates(shape)[:, k]) for k in (0, 1))
    if len(z) < 2 or len(s) < 2:
        return
    cells = shapely.box(
        *np.meshgrid(z[:-1], s[:-1], indexing="ij"), *np.meshgrid(z[1:], s[1:], indexing="ij")
    )
    pieces = shapely.intersection(cells, shape, grid_size=GRID)
    left = shapely.area(pieces) > 1e-9
    while left.any():
        i0, i1, j0, j1 = _longest(left, z, s)
        left[i0:i1, j0:j1] = False
        run = shapely.union_all(pieces[i0:i1, j0:j1], grid_size=GRID)
        yield from (part for part in _parts(run) if part.area > 1e-9)


def _ticks(values: Array) -> Array:
    """Coordinates of the corners, those nearly the same taken as one."""
    found = np.unique(values)
    far = np.concatenate([[True], np.diff(found) > 2e-4])
    ticks = found[far]
    ticks[-1] = found[-1]
    return np.asarray(ticks)


def _longest(left: NDArray[np.bool_], z: Array, s: Array) -> tuple[int, int, int, int]:
    """The full block of cells with the longest side."""
    best, found = -1.0, (0, 1, 0, 1)
    for i, j in np.argwhere(left):
        for deep in (True, False):
            i1, j1 = i + 1, j + 1
            if deep:
                while i1 < left.shape[0] and left[i1, j]:
                    i1 += 1
                while j1 < left.shape[1] and left[i:i1, j1].all():
                    j1 += 1
            else:
                while j1 < left.shape[1] and left[i, j1]:
                    j1 += 1
                while i1 < left.shape[0] and left[i1, j:j1].all():
                    i1 += 1
            size = max(z[i1] - z[i], s[j1] - s[j])
            if size > best:
                best, found = size, (int(i), int(i1), int(j), int(j1))
    return found


# --- wide spaces between glass --------------------------------------------------------


def _between(cut: Cut, space: shapely.Polygon) -> Literal["storm", "inside"] | None:
    """Which space of the glazing this is; None for a pocket or other hollow."""
    for edge in cut.edges:
        end = cut.span[1] if edge.towards > 0 else cut.span[0]
        at = edge.sight + 0.9 * (end - edge.sight)
        for k, (near, far) in enumerate(pairwise(edge.panes)):
            if not edge.sealed(k) and space.contains(shapely.Point((near.far + far.near) / 2, at)):
                return "storm" if k < edge.first_prime else "inside"
    return None


def _strips(
    cut: Cut, space: shapely.Polygon, between: Literal["storm", "inside"]
) -> Iterator[Strip]:
    """Cut across, at its corners: each strip keeps the conductance of the space over its own depth."""
    _, low, _, high = space.bounds
    corners = np.unique(shapely.get_coordinates(space)[:, 1])
    ticks = [low]
    for at in corners:
        if at - ticks[-1] >= _STRIP and high - at >= _STRIP:
            ticks.append(float(at))
    ticks.append(high)
    middle = sum(edge.sight for edge in cut.edges) / len(cut.edges)
    for start, end in pairwise(ticks):
        band = shapely.intersection(space, shapely.box(-1e3, start, 1e3, end), grid_size=GRID)
        for part in _parts(band):
            _, s0, _, s1 = part.bounds
            upward = (s0 + s1) / 2 > middle
            edge = next((k for k, one in enumerate(cut.edges) if (one.towards > 0) == upward), 0)
            one = cut.edges[edge]
            gap = one.first_prime - 1 if between == "storm" else one.last_prime
            yield Strip(_ring(part), edge, gap, float(part.area) / (s1 - s0))
