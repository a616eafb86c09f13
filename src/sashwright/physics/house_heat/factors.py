"""The house as arrays: all that stays the same from step to step, worked out beforehand.

Each element's row of nodes is solved once for a watt put into either face. What is left for a step is a
sweep along each row, and one small system for the air of the rooms.

Symbols, for a room: a face s with conductances c (convection) and r (radiation) to the room's air T and
to its radiant star M; w = c T + r M goes in. A face's temperature is u + own w + cross w of the other
face of its element. The star passes on all it gets: sum r (T_s - M) + radiant gains = 0. With faces
put in, A M = k + B T, where k is the gains and sum r u; so M = A⁻¹ k + (A⁻¹ B) T, which goes into the
balance of the air.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from sashwright.physics.constants import AIR_HEAT
from sashwright.physics.house_heat.elements import Chain, Element, House

Array = NDArray[np.float64]
Whole = NDArray[np.int64]

HOUR = 3600.0


class Factors(NamedTuple):
    """A house in one or more states (first axis where marked S), for steps of a fixed length.

    Sizes: E elements, N nodes of all elements in a row, F faces towards rooms, R rooms.
    """

    first: Whole
    """Where each element's nodes begin, and the end, (E + 1,)."""
    store: Array
    """Capacity over the step's length, (N,) [W/K]."""
    link: Array
    """Conductance to the next node, 0 at an element's last, (S, N) [W/K]."""
    pivot: Array
    """Of the elimination along each row, (S, N) [K/W]."""
    reach_in: Array
    """Rise of each node for a watt into its element's inner face, (S, N) [K/W]."""
    reach_out: Array
    """The same for its outer face where that is in a room, else 0, (S, N) [K/W]."""
    outer: Array
    """Conductance from the outer node to what lies beyond; 0 where that is a room, (S, E) [W/K]."""
    exposure: Whole
    """Column of the weather beyond, -1 for a room, (E,)."""
    node: Whole
    """Of each face, (F,)."""
    room: Whole
    """Of each face, (F,)."""
    owner: Whole
    """Element of each face; the inner face of element e is face e, (F,)."""
    mate: Whole
    """The face at the element's other end, -1 for none, (F,)."""
    convection: Array
    """Of each face, (S, F) [W/K]."""
    radiation: Array
    """Of each face, (S, F) [W/K]."""
    area: Array
    """Of each face, (F,) [m2]."""
    sunlit: Array
    """Share of its room's sun that each face takes; 1 in all for a room, (F,) [-]."""
    star: Array
    """A⁻¹, (S, R, R) [K/W]."""
    mix: Array
    """A⁻¹ B, (S, R, R) [-]."""
    hold: Array
    """What the air of each room feels of itself and of the others, without air flows, (S, R, R) [W/K]."""
    air_store: Array
    """Capacity of air and furniture over the step's length, (R,) [W/K]."""


def factors(houses: Sequence[House], step: float = HOUR) -> Factors:
    """Arrays for the kernel.

    Parameters
    ----------
    houses : sequence of House
        One house in its states, such as with storms and without: the same rooms, elements, capacities
        and neighbours; resistances and films may differ.
    step : float
        [s]

    Raises
    ------
    ValueError
        When the states do not fit each other.
    """
    if not houses or step <= 0:
        raise ValueError(
            f"found {len(houses)} states and a step of {step} s, expected some of each"
        )
    one = houses[0]
    for number, other in enumerate(houses):
        if not _fits(one, other):
            raise ValueError(
                f"state {number}: found other rooms, elements or capacities, expected those of state 0"
            )
    lengths = [len(element.chain.capacities) for element in one.elements]
    first = np.concatenate([[0], np.cumsum(lengths)]).astype(np.int64)
    faces = _faces(one, first)
    states = [_state(house, first, faces, step) for house in houses]
    store = np.concatenate([e.area * e.chain.capacities for e in one.elements]) / step
    air = np.array([AIR_HEAT * one.density * r.volume + r.capacity for r in one.rooms])
    exposure = [-1 if e.exposure is None else e.exposure for e in one.elements]
    return Factors(
        first=first,
        store=store,
        exposure=np.array(exposure, dtype=np.int64),
        node=faces.node,
        room=faces.room,
        owner=faces.owner,
        mate=faces.mate,
        area=faces.area,
        sunlit=_sunlit(one, faces),
        air_store=air / step,
        **{name: np.stack([state[name] for state in states]) for name in states[0]},
    )


def _fits(one: House, other: House) -> bool:
    if one.rooms != other.rooms or len(one.elements) != len(other.elements):
        return False
    if one.density != other.density:
        return False
    return all(
        _place(a) == _place(b) and np.array_equal(a.chain.capacities, b.chain.capacities)
        for a, b in zip(one.elements, other.elements, strict=True)
    )


def _place(e: Element) -> tuple[float | bool | None, ...]:
    return e.area, e.room, e.exposure, e.other_room, e.sun_inside, e.sun_outside


def _sunlit(house: House, faces: _Faces) -> Array:
    """By area among the faces marked so; among all of a room that has none."""
    inner = len(house.elements)
    marked = np.array(
        [
            house.elements[e].sun_inside if s < inner else house.elements[e].sun_outside
            for s, e in enumerate(faces.owner)
        ]
    )
    some = np.bincount(faces.room, weights=marked) > 0
    weight = np.where(marked | ~some[faces.room], faces.area, 0.0)
    share: Array = weight / np.bincount(faces.room, weights=weight)[faces.room]
    return share


class _Faces(NamedTuple):
    """Towards rooms: all inner ones first, then the outer ones of what parts two rooms."""

    node: Whole
    room: Whole
    owner: Whole
    mate: Whole
    area: Array


def _faces(house: House, first: Whole) -> _Faces:
    elements = house.elements
    parting = [e for e, element in enumerate(elements) if element.other_room is not None]
    count = len(elements)
    mate = np.full(count + len(parting), -1, dtype=np.int64)
    for at, e in enumerate(parting):
        mate[e], mate[count + at] = count + at, e
    owner = np.array([*range(count), *parting], dtype=np.int64)
    return _Faces(
        np.concatenate([first[1:] - 1, first[parting]]).astype(np.int64),
        np.array(
            [*(e.room for e in elements), *(elements[e].other_room for e in parting)],
            dtype=np.int64,
        ),
        owner,
        mate,
        np.array([elements[e].area for e in owner]),
    )


def _state(house: House, first: Whole, faces: _Faces, step: float) -> dict[str, Array]:
    nodes = int(first[-1])
    link, pivot, reach_in, reach_out = (np.zeros(nodes) for _ in range(4))
    outer = np.zeros(len(house.elements))
    for e, element in enumerate(house.elements):
        row = slice(first[e], first[e + 1])
        through = element.area / element.chain.resistances
        inside, outside = (element.area * f.total for f in (element.inside, element.outside))
        link[row] = np.append(through, 0.0)
        diagonal = _diagonal(element.area, element.chain, step)
        diagonal[0] += outside
        diagonal[-1] += inside
        pivot[row] = _pivots(diagonal, through)
        matrix = np.diag(diagonal) - np.diag(through, 1) - np.diag(through, -1)
        inverse = np.linalg.inv(matrix)
        reach_in[row] = inverse[:, -1]
        if element.other_room is None:
            outer[e] = outside
        else:
            reach_out[row] = inverse[:, 0]
    return {
        "link": link,
        "pivot": pivot,
        "reach_in": reach_in,
        "reach_out": reach_out,
        "outer": outer,
        **_rooms(house, faces, reach_in, reach_out, step),
    }


def _diagonal(area: float, chain: Chain, step: float) -> Array:
    diagonal: Array = area * chain.capacities / step
    through = area / chain.resistances
    diagonal[:-1] += through
    diagonal[1:] += through
    return diagonal


def _pivots(diagonal: Array, through: Array) -> Array:
    """One over the diagonal that elimination from the outer face leaves."""
    left = diagonal.copy()
    for at in range(1, len(left)):
        left[at] -= through[at - 1] ** 2 / left[at - 1]
    pivots: Array = 1 / left
    return pivots


def _film(element: Element, inner: bool) -> tuple[float, float]:
    film = element.inside if inner else element.outside
    return element.area * film.convection, element.area * film.radiation


def _rooms(
    house: House, faces: _Faces, reach_in: Array, reach_out: Array, step: float
) -> dict[str, Array]:
    """What is left when faces and stars are put in."""
    count, inner = len(house.rooms), len(house.elements)
    films = [_film(house.elements[e], s < inner) for s, e in enumerate(faces.owner)]
    convection, radiation = np.array(films).T
    A, B, D = (np.zeros((count, count)) for _ in range(3))
    hold = np.zeros((count, count))
    for s, node in enumerate(faces.node):
        room, other = faces.room[s], faces.mate[s]
        own = (reach_in if s < inner else reach_out)[node]
        c, r = convection[s], radiation[s]
        A[room, room] += r - r * own * r
        B[room, room] += r * own * c
        D[room, room] += c * own * c
        hold[room, room] += c
        if other >= 0:
            cross = (reach_out if s < inner else reach_in)[node]
            beyond = faces.room[other]
            A[room, beyond] -= r * cross * radiation[other]
            B[room, beyond] += r * cross * convection[other]
            D[room, beyond] += c * cross * convection[other]
    star = np.linalg.inv(A)
    mix = star @ B
    air = np.array([AIR_HEAT * house.density * r.volume + r.capacity for r in house.rooms])
    hold += np.diag(air / step) - D - B.T @ mix
    return {
        "convection": convection,
        "radiation": radiation,
        "star": star,
        "mix": mix,
        "hold": hold,
    }
