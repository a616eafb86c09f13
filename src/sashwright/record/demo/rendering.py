"""Photographs of a window that nobody took: as it is drawn, painted, lit and seen by a camera.

The same picture for the same window, always. Where its camera stood is known, so that what is measured on
it can be checked.
"""

from __future__ import annotations

import io
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from PIL import Image, ImageDraw

from sashwright.drawing.elevation import elevation
from sashwright.drawing.model import (
    Bounds,
    Drawing,
    Group,
    Item,
    Polygon,
    bounds_of,
    flattened,
    walk,
)
from sashwright.drawing.sash import View
from sashwright.physics.homography import Array, mapped
from sashwright.window.resolve import Placed

LONG, SHORT = 1600, 1200
"""Of every picture [pixels]."""
FOCAL = 1500.0
"""Of the invented camera [pixels]: as wide as a telephone sees."""
_CAMERA, _TAKEN = 0x8769, 0x9003
"""Where the time stands in what a camera writes."""
Colour = tuple[int, int, int]

WALL: Colour = (168, 160, 138)
ROOM: Colour = (206, 196, 176)
CLAPBOARD = 0.114
"""From one clapboard's edge to the next [m]; 4 1/2 in is usual."""
PAINTS: dict[str, Colour] = {
    "wood": (226, 222, 208), "frame": (232, 229, 217), "glass": (62, 74, 84), "void": (40, 38, 36),
    "metal": (92, 86, 78), "metal-far": (92, 86, 78), "putty": (205, 200, 186), "rough": (196, 182, 150),
}  # fmt: skip
"""By the wash of the pen; outside, of the house's own paint."""
STAINS: dict[str, tuple[Colour, ...]] = {
    "decay": ((84, 62, 40), (60, 44, 30), (118, 92, 60)),
    "bare": ((164, 142, 108), (150, 128, 98), (186, 168, 136)),
    "crack": ((228, 232, 234),),
}


@dataclass(frozen=True, slots=True)
class Stain:
    """A fault to be seen: on which part, of what kind, and where along and up it."""

    part: str
    kind: str
    along: float = 0.5
    up: float = 0.4
    spread: float = 0.12
    """Half its length [m]."""


@dataclass(frozen=True, slots=True)
class Camera:
    """Where a picture was taken from: what it looks at in the plane of the drawing [m], from how far
    [m], how far turned round and tilted [degrees]."""

    at: tuple[float, float]
    distance: float
    turned: float = 0.0
    tilted: float = 0.0
    rolled: float = 0.0
    upright: bool = True

    @property
    def size(self) -> tuple[int, int]:
        return (SHORT, LONG) if self.upright else (LONG, SHORT)

    @property
    def matrix(self) -> Array:
        """Carries points of the plane [m], y up, to the picture [pixels], y down."""
        one, two, three = (math.radians(each) for each in (self.turned, self.tilted, self.rolled))
        round_y = np.array(
            [[math.cos(one), 0, math.sin(one)], [0, 1, 0], [-math.sin(one), 0, math.cos(one)]]
        )
        round_x = np.array(
            [[1, 0, 0], [0, math.cos(two), -math.sin(two)], [0, math.sin(two), math.cos(two)]]
        )
        round_z = np.array(
            [
                [math.cos(three), -math.sin(three), 0],
                [math.sin(three), math.cos(three), 0],
                [0, 0, 1],
            ]
        )
        turn = round_z @ round_x @ round_y
        lens = np.array([[FOCAL, 0, self.size[0] / 2], [0, FOCAL, self.size[1] / 2], [0, 0, 1]])
        flip = np.array([[1.0, 0, -self.at[0]], [0, -1.0, self.at[1]], [0, 0, 1]])
        pose = np.column_stack((turn[:, 0], turn[:, 1], [0, 0, self.distance]))
        found: Array = lens @ pose @ flip
        return found


def render(
    placed: Placed,
    camera: Camera,
    stains: Sequence[Stain] = (),
    *,
    side: View = "outside",
    taken: str = "",
    seed: int = 0,
) -> bytes:
    """A window seen by a camera, as JPEG; ``taken`` is the time by the camera's clock."""
    rng = np.random.default_rng(seed)
    picture = elevation(placed, side, dimensions=False)
    seen = _seen(camera)
    # As fine as the picture is where it looks at the plane.
    fine = FOCAL / camera.distance
    sheet = _painted(picture, seen, fine, side)
    for stain in stains:
        _stain(sheet, box_of(picture.items, stain.part), stain, seen, fine, rng)
    wide, high = camera.size
    to_sheet = np.array([[fine, 0, -fine * seen.left], [0, -fine, fine * seen.top], [0, 0, 1]])
    back = to_sheet @ np.linalg.inv(camera.matrix)
    back /= back[2, 2]
    photo = sheet.transform(
        (wide, high),
        Image.Transform.PERSPECTIVE,
        tuple(back.ravel()[:8]),
        Image.Resampling.BILINEAR,
    )
    exif = Image.Exif()
    if taken:
        exif.get_ifd(_CAMERA)[_TAKEN] = taken
    out = io.BytesIO()
    _exposed(photo, rng).save(out, "JPEG", quality=82, exif=exif)
    return out.getvalue()


def _seen(camera: Camera) -> Bounds:
    """What of the plane falls into the picture [m]."""
    wide, high = camera.size
    rim = np.array([[0.0, 0.0], [wide, 0], [wide, high], [0, high]])
    inverse: Array = np.linalg.inv(camera.matrix).astype(np.float64)
    corners = mapped(inverse, rim)
    (left, low), (right, top) = corners.min(axis=0), corners.max(axis=0)
    return Bounds(float(left), float(low), float(right), float(top))


def _painted(picture: Drawing, seen: Bounds, fine: float, side: View) -> Image.Image:
    size = (math.ceil(seen.width * fine), math.ceil(seen.height * fine))
    sheet = Image.new("RGB", size, WALL if side == "outside" else ROOM)
    pencil = ImageDraw.Draw(sheet, "RGBA")
    if side == "outside":
        course = math.floor(seen.bottom / CLAPBOARD)
        while course * CLAPBOARD < seen.top:
            y = (seen.top - course * CLAPBOARD) * fine
            pencil.rectangle((0, y, size[0], y + 0.008 * fine), fill=(60, 54, 44, 120))
            course += 1
    _paint(pencil, picture.items, (0.0, 0.0), seen, fine)
    return sheet


def _paint(
    pencil: ImageDraw.ImageDraw,
    items: Sequence[Item],
    shift: tuple[float, float],
    seen: Bounds,
    fine: float,
) -> None:
    for item in items:
        if isinstance(item, Group):
            moved = (shift[0] + item.shift[0], shift[1] + item.shift[1])
            _paint(pencil, item.items, moved, seen, fine)
        elif isinstance(item, Polygon):
            points = [
                ((x + shift[0] - seen.left) * fine, (seen.top - y - shift[1]) * fine)
                for x, y in flattened(item.points)
            ]
            _fill(pencil, item.pen.split(), points)


def _fill(
    pencil: ImageDraw.ImageDraw, pens: Sequence[str], points: list[tuple[float, float]]
) -> None:
    edge = (96, 88, 74, 150)
    if "shade" in pens:
        pencil.polygon(points, fill=(20, 16, 12, 60))
        return
    wash = next((PAINTS[pen] for pen in pens if pen in PAINTS), None)
    if wash is not None:
        pencil.polygon(points, fill=(*wash, 255))
        if "glass" in pens:
            _sky(pencil, points)
    if not {"fine", "faint", "grain"} & set(pens):
        pencil.line([*points, points[0]], fill=edge, width=2)


def _sky(pencil: ImageDraw.ImageDraw, points: list[tuple[float, float]]) -> None:
    """A slant of sky in the glass, the same slant in every lite."""
    left, right = min(x for x, _ in points), max(x for x, _ in points)
    top, low = min(y for _, y in points), max(y for _, y in points)
    wide, high = right - left, low - top
    for start, end in ((0.06, 0.28), (0.36, 0.42)):
        pencil.polygon(
            [
                (left + start * wide, low), (left + end * wide, low),
                (min(left + (end + 0.45) * wide, right), top + 0.04 * high),
                (min(left + (start + 0.45) * wide, right), top + 0.04 * high),
            ],
            fill=(170, 190, 204, 46),
        )  # fmt: skip


def box_of(items: Sequence[Item], name: str) -> Bounds:
    """Where a part of the drawing lies [m]."""
    for item in walk(items):
        if isinstance(item, Group) and ("part", name) in item.data:
            return bounds_of(item.items)
    raise ValueError(f"found the part {name!r}, expected one that is drawn")


def _stain(
    sheet: Image.Image,
    box: Bounds,
    stain: Stain,
    seen: Bounds,
    fine: float,
    rng: np.random.Generator,
) -> None:
    pencil = ImageDraw.Draw(sheet, "RGBA")
    x, y = box.left + stain.along * box.width, box.bottom + stain.up * box.height

    def place(dx: float, dy: float) -> tuple[float, float]:
        within = (
            min(max(x + dx, box.left), box.right),
            min(max(y + dy, box.bottom), box.top),
        )
        return (within[0] - seen.left) * fine, (seen.top - within[1]) * fine

    if stain.kind == "crack":
        steps = np.cumsum(rng.normal(0, 0.02, 12))
        line = [place(float(s), box.height * (t / 11 - stain.up)) for t, s in enumerate(steps)]
        pencil.line(line, fill=(*STAINS["crack"][0], 235), width=max(2, round(0.0016 * fine)))
        return
    for colour in STAINS[stain.kind]:
        for _ in range(26):
            dx, dy = rng.normal(0, stain.spread / 2), rng.normal(0, 0.012)
            size = rng.uniform(0.25, 1.0) * stain.spread / 5
            turns = np.sort(rng.uniform(0, 2 * math.pi, 9))
            reach = size * rng.uniform(0.4, 1.0, 9)
            patch = [
                place(float(dx + r * math.cos(t)), float(dy + 0.35 * r * math.sin(t)))
                for r, t in zip(reach, turns, strict=True)
            ]
            pencil.polygon(patch, fill=(*colour, 190))


def _exposed(photo: Image.Image, rng: np.random.Generator) -> Image.Image:
    """The picture with the light of the day, dark corners and the grain of a small camera."""
    wide, high = photo.size
    across, down = np.meshgrid(np.linspace(-1, 1, wide), np.linspace(-1, 1, high))
    light = 1.06 - 0.10 * (across**2 + down**2) - 0.05 * across
    tile = rng.normal(0, 5.0, (256, 256))
    grain = np.tile(tile, (high // 256 + 1, wide // 256 + 1))[:high, :wide]
    seen = np.asarray(photo, np.float32) * light[..., None].astype(np.float32)
    seen += grain[..., None].astype(np.float32)
    return Image.fromarray(np.clip(seen, 0, 255).astype(np.uint8))
