"""JPEG files: a run of segments, each with a marker (ISO/IEC 10918-1, annex B)."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from sashwright.record.imagefiles.parts import Broken, Parts, number

START = b"\xff\xd8"
_END, _SCAN, _EXIF = 0xD9, 0xDA, 0xE1
_FRAMES = {*range(0xC0, 0xD0)} - {0xC4, 0xC8, 0xCC}
# Frames, scans, and the tables that they are read by; nothing else, for unknown segments can say anything.
_NEEDED = _FRAMES | {_SCAN, 0xC4, 0xCC, 0xDB, 0xDC, 0xDD}
_ALONE = {0x01, *range(0xD0, 0xD8)}
# The end of a scan: a marker that is neither a stuffed byte, nor a restart, nor filling.
_AFTER_SCAN = re.compile(rb"\xff[^\x00\xd0-\xd7\xff]")
_EXIF_NAME = b"Exif\0\0"
MOST_SCANS = 100
"""More than any camera or program writes; each costs a whole pass over the picture."""


@dataclass(frozen=True, slots=True)
class _Segment:
    marker: int
    start: int
    """Of what follows the marker and the length."""
    end: int
    """After it, and after the scan that follows it."""


def jpeg_parts(data: bytes) -> Parts:
    """A JPEG file in pieces. Raises ``Broken``."""
    segments = list(_segments(data))
    frame = next((each for each in segments if each.marker in _FRAMES), None)
    if frame is None:
        raise Broken("a JPEG file without a picture in it")
    height, width = number(data, frame.start + 1, 2), number(data, frame.start + 3, 2)
    exif = next(
        (data[each.start + 6 : each.end] for each in segments if _is_exif(data, each)), None
    )

    def rebuilt(about: bytes | None) -> bytes:
        return b"".join(_written(data, segments, about))

    return Parts(width, height, exif, False, rebuilt)


def _segments(data: bytes) -> Iterator[_Segment]:
    at, scans = 2, 0
    while True:
        if data[at : at + 1] != b"\xff":
            raise Broken("a JPEG file that is cut off or damaged")
        while data[at : at + 1] == b"\xff":
            at += 1
        marker = number(data, at, 1)
        at += 1
        if marker == _END:
            return
        if marker in _ALONE:
            continue
        length = number(data, at, 2)
        if length < 2 or at + length > len(data):
            raise Broken("a JPEG file that is cut off or damaged")
        start, at = at + 2, at + length
        if marker == _SCAN:
            scans += 1
            after = _AFTER_SCAN.search(data, at)
            if after is None:
                raise Broken("a JPEG file that is cut off or damaged")
            if scans > MOST_SCANS:
                raise Broken(f"a JPEG file of more than {MOST_SCANS} scans")
            at = after.start()
        yield _Segment(marker, start, at)


def _is_exif(data: bytes, segment: _Segment) -> bool:
    return segment.marker == _EXIF and data.startswith(_EXIF_NAME, segment.start)


def _written(data: bytes, segments: list[_Segment], about: bytes | None) -> Iterator[bytes]:
    """The file again; what follows its end, such as a short film or a second picture, is left out."""
    yield START
    heads = [each for each in segments if _is_head(data, each)]
    # The resolution, without the small picture that may follow it.
    for head in heads[:1]:
        yield _segment(0xE0, data[head.start : head.start + 12] + b"\0\0")
    if about is not None:
        yield _segment(_EXIF, _EXIF_NAME + about)
    for each in segments:
        if _is_picture(data, each):
            yield data[each.start - 4 : each.end]
    yield b"\xff\xd9"


def _is_head(data: bytes, segment: _Segment) -> bool:
    whole = segment.end - segment.start >= 14
    return whole and segment.marker == 0xE0 and data.startswith(b"JFIF\0", segment.start)


def _is_picture(data: bytes, segment: _Segment) -> bool:
    """Whether a segment is needed to show the picture in its colours."""
    if segment.marker == 0xE2:
        return data.startswith(b"ICC_PROFILE\0", segment.start)
    if segment.marker == 0xEE:
        return data.startswith(b"Adobe", segment.start)
    return segment.marker in _NEEDED


def _segment(marker: int, payload: bytes) -> bytes:
    return bytes((0xFF, marker)) + (len(payload) + 2).to_bytes(2, "big") + payload
