"""A plane seen through a camera: from points of a picture to points of the plane, with their errors.

Arrays of points end in two columns, x and y; any axes before them count several sets of points at once.
Points of a picture are in pixels, points of the plane in metres.

Sources: R. Hartley and A. Zisserman, Multiple View Geometry in Computer Vision, 2nd ed. (2003): sections
4.1 (the direct linear transformation), 4.4 (normalised coordinates), 5.2 (covariance carried through);
A. Fitzgibbon, Simultaneous linear estimation of multiple view geometry and lens distortion, CVPR 2001 (the
division model); all from memory.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]

CORNERS = 4
"""Points that fix the plane: with fewer nothing is known of how it is tilted."""


def homography(seen: Array, plane: Array) -> Array:
    """The matrix (..., 3, 3) that carries points ``seen`` (..., n, 2) to ``plane`` (..., n, 2), n >= 4.

    With four points exactly, with more by least squares of the algebraic distance. Raises ``ValueError``
    where fewer are given.
    """
    if seen.shape[-2] < CORNERS:
        raise ValueError(f"found {seen.shape[-2]} points, expected at least {CORNERS}")
    seen, plane = np.broadcast_arrays(seen, plane)
    to_seen, one = _normalised(seen)
    to_plane, two = _normalised(plane)
    x, y = one[..., 0], one[..., 1]
    u, v = two[..., 0], two[..., 1]
    nil, unit = np.zeros_like(x), np.ones_like(x)
    rows = np.concatenate(
        (
            np.stack((x, y, unit, nil, nil, nil, -u * x, -u * y, -u), axis=-1),
            np.stack((nil, nil, nil, x, y, unit, -v * x, -v * y, -v), axis=-1),
        ),
        axis=-2,
    )
    last = np.linalg.svd(rows)[2][..., -1, :]
    found = np.linalg.inv(to_plane) @ last.reshape(*last.shape[:-1], 3, 3) @ to_seen
    scale: Array = found / found[..., 2:, 2:]
    return scale


def _normalised(points: Array) -> tuple[Array, Array]:
    """Points shifted to their middle and scaled to a mean distance of the root of two, and by what."""
    middle = points.mean(axis=-2, keepdims=True)
    away = np.linalg.norm(points - middle, axis=-1).mean(axis=-1)
    scale = np.sqrt(2.0) / np.where(away > 0, away, 1.0)
    matrix = np.zeros((*points.shape[:-2], 3, 3))
    matrix[..., 0, 0] = matrix[..., 1, 1] = scale
    matrix[..., :2, 2] = -scale[..., None] * middle[..., 0, :]
    matrix[..., 2, 2] = 1.0
    return matrix, (points - middle) * scale[..., None, None]


def mapped(matrix: Array, points: Array) -> Array:
    """Points (..., n, 2) carried through a matrix (..., 3, 3)."""
    ones = np.ones((*points.shape[:-1], 1))
    carried = np.concatenate((points, ones), axis=-1) @ np.swapaxes(matrix, -1, -2)
    flat: Array = carried[..., :2] / carried[..., 2:]
    return flat


def goes_round(corners: Array) -> bool:
    """Whether four points (4, 2) go round a figure that bulges outward everywhere, in either sense."""
    edges = np.roll(corners, -1, axis=0) - corners
    after = np.roll(edges, -1, axis=0)
    turns = edges[:, 0] * after[:, 1] - edges[:, 1] * after[:, 0]
    size = np.abs(edges).max() ** 2
    return bool(size > 0 and (np.all(turns > 1e-4 * size) or np.all(turns < -1e-4 * size)))


def rectangle(width: Array | float, height: Array | float) -> Array:
    """Corners (..., 4, 2) of a rectangle, going round from the origin along its width."""
    w, h = np.broadcast_arrays(np.asarray(width, float), np.asarray(height, float))
    nil = np.zeros_like(w)
    return np.stack(
        [np.stack(pair, axis=-1) for pair in ((nil, nil), (w, nil), (w, h), (nil, h))], axis=-2
    )


# --- the lens -----------------------------------------------------------------------


def straightened(points: Array, bend: Array | float, size: tuple[float, float]) -> Array:
    """Points (..., n, 2) as a lens without distortion had shown them.

    ``bend`` is the one coefficient of the division model, for distances from the middle of a picture of this
    ``size`` [pixels] as shares of its half diagonal; negative where straight edges bulge outward (barrel).
    """
    middle = np.asarray(size) / 2
    reach = float(np.hypot(*middle))
    away = points - middle
    squared = (away**2).sum(axis=-1, keepdims=True) / reach**2
    factor = np.asarray(bend)[..., None, None]
    flat: Array = middle + away / (1 + factor * squared)
    return flat


def bend_of(lines: list[Array], size: tuple[float, float], sigma: float) -> tuple[float, float]:
    """How far a lens bends straight edges, and the standard error of that.

    Parameters
    ----------
    lines
        Points marked along each edge (n, 2), n >= 3 [pixels].
    size
        Of the picture [pixels].
    sigma
        Standard error of a mark, in each direction [pixels].
    """
    tried = np.linspace(-MOST_BEND, MOST_BEND, 241)
    for _ in range(4):
        off = (_off_line(lines, tried, size) ** 2).sum(axis=-1)
        at = int(np.clip(np.argmin(off), 1, len(tried) - 2))
        step = tried[1] - tried[0]
        best = tried[at]
        tried = np.linspace(best - step, best + step, 41)
    ends = _off_line(lines, np.array([best - 1e-4, best + 1e-4]), size)
    slope = (ends[1] - ends[0]) / 2e-4
    told = float((slope**2).sum())
    return float(best), sigma / np.sqrt(told) if told > 0 else float("inf")


MOST_BEND = 0.4
"""Of a lens that still shows a plane so that one can measure on it."""


def _off_line(lines: list[Array], bends: Array, size: tuple[float, float]) -> Array:
    """Distances of all marks from the best line through theirs (bends, marks) [pixels]."""
    found = []
    for line in lines:
        flat = straightened(np.broadcast_to(line, (len(bends), *line.shape)), bends, size)
        centred = flat - flat.mean(axis=-2, keepdims=True)
        _, _, axes = np.linalg.svd(centred, full_matrices=False)
        across = (centred * axes[..., -1:, :]).sum(axis=-1)
        # A sign that holds from one coefficient to the next, and lengths as they are in the picture.
        across *= np.sign(axes[..., -1, :] @ axes[0, -1, :])[..., None]
        spread = np.linalg.norm(line - line.mean(axis=0))
        found.append(across * (spread / np.linalg.norm(centred, axis=(-2, -1)))[..., None])
    return np.concatenate(found, axis=-1)


# --- what is measured in the plane ------------------------------------------------------


def length(points: Array) -> Array:
    """Distance between two points (..., 2, 2); (..., 1)."""
    apart: Array = np.linalg.norm(points[..., 1, :] - points[..., 0, :], axis=-1, keepdims=True)
    return apart


def spacing(points: Array) -> Array:
    """Distances (..., n - 1) from each of n points to the next, along the best line through them all."""
    centred = points - points.mean(axis=-2, keepdims=True)
    _, _, axes = np.linalg.svd(centred, full_matrices=False)
    along = (centred * axes[..., :1, :]).sum(axis=-1)
    apart: Array = np.abs(np.diff(along, axis=-1))
    return apart


def angle(points: Array) -> Array:
    """Acute angle (..., 1) between the line of the first two points and that of the last two [degrees]."""
    one = points[..., 1, :] - points[..., 0, :]
    two = points[..., 3, :] - points[..., 2, :]
    across = np.abs(one[..., 0] * two[..., 1] - one[..., 1] * two[..., 0])
    along = np.abs((one * two).sum(axis=-1))
    turned: Array = np.degrees(np.arctan2(across, along))[..., None]
    return turned


# --- errors -----------------------------------------------------------------------------


def carried(
    result: Callable[[Array], Array], given: Array, sigma: Array
) -> tuple[Array, Array, Array]:
    """What comes of given numbers (n,), its standard errors (m,), and each number's share in them (n, m).

    First-order: the slope against each number is taken over one standard error on both sides; numbers with
    none are exact. ``result`` takes several sets of numbers (k, n) at once and answers (k, m).
    """
    unsure = np.flatnonzero(sigma > 0)
    steps = np.zeros((len(unsure), len(given)))
    steps[np.arange(len(unsure)), unsure] = sigma[unsure]
    found = result(np.concatenate((given[None], given + steps, given - steps)))
    value, up, down = found[0], found[1 : 1 + len(unsure)], found[1 + len(unsure) :]
    shares = np.zeros((len(given), len(value)))
    shares[unsure] = (up - down) / 2
    return value, np.sqrt((shares**2).sum(axis=0)), shares
