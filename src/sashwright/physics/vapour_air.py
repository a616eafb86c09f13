"""Air that a space between two panes exchanges with the room on one side and outdoors on the other.

One volume of one temperature, with openings at their heights to either side: each passes air by the power
law under the difference of pressure at its height, and the pressure of the space settles where what comes
in goes out. The mean pressure across the window, the draught of the warm space itself between its low and
high openings, and both at once are one calculation. ASHRAE Handbook of Fundamentals, chapter on ventilation
and infiltration: power law, pressures of still columns of air.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sashwright.physics.constants import GRAVITY, KELVIN
from sashwright.physics.leakage import AIR_DENSITY

Array = NDArray[np.float64]

ENOUGH = 1e-7
"""The pressure of the space is found when in- and outflow differ by no more than this part of them [-]."""

_TURNS = 60


@dataclass(frozen=True, slots=True, eq=False)
class Openings:
    """Openings to one side; each field has openings along the first axis, further axes are cases.

    ``coefficient`` C [m3/(s Pa^n)], ``exponent`` n [-], ``height`` [m] above the foot of the space.
    """

    coefficient: Array
    exponent: Array
    height: Array

    def shaped(self, states: int) -> tuple[Array, Array, Array]:
        """The three, with room for states between openings and cases."""
        cases = self.coefficient.shape[1:]
        axes = (len(self.coefficient),) + (1,) * states
        C = self.coefficient.reshape(axes + cases)
        n, z = (
            values.reshape(axes + (cases if values.ndim > 1 else (1,) * len(cases)))
            for values in (self.exponent, self.height)
        )
        return C, n, z


def space_exchange(
    to_room: Openings,
    to_outdoors: Openings,
    pressure: ArrayLike,
    temperatures: tuple[ArrayLike, ArrayLike, ArrayLike],
) -> tuple[Array, Array]:
    """Air that comes into the space from the room and from outdoors [m3/s].

    Parameters
    ----------
    to_room, to_outdoors : Openings
        Through the inner and the outer pane's joints, as many cases each.
    pressure : float or array
        Of the room less outdoors, at the foot of the space [Pa].
    temperatures : three floats or arrays
        Of the room, the space and outdoors [°C].

    Returns
    -------
    from the room, from outdoors
        Shape of the states, then that of the cases. Air at 1.2 kg/m3 throughout.

    Notes
    -----
    The difference of in- and outflow falls without a turn as the pressure of the space rises, so the root
    lies between the pressures at which no opening lets anything in, and none lets anything out.
    """
    states = np.broadcast_arrays(*(np.asarray(v, float) for v in (pressure, *temperatures)))
    cases = to_room.coefficient.shape[1:]
    # Cases stand behind the states.
    p, room, space, outdoors = (v.reshape(v.shape + (1,) * len(cases)) for v in states)
    depth = states[0].ndim
    # At height z the room stands at p - grows_r z over the space, outdoors at -grows_o z.
    sides = [
        (*to_room.shaped(depth), p, _column(space, room)),
        (*to_outdoors.shaped(depth), np.zeros_like(p), _column(space, outdoors)),
    ]
    drives = [level + grows * z for _, _, z, level, grows in sides]
    shape = np.broadcast_shapes(*(drive.shape[1:] for drive in drives), states[0].shape + cases)
    inner = _settled(
        [(C, n, drive) for (C, n, *_), drive in zip(sides, drives, strict=True)], shape
    )
    flows = []
    for (C, n, *_), drive in zip(sides, drives, strict=True):
        across = np.maximum(drive - inner, 0.0)
        flows.append(np.asarray(np.broadcast_to((C * across**n).sum(axis=0), shape)))
    return flows[0], flows[1]


def _column(space: Array, side: Array) -> Array:
    """What a metre of height adds to the pressure of a side over that of the space [Pa/m]."""
    kelvin = (space + side) / 2 + KELVIN
    return np.asarray(AIR_DENSITY * GRAVITY * (side - space) / kelvin)


def _settled(sides: list[tuple[Array, Array, Array]], shape: tuple[int, ...]) -> Array:
    """Pressure of the space at its foot [Pa]: false position after the Illinois rule."""

    def surplus(inner: Array) -> tuple[Array, Array]:
        net, whole = np.zeros(shape), np.zeros(shape)
        for C, n, drive in sides:
            across = drive - inner
            flow = C * np.abs(across) ** n
            net += (np.sign(across) * flow).sum(axis=0)
            whole += flow.sum(axis=0)
        return net, whole

    low = np.full(shape, np.inf)
    high = np.full(shape, -np.inf)
    for _, _, drive in sides:
        low, high = np.minimum(low, drive.min(axis=0)), np.maximum(high, drive.max(axis=0))
    at_low, at_high = surplus(low)[0], surplus(high)[0]
    found, last = (low + high) / 2, np.zeros(shape)
    for turn in range(_TURNS):
        spread = at_low - at_high
        found = np.where(
            spread > 0, low + (high - low) * at_low / np.where(spread > 0, spread, 1), low
        )
        if turn % 4 == 3:
            found = (low + high) / 2
        net, whole = surplus(found)
        if np.all(np.abs(net) <= ENOUGH * whole):
            break
        up, down = net > 0, net < 0
        # The end that stays twice has its value halved, so that it moves at last.
        at_high = np.where(up & (last > 0), at_high / 2, at_high)
        at_low = np.where(down & (last < 0), at_low / 2, at_low)
        low, at_low = np.where(up, found, low), np.where(up, net, at_low)
        high, at_high = np.where(down, found, high), np.where(down, net, at_high)
        exact = net == 0
        low, high = np.where(exact, found, low), np.where(exact, found, high)
        last = np.sign(net)
    return np.asarray(found)
