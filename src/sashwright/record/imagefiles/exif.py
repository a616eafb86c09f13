"""What a camera wrote about a picture: read as far as it is needed, and written anew with no more."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta, timezone
from typing import Any

from PIL import Image

_NAME = b"Exif\0\0"
_ORIENTATION, _CAMERA, _PLACE = 0x0112, 0x8769, 0x8825
_TAKEN, _TAKEN_ZONE = 0x9003, 0x9011
_TIME = "%Y:%m:%d %H:%M:%S"
_FIRST_YEAR = 1990
"""A clock that was never set says less than nothing."""


@dataclass(frozen=True, slots=True)
class Told:
    """What is kept of it."""

    orientation: int = 1
    """How the picture lies: 1 upright, 2 to 8 turned or mirrored."""
    taken: str = ""
    """By the camera's clock, as it is written."""
    zone: str = ""
    """How far that clock is ahead of Greenwich, ``+02:00``."""
    place: Mapping[int, Any] = field(default_factory=dict)
    """Where, by satellite; number and value of each entry."""

    @property
    def taken_at(self) -> datetime | None:
        """When; without a zone where the camera named none."""
        try:
            when = datetime.strptime(self.taken, _TIME)  # noqa: DTZ007 - the zone stands beside it
        except ValueError:
            return None
        if when.year < _FIRST_YEAR:
            return None
        ahead = _ahead(self.zone)
        return when if ahead is None else when.replace(tzinfo=timezone(ahead)).astimezone(UTC)


def read_told(exif: bytes | None) -> Told:
    """What a picture's metadata say, from their TIFF header on; nothing where they are damaged."""
    if not exif:
        return Told()
    try:
        found = Image.Exif()
        found.load(_NAME + exif)
        camera = found.get_ifd(_CAMERA)
        return Told(
            _whole(found.get(_ORIENTATION)),
            _text(camera.get(_TAKEN)),
            _text(camera.get(_TAKEN_ZONE)),
            dict(found.get_ifd(_PLACE)),
        )
    except Exception:
        # Metadata can be broken in as many ways as there are programs that write them.
        return Told()


def write_told(told: Told, *, keep_place: bool) -> bytes | None:
    """Fresh metadata, from their TIFF header on; none where there is nothing to say."""
    fresh = Image.Exif()
    if told.orientation != 1:
        fresh[_ORIENTATION] = told.orientation
    camera = {_TAKEN: told.taken, _TAKEN_ZONE: told.zone}
    if told.taken_at is not None:
        fresh.get_ifd(_CAMERA).update({tag: text for tag, text in camera.items() if text})
    if keep_place and told.place:
        fresh.get_ifd(_PLACE).update(told.place)
    try:
        written = fresh.tobytes().removeprefix(_NAME)
    except Exception:
        # A place that cannot be written again is left out.
        return write_told(Told(told.orientation, told.taken, told.zone), keep_place=False)
    return (
        written if told.orientation != 1 or told.taken_at or (keep_place and told.place) else None
    )


def _whole(value: Any) -> int:
    return value if isinstance(value, int) and 1 <= value <= 8 else 1


def _text(value: Any) -> str:
    plain = value.strip("\0 ") if isinstance(value, str) else ""
    return plain if plain.isascii() and len(plain) <= 32 else ""


def _ahead(zone: str) -> timedelta | None:
    sign, (hours, _, minutes) = zone[:1], zone[1:].partition(":")
    if sign not in ("+", "-") or not (hours.isdigit() and minutes.isdigit()):
        return None
    ahead = timedelta(hours=int(hours), minutes=int(minutes))
    if ahead >= timedelta(hours=24):
        return None
    return ahead if sign == "+" else -ahead
