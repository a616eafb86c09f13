"""What a house is made of for its heat: rooms, and the elements that part them from the weather.

An element is a row of nodes from its outer face to its inner one. Per square metre it has a capacity at
each node and a resistance between each two; how it gets them is free: from its layers, by the five nodes
of ISO 52016-1, or as a window without mass.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Mass = Literal["inside", "outside", "both", "spread", "middle"]
"""Where most of an element's mass lies: the classes I, E, IE, D and M of ISO 52016-1."""

FURNITURE = 10_000.0
"""Capacity of air and furniture by floor area [J/(m2 K)]; ISO 52016-1:2017, table B.17 (from memory)."""
SLICES_IN_DEPTH = 4
"""Slices in the depth that a day's wave reaches into a layer before it has shrunk to 1/e [-]; ours."""
_DAY = 86_400.0


@dataclass(frozen=True, slots=True)
class Film:
    """Heat transfer at a face by ``convection`` and by ``radiation`` [W/(m2 K)]."""

    convection: float
    radiation: float

    def __post_init__(self) -> None:
        if not (self.convection > 0 and self.radiation > 0):
            raise ValueError(
                f"film: found {self.convection} and {self.radiation} W/(m2 K), expected both above 0"
            )

    @property
    def total(self) -> float:
        return self.convection + self.radiation


OUTSIDE = Film(20.0, 4.14)
"""Towards outdoors; ISO 52016-1:2017, table 25, ISO 13789:2017 (from memory)."""
LEVEL = Film(2.5, 5.13)
"""Room's face of a wall or window; as above."""
UPWARD = Film(5.0, 5.13)
"""Room's face where heat flows up: a ceiling in winter; as above."""
DOWNWARD = Film(0.7, 5.13)
"""Room's face where heat flows down: a floor in winter; as above."""


@dataclass(frozen=True, slots=True)
class Layer:
    """``thickness`` [m], ``conductivity`` [W/(m K)], ``density`` [kg/m3], ``specific_heat`` [J/(kg K)]."""

    thickness: float
    conductivity: float
    density: float = 0.0
    specific_heat: float = 0.0

    def __post_init__(self) -> None:
        if not (self.thickness > 0 and self.conductivity > 0) or self.density < 0:
            raise ValueError(
                f"layer: found {self.thickness} m, {self.conductivity} W/(m K), {self.density} kg/m3, "
                "expected thickness and conductivity above 0, density at least 0"
            )
        if self.specific_heat < 0:
            raise ValueError(f"layer: found {self.specific_heat} J/(kg K), expected at least 0")

    @property
    def resistance(self) -> float:
        return self.thickness / self.conductivity

    @property
    def capacity(self) -> float:
        return self.thickness * self.density * self.specific_heat


@dataclass(frozen=True, slots=True, eq=False)
class Chain:
    """Nodes from the outer face to the inner one, per square metre.

    ``resistances`` between neighbours, shape (nodes - 1,) [m2 K/W]; ``capacities``, shape (nodes,)
    [J/(m2 K)].
    """

    resistances: Array
    capacities: Array

    def __post_init__(self) -> None:
        nodes = len(self.capacities)
        if nodes < 2 or len(self.resistances) != nodes - 1:
            raise ValueError(
                f"element: found {nodes} nodes and {len(self.resistances)} resistances, expected at "
                "least two nodes and one resistance fewer"
            )
        if not ((self.resistances > 0).all() and (self.capacities >= 0).all()):
            raise ValueError("element: expected resistances above 0 and capacities of at least 0")

    @property
    def resistance(self) -> float:
        """From face to face [m2 K/W]."""
        return float(self.resistances.sum())

    @property
    def capacity(self) -> float:
        """[J/(m2 K)]"""
        return float(self.capacities.sum())


def layered(layers: Sequence[Layer]) -> Chain:
    """The chain of layers named from outdoors to the room.

    Each layer is cut into slices thin against the depth that a day's wave reaches,
    :math:`\\sqrt{a T/\\pi}`; half of a slice's mass stands at each of its faces.
    """
    if not layers:
        raise ValueError("element: found no layers, expected at least one")
    resistances: list[float] = []
    capacities = [0.0]
    for layer in layers:
        slices = _slices(layer)
        for _ in range(slices):
            half = layer.capacity / slices / 2
            capacities[-1] += half
            capacities.append(half)
            resistances.append(layer.resistance / slices)
    return Chain(np.array(resistances), np.array(capacities))


def _slices(layer: Layer) -> int:
    if layer.capacity == 0:
        return 1
    diffusivity = layer.conductivity / (layer.density * layer.specific_heat)
    depth = math.sqrt(diffusivity * _DAY / math.pi)
    return max(1, math.ceil(SLICES_IN_DEPTH * layer.thickness / depth))


# Shares of the capacity at the five nodes, from outdoors to the room.
_SHARES: dict[Mass, tuple[float, ...]] = {
    "inside": (0, 0, 0, 0, 1),
    "outside": (1, 0, 0, 0, 0),
    "both": (1 / 2, 0, 0, 0, 1 / 2),
    "spread": (1 / 8, 1 / 4, 1 / 4, 1 / 4, 1 / 8),
    "middle": (0, 0, 1, 0, 0),
}


def five_nodes(resistance: float, capacity: float, mass: Mass) -> Chain:
    """The five nodes of ISO 52016-1:2017, 6.5.7: for elements of which no layers are known.

    Parameters
    ----------
    resistance : float
        From face to face [m2 K/W].
    capacity : float
        [J/(m2 K)]; tables of the standard go from 50,000 (very light) over 75,000, 110,000 and 175,000
        to 250,000 (very heavy), from memory.
    mass : Mass
        Where it lies.
    """
    shares = np.array([1 / 6, 1 / 3, 1 / 3, 1 / 6])
    return Chain(resistance * shares, capacity * np.array(_SHARES[mass]))


def massless(resistance: float) -> Chain:
    """A window, or a board so thin that its mass does not count: two faces."""
    return Chain(np.array([resistance]), np.zeros(2))


def between_faces(u: float, inside: Film = LEVEL, outside: Film = OUTSIDE) -> float:
    """Resistance from face to face of a window or wall with this U under these films [m2 K/W].

    Raises
    ------
    ValueError
        When the films alone resist more.
    """
    left = 1 / u - 1 / inside.total - 1 / outside.total
    if left <= 0:
        raise ValueError(f"U: found {u} W/(m2 K), expected less than the films alone let through")
    return left


@dataclass(frozen=True, slots=True)
class Room:
    """A room, or an attic or crawl space: ``volume`` of air [m3], ``capacity`` of what stands in it [J/K].

    For a furnished room ``FURNITURE`` times its floor area; the air itself is counted by its volume.
    """

    volume: float
    capacity: float = 0.0

    def __post_init__(self) -> None:
        if self.volume <= 0 or self.capacity < 0:
            raise ValueError(
                f"room: found {self.volume} m3 and {self.capacity} J/K, expected a volume above 0 and "
                "a capacity of at least 0"
            )


@dataclass(frozen=True, slots=True)
class Element:
    """An element with its inner face in ``room``.

    Behind its outer face lies what the weather's column ``exposure`` says, or ``other_room``; one of the
    two. ``area`` [m2]. ``sun_inside`` marks an inner face that the sun of its room falls on, such as a floor;
    ``sun_outside`` an outer face that is the other room's floor.
    """

    area: float
    chain: Chain
    room: int
    exposure: int | None = None
    other_room: int | None = None
    inside: Film = LEVEL
    outside: Film = OUTSIDE
    sun_inside: bool = False
    sun_outside: bool = False

    def __post_init__(self) -> None:
        if self.area <= 0:
            raise ValueError(f"element: found {self.area} m2, expected more than 0")
        if (self.exposure is None) == (self.other_room is None):
            raise ValueError("element: expected either an exposure or another room behind it")

    @property
    def u(self) -> float:
        """[W/(m2 K)]"""
        return 1 / (1 / self.inside.total + self.chain.resistance + 1 / self.outside.total)


@dataclass(frozen=True, slots=True)
class House:
    """Rooms, elements that name them by number, and the ``density`` of the air in them [kg/m3]."""

    rooms: tuple[Room, ...]
    elements: tuple[Element, ...]
    density: float = 1.2

    def __post_init__(self) -> None:
        count = len(self.rooms)
        faces = [0] * count
        for number, element in enumerate(self.elements):
            for room in (element.room, element.other_room):
                if room is None:
                    continue
                if not 0 <= room < count:
                    raise ValueError(
                        f"element {number}: found room {room}, expected 0 to {count - 1}"
                    )
                faces[room] += 1
        bare = [room for room in range(count) if not faces[room]]
        if bare or not count:
            raise ValueError(f"house: found rooms {bare} without an element, expected one at least")
