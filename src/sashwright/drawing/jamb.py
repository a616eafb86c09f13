"""One jamb in the horizontal section: pulley stile, beads, pocket with its weights, stiles of the sash."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sashwright.chapters.answer import WindowAnswer
from sashwright.drawing.cut import Placing, glazed, putty, timber, wood
from sashwright.drawing.frame import STUD, Frame, hanging_depth
from sashwright.drawing.model import (
    Arc,
    Group,
    Item,
    Line,
    Point,
    Polygon,
    outline,
    part,
    rectangle,
)
from sashwright.drawing.twin import Side, mullion_width, neighbour
from sashwright.drawing.weights import Weight, weight_of
from sashwright.units import INCH
from sashwright.window.layout import SashLayout, WindowLayout
from sashwright.window.resolve import Placed

BEAD_GROOVE = 0.25 * INCH
"""How deep the parting bead sits in the pulley stile [m]; common practice."""
LAP = 0.5 * INCH
"""Of the blind stop on the stud [m], where it closes the pocket."""


@dataclass(frozen=True)
class Jamb:
    """One side of the frame; ``u`` [m] counts outward from the face of its pulley stile."""

    placed: Placed
    frame: Frame
    hang: WindowAnswer | None
    side: Side
    reach: float
    """How far from the middle of the window the jamb is drawn."""

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

    def place(self, u: float, z: float) -> Point:
        return self.side * (self.half + u), z

    def _board(self, u0: float, z0: float, u1: float, z1: float) -> Polygon:
        corners = ((u0, z0), (u1, z0), (u1, z1), (u0, z1))
        return timber(corners, "flat", self.place)

    def _plain(self, u0: float, z0: float, u1: float, z1: float, pen: str) -> Polygon:
        corners = ((u0, z0), (u1, z0), (u1, z1), (u0, z1))
        return Polygon(outline(self.place(*corner) for corner in corners), pen)

    # --- frame ---

    def pieces(self) -> Iterator[Group]:
        if self.beside is None:
            yield from self._pocket()
        else:
            yield from self._shared_pocket(self.beside)
        yield from self._lining(self.frame, self.placed.layout, self)
        yield from self._casings()

    def _lining(self, frame: Frame, layout: WindowLayout, at: Jamb | _Mirror) -> Iterator[Group]:
        """Pulley stile, parting bead and stops of this window or of the one beside."""
        family = layout.family.frame
        thick, project = family.parting_bead_thickness, frame.bead_edge
        stile = (
            (0.0, frame.blind_in), (frame.pocket_edge, frame.blind_in),
            (frame.pocket_edge, frame.wall_in), (0.0, frame.wall_in),
            (0.0, 0.0), (BEAD_GROOVE, 0.0), (BEAD_GROOVE, -thick), (0.0, -thick),
        )  # fmt: skip
        name = self.name
        stile_piece = timber(stile, "flat", at.place)
        yield part(f"frame.pulley_stile.{name}", "pulley stile", (stile_piece,))
        bead = ((project, -thick), (BEAD_GROOVE, -thick), (BEAD_GROOVE, 0.0), (project, 0.0))
        yield part("frame.parting_bead", "parting bead", (timber(bead, "flat", at.place),))
        edge = frame.stop_edge
        stop = ((edge, frame.stop_out), (0.0, frame.stop_out), (0.0, frame.stop_in),
                (edge * 0.45, frame.stop_in), (edge, frame.stop_in + edge * 0.55))  # fmt: skip
        yield part("frame.inside_stop", "inside stop", (timber(stop, "flat", at.place),))

    def _pocket(self) -> Iterator[Group]:
        frame = self.frame
        far, wall = frame.pocket_far, frame.wall_in
        reach = self.reach - self.half
        out, inner = frame.pocket_depths
        empty = self._plain(frame.pocket_edge, out, far, inner, "void")
        linings = tuple(
            self._plain(frame.pocket_edge, z0, far, z1, "edge rough")
            for z0, z1 in ((frame.blind_in, out), (inner, wall))
            if z1 - z0 > 1e-6
        )
        name = f"frame.pocket.{self.name}"
        yield part(name, "weight pocket", (empty, *linings, *self._weights()))
        stud_end = min(far + STUD, reach)
        stud = (self._plain(far, frame.blind_in, stud_end, wall, "outline rough"),
                Line(self.place(far, frame.blind_in), self.place(stud_end, wall), "fine"),
                Line(self.place(far, wall), self.place(stud_end, frame.blind_in), "fine"))  # fmt: skip
        yield part(f"frame.stud.{self.name}", "stud", stud)
        # A pocket deeper than the pulley stile is wide runs past the blind stop into the wall.
        closed = out >= frame.blind_in
        end = far + LAP if closed else frame.pocket_edge
        if reach > end:
            wall_in = frame.blind_in if closed else out
            wall_piece = self._plain(end, frame.blind_out, reach, wall_in, "void")
            yield part("frame.wall", "wall", (wall_piece,))
        blind = self._board(frame.blind_edge, frame.blind_out, end, frame.blind_in)
        yield part("frame.blind_stop", "blind stop", (blind,))

    def _shared_pocket(self, beside: WindowLayout) -> Iterator[Group]:
        frame, other = self.frame, Frame(beside)
        far = self.mullion - other.pocket_edge
        wall = frame.wall_in
        empty = self._plain(frame.pocket_edge, frame.blind_in, far, wall, "void")
        mirror = _Mirror(self)
        items = (empty, *self._weights(), *self._weights_beside(beside, mirror))
        yield part(f"frame.pocket.{self.name}", "shared weight pocket", items)
        blind = self._board(
            frame.blind_edge, frame.blind_out, self.mullion - other.blind_edge, frame.blind_in
        )
        yield part("frame.blind_stop", "blind stop", (blind,))
        yield from self._lining(other, beside, mirror)
        for sash in (beside.upper, beside.lower):
            yield Group((_stile(sash, mirror.sash_place(sash), beside),), "sash beside")
            glass = glazed(sash, self.placed.knowledge)
            place = mirror.sash_place(sash)
            items_: list[Item] = [putty(glass, place)]
            for near, over in glass.panes:
                points = ((-INCH, near), (glass.lap, near), (glass.lap, over), (-INCH, over))
                items_.append(Polygon(outline(place(*p) for p in points), "edge glass"))
            yield Group(tuple(items_), "glass beside")

    def _casings(self) -> Iterator[Group]:
        frame, family = self.frame, self.placed.layout.family.frame
        outer, inner = frame.casing_far, family.inside_casing_width
        if self.beside is not None:
            outer = self.mullion - Frame(self.beside).casing_edge
            inner = self.mullion
        if family.casing_width and family.casing_thickness:
            piece = self._board(frame.casing_edge, frame.casing_out, outer, frame.blind_out)
            yield part(f"frame.casing.{self.name}", "outside casing", (piece,))
        if family.inside_casing_width and family.inside_casing_thickness:
            piece = self._board(0.0, frame.wall_in, inner, frame.casing_in)
            yield part(f"frame.inside_casing.{self.name}", "inside casing", (piece,))

    # --- weights and cords ---

    def _weights(self) -> Iterator[Item]:
        for sash in self.sashes:
            weight = weight_of(self.hang, sash.which)
            if weight is not None:
                u = self.frame.pocket_edge + weight.offset
                yield _weight(weight, sash, self.place(u, hanging_depth(sash)), self.name)
        yield from self._pendulum()

    def _pendulum(self) -> Iterator[Item]:
        frame, pocket = self.frame, self.placed.layout.family.pocket
        if not pocket.pendulum:
            return
        upper, lower = self.sashes
        z = (hanging_depth(upper) + hanging_depth(lower)) / 2
        far = frame.pocket_far
        if self.beside is not None:
            far = self.mullion - Frame(self.beside).pocket_edge
        margin = 0.1 * (far - frame.pocket_edge)
        half = pocket.pendulum / 2
        strip = self._plain(
            frame.pocket_edge + margin, z - half, far - margin, z + half, "edge wood"
        )
        yield part("frame.pendulum", "pendulum", (strip,))

    def _weights_beside(self, beside: WindowLayout, mirror: _Mirror) -> Iterator[Item]:
        """The neighbour's weights, as outlines: what they weigh stands in its own drawing."""
        for sash in (beside.upper, beside.lower):
            weight = weight_of(self.hang, sash.which)
            if weight is not None:
                x, z = mirror.place(Frame(beside).pocket_edge + weight.offset, hanging_depth(sash))
                yield _section(weight, (x, z), "ghost")

    def stile(self, sash: SashLayout) -> Polygon:
        sight = sash.daylight[1]
        place: Placing = lambda p, z: (self.side * (sight + p), sash.face + z)  # noqa: E731
        return _stile(sash, place, self.placed.layout)

    def cords(self, sash: SashLayout) -> Iterator[Item]:
        """The cord where it hangs before the pulley stile, and the pulley above it in dashes."""
        weight = weight_of(self.hang, sash.which)
        if weight is None:
            return
        z = hanging_depth(sash)
        near, far = -weight.cord_front, self.frame.pocket_edge + weight.offset
        yield self._plain(near, z - 0.004, far, z + 0.004, "ghost")
        for u in (near, far):
            yield Arc(self.place(u, z), 0.0025, "edge paper")

    # --- words ---

    def names(self) -> Iterator[tuple[Point, str]]:
        frame, layout = self.frame, self.placed.layout
        family = layout.family.frame
        if family.inside_casing_width and family.inside_casing_thickness:
            yield (
                self.place(0.03, frame.wall_in + family.inside_casing_thickness / 2),
                "inside casing",
            )
        yield self.place(0.5 * frame.pocket_edge, frame.wall_in - 0.008), "pulley stile"
        stop = self.place(frame.stop_edge * 0.6, (frame.stop_out + frame.stop_in) / 2)
        yield stop, "inside stop"
        yield self.place(frame.bead_edge * 0.5, -family.parting_bead_thickness / 2), "parting bead"
        upper, lower = self.sashes
        for sash in (upper, lower):
            yield self.place(-0.03, sash.face + 0.75 * sash.thickness), f"{sash.which} sash"
        blind = (frame.blind_in + frame.blind_out) / 2
        yield self.place(frame.pocket_edge * 0.4, blind), "blind stop"
        if family.casing_width and family.casing_thickness:
            yield self.place(frame.casing_edge + 0.04, frame.casing_out + 0.008), "outside casing"
            yield self.place(frame.casing_edge - 0.004, frame.blind_out - 0.006), "storm rabbet"
        far = frame.pocket_far if self.beside is None else self.mullion - frame.pocket_edge
        yield self.place(far - 0.006, frame.wall_in - 0.02), "weight pocket"
        if self.beside is None:
            yield self.place(frame.pocket_far + 0.6 * STUD, blind + 0.06), "stud"
        if layout.family.pocket.pendulum:
            z = (hanging_depth(upper) + hanging_depth(lower)) / 2
            yield self.place(frame.pocket_edge + 0.4 * (far - frame.pocket_edge), z), "pendulum"
        for sash in (upper, lower):
            weight = weight_of(self.hang, sash.which)
            if weight is not None:
                u = frame.pocket_edge + weight.offset + 0.3 * weight.size
                yield self.place(u, hanging_depth(sash)), f"{sash.which} sash's weight"


@dataclass(frozen=True)
class _Mirror:
    """The jamb of the window beside, seen from ours: counted back from the mullion's far face."""

    jamb: Jamb

    def place(self, u: float, z: float) -> Point:
        return self.jamb.place(self.jamb.mullion - u, z)

    def sash_place(self, sash: SashLayout) -> Placing:
        beside = self.jamb.beside
        half = beside.window.width / 2 if beside is not None else 0.0
        sight = half - sash.daylight[1]
        return lambda p, z: self.place(-sight + p, sash.face + z)


def _stile(sash: SashLayout, place: Placing, layout: WindowLayout) -> Polygon:
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
    return wood(sash.profile, outer, spec.grain, place)


def _weight(weight: Weight, sash: SashLayout, at: Point, side: str) -> Group:
    name = f"{sash.which}.weight.{side}"
    return part(name, f"weight of the {sash.which} sash", (_section(weight, at, "cut metal"),))


def _section(weight: Weight, at: Point, pen: str) -> Item:
    x, z = at
    if weight.shape == "round":
        return Arc(at, weight.size / 2, pen)
    half = weight.size / 2
    return rectangle(x - half, z - half, x + half, z + half, pen)
