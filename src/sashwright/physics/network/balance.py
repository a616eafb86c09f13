"""The balances of all rooms of an airflow network at given pressures. Compiled."""

from __future__ import annotations

from math import sqrt
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from sashwright.physics.compiled import compiled
from sashwright.physics.constants import GRAVITY
from sashwright.physics.network.links import crack_flow, opening_flow

Array = NDArray[np.float64]
Whole = NDArray[np.int64]


BALANCED = 1e-8
"""What a room may gain or lose of the air that passes through it [-]."""

NOTHING = 1e-12
"""A flow that does not count [kg/s]: 30 mg a year."""

# Of the last digits of a pressure or a flow.
_ROUNDING = 1e-15
# Conductance that keeps a room where it is, over the flow that does not count [1/Pa].
_TIE = 0.01
# A step that moved a link's difference by less than this says nothing about its slope [Pa].
_UNMOVED = 1e-9

CRACK, ACROSS, UP, DOWN = 0, 1, 2, 3


class Links(NamedTuple):
    """All links of a network as plain arrays, one element for each."""

    start: Whole
    """Node that its flow forth comes from: rooms count from 0, then come the faces."""
    end: Whole
    kind: Whole
    """``CRACK``; or an opening whose free part grows ``ACROSS`` its whole height, ``UP`` from its
    bottom or ``DOWN`` from its top."""
    size: Array
    """C of a crack [m3/(s Pa^n)]; discharge coefficient times the area of an opening wide open [m2]."""
    exponent: Array
    bottom: Array
    """Of an opening wide open, or height of a crack [m]."""
    top: Array


class Way(NamedTuple):
    """The links that are open at all: what does not change with the rooms' pressures, and below that
    what was found at the last ones."""

    rooms: int
    """How many nodes are rooms; they come first."""
    link: Whole
    """Its number."""
    start: NDArray[np.uint64]
    end: NDArray[np.uint64]
    crack: NDArray[np.bool_]
    exponent: Array
    low: Array
    """Pressure difference that stack and wind make at the bottom [Pa]."""
    high: Array
    """Likewise at the top [Pa]."""
    ahead: Array
    """Flow at 1 Pa forth, with the density of the start [kg/s]."""
    behind: Array
    """Flow at 1 Pa back, with the density of the end [kg/s]."""
    forth: Array
    """[kg/s]"""
    back: Array
    """[kg/s]"""
    slope: Array
    """How the flow forth less the flow back grows with the difference [kg/(s Pa)]."""
    blur: Array
    """What the last digits leave open of the flow [kg/s]."""


@compiled
def open_links(
    links: Links,
    level: Array,
    density: Array,
    outdoor_density: float,
    wind: Array,
    fraction: Array,
) -> Way:
    rooms = len(level)
    link = np.nonzero(links.size * fraction > 0.0)[0]
    start, end = links.start[link], links.end[link]
    crack = links.kind[link] == CRACK
    low, high, ahead, behind, forth, back, slope, blur = np.zeros((8, len(link)))
    for at in range(len(link)):
        one = link[at]
        share, kind = fraction[one], links.kind[one]
        bottom, top = links.bottom[one], links.top[one]
        if kind == UP:
            top = bottom + share * (top - bottom)
        elif kind == DOWN:
            bottom = top - share * (top - bottom)
        for node, sign in ((start[at], 1.0), (end[at], -1.0)):
            if node < rooms:
                buoyancy = GRAVITY * (outdoor_density - density[node])
                low[at] += sign * buoyancy * (bottom - level[node])
                high[at] += sign * buoyancy * (top - level[node])
            else:
                low[at] += sign * wind[node - rooms]
                high[at] += sign * wind[node - rooms]
        first = density[start[at]] if start[at] < rooms else outdoor_density
        second = density[end[at]] if end[at] < rooms else outdoor_density
        size = links.size[one] * share
        ahead[at] = size * (first if crack[at] else sqrt(2.0 * first))
        behind[at] = size * (second if crack[at] else sqrt(2.0 * second))
    # Unsigned: no index of these is counted from the end, which numba then need not look for.
    return Way(
        rooms,
        link,
        start.astype(np.uint64),
        end.astype(np.uint64),
        crack,
        links.exponent[link],
        low,
        high,
        ahead,
        behind,
        forth,
        back,
        slope,
        blur,
    )


@compiled
def flows(way: Way, pressure: Array, gain: Array) -> None:
    """Flows of all links at the nodes' pressures, their slopes, and what each node gains."""
    gain[:] = 0.0
    for at in range(len(way.link)):
        a, b = way.start[at], way.end[at]
        difference = pressure[a] - pressure[b]
        ahead, behind = way.ahead[at], way.behind[at]
        if way.crack[at]:
            flow, rise = crack_flow(difference + way.low[at], way.exponent[at])
            if flow >= 0.0:
                forward, backward, rise = ahead * flow, 0.0, ahead * rise
            else:
                forward, backward, rise = 0.0, -behind * flow, behind * rise
        else:
            forward, backward, rise = opening_flow(
                difference + way.low[at], difference + way.high[at], ahead, behind
            )
        way.forth[at], way.back[at], way.slope[at] = forward, backward, rise
        gain[a] += backward - forward
        gain[b] += forward - backward


@compiled
def balanced(way: Way, pressure: Array, gain: Array, allowed: Array) -> bool:
    """Whether no room gains or loses more than it may: a small share of what passes through, and what the
    last digits leave open, which is noted. What is no number is not balanced."""
    allowed[:] = NOTHING
    for at in range(len(way.link)):
        a, b = way.start[at], way.end[at]
        both = way.forth[at] + way.back[at]
        terms = abs(way.low[at]) + abs(way.high[at]) + abs(pressure[a]) + abs(pressure[b])
        way.blur[at] = _ROUNDING * (terms * way.slope[at] + both)
        may = 0.5 * BALANCED * both + way.blur[at]
        allowed[a] += may
        allowed[b] += may
    kept = True
    for room in range(way.rooms):
        kept = kept and abs(gain[room]) <= allowed[room]
    return kept


@compiled
def downhill(way: Way, step: Array) -> tuple[float, float]:
    """How steeply the balances' common function falls along a step, and how much of that is blur. Link by
    link, as rooms that move together owe each other nothing."""
    falls = unsure = 0.0
    for at in range(len(way.link)):
        apart = step[way.end[at]] - step[way.start[at]]
        falls += (way.forth[at] - way.back[at]) * apart
        unsure += way.blur[at] * abs(apart)
    return falls, unsure


@compiled
def conductances(way: Way, between: Array, ground: Array) -> None:
    """The links' slopes as conductances between the rooms, below the diagonal, and to the outdoors.

    A room that hangs on to the rest by next to nothing would be thrown about by the last digits of its flows.
    So each is tied to where it is by less than nothing; that takes no part in the balance.
    """
    rooms = len(ground)
    between[:] = 0.0
    for at in range(len(way.link)):
        a, b = way.start[at], way.end[at]
        between[max(a, b), min(a, b)] += way.slope[at]
    ground[:] = _TIE * NOTHING
    for face in range(rooms, len(between)):
        for room in range(rooms):
            ground[room] += between[face, room]


@compiled
def secants(way: Way, before: Array, step: Array) -> None:
    """Put into the slopes what they were on average over a step, from what was found at its two ends;
    ``before`` holds the flows forth and back and the slopes at its start."""
    for at in range(len(way.link)):
        apart = step[way.start[at]] - step[way.end[at]]
        slope = before[2, at]
        if abs(apart) > _UNMOVED:
            more = way.forth[at] - way.back[at] - before[0, at] + before[1, at]
            slope = max(more / apart, 0.0)
        way.slope[at] = slope
