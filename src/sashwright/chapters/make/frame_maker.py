"""What the parts of a frame have in common: their usual sizes, how they run, what the table says."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Literal, NamedTuple

from sashwright.chapters.make.curves import segments
from sashwright.chapters.make.cut import CutPart, JointEnd, Moulded
from sashwright.chapters.make.wood import ANY, VERTICAL, Draft, Maker
from sashwright.knowledge import curves
from sashwright.knowledge.frame_tables import FramePart
from sashwright.knowledge.tables import Knowledge
from sashwright.units import INCH
from sashwright.window.mouldings import SAME, strip_section
from sashwright.window.outlines.frame_edges import FrameEdges
from sashwright.window.outlines.mullion import SIDES, mullion_width, neighbour
from sashwright.window.resolve import Placed
from sashwright.window.spec import Frame, House

FrameKind = Literal["box", "skeleton"]
MASONRY = ("brick", "stone", "masonry", "concrete", "block")
"""Words in a wall's name that tell of a box frame."""
THICK_WALL = 8 * INCH
"""A frame as deep as this stands in masonry [m]; judgement."""
BRICK_MOULD = 3 * INCH
"""An outside casing up to this width is a brick mould [m]; judgement."""
SHORT: Mapping[str, str] = {
    "pulley-stile": "PS", "pocket-cover": "PC", "head": "HD", "sill": "SI", "parting-bead": "PB",
    "inside-stop": "IS", "blind-stop": "BS", "outside-lining": "OL", "inside-lining": "IL",
    "back-lining": "BL", "pendulum": "PE", "casing": "CA", "brick-mould": "BM", "inside-casing": "IC",
    "stool": "ST", "apron": "AP",
}  # fmt: skip
SHAPED = frozenset({
    "parting-bead", "inside-stop", "casing", "brick-mould", "inside-casing", "stool", "apron",
})  # fmt: skip
"""Parts that are a profile of their own, run by the length."""
RUN_AS: Mapping[str, str] = {
    "casing": "outside_casing", "brick-mould": "outside_casing", "inside-stop": "inside_stop",
    "inside-casing": "inside_casing", "stool": "stool",
}  # fmt: skip
"""Which of the frame's running mouldings a part has."""
FITTED = JointEnd("cut to fit")
MITRED = JointEnd("mitred or coped")
BENT = "bent to the arch: laminated or kerfed; its length is along the outer edge"
SLOPED = JointEnd("cut to the sill's slope")


class Usual(NamedTuple):
    """A size that the specification does not give, taken from the table."""

    part: str
    """A row of the frame part table."""
    size: Literal["thickness", "width", "extra"]


class Shape(NamedTuple):
    """A part of the frame: its place, its row of the table, finished sizes [m]."""

    at: str
    key: str
    length: float
    width: float
    thickness: float


def frame_kind(house: House, placed: Placed) -> FrameKind:
    """How the pocket is closed: by linings in masonry, by the wall's own studs in a wood wall."""
    wall = placed.knowledge.find("fabric", house.fabric.wall)
    named = f"{wall.key} {wall.name}".lower()
    thick = placed.family.frame.wall_thickness >= THICK_WALL
    return "box" if thick or any(word in named for word in MASONRY) else "skeleton"


@dataclass(frozen=True)
class Piece:
    """One part of a frame by the place it has in the drawing: ``frame.sill``, ``frame.casing.left``."""

    at: str
    row: str
    """Of the frame part table."""
    part: CutPart


@dataclass(frozen=True)
class FrameMaker:
    """The parts of one window's frame."""

    maker: Maker
    placed: Placed
    kind: FrameKind
    used: set[Usual]
    """Sizes taken from the table; filled while parts are made."""

    @property
    def knowledge(self) -> Knowledge:
        return self.placed.knowledge

    @cached_property
    def edges(self) -> FrameEdges:
        return FrameEdges(self.placed.layout)

    @property
    def half(self) -> float:
        return self.placed.window.width / 2

    @property
    def springs(self) -> float:
        return self.placed.layout.head_at_side

    @property
    def frame(self) -> Frame:
        return self.placed.family.frame

    @property
    def box(self) -> bool:
        return self.kind == "box"

    def row(self, key: str) -> FramePart:
        found: FramePart = self.knowledge.find("frame_part", key)
        return found

    def usual(self, key: str, size: Literal["thickness", "width", "extra"]) -> float:
        """A size from the table, which is told of."""
        value = getattr(self.row(key), size)
        if value is None:
            return 0.0
        self.used.add(Usual(key, size))
        return float(value)

    def piece(
        self,
        shape: Shape,
        ends: tuple[JointEnd, JointEnd] = (FITTED, FITTED),
        *,
        note: str = "",
        less: float = 0.0,
        count: int = 1,
        name: str = "",
    ) -> Piece:
        """A part of a finished shape; ``less`` is cut out of it [m3]."""
        at, key, length, width, thickness = shape
        row = self.row(key)
        grain = VERTICAL if row.grain == "vertical" else ANY
        if self.frame.grain == "quarter" and row.grain == "vertical":
            grain = "quarter-sawn"
        name = name or row.name.lower()
        profile, area = self.run_to(shape)
        draft = Draft(
            name,
            SHORT[key],
            (length, width, thickness),
            row.wood or self.frame.wood,
            ends,
            grain=grain,
            clear=row.clear,
            moulding=Moulded(profile, width, thickness) if key in SHAPED else None,
            note=note,
            volume=length * area - less,
            count=count,
        )
        return Piece(at, key, self.maker.part(draft))

    def run_to(self, shape: Shape) -> tuple[str, float]:
        """Name and area [m2] of a part's section: a running moulding's where the frame names one.

        A casing over a mullion has another width, and stays a board.
        """
        board = self.row(shape.key).name.lower(), shape.width * shape.thickness
        field = RUN_AS.get(shape.key)
        section = () if field is None else strip_section(self.frame, field, self.knowledge)
        if field is None or not section:
            return board
        wide = curves.reach(section, closed=True)[2]
        if field != "stool" and abs(wide - shape.width) > SAME:
            return board
        return str(getattr(self.frame.mouldings, field)), curves.enclosed(section)

    def arc(self, out: float) -> float | None:
        """Length along the head, ``out`` beyond the opening; None where the head is square."""
        arc = self.placed.layout.head_arc
        if arc is None:
            return None
        angle = 2 * math.asin(min(self.half / arc.radius, 1.0))
        return angle * (arc.radius + out)

    def over(self, out: float, arc_out: float) -> tuple[float, str]:
        """Length of a head piece that runs ``out`` past both sides, and how it is made.

        One that is bent over an arched head is as long as its outer edge, ``arc_out`` beyond the opening.
        """
        arc = self.arc(arc_out)
        return (self.reach(out), "") if arc is None else (arc, BENT)

    def head_piece(
        self,
        shape: Shape,
        inner: float,
        ends: tuple[JointEnd, JointEnd] = (FITTED, FITTED),
        *,
        name: str,
    ) -> Piece:
        """A piece as the shape has it over a square head; over an arched one sawn in segments.

        ``inner`` is its inner edge beyond the opening [m].
        """
        arc = self.placed.layout.head_arc
        if arc is None:
            return self.piece(shape, ends, name=name)
        low = arc.radius + inner
        high, angle = low + shape.width, 2 * math.asin(min(self.half / arc.radius, 1.0))
        found = segments(high, low, angle)
        sawn = shape._replace(length=found.length, width=found.width)
        ring = angle / 2 * (high**2 - low**2) * shape.thickness / found.pieces
        less = found.length * found.width * shape.thickness - ring
        words = self.maker.words
        note = f"segment, sawn to radii {words.length(high)} and {words.length(low)}"
        return self.piece(sawn, ends, note=note, less=less, count=found.pieces, name=name)

    def reach(self, out: float) -> float:
        """Of a part that runs on past both sides by ``out``, to the middle of a mullion at most [m]."""
        return sum(self.half + self._up_to_mullion(side, out) for side, _ in SIDES)

    def _up_to_mullion(self, side: Literal[-1, 1], out: float) -> float:
        if neighbour(self.placed, side) is None:
            return out
        return min(out, mullion_width(self.placed, side) / 2)

    @property
    def own_sides(self) -> list[tuple[Literal[-1, 1], str]]:
        """Sides whose casing and stop are listed here: a mullion's stand with the window right of it."""
        return [(side, name) for side, name in SIDES if side < 0 or self.placed.right is None]
