"""Heat through one section, by the convention asked for."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from sashwright.chapters.heat.cut import PANEL, VISIBLE, Cut
from sashwright.chapters.heat.exposed import Stretch, exposed
from sashwright.chapters.heat.films import TEMPERATURES, Films
from sashwright.chapters.heat.flows import Convention, Field, SectionFlow, StormPlace
from sashwright.chapters.heat.geometry import EDGE_BAND
from sashwright.chapters.heat.remember import Remembered
from sashwright.chapters.heat.spaces import GRID, Crack, Spaces, spaces_of
from sashwright.physics.conduction import Boundary, Conduction, Section, settled
from sashwright.physics.constants import KELVIN
from sashwright.physics.frame_cavity import (
    DIFFERENCE,
    MEAN,
    equivalent_conductivity,
    rectangle_of,
)
from sashwright.physics.section_mesh import Region

Array = NDArray[np.float64]

TOLERANCE = 0.005
"""Share of the flow by which it may still change from one mesh to the next, twice in a row [-]; ISO 10211
asks for 0.01."""
_ROUNDS = 2  # in which cracks find their own temperatures
_LEAST = 0.5  # difference across a crack that counts [K]


@dataclass(frozen=True)
class Asked:
    """A section and the convention: all that its answer hangs on."""

    cut: Cut
    convention: Convention
    storm: StormPlace


def through(asked: Asked) -> SectionFlow:
    """Heat through a section. Raises ``ValueError`` if its pieces do not part outdoors from the room."""
    spaces = _spaces_of(asked.cut.pieces)
    return Model(asked.cut, Films(asked.convention), spaces).answer(asked.storm)


MOST = 400
"""Sections whose air is kept in memory, for the other convention."""

_spaces_of = Remembered(spaces_of, MOST)


@dataclass
class Model:
    """A section ready to be solved."""

    cut: Cut
    films: Films
    spaces: Spaces
    kinds: list[str] = field(default_factory=list)

    def boundaries(self, stretches: Iterable[Stretch]) -> list[Boundary]:
        """Films on its edge."""
        return [self.films.boundary(each, self.cut.edges) for each in stretches]

    def answer(self, storm: StormPlace) -> SectionFlow:
        """Heat through it by its convention."""
        cut = self.cut
        stretches = list(exposed(cut, self.spaces))
        regions = self.regions()
        section = settled(regions, self.boundaries(stretches), TOLERANCE, bounded=True)
        real = section.conductivities
        if self.films.convention == "na":
            real = self._at_their_temperatures(section)
        rest = section.at_rest(None if real is section.conductivities else real)
        outdoors, room = TEMPERATURES[self.films.convention]
        flow = _total(rest, stretches)
        conductance = flow / (room - outdoors)
        u_glass = tuple(edge.u(self.films.glass(edge)) for edge in cut.edges)
        u_frame, psi, u_edge = self._split(section, rest, stretches, u_glass)
        factors = (np.asarray(rest.at_nodes) - outdoors) / (room - outdoors)
        lowest = self._lowest(rest, stretches, factors)
        return SectionFlow(
            name=cut.name, title=cut.title, convention=self.films.convention, storm=storm,
            sash=tuple(edge.sash for edge in cut.edges), width=cut.width,
            inside_opening=cut.inside_opening, glass=VISIBLE, edges=len(cut.edges),
            u_glass=u_glass, u_frame=u_frame, psi=psi, u_edge=u_edge,
            flow=flow, conductance=conductance, outdoors=outdoors, room=room,
            factor_glass=lowest[0], factor_frame=lowest[1], factor_prime_glass=lowest[2],
            factor_prime_frame=lowest[3], factor_storm=lowest[4], left_out=cut.left_out,
            field=Field(
                rest.mesh.nodes, rest.mesh.triangles, rest.at_nodes, factors,
                tuple(self.kinds[k] for k in rest.mesh.region),
            ),
        )  # fmt: skip

    # --- what it is made of ---

    def regions(self) -> list[Region]:
        """The whole as wood, against slits that rounding leaves; then air: what stands in it counts."""
        whole = tuple((float(z), float(s)) for z, s in self.spaces.whole.exterior.coords[:-1])
        wood = next(s.conductivity for s in self.spaces.solids if s.kind == "wood")
        found = [Region(whole, wood)]
        self.kinds.append("wood")
        for crack in self.spaces.cracks:
            found.append(Region(crack.outline, _crack_conductivity(crack)))
            self.kinds.append("air")
        for strip in self.spaces.strips:
            conductance = self.cut.edges[strip.edge].gaps[strip.gap]
            found.append(Region(strip.outline, conductance * strip.depth))
            self.kinds.append("space")
        for solid in self.spaces.solids:
            found.append(Region(solid.points, solid.conductivity))
            self.kinds.append(solid.kind)
        return found

    def _at_their_temperatures(self, section: Section) -> Array:
        """Conductivities with cracks that conduct as the temperatures of their faces ask."""
        found = section.conductivities.copy()
        of, corners = section.mesh.region, section.mesh.triangles
        for _ in range(_ROUNDS):
            warm = section.solved(found)
            for k, crack in enumerate(self.spaces.cracks):
                faces = warm[corners[of == 1 + k]]
                if faces.size:
                    difference = max(float(np.ptp(faces)), _LEAST)
                    mean = float(faces.max() + faces.min()) / 2 + KELVIN
                    found[1 + k] = _crack_conductivity(crack, difference, mean)
        return found

    # --- what comes out ---

    def _split(
        self, section: Section, rest: Conduction, stretches: list[Stretch],
        u_glass: tuple[float, ...],
    ) -> tuple[float, float | None, float | None]:  # fmt: skip
        """U of the frame; psi or U of the edge."""
        outdoors, room = TEMPERATURES[self.films.convention]
        count = len(self.cut.edges)
        if self.films.convention == "na":
            parts = {"frame": 0.0, "edge": 0.0, "centre": 0.0}
            for stretch, flow in zip(stretches, rest.flows, strict=True):
                if stretch.where == "room":
                    parts[stretch.part] += flow / (room - outdoors)
            return parts["frame"] / self.cut.width, None, parts["edge"] / (EDGE_BAND * count)
        panel = section.conductivities.copy()
        first = 1 + len(self.spaces.cracks) + len(self.spaces.strips)
        for k, solid in enumerate(self.spaces.solids):
            if solid.glazing:
                panel[first + k] = PANEL
        with_panel = section.at_rest(panel)
        films = self.films.frame()
        beside = sum(edge.u(films, panel=True) for edge in self.cut.edges) * VISIBLE
        u_frame = (_total(with_panel, stretches) / (room - outdoors) - beside) / self.cut.width
        whole = _total(rest, stretches) / (room - outdoors)
        psi = (whole - u_frame * self.cut.width - sum(u_glass) * VISIBLE) / count
        return u_frame, psi, None

    def _lowest(
        self, rest: Conduction, stretches: list[Stretch], factors: Array
    ) -> tuple[float, float, float, float, float | None]:
        """Factors of the room's glass and wood, of the prime's behind a panel, of the storm's glass."""
        outdoors, room = TEMPERATURES[self.films.convention]
        glass = frame = math.inf
        for stretch, low in zip(stretches, rest.lowest, strict=True):
            if stretch.where == "room":
                factor = (low - outdoors) / (room - outdoors)
                if stretch.glass:
                    glass = min(glass, factor)
                else:
                    frame = min(frame, factor)
        if frame == math.inf:
            frame = glass
        prime = [
            self._on_pane(rest, factors, k, edge.last_prime)
            for k, edge in enumerate(self.cut.edges)
        ]
        behind = [self._on_wood(rest, factors, edge.last_prime) for edge in self.cut.edges
                  if edge.last_prime < len(edge.panes) - 1]  # fmt: skip
        storm = [
            self._on_pane(rest, factors, k, edge.first_prime - 1)
            for k, edge in enumerate(self.cut.edges)
            if edge.first_prime > 0
        ]
        if not behind:
            return glass, frame, glass, frame, min(storm, default=None)
        return glass, frame, min(prime), min(behind), min(storm, default=None)

    def _on_pane(self, rest: Conduction, factors: Array, edge: int, pane: int) -> float:
        """Lowest on the visible room face of a pane."""
        one = self.cut.edges[edge]
        nodes = rest.mesh.nodes
        seen = (nodes[:, 1] - one.sight) * one.towards >= -GRID
        on = np.abs(nodes[:, 0] - one.panes[pane].far) < GRID
        return float(factors[on & seen].min())

    def _on_wood(self, rest: Conduction, factors: Array, gap: int) -> float:
        """Lowest on the wood towards a wide space."""
        first = 1 + len(self.spaces.cracks)
        spaces = [first + k for k, strip in enumerate(self.spaces.strips) if strip.gap == gap]
        corners, region = rest.mesh.triangles, rest.mesh.region
        kinds = np.array([kind == "wood" for kind in self.kinds])
        wood = np.unique(corners[kinds[region]])
        air = np.unique(corners[np.isin(region, spaces)])
        return float(factors[np.intersect1d(wood, air)].min(initial=1.0))


def _total(rest: Conduction, stretches: list[Stretch]) -> float:
    """Heat from the room [W/m]."""
    return sum(
        flow for stretch, flow in zip(stretches, rest.flows, strict=True) if stretch.where == "room"
    )


def _crack_conductivity(crack: Crack, difference: float = DIFFERENCE, mean: float = MEAN) -> float:
    depth, width = rectangle_of(crack.area, crack.depth, crack.width)
    return equivalent_conductivity(
        depth, width, difference=difference, mean=mean, ventilation=crack.ventilation
    )
