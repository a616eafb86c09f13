"""The mullion between two windows: two pulley stiles that stand free, with half of each window on them."""

from __future__ import annotations

from collections.abc import Iterator

from sashwright.chapters.grade.members import Stretch, beam, of_beam
from sashwright.chapters.grade.resistance import Resistance
from sashwright.chapters.grade.timber import rectangles, timber_of
from sashwright.physics.beams import tributary
from sashwright.window.layout import WindowLayout
from sashwright.window.resolve import Placed


def stile_depth(layout: WindowLayout) -> float:
    """Of a pulley stile, through the wall: both tracks, the bead between and the inside stop [m].

    Where it has a pocket cover, what is left beside the hole, cut from the inner track.
    """
    frame = layout.family.frame
    outer = layout.upper.thickness + frame.track_play + frame.parting_bead_thickness
    inner = layout.lower.thickness + frame.track_play
    hole = inner if layout.family.pocket.cover_height > 0 else 0.0
    return outer + inner + frame.inside_stop_width - hole


def posts_of(placed: Placed) -> Iterator[Resistance]:
    """The mullions beside a window; nothing for one that stands alone, nailed to the wall."""
    layout = placed.layout
    for side, other in (("left", placed.left), ("right", placed.right)):
        if other is None:
            continue
        span = max(layout.window.height, other.window.height)
        stretches: list[Stretch] = []
        for each in (layout, other):
            height = each.window.height
            peak, corner = tributary(1.0, height, each.window.width)
            stretches.append((0.0, height, float(peak), float(corner)))
        frame = layout.family.frame
        timber = timber_of(placed.knowledge.find("wood", frame.wood), frame.moisture)
        boards = [(each.family.frame.pulley_stile, stile_depth(each)) for each in (layout, other)]
        post = beam(
            f"frame.casing.{side}",
            f"the mullion on the {side}",
            span,
            timber,
            rectangles(*boards),
            (stretches, ()),
        )
        yield from of_beam(post)
