"""Sizes read off a photograph: from what was marked on it to lengths and angles with their errors."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from sashwright.chapters.answer import Finding, Step
from sashwright.chapters.words import Words
from sashwright.physics import homography as plane
from sashwright.record.attached.photo import Measure, Spot
from sashwright.units import INCH

MARK_SIGMA = 1.5
"""Standard error of a mark set by hand under the loupe, in each direction [pixels]; an assumption."""
COVER = 1.96
"""Standard errors that hold nineteen results in twenty, of a normal distribution."""
TILT = 10.0
"""How far a picture taken square by eye may be tilted [degrees]; an assumption."""
FOCAL_SHARE = 26 / 36
"""Focal length as a share of a picture's longer side: a telephone's main camera sees as 26 mm do on film of
36 mm; common practice, from memory."""
GOOD_SHARE = 0.01
GOOD_LENGTH = INCH / 8
"""A length is good to use within the larger of the two: one per cent, or 1/8 in [m]."""
GOOD_ANGLE = 1.0
"""The same of an angle [degrees]."""
METHOD = "Hartley and Zisserman, Multiple View Geometry (2003), 4.1 and 5.2, from memory"
LENS = "Fitzgibbon, CVPR 2001, from memory"

_LEAST = {"length": 2, "spacing": 3, "angle": 4}
_WANTED = {
    "length": "both ends of what is to be measured",
    "spacing": "three or more marks along a line",
    "angle": "two ends of one line, then two of the other",
}


class NotYet(ValueError):  # noqa: N818 - an answer in its own words
    """What is still to be marked before anything can be measured; the message is the sentence to show."""


@dataclass(frozen=True, slots=True)
class Result:
    """One length [m] or angle [degrees] with its standard error, and in words."""

    value: float
    error: float
    says: str
    within: str
    """How far off it may be, nineteen times in twenty."""


@dataclass(frozen=True, slots=True)
class Measured:
    """What a photograph measures."""

    kind: str
    results: tuple[Result, ...]
    findings: tuple[Finding, ...]
    working: tuple[Step, ...]

    @property
    def says(self) -> str:
        """``32 1/16 in, give or take 1/16 in``"""
        if self.kind == "spacing":
            return f"{self.results[-1].says} on average, give or take {self.results[-1].within}"
        return f"{self.results[0].says}, give or take {self.results[0].within}"


@dataclass(frozen=True, slots=True)
class _Set:
    """Everything that a result hangs on, as one row of numbers, and where in it each kind stands."""

    given: plane.Array
    sigma: plane.Array
    kind: str
    corners: int
    size: tuple[float, float]

    def result(self, rows: plane.Array) -> plane.Array:
        spots = rows[:, 3:].reshape(len(rows), -1, 2)
        flat = plane.straightened(spots, rows[:, 2], self.size)
        if self.corners:
            known = plane.rectangle(rows[:, 0], rows[:, 1])
            matrix = plane.homography(flat[:, :4], known)
            flat = plane.mapped(matrix, flat[:, 4:])
        what = {"length": plane.length, "spacing": _spacing, "angle": plane.angle}[self.kind]
        return what(flat)


def _spacing(points: plane.Array) -> plane.Array:
    """Each space, and after them their mean."""
    spaces = plane.spacing(points)
    return np.concatenate((spaces, spaces.mean(axis=-1, keepdims=True)), axis=-1)


def measured(measure: Measure, width: int, height: int, words: Words) -> Measured:
    """What the marks on a picture of this size [pixels] measure.

    Raises ``NotYet`` where marks or sizes are missing or lie so that nothing can be measured.
    """
    size = (float(width), float(height))
    _check_marks(measure)
    corners, points = _pixels(measure.corners, size), _pixels(measure.points, size)
    if measure.corners and not plane.goes_round(corners):
        raise NotYet(
            "Mark the four corners going round, none of them on a line with its neighbours."
        )
    bend, unsure = _bend(measure, size)
    wide, high = measure.width or 0.0, measure.height or 0.0
    spots = np.concatenate((corners, points)).ravel()
    given = np.concatenate(([wide, high, bend], spots))
    sizes = measure.unsure if measure.corners else 0.0
    sigma = np.concatenate(([sizes, sizes, unsure], np.full(spots.shape, MARK_SIGMA)))
    work = _Set(given, sigma, measure.kind, len(measure.corners), size)
    value, error, shares = plane.carried(work.result, given, sigma)
    if not (np.isfinite(value).all() and np.isfinite(error).all()):
        raise NotYet("These marks lie beyond where the plane can be seen; mark them nearer.")
    if not measure.corners:
        error = np.hypot(error, _tilt_error(float(value[0]), points, max(size)))
    results = tuple(_result(v, e, measure.kind, words) for v, e in zip(value, error, strict=True))
    return Measured(
        measure.kind,
        results,
        tuple(_findings(measure, results, bend, unsure, words)),
        tuple(_working(measure, work, results, shares)),
    )


def _check_marks(measure: Measure) -> None:
    count = len(measure.points)
    if measure.corners or measure.kind != "angle":
        if len(measure.corners) < plane.CORNERS:
            raise NotYet("Mark the four corners of something whose width and height are known.")
        if not (measure.width and measure.height):
            raise NotYet("Say how wide and how high that rectangle is.")
    least = _LEAST[measure.kind]
    if count < least or (measure.kind != "spacing" and count > least):
        raise NotYet(f"Mark {_WANTED[measure.kind]}.")
    pairs = [measure.points[:2], *([measure.points[2:]] if measure.kind == "angle" else [])]
    if any(one == other for one, other in pairs):
        raise NotYet("Two marks lie on the same spot; move one of them.")


def _pixels(spots: Sequence[Spot], size: tuple[float, float]) -> plane.Array:
    pixels: plane.Array = np.asarray(spots, float).reshape(-1, 2) * np.asarray(size)
    return pixels


def _bend(measure: Measure, size: tuple[float, float]) -> tuple[float, float]:
    """The lens's coefficient and its standard error; nothing of either where it cannot be told."""
    if not measure.straight:
        return 0.0, 0.0
    lines = [_pixels(line, size) for line in measure.straight]
    bend, error = plane.bend_of(lines, size, MARK_SIGMA)
    return (bend, error) if error < LEAST_TOLD else (0.0, 0.0)


LEAST_TOLD = 0.05
"""Standard error of the lens's coefficient from which on the marked edges tell nothing of it."""


def _tilt_error(degrees: float, points: plane.Array, longer: float) -> float:
    """Standard error of an angle in a picture taken square by eye [degrees].

    A tilt foreshortens, which opens or closes the angle, and has lines that lie apart run together. Any tilt
    up to the most is as likely as any other: its error is the most over the root of three (JCGM 100:2008,
    4.3.7, from memory).
    """
    tilt = math.radians(TILT)
    opened = math.sin(math.radians(degrees)) * (1 / math.cos(tilt) - 1)
    apart = np.linalg.norm(points[:2].mean(axis=0) - points[2:].mean(axis=0))
    together = math.tan(tilt) * float(apart) / (FOCAL_SHARE * longer)
    return math.degrees(math.hypot(opened, together)) / math.sqrt(3)


def _result(value: float, error: float, kind: str, words: Words) -> Result:
    value, error = float(value), float(error)
    if kind == "angle":
        return Result(value, error, f"{value:.1f}°", f"{max(COVER * error, 0.1):.1f}°")
    # Said with no more than is known: to 1/16 in or 1 mm, the error to the next such step up.
    step = INCH / 16 if words.system == "us" else 0.001
    within = max(math.ceil(COVER * error / step - 0.05), 1) * step
    return Result(value, error, words.length(value), words.length(within))


# --- judged ---------------------------------------------------------------------------


def _findings(
    measure: Measure, results: Sequence[Result], bend: float, unsure: float, words: Words
) -> Iterator[Finding]:
    yield from map(_goodness, results[-1:], [measure.kind])
    if measure.corners:
        near = words.length(INCH if words.system == "us" else 0.025)
        far = "10 ft" if words.system == "us" else "3 m"
        yield Finding(
            "note",
            "plane",
            "It holds for what lies in one plane with the four corners, and for nothing before or behind it.",
            f"what stands {near} nearer to a camera {far} away is seen 0.8 % too long",
            METHOD,
        )
    else:
        yield Finding(
            "note",
            "plane",
            "It holds for a picture taken square to the section, as for the slope of a sill at its end.",
            f"the camera may be {TILT:.0f}° off, which is in the error above; it tells least on near lines",
            METHOD,
        )
    yield _of_lens(measure, bend, unsure)


def _goodness(result: Result, kind: str) -> Finding:
    off = COVER * result.error
    good = GOOD_ANGLE if kind == "angle" else max(GOOD_LENGTH, GOOD_SHARE * result.value)
    why = f"nineteen times in twenty, with marks good to {MARK_SIGMA} pixels"
    if off <= good:
        says = f"It is good to {result.within}: enough to write down."
        return Finding("ok", "result", says, why, METHOD)
    says = f"It is only good to {result.within}: go nearer or more square to it, or use a tape."
    return Finding("caution", "result", says, why, METHOD)


def _of_lens(measure: Measure, bend: float, unsure: float) -> Finding:
    if not measure.straight:
        return Finding(
            "note",
            "lens",
            "The lens is taken to keep straight edges straight, as telephones see to by themselves.",
            "mark a long straight edge near the rim of the picture in several places to make sure",
            LENS,
        )
    if not unsure:
        return Finding(
            "note",
            "lens",
            "The marked edges do not tell how the lens bends: they are too short, or run through the middle.",
            "an edge along the rim of the picture tells most",
            LENS,
        )
    share = 100 * abs(bend)
    shape = "outward" if bend < 0 else "inward"
    if abs(bend) < COVER * unsure:
        says = "The lens keeps the marked edges straight, as far as can be told."
    else:
        says = (
            f"The lens bends straight edges {shape}; that is taken out before anything is measured."
        )
    because = (
        f"{share:.1f} % at the corner of the picture, give or take {100 * COVER * unsure:.1f} %"
    )
    return Finding("ok", "lens", says, because, LENS)


# --- worked out -----------------------------------------------------------------------


def _working(
    measure: Measure, work: _Set, results: Sequence[Result], shares: plane.Array
) -> Iterator[Step]:
    if measure.straight:
        yield Step(
            "how the lens bends straight edges",
            "marks of each edge on a line once moved to r / (1 + k r²); least sum of squares over k",
            {"edges": len(measure.straight)},
            round(float(work.given[2]), 5),
            "k",
            LENS,
        )
    if measure.corners:
        flat = plane.straightened(
            work.given[None, 3:].reshape(1, -1, 2), work.given[None, 2], work.size
        )
        known = plane.rectangle(work.given[0], work.given[1])
        matrix = plane.homography(flat[0, :4], known)
        at = flat[0, 4:].mean(axis=0)
        beside = plane.mapped(matrix, at + np.array([[0, 0], [1, 0], [0, 1]]))
        pixel = np.sqrt(abs(np.linalg.det(beside[1:] - beside[0])))
        yield Step(
            "from the picture to the plane",
            "the one matrix that carries the four marks to the corners of width × height",
            {"width_m": measure.width, "height_m": measure.height},
            round(float(pixel) * 1000, 4),
            "mm to the pixel, at the middle of what is measured",
            METHOD,
        )
    unit, name = ("°", "angle") if measure.kind == "angle" else ("m", "distance")
    which = {"spacing": "mean space along the best line", "angle": "angle between the two lines"}
    yield Step(
        which.get(measure.kind, "distance of the two marks"),
        f"{name} of the marks, carried to the plane",
        {"marks": len(measure.points)},
        round(results[-1].value, 5),
        unit,
        METHOD,
    )
    parts = (shares[:, -1] ** 2).tolist()
    ends = 3 + 2 * work.corners
    yield Step(
        "standard error",
        "root of the sum of squares: of the four corners, the known sizes, the lens, the marks",
        {
            "corners": round(math.sqrt(sum(parts[3:ends])), 6),
            "sizes": round(math.sqrt(sum(parts[:2])), 6),
            "lens": round(math.sqrt(parts[2]), 6),
            "marks": round(math.sqrt(sum(parts[ends:])), 6),
        },
        round(results[-1].error, 6),
        unit,
        METHOD,
    )
