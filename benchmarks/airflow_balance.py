"""The mass balance of an airflow network written once more, in numpy: a second opinion and a peer."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from sashwright.physics.network import Crack, Hole, Link, Network, Opening
from sashwright.physics.network.links import CRACK_TRANSITION, OPENING_TRANSITION
from sashwright.physics.psychrometrics import GAS_CONSTANT_DRY_AIR

Array = NDArray[np.float64]

# Gauss-Legendre, for openings with nearly one pressure difference over their height.
_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(8)


class Balance:
    """The mass balance of one hour of a network, in numpy, all links at once."""

    def __init__(self, network: Network, hours: dict[str, Any], hour: int) -> None:
        self.rooms = len(network.zones)
        nodes = network.nodes
        self.start = np.array([nodes.index(link.start) for link in network.links])
        self.end = np.array([nodes.index(link.end) for link in network.links])
        faces = len(network.faces)
        air = np.broadcast_to(hours.get("pressure", 101325.0), hour + 1)[hour]
        outdoors = hours["outdoor_temperature"][hour]
        celsius = np.append(hours["temperatures"][hour], [outdoors] * faces)
        rho = air / (GAS_CONSTANT_DRY_AIR * (celsius + 273.15))
        level = np.array([zone.level for zone in network.zones] + [0.0] * faces)
        wind = np.append(np.zeros(self.rooms), hours["wind_pressure"][hour])
        share = hours["fraction"][hour]
        extent = np.array([_extent(*one) for one in zip(network.links, share, strict=True)])
        crack = np.array([isinstance(link, Crack) for link in network.links])
        self.n = np.array([getattr(link, "exponent", 0.5) for link in network.links])[:, None]
        self.small = np.where(crack, CRACK_TRANSITION, OPENING_TRANSITION)[:, None]
        size = np.array([_size(link) for link in network.links]) * share
        # Each end over still outdoor air, at the bottom and top of the link.
        lighter = 9.81 * (rho[-1] - rho)
        ends = [
            wind[at][:, None] + lighter[at][:, None] * (extent - level[at][:, None])
            for at in (self.start, self.end)
        ]
        self.own = ends[0] - ends[1]
        self.forth, self.back = (
            (size * np.where(crack, rho[at], np.sqrt(2 * rho[at])))[:, None]
            for at in (self.start, self.end)
        )

    def flows(self, pressures: Array) -> Array:
        """Of each link, forth less back [kg/s]: the mean of f between its bottom and top."""
        node = np.append(pressures, np.zeros(max(self.start.max(), self.end.max()) + 1))
        across = self.own + (node[self.start] - node[self.end])[:, None]
        span = across[:, 1] - across[:, 0]
        far = np.abs(span) > 1e-3 * (np.abs(across).max(axis=1) + self.small[:, 0])
        flows = np.zeros(len(span))
        flows[far] = self._integral(across[far], far) / span[far]
        near = ~far
        at = across[near][:, :1] + span[near][:, None] * (_NODES + 1) / 2
        f = at * (at**2 + self.small[near] ** 2) ** ((self.n[near] - 1) / 2)
        flows[near] = (np.where(at > 0, self.forth[near], self.back[near]) * f) @ _WEIGHTS / 2
        return flows

    def _integral(self, across: Array, which: Array) -> Array:
        """Of f, signs and all, from the pressure difference at the bottom to that at the top."""
        n, small = self.n[which], self.small[which]
        area = ((across**2 + small**2) ** ((n + 1) / 2) - small ** (n + 1)) / (n + 1)
        area = np.where(across > 0, self.forth[which], self.back[which]) * area
        between: Array = area[:, 1] - area[:, 0]
        return between

    def gains(self, pressures: Array) -> Array:
        """What each room gains [kg/s]."""
        flows = self.flows(pressures)
        rooms = np.zeros(max(self.start.max(), self.end.max()) + 1)
        np.add.at(rooms, self.end, flows)
        np.add.at(rooms, self.start, -flows)
        return rooms[: self.rooms]


def _extent(link: Link, share: float) -> tuple[float, float]:
    match link:
        case Opening(grows="up"):
            return link.bottom, link.bottom + share * (link.top - link.bottom)
        case Opening(grows="down"):
            return link.top - share * (link.top - link.bottom), link.top
        case Opening():
            return link.bottom, link.top
    return link.height, link.height


def _size(link: Link) -> float:
    match link:
        case Crack():
            return link.coefficient
        case Hole():
            return link.discharge_coefficient * link.area
    return link.discharge_coefficient * link.width * (link.top - link.bottom)
