"""Mouldings: the stuck edge of sash members, and sections that are run as strips."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from sashwright.knowledge import curves
from sashwright.knowledge.rows import KnowledgeError, Row, si

Vertex = tuple[float, float, float]
MouldingKind = Literal["sticking", "running"]

BACKWARD = 1e-3
"""How far past a right angle an arc may swing before it counts as running back [rad]: what printed
bulges of quarter circles are rounded by."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Moulding(Row):
    """A moulding: the moulded edge of a sash member, or the section of a strip.

    ``points`` are ``(u, v, bulge)``. Of a sticking, ``u`` goes from the square nose beside the glass
    (0) to the room face, ``v`` is how far the wood stands back from the sight line there. A bulge
    bends the piece that starts at its point into an arc: tangent of a quarter of the arc's angle, as
    DXF has it, positive turning counter-clockwise with ``u`` to the right and ``v`` up. So a positive
    bulge swells into the light (a quarter round, 0.4142), a negative one hollows the wood (a cove).

    Without ``unit`` a sticking is drawn in a unit square, and takes the width and depth that a family
    gives it. With ``unit`` (what 1 in its points stands for) it has a size of its own. Of a running
    moulding the points go round its section, which is closed, and ``unit`` is needed: ``u`` along its
    back, ``v`` out from it.
    """

    points: tuple[Vertex, ...]
    kind: MouldingKind = "sticking"
    unit: float | None = si("m", default=None)

    def __post_init__(self) -> None:
        if self.kind == "running" and self.unit is None:
            raise KnowledgeError(
                "found a running moulding without a unit, expected unit_in or unit_mm: what 1 in its "
                "points stands for"
            )
        if self.unit is not None and not self.unit > 0:
            raise KnowledgeError("found a unit of 0, expected more")
        problem = (
            closed_problem(self.points)
            if self.kind == "running"
            else sticking_problem(self.points, unit_square=self.unit is None)
        )
        if problem:
            raise KnowledgeError(problem)

    @property
    def outline(self) -> tuple[Vertex, ...]:
        """Its points [m]; in the unit square where it has no size of its own."""
        unit = 1.0 if self.unit is None else self.unit
        return tuple((u * unit, v * unit, bulge) for u, v, bulge in self.points)

    @property
    def size(self) -> tuple[float, float] | None:
        """Of a sticking, how far it stands back and how deep it runs; of a strip, how far it stands out
        from its back and how wide it is [m]. None where a family gives it."""
        if self.unit is None:
            return None
        left, bottom, right, top = curves.reach(self.outline, closed=self.kind == "running")
        return (top - bottom, right - left) if self.kind == "running" else (top, right)


def sticking_problem(points: tuple[Vertex, ...], *, unit_square: bool) -> str:
    """What is wrong with the points of a sticking; empty when nothing is."""
    return next(_sticking_faults(points, unit_square), "")


def _sticking_faults(points: tuple[Vertex, ...], unit_square: bool) -> Iterator[str]:
    if len(points) < 2 or points[0][:2] != (0.0, 0.0):
        yield (
            "found an outline that starts elsewhere, expected it to start at 0 0, the end of the nose, "
            "and to run on from there"
        )
    if unit_square and points[-1][0] != 1.0:
        yield "found an outline with another end, expected it to end at u = 1, the room face"
    if unit_square and not all(0 <= u <= 1 and 0 <= v <= 1 for u, v, _ in points):
        yield "found a point outside the unit square, expected u and v from 0 to 1"
    for number, (start, end) in enumerate(itertools.pairwise(points), 2):
        yield from _backward(number, start, end)
    if points[-1][0] <= 0:
        yield "found an outline without depth, expected it to run on to the room face"
    least = curves.reach(points, closed=False)[1]
    if least < -1e-9 * points[-1][0]:
        yield (
            f"found an outline that reaches {-least:g} past the sight line into the light, expected it to "
            "stand back from it"
        )
    yield from _crossings(points, closed=False)


def _backward(number: int, start: Vertex, end: Vertex) -> Iterator[str]:
    """A piece of no length, or one that turns back toward the nose."""
    if start[:2] == end[:2]:
        yield f"found point {number} where the one before it is, expected another place"
    chord = math.atan2(end[1] - start[1], end[0] - start[0])
    turn = 2 * math.atan(start[2])
    # Along the arc its direction swings from one of these to the other; beyond a right angle
    # from the u axis it would run backwards.
    if max(abs(chord - turn), abs(chord + turn)) > math.pi / 2 + BACKWARD:
        yield (
            f"found a piece from u = {start[0]:g} to {end[0]:g} that runs back toward the nose, "
            "expected u never to decrease, also along an arc"
        )


def closed_problem(points: tuple[Vertex, ...]) -> str:
    """What is wrong with the points round a section; empty when nothing is."""
    return next(_closed_faults(points), "")


def _closed_faults(points: tuple[Vertex, ...]) -> Iterator[str]:
    bent = any(point[2] for point in points)
    if len(points) < (2 if bent else 3):
        yield f"found {len(points)} points, expected at least three corners, or two with an arc"
    for number, (start, end) in enumerate(curves.pieces(points, closed=True), 2):
        if start[:2] == end[:2] and number > len(points):
            yield "found the first point again at the end, expected it once: the outline closes itself"
        elif start[:2] == end[:2]:
            yield f"found point {number} where the one before it is, expected another place"
    yield from _crossings(points, closed=True)
    left, bottom, right, top = curves.reach(points, closed=True)
    if abs(curves.enclosed(points)) < 1e-6 * (right - left) * (top - bottom):
        yield "found an outline that encloses nothing, expected the section of a strip"


def _crossings(points: tuple[Vertex, ...], *, closed: bool) -> Iterator[str]:
    met = curves.crossing(points, closed=closed)
    if met is not None:
        one, other = (index + 1 for index in met)
        yield (
            f"found that piece {one} and piece {other} of the outline meet, expected an outline that never "
            "crosses or touches itself"
        )
