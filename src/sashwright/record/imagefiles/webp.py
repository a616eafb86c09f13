"""WebP files: a RIFF of named chunks (RFC 9649)."""

from __future__ import annotations

from collections.abc import Iterator

from sashwright.record.imagefiles.parts import Broken, Parts, number

_ANIMATED, _XMP, _EXIF = 0x02, 0x04, 0x08
_KEPT = {b"VP8X", b"ICCP", b"ALPH", b"VP8 ", b"VP8L"}
_EXIF_NAME = b"Exif\0\0"

Chunk = tuple[bytes, int, int]
"""Its name, and where what it holds begins and ends."""


def webp_parts(data: bytes) -> Parts:
    """A WebP file in pieces. Raises ``Broken``."""
    chunks = list(_chunks(data))
    names = [name for name, _, _ in chunks]
    if not names or names[0] not in (b"VP8X", b"VP8 ", b"VP8L"):
        raise Broken("a WebP file without a picture in it")
    width, height = _size(data, *chunks[0][:2])
    exif = next((data[start:end] for name, start, end in chunks if name == b"EXIF"), None)
    if exif is not None:
        exif = exif.removeprefix(_EXIF_NAME)
    extended = names[0] == b"VP8X"
    animated = b"ANIM" in names or (extended and bool(data[chunks[0][1]] & _ANIMATED))

    def rebuilt(about: bytes | None) -> bytes:
        body = b"".join(_written(data, chunks, about if extended else None))
        return b"RIFF" + (len(body) + 4).to_bytes(4, "little") + b"WEBP" + body

    return Parts(width, height, exif if extended else None, animated, rebuilt)


def _chunks(data: bytes) -> Iterator[Chunk]:
    at, whole = 12, min(len(data), 8 + number(data, 4, 4, big=False))
    while at < whole:
        name, length = data[at : at + 4], number(data, at + 4, 4, big=False)
        if at + 8 + length > len(data):
            raise Broken("a WebP file that is cut off or damaged")
        yield name, at + 8, at + 8 + length
        at += 8 + length + length % 2


def _size(data: bytes, name: bytes, at: int) -> tuple[int, int]:
    if name == b"VP8X":
        return (
            1 + number(data, at + 4, 3, big=False),
            1 + number(data, at + 7, 3, big=False),
        )
    if name == b"VP8L":
        bits = number(data, at + 1, 4, big=False)
        return 1 + (bits & 0x3FFF), 1 + ((bits >> 14) & 0x3FFF)
    return number(data, at + 6, 2, big=False) & 0x3FFF, number(data, at + 8, 2, big=False) & 0x3FFF


def _written(data: bytes, chunks: list[Chunk], about: bytes | None) -> Iterator[bytes]:
    for name, start, end in chunks:
        payload = data[start:end]
        if name == b"VP8X":
            if len(payload) < 10:
                raise Broken("a WebP file that is cut off or damaged")
            told = payload[0] & ~(_EXIF | _XMP) | (_EXIF if about is not None else 0)
            payload = bytes((told,)) + payload[1:]
        if name in _KEPT:
            yield _chunk(name, payload)
    if about is not None:
        yield _chunk(b"EXIF", about)


def _chunk(name: bytes, payload: bytes) -> bytes:
    return name + len(payload).to_bytes(4, "little") + payload + b"\0" * (len(payload) % 2)
