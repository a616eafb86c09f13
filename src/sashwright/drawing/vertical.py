"""Section from sill to head through the middle of a lite, outside on the left."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sashwright import units
from sashwright.drawing.broken import Stretch, break_line, shown, stretches
from sashwright.drawing.cut import cut_parts, drawn
from sashwright.drawing.dimensions import ROW, figure
from sashwright.drawing.model import (
    Callouts,
    Chain,
    Dimension,
    Drawing,
    Group,
    Item,
    Line,
    Point,
    Text,
    drawing,
    part,
    rectangle,
)
from sashwright.knowledge.tables import Knowledge
from sashwright.units import INCH
from sashwright.window.layout import SashLayout, WindowLayout
from sashwright.window.outlines.frame_edges import FrameEdges
from sashwright.window.outlines.glazed import Glazed, glazed
from sashwright.window.outlines.head_sill import BLIND_STOP_STOCK, HeadAndSill
from sashwright.window.outlines.rails import (
    cross_bar,
    edge_of_lite,
    high_rail,
    low_rail,
    over,
    under,
)
from sashwright.window.resolve import Placed

GLASS_SHOWN = 1.5 * INCH
"""Of the glass next to each rail before it is broken off [m]."""
GAP = 0.6 * INCH
"""Between the stretches of a broken view [m]."""


def vertical_section(
    placed: Placed,
    system: units.System = "us",
    *,
    broken: bool = True,
    labels: bool = True,
) -> Drawing:
    """Head, meeting rails and sill as a saw would show them, at the crown of an arched head.

    Parameters
    ----------
    broken
        Shorten the glass, so that the profiles can be shown large; otherwise the whole height.
    """
    cut = _Cut(placed.layout, FrameEdges(placed.layout), placed.knowledge)
    parts = stretches(cut.spans(), GAP) if broken else [Stretch(cut.foot, cut.crest, 0.0)]
    items: list[Item] = []
    for stretch in parts:
        pieces = tuple(cut.pieces(stretch))
        items.append(Group(pieces, shift=(0.0, -stretch.shift)))
    items.extend(cut.breaks(parts))
    items.extend(cut.figures(parts, system))
    items.extend(cut.sides(parts))
    if labels:
        items.append(cut.callouts(parts))
    return drawing(
        f"Window {placed.window.number}, vertical section",
        "Section through head, upper sash, meeting rails, lower sash and sill, outside on the left"
        + ("; the glass is shortened." if broken else "."),
        items,
        0.5 if broken else 0.125,
    )


@dataclass(frozen=True)
class _Cut:
    """The section of one window, in z (to the right) and y."""

    layout: WindowLayout
    frame: FrameEdges
    knowledge: Knowledge

    # --- what to show ---

    @property
    def foot(self) -> float:
        frame = self.frame
        return frame.sill_height(frame.sill_nose) - frame.sill_drop - 0.5 * INCH

    @property
    def crest(self) -> float:
        frame = self.layout.family.frame
        return self.layout.window.height + max(frame.head_thickness, BLIND_STOP_STOCK) + INCH

    def spans(self) -> Iterator[tuple[float, float]]:
        upper, lower = self.layout.upper, self.layout.lower
        yield self.foot, lower.daylight[2] + GLASS_SHOWN
        yield lower.daylight[3] - GLASS_SHOWN, upper.daylight[2] + GLASS_SHOWN
        yield upper.daylight[3] - GLASS_SHOWN, self.crest
        for sash in (lower, upper):
            # One bar is enough where both sash have the same.
            if len(sash.rows) > 1 and (sash is lower or sash.spec != lower.spec):
                below, above = sash.rows[0], sash.rows[1]
                yield below[1] - GLASS_SHOWN, above[0] + GLASS_SHOWN

    # --- pieces ---

    def pieces(self, stretch: Stretch) -> Iterator[Item]:
        yield from self._beyond(stretch)
        if stretch.holds(self.layout.window.height):
            yield from cut_parts(HeadAndSill(self.layout, self.knowledge).head(stretch.high))
        for sash in (self.layout.upper, self.layout.lower):
            yield from self._sash(sash, stretch)
        if stretch.holds(0.0):
            yield from cut_parts(HeadAndSill(self.layout, self.knowledge).sill(stretch.low))

    def _beyond(self, stretch: Stretch) -> Iterator[Item]:
        """Edges of the jamb and the stiles seen past the cut, in thin lines."""
        frame, family = self.frame, self.layout.family.frame
        height = self.layout.window.height
        edges = {
            z: (frame.sill_height(min(z, frame.sill_inner)), height)
            for z in (
                frame.blind_out, frame.blind_in, -family.parting_bead_thickness, 0.0,
                frame.stop_out, frame.stop_in,
            )
        }  # fmt: skip
        edges[frame.casing_out] = (frame.sill_height(frame.casing_out), self.crest)
        edges[frame.wall_in] = edges[frame.casing_in] = (frame.stool_top, self.crest)
        for sash in (self.layout.upper, self.layout.lower):
            faces = (sash.face, sash.face + sash.profile.nose[1], sash.face + sash.thickness)
            edges |= dict.fromkeys(faces, (sash.daylight[2], sash.daylight[3]))
        for z, (low, high) in edges.items():
            span = stretch.clip(low, high)
            if span:
                yield Line((z, span[0]), (z, span[1]), "fine")

    # --- sash ---

    def _sash(self, sash: SashLayout, stretch: Stretch) -> Iterator[Group]:
        glass = glazed(sash, self.knowledge)
        low, high = sash.daylight[2], sash.daylight[3]
        if stretch.holds(low):
            yield from cut_parts([low_rail(sash)])
        if stretch.holds(high):
            yield from cut_parts([high_rail(sash)])
        for index, (bottom, top) in enumerate(sash.rows):
            # The topmost row runs on to the crown of an arch.
            end = high if index == len(sash.rows) - 1 else top
            yield from self._lite(sash, glass, (bottom, end), stretch)
        for below, above in zip(sash.rows, sash.rows[1:], strict=False):
            if stretch.holds(below[1]):
                yield from cut_parts([cross_bar(sash, below[1], above[0])])

    def _lite(
        self, sash: SashLayout, glass: Glazed, span: tuple[float, float], stretch: Stretch
    ) -> Iterator[Group]:
        """Glass and putty of one lite, as far as the stretch shows them."""
        items: list[Item] = []
        for sight, place in ((span[0], under(sash, span[0])), (span[1], over(sash, span[1]))):
            if stretch.holds(sight):
                items.extend(drawn(piece) for piece in edge_of_lite(sash, glass, place))
        shown_span = stretch.clip(span[0] - glass.lap, span[1] + glass.lap)
        if shown_span:
            bottom, top = shown_span
            for near, far in glass.panes:
                pane = (sash.face + near, bottom, sash.face + far, top)
                items.append(rectangle(*pane, "edge glass"))
        if items:
            yield part(f"{sash.which}.glass", f"glass of the {sash.which} sash", items)

    # --- round the section ---

    def breaks(self, parts: Sequence[Stretch]) -> Iterator[Item]:
        left, right = self.frame.casing_out - 0.012, self.frame.casing_in + 0.012
        for below, above in itertools.pairwise(parts):
            for y in (below.high - below.shift, above.low - above.shift):
                yield break_line((left, y), (right, y))
        top = parts[-1].high - parts[-1].shift
        yield break_line((left, top), (right, top))
        bottom = parts[0].low - parts[0].shift
        yield break_line((self.frame.blind_out - 0.012, bottom), (right, bottom))

    def figures(
        self, parts: Sequence[Stretch], system: units.System
    ) -> Iterator[Dimension | Chain]:
        yield from self._depths(parts, system)
        left = min(self.frame.sill_nose, self.frame.casing_out)
        upper, lower = self.layout.upper, self.layout.lower
        heights = [
            (lower.bottom, lower.daylight[2], "bottom rail"),
            (upper.bottom, upper.daylight[2], "meeting rail of the upper sash"),
            (upper.daylight[3], upper.top, "top rail"),
        ]
        for low, high, name in heights:
            at = (shown(parts, low), shown(parts, high))
            text = figure(high - low, system)
            yield Dimension((left, at[0]), (left, at[1]), "y", -ROW, text, name)
        top = self.layout.window.height
        at = (shown(parts, 0.0), shown(parts, top))
        text = figure(top, system)
        yield Dimension(
            (left, at[0]), (left, at[1]), "y", -2 * ROW, text, "height of the sash opening"
        )

    def _depths(
        self, parts: Sequence[Stretch], system: units.System
    ) -> Iterator[Dimension | Chain]:
        frame, family = self.frame, self.layout.family.frame
        y = parts[0].low - parts[0].shift - 0.008
        marks = [
            (frame.casing_out, "outside casing"),
            (frame.blind_out, "blind stop"),
            (frame.blind_in, "track of the upper sash"),
            (-family.parting_bead_thickness, "parting bead"),
            (0.0, "track of the lower sash"),
            (frame.stop_out, "inside stop"),
            (frame.stop_in, ""),
        ]
        yield Chain(
            tuple(
                Dimension((start, y), (end, y), "x", -ROW, figure(end - start, system), name)
                for (start, name), (end, _) in itertools.pairwise(marks)
                if end - start > 1e-6
            )
        )
        text = figure(frame.wall_in - frame.blind_out, system)
        ends = ((frame.blind_out, y), (frame.wall_in, y))
        # Lower than a row: figures of the chain may stand under their line.
        name = "from the outside casing to the inside casing"
        yield Dimension(*ends, "x", -2.3 * ROW, text, name)

    def sides(self, parts: Sequence[Stretch]) -> Iterator[Text]:
        """Which side is which, in the middle stretch."""
        y = shown(parts, self.layout.upper.daylight[2] + 0.7 * GLASS_SHOWN)
        left, right = self.frame.casing_out, self.frame.casing_in
        yield Text((left, y), "outside", anchor="end", shift=(-2.0, 0.0))
        yield Text((right, y), "inside", anchor="start", shift=(2.0, 0.0))

    def callouts(self, parts: Sequence[Stretch]) -> Callouts:
        frame = self.frame
        notes = [((z, shown(parts, y)), name) for (z, y), name in self._names()]
        return Callouts("right", max(frame.stool_nose, frame.casing_in), 9.0, tuple(notes))

    def _names(self) -> Iterator[tuple[Point, str]]:
        frame, family = self.frame, self.layout.family.frame
        upper, lower = self.layout.upper, self.layout.lower
        height = self.layout.window.height
        yield (frame.blind_in + 0.02, height + family.head_thickness / 2), "head"
        if family.casing_width and family.casing_thickness:
            yield (frame.casing_out + 0.006, height + frame.casing_edge + 0.012), "outside casing"
            yield (frame.blind_out - 0.004, height + frame.casing_edge - 0.004), "storm rabbet"
        middle = (frame.blind_out + frame.blind_in) / 2
        yield (middle, height + frame.blind_edge + 0.006), "blind stop"
        stop = ((frame.stop_out + frame.stop_in) / 2, height + frame.stop_edge / 2)
        yield stop, "inside stop"
        if family.inside_casing_width and family.inside_casing_thickness:
            yield (frame.casing_in - 0.006, height + 0.016), "inside casing"
        yield (_middle(upper), (upper.daylight[3] + upper.top) / 2), "top rail"
        yield (_middle(upper), upper.bottom + upper.bottom_rail * 0.45), "upper meeting rail"
        yield (_middle(lower), lower.top - lower.top_rail * 0.45), "lower meeting rail"
        if len(lower.rows) > 1:
            bars = (lower.rows[0][1] + lower.rows[1][0]) / 2
            yield (_middle(lower), bars), "muntin"
        yield (_middle(lower), lower.daylight[2] - 0.45 * lower.bottom_rail), "bottom rail"
        glass = glazed(lower, self.knowledge)
        pane = sum(glass.panes[-1]) / 2
        yield (lower.face + pane, lower.daylight[2] + 0.6 * GLASS_SHOWN), "glass"
        front = (lower.face + glass.front * 0.55, lower.daylight[2] - glass.rabbet * 0.35)
        yield front, "putty"
        if family.stool_thickness:
            top = frame.stool_top - family.stool_thickness / 2
            yield (frame.casing_in, top), "stool"
        sill = (frame.blind_out, frame.sill_height(frame.blind_out) - frame.sill_drop / 2)
        yield sill, f"sill, {family.sill_slope:g}°"


def _middle(sash: SashLayout) -> float:
    return sash.face + sash.thickness * 0.6
