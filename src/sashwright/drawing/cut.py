"""Cut pieces as drawing items: how each material looks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby

from sashwright.drawing.model import Group, Hatch, Polygon, part
from sashwright.window.outlines.shape import Material, Outline

LOOKS: dict[Material, tuple[str, Hatch | None]] = {
    "wood": ("cut wood", "end-grain"),
    "rough": ("edge rough", None),
    "wall": ("void", "earth"),
    "glass": ("edge glass", None),
    "putty": ("fine putty", None),
    "spacer": ("fine metal", None),
    "air": ("void", None),
}
"""Pen and hatch."""


def drawn(piece: Outline, pen: str | None = None) -> Polygon:
    """A cut piece; with a ``pen`` of its own it is not hatched."""
    look, hatch = LOOKS[piece.material]
    if pen is not None:
        return Polygon(piece.corners, pen)
    return Polygon(piece.corners, look, hatch, piece.pith)


def cut_parts(pieces: Iterable[Outline]) -> Iterator[Group]:
    """Cut pieces as parts; those of one name that follow each other are one."""
    for (name, title), those in groupby(pieces, key=lambda piece: (piece.name, piece.title)):
        yield part(name, title, [drawn(piece) for piece in those])
