"""Lines and arcs through a run of points: as few pieces as stay within a tolerance.

First the points are cut into runs by dynamic programming, each run fitted by least squares with a line
or a circle; then all ends and bends are moved together (orthogonal least squares). The circle's fit is
that of I. Kåsa, IEEE Transactions on Instrumentation and Measurement 25 (1976), from memory; it only
chooses pieces and starts the refinement.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares

Array = NDArray[np.float64]

LINE_COST, ARC_COST = 1.0, 1.4
"""What a piece must save to be worth having: an arc is only taken where it spares lines."""
MISFIT_COST = 0.3
"""Of a piece whose root mean square is the tolerance; decides between cuts of equal number."""
END_WEIGHT = 2.0
"""How much more than other points the ends of an open run count."""
FLAT_ARC = 0.02
"""An arc that bends less [rad in all] is a line."""
WIDEST_ARC = 1.1 * math.pi
"""Greatest sweep of one arc [rad]."""
MOST_POINTS = 150
"""Longer runs are thinned to this many points to choose the pieces."""


@dataclass(frozen=True, slots=True)
class FittedOutline:
    """Vertices ``(x, y, bulge)`` of the fitted run, ends included, and how far it is from the points.

    ``error`` is the greatest distance either way, from a point to the outline or from the outline to
    the line through the points.
    """

    vertices: tuple[tuple[float, float, float], ...]
    error: float


def fit_outline(points: Array, tolerance: float, *, closed: bool = False) -> FittedOutline:
    """Lines and arcs within ``tolerance`` of the points, an array of shape (n, 2) in order.

    Of a closed outline the last point is not repeated; its fitted vertices do not repeat the first one
    either. The tolerance holds for the choice of pieces; ``error`` is what came out.

    Raises ``ValueError`` for fewer than 4 points or a tolerance of 0.
    """
    points = np.asarray(points, dtype=float)
    if len(points) < 4 or not tolerance > 0:
        raise ValueError(
            "found too few points or no tolerance, expected at least 4 and more than 0"
        )
    if closed:
        first = _corner(points)
        points = np.vstack([np.roll(points, -first, axis=0), points[first]])
    sample = even(points, min(len(points), MOST_POINTS))
    cuts = _cut(sample, tolerance)
    vertices = _refined(sample, cuts, closed=closed)
    made = tuple((float(x), float(y), float(bulge)) for x, y, bulge in vertices)
    return FittedOutline(made, deviation(points, vertices, closed=closed))


def even(points: Array, count: int) -> Array:
    """``count`` points spaced evenly along the line through the points."""
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])
    wanted = np.linspace(0.0, along[-1], count)
    return np.column_stack([np.interp(wanted, along, points[:, axis]) for axis in (0, 1)])


def deviation(points: Array, vertices: Array | Any, *, closed: bool = False) -> float:
    """Greatest distance between the points' line and an outline of ``(x, y, bulge)``, either way."""
    vertices = np.asarray(vertices, dtype=float)
    if closed:
        vertices = np.vstack([vertices, vertices[0]])
    there = float(_distances(points, vertices).min(axis=1).max())
    line = np.column_stack([points, np.zeros(len(points))])
    back = float(_distances(_drawn(vertices), line).min(axis=1).max())
    return max(there, back)


# --- choosing the pieces ------------------------------------------------------------------


def _corner(points: Array) -> int:
    """Where a closed outline turns most sharply."""
    reach = max(2, len(points) // 40)
    ahead = np.roll(points, -reach, axis=0) - points
    behind = points - np.roll(points, reach, axis=0)
    turn = np.abs(
        np.arctan2(
            behind[:, 0] * ahead[:, 1] - behind[:, 1] * ahead[:, 0], (behind * ahead).sum(axis=1)
        )
    )
    return int(turn.argmax())


@dataclass(frozen=True, slots=True)
class _Cut:
    start: int
    end: int
    bulge: float


def _cut(points: Array, tolerance: float) -> list[_Cut]:
    """The cheapest way through the points in runs that each fit; ``end`` is the last point of a run.

    Runs do not share points: a corner mostly lies between two.
    """
    n = len(points)
    cost = np.full(n + 1, np.inf)
    cost[0] = 0.0
    came: list[_Cut | None] = [None] * (n + 1)
    moments = _Moments(points)
    for i in range(n - 1):
        if not np.isfinite(cost[i]):
            continue
        ends = np.arange(i + 1, n)
        for j in ends[moments.may_fit(i, ends, tolerance)]:
            price, bulge = _piece(points[i : j + 1], tolerance)
            if cost[i] + price < cost[j + 1]:
                cost[j + 1], came[j + 1] = cost[i] + price, _Cut(i, int(j), bulge)
    cuts: list[_Cut] = []
    at = n
    while at > 0:
        cut = came[at]
        assert cut is not None  # two neighbouring points always fit a line
        cuts.append(cut)
        at = cut.start
    return cuts[::-1]


def _piece(points: Array, tolerance: float) -> tuple[float, float]:
    """Cost and bulge of the better of line and arc through a run; without end where neither fits."""
    off = _off_line(points)
    if np.abs(off).max() <= tolerance:
        # No arc is cheaper than a line that fits.
        return LINE_COST + _misfit(off, tolerance), 0.0
    if len(points) >= 5:
        bulge, off = _arc(points)
        if 4 * abs(math.atan(bulge)) >= FLAT_ARC and np.abs(off).max() <= tolerance:
            return ARC_COST + _misfit(off, tolerance), bulge
    return math.inf, 0.0


def _misfit(off: Array, tolerance: float) -> float:
    return MISFIT_COST * float(np.mean(off**2)) / tolerance**2


def _off_line(points: Array) -> Array:
    """Distances from the line of least squares."""
    x, y = (points - points.mean(axis=0)).T
    angle = math.atan2(2 * float(x @ y), float(x @ x - y @ y)) / 2
    return np.asarray(y * math.cos(angle) - x * math.sin(angle))


def _arc(points: Array) -> tuple[float, Array]:
    """Bulge of the circle of least squares through a run, and the points' distances from it."""
    origin = points.mean(axis=0)
    x, y = (points - origin).T
    squares = x * x + y * y
    matrix = np.column_stack([x, y, np.ones_like(x)])
    (a, b, c), *_ = np.linalg.lstsq(matrix, squares, rcond=None)
    centre = np.array([a / 2, b / 2])
    radius = math.sqrt(max(c + centre @ centre, 0.0))
    out = np.column_stack([x, y]) - centre
    off = np.hypot(*out.T) - radius
    angles = np.unwrap(np.arctan2(out[:, 1], out[:, 0]))
    sweep = float(angles[-1] - angles[0])
    if abs(sweep) > WIDEST_ARC or radius == 0:
        return 0.0, off
    return math.tan(sweep / 4), off


class _Moments:
    """Sums along the points, from which the fit of any run's line and circle follows at once."""

    def __init__(self, points: Array) -> None:
        x, y = (points - points.mean(axis=0)).T
        z = x * x + y * y
        ones = np.ones_like(x)
        basis = np.stack([x, y, ones, z])
        products = np.einsum("in,jn->nij", basis, basis)
        self.sums = np.concatenate([np.zeros((1, 4, 4)), np.cumsum(products, axis=0)])

    def may_fit(self, start: int, ends: NDArray[np.int_], tolerance: float) -> NDArray[np.bool_]:
        """Whether a line's or circle's root mean square is within the tolerance; a little generous."""
        sums = self.sums[ends + 1] - self.sums[start]
        count = sums[:, 2, 2]
        mean = sums[:, :2, 2] / count[:, None]
        spread = sums[:, :2, :2] / count[:, None, None] - mean[:, :, None] * mean[:, None, :]
        half = (spread[:, 0, 0] + spread[:, 1, 1]) / 2
        root = np.sqrt(((spread[:, 0, 0] - spread[:, 1, 1]) / 2) ** 2 + spread[:, 0, 1] ** 2)
        line = np.sqrt(np.maximum(half - root, 0.0))
        # The algebraic misfit of the circle over its diameter is nearly its distance.
        ridge = 1e-12 * np.trace(sums[:, :3, :3], axis1=1, axis2=2)[:, None, None] * np.eye(3)
        solved = np.linalg.solve(sums[:, :3, :3] + ridge, sums[:, :3, 3:])[:, :, 0]
        left = sums[:, 3, 3] - (solved * sums[:, :3, 3]).sum(axis=1)
        radius = np.sqrt(
            np.maximum(solved[:, 2] + (solved[:, 0] ** 2 + solved[:, 1] ** 2) / 4, 1e-300)
        )
        circle = np.sqrt(np.maximum(left / count, 0.0)) / (2 * radius)
        close = (line <= 1.05 * tolerance) | (circle <= 1.05 * tolerance) | (ends <= start + 4)
        return np.asarray(close)


# --- refining -----------------------------------------------------------------------------


def _refined(points: Array, cuts: list[_Cut], *, closed: bool) -> Array:
    """Ends and bends of all pieces moved together to where the points are nearest."""
    between = [(points[cut.start - 1] + points[cut.start]) / 2 for cut in cuts[1:]]
    ends = np.array([points[0], *between, *([] if closed else [points[-1]])])
    bulges = np.array([cut.bulge for cut in cuts])
    bent = np.flatnonzero(bulges)

    def outline(values: Array) -> Array:
        placed = values[: ends.size].reshape(-1, 2)
        bends = np.zeros(len(placed))
        bends[bent] = values[ends.size :]
        made = np.column_stack([placed, bends])
        return np.vstack([made, made[0]]) if closed else made

    size = float(np.ptp(points, axis=0).max())

    def off(values: Array) -> Array:
        made = outline(values)
        near = np.asarray(_distances(points, made).min(axis=1))
        if closed:
            return near / size
        # An open run must also end where the points do.
        loose = [made[0, :2] - points[0], made[-1, :2] - points[-1]]
        return np.concatenate([near, END_WEIGHT * np.concatenate(loose)]) / size

    first = np.concatenate([ends.ravel(), bulges[bent]])
    scale = np.concatenate([np.full(ends.size, size), np.ones(len(bent))])
    found = least_squares(off, first, x_scale=scale, max_nfev=40)
    best = outline(found.x)
    return best[:-1] if closed else best


def _drawn(vertices: Array, per_piece: int = 24) -> Array:
    """Points along an outline."""
    found = [vertices[:1, :2]]
    for start, end in itertools.pairwise(vertices):
        share = np.linspace(0.0, 1.0, per_piece + 1)[1:, None]
        if abs(start[2]) < 1e-9:
            found.append(start[:2] + share * (end[:2] - start[:2]))
        else:
            centre, radius, first, sweep = _circle(start, end)
            angle = first + sweep * share
            found.append(centre + radius * np.hstack([np.cos(angle), np.sin(angle)]))
    return np.vstack(found)


def _circle(start: Array, end: Array) -> tuple[Array, float, float, float]:
    bulge = float(start[2])
    rise = (1 - bulge * bulge) / (4 * bulge)
    chord = end[:2] - start[:2]
    centre = (start[:2] + end[:2]) / 2 + rise * np.array([-chord[1], chord[0]])
    out = start[:2] - centre
    return centre, math.hypot(*out), math.atan2(out[1], out[0]), 4 * math.atan(bulge)


def _distances(points: Array, vertices: Array) -> Array:
    """Distance of every point to every piece, shape (points, pieces)."""
    start, end, bulge = vertices[:-1, :2], vertices[1:, :2], vertices[:-1, 2]
    along = end - start
    length = np.maximum((along**2).sum(axis=1), 1e-300)
    apart = points[:, None, :] - start[None]
    share = np.clip((apart * along).sum(axis=2) / length, 0.0, 1.0)
    found = np.hypot(*np.moveaxis(apart - share[:, :, None] * along, 2, 0))
    for piece in np.flatnonzero(np.abs(bulge) >= 1e-9):
        centre, radius, first, sweep = _circle(vertices[piece], vertices[piece + 1])
        out = points - centre
        turn = np.arctan2(out[:, 1], out[:, 0]) - first
        turned = np.mod(turn if sweep > 0 else -turn, 2 * math.pi)
        on_arc = np.abs(np.hypot(*out.T) - radius)
        at_ends = np.minimum(
            np.hypot(*(points - start[piece]).T), np.hypot(*(points - end[piece]).T)
        )
        found[:, piece] = np.where(turned <= abs(sweep), on_arc, at_ends)
    return np.asarray(found)
