"""Glazing as a row of places that pass heat to their neighbours, and the step that brings it to rest.

Places are the faces from outdoors to the room; links are the outer film, pane, gap, pane … inner film.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sashwright.physics.cavity import (
    across_gas,
    exchange,
    radiation,
    radiation_slope,
    room_convection,
)
from sashwright.physics.glazing.layers import Gap, Pane

Array = NDArray[np.float64]

# For a first guess, of no effect on the answer: what 1 K radiates between black faces at some 5 °C, the
# conductivity of air, what a gas carries that moves, what the air of a room carries.
_RADIATED, _GAS, _CARRIED, _ROOM = 5.0, 0.025, 2.0, 3.0


@dataclass(frozen=True, slots=True)
class Around:
    """What stands around the glazing, the states in one row; ``sun`` is that set free at each face.

    Temperatures [K], films for convection [W/(m2 K)], sun [W/m2], height of the glass [m].
    """

    outdoor: Array
    indoor: Array
    outdoor_radiant: Array
    indoor_radiant: Array
    outside: Array
    inside: Array | None
    sun: list[Array] | None
    height: Array | float

    def only(self, picked: slice) -> Around:
        return Around(
            self.outdoor[picked],
            self.indoor[picked],
            self.outdoor_radiant[picked],
            self.indoor_radiant[picked],
            self.outside[picked],
            None if self.inside is None else self.inside[picked],
            None if self.sun is None else [each[picked] for each in self.sun],
            self.height if isinstance(self.height, float) else self.height[picked],
        )


@dataclass(frozen=True, slots=True)
class Link:
    """Between two neighbours: ``outward`` heat flow [W/m2], and what it hangs on.

    ``coefficient`` is the flow over the difference, of a film that of convection and radiation together;
    by ``outer`` the flow falls as the place towards outdoors warms, by ``inner`` it grows as that towards
    the room does [W/(m2 K)]. The last two are near: they neglect what temperature does to the gas, which
    costs a little speed and nothing else.
    """

    coefficient: Array | float
    outward: Array
    outer: Array | float
    inner: Array | float


def links(
    panes: Sequence[Pane], gaps: Sequence[Gap], around: Around, faces: Sequence[Array] | Array
) -> list[Link]:
    """All links at these temperatures of the faces [K]."""
    found = [_outer_film(panes[0].emissivity_outside, around, faces[0])]
    for k, pane in enumerate(panes):
        outer, inner = faces[2 * k], faces[2 * k + 1]
        ease = pane.conductivity / pane.thickness
        found.append(Link(ease, ease * (inner - outer), ease, ease))
        if k < len(gaps):
            emissivities = pane.emissivity_inside, panes[k + 1].emissivity_outside
            found.append(_gap(gaps[k], emissivities, around.height, (inner, faces[2 * k + 2])))
    found.append(_inner_film(panes[-1].emissivity_inside, around, faces[-1]))
    return found


def _gap(
    gap: Gap, emissivities: tuple[float, float], height: Array | float, faces: tuple[Array, Array]
) -> Link:
    outer, inner = faces
    gas = across_gas(gap.gas, gap.share, gap.width, height, faces)
    seen = exchange(emissivities)
    coefficient = gas.coefficient + radiation(seen, outer, inner)
    carried = gas.coefficient * (1 + gas.growth)
    return Link(
        coefficient,
        coefficient * (inner - outer),
        carried + radiation_slope(seen, outer),
        carried + radiation_slope(seen, inner),
    )


def _outer_film(emissivity: float, around: Around, face: Array) -> Link:
    radiated = radiation(emissivity, face, around.outdoor_radiant)
    flow = around.outside * (face - around.outdoor) + radiated * (face - around.outdoor_radiant)
    return Link(
        around.outside + radiated, flow, 0.0, around.outside + radiation_slope(emissivity, face)
    )


def _inner_film(emissivity: float, around: Around, face: Array) -> Link:
    if around.inside is None:
        air = room_convection(around.indoor, face, around.height)
        coefficient, carried = air.coefficient, air.coefficient * (1 + air.growth)
    else:
        coefficient = carried = around.inside
    radiated = radiation(emissivity, face, around.indoor_radiant)
    flow = coefficient * (around.indoor - face) + radiated * (around.indoor_radiant - face)
    return Link(coefficient + radiated, flow, carried + radiation_slope(emissivity, face), 0.0)


def guessed(panes: Sequence[Pane], gaps: Sequence[Gap], around: Around) -> list[Array]:
    """Faces [K] to start from: with films and gaps of a common size, the same in every state."""
    outer, inner = panes[0].emissivity_outside, panes[-1].emissivity_inside
    eases: list[Array | float] = [around.outside + _RADIATED * outer]
    for k, pane in enumerate(panes):
        eases.append(pane.conductivity / pane.thickness)
        if k < len(gaps):
            seen = exchange((pane.emissivity_inside, panes[k + 1].emissivity_outside))
            eases.append(max(_GAS / gaps[k].width, _CARRIED) + _RADIATED * seen)
    eases.append((_ROOM if around.inside is None else around.inside) + _RADIATED * inner)
    # From all faces as cold as outdoors, where only the room's film passes heat.
    still = np.zeros_like(around.outdoor)
    row = [Link(ease, still, ease, ease) for ease in eases]
    row[-1] = Link(eases[-1], eases[-1] * (around.indoor - around.outdoor), eases[-1], 0.0)
    return [around.outdoor + rise for rise in step(row, around.sun)]


def step(row: Sequence[Link], sources: Sequence[Array] | None = None) -> list[Array]:
    r"""By how much each place must warm for no heat to be left over there, were the links straight lines.

    Newton's step. With link j outward of place j and what is left over,
    :math:`r_j = q_{j+1} - q_j + s_j`, it solves

    .. math:: (o_{j+1} + i_j)\, t_j = r_j + i_{j+1} t_{j+1} + o_j t_{j-1}

    by elimination from outdoors to the room and back.

    Parameters
    ----------
    row : sequence
        Links, one more than places.
    sources : sequence of arrays, optional
        Heat set free at each place [W/m2].
    """
    count = len(row) - 1
    left: list[Array] = []
    ease: list[Array | float] = []
    for j, (towards, beyond) in enumerate(itertools.pairwise(row)):
        over = beyond.outward - towards.outward
        if sources is not None:
            over = over + sources[j]
        total = beyond.outer + towards.inner
        if j:
            share = towards.outer / ease[-1]
            over = over + share * left[-1]
            total = total - share * towards.inner
        left.append(over)
        ease.append(total)
    warmer = [left[-1] / ease[-1]]
    for j in range(count - 2, -1, -1):
        warmer.append((left[j] + row[j + 1].inner * warmer[-1]) / ease[j])
    return warmer[::-1]
