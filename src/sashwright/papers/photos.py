"""Photographs on paper: upright, no larger than print needs, with what was drawn on them."""

from __future__ import annotations

import datetime
import hashlib
import io
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from xml.sax.saxutils import escape

from PIL import Image, ImageOps, UnidentifiedImageError

from sashwright.drawing.pens import COLOURS
from sashwright.papers.figures import Pictures
from sashwright.papers.words import date, day_of
from sashwright.record.attached.photo import Mark
from sashwright.window.components import part_words
from sashwright.window.spec import House, Window

LONGEST = 1600
"""Of a printed photograph's longer side [pixels]: 450 to the inch at half a page's breadth."""
BETWEEN, HIGHEST = 6.0, 66.0
"""Between two photographs side by side, and of each in height, so that four go to a page [mm]."""
QUALITY = 82
"""Of photographs that are made smaller, as JPEG counts it."""
MOST_PIXELS = 120_000_000
"""Larger pictures are not opened: a file of a few bytes can claim any size."""
UNREADABLE = "This photograph cannot be read."


@dataclass(frozen=True, slots=True)
class Photo:
    """A photograph to be printed: where it lies or its bytes, what it shows and when it was taken."""

    of: Path | bytes | Callable[[], bytes]
    name: str = ""
    """As findings call it."""
    caption: str = ""
    window: str | None = None
    """The number of the window it shows; the house where there is none."""
    component: str = ""
    taken: datetime.date | None = None
    marks: Sequence[Mark] = ()

    def read(self) -> bytes:
        """The file. Raises ``OSError`` where it is not there."""
        if isinstance(self.of, bytes):
            return self.of
        return self.of.read_bytes() if isinstance(self.of, Path) else self.of()


def named_in(house: House, folder: Path) -> list[Photo]:
    """The photographs that windows and their findings name, as far as they lie in a folder."""
    found: dict[tuple[str, str], Photo] = {}
    for window in house.windows:
        named = [("", name) for name in window.condition.photos]
        named += [(each.on, name) for each in window.condition.found for name in each.photos]
        for component, name in named:
            # A name is no way out of the folder.
            path = folder / Path(name).name
            if path.is_file():
                photo = Photo(path, name, "", window.number, component, day_of(window.condition.on))
                found.setdefault((window.number, name), photo)
    return list(found.values())


def of_window(photographs: Iterable[Photo], window: Window | None) -> list[Photo]:
    """Those of a window, or of the house as a whole, the earliest first; undated ones come first."""
    number = None if window is None else window.number
    mine = [photo for photo in photographs if photo.window == number]
    return sorted(mine, key=lambda photo: photo.taken or datetime.date.min)


def stem(name: str) -> str:
    """The name of a photograph without the ending of its file, as findings may call it either way."""
    bare, dot, ending = name.rpartition(".")
    return bare if dot and ending.lower() in ENDINGS else name


ENDINGS = frozenset({"jpg", "jpeg", "png", "webp"})


def album(
    pictures: Pictures, photographs: Sequence[Photo], keys: Mapping[str, str] | None = None
) -> list[dict[str, Any]]:
    """Photographs as the templates take them; their files go to the pictures.

    ``keys`` are those of findings, by the names of photographs that show them.
    """
    return [
        _figure(pictures, photo, index, (keys or {}).get(stem(photo.name), ""))
        for index, photo in enumerate(photographs, 1)
    ]


def _figure(pictures: Pictures, photo: Photo, index: int, key: str) -> dict[str, Any]:
    words = ". ".join(_caption(photo, index, key))
    found = {"file": "", "alt": words, "caption": words, "says": "", "wide": 0.0}
    try:
        data = photo.read()
        key = _digest(data, photo.marks)
        file = f"photo-{key}.svg"
        # The same one in another part of the packet is the same file.
        if file not in pictures.photographs:
            fit, size = prepared(data)
            beside = f"photo-{key}.{'png' if fit[:4] == PNG else 'jpg'}"
            pictures.files[beside] = fit
            pictures.files[file] = framed(beside, size, photo.marks)
            pictures.photographs[file] = size
    except (OSError, ValueError):
        return found | {"says": UNREADABLE}
    wide, high = pictures.photographs[file]
    column = (pictures.breadth - BETWEEN) / 2
    return found | {"file": file, "wide": min(column, HIGHEST * wide / high)}


def _digest(data: bytes, marks: Sequence[Mark]) -> str:
    drawn = "".join(mark.model_dump_json() for mark in marks)
    return hashlib.sha256(data + drawn.encode()).hexdigest()[:20]


def _caption(photo: Photo, index: int, key: str) -> Iterator[str]:
    where = "The house" if photo.window is None else f"Window {photo.window}"
    yield f"{where}, photo {index}{f', finding {key}' if key else ''}"
    if photo.component:
        yield part_words(photo.component)
    if photo.caption:
        yield photo.caption.strip().rstrip(".")
    if photo.taken is not None:
        yield date(photo.taken)


PNG = b"\x89PNG"


def prepared(data: bytes) -> tuple[bytes, tuple[int, int]]:
    """A photograph as it is printed, with its width and height [pixels].

    A JPEG or PNG that stands upright and is small enough goes through as it is. Raises ``OSError`` or
    ``ValueError`` for what is no picture.
    """
    try:
        with Image.open(io.BytesIO(data)) as image:
            return _fitted(image, data)
    except (UnidentifiedImageError, Image.DecompressionBombError, SyntaxError) as error:
        raise ValueError(str(error)) from error


def _fitted(image: Image.Image, data: bytes) -> tuple[bytes, tuple[int, int]]:
    if image.width * image.height > MOST_PIXELS:
        raise ValueError(f"found {image.width} by {image.height} pixels, expected fewer")
    turned = image.getexif().get(_ORIENTATION, 1) != 1
    plain = image.format in ("JPEG", "PNG") and image.mode in ("RGB", "L")
    if plain and not turned and max(image.size) <= LONGEST:
        image.load()
        return data, image.size
    # A JPEG can be read at an eighth, a quarter or half of its size: far less memory.
    image.draft("RGB", (LONGEST, LONGEST))
    upright = ImageOps.exif_transpose(image)
    upright.thumbnail((LONGEST, LONGEST))
    out = io.BytesIO()
    upright.convert("RGB").save(out, "JPEG", quality=QUALITY)
    return out.getvalue(), upright.size


_ORIENTATION = 0x0112


def framed(file: str, size: tuple[int, int], marks: Sequence[Mark] = ()) -> str:
    """What was drawn on a photograph, over it, as an SVG that names its file: so it is never copied."""
    wide, high = size
    unit = max(size) / 100
    drawn = "".join(_mark(mark, wide, high, unit) for mark in marks)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide} {high}" width="{wide}" height="{high}">'
        f'<image width="{wide}" height="{high}" href="{file}"/>'
        f'<g fill="none" stroke="{COLOURS["pencil"]}" stroke-width="{unit * 0.8:.1f}" '
        f'stroke-linecap="round" stroke-linejoin="round">{drawn}</g></svg>\n'
    )


def _mark(mark: Mark, wide: int, high: int, unit: float) -> str:
    points = [(x * wide, y * high) for x, y in mark.points]
    (x, y), (far_x, far_y) = points[0], points[-1]
    words = _words(mark.text, x, y, unit)
    if mark.kind == "words":
        return words
    if mark.kind == "ring":
        radius = max(((far_x - x) ** 2 + (far_y - y) ** 2) ** 0.5, 3 * unit)
        return f'<circle cx="{x:.0f}" cy="{y:.0f}" r="{radius:.0f}"/>{words}'
    line = " ".join(f"{a:.0f},{b:.0f}" for a, b in points)
    head = _head(points[-2:], unit) if mark.kind == "arrow" and len(points) > 1 else ""
    return f'<polyline points="{line}"/>{head}{words}'


def _head(ends: Sequence[tuple[float, float]], unit: float) -> str:
    """An arrow's head at the second of two points."""
    (x0, y0), (x, y) = ends
    length = ((x - x0) ** 2 + (y - y0) ** 2) ** 0.5 or 1.0
    along = ((x - x0) / length * 3 * unit, (y - y0) / length * 3 * unit)
    sides = [
        f"{x - along[0] + turn * along[1] / 2:.0f},{y - along[1] - turn * along[0] / 2:.0f}"
        for turn in (1, -1)
    ]
    return f'<polyline points="{sides[0]} {x:.0f},{y:.0f} {sides[1]}"/>'


def _words(text: str, x: float, y: float, unit: float) -> str:
    if not text:
        return ""
    return (
        f'<text x="{x + unit:.0f}" y="{y - unit:.0f}" font-size="{unit * 4:.0f}" stroke="#fff" '
        f'stroke-width="{unit * 1.2:.1f}" paint-order="stroke" fill="{COLOURS["pencil"]}" '
        f"font-family=\"'Libertinus Serif'\">{escape(text)}</text>"
    )
