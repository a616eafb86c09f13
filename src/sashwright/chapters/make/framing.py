"""A whole frame as parts to cut: a box frame in masonry, or a skeleton frame in a wood wall."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from sashwright.chapters.make.cut import JointEnd
from sashwright.chapters.make.frame_maker import (
    BRICK_MOULD,
    FITTED,
    MITRED,
    SLOPED,
    FrameMaker,
    Piece,
    Shape,
)
from sashwright.window.outlines.frame_edges import FrameEdges
from sashwright.window.outlines.head_sill import BLIND_STOP_STOCK
from sashwright.window.outlines.jamb import BEAD_GROOVE, JambCut
from sashwright.window.outlines.mullion import SIDES, Side, mullion_width, neighbour


@dataclass(frozen=True)
class WholeFrame(FrameMaker):
    """Every part of one window's frame."""

    def pieces(self) -> Iterator[Piece]:
        """In the order of assembly."""
        yield from self._stiles()
        yield self._head()
        yield self._sill()
        yield from self._beads()
        yield from self._stops()
        yield from self._outer()
        if self.box:
            yield from self._linings()
        yield from self._pendulums()
        if self.frame.casing_width and self.frame.casing_thickness:
            yield from self._casings()
        if self.frame.inside_casing_width and self.frame.inside_casing_thickness:
            yield from self._inside_casings()
        if self.frame.stool_thickness:
            yield from self._stool()

    @cached_property
    def depth(self) -> float:
        """Width of pulley stiles and head through the wall [m]."""
        if not self.box:
            return self.edges.wall_in - self.edges.blind_in
        inner = self.usual("inside-lining", "thickness")
        tongues = 2 * self.usual("pulley-stile-tongue", "width")
        return self.edges.wall_in - inner - self.edges.blind_in + tongues

    @cached_property
    def box_far(self) -> float:
        """Outside of the frame's pocket: its far face, or the back lining's [m]."""
        back = self.usual("back-lining", "thickness") if self.box else 0.0
        return self.edges.pocket_far + back

    # --- stiles, head, sill ---

    def _stiles(self) -> Iterator[Piece]:
        edges, thick = self.edges, self.frame.pulley_stile
        cover = self.placed.family.pocket.cover_height
        housing = self.usual("pulley-stile", "extra")
        length = self.springs - edges.sill_height(edges.blind_in) + 2 * housing
        words = self.maker.words
        notes = [f"ploughed {words.fine(BEAD_GROOVE)} deep for the parting bead"]
        less = BEAD_GROOVE * self.frame.parting_bead_thickness * self.springs
        if self.box:
            notes.append("tongued into both linings")
        if cover:
            wide = self.cover_width
            notes.append(f"pocket {words.length(cover)} by {words.length(wide)}")
            less += cover * wide * thick
        ends = (
            JointEnd("housed and wedged in the sill, cut to its slope", housing),
            JointEnd("housed in the head", housing),
        )
        for _, name in SIDES:
            shape = Shape(f"pulley_stile.{name}", "pulley-stile", length, self.depth, thick)
            yield self.piece(shape, ends, note="; ".join(notes), less=less)
        if cover:
            yield from (self.cover(name) for _, name in SIDES)

    @cached_property
    def cover_width(self) -> float:
        """From the parting bead's groove to under the inside stop [m]."""
        return self.edges.stop_out + self.usual("pocket-cover", "width")

    def cover(self, side: str) -> Piece:
        """The pocket cover of one side, from a piece of its own, so that the saw leaves no gap."""
        high, thick = self.placed.family.pocket.cover_height, self.frame.pulley_stile
        shape = Shape(f"pocket_cover.{side}", "pocket-cover", high, self.cover_width, thick)
        return self.piece(shape, (JointEnd("rebated, screwed"), JointEnd("bevelled")))

    def _head(self) -> Piece:
        thick = self.frame.head_thickness
        length, note = self.over(self.box_far, thick)
        shape = Shape("head", "head", length, self.depth, thick)
        return self.piece(shape, note=note or "housed for the pulley stiles")

    def _sill(self) -> Piece:
        edges, frame = self.edges, self.frame
        width = (edges.sill_inner - edges.sill_nose) / math.cos(math.radians(frame.sill_slope))
        far = max(edges.casing_far, edges.pocket_edge) + self.usual("sill", "extra")
        notes = [
            f"laid to {frame.sill_slope:g} degrees",
            "housed for the pulley stiles, throated under its nose",
        ]
        shape = Shape("sill", "sill", self.reach(far), width, frame.sill_thickness)
        end = JointEnd("square", horn=far)
        return self.piece(shape, (end, end), note="; ".join(notes))

    # --- beads and stops ---

    def _beads(self) -> Iterator[Piece]:
        frame, at, key = self.frame, "parting_bead", "parting-bead"
        width, thick = frame.parting_bead_projection + BEAD_GROOVE, frame.parting_bead_thickness
        length = self.springs - self.edges.sill_height(-thick)
        note = "left dry in its groove, so that it comes out"
        shape = Shape(at, key, length, width, thick)
        yield self.piece(shape, (SLOPED, FITTED), note=note, count=2)
        across, note = self.over(0.0, 0.0)
        yield self.piece(Shape(at, key, across, width, thick), note=note, name="parting bead, head")

    def _stops(self) -> Iterator[Piece]:
        frame, at, key = self.frame, "inside_stop", "inside-stop"
        width, thick = frame.inside_stop_width, frame.inside_stop_thickness
        note = "for slotted screws" if frame.stop_slot else ""
        shape = Shape(at, key, self.springs - self.edges.stool_top, width, thick)
        yield self.piece(shape, (FITTED, MITRED), note=note, count=2)
        across, note = self.over(0.0, 0.0)
        shape = Shape(at, key, across, width, thick)
        yield self.piece(shape, (MITRED, MITRED), note=note, name="inside stop, head")

    def _outer(self) -> Iterator[Piece]:
        """Blind stops of a skeleton frame; the outside linings of a box in their place."""
        edges, frame = self.edges, self.frame
        key, thick = "outside-lining" if self.box else "blind-stop", frame.blind_stop_thickness
        length = edges.edge_height(edges.blind_edge) - edges.sill_height(edges.blind_out)
        for side, name in self.own_sides:
            far = JambCut(self.placed, side).blind_end
            if self.box and neighbour(self.placed, side) is None:
                far = self.box_far
            shape = Shape(f"blind_stop.{name}", key, length, far - edges.blind_edge, thick)
            yield self.piece(shape, (SLOPED, FITTED))
        high = max(BLIND_STOP_STOCK, frame.blind_stop_projection + frame.head_thickness)
        name = f"{self.row(key).name.lower()}, head"
        shape = Shape("blind_stop.head", key, self.reach(self.box_far), high, thick)
        yield self.head_piece(shape, edges.blind_edge, name=name)

    # --- the box ---

    def _linings(self) -> Iterator[Piece]:
        """The inside and back linings that close a box."""
        edges, high = self.edges, self.frame.head_thickness
        inner, back = (
            self.usual("inside-lining", "thickness"),
            self.usual("back-lining", "thickness"),
        )
        length = self.springs - edges.sill_height(edges.blind_in) + high
        deep = edges.wall_in - inner - edges.blind_in
        for side, name in SIDES:
            if neighbour(self.placed, side) is None:
                lining = Shape(f"lining.{name}", "inside-lining", length, self.box_far, inner)
                yield self.piece(lining)
                yield self.piece(Shape(f"back.{name}", "back-lining", length, deep, back))
        shape = Shape("lining.head", "inside-lining", self.reach(self.box_far), high, inner)
        yield self.head_piece(shape, 0.0, name="inside lining, head")

    def _pendulums(self) -> Iterator[Piece]:
        thick = self.placed.family.pocket.pendulum
        if thick:
            width = self.usual("pendulum", "width")
            for _, name in self.own_sides:
                shape = Shape(f"pendulum.{name}", "pendulum", self.springs, width, thick)
                yield self.piece(shape, note="hung from the head")

    # --- casings, stool, apron ---

    def _casings(self) -> Iterator[Piece]:
        """Outside casings, or a brick mould."""
        edges, wide, thick = self.edges, self.frame.casing_width, self.frame.casing_thickness
        narrow = wide <= BRICK_MOULD
        key, joint = ("brick-mould", MITRED) if narrow else ("casing", FITTED)
        top = edges.casing_far if narrow else edges.casing_edge
        length = edges.edge_height(top) - edges.sill_height(edges.casing_out)
        for side, name in self.own_sides:
            beside = neighbour(self.placed, side)
            width = wide if beside is None else self._mullion_casing(side, FrameEdges(beside))
            shape = Shape(f"casing.{name}", key, length, width, thick)
            called = "" if beside is None else "mullion casing"
            yield self.piece(shape, (SLOPED, joint), name=called)
        name = f"{self.row(key).name.lower()}, head"
        shape = Shape("casing.head", key, self.reach(edges.casing_far), wide, thick)
        yield self.head_piece(shape, edges.casing_edge, (joint, joint), name=name)

    def _mullion_casing(self, side: Side, beside: FrameEdges) -> float:
        return mullion_width(self.placed, side) - beside.casing_edge - self.edges.casing_edge

    def _inside_casings(self) -> Iterator[Piece]:
        key, wide = "inside-casing", self.frame.inside_casing_width
        thick, length = self.frame.inside_casing_thickness, self.springs - self.edges.stool_top
        for side, name in self.own_sides:
            alone = neighbour(self.placed, side) is None
            width = wide if alone else mullion_width(self.placed, side)
            called = "" if alone else "inside mullion casing"
            yield self.piece(Shape(f"inside_casing.{name}", key, length, width, thick), name=called)
        shape = Shape("inside_casing.head", key, self.reach(wide), wide, thick)
        yield self.head_piece(shape, 0.0, name="inside casing, head")

    def _stool(self) -> Iterator[Piece]:
        edges, wide = self.edges, self.frame.inside_casing_width
        far = wide + self.usual("stool", "extra")
        deep, thick = edges.stool_nose - edges.stop_out, self.frame.stool_thickness
        note = "notched round the inside stops, rebated over the sill"
        end = JointEnd("square", horn=far)
        yield self.piece(
            Shape("stool", "stool", self.reach(far), deep, thick), (end, end), note=note
        )
        high, thick = self.usual("apron", "width"), self.usual("apron", "thickness")
        yield self.piece(Shape("apron", "apron", self.reach(wide), high, thick))
