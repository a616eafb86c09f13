"""What the sections of one window share: its storm, its glass, its metal, the walls beside it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property

from sashwright.chapters.heat.cut import (
    BRONZE,
    SPRING_THICKNESS,
    Edge,
    Gathering,
    Layer,
    glass_layers,
    wood_conductivity,
)
from sashwright.chapters.heat.flows import InteriorStorm, StormPlace
from sashwright.window.layout import SashLayout, Which, WindowLayout
from sashwright.window.outlines.frame_edges import FrameEdges
from sashwright.window.outlines.glazed import glazed
from sashwright.window.outlines.shape import Point
from sashwright.window.resolve import Placed

SASHES: tuple[Which, Which] = ("upper", "lower")
# How far walls are taken where they only have to be there [m].
_FAR = 1.0
# Of a spring strip short of either edge of the sash it closes on [m].
_SPRING_SHORT = 0.003

Centre = Callable[
    [WindowLayout, Which, tuple[Layer, ...], int], tuple[tuple[float, ...], tuple[float, float]]
]
"""Conductances of the spaces between panes and of the films, for a window's sash; the number is how many
panes stand before its own."""


@dataclass(frozen=True)
class Cutter:
    """A window as it stands with its storm: what all of its sections share."""

    placed: Placed
    storm: StormPlace
    interior: InteriorStorm | None
    centre: Centre

    # --- what the window has ---

    @property
    def layout(self) -> WindowLayout:
        return self.placed.layout

    @cached_property
    def edges(self) -> FrameEdges:
        return FrameEdges(self.layout)

    @cached_property
    def panels(self) -> tuple[SashLayout, ...]:
        """Of the storm sash, bottom first; none without one."""
        return self.placed.storm_sash.panels if self.storm == "exterior" else ()

    def panel(self, which: Which) -> SashLayout:
        """Of the storm sash, before this sash."""
        return self.panels[0] if which == "lower" else self.panels[-1]

    def gathering(self, turn: Callable[[Point], Point]) -> Gathering:
        """An empty section that knows the window's woods."""
        knowledge, family = self.placed.knowledge, self.layout.family
        woods = {
            "frame": wood_conductivity(family.frame, knowledge),
            "upper": wood_conductivity(self.layout.upper.spec, knowledge),
            "lower": wood_conductivity(self.layout.lower.spec, knowledge),
        }
        if self.panels:
            woods["storm"] = wood_conductivity(self.panels[0].spec, knowledge)
        return Gathering(turn, knowledge, woods)

    def left_out(self, *more: str) -> tuple[str, ...]:
        """What conducts but is not in the section, in words."""
        named = list(more)
        if self.panels and self.layout.family.storm_sash.kind == "combination":
            named.append("the metal of the combination storm, reckoned as a wood one")
        return tuple(named)

    def metal_strip(self, place: str) -> str:
        """Kind of metal strip at a place; empty where there is none."""
        key = getattr(self.layout.family.strips, place)
        row = self.placed.knowledge.find("weatherstrip", key)
        if row.kind == "interlocking rib":
            return "rib"
        return "spring" if key == "spring-bronze" else ""

    # --- glass ---

    def edge(
        self,
        layout: WindowLayout,
        which: Which,
        sight: float,
        towards: int,
        storm: SashLayout | None,
    ) -> Edge:
        """An edge of glazing of a sash, with what stands before and behind it.

        Raises ``ValueError`` if there are not as many conductances as spaces.
        """
        sash = layout.sash(which)
        own = glass_layers(sash, glazed(sash, self.placed.knowledge), self.placed.knowledge)
        before: tuple[Layer, ...] = ()
        if storm is not None:
            glass = glazed(storm, self.placed.knowledge)
            before = glass_layers(storm, glass, self.placed.knowledge)
        behind = self.inside_panel(layout)
        panes = (*before, *own, *behind)
        gaps, films = self.centre(layout, which, panes, len(before))
        if len(gaps) != len(panes) - 1:
            raise ValueError(
                f"found {len(gaps)} conductances for the {which} sash of window "
                f"{layout.window.number}, expected {len(panes) - 1}: one for each space between panes"
            )
        last = len(before) + len(own) - 1
        return Edge(which, sight, towards, panes, len(before), last, gaps, films)

    def inside_panel(self, layout: WindowLayout) -> tuple[Layer, ...]:
        """The interior storm, if there is one. Raises ``ValueError`` where nothing could hold it."""
        if self.storm != "interior" or self.interior is None:
            return ()
        face = layout.lower.face + layout.lower.thickness + self.interior.distance
        far = face + self.interior.thickness
        deepest = FrameEdges(layout).casing_in
        if far > deepest + 1e-9:
            raise ValueError(
                f"found an interior storm {self.interior.distance * 1000:.0f} mm inside the lower sash of "
                f"window {layout.window.number}, expected at most "
                f"{(deepest - far + face - layout.lower.face - layout.lower.thickness) * 1000:.0f} mm: "
                "beyond that the frame has nothing to hold it"
            )
        return (Layer(face, far, self.interior.conductivity),)

    def panel_meets(self, layout: WindowLayout) -> float:
        """Edge of the frame, out of the opening, that an interior storm ends at [m]."""
        edges, panel = FrameEdges(layout), self.inside_panel(layout)
        return edges.stop_edge if panel and panel[0].near < edges.stop_in else 0.0

    def lay(
        self, g: Gathering, edge: Edge, sash: SashLayout, end: float,
        storm: tuple[SashLayout, float] | None = None, panel_end: float | None = None,
    ) -> None:  # fmt: skip
        """All glass of an edge as far as ``end``; the storm's and the panel's from where theirs begin."""
        starts: list[float] = []
        for k in range(len(edge.panes)):
            if k < edge.first_prime and storm is not None:
                start = storm[1] - edge.towards * glazed(storm[0], g.knowledge).lap
            elif k <= edge.last_prime:
                start = edge.sight - edge.towards * glazed(sash, g.knowledge).lap
            else:
                start = edge.sight if panel_end is None else panel_end
            starts.append(start)
        for k, pane in enumerate(edge.panes):
            kind = "glass" if k <= edge.last_prime else "panel"
            g.block(kind, (pane.near, pane.far), (starts[k], end), pane.conductivity, glazing=True)
            if k < len(edge.gaps) and edge.sealed(k):
                depth = (pane.far, edge.panes[k + 1].near)
                conducts = edge.gaps[k] * (depth[1] - depth[0])
                g.block("gas", depth, (starts[k], end), conducts, glazing=True)

    # --- metal strip ---

    def at_the_side(self, g: Gathering, sash: SashLayout, face: float, towards: int) -> list[str]:
        """Metal strip between stile and pulley stile, and what else is there but not in the model."""
        left_out = ["the pulleys"] if sash.hung else []
        kind = self.metal_strip("sides")
        if kind == "spring":
            clearance = self.layout.family.frame.side_clearance
            self.spring(g, sash, face - towards * clearance, face)
        elif kind == "rib":
            left_out.append("the metal rib at the sides")
        return left_out

    def spring(self, g: Gathering, sash: SashLayout, edge: float, face: float) -> None:
        """A strip of bronze on the frame's face, before the edge of a sash; no room, no strip."""
        if abs(face - edge) <= 2 * SPRING_THICKNESS:
            return
        out = SPRING_THICKNESS if face > edge else -SPRING_THICKNESS
        depth = sash.face + _SPRING_SHORT, sash.face + sash.thickness - _SPRING_SHORT
        g.block("bronze", depth, (face - out, face), BRONZE)

    # --- walls ---

    def casing_walls(
        self, edges: FrameEdges, opening: float, far: float
    ) -> Iterator[tuple[Point, ...]]:
        """The wall beyond the outside casing, where the frame reaches further."""
        family = self.layout.family.frame
        there = family.casing_width and family.casing_thickness
        start = opening + edges.casing_edge + (family.casing_width if there else 0.0)
        if start < far:
            deep = (
                family.casing_thickness or family.storm_rabbet_depth or family.blind_stop_thickness
            )
            yield rectangle((edges.blind_out - deep, edges.blind_out), (start, far + _FAR))

    def inside_walls(self, opening: float, far: float) -> Iterator[tuple[Point, ...]]:
        """The plaster beyond the inside casing, where the frame reaches further."""
        family, edges = self.layout.family.frame, self.edges
        there = family.inside_casing_width and family.inside_casing_thickness
        start = opening + max(family.inside_casing_width if there else 0.0, edges.pocket_edge)
        if start < far:
            deep = family.inside_casing_thickness or 0.02
            yield rectangle((edges.wall_in, edges.wall_in + deep), (start, far + _FAR))


def rectangle(depth: Point, along: Point) -> tuple[Point, ...]:
    (z0, z1), (s0, s1) = depth, along
    return (z0, s0), (z1, s0), (z1, s1), (z0, s1)
