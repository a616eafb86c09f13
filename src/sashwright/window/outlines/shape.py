"""An outline of straight and bent pieces, and the piece of a window that it bounds."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal, NamedTuple

from sashwright.knowledge import curves

Point = curves.Point
arc_of = curves.arc_of
Material = Literal["wood", "rough", "wall", "glass", "putty", "spacer", "air"]
"""``rough`` is unplaned lumber, ``wall`` whatever the frame stands in."""


class Vertex(NamedTuple):
    """A corner of an outline; ``bulge`` bends the piece from here to the next corner.

    The bulge is the tangent of a quarter of the arc's angle, positive counter-clockwise, 0 for a
    straight piece.
    """

    x: float
    y: float
    bulge: float = 0.0


@dataclass(frozen=True, slots=True)
class Outline:
    """A piece cut by a section.

    ``name`` leads with whose it is (``frame``, ``upper``, ``lower``); ``title`` says it in words;
    ``corners`` go round it, closed.
    """

    name: str
    title: str
    material: Material
    corners: tuple[Vertex, ...]
    pith: Point | None = None
    """Of a piece of wood: the heart of the tree, about which its growth rings lie."""

    def points(self, per_arc: int = 12) -> list[Point]:
        """Corners of the outline with its bent pieces cut into straight ones."""
        return flattened(self.corners, per_arc)


def corners(points: Iterable[Point]) -> tuple[Vertex, ...]:
    """Corners of a straight-sided outline."""
    return tuple(Vertex(x, y) for x, y in points)


def box(left: float, bottom: float, right: float, top: float) -> tuple[Vertex, ...]:
    """Corners of an upright rectangle."""
    return corners(((left, bottom), (right, bottom), (right, top), (left, top)))


def flattened(points: Sequence[Vertex], per_arc: int = 12, *, closed: bool = True) -> list[Point]:
    """The outline with each arc cut into ``per_arc`` straight pieces."""
    flat: list[Point] = []
    following = [*points[1:], points[0]] if closed else [*points[1:], points[-1]]
    for start, end in zip(points, following, strict=True):
        flat.append((start.x, start.y))
        if start.bulge:
            flat.extend(_along_arc(start, end, per_arc))
    return flat


def _along_arc(start: Vertex, end: Vertex, pieces: int) -> Iterator[Point]:
    centre, radius, first, sweep = arc_of(start, end)
    for step in range(1, pieces):
        angle = first + sweep * step / pieces
        yield centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle)
