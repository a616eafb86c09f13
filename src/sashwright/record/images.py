"""Photographs as files: only real pictures come in, without the place where they were taken.

Pure functions on bytes. The picture itself is never written again: its file is taken apart and put
together without what it says beside the picture, so that every pixel stays as the camera wrote it.
"""

from __future__ import annotations

import hashlib
import io
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from PIL import Image as Pillow
from PIL import ImageOps

from sashwright.record.errors import refused
from sashwright.record.imagefiles import Broken, Parts, jpeg_parts, png_parts, webp_parts
from sashwright.record.imagefiles.exif import read_told, write_told

Form = Literal["jpg", "png", "webp"]
CONTENT_TYPES: Mapping[Form, str] = {"jpg": "image/jpeg", "png": "image/png", "webp": "image/webp"}

LARGEST = 25_000_000
"""Of a file [bytes]."""
MOST_PIXELS = 60_000_000
"""More than telephones and cameras commonly take; 180 MB once decoded."""
LONGEST_SIDE = 20_000
"""Of a picture [pixels]."""
QUALITY = 84
"""Of the smaller pictures made from it, as JPEG counts it."""

_EXPECTED = "a photograph as JPEG, PNG or WebP"
_PARTS: Mapping[Form, Callable[[bytes], Parts]] = {
    "jpg": jpeg_parts,
    "png": png_parts,
    "webp": webp_parts,
}
_DECODERS: Mapping[Form, str] = {"jpg": "JPEG", "png": "PNG", "webp": "WEBP"}
_HEIF = (b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1", b"avif", b"avis")
_OTHERS = {
    b"GIF8": "a GIF picture",
    b"%PDF": "a PDF file",
    b"II*\0": "a TIFF or raw picture",
    b"MM\0*": "a TIFF or raw picture",
    b"BM": "a BMP picture",
    b"<svg": "a drawing (SVG)",
    b"<?xml": "a drawing (SVG)",
}


@dataclass(frozen=True, slots=True)
class Image:
    """A photograph ready to be kept."""

    data: bytes
    """The file to keep."""
    form: Form
    width: int
    height: int
    """As it stands upright [pixels]."""
    taken_at: datetime | None
    """By the camera's clock; without a zone where the camera named none."""
    had_place: bool
    """Whether the file that came said where it was taken."""

    @property
    def digest(self) -> str:
        """SHA-256 of the file, in hexadecimal."""
        return hashlib.sha256(self.data).hexdigest()


def read_image(data: bytes, *, keep_place: bool = False) -> Image:
    """A photograph as it was sent, made ready to be kept.

    Of what the camera wrote beside the picture, how it lies and when it was taken stay, and with
    ``keep_place`` where. Raises ``Refused`` with one sentence for what is not a whole picture or too large.
    """
    if len(data) > LARGEST:
        raise refused("file", _size_of(len(data)), f"one of at most {_size_of(LARGEST)}")
    form = _form_of(data)
    try:
        parts = _PARTS[form](data)
        _check_size(parts)
        told = read_told(parts.exif)
        kept = parts.rebuilt(write_told(told, keep_place=keep_place))
    except Broken as error:
        raise refused("file", str(error), _EXPECTED) from None
    width, height = _decoded(kept, form)
    if told.orientation > 4:
        width, height = height, width
    return Image(kept, form, width, height, told.taken_at, bool(told.place))


def small(data: bytes, longest: int, quality: int = QUALITY) -> bytes:
    """A kept photograph upright, no longer than this on any side [pixels], as JPEG.

    Raises ``Refused`` where the file has been damaged since.
    """
    try:
        with Pillow.open(io.BytesIO(data), formats=tuple(_DECODERS.values())) as picture:
            picture.draft(None, (longest, longest))
            profile = picture.info.get("icc_profile") if picture.mode in ("RGB", "RGBA") else None
            upright = ImageOps.exif_transpose(_plain(picture))
            upright.thumbnail((longest, longest), Pillow.Resampling.LANCZOS)
            out = io.BytesIO()
            upright.save(out, "JPEG", quality=quality, icc_profile=profile, progressive=True)
            return out.getvalue()
    except Exception as error:
        # A decoder fails in as many ways as a file can be broken.
        raise refused("file", "a damaged picture", _EXPECTED) from error


def lies(data: bytes) -> int:
    """How a kept photograph lies in its file: 1 upright, 2 to 8 turned or mirrored."""
    try:
        return read_told(_PARTS[_form_of(data)](data).exif).orientation
    except Broken:
        return 1


def _form_of(data: bytes) -> Form:
    """What the file begins like. Raises ``Refused`` for what is no photograph."""
    if data.startswith(b"\xff\xd8\xff"):
        return "jpg"
    if data.startswith(b"\x89PNG\r\n\x1a\n"):
        return "png"
    if data.startswith(b"RIFF") and data[8:12] == b"WEBP":
        return "webp"
    if data[4:8] == b"ftyp" and data[8:12] in _HEIF:
        raise refused(
            "file",
            "a HEIC or AVIF picture, which cannot be read here",
            f"{_EXPECTED}; a telephone can be set to take the most compatible pictures",
        )
    if not data:
        raise refused("file", "an empty file", _EXPECTED)
    other = next((name for start, name in _OTHERS.items() if data.startswith(start)), None)
    raise refused("file", other or "a file that is no picture", _EXPECTED)


def _check_size(parts: Parts) -> None:
    """Before anything is decoded: a small file can say that it holds a huge picture."""
    width, height = parts.width, parts.height
    if not (width and height):
        raise Broken("a picture without a size")
    if width * height > MOST_PIXELS or max(width, height) > LONGEST_SIDE:
        most = MOST_PIXELS // 1_000_000
        raise refused(
            "file", f"a picture of {width} by {height} pixels", f"at most {most} million pixels"
        )
    if parts.animated:
        raise refused("file", "a picture that moves", "one that stands still")


def _decoded(data: bytes, form: Form) -> tuple[int, int]:
    """Width and height as they lie in the file, once all of it has been decoded. Raises ``Refused``."""
    try:
        with Pillow.open(io.BytesIO(data), formats=(_DECODERS[form],)) as picture:
            size = picture.size
            if size[0] * size[1] > MOST_PIXELS:
                raise Broken("a picture that is larger than it says")
            picture.load()
    except Exception as error:
        # A decoder fails in as many ways as a file can be broken.
        raise refused("file", "a picture that is cut off or damaged", _EXPECTED) from error
    return size


def _plain(picture: Pillow.Image) -> Pillow.Image:
    """In red, green and blue, on white where it was clear; how it lies is still told."""
    exif = picture.getexif()
    if picture.mode.startswith(("I", "F")):
        # Sixteen bits of grey; eight are enough to look at.
        grey = picture.convert("I").point(lambda value: value * (1 / 256)).convert("L")
        plain = grey.convert("RGB")
    elif picture.mode in ("RGBA", "LA", "PA") or "transparency" in picture.info:
        clear = picture.convert("RGBA")
        plain = Pillow.new("RGB", clear.size, "white")
        plain.paste(clear, mask=clear.getchannel("A"))
    else:
        plain = picture.convert("RGB")
    plain.getexif().update(exif)
    return plain


def _size_of(count: int) -> str:
    return f"a file of {count / 1_000_000:.1f} MB"
