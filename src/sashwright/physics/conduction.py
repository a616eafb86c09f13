"""Steady conduction of heat through a section of a part that runs on unchanged: frames, rails, junctions.

The temperature obeys div(lambda grad T) = 0 between surfaces where heat passes a film; all other edges let
nothing through. Finite elements of second order on triangles, refined where the flow of heat jumps from
one to the next, until the flow stands. Meets the two-dimensional cases of ISO 10211:2017 (annex C).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from sashwright.physics.section_elements import Elements, Film
from sashwright.physics.section_mesh import (
    Indices,
    Mesh,
    Point,
    Region,
    loose_parts,
    sides_on,
    triangles,
)

Array = NDArray[np.float64]

TOLERANCE = 0.0005
"""Share of the flow by which it may still change from one mesh to the next, twice in a row [-].

ISO 10211:2017 asks for 0.01.
"""
_ROUNDS = 30
_MOST = 200_000  # unknowns
# Triangles with this share of the error are divided.
_BULK = 0.85


@dataclass(frozen=True, slots=True)
class Boundary:
    """A stretch of the section's edge that heat passes.

    ``path`` along the edge, points in m; ``temperature`` beyond the film [°C]; ``resistance`` of the
    film [m2 K/W], above 0: for a surface held at a temperature a very small one.
    """

    path: tuple[Point, ...]
    temperature: float
    resistance: float

    def __post_init__(self) -> None:
        if len(self.path) < 2:
            raise ValueError(f"found a boundary of {len(self.path)} points, expected at least 2")
        if self.resistance <= 0:
            raise ValueError(
                f"found a film of {self.resistance} m2 K/W, expected more than 0; "
                "for a surface held at a temperature give a very small one"
            )


@dataclass(frozen=True)
class Conduction:
    """A section at rest.

    ``flows`` into the section through each boundary [W/m]: in sum nothing. ``lowest`` temperature on
    the surface of each boundary [°C]. ``temperatures`` at the points asked for [°C]. ``change`` of the
    flow in the last refinement, a share [-]; ``unknowns``, how many temperatures were solved for;
    ``mesh`` with the temperature at each of its nodes, ``at_nodes`` [°C].
    """

    flows: tuple[float, ...]
    lowest: tuple[float, ...]
    temperatures: tuple[float, ...]
    change: float
    unknowns: int
    mesh: Mesh
    at_nodes: Array


def solve(
    polygons: Sequence[Region],
    boundaries: Sequence[Boundary],
    points: Sequence[Point] = (),
    *,
    tolerance: float = TOLERANCE,
) -> Conduction:
    """Flow of heat through a section and temperatures in it.

    Parameters
    ----------
    polygons : sequence of Region
        Where they overlap the later one counts.
    boundaries : sequence of Boundary
        All other edges are adiabatic.
    points : sequence of (x, y)
        Where temperatures are wanted [m], in the section or on its edge.
    tolerance : float
        See ``TOLERANCE``.

    Raises
    ------
    ValueError
        If a boundary is not on the edge, a point not in the section, a part without any boundary, or the
        flow does not come to stand.
    """
    return settled(polygons, boundaries, tolerance).at_rest(points=points)


def settled(
    polygons: Sequence[Region],
    boundaries: Sequence[Boundary],
    tolerance: float = TOLERANCE,
    *,
    bounded: bool = False,
) -> Section:
    """The section on a mesh so fine that the flow stands. Parameters and errors as for ``solve``.

    With ``bounded`` the first polygon is the whole section, and nothing outside it counts.
    """
    if not boundaries:
        raise ValueError("found no boundary, expected at least one")
    mesh = triangles(polygons, [b.path for b in boundaries], bounded=bounded)
    conductivities = np.array([region.conductivity for region in polygons])
    flow, calm, change = float("nan"), 0, 0.0
    for _ in range(_ROUNDS):
        section = Section(mesh, conductivities, boundaries)
        new = sum(abs(one) for one in section.flows(section.own)) / 2
        change = abs(new - flow) / new if new > 0 else 0.0
        calm = calm + 1 if change <= tolerance else 0
        if calm == 2 or _hardly_any(new, boundaries):
            section.change = change
            return section
        flow = new
        if section.elements.unknowns > _MOST:
            break
        mesh = mesh.refined(section.worst())
    raise ValueError(f"the flow of heat still changes by {change:.2%} on the finest mesh")


def _hardly_any(flow: float, boundaries: Sequence[Boundary]) -> bool:
    """Whether nothing flows, as between equal temperatures."""
    warm = [b.temperature for b in boundaries]
    return flow < 1e-9 or max(warm) == min(warm)


class Section:
    """A section on one mesh between its films.

    ``conductivities`` of its polygons [W/(m K)]; ``change`` of the flow in the last refinement, a share
    [-].
    """

    def __init__(self, mesh: Mesh, conductivities: Array, boundaries: Sequence[Boundary]) -> None:
        self.mesh, self.conductivities, self.change = mesh, conductivities, 0.0
        self.elements = Elements(mesh)
        self._films: list[Film] = [
            (sides_on(mesh, b.path), b.resistance, b.temperature) for b in boundaries
        ]
        if loose_parts(mesh, np.concatenate([sides for sides, _, _ in self._films])):
            raise ValueError("found a part of the section that no boundary touches, expected none")

    @cached_property
    def own(self) -> Array:
        """Temperature at all unknowns, with the conductivities the section came with [°C]."""
        return self.solved(self.conductivities)

    def solved(self, conductivities: Array) -> Array:
        """Temperature at all unknowns, with others [°C]: at the corners, then in the middles of sides."""
        return self.elements.temperatures(conductivities[self.mesh.region], self._films)

    def at_rest(
        self, conductivities: Array | None = None, points: Sequence[Point] = ()
    ) -> Conduction:
        """The section with these conductivities, one for each polygon; with its own if none are given."""
        temperature = self.own if conductivities is None else self.solved(conductivities)
        return Conduction(
            tuple(self.flows(temperature)),
            tuple(float(self.elements.on(temperature, film[0]).min()) for film in self._films),
            self._at(points, temperature),
            self.change,
            self.elements.unknowns,
            self.mesh,
            temperature[: len(self.mesh.nodes)],
        )

    def flows(self, temperature: Array) -> list[float]:
        """Into the section through each boundary [W/m]."""
        return [self.elements.entering(temperature, film) for film in self._films]

    def worst(self) -> Indices:
        """The triangles that together hold most of the error: where the flow of heat jumps."""
        error = self.elements.roughness(
            self.own, self.conductivities[self.mesh.region], self._films
        )
        order = np.argsort(error)[::-1]
        sums = np.cumsum(error[order])
        count = int(np.searchsorted(sums, _BULK * sums[-1])) + 1
        return np.asarray(order[:count])

    def _at(self, points: Sequence[Point], temperature: Array) -> tuple[float, ...]:
        found = []
        for point in points:
            here = self.elements.at(temperature, point)
            if here is None:
                raise ValueError(f"found a point {tuple(point)} outside the section")
            found.append(here)
        return tuple(found)
