"""Section through the jambs, seen from above with the outside at the foot of the sheet.

Both sash are shown cut, each in its track, as they are when the lower one is raised.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from sashwright import units
from sashwright.chapters.answer import WindowAnswer
from sashwright.drawing.broken import Stretch, break_line, shown, stretches
from sashwright.drawing.cut import cut_parts, drawn
from sashwright.drawing.dimensions import ROW, figure
from sashwright.drawing.jamb import Jamb
from sashwright.drawing.model import (
    Callouts,
    Chain,
    Dimension,
    Drawing,
    Group,
    Item,
    Text,
    drawing,
    part,
    rectangle,
)
from sashwright.units import INCH
from sashwright.window.layout import SashLayout, WindowLayout
from sashwright.window.outlines.frame_edges import FrameEdges
from sashwright.window.outlines.glazed import glazed
from sashwright.window.outlines.jamb import STUD, JambCut, left_of, right_of, upright_bar
from sashwright.window.outlines.mullion import Side, mullion_width, neighbour
from sashwright.window.outlines.rails import edge_of_lite
from sashwright.window.resolve import Placed

GLASS_SHOWN = 1.5 * INCH
GAP = 0.6 * INCH
"""Glass next to each member, and the space between stretches, of a broken view [m]."""
BREAK_PAST = 0.012
"""How far a break line runs past what it breaks off [m]."""


def horizontal_section(
    placed: Placed,
    hang: WindowAnswer | None = None,
    system: units.System = "us",
    *,
    side: Literal["left", "right", "both"] | None = None,
    broken: bool = True,
    labels: bool = True,
) -> Drawing:
    """Jambs, weight pockets and sash as a saw would show them.

    Parameters
    ----------
    hang
        The answer of the hang chapter; without it the pockets are drawn empty.
    side
        Which jamb, seen from outside; both where they differ, unless said otherwise.
    broken
        Shorten the glass, so that the profiles can be shown large.
    """
    sides = _sides(placed, side, broken)
    cut = _Cut(placed, FrameEdges(placed.layout), hang)
    spans = list(cut.spans(sides))
    low, high = min(span[0] for span in spans), max(span[1] for span in spans)
    parts = stretches(spans, GAP) if broken else [Stretch(low, high, 0.0)]
    items: list[Item] = []
    for stretch in parts:
        items.append(Group(tuple(cut.pieces(stretch, sides)), shift=(-stretch.shift, 0.0)))
    items.extend(cut.breaks(parts, sides))
    for at in sides:
        items.extend(cut.figures(parts, at, system))
    items.extend(cut.depths(parts, sides[-1], system))
    if labels:
        items.append(cut.callouts(parts, sides[-1]))
    items.extend(cut.captions(parts))
    return drawing(
        f"Window {placed.window.number}, horizontal section",
        "Section through the jamb with its weight pocket and both sash, seen from above, outside "
        "at the foot" + ("; the glass is shortened." if broken else "."),
        items,
        0.5 if broken else 0.125,
    )


def _sides(
    placed: Placed, side: Literal["left", "right", "both"] | None, broken: bool
) -> tuple[Side, ...]:
    if side is None:
        alike = (placed.left is None) == (placed.right is None)
        side = "right" if alike and broken else "both"
    return {"left": (-1,), "right": (1,), "both": (-1, 1)}[side]  # type: ignore[return-value]


@dataclass(frozen=True)
class _Cut:
    placed: Placed
    frame: FrameEdges
    hang: WindowAnswer | None

    @property
    def layout(self) -> WindowLayout:
        return self.placed.layout

    @property
    def half(self) -> float:
        return self.layout.window.width / 2

    @property
    def sashes(self) -> tuple[SashLayout, SashLayout]:
        return self.layout.upper, self.layout.lower

    # --- what to show ---

    def spans(self, sides: Sequence[Side]) -> Iterator[tuple[float, float]]:
        sight = min(sash.daylight[1] for sash in self.sashes)
        for side in sides:
            ends = sorted((side * (sight - GLASS_SHOWN), side * self.reach(side)))
            yield ends[0], ends[1]
        columns = self.layout.lower.columns
        if len(columns) > 1:
            middle = (len(columns) - 1) // 2
            a, b = columns[middle][1], columns[middle + 1][0]
            yield a - GLASS_SHOWN, b + GLASS_SHOWN

    def reach(self, side: Side) -> float:
        """How far from the middle a jamb is drawn."""
        frame, family = self.frame, self.layout.family.frame
        beside = neighbour(self.placed, side)
        if beside is not None:
            return self.half + mullion_width(self.placed, side) + beside.upper.spec.stile + INCH
        casings = max(frame.casing_far, family.inside_casing_width)
        return self.half + max(casings, frame.pocket_far + STUD) + 0.01

    # --- pieces ---

    def pieces(self, stretch: Stretch, sides: Sequence[Side]) -> Iterator[Item]:
        for side in sides:
            if stretch.holds(side * self.half):
                jamb = Jamb(JambCut(self.placed, side), self.hang, self.reach(side))
                yield from jamb.pieces()
                for sash in self.sashes:
                    yield from cut_parts([jamb.cut.stile(sash)])
                    yield from jamb.cords(sash)
        for sash in self.sashes:
            yield from self._glass(sash, stretch)

    def _glass(self, sash: SashLayout, stretch: Stretch) -> Iterator[Group]:
        glass = glazed(sash, self.placed.knowledge)
        for left, right in sash.columns:
            items: list[Item] = []
            for sight, place in ((left, left_of(sash, left)), (right, right_of(sash, right))):
                if stretch.holds(sight):
                    items.extend(drawn(piece) for piece in edge_of_lite(sash, glass, place))
            span = stretch.clip(left - glass.lap, right + glass.lap)
            if span:
                for near, far in glass.panes:
                    pane = (span[0], sash.face + near, span[1], sash.face + far)
                    items.append(rectangle(*pane, "edge glass"))
            if items:
                yield part(f"{sash.which}.glass", f"glass of the {sash.which} sash", items)
        for a, b in zip(sash.columns, sash.columns[1:], strict=False):
            if stretch.holds(a[1]) and stretch.holds(b[0]):
                yield from cut_parts([upright_bar(sash, a[1], b[0])])

    # --- round the section ---

    def breaks(self, parts: Sequence[Stretch], sides: Sequence[Side]) -> Iterator[Item]:
        low, high = self.frame.blind_out - BREAK_PAST, self.frame.stop_in + BREAK_PAST
        ends = [
            x for below, above in itertools.pairwise(parts)
            for x in (below.high - below.shift, above.low - above.shift)
        ]  # fmt: skip
        if len(sides) == 1:
            ends.append(parts[0].low if sides[0] > 0 else parts[-1].high - parts[-1].shift)
        for x in ends:
            yield break_line((x, low), (x, high))
        for side in sides:
            x = shown(parts, side * self.reach(side))
            yield break_line(
                (x, self.frame.casing_out - BREAK_PAST), (x, self.frame.casing_in + BREAK_PAST)
            )

    def figures(
        self, parts: Sequence[Stretch], side: Side, system: units.System
    ) -> Iterator[Dimension | Chain]:
        frame, family = self.frame, self.layout.family
        beside = neighbour(self.placed, side)

        def at(out: float) -> float:
            return shown(parts, side * (self.half + out))

        def along(y: float, offset: float, start: float, end: float, title: str) -> Dimension:
            text = figure(end - start, system)
            return Dimension((at(start), y), (at(end), y), "x", offset, text, title)

        inside, outside = frame.casing_in + 0.008, frame.casing_out - 0.008
        edge = frame.pocket_edge
        stile = along(inside, ROW, 0.0, edge, "pulley stile")
        if beside is None:
            pocket = along(inside, ROW, edge, frame.pocket_far, "weight pocket, clear across")
            yield Chain((stile, pocket))
        else:
            width = mullion_width(self.placed, side)
            far = width - beside.family.frame.pulley_stile
            pocket = along(inside, ROW, edge, far, "shared weight pocket, clear across")
            yield Chain((stile, pocket))
            yield along(inside, 2 * ROW, 0.0, width, "mullion, pulley stile to pulley stile")
        spec = self.layout.lower.spec
        sight = -family.frame.side_clearance - spec.stile
        yield along(outside, -ROW, sight, -family.frame.side_clearance, "stile of the lower sash")
        if family.frame.casing_width and beside is None:
            far = frame.casing_far
            yield along(outside, -ROW, frame.casing_edge, far, "outside casing")

    def depths(
        self, parts: Sequence[Stretch], side: Side, system: units.System
    ) -> Iterator[Dimension]:
        """Depths through the wall, on the side away from the callouts."""
        frame = self.frame
        x = parts[0].low if side > 0 else parts[-1].high - parts[-1].shift
        rows = [
            (frame.pocket_depths, "weight pocket, clear depth"),
            ((frame.blind_out, frame.wall_in), "from the outside casing to the inside casing"),
        ]
        for row, ((near, far), title) in enumerate(rows, 1):
            text = figure(far - near, system)
            offset = -side * (row * ROW + 3.0)
            yield Dimension((x, near), (x, far), "y", offset, text, title)

    def callouts(self, parts: Sequence[Stretch], side: Side) -> Callouts:
        jamb = Jamb(JambCut(self.placed, side), self.hang, self.reach(side))
        notes = tuple(((shown(parts, x), z), name) for (x, z), name in jamb.names())
        base = shown(parts, side * self.reach(side))
        return Callouts("right" if side > 0 else "left", base, 8.0, notes)

    def captions(self, parts: Sequence[Stretch]) -> Iterator[Text]:
        middle = (parts[0].low - parts[0].shift + parts[-1].high - parts[-1].shift) / 2
        if len(parts) > 1:
            middle = parts[0].high - parts[0].shift + GAP / 2
        frame = self.frame
        near, far = min(frame.casing_out, frame.blind_out - BREAK_PAST), frame.casing_in
        yield Text((middle, far), "inside", shift=(0.0, 2.0))
        yield Text((middle, near), "outside", shift=(0.0, -4.0))
