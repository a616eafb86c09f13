"""The demo house's photographs: always the same, and seen by the camera that they say."""

from __future__ import annotations

import io
from typing import Any

import numpy as np
import pytest
from django.contrib.auth.models import User
from PIL import Image

from sashwright.chapters.words import Words
from sashwright.knowledge.load import load
from sashwright.physics.homography import mapped
from sashwright.record import store
from sashwright.record.attached.photo import Measure
from sashwright.record.demo import photographs, rendering
from sashwright.record.measuring import measured
from sashwright.window.resolve import Placed, place_each
from tests.factories import make_house

CAMERA = rendering.Camera((0.0, 0.8), 2.2, turned=20, tilted=-8, rolled=3)


@pytest.fixture(scope="module")
def placed() -> Placed:
    _, found = next(place_each(make_house(), load(), ["101"]))
    assert isinstance(found, Placed)
    return found


@pytest.fixture(scope="module")
def picture(placed: Placed) -> bytes:
    return rendering.render(placed, CAMERA, taken="2026:04:07 10:00:00")


def test_the_same_picture_every_time(placed: Placed, picture: bytes) -> None:
    assert rendering.render(placed, CAMERA, taken="2026:04:07 10:00:00") == picture


def test_glass_and_wood_are_seen_where_the_camera_sees_them(placed: Placed, picture: bytes) -> None:
    """At the upper corners of the lower lite, a finger's breadth inside and outside of it."""
    (lite,) = placed.layout.lower.lites
    grey = Image.open(io.BytesIO(picture)).convert("L")
    for x, inward in ((lite.left, 1), (lite.right, -1)):
        middle = (lite.bottom + lite.top) / 2
        inside, outside = mapped(
            CAMERA.matrix, np.array([[x + inward * 0.02, middle], [x - inward * 0.02, middle]])
        )
        assert grey.getpixel(tuple(inside.astype(int))) < 110
        assert grey.getpixel(tuple(outside.astype(int))) > 150


def test_a_lite_is_measured_on_it(placed: Placed) -> None:
    """From the corners of the opening to the width of the glass in sight, marks good to a pixel."""
    rng = np.random.default_rng(1)
    (lite,) = placed.layout.lower.lites
    half, high = placed.window.width / 2, placed.window.height
    corners = [(-half, high), (half, high), (half, 0.0), (-half, 0.0)]
    level = (lite.bottom + lite.top) / 2
    points = np.array([*corners, (lite.left, level), (lite.right, level)])
    wide, tall = CAMERA.size
    marks = (mapped(CAMERA.matrix, points) + rng.normal(0, 1, (6, 2))) / np.array([wide, tall])
    measure = Measure(
        corners=marks[:4].tolist(), points=marks[4:].tolist(), width=2 * half, height=high
    )
    (result,) = measured(measure, wide, tall, Words("us")).results
    assert result.value == pytest.approx(lite.right - lite.left, abs=0.0254 / 8)


def test_a_fault_is_seen(placed: Placed, picture: bytes) -> None:
    stained = rendering.render(placed, CAMERA, [rendering.Stain("lower.bottom_rail", "decay")])
    box = rendering.box_of(rendering.elevation(placed, dimensions=False).items, "lower.bottom_rail")
    rng = np.random.default_rng(2)
    spots = np.column_stack((rng.uniform(-0.05, 0.05, 400), rng.uniform(box.bottom, box.top, 400)))
    seen = mapped(CAMERA.matrix, spots).astype(int)
    sound, rotten = (
        np.mean([Image.open(io.BytesIO(data)).convert("L").getpixel(tuple(at)) for at in seen[:60]])
        for data in (picture, stained)
    )
    assert rotten < sound - 20
    with pytest.raises(ValueError, match="expected one that is drawn"):
        rendering.render(placed, CAMERA, [rendering.Stain("sofa", "decay")])


def test_they_come_with_the_demo_house_once(ann: User, monkeypatch: pytest.MonkeyPatch) -> None:
    from importlib import resources

    from sashwright.record.housefile import house_document, parse_house

    data = (resources.files("sashwright.record.demo") / "house.toml").read_bytes()
    house = parse_house(data, "the demo house", store.knowledge())
    slug = store.import_house(house_document(house), ann)
    monkeypatch.setattr(photographs, "SHOTS", photographs.SHOTS[3:5])
    for _ in range(2):
        assert photographs.bring_in(slug, ann, store.knowledge()) == 2
    rows = store.photographs(slug, "104")
    assert [row.key for row in rows] == ["104-lower-rail", "104-probe"]
    assert len(rows[1].marks) == 1
    named: list[Any] = store.findings_of(slug, "104")[0]["photos"]
    assert named == [row.key for row in rows]


def test_every_photograph_of_the_demo_house_shows_a_part_that_is_there() -> None:
    assert {shot.key for shot in photographs.SHOTS} >= set(photographs.MARKS)
    assert len({shot.key for shot in photographs.SHOTS}) == len(photographs.SHOTS) == 8
