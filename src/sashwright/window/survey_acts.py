"""What a survey's acts do to a window's condition, the same from a page as from a device.

Conditions are documents here. ``plain`` brings names of parts that mean the same to one form.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from types import MappingProxyType
from typing import Any

Plain = Callable[[str], str]
Fields = dict[str, Any]

ALL_SOUND: Mapping[str, Any] = MappingProxyType(
    {"found": [], "sound": [], "like": None, "as_typical": False}
)
"""Nothing at all is wrong with the window."""


def without(sound: Iterable[str], on: str, plain: Plain = str) -> list[str]:
    """Parts told to be sound, but for one: something is found there, or nobody says so any more."""
    return [name for name in sound if plain(name) != plain(on)]


def told_sound(
    found: Sequence[Mapping[str, Any]], sound: Iterable[str], on: str, plain: Plain = str
) -> Fields:
    """A part was looked at and is sound; what was found on just that part goes."""
    kept = [each for each in found if plain(each["on"]) != plain(on)]
    return {"found": kept, "sound": [*without(sound, on, plain), on]}
