"""Mouldings that a house brings along: profiles traced or drawn, entered as points, lines and arcs."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from typing import Annotated, Any, ClassVar, Literal

from pydantic import (
    Field,
    SerializationInfo,
    ValidationInfo,
    model_serializer,
    model_validator,
)

from sashwright import units
from sashwright.knowledge import curves
from sashwright.knowledge.moulding_tables import closed_problem, sticking_problem
from sashwright.window.names import Text
from sashwright.window.partial import Model
from sashwright.window.quantities import Length

Measure = Annotated[float, Length(0, 24)]

_CORNER = re.compile(
    r"(?P<x>[^,]+),(?P<y>[^,]+?)"
    r"(?:\s+(?:(?P<bend>round|hollow)\s+(?P<radius>[^,]+)|through\s+(?P<tx>[^,]+),(?P<ty>[^,]+)))?"
)
_HALF_CIRCLE = 1e-7
"""How much shorter than half of its chord a radius may be by rounding, as a share of it [-]."""


class Corner(Model):
    """A point of an outline, and how the piece to it from the point before runs; written as text.

    ``"7/16, 1/4"`` is a straight piece to that point, ``"7/16, 1/4 round 1/4"`` an arc of that radius
    that swells, ``hollow`` one that hollows the wood, ``"7/16, 1/4 through 1/8, 3/16"`` the arc
    through a point between. Of a sticking the first figure is the depth from the end of the nose
    toward the room face, the second how far the wood stands back from the sight line; of a running
    moulding they are along its back and out from it.
    """

    whole: ClassVar[bool] = True

    x: Measure
    y: Measure
    bend: Literal["", "round", "hollow"] = ""
    radius: Measure | None = None
    through_x: Measure | None = None
    through_y: Measure | None = None

    @model_validator(mode="before")
    @classmethod
    def _read_text(cls, value: Any) -> Any:
        if not isinstance(value, str):
            return value
        match = _CORNER.fullmatch(value.strip())
        if match is None:
            raise ValueError(
                f"found {value!r}, expected a point such as '7/16, 1/4', with 'round 1/4', 'hollow 1/4' "
                "or 'through 1/8, 3/16' behind it for an arc"
            )
        given = {"x": match["x"], "y": match["y"], "bend": match["bend"], "radius": match["radius"]}
        given |= {"through_x": match["tx"], "through_y": match["ty"]}
        return {name: text.strip() for name, text in given.items() if text is not None}

    @model_validator(mode="after")
    def _bends_one_way(self) -> Corner:
        if bool(self.bend) != (self.radius is not None) or (
            (self.through_x is None) != (self.through_y is None)
        ):
            raise ValueError("found half of an arc, expected round or hollow with its radius")
        if self.bend and self.through_x is not None:
            raise ValueError("found an arc given twice, expected its radius or a point on it")
        return self

    @model_serializer(mode="plain")
    def _write_text(self, info: SerializationInfo) -> Any:
        if info.mode != "json":
            return {name: getattr(self, name) for name in type(self).model_fields}
        context = info.context if isinstance(info.context, dict) else {}
        system: units.System = context.get("system") or "us"

        def pair(x: float, y: float) -> str:
            return ", ".join(units.exact_length(value, system) for value in (x, y))

        text = pair(self.x, self.y)
        if self.radius is not None:
            return f"{text} {self.bend} {units.exact_length(self.radius, system)}"
        if self.through_x is not None and self.through_y is not None:
            return f"{text} through {pair(self.through_x, self.through_y)}"
        return text

    @property
    def point(self) -> curves.Point:
        return self.x, self.y

    def bulge_from(self, start: curves.Point, swell: int) -> float:
        """Bulge of the piece that leads here; ``swell`` is the sign of one that swells.

        Raises ``ValueError`` where no arc of that radius reaches.
        """
        if self.through_x is not None and self.through_y is not None:
            return curves.bulge_through(start, (self.through_x, self.through_y), self.point)
        if self.radius is None:
            return 0.0
        half = math.dist(start, self.point) / 2
        if half > self.radius * (1 + _HALF_CIRCLE):
            raise ValueError(
                f"found a radius of {self.radius * 1000:.4g} mm between points {2000 * half:.4g} mm apart, "
                f"expected at least {1000 * half:.4g} mm"
            )
        bulge = math.tan(math.asin(min(half / self.radius, 1.0)) / 2)
        return swell * bulge if self.bend == "round" else -swell * bulge


class OwnMoulding(Model):
    """A moulding by its outline, in its own size.

    A sticking starts at ``0, 0``, the end of the square nose, and runs to the room face; the outline of
    a running moulding goes round its section and closes itself, starting anywhere.
    """

    whole: ClassVar[bool] = True

    name: Text = ""
    kind: Literal["sticking", "running"] = "sticking"
    """The moulded edge of a sash, or the section of a strip such as a stop or a brick mould."""
    outline: tuple[Corner, ...] = Field(min_length=2, max_length=200)
    """Of the first point only its place counts, unless an outline that closes bends back to it."""
    source: Text = ""
    """Where it was taken from: the old piece, a drawing, a photograph and its greatest error."""
    note: Text = ""

    @model_validator(mode="after")
    def _holds_together(self, _: ValidationInfo) -> OwnMoulding:
        points = self.points
        millimetres = tuple((x * 1000, y * 1000, bulge) for x, y, bulge in points)
        problem = (
            closed_problem(millimetres)
            if self.kind == "running"
            else sticking_problem(millimetres, unit_square=False)
        )
        if problem:
            raise ValueError(problem + ("" if self.kind == "running" else "; in millimetres"))
        return self

    @property
    def points(self) -> tuple[curves.Vertex, ...]:
        """Its corners [m], each with the bulge of the piece that starts there; counter-clockwise round
        a running moulding."""
        if self.kind == "sticking":
            return _bent(self.outline, 1, closed=False)
        found = _bent(self.outline, 1, closed=True)
        if curves.enclosed(found) < 0:
            # It was written clockwise: what swells bends the other way then, and it is turned round.
            found = _turned(_bent(self.outline, -1, closed=True))
        return found


def _bent(outline: Sequence[Corner], swell: int, *, closed: bool) -> tuple[curves.Vertex, ...]:
    """Corners with the bulge of the piece after each, where the outline says that of the one before."""
    ends = [*outline[1:], outline[0]] if closed else [*outline[1:], None]
    found = []
    for start, end in zip(outline, ends, strict=True):
        bulge = 0.0 if end is None else end.bulge_from(start.point, swell)
        found.append((*start.point, bulge))
    return tuple(found)


def _turned(points: Sequence[curves.Vertex]) -> tuple[curves.Vertex, ...]:
    """A closed outline run the other way, from the same first point."""
    last = len(points) - 1
    return tuple(
        (*points[-index % len(points)][:2], -points[last - index][2])
        for index in range(len(points))
    )


def outline_from(
    points: Sequence[curves.Vertex], *, closed: bool, places: int | None = None
) -> tuple[Corner, ...]:
    """Corners that write an outline of bulges [m], each arc by a point on it; rounded to ``places``."""
    found = []
    before = [points[-1], *points[:-1]] if closed else [None, *points[:-1]]
    for start, end in zip(before, points, strict=True):
        through: dict[str, float] = {}
        if start is not None and start[2]:
            (x, y), radius, first, sweep = curves.arc_of(start, end)
            angle = first + sweep / 2
            middle = x + radius * math.cos(angle), y + radius * math.sin(angle)
            through = {"through_x": _written(middle[0], places)}
            through["through_y"] = _written(middle[1], places)
        found.append(Corner(x=_written(end[0], places), y=_written(end[1], places), **through))
    return tuple(found)


def _written(value: float, places: int | None) -> float:
    return max(value if places is None else round(value, places), 0.0)
