"""Picture files made for tests: small, and spoilt in many ways."""

from __future__ import annotations

import io
import random
from typing import Any

from PIL import Image

PLACE = {1: "N", 2: (43.0, 39.0, 30.0), 3: "W", 4: (70.0, 15.0, 1.0)}
"""Degrees, minutes and seconds, as a telephone writes where it is."""


def picture_file(
    form: str = "JPEG",
    *,
    size: tuple[int, int] = (64, 48),
    mode: str = "RGB",
    orientation: int = 1,
    place: bool = False,
    taken: str = "",
    zone: str = "",
    seed: int = 1,
    **how: Any,
) -> bytes:
    """A picture as a camera would send it, its maker named beside it."""
    made = random.Random(seed)
    picture = Image.frombytes("RGB", size, made.randbytes(3 * size[0] * size[1])).convert(mode)
    exif = Image.Exif()
    exif[0x010F] = "Maker of Cameras"
    exif[0x0112] = orientation
    if taken:
        exif.get_ifd(0x8769)[0x9003] = taken
    if zone:
        exif.get_ifd(0x8769)[0x9011] = zone
    if place:
        exif.get_ifd(0x8825).update(PLACE)
    out = io.BytesIO()
    picture.save(out, form, exif=exif, **how)
    return out.getvalue()


def spoilt(data: bytes, made: random.Random) -> bytes:
    """The file cut off, changed, lengthened or stirred, each in one of several ways."""
    bytes_ = bytearray(data)
    way = made.randrange(6)
    if way == 0:
        return bytes(bytes_[: made.randrange(len(bytes_))])
    if way == 1:
        for _ in range(made.randint(1, 20)):
            bytes_[made.randrange(len(bytes_))] = made.randrange(256)
    elif way == 2:
        # The beginning holds the sizes, and what is written beside the picture.
        for _ in range(made.randint(1, 8)):
            bytes_[made.randrange(min(200, len(bytes_)))] = made.choice((0, 1, 0x7F, 0x80, 0xFF))
    elif way == 3:
        at = made.randrange(len(bytes_))
        del bytes_[at : at + made.randint(1, 400)]
    elif way == 4:
        at = made.randrange(len(bytes_))
        bytes_[at:at] = made.randbytes(made.randint(1, 60))
    else:
        one, other = sorted(made.randrange(len(bytes_)) for _ in range(2))
        bytes_ += bytes_[one:other]
        bytes_[one : one + 8] = made.randbytes(8)
    return bytes(bytes_)
