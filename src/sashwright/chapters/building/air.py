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

from sashwright.chapters.building.facings import Facings
from sashwright.chapters.building.glass import Glazed
from sashwright.chapters.building.leaks import Leaks
from sashwright.chapters.building.links import Gap, Ways
from sashwright.chapters.building.rooms import Plan
from sashwright.chapters.heat.builds import Key
from sashwright.physics.hourly_year import HourlyYear
from sashwright.physics.infiltration import SHELTER, wind_at
from sashwright.physics.network import Link, Network, wall_pressures
from sashwright.physics.network import Zone as AirZone
from sashwright.physics.psychrometrics import air_density
from sashwright.window.heights import eaves_of
from sashwright.window.spec import House

Array = NDArray[np.float64]

ROOF_COEFFICIENT = -0.4
"""Of the wind's pressure on a roof [-]; usual mean of pitched roofs, from memory."""
SHUT_DOOR = 0.012
"""Area of the gaps round a shut inside door [m2]: 10 mm under it and 2 mm round it; judgement."""


@dataclass(frozen=True)
class AirSide:
    """Network of a house and what opens in it."""

    house: House
    plan: Plan
    windows: Sequence[Glazed]

    @cached_property
    def leakage(self) -> Leaks:
        return Leaks(self.house, self.plan, self.windows)

    @cached_property
    def facings(self) -> Facings:
        return Facings(self.plan, self.windows)

    @cached_property
    def ways(self) -> Ways:
        return Ways(self.plan, self.windows, self.leakage, self.facings)

    @property
    def exponent(self) -> float:
        return self.leakage.exponent

    @property
    def background(self) -> float:
        """Flow at 4 Pa of the heated rooms but for their windows [m3/s]."""
        return self.leakage.background

    @property
    def tested(self) -> bool:
        """Whether a fan test says how leaky the house is."""
        return self.leakage.tested

    @property
    def links(self) -> list[Link]:
        return self.ways.links

    @property
    def gaps(self) -> list[Gap]:
        return self.ways.gaps

    @cached_property
    def network(self) -> Network:
        zones = [AirZone(name=zone.key, level=zone.floor) for zone in self.plan.zones]
        return Network(zones, self.facings.names, self.links)

    def sill(self, glazed: Glazed) -> float:
        """Height of a window's sill over the ground [m]."""
        return self.ways.sill(glazed)

    # --- hour by hour

    def crack_shares(self, builds: Mapping[str, Key]) -> dict[int, float]:
        """How leaky the windows' cracks are, by link, with the windows in these states [-]."""
        shares = {}
        for crack in self.ways.cracks:
            most = self.ways.most(crack)
            now = crack.rest + sum(
                self.leakage.by_window[number][builds[number]] for number in crack.windows
            )
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
        ratios = [self.facings.side_ratio(faces) for faces in self.facings.bearings]
        walls = wall_pressures(
            self.facings.bearings, speed, year.wind_direction, side_ratio=ratios,
            shielding=air.shielding, density=density,
        )  # fmt: skip
        head = 0.5 * density * (SHELTER[air.shielding] * speed) ** 2
        return np.column_stack([walls, ROOF_COEFFICIENT * head, np.zeros(len(head))])
