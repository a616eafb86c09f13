"""The joints of a sash, taken apart and dimensioned: corner, meeting rail, muntin.

Each is drawn twice: from outside, the pieces pulled apart, with the mortise in dashes; and the end of the
piece with the tenon, in its true section.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Literal

from sashwright import units
from sashwright.drawing.broken import break_line
from sashwright.drawing.cut import LOOKS
from sashwright.drawing.dimensions import ROW
from sashwright.drawing.model import (
    Chain,
    Dimension,
    Drawing,
    Item,
    Line,
    Polygon,
    Text,
    Vertex,
    drawing,
    rectangle,
)
from sashwright.units import INCH
from sashwright.window.layout import SashLayout
from sashwright.window.members import BAR_TENON, bar_tongue, tenon_length, tenon_span
from sashwright.window.outlines.jamb import upright_bar
from sashwright.window.outlines.rails import cross_bar, high_rail, low_rail
from sashwright.window.outlines.shape import Outline
from sashwright.window.resolve import Placed

Joint = Literal["corner", "meeting", "muntin"]
JOINTS: tuple[Joint, ...] = ("corner", "meeting", "muntin")

SHOWN = 0.9 * INCH
"""Of each piece beyond the joint [m]."""
APART = 0.4 * INCH
"""Between the tenon's end and the mortised piece [m]."""
ASIDE = 2.25 * INCH
"""Between the view from outside and the end of the piece [m]."""
PAST = 0.006
"""How far a break line runs past what it breaks off [m]."""


def figure(metres: float, system: units.System) -> str:
    """A size as joints are cut to: to 1/32 inch or half a millimetre, finer than other figures."""
    us = system == "us"
    return units.format_length(metres, system, nearest=32 if us else 0.5, marks=us)


def joint_drawing(placed: Placed, joint: str, system: units.System = "us") -> Drawing:
    """One joint of a window's lower sash; of the upper one where only that has muntins.

    Raises ``ValueError`` for a word that is no joint of ``JOINTS``.
    """
    layout = placed.layout
    number = placed.window.number
    if joint == "corner":
        items = _rail_joint(_corner(layout.lower), system)
        title, says = (
            "bottom rail and stile",
            "The corner of the lower sash's bottom rail and stile",
        )
    elif joint == "meeting":
        items = _rail_joint(_meeting(layout.lower), system)
        title, says = "meeting rail and stile", "The lower sash's meeting rail and stile"
    elif joint == "muntin":
        title, says = "muntin and rail", "A muntin and what it is tenoned into"
        barred = next((sash for sash in (layout.lower, layout.upper) if _has_bars(sash)), None)
        items = [] if barred is None else _bar_joint(barred, system)
        if barred is None:
            note = Text((0.0, 0.0), "Neither sash has muntins.")
            return drawing(f"Window {number}, {title}", "Neither sash has muntins.", (note,), 0.5)
    else:
        raise ValueError(f"found {joint!r}, expected one of {', '.join(JOINTS)}")
    return drawing(
        f"Window {number}, {title}",
        f"{says}, pulled apart, seen from outside, and the end of the tenoned piece.",
        items,
        0.5,
    )


def has_muntins(placed: Placed) -> bool:
    """Whether either sash has any."""
    return any(_has_bars(sash) for sash in (placed.layout.upper, placed.layout.lower))


def _has_bars(sash: SashLayout) -> bool:
    return len(sash.columns) > 1 or len(sash.rows) > 1


# --- rails --------------------------------------------------------------------------------


@dataclass(frozen=True)
class _RailJoint:
    """A rail's end and the stile's, with heights counted from the rail's low edge [m]."""

    sash: SashLayout
    name: str
    rail: float
    """Width of the rail."""
    body: tuple[float, float]
    """Of the tenon."""
    end: tuple[float, float]
    """Foot and top of the stile where it is shown; one of them is broken off."""
    broken_above: bool
    open_end: bool
    """The mortise runs out of the stile's end: a bridle joint."""
    section: Outline
    origin: float
    """Height of the rail's low edge in the window."""


def _corner(sash: SashLayout) -> _RailJoint:
    low, high = sash.bottom, sash.daylight[2]
    body = tenon_span(sash, low, high, sight_above=True, meeting=False)
    rail = high - low
    return _RailJoint(
        sash, "bottom rail", rail, (body[0] - low, body[1] - low), (0.0, rail + SHOWN), True, False,
        low_rail(sash), low,
    )  # fmt: skip


def _meeting(sash: SashLayout) -> _RailJoint:
    low, high = sash.daylight[3], sash.top
    body = tenon_span(sash, low, high, sight_above=False, meeting=True)
    horn = sash.horns[1]
    end = (-SHOWN, high - low + horn)
    return _RailJoint(
        sash, "meeting rail", high - low, (body[0] - low, body[1] - low), end, False, horn == 0,
        high_rail(sash), low,
    )  # fmt: skip


def _rail_joint(joint: _RailJoint, system: units.System) -> list[Item]:
    sash = joint.sash
    stile, length = sash.spec.stile, tenon_length(sash)
    shoulder = stile + APART + length
    items = [
        *_stile(joint, length),
        *_rail(joint, shoulder, length),
        *_rail_figures(joint, shoulder, length, system),
    ]
    left = shoulder + SHOWN + ASIDE
    tenon = (sash.profile.nose, joint.body)
    items += _end(joint.section, (left - sash.face, -joint.origin), (left, 0.0), tenon)
    items += _end_figures(sash, left, joint, system)
    over = (0.0, 5.0)
    top = max(joint.end[1], joint.rail)
    items.append(Text((0.0, top), "from outside", anchor="start", shift=over))
    items.append(Text((left, top), f"end of the {joint.name}", anchor="start", shift=over))
    return items


def _stile(joint: _RailJoint, length: float) -> Iterator[Item]:
    """The stile's end with its mortise; from outside one looks into the rabbet."""
    sash, (low, high) = joint.sash, joint.end
    stile, rabbet = sash.spec.stile, sash.spec.rabbet_width
    yield rectangle(0.0, low, stile, high, "edge wood")
    clear = (joint.rail, high) if joint.broken_above else (low, 0.0)
    yield Line((stile - rabbet, clear[0]), (stile - rabbet, clear[1]), "fine")
    body = (joint.body[0], high) if joint.open_end else joint.body
    yield rectangle(stile - length, body[0], stile, body[1], "hidden")
    at = high if joint.broken_above else low
    yield break_line((-PAST, at), (stile + PAST, at))
    # Where the rail's edge meets the stile.
    for y in (0.0, joint.rail):
        if low < y < high:
            yield Line((stile - 0.3 * stile, y), (stile, y), "centre")


def _rail(joint: _RailJoint, shoulder: float, length: float) -> Iterator[Item]:
    sash, (low, high) = joint.sash, joint.body
    far = shoulder + SHOWN
    rabbet = sash.spec.rabbet_width
    yield rectangle(shoulder - length, low, shoulder, high, "edge wood")
    yield rectangle(shoulder, 0.0, far, joint.rail, "edge wood")
    line = joint.rail - rabbet if joint.broken_above else rabbet
    yield Line((shoulder, line), (far, line), "fine")
    yield break_line((far, -PAST), (far, joint.rail + PAST))
    for y in joint.body:
        yield Line((sash.spec.stile, y), (shoulder - length, y), "centre")


def _rail_figures(
    joint: _RailJoint, shoulder: float, length: float, system: units.System
) -> Iterator[Item]:
    stile, low = joint.sash.spec.stile, joint.body[0]
    if joint.broken_above:
        text = figure(stile, system)
        yield Dimension((0.0, 0.0), (stile, 0.0), "x", -ROW, text, "width of the stile")
    ends = ((shoulder - length, low), (shoulder, low))
    yield Dimension(*ends, "x", -ROW, figure(length, system), "length of the tenon")
    far = shoulder + SHOWN
    rows = {"haunch": 1, "tenon": 1, "rabbet and moulding": 1 if joint.broken_above else 2}
    for start, end, name in _heights(joint):
        text, row = figure(end - start, system), rows[name] * ROW
        yield Dimension((far, start), (far, end), "y", row, text, name)
    row = (max(rows.values()) + 1) * ROW
    text = figure(joint.rail, system)
    yield Dimension((far, 0.0), (far, joint.rail), "y", row, text, f"width of the {joint.name}")
    horn = joint.end[1] - joint.rail
    if not joint.broken_above and horn > 0:
        text = figure(horn, system)
        yield Dimension((0.0, joint.rail), (0.0, joint.end[1]), "y", -ROW, text, "horn")


def _heights(joint: _RailJoint) -> Iterator[tuple[float, float, str]]:
    """Stretches across the rail: haunch, tenon, what rabbet and moulding take."""
    low, high = joint.body
    names = ("haunch", "tenon", "rabbet and moulding")
    marks = (0.0, low, high, joint.rail)
    if not joint.broken_above:
        names = names[::-1]
    for (start, end), name in zip(itertools.pairwise(marks), names, strict=True):
        if end - start > 1e-6:
            yield start, end, name


# --- ends ---------------------------------------------------------------------------------


def _end(
    section: Outline,
    move: tuple[float, float],
    at: tuple[float, float],
    tenon: tuple[tuple[float, float], tuple[float, float]],
) -> Iterator[Item]:
    """The section of a piece, moved, with the end of its tenon at ``at``."""
    look, _ = LOOKS["wood"]
    corners = tuple(Vertex(x + move[0], y + move[1], bulge) for x, y, bulge in section.corners)
    yield Polygon(corners, look.replace("cut", "edge"))
    (near, far), (low, high) = tenon
    yield rectangle(at[0] + near, at[1] + low, at[0] + far, at[1] + high, "cut wood", "end-grain")


def _end_figures(
    sash: SashLayout, left: float, joint: _RailJoint, system: units.System
) -> Iterator[Item]:
    y = min(joint.end[0], 0.0) if joint.broken_above else 0.0
    yield _depths(sash, left, y, system)


def _depths(sash: SashLayout, left: float, y: float, system: units.System) -> Chain:
    """Through the thickness, from the weather face: rabbet, tenon, moulding."""
    near, far = sash.profile.nose
    marks = (0.0, near, far, sash.thickness)
    names = ("rabbet", "thickness of the tenon", "moulding")
    links = (
        Dimension((left + a, y), (left + b, y), "x", -ROW, figure(b - a, system), name)
        for (a, b), name in zip(itertools.pairwise(marks), names, strict=True)
        if b - a > 1e-6
    )
    return Chain(tuple(links))


# --- muntins ------------------------------------------------------------------------------


def _bar_joint(sash: SashLayout, system: units.System) -> list[Item]:
    """An upright muntin over the rail it is tenoned into; a cross bar beside its stile, turned upright."""
    upright = len(sash.columns) > 1
    wide = sash.spec.muntin
    low, high = bar_tongue(sash, wide / 2)
    rail = _below(sash, upright=upright)
    rabbet = sash.spec.rabbet_width
    # Of a wide rail only the edge is shown.
    foot = max(rail - BAR_TENON - SHOWN, 0.0)
    lift = rail + APART + BAR_TENON
    top = lift + SHOWN
    left, right = -SHOWN, wide + SHOWN
    items: list[Item] = [
        rectangle(left, foot, right, rail, "edge wood"),
        Line((left, rail - rabbet), (right, rail - rabbet), "fine"),
        rectangle(low, rail - BAR_TENON, high, rail, "hidden"),
        break_line((left, foot - PAST), (left, rail + PAST)),
        break_line((right, foot - PAST), (right, rail + PAST)),
        rectangle(low, lift - BAR_TENON, high, lift, "edge wood"),
        rectangle(0.0, lift, wide, top, "edge wood"),
        *(Line((x, lift), (x, top), "fine") for x in (rabbet, wide - rabbet)),
        break_line((-PAST, top), (wide + PAST, top)),
        *(Line((x, rail), (x, lift - BAR_TENON), "centre") for x in (low, high)),
        Dimension(
            (low, foot), (high, foot), "x", -ROW, figure(high - low, system), "width of the tenon"
        ),
        Dimension(
            (wide, lift - BAR_TENON), (wide, lift), "y", 2 * ROW, figure(BAR_TENON, system),
            "length of the tenon",
        ),
    ]  # fmt: skip
    if foot > 0:
        items.append(break_line((left - PAST, foot), (right + PAST, foot)))
    section, origin = _bar_section(sash, upright=upright)
    start, level = right + ASIDE, rail
    near, far = sash.profile.nose
    edge = start + sash.thickness
    items += [
        _laid_down(section, origin, start, level),
        rectangle(start + near, level + low, start + far, level + high, "cut wood", "end-grain"),
        _depths(sash, start, level, system),
        Dimension(
            (edge, level),
            (edge, level + wide),
            "y",
            ROW,
            figure(wide, system),
            "width of the muntin",
        ),
    ]
    what = "into the rail" if upright else "into the stile, turned upright"
    items.append(Text((left, top), f"from outside, {what}", anchor="start", shift=(0.0, 5.0)))
    items.append(Text((start, top), "end of the muntin", anchor="start", shift=(0.0, 5.0)))
    return items


def _below(sash: SashLayout, *, upright: bool) -> float:
    """Width of the piece that the muntin is tenoned into."""
    return sash.bottom_rail if upright else sash.spec.stile


def _bar_section(sash: SashLayout, *, upright: bool) -> tuple[Outline, float]:
    """The muntin's section, its depth through the sash level; and where its first sight line is."""
    if upright:
        a, b = sash.columns[0][1], sash.columns[1][0]
        piece = upright_bar(sash, a, b)
        turned = tuple(Vertex(y, x, -bulge) for x, y, bulge in piece.corners)
        return replace(piece, corners=turned), a
    a, b = sash.rows[0][1], sash.rows[1][0]
    return cross_bar(sash, a, b), a


def _laid_down(section: Outline, origin: float, left: float, low: float) -> Polygon:
    depths = [x for x, _, _ in section.corners]
    move = left - min(depths)
    corners = tuple(Vertex(x + move, y - origin + low, b) for x, y, b in section.corners)
    return Polygon(corners, "edge wood")


def joints_of(placed: Placed) -> Iterable[Joint]:
    """The joints that a window has."""
    return JOINTS if has_muntins(placed) else JOINTS[:2]
