"""One jamb in the level section: pulley stile, beads, pocket with its weights, stiles of the sash."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sashwright.chapters.answer import WindowAnswer
from sashwright.drawing.cut import cut_parts, drawn
from sashwright.drawing.model import Arc, Group, Item, Line, Point, part, rectangle
from sashwright.drawing.weights import Weight, weight_of
from sashwright.units import INCH
from sashwright.window.layout import SashLayout
from sashwright.window.outlines.frame_edges import hanging_depth
from sashwright.window.outlines.jamb import STUD, JambCut, Mirror


@dataclass(frozen=True)
class Jamb:
    """One side of the frame with what hangs in it."""

    cut: JambCut
    hang: WindowAnswer | None
    reach: float
    """How far from the middle of the window the jamb is drawn."""

    # --- frame ---

    def pieces(self) -> Iterator[Group]:
        beside = self.cut.beside
        if beside is None:
            yield from self._pocket()
        else:
            yield from self._shared_pocket(Mirror(self.cut, beside))
        yield from cut_parts(self.cut.lining())
        yield from cut_parts(self.cut.casings())

    def _pocket(self) -> Iterator[Group]:
        cut, reach = self.cut, self.reach - self.cut.half
        space = [drawn(piece) for piece in cut.pocket()]
        yield part(f"frame.pocket.{cut.name}", "weight pocket", (*space, *self._weights()))
        stud = cut.stud(reach)
        a, b, c, d = ((corner.x, corner.y) for corner in stud.corners)
        cross = (drawn(stud, "outline rough"), Line(a, c, "fine"), Line(d, b, "fine"))
        yield part(stud.name, stud.title, cross)
        for wall in cut.wall(reach):
            yield part(wall.name, wall.title, (drawn(wall, "void"),))
        yield from cut_parts([cut.blind_stop()])

    def _shared_pocket(self, mirror: Mirror) -> Iterator[Group]:
        cut = self.cut
        space = [drawn(piece) for piece in cut.pocket()]
        items = (*space, *self._weights(), *self._weights_beside(mirror))
        yield part(f"frame.pocket.{cut.name}", "shared weight pocket", items)
        yield from cut_parts([cut.blind_stop()])
        yield from cut_parts(mirror.lining())
        for sash in (mirror.beside.upper, mirror.beside.lower):
            yield Group((drawn(mirror.stile(sash)),), "sash beside")
            glass = mirror.glass(sash, cut.placed.knowledge, INCH)
            yield Group(tuple(drawn(piece) for piece in glass), "glass beside")

    # --- weights and cords ---

    def _weights(self) -> Iterator[Item]:
        for sash in self.cut.sashes:
            weight = weight_of(self.hang, sash.which)
            if weight is not None:
                u = self.cut.edges.pocket_edge + weight.offset
                yield _weight(weight, sash, self.cut.place(u, hanging_depth(sash)), self.cut.name)
        for strip in self.cut.pendulum():
            yield part(strip.name, strip.title, (drawn(strip, "edge wood"),))

    def _weights_beside(self, mirror: Mirror) -> Iterator[Item]:
        """The neighbour's weights, as outlines: what they weigh stands in its own drawing."""
        for sash in (mirror.beside.upper, mirror.beside.lower):
            weight = weight_of(self.hang, sash.which)
            if weight is not None:
                x, z = mirror.place(mirror.edges.pocket_edge + weight.offset, hanging_depth(sash))
                yield _section(weight, (x, z), "ghost")

    def cords(self, sash: SashLayout) -> Iterator[Item]:
        """The cord where it hangs before the pulley stile, and the pulley above it in dashes."""
        weight = weight_of(self.hang, sash.which)
        if weight is None:
            return
        z = hanging_depth(sash)
        near, far = -weight.cord_front, self.cut.edges.pocket_edge + weight.offset
        strip = self.cut.plain("cord", "cord", "air", near, z - 0.004, far, z + 0.004)
        yield drawn(strip, "ghost")
        for u in (near, far):
            yield Arc(self.cut.place(u, z), 0.0025, "edge paper")

    # --- words ---

    def names(self) -> Iterator[tuple[Point, str]]:
        edges, layout = self.cut.edges, self.cut.placed.layout
        family, place = layout.family.frame, self.cut.place
        if family.inside_casing_width and family.inside_casing_thickness:
            yield (
                place(0.03, edges.wall_in + family.inside_casing_thickness / 2),
                "inside casing",
            )
        yield place(0.5 * edges.pocket_edge, edges.wall_in - 0.008), "pulley stile"
        stop = place(edges.stop_edge * 0.6, (edges.stop_out + edges.stop_in) / 2)
        yield stop, "inside stop"
        yield place(edges.bead_edge * 0.5, -family.parting_bead_thickness / 2), "parting bead"
        upper, lower = self.cut.sashes
        for sash in (upper, lower):
            yield place(-0.03, sash.face + 0.75 * sash.thickness), f"{sash.which} sash"
        blind = (edges.blind_in + edges.blind_out) / 2
        yield place(edges.pocket_edge * 0.4, blind), "blind stop"
        if family.casing_width and family.casing_thickness:
            yield place(edges.casing_edge + 0.04, edges.casing_out + 0.008), "outside casing"
            yield place(edges.casing_edge - 0.004, edges.blind_out - 0.006), "storm rabbet"
        far = edges.pocket_far if self.cut.beside is None else self.cut.mullion - edges.pocket_edge
        yield place(far - 0.006, edges.wall_in - 0.02), "weight pocket"
        if self.cut.beside is None:
            yield place(edges.pocket_far + 0.6 * STUD, blind + 0.06), "stud"
        if layout.family.pocket.pendulum:
            z = (hanging_depth(upper) + hanging_depth(lower)) / 2
            yield place(edges.pocket_edge + 0.4 * (far - edges.pocket_edge), z), "pendulum"
        for sash in (upper, lower):
            weight = weight_of(self.hang, sash.which)
            if weight is not None:
                u = edges.pocket_edge + weight.offset + 0.3 * weight.size
                yield place(u, hanging_depth(sash)), f"{sash.which} sash's weight"


def _weight(weight: Weight, sash: SashLayout, at: Point, side: str) -> Group:
    name = f"{sash.which}.weight.{side}"
    return part(name, f"weight of the {sash.which} sash", (_section(weight, at, "cut metal"),))


def _section(weight: Weight, at: Point, pen: str) -> Item:
    x, z = at
    if weight.shape == "round":
        return Arc(at, weight.size / 2, pen)
    half = weight.size / 2
    return rectangle(x - half, z - half, x + half, z + half, pen)
