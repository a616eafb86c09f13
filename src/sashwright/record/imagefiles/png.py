"""PNG files: a run of named chunks, each with a check sum (ISO/IEC 15948)."""

from __future__ import annotations

import zlib
from collections.abc import Iterator

from sashwright.record.imagefiles.parts import Broken, Parts, number

START = b"\x89PNG\r\n\x1a\n"
# The picture and its colours.
_KEPT = {
    b"IHDR", b"PLTE", b"IDAT", b"IEND", b"tRNS", b"gAMA", b"cHRM", b"sRGB", b"iCCP", b"sBIT",
    b"bKGD", b"pHYs", b"cICP",
}  # fmt: skip

Chunk = tuple[bytes, int, int]
"""Its name, and where it begins and ends, its length and check sum with it."""


def png_parts(data: bytes) -> Parts:
    """A PNG file in pieces. Raises ``Broken``."""
    chunks = list(_chunks(data))
    if not chunks or chunks[0][0] != b"IHDR":
        raise Broken("a PNG file without a picture in it")
    width, height = number(data, 16, 4), number(data, 20, 4)
    exif = next((data[start + 8 : end - 4] for name, start, end in chunks if name == b"eXIf"), None)
    animated = any(name == b"acTL" for name, _, _ in chunks)

    def rebuilt(about: bytes | None) -> bytes:
        pieces = [START]
        for name, start, end in chunks:
            if name in _KEPT:
                pieces.append(data[start:end])
            if name == b"IHDR" and about is not None:
                pieces.append(_chunk(b"eXIf", about))
        return b"".join(pieces)

    return Parts(width, height, exif, animated, rebuilt)


def _chunks(data: bytes) -> Iterator[Chunk]:
    at = len(START)
    while True:
        length, name = number(data, at, 4), data[at + 4 : at + 8]
        end = at + 12 + length
        if end > len(data):
            raise Broken("a PNG file that is cut off or damaged")
        yield name, at, end
        if name == b"IEND":
            return
        at = end


def _chunk(name: bytes, payload: bytes) -> bytes:
    check = zlib.crc32(name + payload).to_bytes(4, "big")
    return len(payload).to_bytes(4, "big") + name + payload + check
