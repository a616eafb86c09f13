"""A sash in elevation, from outside or from the room: stiles, rails, bars, sticking and lites."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from typing import Literal

from sashwright.drawing.model import Group, Item, Line, Polygon, Vertex, bulge_of, part, rectangle
from sashwright.window.bands import Arc
from sashwright.window.layout import Lite, SashLayout

View = Literal["outside", "inside"]

HORN_FOOT = 0.5
"""Share of the stile's width that a horn keeps at its end; its inner side is hollowed."""


def sash_group(sash: SashLayout, view: View) -> tuple[Group, ...]:
    """All parts of a sash, closed, in the coordinates of the window seen from outside."""
    return (
        *_stiles(sash),
        *_rails(sash),
        *bars(sash),
        *_lites(sash, view),
    )


def sash_in_place(layout: SashLayout, view: View, up: float) -> Group:
    """One sash, moved up from where it closes [m]."""
    return Group(
        (*sash_group(layout, view), sash_outline(layout, "sash-edge")),
        f"{layout.which} sash",
        classes=f"sash {layout.which}",
        data=(("part", f"{layout.which}.sash"), ("moves", layout.which), ("sign", "1")),
        shift=(0.0, up),
    )


def sash_outline(sash: SashLayout, pen: str) -> Polygon:
    """The sash's edge without its horns."""
    half = sash.half
    return Polygon(
        (
            Vertex(-half, sash.bottom),
            Vertex(half, sash.bottom),
            *_over(sash, sash.arc, half, sash.top)[::1],
        ),
        pen,
    )


def lite_outline(lite: Lite, grown: float, pen: str) -> Polygon:
    """The edge of a lite grown on all sides [m]: sight line, sticking line or edge of the glass."""
    left, right, bottom = lite.left - grown, lite.right + grown, lite.bottom - grown
    if lite.arc is None:
        return rectangle(left, bottom, right, lite.top + grown, pen)
    arc = Arc(lite.arc.centre, lite.arc.radius + grown)
    corner_right, corner_left = (right, arc.height(right)), (left, arc.height(left))
    bulge = bulge_of((0.0, arc.centre), corner_right, corner_left, clockwise=False)
    return Polygon(
        (
            Vertex(left, bottom),
            Vertex(right, bottom),
            Vertex(*corner_right, bulge),
            Vertex(*corner_left),
        ),
        pen,
    )


def _over(sash: SashLayout, arc: Arc | None, half: float, top: float) -> list[Vertex]:
    """The head of a sash from right to left."""
    if arc is None:
        return [Vertex(half, top), Vertex(-half, top)]
    side = arc.height(half)
    bulge = bulge_of((0.0, arc.centre), (half, side), (-half, side), clockwise=False)
    return [Vertex(half, side, bulge), Vertex(-half, side)]


# --- members --------------------------------------------------------------------------------------


def _stiles(sash: SashLayout) -> Iterator[Group]:
    sides: tuple[tuple[str, Literal[-1, 1]], ...] = (("left", -1), ("right", 1))
    for name, side in sides:
        corners = tuple(Vertex(side * x, y, -side * bulge) for x, y, bulge in _left_stile(sash))
        yield part(
            f"{sash.which}.{name}_stile",
            f"{name} stile of the {sash.which} sash",
            (Polygon(corners, "edge wood"),),
        )


def _left_stile(sash: SashLayout) -> Iterator[Vertex]:
    """Corners of a stile with x counted outward from the middle of the window."""
    sight, half = sash.half - sash.spec.stile, sash.half
    below, above = sash.horns
    foot = sash.half - sash.spec.stile * HORN_FOOT
    if below:
        # Hollowed like a quarter round from the rail's underside to the horn's end.
        yield Vertex(sight, sash.bottom, 0.3)
        yield Vertex(foot, sash.bottom - below)
        yield Vertex(half, sash.bottom - below)
    else:
        yield Vertex(sight, sash.bottom)
        yield Vertex(half, sash.bottom)
    if above:
        yield Vertex(half, sash.top + above)
        yield Vertex(foot, sash.top + above, 0.3)
        yield Vertex(sight, sash.top)
    elif sash.arc is None or sash.inner_arc is None:
        yield Vertex(half, sash.top)
        yield Vertex(sight, sash.top)
    else:
        yield Vertex(half, sash.arc.height(half))
        yield Vertex(sight, sash.inner_arc.height(sight))


def _rails(sash: SashLayout) -> Iterator[Group]:
    left, right, low, _ = sash.daylight
    upper = sash.which == "upper"
    low_name, high_name = ("meeting", "top") if upper else ("bottom", "meeting")
    yield part(
        f"{sash.which}.{low_name}_rail",
        f"{low_name} rail of the {sash.which} sash",
        (rectangle(left, sash.bottom, right, low, "edge wood"),),
    )
    yield part(
        f"{sash.which}.{high_name}_rail",
        f"{high_name} rail of the {sash.which} sash",
        (high_rail(sash),),
    )


def high_rail(sash: SashLayout) -> Polygon:
    """The rail at the top of a sash, arched with it."""
    left, right, _, high = sash.daylight
    if sash.arc is None or sash.inner_arc is None:
        return rectangle(left, high, right, sash.top, "edge wood")
    inner = _over(sash, sash.inner_arc, right, high)
    back = (Vertex(inner[1].x, inner[1].y, -inner[0].bulge), Vertex(inner[0].x, inner[0].y))
    return Polygon((*_over(sash, sash.arc, sash.half, sash.top), *back), "edge wood")


def bars(sash: SashLayout) -> Iterator[Group]:
    """Upright bars run through, cross bars between them."""
    _, _, low, high = sash.daylight
    columns, rows = sash.columns, sash.rows
    for index, (a, b) in enumerate(itertools.pairwise(columns), 1):
        piece = _upright_bar(sash, a[1], b[0], low, high)
        name = f"upright bar of the {sash.which} sash"
        yield part(f"{sash.which}.upright_bar.{index}", name, (piece,))
    crosses = tuple(
        rectangle(left, a[1], right, b[0], "edge wood")
        for a, b in itertools.pairwise(rows)
        for left, right in columns
    )
    if crosses:
        yield part(f"{sash.which}.cross_bars", f"cross bars of the {sash.which} sash", crosses)


def _upright_bar(sash: SashLayout, left: float, right: float, low: float, high: float) -> Polygon:
    if sash.inner_arc is None:
        return rectangle(left, low, right, high, "edge wood")
    arc = sash.inner_arc
    corners = (right, arc.height(right)), (left, arc.height(left))
    bulge = bulge_of((0.0, arc.centre), *corners, clockwise=False)
    return Polygon(
        (
            Vertex(left, low),
            Vertex(right, low),
            Vertex(*corners[0], bulge),
            Vertex(*corners[1]),
        ),
        "edge wood",
    )


# --- lites ----------------------------------------------------------------------------------------


def _lites(sash: SashLayout, view: View) -> Iterator[Group]:
    spec = sash.spec
    # From outside the putty lies between the rabbet and the sight line, from inside the moulding.
    grown = spec.rabbet_width if view == "outside" else spec.moulding.width
    for lite in sash.lites:
        items: list[Item] = []
        if grown > 0:
            items.append(lite_outline(lite, grown, "fine"))
            items.extend(_mitres(lite, grown))
        items.append(lite_outline(lite, 0.0, "edge glass"))
        name = f"{sash.which}.lite.{lite.column + 1}.{lite.row + 1}"
        yield part(name, f"lite of the {sash.which} sash", items, "lite")


def _mitres(lite: Lite, grown: float) -> Iterator[Line]:
    """Where the sticking (or the putty) of two members meets at the corners of a lite."""
    sight, sticking = lite_outline(lite, 0.0, ""), lite_outline(lite, grown, "")
    for near, far in zip(sight.points, sticking.points, strict=True):
        yield Line((near.x, near.y), (far.x, far.y), "fine")
