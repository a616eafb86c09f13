"""A window as it is seen, from outside or from the room, to scale and with its dimensions."""

from __future__ import annotations

from collections.abc import Iterator

from sashwright import units
from sashwright.drawing.dimensions import elevation_figures
from sashwright.drawing.frame import Frame, beads
from sashwright.drawing.hardware import hardware
from sashwright.drawing.model import (
    Drawing,
    Group,
    Item,
    drawing,
    mirrored,
    part,
    rectangle,
)
from sashwright.drawing.sash import View, sash_in_place
from sashwright.drawing.shade import shades
from sashwright.drawing.twin import beside_group
from sashwright.units import INCH
from sashwright.window.layout import WindowLayout
from sashwright.window.outlines.mullion import SIDES, mullion_width, neighbour
from sashwright.window.resolve import Placed


def elevation(
    placed: Placed,
    side: View = "outside",
    system: units.System = "us",
    dimensions: bool = True,
    lift: tuple[float, float] = (0.0, 0.0),
) -> Drawing:
    """A window seen from ``side``.

    Parameters
    ----------
    lift
        How far the upper sash is lowered and the lower sash raised [m].
    """
    layout = placed.layout
    frame = Frame(layout)
    items = _outside(placed, frame, lift) if side == "outside" else _inside(placed, frame, lift)
    if dimensions:
        items += elevation_figures(placed, frame, side, system, lift)
    return drawing(
        f"Window {placed.window.number} from {side}", describe(layout, side, system), items, 0.1
    )


def describe(layout: WindowLayout, side: View, system: units.System) -> str:
    """What the drawing shows, in words."""
    window = layout.window

    def length(metres: float) -> str:
        return units.format_length(metres, system)

    head = {"square": "", "segmental": ", segmental head", "full arch": ", arched head"}
    lites = [
        f"{name} sash {sash.spec.lites.columns} by {sash.spec.lites.rows} lites"
        for name, sash in (("upper", layout.upper), ("lower", layout.lower))
    ]
    return (
        f"Elevation of a {window.hung}-hung window seen from {side}: sash opening "
        f"{length(window.width)} wide and {length(window.height)} high"
        f"{head[window.head.shape]}; {lites[0]}, {lites[1]}; meeting rails closed at "
        f"{length(layout.lower.top)} above the sill."
    )


# --- from outside ---------------------------------------------------------------------------------


def _outside(placed: Placed, frame: Frame, lift: tuple[float, float]) -> list[Item]:
    layout = placed.layout
    return [
        frame.outline(0.0, 0.0, "void"),
        sash_in_place(layout.lower, "outside", lift[1]),
        part("frame.parting_bead", "parting bead", beads(frame)),
        sash_in_place(layout.upper, "outside", -lift[0]),
        # Only where both sash are shut does the shade fall as simply as it is drawn.
        *([] if any(lift) else [shades(frame)]),
        part("frame.sill", "sill", _sill(frame)),
        part(
            "frame.blind_stop",
            "blind stop",
            (
                frame.surround(
                    frame.blind_edge,
                    frame.casing_edge,
                    frame.sill_height(frame.blind_out),
                    "edge frame",
                ),
            ),
        ),
        *_casing(placed, frame),
    ]


def _sill(frame: Frame) -> Iterator[Item]:
    far = frame.layout.window.width / 2 + max(frame.casing_far, 0.0)
    nose = frame.sill_height(frame.sill_nose)
    yield rectangle(-far, nose, far, 0.0, "edge frame")
    yield rectangle(-far, nose - frame.sill_drop, far, nose, "edge frame")


def _casing(placed: Placed, frame: Frame) -> Iterator[Group]:
    """Outside casing; towards a window beside, the casing of the mullion."""
    if frame.layout.family.frame.casing_width == 0:
        return
    foot = frame.sill_height(frame.casing_out)
    for side, name in SIDES:
        beside = neighbour(placed, side)
        far = (
            frame.casing_far
            if beside is None
            else mullion_width(placed, side) - Frame(beside).casing_edge
        )
        leg = frame.leg(side, frame.casing_edge, far, foot, "outline frame")
        label = "mullion casing" if beside else f"outside casing, {name}"
        yield part(f"frame.casing.{name}", label, (leg,))
        if beside is not None:
            yield beside_group(placed, frame, side, beside)
    head = frame.head(frame.casing_edge, frame.casing_far, "outline frame")
    yield part("frame.casing.head", "outside casing, head", (head,))


# --- from the room --------------------------------------------------------------------------------


def _inside(placed: Placed, frame: Frame, lift: tuple[float, float]) -> list[Item]:
    layout = placed.layout
    foot = frame.stool_top
    items: list[Item] = [
        frame.outline(0.0, 0.0, "void"),
        sash_in_place(layout.upper, "inside", -lift[0]),
        part("frame.parting_bead", "parting bead", beads(frame)),
        sash_in_place(layout.lower, "inside", lift[1]),
        *hardware(layout, lift),
        part(
            "frame.inside_stop",
            "inside stop",
            (frame.surround(frame.stop_edge, 0.0, foot, "edge wood"),),
        ),
        *_inside_casing(placed, frame, foot),
        *_stool(placed, frame),
    ]
    # Seen from the other side: left and right change places, and so do the names.
    return [mirrored(item) for item in items]


def _inside_casing(placed: Placed, frame: Frame, foot: float) -> Iterator[Group]:
    width = frame.layout.family.frame.inside_casing_width
    if width == 0:
        return
    for side, name in SIDES:
        beside = neighbour(placed, side)
        far = width if beside is None else mullion_width(placed, side)
        leg = frame.leg(side, 0.0, far, foot, "outline frame")
        label = "mullion casing" if beside else f"inside casing, {name} seen from outside"
        yield part(f"frame.inside_casing.{name}", label, (leg,))
    head = frame.head(0.0, width, "outline frame")
    yield part("frame.inside_casing.head", "inside casing, head", (head,))


def _stool(placed: Placed, frame: Frame) -> Iterator[Group]:
    thickness = frame.layout.family.frame.stool_thickness
    if thickness == 0:
        return
    half = frame.layout.window.width / 2
    ends = []
    for side, _ in SIDES:
        width = frame.layout.family.frame.inside_casing_width + INCH
        if neighbour(placed, side) is not None:
            width = mullion_width(placed, side)
        ends.append(side * (half + width))
    stool = rectangle(
        ends[0], frame.stool_top - thickness, ends[1], frame.stool_top, "outline frame"
    )
    yield part("frame.stool", "stool", (stool,))
