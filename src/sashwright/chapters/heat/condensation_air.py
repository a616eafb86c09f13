"""How much air the space behind a storm sash takes from the room and from outdoors, hour by hour."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array

from sashwright.chapters.heat.condensation_weather import Weather, warmth_pressure
from sashwright.chapters.seal.flows import HOLE_DISCHARGE
from sashwright.chapters.seal.paths import Leak, PathName
from sashwright.chapters.seal.window import Sealed
from sashwright.physics.leakage import AIR_DENSITY, coefficient_from_area
from sashwright.physics.vapour_air import Openings, space_exchange
from sashwright.window.spec import Wall

Array = NDArray[np.float64]

PER_KELVIN = 0.05
"""What a kelvin counts as [Pa]: some height of a window's column of air."""
POWER = 0.65
"""With which flows grow along a ray, for reading between the grid's points only."""
ANGLES = np.linspace(-np.pi, np.pi, 97)
REACHES = np.array([0.05, 0.3, 1.0, 3.0, 10.0, 80.0])
"""Flows are worked out at these angles and distances in the plane of temperature and pressure [Pa]. Along a
ray all pressures grow alike, so that flows turn about at angles, never at distances."""
ROOM = 20.0
"""Temperature of the room that they are worked out with [°C]."""

_COLDEST, _HOTTEST = 80.0, 30.0
HALVES = (0.25, 0.75)
"""A joint that runs upward counts as two halves, each at its middle."""


@dataclass(frozen=True, slots=True)
class Case:
    """One state of window and storm: the prime's paths, and openings added to the storm.

    ``foot`` and ``head`` areas of sharp-edged holes more than the storm has now [m2].
    """

    key: str
    does: str
    leaks: Sequence[Leak]
    foot: float = 0.0
    head: float = 0.0


def prime_openings(sealed: Sealed, cases: Sequence[Case]) -> Openings:
    """The joints of the sash that lead behind the storm, one column for each case."""
    layout = sealed.placed.layout
    meets, top = layout.lower.top, sealed.placed.window.height
    spans: dict[PathName, tuple[float, float]] = {
        "upper sides": (meets, layout.head_at_side),
        "lower sides": (0.0, meets),
        "head": (top, top),
        "meeting rail": (meets, meets),
        "sill": (0.0, 0.0),
        "glass": (0.0, top),
    }
    rows, heights, exponents = [], [], []
    for name, (low, high) in spans.items():
        leaks = [next(leak for leak in case.leaks if leak.place.name == name) for case in cases]
        parts = HALVES if high > low else (0.0,)
        for part in parts:
            rows.append([leak.coefficient / len(parts) for leak in leaks])
            exponents.append([leak.exponent for leak in leaks])
            heights.append(low + part * (high - low))
    return Openings(np.array(rows), np.array(exponents), np.array(heights))


def storm_openings(sealed: Sealed, cases: Sequence[Case]) -> Openings:
    """Joints round the storm by their length, weep holes at its foot, and what is added."""
    barrier, window = sealed.storm, sealed.placed.window
    joint, weep = (float(value) for value in barrier.likely)
    n, square = (float(value) for value in barrier.exponents)
    width, height = window.width, window.height
    round_it = 2 * (width + height)
    side = joint * height / round_it
    rows = [
        ([joint * width / round_it] * len(cases), n, 0.0),
        *(([side] * len(cases), n, part * height) for part in HALVES),
        ([joint * width / round_it] * len(cases), n, height),
        ([weep + _hole(case.foot) for case in cases], square, 0.0),
        ([_hole(case.head) for case in cases], square, height),
    ]
    return Openings(
        np.array([row for row, _, _ in rows]),
        np.array([exponent for _, exponent, _ in rows]),
        np.array([at for _, _, at in rows]),
    )


def _hole(area: float) -> float:
    return float(coefficient_from_area(area, 0.5, discharge_coefficient=HOLE_DISCHARGE))


def exchange_table(sealed: Sealed, cases: Sequence[Case], warmth: float) -> tuple[Array, Array]:
    """Flow from the room and from outdoors over the grid, (angles x reaches, cases) [kg/(s Pa^0.65)].

    ``warmth`` of the space: 0 as outdoors, 1 as the room.
    """
    angle, reach = ANGLES[:, None], REACHES[None, :]
    difference = np.cos(angle) * reach / PER_KELVIN
    # Kelvin far beyond any weather are kept out of the densities, where they would be below zero.
    outdoors = ROOM - np.clip(difference, -_HOTTEST, _COLDEST)
    flows = space_exchange(
        prime_openings(sealed, cases),
        storm_openings(sealed, cases),
        np.sin(angle) * reach,
        (ROOM, outdoors + warmth * (ROOM - outdoors), outdoors),
    )
    room, out = (
        (AIR_DENSITY * flow / reach[..., None] ** POWER).reshape(-1, len(cases)) for flow in flows
    )
    return room, out


def readings(weather: Weather, wall: Wall, foot: float, hours: NDArray[np.intp]) -> csr_array:
    """Where each of some hours stands in the grid: weights, shape (hours, angles x reaches).

    Each hour is half at its mean pressure and a standard deviation of its gusts, half at a standard
    deviation less: what blows through and what is pumped to and fro.
    """
    mean, gusts = weather.pressure(wall, foot)[hours], weather.gusts()[hours]
    return _weights([mean + gusts, mean - gusts], weather.difference[hours])


def reading_in_calm(room: float, outdoors: Array, foot: float, eaves: float) -> csr_array:
    """The same with warmth alone, for temperatures outdoors [°C]; ``foot`` and ``eaves`` [m]."""
    return _weights([warmth_pressure(room, outdoors, foot, eaves)], room - outdoors)


def _weights(pressures: Sequence[Array], difference: Array) -> csr_array:
    """Each state the mean of so many pressures."""
    rows, columns, shares = [], [], []
    states = np.arange(len(difference))
    warmth = PER_KELVIN * difference
    for pressure in pressures:
        reach = np.hypot(pressure, warmth)
        strength = reach**POWER / len(pressures)
        for a, share_a in _place(ANGLES, np.arctan2(pressure, warmth)):
            for r, share_r in _place(np.log(REACHES), np.log(np.maximum(reach, 1e-9))):
                rows.append(states)
                columns.append(a * len(REACHES) + r)
                shares.append(share_a * share_r * strength)
    shape = len(states), len(ANGLES) * len(REACHES)
    where = np.concatenate(rows), np.concatenate(columns)
    return csr_array((np.concatenate(shares), where), shape=shape)


def _place(grid: Array, values: Array) -> list[tuple[NDArray[np.intp], Array]]:
    """Numbers of the grid's points on both sides of values, and the weight of each."""
    held = np.clip(values, grid[0], grid[-1])
    low = np.clip(np.searchsorted(grid, held, side="right") - 1, 0, len(grid) - 2)
    share = (held - grid[low]) / (grid[low + 1] - grid[low])
    return [(low, 1 - share), (low + 1, share)]
