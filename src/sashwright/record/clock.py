"""The time zone of the shop's computer, so that "saved 10:42" is what its clock says."""

from __future__ import annotations

import os
import time
import zoneinfo
from collections.abc import Mapping
from pathlib import Path

_LOCALTIME = Path("/etc/localtime")


def local_zone(environ: Mapping[str, str] = os.environ, link: Path = _LOCALTIME) -> str:
    """Name of the computer's time zone; where it gives none, one of today's distance from UTC."""
    for name in (environ.get("TZ", "").removeprefix(":"), _linked(link)):
        if name and _known(name):
            return name
    return _by_distance(time.localtime().tm_gmtoff)


def _linked(link: Path) -> str:
    """Linux and macOS point from one fixed place to the file of the zone."""
    return link.resolve().as_posix().partition("/zoneinfo/")[2]


def _known(name: str) -> bool:
    try:
        zoneinfo.ZoneInfo(name)
    except (ValueError, OSError, zoneinfo.ZoneInfoNotFoundError):
        return False
    return True


def _by_distance(seconds: int) -> str:
    # Those names count westward: five hours behind UTC is Etc/GMT+5. Half hours have no name.
    hours = -round(seconds / 3600)
    name = f"Etc/GMT{hours:+d}"
    return name if hours and _known(name) else "UTC"
