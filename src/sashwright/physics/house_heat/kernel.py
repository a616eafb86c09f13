"""One step of the house, compiled: sweep the elements, settle the air, carry the nodes on.

The step is fully implicit, as in ISO 52016-1: temperatures at its end follow from what happens in it, so
no step is too long to be stable. Between :func:`begin` and :func:`finish`, :func:`settle` may be called
again and again with other air flows; only it depends on them.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from sashwright.physics.compiled import compiled
from sashwright.physics.constants import AIR_HEAT
from sashwright.physics.house_heat.factors import Factors
from sashwright.physics.house_heat.given import Hours

Array = NDArray[np.float64]
Whole = NDArray[np.int64]

FREE, HEATED, COOLED = 0, 1, -1
_TRIES = 40


class Now(NamedTuple):
    """The house in a step, changed in place; N nodes, R rooms. Made by :func:`at_rest`."""

    nodes: Array
    """At the end of the step, (N,) [°C]."""
    air: Array
    """Air of each room at the end of the step, (R,) [°C]."""
    star: Array
    """What the faces of each room exchange radiation with, (R,) [°C]."""
    power: Array
    """Heat given to the air of each room, cooling below zero, (R,) [W]."""
    mode: Whole
    """Whether each room is heated (1), cooled (-1) or free (0), (R,)."""
    before: Array
    """The nodes at the beginning, (N,) [°C]."""
    earlier: Array
    """The air at the beginning, (R,) [°C]."""
    push: Array
    """Right side of the balance of the air, without air flows, (R,) [W]."""
    gained: Array
    """Part of the stars that does not depend on the air, (R,) [°C]."""


@compiled
def at_rest(f: Factors, start: float) -> Now:
    """The whole house at one temperature [°C]."""
    nodes, rooms = len(f.store), len(f.air_store)
    return Now(
        np.full(nodes, start),
        np.full(rooms, start),
        np.full(rooms, start),
        np.zeros(rooms),
        np.zeros(rooms, dtype=np.int64),
        np.full(nodes, start),
        np.full(rooms, start),
        np.zeros(rooms),
        np.zeros(rooms),
    )


@compiled
def begin(f: Factors, during: Hours, h: int, now: Now) -> None:
    """What step h starts with, whatever the air will do.

    Until :func:`finish`, ``nodes`` are what they would be if the rooms did nothing.
    """
    state = during.state[h]
    now.before[:] = now.nodes
    now.earlier[:] = now.air
    _sweep(f, state, during.beyond[h], now)
    _shine(f, state, during.sun[h], now.nodes)
    rooms = len(now.air)
    k = np.empty(rooms)
    for z in range(rooms):
        k[z] = during.radiant[h, z]
        now.push[z] = f.air_store[z] * now.air[z] + during.convective[h, z]
    for s in range(len(f.node)):
        u = now.nodes[f.node[s]]
        k[f.room[s]] += f.radiation[state, s] * u
        now.push[f.room[s]] += f.convection[state, s] * u
    for z in range(rooms):
        now.gained[z] = 0.0
        for y in range(rooms):
            now.push[z] += f.mix[state, y, z] * k[y]
            now.gained[z] += f.star[state, z, y] * k[y]


@compiled
def _sweep(f: Factors, state: int, beyond: Array, now: Now) -> None:
    """Each element's row of nodes with nothing at its faces in rooms."""
    link, pivot, nodes = f.link[state], f.pivot[state], now.nodes
    for e in range(len(f.exposure)):
        low, high = f.first[e], f.first[e + 1]
        nodes[low] *= f.store[low]
        if f.exposure[e] >= 0:
            nodes[low] += f.outer[state, e] * beyond[f.exposure[e]]
        for i in range(low + 1, high):
            nodes[i] = f.store[i] * nodes[i] + link[i - 1] * pivot[i - 1] * nodes[i - 1]
        nodes[high - 1] *= pivot[high - 1]
        for i in range(high - 2, low - 1, -1):
            nodes[i] = pivot[i] * (nodes[i] + link[i] * nodes[i + 1])


@compiled
def _shine(f: Factors, state: int, sun: Array, nodes: Array) -> None:
    """Put in what the sun gives to single faces."""
    elements = len(f.exposure)
    for s in range(len(f.node)):
        heat = f.sunlit[s] * sun[f.room[s]]
        if heat != 0.0:
            e = f.owner[s]
            reach = f.reach_in[state] if s < elements else f.reach_out[state]
            for i in range(f.first[e], f.first[e + 1]):
                nodes[i] += reach[i] * heat


@compiled
def settle(f: Factors, during: Hours, h: int, fresh: Array, between: Array, now: Now) -> int:
    """Temperature of the air of each room with these air flows, and what heating and cooling give.

    Parameters
    ----------
    f, during, h
        The house, what happens to it, the step.
    fresh : array
        Air that comes in from outdoors, (R,) [kg/s].
    between : array
        Air from a room (first axis) to another, (R, R) [kg/s]; the diagonal does not count.
    now : Now
        After :func:`begin`; ``mode`` is taken as a first guess.

    Returns
    -------
    int
        Rounds taken; 0 when heating and cooling could not be told apart.
    """
    matrix, right = f.hold[during.state[h]].copy(), now.push.copy()
    rooms = len(right)
    heat_to, cool_to = during.heat_to[h], during.cool_to[h]
    for z in range(rooms):
        held = heat_to[z] if now.mode[z] == HEATED else cool_to[z]
        if not np.isfinite(held):
            now.mode[z] = FREE
        flow = AIR_HEAT * fresh[z]
        matrix[z, z] += flow
        right[z] += flow * during.outdoors[h]
        for y in range(rooms):
            if y != z:
                flow = AIR_HEAT * between[y, z]
                matrix[z, z] += flow
                matrix[z, y] -= flow
    work = np.empty((rooms, rooms))
    for tried in range(1, _TRIES + 1):
        work[:] = matrix
        for z in range(rooms):
            now.air[z] = right[z]
            if now.mode[z] != FREE:
                work[z, :] = 0.0
                work[z, z] = 1.0
                now.air[z] = heat_to[z] if now.mode[z] == HEATED else cool_to[z]
        solve(work, now.air)
        if not _switched(matrix, right, heat_to, cool_to, now):
            return tried
    return 0


@compiled
def _switched(matrix: Array, right: Array, heat_to: Array, cool_to: Array, now: Now) -> bool:
    """Switch what is on the wrong side of its set point or gives heat of the wrong sign."""
    air, mode, switched = now.air, now.mode, False
    for z in range(len(air)):
        now.power[z] = 0.0
        if mode[z] == FREE:
            if air[z] < heat_to[z]:
                mode[z], switched = HEATED, True
            elif air[z] > cool_to[z]:
                mode[z], switched = COOLED, True
            continue
        needed, size = -right[z], abs(right[z])
        for y in range(len(air)):
            needed += matrix[z, y] * air[y]
            size += abs(matrix[z, y] * air[y])
        now.power[z] = needed
        # Rounding alone must not switch a room to and fro.
        if needed * mode[z] < -1e-13 * size:
            mode[z], switched = FREE, True
    return switched


@compiled
def solve(matrix: Array, right: Array) -> None:
    """Gauss without a search for pivots, in place: rows outweigh their other entries."""
    count = len(right)
    for k in range(count):
        turn = 1.0 / matrix[k, k]
        for i in range(k + 1, count):
            share = matrix[i, k] * turn
            if share != 0.0:
                for j in range(k + 1, count):
                    matrix[i, j] -= share * matrix[k, j]
                right[i] -= share * right[k]
    for k in range(count - 1, -1, -1):
        total = right[k]
        for j in range(k + 1, count):
            total -= matrix[k, j] * right[j]
        right[k] = total / matrix[k, k]


@compiled
def finish(f: Factors, during: Hours, h: int, now: Now) -> None:
    """Stars and nodes at the end of step h, once its air is known."""
    state, rooms, elements = during.state[h], len(now.air), len(f.exposure)
    for z in range(rooms):
        now.star[z] = now.gained[z]
        for y in range(rooms):
            now.star[z] += f.mix[state, z, y] * now.air[y]
    for s in range(len(f.node)):
        z, e = f.room[s], f.owner[s]
        w = f.convection[state, s] * now.air[z] + f.radiation[state, s] * now.star[z]
        reach = f.reach_in[state] if s < elements else f.reach_out[state]
        for i in range(f.first[e], f.first[e + 1]):
            now.nodes[i] += reach[i] * w


@compiled
def step_hour(f: Factors, during: Hours, h: int, fresh: Array, between: Array, now: Now) -> int:
    """Step h with given air flows: ``now`` is carried on in place.

    Parameters and what it returns as for :func:`settle`, which it calls between the others.
    """
    begin(f, during, h, now)
    found: int = settle(f, during, h, fresh, between, now)
    finish(f, during, h, now)
    return found
