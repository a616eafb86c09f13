"""The template of a moulding for whoever grinds its knife: full size, on a grid, with its figures."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from sashwright import units
from sashwright.drawing.dimensions import ROW
from sashwright.drawing.model import (
    Callouts,
    Dimension,
    Drawing,
    Item,
    Line,
    Point,
    Polygon,
    Polyline,
    Text,
    Vertex,
    drawing,
)
from sashwright.knowledge import curves
from sashwright.physics.cutterhead import ground_depth
from sashwright.units import INCH

FINE = {"us": INCH / 8, "metric": 0.005}
COARSE = {"us": INCH / 2, "metric": 0.010}
"""Between the lines of the grid, and from one bold one to the next [m]."""
WOOD_SHOWN = 0.010
"""Of the wood beside the moulding [m]."""
KNIFE_SHOWN = 0.008
"""Of the knife under its edge [m]."""
SHORTEST_ARC = 0.0012
"""Arcs shorter than this get no figure [m]."""


@dataclass(frozen=True, slots=True)
class Head:
    """A cutterhead: radius of the tip's circle [m], hook of the knife's face [degrees]."""

    circle: float
    hook: float


def knife_drawing(
    name: str,
    outline: Sequence[curves.Vertex],
    system: units.System = "us",
    *,
    running: bool = False,
    head: Head | None = None,
    scale: float = 1.0,
    notes: bool = True,
) -> Drawing:
    """A moulding [m], seen in section: the wood above, the edge of the knife in red below.

    Parameters
    ----------
    outline
        As :func:`sashwright.window.mouldings.true_outline` gives it; of a ``running`` moulding the
        section of the strip.
    head
        The cutterhead that the knife is for: its own outline, ground deeper, is then drawn beside.

    Raises ``ValueError`` where the head is too small for the moulding.
    """
    sheet = _Sheet(tuple(Vertex(*point) for point in outline), system, running)
    items = [*sheet.grid(), *sheet.wood(), *sheet.figures(), *sheet.radii()]
    if notes:
        items += sheet.notes(head)
    if head is not None:
        items.append(sheet.ground(head))
    kind = "section of a running moulding" if running else "moulding of a sash"
    left, bottom, right, top = sheet.reach
    says = (
        f"Template of a {kind}, {size_of(right - left, system)} by {size_of(top - bottom, system)}, "
        f"on a grid of {size_of(FINE[system], system)}."
    )
    return drawing(f"Moulding {name}", says, items, scale)


@dataclass(frozen=True)
class _Sheet:
    outline: tuple[Vertex, ...]
    system: units.System
    running: bool

    @property
    def reach(self) -> tuple[float, float, float, float]:
        return curves.reach(self.outline, closed=self.running)

    @property
    def box(self) -> tuple[float, float, float, float]:
        """What the grid covers."""
        left, bottom, right, top = self.reach
        if self.running:
            return left, bottom, right, top
        return left - WOOD_SHOWN, bottom - KNIFE_SHOWN, right, top + WOOD_SHOWN

    # --- the sheet ---

    def grid(self) -> Iterator[Item]:
        left, bottom, right, top = self.box
        fine = FINE[self.system]
        every = round(COARSE[self.system] / fine)
        first, last = math.floor(left / fine - 1e-6), math.ceil(right / fine + 1e-6)
        low, high = math.floor(bottom / fine - 1e-6), math.ceil(top / fine + 1e-6)
        for number in range(first, last + 1):
            pen = "grid" if number % every else "grid fine"
            x = number * fine
            yield Line((x, low * fine), (x, high * fine), pen)
        for number in range(low, high + 1):
            pen = "grid" if number % every else "grid fine"
            y = number * fine
            yield Line((first * fine, y), (last * fine, y), pen)

    def wood(self) -> Iterator[Item]:
        if self.running:
            yield Polygon(self.outline, "profile cut wood", "end-grain")
            return
        left, bottom, right, top = self.box
        corners = (
            Vertex(left, 0.0),
            *self.outline,
            Vertex(right, top),
            Vertex(left, top),
        )
        yield Polygon(corners, "edge wood", "end-grain")
        yield Line((left, 0.0), (right + 0.004, 0.0), "centre")
        knife = (Vertex(left, bottom), Vertex(left, 0.0), *self.outline, Vertex(right, bottom))
        yield Polygon(knife, "profile pencil")
        yield Polyline(self.outline, "profile cut")

    # --- figures ---

    def figures(self) -> Iterator[Dimension]:
        left, bottom, right, top = self.reach
        box = self.box
        wide, high = ("along its back", "out from its back") if self.running else ("depth", "width")
        text = size_of(right - left, self.system)
        yield Dimension((left, box[1]), (right, box[1]), "x", -ROW, text, wide)
        text = size_of(top - bottom, self.system)
        yield Dimension((box[2], bottom), (box[2], top), "y", ROW, text, high)

    def radii(self) -> Iterator[Callouts]:
        """The radius of each arc, in a column beside the moulding."""
        notes: list[tuple[Point, str]] = []
        for start, end in curves.pieces(self.outline, closed=self.running):
            if not start[2]:
                continue
            (x, y), radius, first, sweep = curves.arc_of(start, end)
            if radius * abs(sweep) >= SHORTEST_ARC:
                angle = first + sweep / 2
                at = (x + radius * math.cos(angle), y + radius * math.sin(angle))
                notes.append((at, f"R {size_of(radius, self.system)}"))
        if notes:
            yield Callouts("left", self.box[0], 8.0, tuple(notes))

    def notes(self, head: Head | None) -> Iterator[Text]:
        left, bottom, right, _ = self.box
        middle = (left + right) / 2
        lines = [f"Full size; grid {size_of(FINE[self.system], self.system)}."]
        if not self.running:
            lines.append("Wood above, knife below; sight line dash-dotted, room face at the right.")
        if head is None:
            lines += [
                "This is the section of the wood.",
                "A knife whose face is not radial is ground deeper.",
            ]
        else:
            most = size_of(self._deeper(head)[1], self.system)
            lines.append(
                f"Dashed: the knife for a cutting circle of radius {size_of(head.circle, self.system)}"
            )
            lines.append(f"and a hook of {head.hook:g}°, ground deeper by up to {most}.")
        for number, line in enumerate(lines):
            drop = -ROW - 6.0 - 3.8 * number
            yield Text((middle, bottom), line, "note", 2.4, shift=(0.0, drop))

    # --- the knife ---

    def ground(self, head: Head) -> Polyline:
        """The edge of the knife as it is ground for a head."""
        return Polyline(self._deeper(head)[0], "hidden")

    def _deeper(self, head: Head) -> tuple[tuple[Vertex, ...], float]:
        """That edge, and by how much at most it is deeper than the cut [m]."""
        points = np.array(curves.flat(self.outline, closed=self.running, per_arc=24))
        x, height = points.T
        # The tip cuts deepest: where the wood of a sash stands back most, where a strip is thinnest.
        tip, away = (height.min(), 1.0) if self.running else (height.max(), -1.0)
        moved = tip + away * ground_depth(away * (height - tip), head.circle, head.hook)
        edge = tuple(Vertex(*map(float, point)) for point in zip(x, moved, strict=True))
        return edge, float(np.abs(moved - height).max())


def size_of(metres: float, system: units.System) -> str:
    """A size of a moulding, finer than drawings letter others: 64ths of an inch, tenths of a millimetre."""
    if system == "us":
        return units.format_length(metres, "us", nearest=64, marks=True)
    return f"{metres * 1000:.1f}"
