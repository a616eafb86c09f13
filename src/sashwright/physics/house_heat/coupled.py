"""The house and the air that moves through it, each depending on the other, hour by hour.

Warm rooms draw air in and lose heat by it. Within each hour the airflow network and the balance of the
rooms' air take turns until no room's temperature would change by more than :data:`ENOUGH`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sashwright.physics.compiled import compiled
from sashwright.physics.constants import KELVIN, STANDARD_PRESSURE
from sashwright.physics.house_heat.course import Course, Out, blank, note
from sashwright.physics.house_heat.factors import Factors
from sashwright.physics.house_heat.given import Flows, Hours, own
from sashwright.physics.house_heat.kernel import Now, at_rest, begin, finish, settle
from sashwright.physics.house_heat.year import WARM_UP
from sashwright.physics.network.hour import Links, solve_hour
from sashwright.physics.psychrometrics import GAS_CONSTANT_DRY_AIR

Array = NDArray[np.float64]
Whole = NDArray[np.int64]

ENOUGH = 0.01
"""The air flows and the temperatures they lead to agree when no room is off by more [K]."""
MOST_TURNS = 8000
"""Far beyond what any house of the tests takes."""

# From this turn on steps have a fixed length, halved each time that eight over it have not settled.
_PATIENCE = 12
_LEAST = 0.02


class Air(NamedTuple):
    """An airflow network over H steps; its zones are the rooms, in their order. Made by :func:`air`."""

    links: Links
    level: Array
    """Height of each room's pressure, (R,) [m]."""
    wind: Array
    """Pressure on each face, (H, faces) [Pa]."""
    fraction: Array
    """How much of each link is open, (H, links) [-]."""
    pressure: Array
    """Of the atmosphere, (H,) [Pa]."""


@dataclass(frozen=True, slots=True, eq=False)
class Coupled:
    """The course of a house whose air flows follow from its own warmth.

    ``turns`` that each step took, (H,); ``off``, by how much the flows' temperatures and those that they
    lead to still differ, (H,) [K]; ``forth`` and ``back``, flow of each link either way, (H, links) [kg/s].
    """

    course: Course
    turns: Whole
    off: Array
    forth: Array
    back: Array


def air(
    links: Links,
    level: ArrayLike,
    count: int,
    *,
    wind: ArrayLike = 0.0,
    fraction: ArrayLike = 1.0,
    pressure: ArrayLike = STANDARD_PRESSURE,
) -> Air:
    """Check and fill up what moves the air in so many steps.

    Raises
    ------
    ValueError
        When a shape does not fit, or a fraction is not from 0 to 1.
    """
    levels = np.asarray(level, dtype=np.float64)
    faces = max(int(links.start.max(initial=-1)), int(links.end.max(initial=-1))) + 1 - len(levels)
    winds = np.asarray(wind, dtype=np.float64)
    # A face that no link reaches may stand in the wind all the same.
    faces = max(faces, winds.shape[-1] if winds.ndim else 0)

    def filled(name: str, values: ArrayLike, shape: tuple[int, ...]) -> Array:
        try:
            found = np.broadcast_to(np.asarray(values, dtype=np.float64), shape)
        except ValueError as error:
            raise ValueError(
                f"{name}: found shape {np.shape(values)}, expected what fits {shape}"
            ) from error
        if not np.isfinite(found).all():
            raise ValueError(f"{name}: found a value that is no number")
        return own(found)

    made = Air(
        links,
        own(levels),
        filled("wind", winds, (count, faces)),
        filled("fraction", fraction, (count, len(links.start))),
        filled("pressure", pressure, (count,)),
    )
    if ((made.fraction < 0) | (made.fraction > 1)).any():
        raise ValueError("fraction: found a value beyond 0 to 1")
    return made


def coupled(
    f: Factors, during: Hours, moved: Air, *, start: float = 20.0, warm_up: int = WARM_UP
) -> Coupled:
    """The course of the house with the air flows that its warmth and the wind make.

    Parameters
    ----------
    f, during, start, warm_up
        As for :func:`~sashwright.physics.house_heat.year.simulate`.
    moved : Air
        What moves the air.

    Raises
    ------
    ValueError
        When the network has other rooms than the house, or other hours than the weather.
    RuntimeError
        When in some step heating and cooling could not be told apart, or heat and air did not agree.
    """
    count, rooms = during.convective.shape
    if len(moved.level) != rooms or len(moved.wind) != count:
        raise ValueError(
            f"network: found {len(moved.level)} rooms and {len(moved.wind)} hours, expected {rooms} and "
            f"{count}"
        )
    out = blank(f, count)
    given = Flows(np.zeros((count, rooms)), np.zeros((count, rooms, rooms)))
    links = len(moved.links.start)
    found = _Found(
        given,
        np.zeros((count, links)),
        np.zeros((count, links)),
        np.zeros(count, dtype=np.int64),
        np.zeros(count),
    )
    failed = _run(f, during, moved, start, min(warm_up, count), found, out)
    if failed >= 0:
        raise RuntimeError(f"step {failed}: heat and air flows did not come to agree")
    return Coupled(Course(*out, flows=given), found.turns, found.off, found.forth, found.back)


class _Found(NamedTuple):
    flows: Flows
    forth: Array
    back: Array
    turns: Whole
    off: Array


@compiled
def _run(
    f: Factors,
    during: Hours,
    moved: Air,
    start: float,
    warm_up: int,
    found: _Found,
    out: Out,
) -> int:
    """Fill ``found`` and ``out``; the step that failed, or -1."""
    count = len(during.outdoors)
    now = at_rest(f, start)
    pressure = np.zeros(len(now.air))
    for at in range(-warm_up, count):
        h = at % count
        begin(f, during, h, now)
        found.turns[h], found.off[h] = agree(f, during, moved, h, pressure, found, now)
        if found.off[h] > ENOUGH:
            return h
        finish(f, during, h, now)
        if at >= 0:
            note(f, during, h, found.flows.fresh[h], found.flows.between[h], now, out)
    return -1


@compiled
def agree(
    f: Factors,
    during: Hours,
    moved: Air,
    h: int,
    pressure: Array,
    found: _Found,
    now: Now,
) -> tuple[int, float]:
    """Air and its flows in step h, after :func:`begin`: how many turns, and how far off they still are [K].

    Each turn takes a step towards the temperatures that the flows lead to, whose length follows from how
    much nearer the last one came (Irons and Tuck, *Int. J. Numerical Methods in Engineering* 1 (1969)
    275-277). Where that does not settle, the steps are a half of the way, then a quarter, and so on.
    """
    rooms = len(now.air)
    fresh, between = found.flows.fresh[h], found.flows.between[h]
    trial = now.air.copy()
    density = np.empty(rooms)
    miss, last = np.zeros(rooms), np.zeros(rooms)
    part, left, furthest = 1.0, 0, np.inf
    for turn in range(1, MOST_TURNS + 1):
        for z in range(rooms):
            density[z] = moved.pressure[h] / (GAS_CONSTANT_DRY_AIR * (trial[z] + KELVIN))
        outside = moved.pressure[h] / (GAS_CONSTANT_DRY_AIR * (during.outdoors[h] + KELVIN))
        solve_hour(
            moved.links,
            moved.level,
            density,
            outside,
            moved.wind[h],
            moved.fraction[h],
            pressure,
            found.forth[h],
            found.back[h],
        )
        _gather(moved.links, found.forth[h], found.back[h], fresh, between)
        if settle(f, during, h, fresh, between, now) == 0:
            return turn, np.inf
        last[:] = miss
        miss[:] = now.air - trial
        furthest = np.abs(miss).max()
        if furthest <= ENOUGH:
            return turn, furthest
        if turn == _PATIENCE:
            part, left = 0.5, 16
        elif turn > _PATIENCE:
            left -= 1
            if left == 0:
                part *= 0.5
                left = int(8 / part)
        elif turn > 1:
            change = miss - last
            length = (change * change).sum()
            if length > 0.0:
                part *= -(last * change).sum() / length
            part = min(max(part, _LEAST), 1.0)
        trial += part * miss
    return MOST_TURNS, furthest


@compiled
def _gather(links: Links, forth: Array, back: Array, fresh: Array, between: Array) -> None:
    """The flows of links as flows into rooms."""
    rooms = len(fresh)
    fresh[:] = 0.0
    between[:] = 0.0
    for link in range(len(links.start)):
        a, b = links.start[link], links.end[link]
        if a < rooms and b < rooms:
            between[a, b] += forth[link]
            between[b, a] += back[link]
        elif b < rooms:
            fresh[b] += forth[link]
        elif a < rooms:
            fresh[a] += back[link]
