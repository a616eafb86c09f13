"""A sheet on the glass table: its lites, and the breaks numbered in the order of breaking."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from sashwright import units
from sashwright.drawing.cutplan import long
from sashwright.drawing.model import Drawing, Group, Item, Line, Text, drawing, rectangle
from sashwright.drawing.paper import text_width

SCALE = 1 / 20
SMALL, LEAST = 2.3, 1.5
NUMBER = 2.3
"""Lettering of a break's number [mm]."""
PENS = ("fine", "pencil-bold", "pencil", "pencil", "fine")
"""By level: trims, strips, pieces, lites, trims of lites."""


def sheet_drawing(
    row: Mapping[str, Any], system: units.System = "us", scale: float = SCALE
) -> Drawing:
    """One sheet of a cutting plan (a row of ``sheets`` in the answer ``cut``), to scale.

    Breaks run from edge to edge of the piece that is broken and stand in the order of their numbers: the
    sheet is trimmed, parted into strips, each strip into pieces, each piece into lites.
    """
    k = 1000 * scale
    width, height = row["width_m"], row["height_m"]
    items: list[Item] = [rectangle(0.0, 0.0, width, height, "void")]
    items += _offcuts(row, k)
    for lite in row["lites"]:
        items.append(_lite(lite, system, k))
    items += [item for one in row["breaks"] for item in _break(one, k)]
    items.append(rectangle(0.0, 0.0, width, height, "outline"))
    items.append(Group(tuple(_sizes(width, height, system)), hidden=True))
    return drawing(f"Sheet {row['piece']}", _says(row, system), items, scale)


def _says(row: Mapping[str, Any], system: units.System) -> str:
    lites = ", ".join(
        f"{lite['label']} {long(lite['width_m'], system)} by {long(lite['height_m'], system)}"
        for lite in row["lites"]
    )
    size = f"{long(row['width_m'], system)} by {long(row['height_m'], system)}"
    unit = "inches" if system == "us" else "mm"
    return f"{size} {unit}; {len(row['breaks'])} breaks; {lites}."


def _lite(lite: Mapping[str, Any], system: units.System, k: float) -> Item:
    x, y = lite["x_m"], lite["y_m"]
    right, top = x + lite["width_m"], y + lite["height_m"]
    size = f"{long(lite['width_m'], system)} × {long(lite['height_m'], system)}"
    mark, _, name = lite["label"].partition("-")
    short = f"{mark}-{name.partition(' ')[0]}" if name else lite["label"]
    lines = [short, size, *(["arched"] if lite["arched"] else [])]
    return Group(
        (
            rectangle(x, y, right, top, "glass fine-outline"),
            *_lettered(lines, (x, y, right, top), k),
        ),
        f"{lite['label']}, {size}",
        classes="cutpart",
    )


def _lettered(lines: list[str], box: tuple[float, float, float, float], k: float) -> Iterator[Text]:
    """Lines one below the other in the middle of a box, level or up it, as large as they may be."""
    x, y, right, top = box
    along, across = (right - x) * k - 1.6, (top - y) * k - 1.6
    upright = across > along and any(text_width(line, SMALL) > along for line in lines)
    if upright:
        along, across = across, along
    widest = max(text_width(line, 1.0) for line in lines)
    size = min(SMALL, along / widest, across / (1.35 * len(lines)))
    if size < LEAST:
        lines = lines[:1]
        size = min(SMALL, along / text_width(lines[0], 1.0), across)
    if size < 0.8:
        return
    middle = ((x + right) / 2, (y + top) / 2)
    for at, line in enumerate(lines):
        down = ((len(lines) - 1) / 2 - at) * 1.35 * size - 0.34 * size
        shift = (-down, 0.0) if upright else (0.0, down)
        yield Text(middle, line, "figure", size, angle=90.0 if upright else 0.0, shift=shift)


def _offcuts(row: Mapping[str, Any], k: float) -> Iterator[Item]:
    for piece in row["offcuts"]:
        x, y = piece["x_m"], piece["y_m"]
        right, top = x + piece["width_m"], y + piece["height_m"]
        yield rectangle(x, y, right, top, "paper fine-outline")
        for text in _lettered(["keep"], (x, y, right, top), k):
            yield Text(
                text.at, text.text, "pencil-note", text.size, angle=text.angle, shift=text.shift
            )


def _break(one: Mapping[str, Any], k: float) -> Iterator[Item]:
    """Its line, and its number in a small disc near where the break begins."""
    pen = PENS[min(one["level"], len(PENS) - 1)]
    upright, at = one["upright"], one["at_m"]
    start, end = one["from_m"], one["to_m"]
    ends = ((at, start), (at, end)) if upright else ((start, at), (end, at))
    yield Line(*ends, pen)
    number = str(one["order"])
    if one["level"] == 0:
        # Trims lie too near the edge for a number between: it stands outside.
        place = (at, 0.0) if upright else (0.0, at)
        shift = (0.0, -NUMBER - 0.6) if upright else (-1.6, -0.34 * NUMBER)
        yield Text(place, number, "pencil-note", NUMBER, shift=shift)
        return
    # Each level's numbers stand a little further in, so that those of one corner do not meet.
    inward = min((2.4 + 4.0 * (one["level"] - 1)) / k, (end - start) / 2)
    place = (at, start + inward) if upright else (start + inward, at)
    yield Text(place, number, "pencil-note halo", NUMBER, shift=(0.0, -0.34 * NUMBER))


def _sizes(width: float, height: float, system: units.System) -> Iterator[Item]:
    yield Text((width / 2, 0.0), long(width, system), "figure", 2.3, shift=(0.0, -3.4))
    yield Text(
        (0.0, height / 2), long(height, system), "figure", 2.3, angle=90.0, shift=(-1.8, 0.0)
    )
