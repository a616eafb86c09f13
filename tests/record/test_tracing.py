"""Tracing a section from a picture: pictures drawn here from known profiles, turned, blurred and noisy."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

import cv2
import numpy as np
import pytest

from sashwright.knowledge import curves
from sashwright.knowledge.load import load
from sashwright.physics.curve_fit import Array, deviation, even
from sashwright.record.tracing import Edge, Measure, TracingError, trace
from sashwright.window.ownmouldings import OwnMoulding

KNOWLEDGE = load()
PIXEL = 0.06e-3
"""Metres of a pixel in these pictures."""
WITHIN = 0.3e-3

BRICK = OwnMoulding.model_validate({
    "kind": "running",
    "outline": ["0 mm, 0 mm", "50 mm, 0 mm", "50 mm, 20 mm", "44 mm, 26 mm round 6 mm", "38 mm, 26 mm",
                "30 mm, 18 mm hollow 8 mm", "10 mm, 18 mm", "10 mm, 28 mm", "0 mm, 28 mm"],
})  # fmt: skip

Spot = Callable[[float, float], tuple[float, float]]


def picture(
    outline: Sequence[curves.Point],
    turn: float,
    noise: float,
    *,
    tones: tuple[int, int] = (60, 205),
) -> tuple[bytes, Spot]:
    """A piece of wood on paper, turned [degrees], and where in the picture a point of it is."""
    points = np.array(outline)
    middle = points.mean(axis=0)
    angle = math.radians(turn)
    rotate = np.array([[math.cos(angle), -math.sin(angle)], [math.sin(angle), math.cos(angle)]])

    def placed(where: Array) -> Array:
        return (where - middle) @ rotate.T * np.array([1.0, -1.0]) / PIXEL

    low = placed(points).min(axis=0) - 50
    size = np.ceil(placed(points).max(axis=0) - low + 50).astype(int)
    fine = 4
    large = np.full((size[1] * fine, size[0] * fine), tones[1], np.uint8)
    corners = ((placed(points) - low + 0.5) * fine - 0.5) * 16
    cv2.fillPoly(large, [np.round(corners).astype(np.int32)], tones[0], shift=4)
    grey = cv2.resize(large, size.tolist(), interpolation=cv2.INTER_AREA).astype(float)
    grey = cv2.GaussianBlur(grey, (0, 0), 1.0)
    grey = grey + np.random.default_rng(3).normal(0, noise, grey.shape)
    _, data = cv2.imencode(".png", np.clip(grey, 0, 255).astype(np.uint8))

    def spot(x: float, y: float) -> tuple[float, float]:
        at = placed(np.array([x, y])) - low
        return float(at[0]), float(at[1])

    return data.tobytes(), spot


def stile(key: str, width: float, depth: float) -> tuple[list[curves.Point], list[curves.Point]]:
    """A moulding of the table stretched to a size, and the piece of wood it is stuck on."""
    points = curves.flat(KNOWLEDGE.moulding[key].points, closed=False, per_arc=200)
    edge = [(u * depth, v * width) for u, v in points]
    return edge, [(-0.012, 0.0), *edge, (depth, 0.030), (-0.012, 0.030)]


@pytest.mark.parametrize(
    ("key", "turn", "noise"),
    [
        ("ovolo", 0, 0), ("ovolo", 13, 8), ("ogee", 201, 12), ("lambs-tongue", -35, 8), ("cove", 90, 8),
        ("bead", 5, 12), ("bevel", 150, 8), ("quarter-round", 20, 8),
    ],
)  # fmt: skip
def test_a_sash_moulding_within_a_third_of_a_millimetre(
    key: str, turn: float, noise: float
) -> None:
    width, depth = 0.009, 0.014
    edge, wood = stile(key, width, depth)
    data, at = picture(wood, turn, noise)
    measure = Measure(at(0, 0), at(0.010, 0), 0.010)
    top = edge[-1][1]
    traced = trace(data, measure, edge=Edge(at(-0.006, 0), at(depth, top + 0.006)))
    assert traced.moulding.kind == "sticking"
    # A flat beside the nose is as good as nose: what counts is the wood, laid face to face.
    points = np.array([(-0.005, 0.0), *edge, (depth, top + 0.003)])
    shift = depth - traced.moulding.points[-1][0]
    found = [(x + shift, y, bulge) for x, y, bulge in traced.moulding.points]
    outline = [(-0.005, 0.0, 0.0), *found, (depth, top + 0.003, 0.0)]
    off = deviation(even(points, 3000), outline)
    assert off < WITHIN
    assert traced.error < WITHIN
    # What it says of itself is not far from the truth.
    assert off < traced.error + 0.1e-3


def test_a_strip_from_a_picture() -> None:
    wood = curves.flat(BRICK.points, closed=True, per_arc=100)[:-1]
    for turn in (0, 37, 170):
        data, at = picture(wood, turn, 10)
        traced = trace(data, Measure(at(0, 0), at(0.025, 0), 0.025), tolerance=0.15e-3)
        moulding = traced.moulding
        assert moulding.kind == "running"
        assert len(moulding.outline) == len(BRICK.outline)
        ring = even(np.array([*wood, wood[0]]), 3000)
        assert deviation(ring, moulding.points, closed=True) < WITHIN
        assert curves.enclosed(moulding.points) == pytest.approx(
            curves.enclosed(BRICK.points), rel=0.01
        )


def test_light_wood_on_a_dark_ground_and_one_piece_of_two() -> None:
    edge, wood = stile("ovolo", 0.009, 0.014)
    data, at = picture(wood, 0, 5, tones=(210, 70))
    measure = Measure(at(0, 0), at(0.010, 0), 0.010)
    marks = Edge(at(-0.006, 0), at(0.014, edge[-1][1] + 0.006))
    traced = trace(data, measure, edge=marks, at=at(0.0, 0.020), wood="light")
    assert traced.moulding.points[-1][0] == pytest.approx(0.014, abs=WITHIN)
    with pytest.raises(TracingError, match="runs off the picture"):
        trace(data, measure, edge=marks)
    with pytest.raises(TracingError, match="no wood at"):
        trace(data, measure, at=(2.0, 2.0), wood="light")


def test_what_cannot_be_traced_is_said() -> None:
    _, wood = stile("ovolo", 0.009, 0.014)
    data, at = picture(wood, 0, 5)
    measure = Measure(at(0, 0), at(0.010, 0), 0.010)
    with pytest.raises(TracingError, match="found no picture"):
        trace(b"no picture", measure)
    faint, _ = picture(wood, 0, 2, tones=(120, 130))
    with pytest.raises(TracingError, match="grey levels apart"):
        trace(faint, measure)
    plain = cv2.imencode(".png", np.full((400, 400), 90, np.uint8))[1].tobytes()
    with pytest.raises(TracingError, match=r"one tone all over|nothing of the wood"):
        trace(plain, measure)
    with pytest.raises(TracingError, match="pixels apart"):
        trace(data, Measure((10, 10), (12, 10), 0.01))
    with pytest.raises(TracingError, match="to the pixel"):
        trace(data, Measure(at(0, 0), at(0.010, 0), 0.080))
    with pytest.raises(TracingError, match="from the edge of the wood"):
        trace(data, measure, edge=Edge((5.0, 5.0), at(0.014, 0.020)))
    with pytest.raises(TracingError, match=r"expected them square|no straight|meeting square"):
        trace(data, measure, edge=Edge(at(-0.006, 0), at(0.006, 0.030)))
