"""Writes a drawing as DXF, at true size, for a CAD program, a router or whoever grinds a knife.

Geometry stands in inches or millimetres as the file's header says, 1 to 1. Arcs are arcs. What has a size
on paper only (lettering, dimension lines, leaders, hatching) is as large as it would be on a print at the
drawing's own scale. Layers are named in plain words: what is cut, what is seen, glass, dimensions.
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterable, Sequence

from ezdxf import units as dxf_units
from ezdxf.document import Drawing as Document
from ezdxf.enums import TextEntityAlignment
from ezdxf.filemanagement import new

from sashwright import units
from sashwright.drawing import hatch
from sashwright.drawing.model import (
    Arc,
    Callouts,
    Chain,
    Dimension,
    Drawing,
    Group,
    Item,
    Line,
    Point,
    Polygon,
    Polyline,
    Text,
    Vertex,
    flattened,
)
from sashwright.drawing.paper import (
    Lettering,
    Marks,
    callout_marks,
    chain_marks,
    dimension_marks,
    lettering_of,
)
from sashwright.drawing.pens import PENS
from sashwright.units import INCH

VERSION = "R2010"
"""Of the format: read by every program of the last fifteen years."""

LAYERS: dict[str, tuple[int, str]] = {
    "wood cut": (7, "CONTINUOUS"),
    "wood seen": (8, "CONTINUOUS"),
    "frame seen": (8, "CONTINUOUS"),
    "rough wood": (8, "CONTINUOUS"),
    "profile": (1, "CONTINUOUS"),
    "glass": (4, "CONTINUOUS"),
    "putty": (9, "CONTINUOUS"),
    "metal": (5, "CONTINUOUS"),
    "openings": (9, "CONTINUOUS"),
    "lines seen": (8, "CONTINUOUS"),
    "hidden": (8, "DASHED"),
    "centre lines": (8, "CENTER"),
    "break lines": (8, "CONTINUOUS"),
    "cords": (5, "CONTINUOUS"),
    "grid": (9, "CONTINUOUS"),
    "hatch": (9, "CONTINUOUS"),
    "red pencil": (1, "CONTINUOUS"),
    "dimensions": (3, "CONTINUOUS"),
    "text": (2, "CONTINUOUS"),
}
"""Colour number and line type of each layer; only those in use are written."""

# The first of these words among a pen's names says the layer.
_BY_PEN: tuple[tuple[str, str], ...] = (
    ("glass", "glass"), ("putty", "putty"), ("metal", "metal"), ("metal-far", "metal"),
    ("profile", "profile"), ("pencil", "red pencil"), ("pencil-bold", "red pencil"),
    ("cut", "wood cut"), ("frame", "frame seen"), ("rough", "rough wood"), ("wood", "wood seen"),
    ("hidden", "hidden"), ("hidden-bold", "hidden"), ("ghost", "hidden"), ("centre", "centre lines"),
    ("break", "break lines"), ("cord", "cords"), ("cord-far", "cords"), ("grid", "grid"),
    ("grain", "hatch"), ("void", "openings"), ("dim", "dimensions"), ("tick", "dimensions"),
    ("leader", "text"), ("note", "text"), ("figure", "dimensions"), ("title", "text"),
    ("pencil-note", "red pencil"),
)  # fmt: skip


def layer_of(pen: str) -> str:
    """The layer of what is drawn with a pen."""
    names = set(pen.split())
    return next((layer for name, layer in _BY_PEN if name in names), "lines seen")


def to_dxf(drawing: Drawing, system: units.System = "us") -> bytes:
    """The drawing as a DXF file: in inches for ``us``, in millimetres for ``metric``.

    Notes
    -----
    Plain washes are left out: shade and the paper behind words are no geometry.
    """
    document = new(VERSION, setup=["linetypes"])
    # Sets the header's unit of lengths.
    document.units = dxf_units.IN if system == "us" else dxf_units.MM
    document.header["$MEASUREMENT"] = 0 if system == "us" else 1
    document.header["$LTSCALE"] = 1.0 if system == "us" else 10.0
    document.header.custom_vars.append("Title", _plain(drawing.title))
    document.header.custom_vars.append("Description", _plain(drawing.description))
    writer = _Writer(document, INCH if system == "us" else 0.001, 1000 * drawing.scale)
    writer.items(drawing.items, (0.0, 0.0))
    out = io.StringIO()
    document.write(out)
    return out.getvalue().encode(document.output_encoding)


def _plain(text: str) -> str:
    """Text of one line."""
    return " ".join(text.split())


class _Writer:
    """Turns items into entities. ``unit`` is the file's unit [m], ``k`` paper millimetres of a metre."""

    def __init__(self, document: Document, unit: float, k: float) -> None:
        self.document = document
        self.space = document.modelspace()
        self.unit = unit
        self.k = k
        self.paper = 1 / (k * unit)
        """File units of a paper millimetre."""

    def _on(self, layer: str) -> dict[str, str]:
        """Attributes of an entity on a layer, made where there is none yet."""
        if layer not in self.document.layers:
            colour, linetype = LAYERS[layer]
            self.document.layers.add(layer, color=colour, linetype=linetype)
        return {"layer": layer}

    def _at(self, point: Sequence[float], shift: Point) -> Point:
        """A point [m] in the file's units."""
        return (point[0] + shift[0]) / self.unit, (point[1] + shift[1]) / self.unit

    # --- items ---

    def items(self, items: Iterable[Item], shift: Point) -> None:
        for item in items:
            self._item(item, shift)

    def _item(self, item: Item, shift: Point) -> None:
        match item:
            case Group():
                self.items(item.items, (shift[0] + item.shift[0], shift[1] + item.shift[1]))
            case Line():
                self._line(item.start, item.end, layer_of(item.pen), shift)
            case Polyline():
                self._run(item.points, layer_of(item.pen), shift, closed=False)
            case Polygon():
                self._polygon(item, shift)
            case Arc():
                self._arc(item, shift)
            case _:
                self._lettered(item, shift)

    def _lettered(self, item: Text | Dimension | Chain | Callouts, shift: Point) -> None:
        # A moved group's words are laid out where they stand in it, then moved with it.
        away = shift[0] * self.k, shift[1] * self.k
        match item:
            case Text():
                letters = lettering_of(item, self.k)
                if letters is not None:
                    self._letters(letters, layer_of(item.pen), away)
            case Dimension():
                self._marks(dimension_marks(item, self.k), "dimensions", away)
            case Chain():
                for marks in chain_marks(item, self.k):
                    self._marks(marks, "dimensions", away)
            case Callouts():
                self._marks(callout_marks(item, self.k), "text", away)

    def _line(self, start: Point, end: Point, layer: str, shift: Point) -> None:
        self.space.add_line(self._at(start, shift), self._at(end, shift), self._on(layer))

    def _run(self, points: Sequence[Vertex], layer: str, shift: Point, *, closed: bool) -> None:
        placed = [(*self._at((x, y), shift), bulge) for x, y, bulge in points]
        self.space.add_lwpolyline(placed, "xyb", close=closed, dxfattribs=self._on(layer))

    def _polygon(self, item: Polygon, shift: Point) -> None:
        if _is_drawn(item):
            self._run(item.points, layer_of(item.pen), shift, closed=True)
        if item.hatch:
            self._hatch(item, shift)

    def _arc(self, item: Arc, shift: Point) -> None:
        centre, radius = self._at(item.centre, shift), item.radius / self.unit
        on = self._on(layer_of(item.pen))
        if item.end - item.start >= 360:
            self.space.add_circle(centre, radius, on)
        else:
            self.space.add_arc(centre, radius, item.start, item.end, dxfattribs=on)

    # --- hatching ---

    def _hatch(self, item: Polygon, shift: Point) -> None:
        """The same lines as on paper, as lines: hatch patterns differ from program to program."""
        k, on = self.k, self._on("hatch")
        shape = [(x * k, y * k) for x, y in flattened(item.points)]
        if item.hatch == "end-grain":
            pith = item.pith or hatch.pith_of(shape, k)
            centre = (pith[0] * k, pith[1] * k)
            for ring in hatch.rings(shape, centre):
                first, last = (_turn(centre, end) for end in (ring.start, ring.end))
                radius = ring.radius * self.paper
                self.space.add_arc(self._at(pith, shift), radius, first, last, dxfattribs=on)
            return
        for (x1, y1), (x2, y2) in hatch.strokes(item.hatch or "", shape):
            start, end = (x1 / k, y1 / k), (x2 / k, y2 / k)
            self.space.add_line(self._at(start, shift), self._at(end, shift), on)

    # --- lettering ---

    def _marks(self, marks: Marks, layer: str, away: Point) -> None:
        on = self._on(layer)
        for x1, y1, x2, y2, _ in marks.strokes:
            self.space.add_line(self._sheet(x1, y1, away), self._sheet(x2, y2, away), on)
        for dot in marks.dots:
            self.space.add_circle(self._sheet(dot.x, dot.y, away), 0.4 * self.paper, on)
        for letters in marks.letters:
            self._letters(letters, layer, away)

    def _letters(self, letters: Lettering, layer: str, away: Point) -> None:
        alignment = {
            "start": TextEntityAlignment.LEFT,
            "middle": TextEntityAlignment.CENTER,
            "end": TextEntityAlignment.RIGHT,
        }[letters.anchor]
        # Capitals of the drawing's own type are 0.7 of its size high; those of CAD are the whole height.
        text = self.space.add_text(
            letters.text,
            height=0.7 * letters.size * self.paper,
            rotation=letters.angle,
            dxfattribs=self._on(layer),
        )
        text.set_placement(self._sheet(letters.x, letters.y, away), align=alignment)

    def _sheet(self, x: float, y: float, away: Point) -> Point:
        """A place on the sheet [paper mm] in the file's units."""
        return (x + away[0]) * self.paper, (y + away[1]) * self.paper


def _turn(centre: Point, point: Point) -> float:
    """Direction of a point from a centre [degrees]."""
    return math.degrees(math.atan2(point[1] - centre[1], point[0] - centre[0]))


def _is_drawn(item: Polygon) -> bool:
    """Whether a polygon has an edge: a wash alone is no geometry, unless it is all there is of glass."""
    names = item.pen.split()
    return any(PENS[name].stroke for name in names if name in PENS) or "glass" in names
