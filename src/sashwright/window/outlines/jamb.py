"""One jamb in the level section: pulley stile, beads, pocket, stiles of the sash. In (x, z)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sashwright.knowledge import curves
from sashwright.knowledge.tables import Knowledge
from sashwright.units import INCH
from sashwright.window.layout import SashLayout, WindowLayout
from sashwright.window.mouldings import strip_section
from sashwright.window.outlines.frame_edges import FrameEdges, hanging_depth
from sashwright.window.outlines.glazed import (
    Placing,
    bar,
    glazed,
    member,
    panes,
    putty,
    strip,
    timber,
)
from sashwright.window.outlines.mullion import Side, mullion_width, neighbour
from sashwright.window.outlines.shape import Material, Outline, Point, corners
from sashwright.window.resolve import Placed

STUD = 1.5 * INCH
"""Thickness of the stud beside a pocket [m]; common practice, the family does not say."""
BEAD_GROOVE = 0.25 * INCH
"""How deep the parting bead sits in the pulley stile [m]; common practice."""
LAP = 0.5 * INCH
"""Of the blind stop on the stud [m], where it closes the pocket."""
PENDULUM_SHORT = 0.1
"""Share of the pocket that the pendulum leaves free at either side [-]."""


@dataclass(frozen=True)
class JambCut:
    """One side of the frame; ``u`` [m] counts outward from the face of its pulley stile."""

    placed: Placed
    side: Side

    @property
    def edges(self) -> FrameEdges:
        return FrameEdges(self.placed.layout)

    @property
    def half(self) -> float:
        return self.placed.window.width / 2

    @property
    def sashes(self) -> tuple[SashLayout, SashLayout]:
        return self.placed.layout.upper, self.placed.layout.lower

    @property
    def name(self) -> str:
        return "left" if self.side < 0 else "right"

    @property
    def beside(self) -> WindowLayout | None:
        return neighbour(self.placed, self.side)

    @property
    def mullion(self) -> float:
        return mullion_width(self.placed, self.side)

    @property
    def pocket_far(self) -> float:
        """Far side of the pocket: the back lining, or the back of the other pulley stile."""
        if self.beside is None:
            return self.edges.pocket_far
        return self.mullion - FrameEdges(self.beside).pocket_edge

    def place(self, u: float, z: float) -> Point:
        return self.side * (self.half + u), z

    def _board(self, name: str, title: str, u0: float, z0: float, u1: float, z1: float) -> Outline:
        return timber(name, title, _block(u0, z0, u1, z1), "flat", self.place)

    def plain(
        self, name: str, title: str, material: Material,
        u0: float, z0: float, u1: float, z1: float,
    ) -> Outline:  # fmt: skip
        """A rectangle of this jamb."""
        placed = corners(self.place(u, z) for u, z in _block(u0, z0, u1, z1))
        return Outline(name, title, material, placed)

    # --- frame ---

    def lining(self) -> Iterator[Outline]:
        """Pulley stile, parting bead and inside stop."""
        frame, knowledge = self.placed.layout.family.frame, self.placed.knowledge
        stop = strip_section(frame, "inside_stop", knowledge)
        return _lining(self.edges, self.placed.layout, self.name, self.place, stop)

    def pocket(self) -> Iterator[Outline]:
        """The clear space of the weight pocket, and the rough linings beside it."""
        edges, far = self.edges, self.pocket_far
        name = f"frame.pocket.{self.name}"
        if self.beside is not None:
            title = "shared weight pocket"
            yield self.plain(
                name, title, "air", edges.pocket_edge, edges.blind_in, far, edges.wall_in
            )
            return
        out, inner = edges.pocket_depths
        title = "weight pocket"
        yield self.plain(name, title, "air", edges.pocket_edge, out, far, inner)
        for z0, z1 in ((edges.blind_in, out), (inner, edges.wall_in)):
            if z1 - z0 > 1e-6:
                yield self.plain(name, title, "rough", edges.pocket_edge, z0, far, z1)

    def pendulum(self) -> Iterator[Outline]:
        """The strip between the two weights, where there is one."""
        thickness = self.placed.layout.family.pocket.pendulum
        if not thickness:
            return
        upper, lower = self.sashes
        z = (hanging_depth(upper) + hanging_depth(lower)) / 2
        near, far = self.edges.pocket_edge, self.pocket_far
        margin = PENDULUM_SHORT * (far - near)
        half = thickness / 2
        name = "frame.pendulum"
        yield self.plain(name, "pendulum", "wood", near + margin, z - half, far - margin, z + half)

    def stud(self, reach: float) -> Outline:
        """The stud beside the pocket, drawn no further than ``reach`` from the opening."""
        edges, far = self.edges, self.edges.pocket_far
        end = min(far + STUD, reach)
        name = f"frame.stud.{self.name}"
        return self.plain(name, "stud", "rough", far, edges.blind_in, end, edges.wall_in)

    def wall(self, reach: float) -> Iterator[Outline]:
        """The wall beyond the blind stop, as far as ``reach`` from the opening."""
        edges, end = self.edges, self.blind_end
        if reach > end:
            out = edges.pocket_depths[0]
            inner = edges.blind_in if self._closed else out
            yield self.plain("frame.wall", "wall", "wall", end, edges.blind_out, reach, inner)

    @property
    def _closed(self) -> bool:
        """A pocket deeper than the pulley stile is wide runs past the blind stop into the wall."""
        return self.edges.pocket_depths[0] >= self.edges.blind_in

    @property
    def blind_end(self) -> float:
        edges = self.edges
        if self.beside is not None:
            return self.mullion - FrameEdges(self.beside).blind_edge
        return edges.pocket_far + LAP if self._closed else edges.pocket_edge

    def blind_stop(self) -> Outline:
        edges = self.edges
        return self._board(
            "frame.blind_stop", "blind stop",
            edges.blind_edge, edges.blind_out, self.blind_end, edges.blind_in,
        )  # fmt: skip

    def casings(self) -> Iterator[Outline]:
        edges, family = self.edges, self.placed.layout.family.frame
        outer, inner = edges.casing_far, family.inside_casing_width
        if self.beside is None:
            yield from self._moulded_casings()
        else:
            outer = self.mullion - FrameEdges(self.beside).casing_edge
            inner = self.mullion
        if family.casing_width and family.casing_thickness and not self._run("outside_casing"):
            yield self._board(
                f"frame.casing.{self.name}", "outside casing",
                edges.casing_edge, edges.casing_out, outer, edges.blind_out,
            )  # fmt: skip
        if (
            family.inside_casing_width
            and family.inside_casing_thickness
            and not self._run("inside_casing")
        ):
            yield self._board(
                f"frame.inside_casing.{self.name}", "inside casing",
                0.0, edges.wall_in, inner, edges.casing_in,
            )  # fmt: skip

    def _run(self, field: str) -> tuple[curves.Vertex, ...]:
        """The section that a casing is run to; a mullion's is a board of its own width."""
        if self.beside is not None:
            return ()
        return strip_section(self.placed.layout.family.frame, field, self.placed.knowledge)

    def _moulded_casings(self) -> Iterator[Outline]:
        edges = self.edges
        outside, inside = self._run("outside_casing"), self._run("inside_casing")
        if outside:
            yield strip(
                f"frame.casing.{self.name}", "outside casing", outside, "flat",
                lambda u, v: self.place(edges.casing_edge + u, edges.blind_out - v),
            )  # fmt: skip
        if inside:
            yield strip(
                f"frame.inside_casing.{self.name}", "inside casing", inside, "flat",
                lambda u, v: self.place(u, edges.wall_in + v),
            )  # fmt: skip

    # --- sash ---

    def stile(self, sash: SashLayout) -> Outline:
        name = f"{sash.which}.{self.name}_stile"
        title = f"{self.name} stile of the {sash.which} sash"
        return _stile(name, title, sash, self.placed.layout, self.sash_place(sash))

    def sash_place(self, sash: SashLayout) -> Placing:
        """Where a point of this sash's stile or glass is, counted from its sight line."""
        sight = sash.daylight[1]
        return lambda p, z: (self.side * (sight + p), sash.face + z)


@dataclass(frozen=True)
class Mirror:
    """The jamb of the window beside, seen from ours: counted back from the mullion's far face."""

    jamb: JambCut
    beside: WindowLayout

    @property
    def edges(self) -> FrameEdges:
        return FrameEdges(self.beside)

    def place(self, u: float, z: float) -> Point:
        return self.jamb.place(self.jamb.mullion - u, z)

    def sash_place(self, sash: SashLayout) -> Placing:
        sight = self.beside.window.width / 2 - sash.daylight[1]
        return lambda p, z: self.place(-sight + p, sash.face + z)

    def lining(self) -> Iterator[Outline]:
        stop = strip_section(self.beside.family.frame, "inside_stop", self.jamb.placed.knowledge)
        return _lining(self.edges, self.beside, self.jamb.name, self.place, stop)

    def stile(self, sash: SashLayout) -> Outline:
        place = self.sash_place(sash)
        return _stile("beside.stile", "sash beside", sash, self.beside, place)

    def glass(self, sash: SashLayout, knowledge: Knowledge, shown: float) -> Iterator[Outline]:
        """Putty and panes of a sash beside, ``shown`` beyond its sight line."""
        glass, place = glazed(sash, knowledge), self.sash_place(sash)
        yield putty("beside.glass", glass, place)
        yield from panes("beside.glass", "glass beside", glass, shown, place)


def left_of(sash: SashLayout, sight: float) -> Placing:
    """A member to the left of a sight line."""
    return lambda p, z: (sight - p, sash.face + z)


def right_of(sash: SashLayout, sight: float) -> Placing:
    return lambda p, z: (sight + p, sash.face + z)


def upright_bar(sash: SashLayout, left: float, right: float) -> Outline:
    """The bar between two sight lines."""
    place = right_of(sash, left)
    return bar(f"{sash.which}.upright_bar", "upright bar", sash, right - left, place)


def _lining(
    edges: FrameEdges,
    layout: WindowLayout,
    name: str,
    place: Placing,
    stop_section: Sequence[curves.Vertex],
) -> Iterator[Outline]:
    """Pulley stile, parting bead and inside stop of this window or of the one beside."""
    thick, project = layout.family.frame.parting_bead_thickness, edges.bead_edge
    stile = (
        (0.0, edges.blind_in), (edges.pocket_edge, edges.blind_in),
        (edges.pocket_edge, edges.wall_in), (0.0, edges.wall_in),
        (0.0, 0.0), (BEAD_GROOVE, 0.0), (BEAD_GROOVE, -thick), (0.0, -thick),
    )  # fmt: skip
    yield timber(f"frame.pulley_stile.{name}", "pulley stile", stile, "flat", place)
    bead = ((project, -thick), (BEAD_GROOVE, -thick), (BEAD_GROOVE, 0.0), (project, 0.0))
    yield timber("frame.parting_bead", "parting bead", bead, "flat", place)
    if stop_section:
        yield strip(
            "frame.inside_stop", "inside stop", stop_section, "flat",
            lambda u, v: place(-v, edges.stop_out + u),
        )  # fmt: skip
        return
    edge = edges.stop_edge
    stop = ((edge, edges.stop_out), (0.0, edges.stop_out), (0.0, edges.stop_in),
            (edge * 0.45, edges.stop_in), (edge, edges.stop_in + edge * 0.55))  # fmt: skip
    yield timber("frame.inside_stop", "inside stop", stop, "flat", place)


def _stile(
    name: str, title: str, sash: SashLayout, layout: WindowLayout, place: Placing
) -> Outline:
    """A stile with the groove for its cord."""
    spec, hanging = sash.spec, layout.family.hanging
    outer: list[Point] = [(spec.stile, sash.thickness)]
    half = min(hanging.cord_groove_width, sash.thickness) / 2
    depth = min(hanging.cord_groove_depth, spec.stile / 2)
    if sash.hung and half and depth:
        low, high = sash.thickness / 2 - half, sash.thickness / 2 + half
        outer += [(spec.stile, high), (spec.stile - depth, high)]
        outer += [(spec.stile - depth, low), (spec.stile, low)]
    outer.append((spec.stile, 0.0))
    return member(name, title, sash, outer, place)


def _block(u0: float, z0: float, u1: float, z1: float) -> tuple[Point, ...]:
    return (u0, z0), (u1, z0), (u1, z1), (u0, z1)
