"""Traces a moulding from a photograph of its section with a measure in it.

The wood is told from what lies behind it by its brightness alone: an end sawn square, laid on a sheet of
paper of another tone and photographed from straight above. The camera's own distortion is not taken out.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Literal

import cv2
import numpy as np
from numpy.typing import NDArray

from sashwright.knowledge.moulding_tables import Vertex
from sashwright.physics.curve_fit import Array, deviation, fit_outline
from sashwright.window.ownmouldings import OwnMoulding, outline_from

Pixel = tuple[float, float]
"""A place in the picture: to the right and down from its upper left corner."""

BLUR = 1.2
"""Of the picture before its edge is looked for [pixels]."""
LEAST_CONTRAST = 25.0
"""Between wood and ground, of 255 grey levels."""
LEAST_SIZE = 60
"""Of the traced piece, across [pixels]."""
MOST_PIXELS = 50_000_000
LEAST_SCALE = 20.0
"""Between the two marks of the measure [pixels]."""
COARSE = 2.0
"""Greatest size of a pixel, as a multiple of the tolerance."""
CLICK = 12.0
"""How far a mark may lie beside the edge it is meant for [pixels], or 3 % of the piece's size."""
STRAIGHT = 0.9
"""How far points of a straight edge may lie beside it [pixels]."""
SQUARE_TO_NOSE = math.radians(5)
"""How far the room face may be from square to the nose."""


class TracingError(ValueError):
    """Nothing could be traced; the message says what was found and what is expected."""


@dataclass(frozen=True, slots=True)
class Measure:
    """Two places in the picture and how far they are apart [m]."""

    start: Pixel
    end: Pixel
    distance: float

    @property
    def per_pixel(self) -> float:
        """Metres of a pixel."""
        return self.distance / math.dist(self.start, self.end)


@dataclass(frozen=True, slots=True)
class Edge:
    """Which stretch of the outline is the moulding of a sash: a place on the square nose beside the
    glass and one on the room face. The shorter way between them is taken."""

    nose: Pixel
    face: Pixel


@dataclass(frozen=True, slots=True)
class Traced:
    """A moulding from a picture."""

    moulding: OwnMoulding
    error: float
    """Greatest distance between the edge in the picture and the moulding's outline [m]."""
    per_pixel: float
    points: Array
    """The edge as found, in the moulding's own axes [m], shape (n, 2)."""


def trace(
    image: bytes,
    measure: Measure,
    *,
    edge: Edge | None = None,
    at: Pixel | None = None,
    wood: Literal["dark", "light"] = "dark",
    tolerance: float = 0.1e-3,
    name: str = "",
) -> Traced:
    """The moulding in a picture (any usual format).

    Parameters
    ----------
    edge
        For the moulding of a sash. Without, the whole outline is taken as the section of a strip, its
        longest straight side laid down as its back.
    at
        A place on the wood, where there is more than one piece in the picture; the largest otherwise.
    wood
        Whether it is darker or lighter than what lies behind it.
    tolerance
        How far lines and arcs may be from the edge [m] while as few as will do are chosen.

    Raises
    ------
    TracingError
        Where there is no picture, no measure, no edge to be told from its ground, or where what was
        traced is no moulding.
    """
    grey = _grey(image)
    if math.dist(measure.start, measure.end) < LEAST_SCALE or not measure.distance > 0:
        raise TracingError(
            f"found marks of the measure {math.dist(measure.start, measure.end):.0f} pixels apart, expected "
            f"at least {LEAST_SCALE:.0f}, and a length above 0"
        )
    if measure.per_pixel > tolerance * COARSE:
        raise TracingError(
            f"found {measure.per_pixel * 1000:.2g} mm to the pixel, expected at most "
            f"{tolerance * COARSE * 1000:.2g} mm: go nearer, or take a larger tolerance"
        )
    contour = _contour(grey, at, wood)
    if edge is None:
        return _strip(contour, measure, tolerance, name)
    return _sticking(contour, edge, measure, tolerance, name)


# --- the edge in the picture --------------------------------------------------------------


def _grey(image: bytes) -> NDArray[np.uint8]:
    found: Any = (
        cv2.imdecode(np.frombuffer(image, np.uint8), cv2.IMREAD_GRAYSCALE) if image else None
    )
    if found is None:
        raise TracingError("found no picture, expected a photograph such as a JPEG or PNG file")
    if found.size > MOST_PIXELS:
        raise TracingError(
            f"found {found.size / 1e6:.0f} million pixels, expected at most {MOST_PIXELS / 1e6:.0f}"
        )
    return np.asarray(found, dtype=np.uint8)


def _contour(grey: NDArray[np.uint8], at: Pixel | None, wood: str) -> Array:
    """The outline of the piece in pixels, between grey levels and so finer than a pixel."""
    smooth = np.asarray(cv2.GaussianBlur(grey, (0, 0), BLUR), dtype=np.uint8)
    kind = cv2.THRESH_BINARY_INV if wood == "dark" else cv2.THRESH_BINARY
    # N. Otsu, IEEE Transactions on Systems, Man, and Cybernetics 9 (1979).
    _, mask = cv2.threshold(smooth, 0, 255, kind + cv2.THRESH_OTSU)
    inside, outside = smooth[mask > 0], smooth[mask == 0]
    if not inside.size or not outside.size:
        raise TracingError("found one tone all over, expected wood on a ground of another tone")
    tones = float(np.median(inside)), float(np.median(outside))
    contrast = abs(tones[0] - tones[1])
    if contrast < LEAST_CONTRAST:
        raise TracingError(
            f"found wood and ground only {contrast:.0f} of 255 grey levels apart, expected at least "
            f"{LEAST_CONTRAST:.0f}: lay the piece on paper of another tone"
        )
    piece = _piece(np.asarray(mask, dtype=np.uint8), at)
    contours, _ = cv2.findContours(piece, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    rough = max(contours, key=cv2.contourArea)[:, 0, :].astype(float)
    return _between_pixels(smooth, rough, (tones[0] + tones[1]) / 2)


def _piece(mask: NDArray[np.uint8], at: Pixel | None) -> NDArray[np.uint8]:
    """Of all that has the wood's tone, the one piece that is meant."""
    count, labels, stats, _ = cv2.connectedComponentsWithStats(mask)
    if count < 2:
        raise TracingError("found nothing of the wood's tone, expected a piece of wood")
    label = 1 + int(np.argmax(stats[1:, cv2.CC_STAT_AREA]))
    if at is not None:
        x, y = round(at[0]), round(at[1])
        inside = 0 <= y < mask.shape[0] and 0 <= x < mask.shape[1]
        label = int(labels[y, x]) if inside else 0
        if not label:
            raise TracingError(f"found no wood at {x}, {y}, expected the place to be on the piece")
    left, top, width, height = (int(stats[label, column]) for column in range(4))
    if left == 0 or top == 0 or left + width == mask.shape[1] or top + height == mask.shape[0]:
        raise TracingError(
            "found that the piece runs off the picture, expected ground all round it; or the ground was "
            "taken for the wood: say whether the wood is dark or light"
        )
    if min(width, height) < LEAST_SIZE:
        raise TracingError(
            f"found a piece {width} by {height} pixels large, expected at least {LEAST_SIZE} across"
        )
    return np.asarray((labels == label) * 255, dtype=np.uint8)


def _between_pixels(smooth: NDArray[np.uint8], rough: Array, level: float) -> Array:
    """Each contour point moved across the edge to where the grey crosses the level."""
    reach = 3
    ahead, behind = np.roll(rough, -reach, axis=0), np.roll(rough, reach, axis=0)
    along = ahead - behind
    normal = np.column_stack([along[:, 1], -along[:, 0]])
    normal /= np.maximum(np.hypot(*normal.T), 1e-9)[:, None]
    steps = np.linspace(-2.5, 2.5, 41)
    places = rough[:, None, :] + steps[None, :, None] * normal[:, None, :]
    greys = cv2.remap(
        smooth.astype(np.float32), places[..., 0].astype(np.float32),
        places[..., 1].astype(np.float32), cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE,
    )  # fmt: skip
    over = np.asarray(greys) - level
    crosses = over[:, :-1] * over[:, 1:] <= 0
    # Of several crossings the one nearest to the rough edge.
    nearest = np.where(crosses, np.abs(steps[:-1] + steps[1:])[None, :], np.inf).argmin(axis=1)
    rows = np.arange(len(rough))
    low, high = over[rows, nearest], over[rows, nearest + 1]
    with np.errstate(divide="ignore", invalid="ignore"):
        share = np.where(low == high, 0.5, low / (low - high))
    move = steps[nearest] + share * (steps[1] - steps[0])
    found = np.where(crosses.any(axis=1), move, 0.0)
    return np.asarray(rough + found[:, None] * normal)


# --- from the edge to a moulding ----------------------------------------------------------


def _sticking(contour: Array, edge: Edge, measure: Measure, tolerance: float, name: str) -> Traced:
    run = _between(contour, edge) * measure.per_pixel
    straight = max(STRAIGHT * measure.per_pixel, tolerance / 2)
    begins, axis = _straight(run, straight, "nose")
    ends, face = _straight(run[::-1], straight, "room face")
    leaning = float(abs(axis @ face))
    if leaning > math.sin(SQUARE_TO_NOSE):
        raise TracingError(
            f"found {math.degrees(math.acos(min(leaning, 1.0))):.0f} degrees between the nose and "
            "the room face, expected them square: mark a place on each"
        )
    across = np.array([-axis[1], axis[0]])
    if (run[-1] - run[0]) @ across < 0:
        across = -across
    # Where nose and room face are, each by all of its points.
    level = float(np.median(run[: begins + 1] @ across))
    depth = float(np.median(run[len(run) - 1 - ends :] @ axis))
    stretch = run[begins : len(run) - ends]
    if len(stretch) < 8:
        raise TracingError(
            "found nose and room face meeting square, expected a moulding between them"
        )
    points = np.column_stack([stretch @ axis, stretch @ across - level])
    start = min(float(points[0, 0]), depth)
    points[:, 0] -= start
    placed = np.array(fit_outline(points, tolerance).vertices)
    placed[-1, 0] = depth - start
    corners = tuple(_straightened(placed, 2 * tolerance))
    return _made(corners, "sticking", points, measure, name)


def _straight(run: Array, slack: float, what: str) -> tuple[int, Array]:
    """How far a run begins straight (the number of its last such point), and which way it goes."""
    least = 12
    count = least
    while count < len(run) and _bend(run[: count + 1]) <= slack:
        count += 1
    if _bend(run[:least]) > slack or count == least:
        raise TracingError(
            f"found no straight {what} at its mark, expected a straight stretch of at least {least} pixels"
        )
    # The last points already lean towards what follows.
    kept = run[: max(least, int(0.94 * count))]
    along = _line(kept)[1]
    return count - 1, along if (kept[-1] - kept[0]) @ along > 0 else -along


def _bend(points: Array) -> float:
    """How far points are from their common line."""
    middle, along = _line(points)
    off = points - middle
    return float(np.abs(off[:, 0] * along[1] - off[:, 1] * along[0]).max())


def _line(points: Array) -> tuple[Array, Array]:
    """The line of least squares: a point and its direction."""
    middle = points.mean(axis=0)
    x, y = (points - middle).T
    angle = math.atan2(2 * float(x @ y), float(x @ x - y @ y)) / 2
    return middle, np.array([math.cos(angle), math.sin(angle)])


def _between(contour: Array, edge: Edge) -> Array:
    """The shorter stretch of the contour from the nose to the room face."""
    allowed = max(CLICK, 0.03 * float(np.ptp(contour, axis=0).max()))
    ends = []
    for mark, what in ((edge.nose, "nose"), (edge.face, "room face")):
        apart = np.hypot(*(contour - np.array(mark)).T)
        ends.append(int(apart.argmin()))
        if apart.min() > allowed:
            raise TracingError(
                f"found the mark of the {what} {apart.min():.0f} pixels from the edge of the wood, expected "
                f"it within {allowed:.0f}"
            )
    start, end = ends
    forth = np.roll(contour, -start, axis=0)[: (end - start) % len(contour) + 1]
    back = np.roll(contour, -end, axis=0)[: (start - end) % len(contour) + 1][::-1]
    run = min((forth, back), key=len)
    if len(run) < 20:
        raise TracingError("found both marks in one place, expected the moulding between them")
    return run


def _straightened(placed: Array, slack: float) -> list[Vertex]:
    """The outline with what measuring left a hair past square, level or its start put right."""
    points = [[float(x), float(y), float(bulge)] for x, y, bulge in placed]
    points[0][:2] = [0.0, 0.0]
    points[-1][2] = 0.0
    for before, after in itertools.pairwise(points):
        after[1] = 0.0 if abs(after[1]) < slack else max(after[1], 0.0)
        if after[0] < before[0] and before[0] - after[0] < slack:
            after[0] = before[0]
        # An arc may turn as far as square to the nose, and no further.
        chord = math.atan2(after[1] - before[1], after[0] - before[0])
        most = math.tan(max(math.pi / 2 - abs(chord), 0.0) / 2)
        before[2] = min(max(before[2], -most), most)
        if abs(before[2]) < 1e-3:
            before[2] = 0.0
    return [(x, y, bulge) for x, y, bulge in points]


def _strip(contour: Array, measure: Measure, tolerance: float, name: str) -> Traced:
    points = contour * measure.per_pixel
    fitted = np.array(fit_outline(points, tolerance, closed=True).vertices)
    fitted = np.roll(fitted, -_back(fitted), axis=0)
    along = fitted[1, :2] - fitted[0, :2]
    axis = along / math.hypot(*along)
    turn = np.column_stack([axis, [-axis[1], axis[0]]])
    origin = fitted[0, :2]
    middle = (points - origin) @ turn
    if middle[:, 1].mean() < 0:
        # The picture's y runs down: looked at from the other end of the strip.
        turn = turn * np.array([1.0, -1.0])
        fitted = fitted * np.array([1.0, 1.0, -1.0])
    placed = np.column_stack([(fitted[:, :2] - origin) @ turn, fitted[:, 2]])
    points = (points - origin) @ turn
    low = placed[:, :2].min(axis=0)
    points, placed = points - low, placed - np.append(low, 0.0)
    corners = tuple((float(x), float(y), float(bulge)) for x, y, bulge in placed)
    return _made(corners, "running", points, measure, name)


def _back(fitted: Array) -> int:
    """Number of the longest straight side."""
    following = np.roll(fitted, -1, axis=0)
    chords = np.where(fitted[:, 2] == 0, np.hypot(*(following - fitted)[:, :2].T), 0.0)
    if not chords.any():
        raise TracingError("found no straight side, expected the flat back of a strip")
    return int(chords.argmax())


def _made(
    corners: Sequence[Vertex],
    kind: Literal["sticking", "running"],
    points: Array,
    measure: Measure,
    name: str,
) -> Traced:
    closed = kind == "running"
    error = deviation(points, corners, closed=closed)
    source = (
        f"traced from a photograph, {measure.per_pixel * 1000:.3f} mm to the pixel, outline within "
        f"{error * 1000:.2f} mm of the edge seen"
    )
    fault: ValueError | None = None
    # Written to a thousandth of a millimetre where the arcs bear it.
    for places in (6, None):
        try:
            outline = outline_from(corners, closed=closed, places=places)
            moulding = OwnMoulding(name=name, kind=kind, outline=outline, source=source)
        except ValueError as refused:
            fault = refused
        else:
            return Traced(moulding, error, measure.per_pixel, points)
    reason = str(fault).partition("Value error, ")[2].partition(" [type")[0] or str(fault)
    raise TracingError(f"found an edge that is no moulding ({reason})")
