"""Outlines of the frame seen face on: three-sided bands round the opening, arched or square."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from sashwright.drawing.model import Polygon, Vertex, bulge_of, rectangle
from sashwright.window.outlines.frame_edges import FrameEdges


@dataclass(frozen=True)
class Frame(FrameEdges):
    """The frame's edges, and the shapes they bound in elevation."""

    def over(self, out: float) -> list[Vertex]:
        """The head of the outline ``out`` beyond the opening, from left to right."""
        half = self.layout.window.width / 2 + out
        side = self.edge_height(out)
        bulge = 0.0
        if self.layout.head_arc is not None:
            centre = (0.0, self.layout.head_arc.centre)
            bulge = bulge_of(centre, (-half, side), (half, side), clockwise=True)
        return [Vertex(-half, side, bulge), Vertex(half, side)]

    def outline(self, out: float, bottom: float, pen: str) -> Polygon:
        """The whole shape ``out`` beyond the opening, down to a level foot."""
        half = self.layout.window.width / 2 + out
        return Polygon(
            (Vertex(-half, bottom), *self.over(out), Vertex(half, bottom)),
            pen,
        )

    def surround(self, inner: float, outer: float, bottom: float, pen: str) -> Polygon:
        """The three-sided band between two outlines, open at its foot."""
        half = self.layout.window.width / 2
        return Polygon(
            (
                Vertex(-half - outer, bottom),
                *self.over(outer),
                Vertex(half + outer, bottom),
                Vertex(half + inner, bottom),
                *_back(self.over(inner)),
                Vertex(-half - inner, bottom),
            ),
            pen,
        )

    def leg(
        self, side: Literal[-1, 1], inner: float, outer: float, bottom: float, pen: str
    ) -> Polygon:
        """One upright of a three-sided band, up to its joint with the head."""
        half = self.layout.window.width / 2
        inside, outside = self.edge_height(inner), self.edge_height(outer)
        if self.layout.head_arc is None:
            outside = inside
        return Polygon(
            (
                Vertex(side * (half + inner), bottom),
                Vertex(side * (half + outer), bottom),
                Vertex(side * (half + outer), outside),
                Vertex(side * (half + inner), inside),
            ),
            pen,
        )

    def head(self, inner: float, outer: float, pen: str) -> Polygon:
        """The head piece of a three-sided band: over both uprights, or the curved part."""
        if self.layout.head_arc is not None:
            return Polygon((*self.over(outer), *_back(self.over(inner))), pen)
        half = self.layout.window.width / 2 + outer
        low, high = self.crown(inner), self.crown(outer)
        corners = (
            Vertex(-half, low),
            Vertex(half, low),
            Vertex(half, high),
            Vertex(-half, high),
        )
        return Polygon(corners, pen)


def beads(frame: Frame) -> Iterator[Polygon]:
    """Parting beads on both pulley stiles."""
    half = frame.layout.window.width / 2
    for side in (-1, 1):
        edges = sorted((side * half, side * (half + frame.bead_edge)))
        yield rectangle(edges[0], 0.0, edges[1], frame.edge_height(0.0), "edge wood")


def _back(run: list[Vertex]) -> list[Vertex]:
    """A run of two corners the other way round, its bend kept."""
    first, last = run
    return [Vertex(last.x, last.y, -first.bulge), Vertex(first.x, first.y)]
