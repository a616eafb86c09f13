"""How fast heat through a window's sections is found, beside general finite elements.

Run ``python -m benchmarks.heat_sections`` from the project's folder, in its environment. The peer is
scikit-fem used plainly: the same pieces and films, the first mesh refined alike everywhere until the flow
changes by no more than ours may, elements of second order.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from time import process_time

import numpy as np
from scipy.sparse.linalg import spsolve
from skfem import (
    Basis,
    BilinearForm,
    ElementTriP0,
    ElementTriP2,
    FacetBasis,
    LinearForm,
    MeshTri,
    asm,
)
from skfem.helpers import dot, grad

from benchmarks.common import Figure, report, times, typical
from benchmarks.houses import demo_house
from sashwright.chapters.heat import sections as module
from sashwright.chapters.heat.centre import own
from sashwright.chapters.heat.cuts import Cutting
from sashwright.chapters.heat.exposed import exposed
from sashwright.chapters.heat.films import Films
from sashwright.chapters.heat.sections import sections
from sashwright.chapters.heat.spaces import spaces_of
from sashwright.chapters.heat.through import TOLERANCE, Model
from sashwright.knowledge.load import load
from sashwright.physics.conduction import Boundary, settled
from sashwright.physics.section_mesh import Region, sides_on, triangles
from sashwright.window.resolve import Placed, place

NUMBER = "101"
COLD = 2.0
"""All sections of a family with storm and without, in a process that has never seen them [s]."""
UNCHANGED = 0.05
"""The same again [s]."""
AGREE = 0.005
"""Greatest difference of a flow from the peer's [-]."""
FINEST = 4


def both(placed: Placed) -> None:
    for storm in ("none", "exterior"):
        sections(placed, storm=storm)  # type: ignore[arg-type]


def anew(placed: Placed) -> None:
    module._through.forget()
    both(placed)


def prepared(placed: Placed) -> list[tuple[str, list[Region], list[Boundary]]]:
    """Pieces and films of every section behind its storm."""
    films = Films("en")
    found = []
    for cut in Cutting(placed, "exterior", None, own(placed, "en", None)).cuts():
        spaces = spaces_of(cut.anywhere)
        model = Model(cut.anywhere, films, spaces)
        stretches = exposed(cut.anywhere, spaces)
        found.append((cut.name, model.regions(), model.boundaries(stretches)))
    return found


@BilinearForm
def _conducting(u, v, w):  # type: ignore[no-untyped-def]
    return w.conductivity * dot(grad(u), grad(v))


@BilinearForm
def _through_film(u, v, w):  # type: ignore[no-untyped-def]
    return u * v / w.resistance


@LinearForm
def _from_film(v, w):  # type: ignore[no-untyped-def]
    return w.temperature / w.resistance * v


def plainly(regions: list[Region], boundaries: list[Boundary]) -> float:
    """Flow from the room [W/m]."""
    first = triangles(regions, [b.path for b in boundaries], bounded=True)
    mesh = MeshTri(first.nodes.T.copy(), first.triangles.T.copy(), sort_t=False)
    of = first.region
    sides = [first.sides[sides_on(first, b.path)] for b in boundaries]
    flow = np.inf
    for _ in range(FINEST):
        # Every triangle becomes four, one block of them after the other.
        mesh, of = mesh.refined(), np.tile(of, 4)
        new = _flow(mesh, np.array([r.conductivity for r in regions])[of], boundaries, sides, first)
        if abs(new - flow) <= TOLERANCE * abs(new):
            return new
        flow = new
    return flow


def _flow(mesh, conductivity, boundaries, sides, first):  # type: ignore[no-untyped-def]
    element = ElementTriP2()
    basis = Basis(mesh, element)
    constant = basis.with_element(ElementTriP0()).interpolate(conductivity)
    matrix = asm(_conducting, basis, conductivity=constant)
    right = np.zeros(basis.N)
    outer = mesh.boundary_facets()
    middles = mesh.p[:, mesh.facets[:, outer]].mean(axis=1).T
    films = []
    for b, ends in zip(boundaries, sides, strict=True):
        film = FacetBasis(mesh, element, facets=outer[_on(middles, first.nodes[ends])])
        films.append((film, b))
        matrix = matrix + asm(_through_film, film, resistance=b.resistance)
        right += asm(_from_film, film, resistance=b.resistance, temperature=b.temperature)
    warm = spsolve(matrix.tocsc(), right)
    total = 0.0
    for film, b in films:
        if b.temperature > 0:
            faces = np.asarray(film.interpolate(warm))
            total += float((film.dx * (b.temperature - faces) / b.resistance).sum())
    return total


def _on(points, ends):  # type: ignore[no-untyped-def]
    """Which points lie on any of these straight sides."""
    on = np.zeros(len(points), dtype=bool)
    for a, b in ends:
        run = b - a
        along = ((points - a) @ run) / (run @ run)
        off = np.abs((points - a) @ np.array([-run[1], run[0]])) / np.hypot(*run)
        on |= (off < 1e-8) & (along > 0) & (along < 1)
    return on


def timed(action: Callable[[], float]) -> tuple[float, float]:
    start = process_time()
    value = action()
    return value, process_time() - start


def main() -> int:
    placed = place(demo_house(), NUMBER, load())
    cold = times(lambda: anew(placed), 5, clock=process_time)
    unchanged = times(lambda: both(placed), 9, clock=process_time)
    count = sum(len(sections(placed, storm=s)) for s in ("none", "exterior"))  # type: ignore[arg-type]
    ours = peers = 0.0
    worst = 0.0
    for name, regions, boundaries in prepared(placed):
        mine, spent = timed(lambda r=regions, b=boundaries: _settled_flow(r, b))  # type: ignore[misc]
        theirs, longer = timed(lambda r=regions, b=boundaries: plainly(r, b))  # type: ignore[misc]
        ours, peers = ours + spent, peers + longer
        off = abs(mine / theirs - 1)
        worst = max(worst, off)
        print(f"{name:14} {mine:8.4f} W/m, the peer {theirs:8.4f}: {off:.2%} apart, "
              f"{longer / spent:5.1f} times as long")  # fmt: skip
    figures = [
        Figure(f"{count} sections, storm on and off, all anew", typical(cold), COLD),
        Figure(f"{count} sections, nothing changed", typical(unchanged), UNCHANGED),
        Figure("the sections behind a storm, equations only", ours, peers, "peer"),
    ]
    failed = report(figures)
    if worst > AGREE:
        print(f"flows differ by {worst:.2%}, more than {AGREE:.1%}")
    return int(failed or worst > AGREE)


def _settled_flow(regions: list[Region], boundaries: list[Boundary]) -> float:
    found = settled(regions, boundaries, TOLERANCE, bounded=True).at_rest()
    return sum(f for f, b in zip(found.flows, boundaries, strict=True) if b.temperature > 0)


if __name__ == "__main__":
    sys.exit(main())
