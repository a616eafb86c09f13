"""Shade in an elevation: light from the upper left at 45 degrees, so each shade is as wide as deep."""

from __future__ import annotations

import math

from sashwright.drawing.frame import Frame
from sashwright.drawing.model import Group, Polygon, Vertex, bulge_of, rectangle


def shades(frame: Frame) -> Group:
    """Shade of the frame on both sash and of the upper sash on the lower, both shut."""
    layout = frame.layout
    half = layout.window.width / 2
    upper, lower = layout.upper, layout.lower
    low = upper.bottom
    behind = lower.face - upper.face - upper.thickness - max(upper.check[0], 0.0)
    left = -half - frame.blind_edge
    deep = lower.face - frame.blind_out
    return Group(
        (
            shade_under(frame, upper.face - frame.blind_out, low),
            rectangle(left, lower.bottom, left + deep, low - behind, "shade"),
            rectangle(left, low - behind, -left, low, "shade"),
        ),
        classes="shades",
        hidden=True,
    )


def shade_under(frame: Frame, depth: float, bottom: float) -> Polygon:
    """What the left side and the head of the blind stop shade at ``depth`` behind it."""
    half = frame.layout.window.width / 2
    edge = frame.over(frame.blind_edge)
    start, end = edge
    bulge = 0.0
    drop = end.y - depth
    if frame.layout.head_arc is not None:
        # The same arc, moved right and down, as far as the right side.
        centre = (depth, frame.layout.head_arc.centre - depth)
        radius = frame.layout.head_arc.radius + frame.blind_edge
        drop = centre[1] + math.sqrt(max(radius**2 - (end.x - depth) ** 2, 0.0))
        bulge = bulge_of(centre, (end.x, drop), (start.x + depth, start.y - depth), clockwise=False)
    half += frame.blind_edge
    return Polygon(
        (
            Vertex(-half, bottom),
            *edge,
            Vertex(end.x, drop, bulge),
            Vertex(start.x + depth, start.y - depth),
            Vertex(-half + depth, bottom),
        ),
        "shade",
    )
