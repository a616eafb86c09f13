"""The parts of a window that the survey speaks of: their names, what kind each is, how large it is.

Names are those of the drawing (``lower.bottom_rail``, ``upper.lite.1.1``, ``frame.sill``); ``frame.`` may be
left out. A name that several parts begin with (``lower.cord``, ``pulley``) means all of them.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from sashwright.knowledge.work_tables import Component
from sashwright.window.bands import Bands
from sashwright.window.layout import Lite, SashLayout, WindowLayout
from sashwright.window.parts import FLAT, outline_area
from sashwright.window.pieces import total

Of = Literal["upper", "lower", "frame", "storm", "screen"]
SIDES = ("left", "right")


@dataclass(frozen=True, slots=True)
class Piece:
    """A part by its name; sizes of what is seen of it."""

    name: str
    kind: Component
    of: Of
    length: float = 0.0
    """Along a member, or round a pane [m]."""
    area: float = 0.0
    """Of a pane, or of the painted faces [m2]."""


def pieces_of(layout: WindowLayout) -> Mapping[str, Piece]:
    """All parts of a window by name, in the order of its drawing."""
    found: list[Piece] = []
    for which in (layout.upper, layout.lower):
        found += _sash(which)
    found += _frame(layout)
    found += _storm(layout)
    found += _screen(layout)
    return {piece.name: piece for piece in found}


def named(name: str, pieces: Mapping[str, Piece]) -> Sequence[Piece]:
    """The parts that a name means; none where there is no such part."""
    for each in (name, f"frame.{name}"):
        if each in pieces:
            return [pieces[each]]
        group = [piece for key, piece in pieces.items() if key.startswith(f"{each}.")]
        if group and each not in ("upper", "lower", "frame", "storm", "screen"):
            return group
    return []


def expected(name: str, pieces: Mapping[str, Piece]) -> str:
    """What may stand in place of a name that no part has."""
    near = difflib.get_close_matches(name, [*pieces, *(key[6:] for key in pieces)], n=2, cutoff=0.5)
    some = near or ["lower.bottom_rail", "sill"]
    return f"a part of this window, such as {' or '.join(some)}"


def part_words(name: str) -> str:
    """``Lower bottom rail`` of ``lower.bottom_rail``, as sentences call it."""
    if name in ("frame.paint", "frame.frame"):
        return "Paint of the frame" if name == "frame.paint" else "Frame"
    *owner, last = name.removeprefix("frame.").split(".")
    if owner[1:2] == ["lite"] and len(owner) == 3:
        return f"{owner[0].capitalize()} lite, column {owner[2]}, row {last}"
    text = " ".join((*owner, last)).replace("_", " ")
    return text[:1].upper() + text[1:]


def _sash(sash: SashLayout) -> Iterator[Piece]:
    which, spec = sash.which, sash.spec
    daylight = sum(_area(lite) for lite in sash.lites)
    faces = 2 * (outline_area(sash) - daylight)
    girth = 2 * spec.thickness
    upright = sash.stile_top - sash.stile_bottom
    left, right, _, _ = sash.daylight

    def member(name: str, kind: Component, length: float, width: float) -> Piece:
        return Piece(f"{which}.{name}", kind, which, length, length * (2 * width + girth))

    yield Piece(f"{which}.sash", "sash", which, 2 * (sash.width + sash.height), faces)
    for side in SIDES:
        yield member(f"{side}_stile", "stile", upright, spec.stile)
    if which == "upper":
        yield member("top_rail", "top rail", right - left, spec.top_rail)
    yield member("meeting_rail", "meeting rail", right - left, spec.meeting_rail)
    if which == "lower":
        yield member("bottom_rail", "bottom rail", right - left, spec.bottom_rail)
    yield from _bars(sash)
    for lite in sash.lites:
        yield _lite(f"{which}.lite.{lite.column + 1}.{lite.row + 1}", "lite", which, lite)
    edges = sum(_edge(lite) for lite in sash.lites)
    yield Piece(f"{which}.putty", "putty", which, edges, daylight)
    yield Piece(f"{which}.paint", "paint", which, 0.0, faces)
    yield Piece(f"{which}.weatherstrip", "weatherstrip", which, sash.width + 2 * sash.height)
    if sash.hung:
        for side in SIDES:
            yield Piece(f"{which}.cord.{side}", "cord", which)
            yield Piece(f"{which}.weight.{side}", "weight", which)
    if which == "lower":
        yield Piece("lower.lock", "lock", "lower")
        yield Piece("lower.lift", "lift", "lower")


def _bars(sash: SashLayout) -> Iterator[Piece]:
    which, spec = sash.which, sash.spec
    left, right, low, high = sash.daylight
    girth = 2 * (spec.muntin + spec.thickness)
    for index in range(1, len(sash.columns)):
        long = high - low
        yield Piece(f"{which}.upright_bar.{index}", "muntin", which, long, long * girth)
    crosses = len(sash.rows) - 1
    if crosses:
        across = crosses * (right - left - (len(sash.columns) - 1) * spec.muntin)
        yield Piece(f"{which}.cross_bars", "muntin", which, across, across * girth)


def _edge(lite: Lite) -> float:
    return 2 * (lite.width + lite.crown() - lite.bottom)


def _lite(name: str, kind: Component, of: Of, lite: Lite) -> Piece:
    return Piece(name, kind, of, _edge(lite), _area(lite))


def _area(lite: Lite) -> float:
    return total(Bands([lite.band]).solids(FLAT)).volume


def _frame(layout: WindowLayout) -> Iterator[Piece]:
    window, frame = layout.window, layout.family.frame
    wide, high = window.width, layout.head_at_side
    nose = frame.sill_projection + frame.wall_thickness / 2
    round_it = wide + 2 * high

    def piece(name: str, kind: Component, length: float, width: float = 0.0) -> Piece:
        return Piece(f"frame.{name}", kind, "frame", length, length * width)

    yield piece("sill", "sill", wide, nose + frame.sill_thickness)
    yield piece("stool", "stool", wide, frame.stool_thickness * 3)
    yield piece("head", "head", wide, frame.head_thickness)
    for side in SIDES:
        yield piece(f"pulley_stile.{side}", "pulley stile", high, frame.wall_thickness / 2)
    yield piece("parting_bead", "parting bead", round_it, frame.parting_bead_projection)
    yield piece("inside_stop", "inside stop", round_it, frame.inside_stop_width)
    yield piece("blind_stop", "blind stop", round_it, frame.blind_stop_thickness)
    for name, kind, width in (
        ("casing", "casing", frame.casing_width),
        ("inside_casing", "inside casing", frame.inside_casing_width),
    ):
        for side, length in (("head", wide + 2 * width), ("left", high), ("right", high)):
            if width:
                yield piece(f"{name}.{side}", kind, length, width)  # type: ignore[arg-type]
    for side in SIDES:
        yield piece(f"pulley.{side}", "pulley", 0.0)
        yield piece(f"pocket.{side}", "pocket", 0.0)
        yield piece(f"pocket_cover.{side}", "pocket cover", layout.family.pocket.cover_height, 0.05)
    yield Piece("frame.paint", "paint", "frame", 0.0, outside_area(layout))
    yield Piece("frame.frame", "frame", "frame", 2 * (wide + high))


def outside_area(layout: WindowLayout) -> float:
    """Paint of sill, blind stops and casing, seen from outside [m2]."""
    wide, high, frame = layout.window.width, layout.head_at_side, layout.family.frame
    sill = wide * (frame.sill_projection + frame.wall_thickness / 2 + frame.sill_thickness)
    round_it = wide + 2 * high
    casing = (round_it + 2 * frame.casing_width) * (frame.casing_width + frame.casing_thickness)
    stops = round_it * (frame.blind_stop_thickness + frame.wall_thickness / 4)
    return sill + casing + stops


def _storm(layout: WindowLayout) -> Iterator[Piece]:
    """The storm sash as the family describes it; sizes are those of the opening, near enough."""
    storm = layout.family.storm_sash
    if layout.family.storm == "none":
        return
    wide, high = layout.window.width, layout.window.height
    rails = 2 * (wide + high)
    yield Piece("storm.sash", "storm", "storm", rails, 2 * rails * storm.stile)
    for side in SIDES:
        yield Piece(f"storm.{side}_stile", "storm member", "storm", high, 2 * high * storm.stile)
    for name, width in (("top_rail", storm.top_rail), ("bottom_rail", storm.bottom_rail)):
        yield Piece(f"storm.{name}", "storm member", "storm", wide, 2 * wide * width)
    if storm.lites != "plain":
        area = 2 * wide * storm.middle_rail
        yield Piece("storm.middle_rail", "storm member", "storm", wide, area)
    yield Piece("storm.lite", "storm lite", "storm", rails, wide * high)
    yield Piece("storm.paint", "paint", "storm", 0.0, 2 * rails * storm.stile)


def _screen(layout: WindowLayout) -> Iterator[Piece]:
    screen = layout.family.screen
    if screen.kind == "none":
        return
    wide = layout.window.width
    high = layout.window.height if screen.kind == "full" else layout.lower.height
    yield Piece("screen.sash", "screen", "screen", 2 * (wide + high))
    for side in SIDES:
        yield Piece(
            f"screen.{side}_stile", "screen member", "screen", high, 2 * high * screen.stile
        )
    for name, width in (("top_rail", screen.top_rail), ("bottom_rail", screen.bottom_rail)):
        yield Piece(f"screen.{name}", "screen member", "screen", wide, 2 * wide * width)
    yield Piece("screen.cloth", "screen cloth", "screen", 0.0, wide * high)


NAMES: Mapping[str, Component] = {
    "sash": "sash", "left_stile": "stile", "right_stile": "stile", "top_rail": "top rail",
    "meeting_rail": "meeting rail", "bottom_rail": "bottom rail", "upright_bar": "muntin",
    "cross_bars": "muntin", "lite": "lite", "putty": "putty", "paint": "paint",
    "weatherstrip": "weatherstrip", "cord": "cord", "weight": "weight", "lock": "lock", "lift": "lift",
    "sill": "sill", "stool": "stool", "head": "head", "pulley_stile": "pulley stile",
    "parting_bead": "parting bead", "inside_stop": "inside stop", "blind_stop": "blind stop",
    "casing": "casing", "inside_casing": "inside casing", "pulley": "pulley", "pocket": "pocket",
    "pocket_cover": "pocket cover", "frame": "frame",
}  # fmt: skip
"""Kinds by the first word of a name, below ``upper.``, ``lower.`` or ``frame.``."""
_OUTSIDE: Mapping[str, Component] = {
    "sash": "storm", "lite": "storm lite", "paint": "paint", "cloth": "screen cloth",
}  # fmt: skip


def kind_named(name: str) -> Component | None:
    """What kind of part a name means, whatever the window; None where no window has one."""
    first, _, rest = name.partition(".")
    if first in ("storm", "screen"):
        if rest == "sash":
            return "storm" if first == "storm" else "screen"
        if rest in _OUTSIDE:
            return _OUTSIDE[rest]
        member: Component = "storm member" if first == "storm" else "screen member"
        return member if rest.endswith(("_stile", "_rail")) else None
    word = (
        rest.split(".")[0] if first in ("upper", "lower") or (first == "frame" and rest) else first
    )
    return NAMES.get(word)
