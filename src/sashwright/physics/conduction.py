"""Steady conduction of heat through a section of a part that runs on unchanged: frames, rails, junctions.

The temperature obeys div(lambda grad T) = 0 between surfaces where heat passes a film; all other edges let
nothing through. Finite elements of second order on triangles, refined where the flow of heat jumps from
one to the next, until the flow stands. Meets the two-dimensional cases of ISO 10211:2017 (annex C).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse.linalg import spsolve
from skfem import (
    Basis,
    BilinearForm,
    ElementTriP0,
    ElementTriP2,
    FacetBasis,
    Functional,
    InteriorFacetBasis,
    LinearForm,
    MeshTri,
    asm,
)
from skfem.helpers import dot, grad

from sashwright.physics.section_mesh import (
    Point,
    Region,
    facets_on,
    loose_parts,
    regions_of,
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
_BULK = 0.7


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


@dataclass(frozen=True, slots=True)
class Conduction:
    """A section at rest.

    ``flows`` into the section through each boundary [W/m]: in sum nothing. ``lowest`` temperature on
    the surface of each boundary [°C]. ``temperatures`` at the points asked for [°C]. ``change`` of the
    flow in the last refinement, a share [-]; ``unknowns``, how many temperatures were solved for.
    """

    flows: tuple[float, ...]
    lowest: tuple[float, ...]
    temperatures: tuple[float, ...]
    change: float
    unknowns: int


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
    if not boundaries:
        raise ValueError("found no boundary, expected at least one")
    mesh = triangles(polygons, [*(b.path for b in boundaries), *((p,) for p in points)])
    if loose_parts(mesh, np.concatenate([facets_on(mesh, b.path) for b in boundaries])):
        raise ValueError("found a part of the section that no boundary touches, expected none")
    flow, calm = float("nan"), 0
    for _ in range(_ROUNDS):
        section = _Section(mesh, polygons, boundaries)
        temperature = section.solved()
        flows = section.flows(temperature)
        new = sum(abs(one) for one in flows) / 2
        change = abs(new - flow) / new if new > 0 else 0.0
        calm = calm + 1 if change <= tolerance else 0
        if calm == 2 or _hardly_any(new, boundaries):
            return Conduction(
                tuple(flows),
                section.lowest(temperature),
                section.at(points, temperature),
                change,
                int(section.basis.N),
            )
        flow = new
        if section.basis.N > _MOST:
            break
        mesh = mesh.refined(section.worst(temperature))
    raise ValueError(f"the flow of heat still changes by {change:.2%} on the finest mesh")


def _hardly_any(flow: float, boundaries: Sequence[Boundary]) -> bool:
    """Whether nothing flows, as between equal temperatures."""
    warm = [b.temperature for b in boundaries]
    return flow < 1e-9 or max(warm) == min(warm)


@BilinearForm
def _conducting(u, v, w):  # type: ignore[no-untyped-def]
    return w.conductivity * dot(grad(u), grad(v))


@BilinearForm
def _through_film(u, v, w):  # type: ignore[no-untyped-def]
    return u * v / w.resistance


@LinearForm
def _from_film(v, w):  # type: ignore[no-untyped-def]
    return w.temperature / w.resistance * v


@Functional
def _entering(w):  # type: ignore[no-untyped-def]
    return (w.temperature - w.u) / w.resistance


@Functional
def _jump(w):  # type: ignore[no-untyped-def]
    across = w.k0 * dot(grad(w.u0), w.n) - w.k1 * dot(grad(w.u1), w.n)
    return w.h * across**2 / (w.k0 + w.k1)


@Functional
def _mismatch(w):  # type: ignore[no-untyped-def]
    return w.h * (w.k * dot(grad(w.u), w.n) - w.given) ** 2 / w.k


class _Section:
    """One mesh of the section, with its equations."""

    def __init__(
        self, mesh: MeshTri, polygons: Sequence[Region], boundaries: Sequence[Boundary]
    ) -> None:
        self.mesh, self.boundaries = mesh, boundaries
        self.basis = Basis(mesh, ElementTriP2())
        of = regions_of(mesh, polygons)
        self.conductivity = np.array([region.conductivity for region in polygons])[of]
        self.films = [
            FacetBasis(mesh, ElementTriP2(), facets=facets_on(mesh, b.path)) for b in boundaries
        ]

    def solved(self) -> Array:
        """Temperature at all unknowns [°C]."""
        constant = self.basis.with_element(ElementTriP0()).interpolate(self.conductivity)
        matrix = asm(_conducting, self.basis, conductivity=constant)
        right = np.zeros(self.basis.N)
        for film, b in zip(self.films, self.boundaries, strict=True):
            matrix = matrix + asm(_through_film, film, resistance=b.resistance)
            right += asm(
                _from_film, film, resistance=b.resistance, temperature=float(b.temperature)
            )
        return np.asarray(spsolve(matrix.tocsc(), right))

    def flows(self, temperature: Array) -> list[float]:
        return [
            float(
                _entering.assemble(
                    film,
                    u=film.interpolate(temperature),
                    temperature=float(b.temperature),
                    resistance=b.resistance,
                )
            )
            for film, b in zip(self.films, self.boundaries, strict=True)
        ]

    def lowest(self, temperature: Array) -> tuple[float, ...]:
        return tuple(
            float(temperature[self.basis.get_dofs(film.find).all()].min()) for film in self.films
        )

    def at(self, points: Sequence[Point], temperature: Array) -> tuple[float, ...]:
        """All points asked for are corners of triangles."""
        found = []
        for x, y in points:
            away = np.hypot(self.mesh.p[0] - x, self.mesh.p[1] - y)
            nearest = int(away.argmin())
            if away[nearest] > 1e-6:
                raise ValueError(f"found a point ({x}, {y}) outside the section")
            found.append(float(temperature[self.basis.nodal_dofs[0, nearest]]))
        return tuple(found)

    def worst(self, temperature: Array) -> NDArray[np.int64]:
        """The triangles that together hold most of the error: where the flow of heat jumps."""
        error = self._jumps(temperature) + self._mismatches(temperature)
        order = np.argsort(error)[::-1]
        sums = np.cumsum(error[order])
        count = int(np.searchsorted(sums, _BULK * sums[-1])) + 1
        return np.asarray(order[:count])

    def _jumps(self, temperature: Array) -> Array:
        sides = [InteriorFacetBasis(self.mesh, ElementTriP2(), side=side) for side in (0, 1)]
        values = {}
        for k, side in enumerate(sides):
            values[f"u{k}"] = side.interpolate(temperature)
            values[f"k{k}"] = self.conductivity[side.tind][:, None]
        jumps = _jump.elemental(sides[0], **values)
        return np.asarray(sum(self._on_triangles(side.tind, jumps) for side in sides))

    def _mismatches(self, temperature: Array) -> Array:
        edge = FacetBasis(self.mesh, ElementTriP2())
        given = np.zeros(edge.dx.shape)
        surface = edge.interpolate(temperature)
        place = {facet: k for k, facet in enumerate(edge.find)}
        for film, b in zip(self.films, self.boundaries, strict=True):
            rows = [place[facet] for facet in film.find]
            given[rows] = (b.temperature - np.asarray(surface)[rows]) / b.resistance
        off = _mismatch.elemental(
            edge, u=surface, k=self.conductivity[edge.tind][:, None], given=given
        )
        return self._on_triangles(edge.tind, off)

    def _on_triangles(self, which: NDArray[np.int64], values: Array) -> Array:
        return np.asarray(
            np.bincount(which, weights=values, minlength=self.mesh.nelements), dtype=np.float64
        )
