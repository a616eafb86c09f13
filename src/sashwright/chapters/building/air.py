"""The air of a house as a network: cracks, open sash, doors, stairs, and the wind on its faces.

Windows leak as the seal chapter has it, whatever hangs before them. The rest of the house leaks what a fan
test leaves, or by its floor; half of it in the walls, a quarter in ceilings and a quarter in floors, as the
enhanced model of the ASHRAE Handbook (AIM-2) usually shares it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from sashwright.chapters.building.glass import Glazed
from sashwright.chapters.building.openings import Opens
from sashwright.chapters.building.rooms import Plan, Zone, apart
from sashwright.chapters.heat.builds import Key
from sashwright.chapters.heat.leak import USUAL, air_of
from sashwright.chapters.seal.house import EXPONENT, house_at_4
from sashwright.chapters.seal.window import AT_4
from sashwright.physics.hourly_year import HourlyYear
from sashwright.physics.infiltration import SHELTER, USUAL_LEAKS, wind_at
from sashwright.physics.leakage import REFERENCE_PRESSURE, coefficient_from_area
from sashwright.physics.network import Crack, Hole, Link, Network, Opening, wall_pressures
from sashwright.physics.network import Zone as AirZone
from sashwright.physics.psychrometrics import air_density
from sashwright.window.heights import eaves_of
from sashwright.window.rooms import Door
from sashwright.window.spec import House

Array = NDArray[np.float64]

BACKGROUND = 7.0e-4
"""Leakage area of an old house but for its windows, by heated floor, at 4 Pa [m2/m2]: a normalized leakage of
about 1, as houses from before 1940 have, less a third for windows; ASHRAE Handbook of Fundamentals, from
memory."""
ROOF_VENTS = 1 / 300
"""Free area of an attic's gaps by its floor [-]: what codes ask of attic vents, and boards under shingles
leave; from memory."""
ROOF_COEFFICIENT = -0.4
"""Of the wind's pressure on a roof [-]; usual mean of pitched roofs, from memory."""
SHUT_DOOR = 0.012
"""Area of the gaps round a shut inside door [m2]: 10 mm under it and 2 mm round it; judgement."""
ROOF, UNDER = "roof", "under the floor"


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
class AirSide:
    """Network of a house and what opens in it."""

    house: House
    plan: Plan
    windows: Sequence[Glazed]

    # --- leakage

    @cached_property
    def leaks(self) -> Mapping[str, Mapping[Key, float]]:
        """Flow of each window at 4 Pa in each of its states [m3/s]."""
        return {
            glazed.number: {
                key: air_of(build, glazed.whole.choices, glazed.sealed, USUAL).flow
                for key, build in glazed.builds.items()
            }
            for glazed in self.windows
        }

    @cached_property
    def exponent(self) -> float:
        test = self.house.air.before or self.house.air.after
        return test.exponent if test else EXPONENT

    @cached_property
    def background(self) -> float:
        """Flow at 4 Pa of the heated rooms but for their windows [m3/s]."""
        heated = {zone.key for zone in self.plan.zones if zone.heated}
        inside = [g for g in self.windows if g.zone in heated]
        whole = house_at_4(self.house.air, [g.sealed for g in inside])
        if whole is None:
            area = BACKGROUND * self.plan.heated_floor
            coefficient = float(coefficient_from_area(area, self.exponent))
            return coefficient * float(REFERENCE_PRESSURE**self.exponent)
        windows = sum(float(g.sealed.alone.whole[0, AT_4]) for g in inside)
        return max(whole - windows, 0.0)

    @property
    def tested(self) -> bool:
        """Whether a fan test says how leaky the house is."""
        return self.house.air.before is not None or self.house.air.after is not None

    # --- the network

    @cached_property
    def facings(self) -> list[float]:
        """Bearings of the faces that the wind meets [degrees]."""
        found: list[float] = []
        for faces in (
            *(edge.faces for zone in self.plan.zones for edge in zone.edges),
            *(glazed.faces for glazed in self.windows),
        ):
            if not any(apart(faces, other) < 0.5 for other in found):
                found.append(faces)
        return found

    @property
    def faces(self) -> list[str]:
        return [_name(faces) for faces in self.facings] + [ROOF, UNDER]

    def face_at(self, faces: float) -> str:
        """Name of the face that looks that way."""
        return _name(min(self.facings, key=lambda other: apart(other, faces)))

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

    @property
    def links(self) -> list[Link]:
        return self._made[0]

    @property
    def gaps(self) -> list[Gap]:
        return self._made[1]

    @cached_property
    def network(self) -> Network:
        zones = [AirZone(name=zone.key, level=zone.floor) for zone in self.plan.zones]
        return Network(zones, self.faces, self.links)

    def _wall_cracks(self, links: list[Link]) -> list[WallCrack]:
        """Two cracks for each outside wall of a zone, at a quarter and three quarters of its height.

        The windows in it, as leaky as they ever are, and its share of the rest of the house.
        """
        windows: dict[tuple[str, str], list[str]] = {}
        for glazed in self.windows:
            at = (glazed.zone, self.face_at(glazed.faces))
            windows.setdefault(at, []).append(glazed.number)
        rest: dict[tuple[str, str], float] = {}
        heated = [zone for zone in self.plan.zones if zone.heated]
        walls = sum(edge.length * zone.height for zone in heated for edge in zone.edges)
        for zone in heated:
            for edge in zone.edges:
                part = (1 - USUAL_LEAKS.level_share) * edge.length * zone.height / walls
                at = (zone.key, self.face_at(edge.faces))
                rest[at] = rest.get(at, 0.0) + self.background * part
        found = []
        for at in dict.fromkeys([*windows, *rest]):
            zone, numbers = self.plan.zone(at[0]), windows.get(at, [])
            crack = WallCrack(len(links), tuple(numbers), rest.get(at, 0.0))
            found.append(crack)
            for share in (0.25, 0.75):
                height = zone.floor + share * zone.height
                links.append(self._crack(at[1], at[0], self._most(crack) / 2, height))
        return found

    def _most(self, crack: WallCrack) -> float:
        return crack.rest + sum(max(self.leaks[number].values()) for number in crack.windows)

    def _crack(
        self, start: str, end: str, at_4: float, height: float, n: float | None = None
    ) -> Crack:
        exponent = n or self.exponent
        coefficient = at_4 / REFERENCE_PRESSURE**exponent
        return Crack(
            start=start, end=end, coefficient=float(coefficient), exponent=exponent, height=height
        )

    def _level_cracks(self, links: list[Link]) -> None:
        """In ceilings under what is not heated, and in ground floors."""
        heated = [zone for zone in self.plan.zones if zone.heated]
        level = self.background * USUAL_LEAKS.level_share / 2
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
            around = [_name(each) for each in self.facings] if not zone.edges else [
                self.face_at(edge.faces) for edge in zone.edges
            ]  # fmt: skip
            for face in around:
                part = at_4 / 2 / len(around)
                links.append(self._crack(face, zone.key, part, zone.floor, 0.5))
            links.append(self._crack(ROOF, zone.key, at_4 / 2, zone.ceiling, 0.5))

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
        face = self.face_at(glazed.faces)
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

    # --- hour by hour

    def crack_shares(self, builds: Mapping[str, Key]) -> dict[int, float]:
        """How leaky the windows' cracks are, by link, with the windows in these states [-]."""
        shares = {}
        for crack in self._made[2]:
            most = self._most(crack)
            now = crack.rest + sum(self.leaks[number][builds[number]] for number in crack.windows)
            shares[crack.link] = shares[crack.link + 1] = now / most if most > 0 else 0.0
        return shares

    def shut_share(self, at: int) -> float:
        """What a shut door leaves open of itself [-]."""
        door = self.plan.doors[at]
        return min(SHUT_DOOR / (door.width * door.height), 1.0)

    def wind(self, year: HourlyYear) -> Array:
        """Pressure on each face, (8760, faces) [Pa]."""
        air = self.house.air
        speed = wind_at(year.wind_speed, eaves_of(self.house), air.terrain)
        density = air_density(year.temperature, np.zeros(()), year.pressure)
        ratios = [self._side_ratio(faces) for faces in self.facings]
        walls = wall_pressures(
            self.facings, speed, year.wind_direction, side_ratio=ratios,
            shielding=air.shielding, density=density,
        )  # fmt: skip
        head = 0.5 * density * (SHELTER[air.shielding] * speed) ** 2
        return np.column_stack([walls, ROOF_COEFFICIENT * head, np.zeros(len(head))])

    def _side_ratio(self, faces: float) -> float:
        """Width of a wall over that of those beside it, by the zones' edges [-]."""
        along = beside = 0.0
        for zone in self.plan.zones:
            for edge in zone.edges:
                turn = apart(edge.faces, faces)
                along += edge.length if turn < 45 or turn > 135 else 0.0
                beside += edge.length if 45 <= turn <= 135 else 0.0
        return along / beside if along and beside else 1.0


def _has_below(plan: Plan, zone: Zone) -> bool:
    held = sum(area for (_, high), area in plan.over.items() if high == zone.key)
    return held > 0.5 * zone.area


def _name(faces: float) -> str:
    return f"facing {faces:.0f}"
