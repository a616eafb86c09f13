"""Heat through upright glazing at the centre, balanced face by face, for any number of states at once.

Method: ISO 15099:2003, 5, as quoted in public sources: gas properties at the mean temperature of each gap,
the correlations of :mod:`sashwright.physics.cavity`, longwave radiation at the true temperatures.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sashwright.physics.cavity import (
    across_gas,
    between_faces,
    room_convection,
    to_surroundings,
)
from sashwright.physics.gases import KELVIN
from sashwright.physics.glazing.conditions import Conditions
from sashwright.physics.glazing.layers import Gap, Pane, check_stack

Array = NDArray[np.float64]

ENOUGH = 1e-5
"""A state is settled when no face moves by more in a step [K]."""
# Where the difference across a film or gap grows its coefficient grows too, which takes back up to a third
# of the growth: with this part of each step states settle in fewer rounds than with whole steps.
_PART = 0.9
_ROUNDS = 100


@dataclass(frozen=True, slots=True)
class Balance:
    """Glazing at rest in its surroundings; ``...`` is the shape of the states.

    ``faces`` temperature of each face from outdoors to the room [°C], shape (2 panes, ...);
    ``resistances`` of outer film, pane, gap, pane … inner film [m2 K/W], shape (2 panes + 1, ...);
    ``u`` one over their sum [W/(m2 K)]; ``from_room`` and ``to_outdoors`` heat flow outward at the room's
    face and at the outer one [W/m2]: they differ by what the panes absorb.
    """

    faces: Array
    resistances: Array
    u: Array
    from_room: Array
    to_outdoors: Array


def detailed_balance(
    panes: Sequence[Pane],
    gaps: Sequence[Gap],
    conditions: Conditions,
    *,
    height: float = 1.0,
    absorbed: Sequence[Array | float] | None = None,
) -> Balance:
    """Temperatures of the faces, heat flow and U of upright glazing.

    Parameters
    ----------
    panes, gaps : sequence
        From outdoors to the room. A gap may be wide, as behind a storm sash (15 to 150 mm), but closed.
    conditions : Conditions
        On both sides; arrays are as many states.
    height : float
        Of the glass [m]: of the cavities and of the air that falls along the room's face.
    absorbed : sequence of float or array, optional
        Sun taken up in each pane [W/m2]; half of it is set free at either face.

    Returns
    -------
    Balance

    Raises
    ------
    ValueError
        If the stack does not fit, or a state did not settle.

    Notes
    -----
    U is that of the films and gaps found, so it is defined even where both sides are equally warm. Where
    the radiant temperatures are the airs' and no sun shines, it is the flow over the difference. Gaps
    with a Rayleigh number above ``cavity.HIGHEST_RAYLEIGH`` (90 mm of air with 20 K across) are beyond
    the measurements.
    """
    check_stack(panes, gaps)
    if height <= 0:
        raise ValueError(f"found a height of {height} m, expected more than 0")
    state = _flattened(conditions, absorbed, len(panes))
    network = _Network(panes, gaps, height)
    faces, resistances, ends = _settled(network, state)
    shape = state.shape

    def shaped(values: Array) -> Array:
        return values.reshape(values.shape[:-1] + shape)

    return Balance(
        faces=shaped(faces - KELVIN),
        resistances=shaped(resistances),
        u=shaped(1 / resistances.sum(axis=0)),
        from_room=shaped((ends[1] - faces[-1]) / resistances[-1]),
        to_outdoors=shaped((faces[0] - ends[0]) / resistances[0]),
    )


@dataclass(frozen=True, slots=True)
class _State:
    """Surroundings in K and sun at each face [W/m2], the states in one row."""

    shape: tuple[int, ...]
    outdoor: Array
    indoor: Array
    outdoor_radiant: Array
    indoor_radiant: Array
    outside: Array
    inside: Array | None
    sun: Array | None

    def only(self, picked: NDArray[np.bool_]) -> _State:
        return _State(
            self.shape,
            self.outdoor[picked],
            self.indoor[picked],
            self.outdoor_radiant[picked],
            self.indoor_radiant[picked],
            self.outside[picked],
            None if self.inside is None else self.inside[picked],
            None if self.sun is None else self.sun[:, picked],
        )


def _flattened(
    conditions: Conditions, absorbed: Sequence[Array | float] | None, panes: int
) -> _State:
    if absorbed is not None and len(absorbed) != panes:
        raise ValueError(f"found {len(absorbed)} absorbed values, expected one for each of {panes}")
    c = conditions
    given = [c.outdoor, c.indoor, c.outside_convection]
    optional = [c.outdoor_radiant, c.indoor_radiant, c.inside_convection]
    shape = np.broadcast_shapes(
        *(np.shape(value) for value in [*given, *optional, *(absorbed or ())] if value is not None)
    )

    def row(value: Array | float) -> Array:
        return np.broadcast_to(np.asarray(value, dtype=np.float64), shape).reshape(-1)

    outdoor, indoor = row(c.outdoor) + KELVIN, row(c.indoor) + KELVIN
    if not (np.isfinite(outdoor).all() and np.isfinite(indoor).all()):
        raise ValueError("found a temperature that is no number")
    if np.min(c.outside_convection) <= 0:
        raise ValueError("found no convection outdoors, expected more than 0 W/(m2 K)")
    return _State(
        shape,
        outdoor,
        indoor,
        outdoor if c.outdoor_radiant is None else row(c.outdoor_radiant) + KELVIN,
        indoor if c.indoor_radiant is None else row(c.indoor_radiant) + KELVIN,
        row(c.outside_convection),
        None if c.inside_convection is None else row(c.inside_convection),
        None
        if absorbed is None
        else np.repeat(np.stack([row(a) for a in absorbed]) / 2, 2, axis=0),
    )


@dataclass(frozen=True, slots=True)
class _Network:
    """The glazing as a row of resistances, whose values hang on the temperatures of the faces."""

    panes: Sequence[Pane]
    gaps: Sequence[Gap]
    height: float

    def resistances(self, faces: Array, state: _State) -> tuple[Array, tuple[Array, Array]]:
        """Those at these temperatures [m2 K/W], and what stands at both ends of the row [K]."""
        values = np.empty((len(faces) + 1, faces.shape[1]))
        for k, pane in enumerate(self.panes):
            values[2 * k + 1] = pane.thickness / pane.conductivity
        for k, gap in enumerate(self.gaps):
            values[2 * k + 2] = 1 / self._gap(k, gap, (faces[2 * k + 1], faces[2 * k + 2]))
        inside = state.inside
        if inside is None:
            inside = room_convection(state.indoor, faces[-1], self.height)
        emissivities = self.panes[0].emissivity_outside, self.panes[-1].emissivity_inside
        outer = to_surroundings(emissivities[0], faces[0], state.outdoor_radiant)
        inner = to_surroundings(emissivities[1], faces[-1], state.indoor_radiant)
        values[0], values[-1] = 1 / (state.outside + outer), 1 / (inside + inner)
        ends = (
            (state.outside * state.outdoor + outer * state.outdoor_radiant) * values[0],
            (inside * state.indoor + inner * state.indoor_radiant) * values[-1],
        )
        return values, ends

    def _gap(self, k: int, gap: Gap, faces: tuple[Array, Array]) -> Array:
        emissivities = self.panes[k].emissivity_inside, self.panes[k + 1].emissivity_outside
        gas = across_gas(gap.gas, gap.share, gap.width, self.height, faces)
        return gas + between_faces(emissivities, faces)


def _settled(network: _Network, state: _State) -> tuple[Array, Array, tuple[Array, Array]]:
    """Faces [K], resistances and ends when nothing moves any more. Settled states are left alone."""
    count = 2 * len(network.panes)
    rise = np.linspace(0, 1, count + 2)[1:-1, None]
    faces = state.outdoor + (state.indoor - state.outdoor) * rise
    moving = np.ones(faces.shape[1], dtype=bool)
    some, those = faces, state
    for _ in range(_ROUNDS):
        resistances, ends = network.resistances(some, those)
        step = chain_temperatures(resistances, ends, those.sun) - some
        off = np.abs(step).max(axis=0) > ENOUGH
        some = some + _PART * step
        faces[:, moving] = some
        if not off.any():
            return faces, *network.resistances(faces, state)
        # Picking costs as much as a few operations on all: it pays when many have settled.
        if off.mean() < 0.7:
            moving[moving] = off
            some, those = some[:, off], those.only(off)
    raise ValueError(f"{int(off.sum())} states of the glazing did not settle in {_ROUNDS} rounds")


def chain_temperatures(
    resistances: Array, ends: tuple[Array, Array], sources: Array | None = None
) -> Array:
    r"""Temperatures between resistances in row, with heat set free at each place between them.

    With :math:`R_k` from the first end to place k and R the whole,

    .. math::
        T_k = T_0 + (T_1 - T_0) R_k/R + \sum_j s_j \min(R_k, R_j) (R - \max(R_k, R_j)) / R

    Parameters
    ----------
    resistances : array
        Shape (places + 1, ...) [m2 K/W].
    ends : two arrays
        Temperatures at the ends.
    sources : array, optional
        Shape (places, ...) [W/m2].
    """
    sums = np.cumsum(resistances, axis=0)
    to, whole = sums[:-1], sums[-1]
    temperatures: Array = ends[0] + (ends[1] - ends[0]) * (to / whole)
    if sources is None:
        return temperatures
    # Outward of a place its heat adds up with the resistance up to there, inward with the rest.
    up_to = np.cumsum(sources * to, axis=0)
    beyond = sources * (whole - to)
    rest = np.cumsum(beyond[::-1], axis=0)[::-1] - beyond
    return np.asarray(temperatures + ((whole - to) * up_to + to * rest) / whole)
