"""One hour's air through a house, as pictures take it from the breathe chapter's values."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from sashwright.physics.leakage import AIR_DENSITY

SHOWN = 0.04
"""Share of the greatest flow of a house from which one is drawn."""
TOLD = 0.12
"""The same from which its figure stands beside it."""


@dataclass(frozen=True, slots=True)
class Through:
    """Air through one way in both directions [m3/s]: into the second place, and back."""

    forth: float
    back: float

    @property
    def net(self) -> float:
        return self.forth - self.back


@dataclass(frozen=True)
class AirHour:
    """One hour by its ``hour`` values; ``opened`` by window and sash [m], shut ones left out."""

    values: Mapping[str, Any]
    opened: Mapping[tuple[str, str], float]

    @cached_property
    def rooms(self) -> dict[str, Mapping[str, Any]]:
        return {row["room"]: row for row in self.values["rooms"]}

    @cached_property
    def sash(self) -> dict[tuple[str, str], Through]:
        """Air through each open sash, inward and outward, by window and sash."""
        found = {}
        for link in self._named:
            number, _, which = link["name"].rpartition(" ")
            if which in ("upper", "lower") and link["to"] in self.rooms:
                found[number, which] = _through(link)
        return found

    @cached_property
    def doors(self) -> dict[tuple[str, str], Through]:
        """Air from room to room through doors, archways and stairs."""
        return {
            (link["from"], link["to"]): _through(link)
            for link in self._named
            if link["from"] in self.rooms and link["to"] in self.rooms
        }

    @property
    def _named(self) -> list[Mapping[str, Any]]:
        """Windows and doors; cracks have no name."""
        return [link for link in self.values["links"] if link["name"]]

    def window(self, number: str) -> Through:
        """Both sash of a window together."""
        sash = [self.sash.get((number, which)) for which in ("upper", "lower")]
        known = [each for each in sash if each is not None]
        return Through(sum(each.forth for each in known), sum(each.back for each in known))

    def between(self, one: str, other: str) -> Through:
        """From one room to the other."""
        if (one, other) in self.doors:
            return self.doors[one, other]
        turned = self.doors.get((other, one), Through(0.0, 0.0))
        return Through(turned.back, turned.forth)

    @cached_property
    def greatest(self) -> float:
        """The greatest flow through a window, or on the whole through a door [m3/s]."""
        numbers = {number for number, _ in self.sash}
        windows = [max(self.window(n).forth, self.window(n).back) for n in numbers]
        doors = [abs(each.net) for each in self.doors.values()]
        return max([*windows, *doors], default=0.0)

    def shows(self, flow: float) -> bool:
        return flow > 0 and flow >= SHOWN * self.greatest

    def tells(self, flow: float) -> bool:
        return flow > 0 and flow >= TOLD * self.greatest


def _through(link: Mapping[str, Any]) -> Through:
    return Through(link["forth_kg_s"] / AIR_DENSITY, link["back_kg_s"] / AIR_DENSITY)


def opened_of(rows: Sequence[Mapping[str, Any]]) -> dict[tuple[str, str], float]:
    """What stands open, from rows with ``window``, ``sash`` and ``open_m``."""
    return {(row["window"], row["sash"]): row["open_m"] for row in rows if row["open_m"] > 0}
