"""What a house did in each step, and where its heat went."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from sashwright.physics.compiled import compiled
from sashwright.physics.constants import AIR_HEAT
from sashwright.physics.house_heat.factors import Factors
from sashwright.physics.house_heat.given import Flows, Hours
from sashwright.physics.house_heat.kernel import Now

Array = NDArray[np.float64]


class Out(NamedTuple):
    """The arrays of a :class:`Course` to be filled."""

    air: Array
    radiant: Array
    power: Array
    outward: Array
    by_air: Array
    stored: Array


@dataclass(frozen=True, slots=True, eq=False)
class Course:
    """The house in each of H steps: temperatures at their end [°C], heat as means over them [W]."""

    air: Array
    """(H, R)"""
    radiant: Array
    """Mean of the faces of each room by their area, (H, R)."""
    power: Array
    """Heat given to the air, cooling below zero, (H, R)."""
    outward: Array
    """Heat that leaves each element at its outer face, (H, E)."""
    by_air: Array
    """Heat that air flows take from each room, (H, R)."""
    stored: Array
    """Heat that goes into air, furniture and elements, (H,)."""
    flows: Flows
    """The air flows it was found with."""

    @property
    def operative(self) -> Array:
        """Mean of air and radiant temperature, (H, R) [°C]; ISO 52016-1."""
        mean: Array = (self.air + self.radiant) / 2
        return mean

    @property
    def heating(self) -> Array:
        """(H, R) [W]"""
        return np.maximum(self.power, 0.0)

    @property
    def cooling(self) -> Array:
        """Above zero, (H, R) [W]"""
        return np.maximum(-self.power, 0.0)


def blank(f: Factors, count: int) -> Out:
    """Arrays for so many steps."""
    rooms, elements = len(f.air_store), len(f.exposure)
    return Out(
        np.empty((count, rooms)),
        np.empty((count, rooms)),
        np.empty((count, rooms)),
        np.empty((count, elements)),
        np.empty((count, rooms)),
        np.empty(count),
    )


@compiled
def note(
    f: Factors, during: Hours, h: int, fresh: Array, between: Array, now: Now, out: Out
) -> None:
    """Write down step h, as it has been found with these air flows."""
    out.air[h] = now.air
    out.power[h] = now.power
    for z in range(len(now.air)):
        taken = fresh[z] * (now.air[z] - during.outdoors[h])
        for y in range(len(now.air)):
            if y != z:
                taken += between[y, z] * (now.air[z] - now.air[y])
        out.by_air[h, z] = AIR_HEAT * taken
    out.stored[h] = (f.store * (now.nodes - now.before)).sum()
    out.stored[h] += (f.air_store * (now.air - now.earlier)).sum()
    _note_faces(f, now, out.radiant[h])
    _note_outward(f, during, h, now, out.outward[h])


@compiled
def _note_faces(f: Factors, now: Now, radiant: Array) -> None:
    area = np.zeros(len(radiant))
    radiant[:] = 0.0
    for s in range(len(f.node)):
        area[f.room[s]] += f.area[s]
        radiant[f.room[s]] += f.area[s] * now.nodes[f.node[s]]
    radiant /= area


@compiled
def _note_outward(f: Factors, during: Hours, h: int, now: Now, outward: Array) -> None:
    state = during.state[h]
    for e in range(len(outward)):
        face = now.nodes[f.first[e]]
        if f.exposure[e] >= 0:
            outward[e] = f.outer[state, e] * (face - during.beyond[h, f.exposure[e]])
        else:
            s = f.mate[e]
            z = f.room[s]
            to_air = f.convection[state, s] * (face - now.air[z])
            outward[e] = to_air + f.radiation[state, s] * (face - now.star[z])
