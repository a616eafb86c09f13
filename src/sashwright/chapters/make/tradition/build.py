"""Sizes and a pattern put together as a family and a window of the house file."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from sashwright.chapters.make.tradition.opening import STEP, Inward, Opening, outer_face
from sashwright.chapters.make.tradition.sizes import Sizes
from sashwright.chapters.words import Words
from sashwright.knowledge.tables import Knowledge, Pulley, Suspension
from sashwright.knowledge.tradition_tables import Tradition
from sashwright.units import INCH, System
from sashwright.window import spec
from sashwright.window.layout import SashLayout, WindowLayout
from sashwright.window.placing import lay_out
from sashwright.window.quantities import inches

SINGLE_MOST = (28 * INCH, 34 * INCH)
"""Largest pane of single thick glass [m]: a habit that the Cyclopedia of Architecture, Carpentry and Building
names; no wind design."""
STUD_DEPTH = inches(5)
"""Deepest weight pocket through a wood wall [m]; common practice."""
ORDINARY_WALL = inches(6)
"""A wood wall where nobody measured it [m]; common practice."""
KNOT_SHARE = 0.2
"""Of the sash opening's height, from the top of a stile to the knot at most; judgement."""
SIDE = inches(1 / 16)
"""Between sash and pulley stile, and under the head [m]; the shop's usual."""


@dataclass(frozen=True, slots=True)
class Place:
    """What the window and its family are called, and where it is."""

    number: str = "1"
    family: str = "A"
    wall: str = "north"
    storey: int = 1
    room: str = ""


@dataclass(frozen=True, slots=True)
class Pattern:
    """Lites of both sash."""

    upper: spec.Lites
    lower: spec.Lites

    @property
    def says(self) -> str:
        return " over ".join(str(each.columns * each.rows) for each in (self.upper, self.lower))


@dataclass(frozen=True, slots=True)
class Making:
    """What stays the same while sizes are tried."""

    opening: Opening
    tradition: Tradition
    knowledge: Knowledge
    wood: str
    system: System
    place: Place
    box: bool
    """Whether the frame is a box with linings."""


@dataclass(frozen=True, slots=True)
class Built:
    """One window as it would be, laid out."""

    sizes: Sizes
    pattern: Pattern
    way: Inward
    family: spec.Family
    window: spec.Window
    layout: WindowLayout

    @property
    def told_by(self) -> SashLayout:
        """The sash whose lites tell their proportion: the upper one.

        Under an arch the upper lites end at the springing and say little: there it is the lower one, if its
        lites are as wide.
        """
        alike = self.pattern.upper.columns == self.pattern.lower.columns
        arched = self.layout.upper.arc is not None
        return self.layout.lower if arched and alike else self.layout.upper

    @property
    def lite(self) -> tuple[float, float]:
        """Width and height of a lite of that sash, as daylight [m]."""
        (left, right), (bottom, top) = self.told_by.columns[0], self.told_by.rows[0]
        return right - left, top - bottom

    @property
    def ratio(self) -> float:
        """Its height over its width."""
        width, height = self.lite
        return height / width


def build(making: Making, sizes: Sizes, pattern: Pattern, way: Inward) -> Built:
    """Lay the window out. Raises ``LayoutError`` where the sizes leave no room for the lites."""
    window = _window(making, sizes, pattern, way)
    family = _family(making, sizes, pattern, way)
    layout = lay_out(window, family, making.knowledge)
    thicker = _panes(making, layout)
    if thicker != family.sash.glazing.panes:
        glazing = family.sash.glazing.model_copy(update={"panes": thicker})
        sash = family.sash.model_copy(update={"glazing": glazing})
        family = family.model_copy(update={"sash": sash})
        layout = lay_out(window, family, making.knowledge)
    return Built(sizes, pattern, way, family, window, layout)


def hung_on(
    built: Built, suspension: Suspension, pulley: Pulley, bias: str, knowledge: Knowledge
) -> Built:
    """The same on another cord and pulley, its weights chosen by another habit."""
    hanging = built.family.hanging.model_copy(
        update={"suspension": suspension.key, "pulley": pulley.key, "bias": bias}
    )
    return _redone(built, {"hanging": hanging}, knowledge)


def with_cover(built: Built, height: float, knowledge: Knowledge) -> Built:
    """The same with a hole of this length behind the pocket cover [m]."""
    pocket = built.family.pocket.model_copy(update={"cover_height": height})
    return _redone(built, {"pocket": pocket}, knowledge)


def _redone(built: Built, changes: dict[str, object], knowledge: Knowledge) -> Built:
    family = built.family.model_copy(update=changes)
    return replace(built, family=family, layout=lay_out(built.window, family, knowledge))


def _panes(making: Making, layout: WindowLayout) -> tuple[str, ...]:
    """The tradition's panes; double thick where its single ones would be larger than habit has them."""
    panes = making.tradition.panes
    if panes != ("single-strength",):
        return panes
    for sash in (layout.upper, layout.lower):
        for lite in sash.lites:
            if lite.width > SINGLE_MOST[0] or lite.crown() - lite.bottom > SINGLE_MOST[1]:
                return ("double-strength",)
    return panes


def _family(making: Making, sizes: Sizes, pattern: Pattern, way: Inward) -> spec.Family:
    tradition, pocket = making.tradition, spec.Pocket()
    sash = spec.Sash(
        thickness=sizes["thickness"],
        stile=sizes["stile"],
        top_rail=sizes["top-rail"],
        meeting_rail=sizes["meeting-rail"],
        bottom_rail=sizes["bottom-rail"],
        muntin=sizes["muntin"],
        rabbet_width=sizes["rabbet-width"],
        rabbet_depth=sizes["rabbet-depth"],
        moulding=spec.Moulding(
            shape=tradition.moulding,
            width=sizes["moulding-width"],
            depth=sizes["moulding-depth"],
        ),
        horn=sizes["horn"],
        wood=making.wood,
        lites=pattern.lower,
        glazing=spec.Glazing(panes=tradition.panes),
    )
    frame = _frame(making, sizes)
    inside = frame.wall_thickness - outer_face(sizes)
    lined = _inner_lining(making) if making.box else 0.0
    depth = inside - lined + outer_face(sizes) - sizes["blind-stop"]
    upper = {} if pattern.upper == pattern.lower else {"lites": pattern.upper}
    return spec.Family(
        name=f"{tradition.name}: {pattern.says}",
        sash=sash,
        upper=spec.SashChanges(**upper),
        meeting=spec.Meeting(style=tradition.meeting),
        frame=frame,
        pocket=pocket.model_copy(
            update={
                "across": way.pocket,
                "depth": min(depth, STUD_DEPTH),
                "cover_height": min(pocket.cover_height, way.height / 3),
            }
        ),
        hanging=spec.Hanging(bias=tradition.bias, knot_hole=_knot_hole(way.height)),
    )


def _knot_hole(height: float) -> float:
    """The usual distance from the top of the stile, less in a low window [m]."""
    half_inches = math.floor(height * KNOT_SHARE / inches(0.5))
    return min(spec.Hanging().knot_hole, inches(0.5 * half_inches))


def _inner_lining(making: Making) -> float:
    return float(making.knowledge.find("frame_part", "inside-lining").thickness or 0.0)


def _frame(making: Making, sizes: Sizes) -> spec.Frame:
    usual, masonry = spec.Frame(), making.opening.kind == "masonry"
    casing = sizes["brick-mould"] if masonry else sizes["casing"]
    least = (
        outer_face(sizes) + sizes["thickness"] + sizes["track-play"] + sizes["inside-stop-width"]
    )
    # A box is as deep as its parts ask; the wall behind it is lined by other means.
    wall = least if making.box else max(making.opening.wall or ORDINARY_WALL, least)
    return usual.model_copy(
        update={
            "pulley_stile": sizes["pulley-stile"],
            "parting_bead_thickness": sizes["parting-bead"],
            "parting_bead_projection": sizes["bead-projection"],
            "inside_stop_thickness": sizes["inside-stop"],
            "inside_stop_width": sizes["inside-stop-width"],
            "blind_stop_thickness": sizes["blind-stop"],
            "blind_stop_projection": sizes["blind-projection"],
            "track_play": sizes["track-play"],
            "side_clearance": SIDE,
            "head_clearance": SIDE,
            "sill_slope": sizes.slope,
            "sill_thickness": sizes["sill"],
            "head_thickness": sizes["head"],
            "casing_width": casing,
            "casing_thickness": usual.casing_thickness if casing else 0.0,
            "wall_thickness": wall,
            "storm_rabbet_width": usual.storm_rabbet_width if casing else 0.0,
        }
    )


def _window(making: Making, sizes: Sizes, pattern: Pattern, way: Inward) -> spec.Window:
    place = making.place
    return spec.Window(
        number=place.number,
        family=place.family,
        wall=place.wall,
        storey=place.storey,
        room=place.room,
        width=way.width,
        height=way.height,
        head=way.head,
        meeting_height=_meeting(making, sizes, pattern, way),
        note=_note(making),
    )


def _note(making: Making) -> str:
    """What the window was made for, where the house file has no field for it."""
    opening, words = making.opening, Words(making.system)
    size = f"{words.length(opening.width)} by {words.length(opening.height)}"
    kind = {"rough": "rough opening", "masonry": "masonry opening", "sash": "sash opening"}
    return f"New, {making.tradition.name}; for a {kind[opening.kind]} {size}."


def _meeting(making: Making, sizes: Sizes, pattern: Pattern, way: Inward) -> float | None:
    """Top of the meeting rails where the sash differ in their rows: all lites are to be of one height.

    None where both sash show equal daylight, or where an arch lets the lites differ anyway.
    """
    upper, lower = pattern.upper, pattern.lower
    alike = upper.columns == lower.columns and upper.rows != lower.rows
    if not alike or way.head.shape != "square":
        return None
    rows = upper.rows + lower.rows
    rails = sizes["top-rail"] + sizes["meeting-rail"]
    clear = way.height - SIDE - rails - sizes["bottom-rail"]
    lite = (clear - (rows - 2) * sizes["muntin"]) / rows
    daylight = lower.rows * lite + (lower.rows - 1) * sizes["muntin"]
    step = STEP[making.system]
    meets = sizes["bottom-rail"] + daylight + sizes["meeting-rail"]
    return round(round(meets / step) * step, 9)
