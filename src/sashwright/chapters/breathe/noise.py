"""What noise outdoors leaves of a night's opening: gaps through which a bedroom stays quiet enough to sleep.

A surveyor notes one word for a wall. It stands for a level at night; what may stand open in a bedroom follows
from its size. All its windows on loud walls share that, upper and lower sash together.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from sashwright.chapters.building import Building, Glazed
from sashwright.physics.facade_sound import open_area
from sashwright.units import INCH

OUTDOORS: Mapping[str, float] = {"quiet": 40.0, "street": 48.0, "loud road": 60.0}
"""Outdoors, mean of the night hours [dB(A)]. WHO, *Night Noise Guidelines for Europe* (2009): up to 40 no
harm is known, from 40 to 55 many adapt their lives to it, above that it is a danger. So the end of the first
band, the middle of the second, 5 dB over its end; judgement."""
ASLEEP = 30.0
"""In a bedroom at night, steady noise [dB(A)]: WHO, *Guidelines for Community Noise* (1999)."""
THROUGH_SHUT = 28.0
"""Taken off by shut windows [dB(A)]: median of 102 Swiss homes; Locher and others, *Int. J. Environ. Res.
Public Health* 15 (2018) 149. Old single glass in loose sash lets in more."""
LEAST = 0.75 * INCH
"""A narrower gap is left shut [m]; judgement."""
WHY: Mapping[str, str] = {
    "street": "the street is heard in bed",
    "loud road": "it is too loud outside to sleep",
}
SOURCE = (
    "WHO, Guidelines for Community Noise (1999) and Night Noise Guidelines for Europe (2009); ISO 12354-3 "
    "(from memory)"
)


@dataclass(frozen=True)
class Noise:
    """At night, for the windows of bedrooms."""

    building: Building

    def word(self, glazed: Glazed) -> str:
        """What the record says of the wall a window stands in."""
        return self.building.house.walls[glazed.placed.window.wall].noise

    @cached_property
    def gaps(self) -> Mapping[str, float]:
        """How far upper and lower sash may stand open together [m], of the windows that noise concerns."""
        rooms: dict[str, list[Glazed]] = {}
        for glazed in self.building.windows:
            if self._concerns(glazed):
                rooms.setdefault(glazed.zone, []).append(glazed)
        return {
            glazed.number: self._gap(glazed, len(mine))
            for mine in rooms.values()
            for glazed in mine
        }

    def _concerns(self, glazed: Glazed) -> bool:
        asleep = self.building.plan.zone(glazed.zone).use == "night"
        opens = self.building.opens[glazed.number]
        return asleep and opens.can_open and opens.width > 0 and self.word(glazed) in WHY

    def _gap(self, glazed: Glazed, sharing: int) -> float:
        """Its share of the sound that the room may have, as a height."""
        volume = self.building.plan.zone(glazed.zone).volume
        area = float(open_area(volume, OUTDOORS[self.word(glazed)] - ASLEEP)) / sharing
        gap = area / self.building.opens[glazed.number].width
        return gap if gap >= LEAST else 0.0
