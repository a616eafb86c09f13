"""What happens to a house in each step: weather, gains, set points, air flows."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sashwright.physics.house_heat.factors import Factors

Array = NDArray[np.float64]
Whole = NDArray[np.int64]


class Hours(NamedTuple):
    """What happens to the house in each of H steps; R rooms. Made by :func:`hours`."""

    state: Whole
    """Which state of the house, (H,)."""
    outdoors: Array
    """Air outdoors, (H,) [°C]."""
    beyond: Array
    """Behind each exposure, (H, columns) [°C]."""
    convective: Array
    """Gains to the air, (H, R) [W]."""
    radiant: Array
    """Gains to the faces, shared by their radiation, (H, R) [W]."""
    sun: Array
    """Gains to the faces that the sun falls on, by their ``sunlit``, (H, R) [W]."""
    heat_to: Array
    """Set points, -inf for no heating, (H, R) [°C]."""
    cool_to: Array
    """Set points, inf for no cooling, (H, R) [°C]."""


class Flows(NamedTuple):
    """Air in each of H steps: ``fresh`` from outdoors, (H, R), ``between`` rooms, (H, from, to) [kg/s]."""

    fresh: Array
    between: Array


def hours(
    f: Factors,
    outdoors: Array,
    beyond: Array,
    *,
    convective: ArrayLike = 0.0,
    radiant: ArrayLike = 0.0,
    sun: ArrayLike = 0.0,
    heat_to: ArrayLike = -np.inf,
    cool_to: ArrayLike = np.inf,
    state: ArrayLike = 0,
) -> Hours:
    """Check and fill up what happens to a house; single numbers and rows are repeated.

    Raises
    ------
    ValueError
        When a shape does not fit, a value is no number, or heating would be set above cooling.
    """
    count, rooms = len(outdoors), len(f.air_store)
    columns = int(f.exposure.max()) + 1
    if beyond.ndim != 2 or beyond.shape[0] != count or beyond.shape[1] < columns:
        raise ValueError(
            f"exposures: found shape {beyond.shape}, expected {count} rows and at least {columns} columns"
        )

    def each(name: str, values: ArrayLike) -> Array:
        try:
            found = np.broadcast_to(np.asarray(values, dtype=np.float64), (count, rooms))
        except ValueError as error:
            raise ValueError(
                f"{name}: found shape {np.shape(values)}, expected what fits ({count}, {rooms})"
            ) from error
        if np.isnan(found).any():
            raise ValueError(f"{name}: found a value that is no number")
        return own(found)

    states = np.array(np.broadcast_to(state, (count,)), dtype=np.int64, order="C")
    if states.min() < 0 or states.max() >= len(f.hold):
        raise ValueError(f"state: expected 0 to {len(f.hold) - 1} in every hour")
    made = Hours(
        states,
        own(outdoors),
        own(beyond),
        each("convective gains", convective),
        each("radiant gains", radiant),
        each("sun", sun),
        each("heating", heat_to),
        each("cooling", cool_to),
    )
    if not (np.isfinite(made.outdoors).all() and np.isfinite(made.beyond).all()):
        raise ValueError("temperatures outdoors: found a value that is no number")
    if (made.heat_to > made.cool_to).any():
        raise ValueError("set points: found heating above cooling, expected it below or the same")
    return made


def own(values: Array) -> Array:
    """A copy in one piece that may be written to: of one kind, so that nothing is compiled twice."""
    return np.array(values, dtype=np.float64, order="C")


def flows(
    f: Factors, count: int, fresh: ArrayLike = 0.0, between: ArrayLike | None = None
) -> Flows:
    """Air flows for so many steps [kg/s]; what is the same in all of them is repeated.

    Raises
    ------
    ValueError
        When a shape does not fit or a flow is below zero.
    """
    rooms = len(f.air_store)
    shapes = (count, rooms), (count, rooms, rooms)
    given = fresh, np.zeros((rooms, rooms)) if between is None else between
    full = [
        own(np.broadcast_to(np.asarray(value, dtype=np.float64), shape))
        for value, shape in zip(given, shapes, strict=True)
    ]
    if not all((value >= 0).all() for value in full):
        raise ValueError("air flows: expected none below 0 kg/s")
    return Flows(*full)


def mass_flow(air_changes: float, volume: float, density: float) -> float:
    """Air changes an hour of a volume [m3] as a flow of mass [kg/s]; ``density`` of the air outdoors."""
    return air_changes * volume * density / 3600.0
