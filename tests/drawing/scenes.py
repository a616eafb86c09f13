"""A house to draw: every kind of head, a pair across a mullion, a fixed upper sash, two storeys."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any
from xml.etree import ElementTree as ET

from sashwright.chapters.answer import WindowAnswer
from sashwright.chapters.hang import hang_window
from sashwright.drawing.model import Drawing, Group, Item, Polygon, walk
from sashwright.knowledge.load import load
from sashwright.window.check import house_from
from sashwright.window.resolve import Placed, place_all

INCH = 0.0254
KNOWLEDGE = load()
SVG = "{http://www.w3.org/2000/svg}"

WINDOWS: list[dict[str, Any]] = [
    {"number": "101", "family": "A", "width": "32", "height": "62 1/2"},
    {"number": "102", "family": "A", "width": "34 3/8", "height": "66", "upper": "3x2",
     "lower": "3x2"},
    {"number": "103", "family": "H", "width": "36", "height": "78", "upper": "2x1", "lower": "2x1",
     "head": {"shape": "segmental", "rise": "5"}},
    {"number": "104", "family": "A", "width": "30", "height": "70", "upper": "2x2", "lower": "2x2",
     "head": {"shape": "full arch"}},
    {"number": "105", "family": "A", "width": "28", "height": "60"},
    {"number": "106", "family": "A", "width": "28", "height": "60", "beside": "105"},
    {"number": "201", "family": "B", "width": "36", "height": "50", "storey": 2, "upper": "4x3",
     "lower": "4x3"},
    {"number": "202", "family": "B", "width": "24", "height": "44", "storey": 2, "hung": "single"},
]  # fmt: skip

HOUSE = house_from(
    {
        "name": "12 Elm Street",
        "families": {
            "A": {},
            "H": {"sash": {"thickness": "1 3/4", "horn": "2 1/2"}},
            "B": {
                "frame": {"casing_width": "2", "stool_thickness": "0"},
                "pocket": {"floor_below_sill": "1 1/2"},
            },
        },
        "windows": WINDOWS,
    },
    KNOWLEDGE,
)
PLACED: dict[str, Placed] = {placed.window.number: placed for placed in place_all(HOUSE, KNOWLEDGE)}
NUMBERS = sorted(PLACED)


def hung(number: str) -> WindowAnswer:
    """The hang chapter's answer for a window."""
    return hang_window(PLACED[number])


def groups(drawing: Drawing, **data: str) -> list[Group]:
    """Groups that carry these data."""
    return [
        item
        for item in walk(drawing.items)
        if isinstance(item, Group) and data.items() <= dict(item.data).items()
    ]


def parts(drawing: Drawing, beginning: str) -> list[Group]:
    """Parts whose name begins so."""
    return [
        item
        for item in walk(drawing.items)
        if isinstance(item, Group) and dict(item.data).get("part", "").startswith(beginning)
    ]


def polygons(items: tuple[Item, ...], pen: str) -> Iterator[Polygon]:
    """Polygons drawn with a pen."""
    return (item for item in walk(items) if isinstance(item, Polygon) and pen in item.pen.split())


def parsed(svg: str) -> ET.Element:
    """The root of an SVG text; fails when it is not well formed."""
    return ET.fromstring(svg)


def area(points: list[tuple[float, float]]) -> float:
    """Area of a simple polygon."""
    pairs = zip(points, [*points[1:], points[0]], strict=True)
    return abs(sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairs)) / 2
