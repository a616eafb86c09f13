"""The air of one hour added up storey by storey: through upper and lower sash, and up the stairs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from statistics import median

from sashwright.drawing.airhour import AirHour
from sashwright.window.spec import House, Window

SILL = 0.66
"""Where the record gives no height of a sill above the floor [m]."""


@dataclass(frozen=True, slots=True)
class Row:
    """Air through all sash of one kind on one storey, in one direction [m3/s], and where it crosses [m]."""

    storey: int
    sash: str
    side: str
    flow: float
    level: float
    windows: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Storey:
    """One storey: ``floor`` and ``ceiling`` over the ground [m], mean warmth [°C]."""

    number: int
    floor: float
    ceiling: float
    warmth: float


@dataclass(frozen=True)
class StoreyFlows:
    """Of a house in an hour; needs no plan of the rooms."""

    house: House
    hour: AirHour

    @cached_property
    def storeys(self) -> list[Storey]:
        by_storey: dict[int, list[Mapping[str, float]]] = {}
        for row in self.hour.rooms.values():
            by_storey.setdefault(int(row["storey"]), []).append(row)
        return [
            Storey(
                number,
                min(row["floor_m"] for row in rows),
                max(row["ceiling_m"] for row in rows),
                sum(row["operative_c"] for row in rows) / len(rows),
            )
            for number, rows in sorted(by_storey.items())
        ]

    @cached_property
    def rows(self) -> list[Row]:
        """Both directions of the upper and lower sash of each storey, as far as there is any."""
        windows = {window.number: window for window in self.house.windows}
        found: dict[tuple[int, str, str], list[tuple[float, float, str]]] = {}
        for (number, which), air in self.hour.sash.items():
            window = windows.get(number)
            storey = self._storey(window) if window else None
            if window is None or storey is None:
                continue
            level = self._level(window, which, storey)
            for side, flow in (("in", air.forth), ("out", air.back)):
                if flow > 0:
                    row = found.setdefault((storey.number, which, side), [])
                    row.append((flow, level, number))
        return [
            Row(
                *key,
                sum(flow for flow, _, _ in rows),
                sum(flow * level for flow, level, _ in rows) / sum(flow for flow, _, _ in rows),
                tuple(sorted(number for _, _, number in rows)),
            )
            for key, rows in sorted(found.items())
        ]

    def _storey(self, window: Window) -> Storey | None:
        row = self.hour.rooms.get(window.room)
        number = int(row["storey"]) if row else window.storey
        return next((each for each in self.storeys if each.number == number), None)

    def _level(self, window: Window, which: str, storey: Storey) -> float:
        """Middle of the gap that a sash leaves open, over the ground [m]."""
        if window.sill_above_ground is not None:
            sill = window.sill_above_ground
        elif window.sill_above_floor is not None:
            sill = storey.floor + window.sill_above_floor
        else:
            sill = storey.floor + SILL
        opened = self.hour.opened.get((window.number, which), 0.0)
        return sill + opened / 2 if which == "lower" else sill + window.height - opened / 2

    @cached_property
    def greatest(self) -> float:
        stairs = [abs(flow) for _, _, flow in self.between]
        return max([*(row.flow for row in self.rows), *stairs], default=0.0)

    @cached_property
    def between(self) -> list[tuple[Storey, Storey, float]]:
        """Air up from one storey to the next through stairs and doors, on the whole [m3/s]."""
        found = []
        for low, high in zip(self.storeys, self.storeys[1:], strict=False):
            flow = 0.0
            for (start, end), air in self.hour.doors.items():
                pair = (self.hour.rooms[start]["storey"], self.hour.rooms[end]["storey"])
                if pair == (low.number, high.number):
                    flow += air.net
                elif pair == (high.number, low.number):
                    flow -= air.net
            found.append((low, high, flow))
        return found

    @cached_property
    def neutral(self) -> tuple[float, float, float] | None:
        """The level at which rooms press like still air outdoors: median, least, most [m]."""
        levels = [row["neutral_level_m"] for row in self.hour.rooms.values()]
        known = [level for level in levels if level is not None]
        return (median(known), min(known), max(known)) if known else None
