"""An airflow network through many hours at once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sashwright.physics.compiled import compiled
from sashwright.physics.constants import STANDARD_PRESSURE
from sashwright.physics.network.balance import Links
from sashwright.physics.network.hour import solve_hour
from sashwright.physics.network.parts import Network
from sashwright.physics.psychrometrics import air_density

Array = NDArray[np.float64]
Whole = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class Solution:
    """Pressures and flows of a network, hour by hour."""

    pressures: Array
    """Of each zone at its level, over still outdoor air at the same height [Pa]; (hours, zones)."""
    forth: Array
    """Flow of each link from its start to its end [kg/s]; (hours, links)."""
    back: Array
    """Flow of each link from its end to its start [kg/s]; (hours, links)."""
    residual: Array
    """The most that any zone still gains or loses in an hour [kg/s]; (hours,)."""
    rounds: Whole
    """Steps that each hour took; (hours,)."""

    def exchange(self, network: Network) -> Array:
        """Flow from each node to each other [kg/s]; (hours, nodes, nodes), zones first, then faces."""
        nodes = network.nodes
        place = {name: at for at, name in enumerate(nodes)}
        found = np.zeros((len(self.forth), len(nodes), len(nodes)))
        for at, link in enumerate(network.links):
            start, end = place[link.start], place[link.end]
            found[:, start, end] += self.forth[:, at]
            found[:, end, start] += self.back[:, at]
        return found

    def fresh_air(self, network: Network) -> Array:
        """Outdoor air that enters each zone directly [kg/s]; (hours, zones)."""
        zones = len(network.zones)
        fresh: Array = self.exchange(network)[:, zones:, :zones].sum(axis=1)
        return fresh


def solve(
    network: Network,
    *,
    temperatures: ArrayLike,
    outdoor_temperature: ArrayLike,
    wind_pressure: ArrayLike = 0.0,
    fraction: ArrayLike = 1.0,
    pressure: ArrayLike = STANDARD_PRESSURE,
) -> Solution:
    """Air between the rooms of a house and outdoors, from warmth and wind.

    Parameters
    ----------
    network : Network
    temperatures : array (hours, zones)
        Of the zones' air [°C]. Here and below a single hour, one value for all zones, and anything else
        that broadcasts will do.
    outdoor_temperature : array (hours,)
        [°C]
    wind_pressure : array (hours, faces)
        Of the wind on each face [Pa].
    fraction : array (hours, links)
        How much of each link is open, 0 to 1.
    pressure : array (hours,)
        Of the atmosphere [Pa], for the density of dry air.

    Returns
    -------
    Solution
        No zone gains or loses more than 1e-8 of what passes through it, or what rounding leaves.

    Raises
    ------
    ValueError
        For arrays whose shapes do not fit, or values that are no numbers.
    """
    rooms, faces, links = len(network.zones), len(network.faces), len(network.links)
    given = {
        "temperatures": (temperatures, rooms),
        "outdoor temperature": (outdoor_temperature, None),
        "wind pressure": (wind_pressure, faces),
        "fraction": (fraction, links),
        "pressure": (pressure, None),
    }
    warm, outside, wind, open_, air = _tables(given)
    if np.any((open_ < 0) | (open_ > 1)):
        raise ValueError("fraction: found a value beyond 0 to 1")
    hours = len(outside)
    found = Solution(
        pressures=np.zeros((hours, rooms)),
        forth=np.zeros((hours, links)),
        back=np.zeros((hours, links)),
        residual=np.zeros(hours),
        rounds=np.zeros(hours, dtype=np.int64),
    )
    nothing = np.zeros(())
    _all_hours(
        network.arrays(),
        network.levels(),
        _Hours(
            density=air_density(warm, nothing, air),
            outdoor_density=air_density(outside, nothing, air)[:, 0],
            wind=wind,
            fraction=open_,
        ),
        found.pressures,
        found.forth,
        found.back,
        found.residual,
        found.rounds,
    )
    return found


def _tables(given: Mapping[str, tuple[ArrayLike, int | None]]) -> list[Array]:
    """Each value as an array of as many hours as the longest has, and as many columns as it needs."""
    values = {}
    for name, (value, columns) in given.items():
        array = np.asarray(value, dtype=np.float64)
        if not np.all(np.isfinite(array)):
            raise ValueError(f"{name}: found a value that is no number")
        # What has no columns has hours along its one axis.
        values[name] = array[..., None] if columns is None and array.ndim else array
    hours = max((len(array) for array in values.values() if array.ndim == 2), default=1)
    tables = []
    for name, (_, columns) in given.items():
        shape = (hours, 1 if columns is None else columns)
        try:
            table = np.broadcast_to(values[name], shape)
        except ValueError:
            found = np.shape(given[name][0])
            wanted = (hours,) if columns is None else shape
            raise ValueError(f"{name}: found shape {found}, expected {wanted}") from None
        # A copy: numba would compile anew for arrays that are read only.
        tables.append(np.array(table, order="C"))
    return tables


class _Hours(NamedTuple):
    """What drives the air, hour by hour along the first axis."""

    density: Array
    outdoor_density: Array
    wind: Array
    fraction: Array


@compiled
def _all_hours(
    links: Links,
    level: Array,
    during: _Hours,
    pressures: Array,
    forth: Array,
    back: Array,
    residual: Array,
    rounds: Whole,
) -> None:
    for hour in range(len(pressures)):
        if hour > 0:
            pressures[hour] = pressures[hour - 1]
        rounds[hour], residual[hour] = solve_hour(
            links,
            level,
            during.density[hour],
            during.outdoor_density[hour],
            during.wind[hour],
            during.fraction[hour],
            pressures[hour],
            forth[hour],
            back[hour],
        )
