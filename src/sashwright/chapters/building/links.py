"""The ways of the air in a house: cracks of walls, floors and roofs, open sash, doors and stairs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from sashwright.chapters.building.facings import ROOF, UNDER, Facings, name_of
from sashwright.chapters.building.glass import Glazed
from sashwright.chapters.building.leaks import Leaks
from sashwright.chapters.building.openings import Opens
from sashwright.chapters.building.rooms import Plan, Zone
from sashwright.physics.infiltration import USUAL_LEAKS
from sashwright.physics.leakage import REFERENCE_PRESSURE
from sashwright.physics.network import Crack, Hole, Link, Opening
from sashwright.window.rooms import Door

ROOF_VENTS = 1 / 300
"""Free area of an attic's gaps by its floor [-]: what codes ask of attic vents, and boards under shingles
leave; from memory."""


@dataclass(frozen=True, slots=True)
class Gap:
    """A link of the network that people open: of a window's sash, or a door."""

    link: int
    of: str
    """Number of the window, or place of the door in the plan."""
    which: str
    """``upper``, ``lower`` or ``door``."""
    full: float
    """Clear height wide open [m]; of a door 1."""


@dataclass(frozen=True, slots=True)
class WallCrack:
    """The cracks of one outside wall of a zone: two links from ``link`` on, the windows that they stand for,
    and the flow at 4 Pa of the rest [m3/s]."""

    link: int
    windows: tuple[str, ...]
    rest: float


@dataclass(frozen=True)
class Ways:
    """All links of a house's network, and what of them people open."""

    plan: Plan
    windows: Sequence[Glazed]
    leakage: Leaks
    facings: Facings

    @property
    def links(self) -> list[Link]:
        return self._made[0]

    @property
    def gaps(self) -> list[Gap]:
        return self._made[1]

    @property
    def cracks(self) -> list[WallCrack]:
        return self._made[2]

    @cached_property
    def _made(self) -> tuple[list[Link], list[Gap], list[WallCrack]]:
        links: list[Link] = []
        gaps: list[Gap] = []
        cracks = self._wall_cracks(links)
        self._level_cracks(links)
        self._roofs(links)
        for glazed in self.windows:
            self._sash(glazed, links, gaps)
        for at, door in enumerate(self.plan.doors):
            self._door(at, door, links, gaps)
        return links, gaps, cracks

    def _wall_cracks(self, links: list[Link]) -> list[WallCrack]:
        """Two cracks for each outside wall of a zone, at a quarter and three quarters of its height.

        The windows in it, as leaky as they ever are, and its share of the rest of the house.
        """
        windows: dict[tuple[str, str], list[str]] = {}
        for glazed in self.windows:
            at = (glazed.zone, self.facings.at(glazed.faces))
            windows.setdefault(at, []).append(glazed.number)
        rest: dict[tuple[str, str], float] = {}
        heated = [zone for zone in self.plan.zones if zone.heated]
        walls = sum(edge.length * zone.height for zone in heated for edge in zone.edges)
        for zone in heated:
            for edge in zone.edges:
                part = (1 - USUAL_LEAKS.level_share) * edge.length * zone.height / walls
                at = (zone.key, self.facings.at(edge.faces))
                rest[at] = rest.get(at, 0.0) + self.leakage.background * part
        found = []
        for at in dict.fromkeys([*windows, *rest]):
            zone, numbers = self.plan.zone(at[0]), windows.get(at, [])
            crack = WallCrack(len(links), tuple(numbers), rest.get(at, 0.0))
            found.append(crack)
            for share in (0.25, 0.75):
                height = zone.floor + share * zone.height
                links.append(self._crack(at[1], at[0], self.most(crack) / 2, height))
        return found

    def most(self, crack: WallCrack) -> float:
        """Its flow at 4 Pa with all its windows as leaky as they ever are [m3/s]."""
        return crack.rest + sum(
            max(self.leakage.by_window[number].values()) for number in crack.windows
        )

    def _crack(
        self, start: str, end: str, at_4: float, height: float, n: float | None = None
    ) -> Crack:
        exponent = n or self.leakage.exponent
        coefficient = at_4 / REFERENCE_PRESSURE**exponent
        return Crack(
            start=start, end=end, coefficient=float(coefficient), exponent=exponent, height=height
        )

    def _level_cracks(self, links: list[Link]) -> None:
        """In ceilings under what is not heated, and in ground floors."""
        heated = [zone for zone in self.plan.zones if zone.heated]
        level = self.leakage.background * USUAL_LEAKS.level_share / 2
        ground = [zone for zone in heated if not _has_below(self.plan, zone)]
        floor = sum(zone.area for zone in ground)
        for zone in ground:
            links.append(self._crack(UNDER, zone.key, level * zone.area / floor, zone.floor))
        tops = [pair for pair in self.plan.over.items() if self._is_top(pair[0])]
        ceiling = sum(area for _, area in tops)
        for (low, high), area in tops:
            height = self.plan.zone(low).ceiling
            links.append(self._crack(low, high, level * area / ceiling, height))

    def _is_top(self, pair: tuple[str, str]) -> bool:
        low, high = (self.plan.zone(key) for key in pair)
        return low.heated and not high.heated

    def _roofs(self, links: list[Link]) -> None:
        """Gaps of unheated zones: half at their floor to each side, half under the ridge."""
        for zone in self.plan.zones:
            if zone.heated:
                continue
            area = ROOF_VENTS * zone.area
            discharge = 0.6
            at_4 = float(discharge * area * np.sqrt(2 * REFERENCE_PRESSURE / 1.2))
            around = [name_of(each) for each in self.facings.bearings] if not zone.edges else [
                self.facings.at(edge.faces) for edge in zone.edges
            ]  # fmt: skip
            for face in around:
                part = at_4 / 2 / len(around)
                links.append(self._crack(face, zone.key, part, zone.floor, 0.5))
            links.append(self._crack(ROOF, zone.key, at_4 / 2, zone.ceiling, 0.5))

    # --- what people open

    def sill(self, glazed: Glazed) -> float:
        """Height of a window's sill over the ground [m]."""
        window, zone = glazed.placed.window, self.plan.zone(glazed.zone)
        if window.sill_above_ground is not None:
            return window.sill_above_ground
        if window.sill_above_floor is not None:
            return zone.floor + window.sill_above_floor
        return zone.floor + max((zone.height - window.height) / 2, 0.3)

    def _sash(self, glazed: Glazed, links: list[Link], gaps: list[Gap]) -> None:
        opens, sill = Opens(glazed.placed), self.sill(glazed)
        face = self.facings.at(glazed.faces)
        over, under = opens.widest
        rows = (
            ("upper", over, sill + opens.head - over, sill + opens.head, "down"),
            ("lower", under, sill + opens.sill, sill + opens.sill + under, "up"),
        )
        for which, full, bottom, top, grows in rows:
            if full <= 0 or opens.width <= 0 or not opens.can_open:
                continue
            gaps.append(Gap(len(links), glazed.number, which, full))
            links.append(
                Opening(
                    start=face,
                    end=glazed.zone,
                    width=opens.width,
                    bottom=bottom,
                    top=top,
                    discharge_coefficient=opens.discharge(which),
                    grows=grows,  # type: ignore[arg-type]
                    name=f"{glazed.number} {which}",
                )
            )

    def _door(self, at: int, door: Door, links: list[Link], gaps: list[Gap]) -> None:
        one, other = (self.plan.zone(key) for key in door.between)
        floor = max(one.floor, other.floor)
        name = " – ".join(door.between)
        if door.kind == "stair":
            area = door.width * door.height
            links.append(Hole(start=one.key, end=other.key, area=area, height=floor, name=name))
            return
        if door.shuts:
            gaps.append(Gap(len(links), str(at), "door", 1.0))
        links.append(
            Opening(
                start=one.key,
                end=other.key,
                width=door.width,
                bottom=floor,
                top=floor + door.height,
                name=name,
            )
        )


def _has_below(plan: Plan, zone: Zone) -> bool:
    held = sum(area for (_, high), area in plan.over.items() if high == zone.key)
    return held > 0.5 * zone.area
