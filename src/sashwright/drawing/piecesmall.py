"""A small elevation of a window with one of its pieces drawn out: for a card, a tag, a telephone."""

from __future__ import annotations

from collections.abc import Iterator

from sashwright.chapters.make.tracks import NAMES, PieceName
from sashwright.drawing.frame import Frame
from sashwright.drawing.model import Drawing, Item, Polygon, drawing
from sashwright.drawing.sash import lite_outline, sash_outline
from sashwright.knowledge.tables import KnowledgeError
from sashwright.window.layout import SashLayout
from sashwright.window.problem import LayoutError
from sashwright.window.resolve import Placed

SCALE = 0.025


def piece_small(placed: Placed, piece: PieceName) -> Drawing:
    """The window in thin lines, seen from outside, and the piece in full: its wood, its glass, its cloth."""
    number = placed.window.number
    items = [*_ghost(placed, piece), *_shown(placed, piece)]
    return drawing(f"{number} {NAMES[piece]}", f"The {NAMES[piece]} in its window.", items, SCALE)


def _ghost(placed: Placed, piece: PieceName) -> Iterator[Item]:
    layout = placed.layout
    frame = Frame(layout)
    yield frame.outline(min(frame.casing_edge, 0.0), 0.0, "faint")
    for sash in (layout.upper, layout.lower):
        if sash.which != piece:
            yield sash_outline(sash, "faint")


def _shown(placed: Placed, piece: PieceName) -> Iterator[Item]:
    if piece in ("upper", "lower"):
        sash = placed.layout.upper if piece == "upper" else placed.layout.lower
        yield sash_outline(sash, "sash-edge wood")
        yield from _openings([sash], "edge glass")
        return
    try:
        found = placed.storm_sash if piece == "storm" else placed.screen
    except (LayoutError, KnowledgeError):
        return
    if found is None:
        return
    for panel in found.panels:
        yield sash_outline(panel, "sash-edge wood")
    yield from _openings(found.panels, "edge glass" if piece == "storm" else "edge void")


def _openings(panels: list[SashLayout] | tuple[SashLayout, ...], pen: str) -> Iterator[Polygon]:
    for panel in panels:
        for lite in panel.lites:
            outline = lite_outline(lite, 0.0, pen)
            # Cloth is told from glass without colour.
            yield Polygon(outline.points, pen, "metal") if "void" in pen else outline
