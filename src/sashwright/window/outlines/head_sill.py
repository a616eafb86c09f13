"""Head and sill of the frame in the upright section: in (z, y)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sashwright.knowledge import curves
from sashwright.knowledge.tables import Knowledge
from sashwright.units import INCH
from sashwright.window.layout import WindowLayout
from sashwright.window.mouldings import strip_section
from sashwright.window.outlines.frame_edges import FrameEdges
from sashwright.window.outlines.glazed import Placing, timber
from sashwright.window.outlines.shape import Outline, Point, Vertex, box, corners

BLIND_STOP_STOCK = 1.5 * INCH
"""Least height of the blind stop at the head [m]; common practice."""
THROAT = (0.25 * INCH, 0.1875 * INCH, 0.375 * INCH)
"""Width and depth of the groove under the sill, and how far behind its nose it is [m]."""


@dataclass(frozen=True)
class HeadAndSill:
    """What is above and below the sash, at the crown of an arched head."""

    layout: WindowLayout
    knowledge: Knowledge | None = None
    """The tables that running mouldings are looked up in; boards are plain without."""

    def _run(self, field: str) -> tuple[curves.Vertex, ...]:
        """The section that a strip is run to; empty for a plain board."""
        if self.knowledge is None:
            return ()
        return strip_section(self.layout.family.frame, field, self.knowledge)

    @property
    def edges(self) -> FrameEdges:
        return FrameEdges(self.layout)

    def head(self, crest: float) -> Iterator[Outline]:
        """Head, stops and casings, cut off at ``crest`` with the wall behind them."""
        edges, family = self.edges, self.layout.family.frame
        height = self.layout.window.height
        yoke = height + family.head_thickness
        z0, z1 = edges.blind_in, edges.wall_in
        yield Outline("frame.wall", "wall", "wall", box(edges.blind_out, yoke, z1, crest))
        head = [(height, z0), (height, z1), (yoke, z1), (yoke, z0)]
        yield _piece("frame.head", "head", head)
        top = max(height + edges.blind_edge + BLIND_STOP_STOCK, yoke)
        blind = _block(edges.blind_out, height + edges.blind_edge, edges.blind_in, top)
        yield _piece("frame.blind_stop", "blind stop", blind)
        stop = _block(edges.stop_out, height + edges.stop_edge, edges.stop_in, height)
        run = self._run("inside_stop")
        if run:
            stop = _placed(run, lambda u, v: (height - v, edges.stop_out + u))
        yield _piece("frame.inside_stop", "inside stop", stop)
        if family.casing_thickness and family.casing_width:
            low = height + edges.casing_edge
            high = min(low + family.casing_width, crest)
            casing = _block(edges.casing_out, low, edges.blind_out, high)
            run = self._run("outside_casing")
            if run:
                casing = _below(crest, _placed(run, lambda u, v: (low + u, edges.blind_out - v)))
            yield _piece("frame.casing.head", "outside casing", casing)
        if family.inside_casing_thickness and family.inside_casing_width:
            high = min(height + family.inside_casing_width, crest)
            inside = _block(edges.wall_in, height, edges.casing_in, high)
            run = self._run("inside_casing")
            if run:
                inside = _below(crest, _placed(run, lambda u, v: (height + u, edges.wall_in + v)))
            yield _piece("frame.inside_casing.head", "inside casing", inside)

    def sill(self, foot: float) -> Iterator[Outline]:
        """Sill and stool, and the wall under them down to ``foot``."""
        edges = self.edges
        under = edges.sill_height(edges.blind_out) - edges.sill_drop
        if under > foot:
            wall = (
                (edges.blind_out, foot),
                (edges.wall_in, foot),
                (edges.wall_in, self.sill_under(edges.wall_in)),
                (edges.sill_inner, self.sill_under(edges.sill_inner)),
                (edges.blind_out, under),
            )
            yield Outline("frame.wall", "wall", "wall", corners(wall))
        yield _piece("frame.sill", "sill", self._sill())
        if self.layout.family.frame.stool_thickness:
            yield self._stool()

    def sill_under(self, z: float) -> float:
        """Underside of the sill at depth ``z``, level beyond its inner edge."""
        return self.edges.sill_height(min(z, self.edges.sill_inner)) - self.edges.sill_drop

    def _sill(self) -> list[Point]:
        edges = self.edges
        nose, inner = edges.sill_nose, edges.sill_inner
        width, depth, behind = THROAT
        points = [(nose, edges.sill_height(nose)), (inner, edges.sill_height(inner))]
        points.append((inner, self.sill_under(inner)))
        if nose + behind + width < edges.casing_out:
            near, far = nose + behind, nose + behind + width
            points += [(far, self.sill_under(far)), (far, self.sill_under(far) + depth)]
            points += [(near, self.sill_under(far) + depth), (near, self.sill_under(near))]
        points.append((nose, self.sill_under(nose)))
        return [(y, z) for z, y in points]

    def _stool(self) -> Outline:
        run = self._run("stool")
        if run:
            wide = curves.reach(run, closed=True)[2]
            left = self.edges.stool_nose - wide
            foot = self.edges.stool_top - self.layout.family.frame.stool_thickness
            points = _placed(run, lambda u, v: (foot + v, left + u))
            return _piece("frame.stool", "stool", points)
        return self._plain_stool()

    def _plain_stool(self) -> Outline:
        edges = self.edges
        thickness = self.layout.family.frame.stool_thickness
        top, bottom = edges.stool_top, edges.stool_top - thickness
        start, nose = edges.stop_out, edges.stool_nose - thickness / 2
        at_sash, at_end = edges.sill_height(start), edges.sill_height(edges.sill_inner)
        back: tuple[Vertex, ...] = (Vertex(start, bottom),)
        if bottom < at_end:
            # Rabbeted over the inner edge of the sill.
            back = (
                Vertex(edges.sill_inner, bottom),
                Vertex(edges.sill_inner, at_end),
                Vertex(start, at_sash),
            )
        round_it = (Vertex(start, top), Vertex(nose, top, -1.0), Vertex(nose, bottom), *back)
        return Outline("frame.stool", "stool", "wood", round_it, (nose + 0.02, bottom - 0.09))


def _piece(name: str, title: str, points: list[Point]) -> Outline:
    """A piece whose points are (height, depth)."""
    return timber(name, title, points, "flat", lambda p, z: (z, p))


def _placed(section: Sequence[curves.Vertex], place: Placing) -> list[Point]:
    """A strip's section as points (height, depth)."""
    return [place(*point) for point in curves.flat(section, closed=True, per_arc=8)[:-1]]


def _below(crest: float, points: list[Point]) -> list[Point]:
    """What of an outline of points (height, depth) lies below ``crest``."""
    kept: list[Point] = []
    for start, end in zip(points, [*points[1:], points[0]], strict=True):
        if start[0] <= crest:
            kept.append(start)
        if (start[0] - crest) * (end[0] - crest) < 0:
            share = (crest - start[0]) / (end[0] - start[0])
            kept.append((crest, start[1] + share * (end[1] - start[1])))
    return kept


def _block(z0: float, low: float, z1: float, high: float) -> list[Point]:
    return [(low, z0), (low, z1), (high, z1), (high, z0)]
