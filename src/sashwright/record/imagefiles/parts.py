"""What every kind of picture file is taken apart into."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass


class Broken(ValueError):  # noqa: N818 - an answer in its own words
    """A file that is not what it begins like; the message says what was found."""


@dataclass(frozen=True, slots=True)
class Parts:
    """A picture file in pieces; ``width`` and ``height`` [pixels] as they lie in the file."""

    width: int
    height: int
    exif: bytes | None
    """What the camera wrote about the picture, from its TIFF header on."""
    animated: bool
    rebuilt: Callable[[bytes | None], bytes]
    """The file again, with the picture, its colours, and only this written about it."""


def number(data: bytes, at: int, length: int, *, big: bool = True) -> int:
    """An unsigned whole number in the file. Raises ``Broken`` where the file ends before."""
    piece = data[at : at + length]
    if len(piece) < length:
        raise Broken("a picture that ends too early")
    return int.from_bytes(piece, "big" if big else "little")
