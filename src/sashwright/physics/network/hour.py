"""One hour of an airflow network: the pressures at which no room gains or loses air. Compiled."""

from __future__ import annotations

import numpy as np

from sashwright.physics.compiled import compiled
from sashwright.physics.network.balance import (
    Array,
    Links,
    Way,
    balanced,
    conductances,
    downhill,
    flows,
    open_links,
    secants,
)
from sashwright.physics.network.elimination import eliminate

__all__ = ["MOST_ROUNDS", "Links", "solve_hour"]

MOST_ROUNDS = 400
"""Far beyond what any network of the tests takes."""

# How far beyond the lowest point along it a step may go, by the slope there over that at its start.
_NEAR_LOWEST = 0.1
# A step that was cut must use up so much of the slope at its start.
_SHORT = 0.5
# From this round on a step must not go beyond the lowest point at all.
_STRICT = 40
_MOST_CUTS = 60


@compiled
def solve_hour(
    links: Links,
    level: Array,
    density: Array,
    outdoor_density: float,
    wind: Array,
    fraction: Array,
    pressure: Array,
    forth: Array,
    back: Array,
) -> tuple[int, float]:
    r"""Find the pressures of all rooms, and the flow of every link either way.

    Parameters
    ----------
    links : Links
    level : array (rooms,)
        Height that each room's pressure is stated at [m].
    density : array (rooms,)
        Of the air of each room [kg/m3].
    outdoor_density : float
        [kg/m3]
    wind : array (faces,)
        Pressure of the wind on each face [Pa].
    fraction : array (links,)
        How much of each link is open, from 0 to 1.
    pressure : array (rooms,)
        Of the rooms over outdoor air at the same height, away from the wind [Pa]. In: where to start,
        such as the hour before. Out: the answer.
    forth, back : array (links,)
        Out: flow from start to end and from end to start [kg/s].

    Returns
    -------
    rounds : int
    left : float
        The most that any room still gains or loses [kg/s].

    Notes
    -----
    The flow of a link rises with the difference of two pressures, so the balances are the slopes of one
    convex function of all pressures, whose lowest point is the answer: there is one, and no other. Newton's
    step always points downhill. Where it went too far, as it does with links of nearly no flow, the mean
    slopes of all links over it make a second one; and where that goes too far as well, it is cut to where
    the function is lowest along it.
    """
    rooms, nodes = len(pressure), len(pressure) + len(wind)
    way = open_links(links, level, density, outdoor_density, wind, fraction)
    # Faces are nodes as well, at pressure zero: what the wind does is in the links.
    now, trial, step = np.zeros(nodes), np.zeros(nodes), np.zeros(nodes)
    gain, allowed, kept = np.empty(nodes), np.empty(nodes), np.empty(nodes)
    between, ground, before = (
        np.empty((nodes, nodes)),
        np.empty(rooms),
        np.empty((3, len(way.link))),
    )
    now[:rooms] = pressure
    flows(way, now, gain)
    turn = 0
    while turn < MOST_ROUNDS and not balanced(way, now, gain, allowed):
        conductances(way, between, ground)
        step[:rooms] = gain[:rooms]
        eliminate(between, ground, step)
        down, blur = downhill(way, step)
        if down <= blur:
            # No lower point can be told from this one.
            break
        beyond = _NEAR_LOWEST if turn < _STRICT else 0.0
        before[0], before[1], before[2] = way.forth, way.back, way.slope
        kept[:] = gain
        _move(now, 1.0, step, trial)
        flows(way, trial, gain)
        here, _ = downhill(way, step)
        if here < -beyond * down - blur:
            secants(way, before, step)
            conductances(way, between, ground)
            step[:rooms] = kept[:rooms]
            eliminate(between, ground, step)
            way.forth[:], way.back[:] = before[0], before[1]
            down, blur = downhill(way, step)
            _descend(way, now, step, down, beyond * down + blur, trial, gain)
        now[:] = trial
        turn += 1
    pressure[:] = now[:rooms]
    forth[:] = 0.0
    back[:] = 0.0
    for at in range(len(way.link)):
        forth[way.link[at]] = way.forth[at]
        back[way.link[at]] = way.back[at]
    left = 0.0
    for room in range(rooms):
        left = max(left, abs(gain[room]))
    return turn, left


@compiled
def _descend(
    way: Way,
    now: Array,
    step: Array,
    down: float,
    beyond: float,
    trial: Array,
    gain: Array,
) -> None:
    """Go along a step to where the balances' common function is lowest, or near it."""
    low, high = 0.0, 1.0
    low_slope, high_slope = down, 0.0
    length = 1.0
    for _ in range(_MOST_CUTS):
        _move(now, length, step, trial)
        flows(way, trial, gain)
        here, _ = downhill(way, step)
        if here >= -beyond and (length == 1.0 or here <= _SHORT * down):
            break
        # False position; the end that stays twice counts half, or it would stay for good.
        if here < 0.0:
            high, high_slope = length, here
            low_slope *= 0.5 if high < 1.0 else 1.0
        else:
            low, low_slope = length, here
            high_slope *= 0.5
        length = low + (high - low) * low_slope / (low_slope - high_slope)


@compiled
def _move(start: Array, length: float, step: Array, to: Array) -> None:
    for node in range(len(start)):
        to[node] = start[node] + length * step[node]
