"""A window from the room with its inside casing taken off: sash, cords, pulleys, weights, pockets.

What moves stands in groups that carry ``data-moves`` (``upper`` or ``lower``) and ``data-sign``: moved
by sign times how far the sash has gone up (so below zero as the upper sash comes down). Cords carry
``data-cord``, ``data-side`` and ``data-run``: of the run on the sash's side, the end ``y2`` goes with
the sash; of that in the pocket, ``y2`` goes with the weight.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from sashwright import units
from sashwright.chapters.answer import WindowAnswer
from sashwright.drawing.broken import break_line
from sashwright.drawing.dimensions import ROW, figure
from sashwright.drawing.elevation import describe
from sashwright.drawing.frame import Frame, beads
from sashwright.drawing.hardware import hardware
from sashwright.drawing.model import (
    Arc,
    Dimension,
    Drawing,
    Group,
    Item,
    Line,
    Polygon,
    Text,
    drawing,
    mirrored,
    part,
    rectangle,
)
from sashwright.drawing.sash import sash_in_place
from sashwright.drawing.weights import Weight, hanging_of, weight_of
from sashwright.units import INCH
from sashwright.window.layout import Which, WindowLayout
from sashwright.window.outlines.jamb import STUD
from sashwright.window.outlines.mullion import SIDES, Side, mullion_width, neighbour
from sashwright.window.pocket import hang_in
from sashwright.window.resolve import Placed

EYE = 0.75 * INCH
"""Of a weight's length taken up by its eye [m], for drawing only."""
POCKET_COVER_FOOT = 3 * INCH
"""Of the pocket cover above the sill [m]; common practice."""


def opened(
    placed: Placed,
    hang: WindowAnswer | None,
    system: units.System = "us",
    lift: tuple[float, float] = (0.0, 0.0),
) -> Drawing:
    """A window seen from the room with its weights bare.

    Parameters
    ----------
    hang
        The answer of the hang chapter; without weights in it the pockets are drawn empty.
    lift
        How far the upper sash is lowered and the lower sash raised [m].
    """
    view = _Opened(placed, Frame(placed.layout), hang, {"upper": -lift[0], "lower": lift[1]})
    # Built as seen from outside, then turned round.
    items: list[Item] = [mirrored(item) for item in view.items()]
    items.extend(view.figures(system))
    return drawing(
        f"Window {placed.window.number} opened, from inside",
        describe(placed.layout, "inside", system).replace(
            "Elevation of", "The inside casing is taken off to show cords and weights of"
        ),
        items,
        0.1,
        live=True,
    )


@dataclass(frozen=True)
class _Opened:
    placed: Placed
    frame: Frame
    hang: WindowAnswer | None
    up: dict[Which, float]

    @property
    def layout(self) -> WindowLayout:
        return self.placed.layout

    @property
    def half(self) -> float:
        return self.layout.window.width / 2

    @property
    def pocket_floor(self) -> float:
        return self.layout.pocket_floor

    @property
    def box_top(self) -> float:
        """Top of the pulley stiles and of the pocket."""
        return self.frame.edge_height(0.0)

    def weight(self, which: Which) -> Weight | None:
        return weight_of(self.hang, which)

    def pocket_far(self, side: Side) -> float:
        """Far side of the pocket, outward from the opening."""
        beside = neighbour(self.placed, side)
        if beside is None:
            return self.frame.pocket_far
        return mullion_width(self.placed, side) - beside.family.frame.pulley_stile

    # --- from far to near, in coordinates seen from outside ---

    def items(self) -> Iterator[Item]:
        layout, frame = self.layout, self.frame
        yield frame.outline(0.0, 0.0, "void")
        for side, name in SIDES:
            yield from self._box(side, name)
        yield part("frame.head", "head", (self._head(),))
        yield sash_in_place(layout.upper, "inside", self.up["upper"])
        yield part("frame.parting_bead", "parting bead", beads(frame))
        yield sash_in_place(layout.lower, "inside", self.up["lower"])
        yield from self._hardware()
        yield from self._sill()
        for side, name in SIDES:
            for which in ("upper", "lower"):
                yield from self._hung(which, side, name)
            yield self._pulley(side, name)

    def _head(self) -> Polygon:
        frame = self.frame
        thickness = self.layout.family.frame.head_thickness
        return frame.head(0.0, thickness, "outline frame")

    def _hardware(self) -> Iterator[Item]:
        items = tuple(hardware(self.layout, (0.0, 0.0)))
        yield Group(
            items,
            data=(("moves", "lower"), ("sign", "1")),
            shift=(0.0, self.up["lower"]),
        )

    def _sill(self) -> Iterator[Item]:
        frame = self.frame
        family = self.layout.family.frame
        far = self.half + family.pulley_stile
        low = frame.sill_height(frame.blind_in) - frame.sill_drop
        yield part("frame.sill", "sill", (rectangle(-far, low, far, 0.0, "edge frame"),))
        if family.stool_thickness:
            bottom = frame.stool_top - family.stool_thickness
            stool = rectangle(-self.half, bottom, self.half, frame.stool_top, "outline frame")
            yield part("frame.stool", "stool", (stool,))

    def _rect(self, side: Side, u0: float, low: float, u1: float, high: float, pen: str) -> Polygon:
        left, right = sorted((side * (self.half + u0), side * (self.half + u1)))
        return rectangle(left, low, right, high, pen)

    def _box(self, side: Side, name: str) -> Iterator[Group]:
        """Pulley stile, pocket, its floor and what closes it outward."""
        frame, layout = self.frame, self.layout
        edge, far, top = frame.pocket_edge, self.pocket_far(side), self.box_top
        floor = self.pocket_floor
        pocket = self._rect(side, edge, floor, far, top, "edge void")
        block = self._rect(side, edge, floor - 0.02, far, floor, "edge rough")
        yield part(f"frame.pocket.{name}", "weight pocket", (pocket, block))
        outer: list[Item] = []
        if neighbour(self.placed, side) is None:
            outer.append(self._rect(side, far, floor - 0.02, far + STUD, top, "edge rough"))
            x = side * (self.half + far + STUD)
            outer.append(break_line((x, floor - 0.035), (x, top + 0.015)))
        else:
            beside = mullion_width(self.placed, side)
            outer.append(self._rect(side, far, floor - 0.02, beside, top, "outline frame"))
        yield part(f"frame.pocket_back.{name}", "back of the pocket", outer)
        stile = self._rect(side, 0.0, min(floor, 0.0), edge, top, "outline frame")
        yield part(f"frame.pulley_stile.{name}", "pulley stile", (stile,))
        height = layout.family.pocket.cover_height
        if height:
            cover = self._rect(
                side, 0.15 * edge, POCKET_COVER_FOOT, 0.85 * edge, POCKET_COVER_FOOT + height,
                "hidden",
            )  # fmt: skip
            yield part(f"frame.pocket_cover.{name}", "pocket cover", (cover,))

    # --- what moves ---

    def _hung(self, which: Which, side: Side, name: str) -> Iterator[Item]:
        weight = self.weight(which)
        if weight is None:
            return
        up = self.up[which]
        x = side * (self.half + self.frame.pocket_edge + weight.offset)
        near = which == "lower"
        yield from self._ghost(weight, which, x)
        body = _weight(weight, x, "metal" if near else "metal-far")
        yield Group(
            tuple(body),
            f"weight of the {which} sash",
            data=(
                ("part", f"{which}.weight.{name}"), ("moves", which), ("sign", "-1"),
                ("side", name),
            ),
            shift=(0.0, -up),
        )  # fmt: skip
        pen = "cord" if near else "cord-far"
        front = side * (self.half - weight.cord_front)
        runs = (
            ("sash", front, weight.knot + up, "1"),
            ("weight", x, weight.top_closed - EYE * 0.4 - up, "-1"),
        )
        for run, at, end, sign in runs:
            data = (("cord", which), ("side", name), ("run", run), ("sign", sign))
            yield Line((at, weight.pulley), (at, end), pen, data)
        knot = Arc((front, weight.knot), 0.005, "edge solid")
        yield Group(
            (knot,), f"knot of the {which} sash's cord",
            data=(("part", f"{which}.cord.{name}"), ("moves", which), ("sign", "1")),
            shift=(0.0, up),
        )  # fmt: skip

    def _ghost(self, weight: Weight, which: Which, x: float) -> Iterator[Item]:
        """Where the weight hangs at the other end of its travel."""
        shift = weight.top_open - weight.top_closed
        if abs(self.up[which]) > weight.travel / 2:
            shift = 0.0
        ghost = rectangle(
            x - weight.size / 2, weight.bottom_closed, x + weight.size / 2,
            weight.top_closed - EYE, "ghost",
        )  # fmt: skip
        yield Group((ghost,), shift=(0.0, shift), classes="other-end", hidden=True)

    def _pulley(self, side: Side, name: str) -> Group:
        """The wheel that all cords of this side run over, in its mortise."""
        hanging, knowledge = self.layout.family.hanging, self.placed.knowledge
        place = hang_in(
            self.layout, "lower", knowledge.find("pulley", hanging.pulley),
            knowledge.find("suspension", hanging.suspension),
        )  # fmt: skip
        height = place.pulley
        left, right = -place.cord_front, self.frame.pocket_edge + place.offset
        radius = (right - left) / 2
        centre = (side * (self.half + (left + right) / 2), height)
        plate = self._rect(side, -0.003, height - 0.055, 0.0, height + 0.055, "edge metal")
        wheel = (
            Arc(centre, radius, "edge paper"),
            Arc(centre, radius * 0.78, "fine"),
            Arc(centre, radius * 0.16, "edge solid"),
        )
        return part(f"frame.pulley.{name}", "pulley", (plate, *wheel))

    # --- words and figures, as seen from the room ---

    def figures(self, system: units.System) -> Iterator[Item]:
        # Seen from the room the window's right-hand pocket is on the left.
        reach = {side: self.half + self.pocket_far(side) + STUD for side, _ in SIDES}
        yield from self._clearances("upper", -reach[1], -1, system)
        yield from self._clearances("lower", reach[-1], 1, system)
        foot = min(self.pocket_floor, self.frame.sill_height(self.frame.blind_in)) - 0.045
        width = figure(self.layout.window.width, system)
        ends = ((-self.half, foot), (self.half, foot))
        yield Dimension(*ends, "x", -ROW, width, "width of the sash opening")
        yield from self._words(foot, system)

    def _clearances(
        self, which: Which, x: float, sign: int, system: units.System
    ) -> Iterator[Dimension]:
        weight = self.weight(which)
        if weight is None:
            return
        hanging = self.layout.family.hanging
        high = max(weight.top_closed, weight.top_open)
        low = min(weight.bottom_closed, weight.bottom_open)
        rows = (
            (high, weight.pulley, hanging.top_clearance, "from the weight up to its pulley"),
            (weight.floor, low, hanging.bottom_clearance, "from the weight down to the floor"),
        )
        for start, end, least, title in rows:
            short = end - start < least - 1e-6
            pen = "pencil" if short else "dim"
            text = figure(end - start, system) + (" short" if short else "")
            name = f"{which} sash: {title}"
            yield Dimension((x, start), (x, end), "y", sign * ROW, text, name, pen)
        travel = (high - weight.travel, high)
        text = f"travel {figure(weight.travel, system)}"
        name = f"travel of the {which} sash's weight"
        yield Dimension((x, travel[0]), (x, travel[1]), "y", sign * 2 * ROW, text, name)
        if abs(weight.floor) > 1e-6:
            text = figure(abs(weight.floor), system)
            ends = sorted((weight.floor, 0.0))
            name = "pocket floor below the sill"
            yield Dimension((x, ends[0]), (x, ends[1]), "y", sign * 2 * ROW, text, name)

    def _words(self, foot: float, system: units.System) -> Iterator[Text]:
        sides: tuple[tuple[Which, Side], ...] = (("upper", -1), ("lower", 1))
        for which, sign in sides:
            x = sign * (self.half + self.frame.pocket_edge)
            anchor: Literal["start", "end"] = "end" if sign < 0 else "start"
            for row, line in enumerate(self._caption(which, system)):
                missing = self.layout.sash(which).hung and self.weight(which) is None
                pen = "pencil-note" if missing else "note"
                shift = (0.0, -ROW - 5.0 - 3.4 * row)
                yield Text((x, foot), line, pen, size=2.2, anchor=anchor, shift=shift)

    def _caption(self, which: Which, system: units.System) -> tuple[str, ...]:
        values = hanging_of(self.hang, which)
        if not self.layout.sash(which).hung:
            return (f"{which} sash fixed",)
        if values is None:
            return ()
        weight = self.weight(which)
        if weight is None:
            return (f"{which} sash:", "no weight fits")
        mass = units.format_mass(weight.mass, system)
        size = figure(weight.size, system)
        shape = "round" if weight.shape == "round" else "square"
        return (
            f"{which} sash: two weights of {mass}",
            f"{weight.material.replace('-', ' ')}, {shape} {size}, {figure(weight.length, system)} long",
        )


def _weight(weight: Weight, x: float, pen: str) -> Iterator[Item]:
    """A weight hanging at ``x`` with its sash closed; its eye on top."""
    half = weight.size / 2
    top = weight.top_closed - EYE
    yield rectangle(x - half, weight.bottom_closed, x + half, top, f"edge {pen}")
    if weight.shape == "round":
        # Light along the rounded side.
        for share in (-0.45, -0.3):
            at = x + share * weight.size
            yield Line((at, weight.bottom_closed + 0.004), (at, top - 0.004), "light")
    yield Arc((x, weight.top_closed - EYE / 2), EYE / 2, "eye")
