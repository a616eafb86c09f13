"""The section of a sash member along its glazed edge, as set-back against depth.

``z`` runs from the weather face (0) to the room face (thickness); ``inset`` is how far the wood stands
back from the sight line there: the rabbet's width in the rabbet, nothing at the square nose, the
moulding's curve beyond. Volumes follow by integrating over ``z``; all curves are integrated exactly
enough (Gauss-Legendre along lines and arcs) that no tolerance depends on how finely they are drawn.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from sashwright.knowledge import curves

Array = NDArray[np.float64]
Point = curves.Point

# Three points integrate straight pieces exactly (the integrands are at most of fifth degree there);
# twelve integrate a half circle's smooth integrands to better than 1e-12 of their size.
_LINE_NODES, _LINE_WEIGHTS = np.polynomial.legendre.leggauss(3)
LINE_SHARES, LINE_WEIGHTS = (_LINE_NODES + 1) / 2, _LINE_WEIGHTS / 2
"""Nodes and weights on a unit run."""
_ARC_NODES, _ARC_WEIGHTS = np.polynomial.legendre.leggauss(12)


@dataclass(frozen=True, slots=True)
class Nodes:
    """Quadrature nodes through the thickness: depths [m], their weights [m], insets [m]."""

    z: Array
    weight: Array
    inset: Array


@dataclass(frozen=True, slots=True)
class _Piece:
    """A line, or an arc of an ellipse, in the (z, inset) plane."""

    start: Point
    end: Point
    centre: Point | None = None
    radii: Point = (0.0, 0.0)
    angles: Point = (0.0, 0.0)

    def nodes(self) -> tuple[Array, Array, Array]:
        if self.centre is None:
            run = self.end[0] - self.start[0]
            z = self.start[0] + LINE_SHARES * run
            inset = self.start[1] + LINE_SHARES * (self.end[1] - self.start[1])
            return z, LINE_WEIGHTS * run, inset
        half = (self.angles[1] - self.angles[0]) / 2
        angle = self.angles[0] + half * (_ARC_NODES + 1)
        z = self.centre[0] + self.radii[0] * np.cos(angle)
        inset = self.centre[1] + self.radii[1] * np.sin(angle)
        return z, -self.radii[0] * np.sin(angle) * half * _ARC_WEIGHTS, inset

    def sampled(self, per_arc: int) -> Iterator[Point]:
        if self.centre is not None:
            for step in range(1, per_arc):
                angle = self.angles[0] + (self.angles[1] - self.angles[0]) * step / per_arc
                yield (
                    self.centre[0] + self.radii[0] * math.cos(angle),
                    self.centre[1] + self.radii[1] * math.sin(angle),
                )
        yield self.end


def _moulding_pieces(
    points: Sequence[curves.Vertex], nose_end: float, depth: float, width: float
) -> Iterator[_Piece]:
    """Pieces of a moulding whose points are so many times ``depth`` and ``width`` from the nose's end."""

    def place(u: float, v: float) -> Point:
        return nose_end + depth * u, width * v

    for start, end in itertools.pairwise(points):
        ends = place(*start[:2]), place(*end[:2])
        if start[2] == 0:
            yield _Piece(*ends)
            continue
        (u, v), radius, first, sweep = curves.arc_of(start, end)
        radii = (radius * depth, radius * width)
        yield _Piece(*ends, place(u, v), radii, (first, first + sweep))


class Profile:
    """Set-back of a sash member's glazed edge through its thickness.

    Parameters are in [m]; ``moulding`` lists the moulding's points ``(u, v, bulge)`` from the nose
    (u = 0) to the room face, in unit coordinates, or in [m] where it is ``true_size``.
    """

    def __init__(
        self,
        thickness: float,
        rabbet_width: float,
        rabbet_depth: float,
        moulding_width: float,
        moulding_depth: float,
        moulding: tuple[curves.Vertex, ...],
        true_size: bool = False,
    ) -> None:
        self.thickness = thickness
        self.nose = (rabbet_depth, thickness - moulding_depth)
        scale = (1.0, 1.0) if true_size else (moulding_depth, moulding_width)
        self._pieces = (
            _Piece((0.0, rabbet_width), (rabbet_depth, rabbet_width)),
            _Piece((rabbet_depth, 0.0), (self.nose[1], 0.0)),
            *_moulding_pieces(moulding, self.nose[1], *scale),
        )
        columns = [piece.nodes() for piece in self._pieces]
        self.nodes = Nodes(*(np.concatenate(column) for column in zip(*columns, strict=True)))
        self.greatest_inset = max(rabbet_width, moulding_width)
        self.removed = float(self.nodes.weight @ self.nodes.inset)
        """Area cut away from the plain rectangle of the member along one glazed edge [m2]."""

    def edge(self, per_arc: int = 12) -> list[Point]:
        """The glazed edge as points (z, inset), weather face to room face, for drawing."""
        points = [self._pieces[0].start]
        for piece in self._pieces:
            if piece.start != points[-1]:
                points.append(piece.start)
            points.extend(piece.sampled(per_arc))
        if points[-1][0] < self.thickness:
            points.append((self.thickness, points[-1][1]))
        return points


@lru_cache(maxsize=512)
def profile(
    thickness: float,
    rabbet_width: float,
    rabbet_depth: float,
    moulding_width: float,
    moulding_depth: float,
    moulding: tuple[curves.Vertex, ...],
    true_size: bool = False,
) -> Profile:
    """The profile of these sizes, built once: windows of a family share it."""
    return Profile(
        thickness, rabbet_width, rabbet_depth, moulding_width, moulding_depth, moulding, true_size
    )
