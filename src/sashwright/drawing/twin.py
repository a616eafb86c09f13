"""Windows that share a mullion: which, how far apart, and what an elevation shows of the other one."""

from __future__ import annotations

from collections.abc import Iterator

from sashwright.drawing.broken import break_line
from sashwright.drawing.frame import Frame
from sashwright.drawing.model import Group, Item, Polygon, Text, rectangle
from sashwright.units import INCH
from sashwright.window.layout import SashLayout, WindowLayout
from sashwright.window.outlines.mullion import Side, mullion_width, neighbour
from sashwright.window.resolve import Placed

NEIGHBOUR_SHOWN = 3 * INCH
"""How much of the glass beside is shown past a mullion [m]."""


def beside_reach(placed: Placed, side: Side) -> float:
    """How far from the middle the drawing goes on past a mullion [m]; 0 where there is none."""
    beside = neighbour(placed, side)
    if beside is None:
        return 0.0
    near = placed.window.width / 2 + mullion_width(placed, side)
    return near + beside.upper.spec.stile + NEIGHBOUR_SHOWN


def beside_group(placed: Placed, frame: Frame, side: Side, beside: WindowLayout) -> Group:
    """The near edge of the window past the mullion, broken off, in thin lines."""
    half, far = placed.window.width / 2, beside_reach(placed, side)
    near = half + mullion_width(placed, side)
    foot = frame.sill_height(frame.sill_nose) - frame.sill_drop
    crest = Frame(beside).edge_height(Frame(beside).casing_far)
    label = f"window {beside.window.number}"
    strips = [
        *(
            strip
            for sash in (beside.lower, beside.upper)
            for strip in _sash(sash, beside, near, far)
        ),
        *_frame(frame, Frame(beside), near, far),
    ]
    items: list[Item] = [_strip(side, *strip) for strip in strips]
    items.append(break_line((side * far, foot - 0.02), (side * far, crest + 0.02)))
    items.append(Text((side * far, foot), label, shift=(0.0, -4.6), size=2.1))
    return Group(
        tuple(items),
        f"{label} beside",
        classes="beside",
        data=(("beside", beside.window.number),),
    )


_Strip = tuple[float, float, float, float, str]
"""From where to where outward, foot, top and pen of an upright strip."""


def _strip(side: Side, start: float, end: float, bottom: float, top: float, pen: str) -> Polygon:
    left, right = sorted((side * start, side * end))
    return rectangle(left, bottom, right, top, pen)


def _sash(sash: SashLayout, beside: WindowLayout, near: float, far: float) -> Iterator[_Strip]:
    """The stile next to the mullion, and rails and glass as far as the break."""
    edge = near + (beside.window.width - sash.width) / 2
    sight, low = edge + sash.spec.stile, sash.daylight[2]
    top = sash.stile_top if sash.arc else sash.top
    head = top - (sash.top_rail if sash.arc is None else 0.0)
    yield edge, far, sash.bottom, top, "frame"
    yield sight, far, low, head, "faint paper"
    yield sight, far, low, head, "glass"
    yield edge, sight, sash.bottom, top, "faint"


def _frame(frame: Frame, other: Frame, near: float, far: float) -> Iterator[_Strip]:
    """Blind stop, head casing and sill as far as the break."""
    head, crest = other.edge_height(other.casing_edge), other.edge_height(other.casing_far)
    foot = other.sill_height(other.blind_out)
    yield near - other.casing_edge, near - other.blind_edge, foot, head, "faint frame"
    start = frame.layout.window.width / 2 + frame.casing_far
    nose = frame.sill_height(frame.sill_nose)
    yield start, far, head, crest, "faint frame"
    yield start, far, nose - frame.sill_drop, nose, "faint frame"
