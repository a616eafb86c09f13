"""One drawing model for every view: what is drawn, in metres, before any paper or file format.

Coordinates are [m], y up. What has a size on paper whatever the scale (lettering, the distance of
a dimension line, a leader) is in paper millimetres and laid out by ``drawing.paper``. Looks are
named, never given: ``pen`` holds one or more pen names of ``drawing.pens``.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Literal, NamedTuple

from sashwright.window.outlines import shape

# A drawing's outlines are those of the pieces it shows.
Point = shape.Point
Vertex = shape.Vertex
outline = shape.corners
flattened = shape.flattened
arc_of = shape.arc_of

Data = tuple[tuple[str, str], ...]
Hatch = Literal["end-grain", "metal", "earth", "slight", "moderate", "severe"]
"""Of cut surfaces, and how bad a fault is: wide, close, crossed."""
Anchor = Literal["start", "middle", "end"]


class Bounds(NamedTuple):
    """A rectangle upright on the page."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        return self.right - self.left

    @property
    def height(self) -> float:
        return self.top - self.bottom


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line; ``data`` are attributes that a page script can find it by."""

    start: Point
    end: Point
    pen: str
    data: Data = ()


@dataclass(frozen=True, slots=True)
class Polyline:
    """An open run of straight and bent pieces."""

    points: tuple[Vertex, ...]
    pen: str


@dataclass(frozen=True, slots=True)
class Polygon:
    """A closed outline, filled as its pen says and hatched on top of that."""

    points: tuple[Vertex, ...]
    pen: str
    hatch: Hatch | None = None
    pith: Point | None = None
    """Where the growth rings of an end-grain hatch are centred; chosen from the shape if absent."""


@dataclass(frozen=True, slots=True)
class Arc:
    """Part of a circle, counter-clockwise between two angles [degrees]; whole by default."""

    centre: Point
    radius: float
    pen: str
    start: float = 0.0
    end: float = 360.0


@dataclass(frozen=True, slots=True)
class Text:
    """A line of lettering; ``size`` and ``shift`` (from the point) in paper millimetres.

    ``room`` is the length it must fit in [m]: where the scale leaves less, it is left out.
    """

    at: Point
    text: str
    pen: str = "note"
    size: float = 2.4
    anchor: Anchor = "middle"
    angle: float = 0.0
    shift: Point = (0.0, 0.0)
    room: float | None = None


@dataclass(frozen=True, slots=True)
class Dimension:
    """A dimension along ``axis`` between two points.

    Its line stands ``offset`` paper millimetres (right or up positive) from ``start``; extension
    lines run to it from both points.
    """

    start: Point
    end: Point
    axis: Literal["x", "y"]
    offset: float
    text: str
    title: str = ""
    pen: str = "dim"


@dataclass(frozen=True, slots=True)
class Chain:
    """Dimensions along one level line, end to end; figures too wide for their place stand clear of
    each other on the line's outer side."""

    links: tuple[Dimension, ...]


@dataclass(frozen=True, slots=True)
class Callouts:
    """Names of parts in a column, each with a leader to its part.

    The column's edge stands ``offset`` paper millimetres beyond ``base`` [m], to the left or right.
    """

    side: Literal["left", "right"]
    base: float
    offset: float
    notes: tuple[tuple[Point, str], ...]
    size: float = 2.4
    """Of the lettering [paper mm]."""


@dataclass(frozen=True, slots=True)
class Group:
    """Items that belong together: a part, a sash, a window.

    ``shift`` [m] moves the whole group, as a sash slides. ``href`` makes it a link.
    """

    items: tuple[Item, ...]
    title: str = ""
    id: str = ""
    classes: str = ""
    data: Data = ()
    shift: Point = (0.0, 0.0)
    href: str = ""
    hidden: bool = False
    """Decoration that a reader of the page need not hear of."""
    label: str = ""
    """What a link is called, where nothing in it is lettered."""


Item = Line | Polyline | Polygon | Arc | Text | Dimension | Chain | Callouts | Group


@dataclass(frozen=True, slots=True)
class Drawing:
    """A whole drawing.

    ``bounds`` [m] hold all geometry; lettering and dimensions may stand outside them. ``scale`` is
    the one it is meant for, in paper metres per metre.
    """

    title: str
    description: str
    bounds: Bounds
    items: tuple[Item, ...]
    scale: float = 0.1
    live: bool = False
    """Parts of it are to be taken hold of on a page, so that it is more than a picture there."""


def drawing(
    title: str, description: str, items: Iterable[Item], scale: float = 0.1, *, live: bool = False
) -> Drawing:
    """A drawing with its bounds taken from its items."""
    kept = tuple(items)
    return Drawing(title, description, bounds_of(kept), kept, scale, live)


# --- making items ---------------------------------------------------------------------------------


def rectangle(
    left: float, bottom: float, right: float, top: float, pen: str, hatch: Hatch | None = None
) -> Polygon:
    """An upright rectangle."""
    corners = (Vertex(left, bottom), Vertex(right, bottom), Vertex(right, top), Vertex(left, top))
    return Polygon(corners, pen, hatch)


def part(name: str, title: str, items: Iterable[Item], classes: str = "") -> Group:
    """A part of the window that findings can point to: ``name`` goes into ``data-part``."""
    return Group(tuple(items), title, classes=classes, data=(("part", name),))


def bulge_of(centre: Point, start: Point, end: Point, *, clockwise: bool) -> float:
    """Bulge of the arc about ``centre`` from ``start`` to ``end``."""
    first = math.atan2(start[1] - centre[1], start[0] - centre[0])
    last = math.atan2(end[1] - centre[1], end[0] - centre[0])
    turn = (first - last if clockwise else last - first) % (2 * math.pi)
    return -math.tan(turn / 4) if clockwise else math.tan(turn / 4)


# --- moving items ---------------------------------------------------------------------------------


def mirrored(item: Item) -> Item:
    """The item seen from the other side: x turned round, lettering left readable."""
    turned: Item
    match item:
        case Polygon():
            pith = item.pith and _across(item.pith)
            turned = replace(item, points=_mirrored(item.points), pith=pith)
        case Polyline():
            turned = replace(item, points=_mirrored(item.points))
        case Line():
            turned = replace(item, start=_across(item.start), end=_across(item.end))
        case Arc():
            angles = (180 - item.end, 180 - item.start)
            turned = replace(item, centre=_across(item.centre), start=angles[0], end=angles[1])
        case Text():
            turned = replace(item, at=_across(item.at))
        case Dimension():
            turned = _dimension_across(item)
        case Chain():
            turned = Chain(tuple(_dimension_across(link) for link in item.links))
        case Callouts():
            turned = _callouts_across(item)
        case Group():
            items = tuple(mirrored(child) for child in item.items)
            turned = replace(item, items=items, shift=_across(item.shift))
    return turned


def _dimension_across(item: Dimension) -> Dimension:
    offset = -item.offset if item.axis == "y" else item.offset
    return replace(item, start=_across(item.start), end=_across(item.end), offset=offset)


def _callouts_across(item: Callouts) -> Callouts:
    notes = tuple((_across(point), text) for point, text in item.notes)
    side: Literal["left", "right"] = "left" if item.side == "right" else "right"
    return replace(item, side=side, base=-item.base, notes=notes)


def _across(point: Point) -> Point:
    return (-point[0], point[1])


def _mirrored(points: tuple[Vertex, ...]) -> tuple[Vertex, ...]:
    return tuple(Vertex(-x, y, -bulge) for x, y, bulge in points)


def marked(item: Item, classes: Mapping[str, str]) -> Item:
    """The item with classes added to the parts named.

    A name takes in what it is the beginning of: ``lower.weight`` the weights on both sides; the
    ``frame.`` of the frame's parts may be left out, as in ``pocket``.
    """
    if not isinstance(item, Group):
        return item
    name = dict(item.data).get("part", "")
    added = [extra for key, extra in classes.items() if name and _names(key, name)]
    return replace(
        item,
        items=tuple(marked(child, classes) for child in item.items),
        classes=" ".join([item.classes, *added]).strip(),
    )


def _names(key: str, part_name: str) -> bool:
    return any(f"{part_name}.".startswith(f"{prefix}{key}.") for prefix in ("", "frame."))


def walk(items: Iterable[Item]) -> Iterator[Item]:
    """Every item, groups and chains before what they hold."""
    for item in items:
        yield item
        if isinstance(item, Group):
            yield from walk(item.items)
        elif isinstance(item, Chain):
            yield from item.links


# --- measuring ------------------------------------------------------------------------------------


def bounds_of(items: Iterable[Item]) -> Bounds:
    """The smallest rectangle that holds all geometry [m]; lettering counts by its point only."""
    xs: list[float] = []
    ys: list[float] = []
    for item in items:
        for x, y in _extremes(item):
            xs.append(x)
            ys.append(y)
    if not xs:
        return Bounds(0.0, 0.0, 0.0, 0.0)
    return Bounds(min(xs), min(ys), max(xs), max(ys))


def _extremes(item: Item) -> Iterable[Point]:
    points: Iterable[Point] = ()
    match item:
        case Polygon() | Polyline():
            points = _outline_extremes(item.points)
        case Line() | Dimension():
            points = (item.start, item.end)
        case Chain():
            points = [point for link in item.links for point in (link.start, link.end)]
        case Arc():
            (x, y), r = item.centre, item.radius
            points = ((x - r, y - r), (x + r, y + r))
        case Text():
            points = (item.at,)
        case Callouts():
            points = [point for point, _ in item.notes]
        case Group() if item.items:
            left, bottom, right, top = bounds_of(item.items)
            dx, dy = item.shift
            points = ((left + dx, bottom + dy), (right + dx, top + dy))
    return points


def _outline_extremes(points: tuple[Vertex, ...]) -> Iterable[Point]:
    if not any(vertex.bulge for vertex in points):
        return [(x, y) for x, y, _ in points]
    return flattened(points, 16)
