"""Head and sill of the frame where the vertical section cuts them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sashwright.drawing.cut import timber
from sashwright.drawing.frame import Frame
from sashwright.drawing.model import Group, Point, Polygon, Vertex, part, rectangle
from sashwright.units import INCH
from sashwright.window.layout import WindowLayout

BLIND_STOP_STOCK = 1.5 * INCH
"""Least height of the blind stop at the head [m]; common practice."""
THROAT = (0.25 * INCH, 0.1875 * INCH, 0.375 * INCH)
"""Width and depth of the groove under the sill, and how far behind its nose it is [m]."""


@dataclass(frozen=True)
class FrameCut:
    """Head and sill, in z (to the right) and y."""

    layout: WindowLayout
    frame: Frame

    def head(self, crest: float) -> Iterator[Group]:
        frame, family = self.frame, self.layout.family.frame
        height = self.layout.window.height
        yoke = height + family.head_thickness
        z0, z1 = frame.blind_in, frame.wall_in
        wall = rectangle(frame.blind_out, yoke, z1, crest, "void", "earth")
        yield part("frame.wall", "wall", (wall,))
        head = ((height, z0), (height, z1), (yoke, z1), (yoke, z0))
        yield part("frame.head", "head", (timber(head, "flat", _upright),))
        top = max(height + frame.blind_edge + BLIND_STOP_STOCK, yoke)
        blind = _box(frame.blind_out, height + frame.blind_edge, frame.blind_in, top)
        yield part("frame.blind_stop", "blind stop", (timber(blind, "flat", _upright),))
        stop = _box(frame.stop_out, height + frame.stop_edge, frame.stop_in, height)
        yield part("frame.inside_stop", "inside stop", (timber(stop, "flat", _upright),))
        if family.casing_thickness and family.casing_width:
            low = height + frame.casing_edge
            high = min(low + family.casing_width, crest)
            casing = _box(frame.casing_out, low, frame.blind_out, high)
            yield part("frame.casing.head", "outside casing", (timber(casing, "flat", _upright),))
        if family.inside_casing_thickness and family.inside_casing_width:
            high = min(height + family.inside_casing_width, crest)
            inside = _box(frame.wall_in, height, frame.casing_in, high)
            name = "frame.inside_casing.head"
            yield part(name, "inside casing", (timber(inside, "flat", _upright),))

    def sill(self, foot: float) -> Iterator[Group]:
        frame = self.frame
        wall = rectangle(frame.blind_out, foot, frame.wall_in, foot, "void", "earth")
        under = frame.sill_height(frame.blind_out) - frame.sill_drop
        if under > foot:
            corners = (
                Vertex(frame.blind_out, foot),
                Vertex(frame.wall_in, foot),
                Vertex(frame.wall_in, self._sill_under(frame.wall_in)),
                Vertex(frame.sill_inner, self._sill_under(frame.sill_inner)),
                Vertex(frame.blind_out, under),
            )
            wall = Polygon(corners, "void", "earth")
            yield part("frame.wall", "wall", (wall,))
        yield part("frame.sill", "sill", (timber(self._sill_outline(), "flat", _upright),))
        if self.layout.family.frame.stool_thickness:
            yield part("frame.stool", "stool", (self._stool(),))

    def _sill_under(self, z: float) -> float:
        return self.frame.sill_height(min(z, self.frame.sill_inner)) - self.frame.sill_drop

    def _sill_outline(self) -> list[Point]:
        frame = self.frame
        nose, inner = frame.sill_nose, frame.sill_inner
        width, depth, behind = THROAT
        corners = [(nose, frame.sill_height(nose)), (inner, frame.sill_height(inner))]
        corners.append((inner, self._sill_under(inner)))
        if nose + behind + width < frame.casing_out:
            near, far = nose + behind, nose + behind + width
            corners += [(far, self._sill_under(far)), (far, self._sill_under(far) + depth)]
            corners += [(near, self._sill_under(far) + depth), (near, self._sill_under(near))]
        corners.append((nose, self._sill_under(nose)))
        return [(y, z) for z, y in corners]

    def _stool(self) -> Polygon:
        frame = self.frame
        thickness = self.layout.family.frame.stool_thickness
        top, bottom = frame.stool_top, frame.stool_top - thickness
        start, nose = frame.stop_out, frame.stool_nose - thickness / 2
        at_sash, at_end = frame.sill_height(start), frame.sill_height(frame.sill_inner)
        back: tuple[Vertex, ...] = (Vertex(start, bottom),)
        if bottom < at_end:
            # Rabbeted over the inner edge of the sill.
            back = (
                Vertex(frame.sill_inner, bottom),
                Vertex(frame.sill_inner, at_end),
                Vertex(start, at_sash),
            )
        corners = (Vertex(start, top), Vertex(nose, top, -1.0), Vertex(nose, bottom), *back)
        return Polygon(corners, "cut wood", "end-grain", (nose + 0.02, bottom - 0.09))


def _upright(p: float, z: float) -> Point:
    """For pieces of the frame: ``p`` is the height."""
    return z, p


def _box(z0: float, low: float, z1: float, high: float) -> list[Point]:
    return [(low, z0), (low, z1), (high, z1), (high, z0)]
