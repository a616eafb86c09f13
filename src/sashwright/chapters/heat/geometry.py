"""How much glass, edge and wood a window shows: areas and lengths that heat is reckoned with."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from sashwright.chapters.heat.flows import SectionFlow
from sashwright.window.bands import Arc, Bands
from sashwright.window.cracks import Cracks, cracks_of
from sashwright.window.layout import Lite, SashLayout, Which, WindowLayout
from sashwright.window.parts import FLAT
from sashwright.window.pieces import total
from sashwright.window.resolve import Placed

EDGE_BAND = 0.0635
"""Width of the edge of the glass in the North American convention [m]: 2 1/2 in; ISO 15099, NFRC 100."""
SIDES: tuple[Which, Which] = ("upper", "lower")


@dataclass(frozen=True, slots=True)
class Run:
    """One section along the window: its length, and the edges of glass at it by sash [m]."""

    length: float
    edges: Mapping[Which, float]
    share: float = 1.0
    """Of the section's width that is this window's: half of a mullion."""


@dataclass(frozen=True)
class Geometry:
    """Areas [m2] and runs of one window, seen square on."""

    runs: Mapping[str, Run]
    """By the names of the sections."""
    glass: Mapping[Which, float]
    """Daylight of each sash."""
    edge: Mapping[Which, float]
    """Of that, within ``EDGE_BAND`` of a sight line."""
    opening: float
    """Of the sash opening."""
    heights: Mapping[Which, float]
    """Of the daylight of each sash, muntins included [m]."""
    width: float
    """Of the daylight [m]."""

    @property
    def glass_area(self) -> float:
        return sum(self.glass.values())

    def edge_length(self, which: Which) -> float:
        """Round all lites of a sash [m]."""
        return sum(run.edges.get(which, 0.0) for run in self.runs.values())


def geometry_of(placed: Placed) -> Geometry:
    """Areas and runs of a window and its sash."""
    layout = placed.layout
    cracks = cracks_of(layout)
    return Geometry(
        dict(_runs(placed)),
        {which: _daylight(layout.sash(which)) for which in SIDES},
        {which: sum(map(_edge_area, layout.sash(which).lites)) for which in SIDES},
        cracks.area,
        {which: _height(layout.sash(which)) for which in SIDES},
        max(_span(layout.sash(which)) for which in SIDES),
    )


def frame_area(geometry: Geometry, layout: WindowLayout, flows: Mapping[str, SectionFlow]) -> float:
    """Of all that is not glass, out to the edge of the frame, by the sections' widths [m2]."""
    return window_area(geometry, layout, flows) - geometry.glass_area


def window_area(
    geometry: Geometry, layout: WindowLayout, flows: Mapping[str, SectionFlow]
) -> float:
    """The sash opening, and what of the frame the sections count beyond it [m2]."""
    cracks: Cracks = cracks_of(layout)
    width, height = layout.window.width, layout.head_at_side
    beyond = {name: _beyond(flow) for name, flow in flows.items()}
    sides = _sides(beyond, geometry)
    head, sill = beyond["head"], beyond["sill"]
    strips = height * sum(sides) + cracks.head * head + width * sill
    return cracks.area + strips + (head + sill) * sum(sides)


def _beyond(flow: SectionFlow) -> float:
    """How far a section reaches past the sash opening [m]; half of it for a mullion."""
    return max(flow.width - flow.inside_opening, 0.0)


def _sides(beyond: Mapping[str, float], geometry: Geometry) -> tuple[float, ...]:
    """Past the opening at each of its two sides [m]."""
    jamb = (beyond["jamb_upper"] + beyond["jamb_lower"]) / 2
    shared = [
        (beyond[f"mullion_{which}"]) / 2 for which in SIDES if f"mullion_{which}" in geometry.runs
    ]
    if not shared:
        return jamb, jamb
    mullion = sum(shared) / len(shared)
    both = geometry.runs.get("jamb_upper", Run(0.0, {})).length == 0.0
    return (mullion, mullion) if both else (jamb, mullion)


# --- runs -----------------------------------------------------------------------------


def _runs(placed: Placed) -> Iterator[tuple[str, Run]]:
    layout = placed.layout
    upper, lower = layout.upper, layout.lower
    shared = sum(other is not None for other in (placed.left, placed.right))
    for which in SIDES:
        sash = layout.sash(which)
        side = _side(layout, which)
        edge = sum(_edges(lite)[0] for lite in sash.lites if lite.column == 0)
        yield f"jamb_{which}", Run((2 - shared) * side, {which: (2 - shared) * edge})
        if shared:
            yield f"mullion_{which}", Run(shared * side, {which: shared * edge}, share=0.5)
        bars, along = _muntins(sash)
        if bars:
            yield f"muntin_{which}", Run(bars, {which: along})
    top = [lite for lite in upper.lites if lite.row == len(upper.rows) - 1]
    head = sum(_top(lite) for lite in top)
    yield "head", Run(_over(upper), {"upper": head})
    across = {which: sum(right - left for left, right in layout.sash(which).columns)
              for which in SIDES}  # fmt: skip
    yield "meeting", Run((_span(upper) + _span(lower)) / 2, dict(across))
    yield "sill", Run(_span(lower), {"lower": across["lower"]})


def _side(layout: WindowLayout, which: Which) -> float:
    """Along one jamb, between the rails' sight lines and out to head or sill [m]."""
    meets = (layout.upper.bottom + layout.lower.top) / 2
    return layout.head_at_side - meets if which == "upper" else meets


def _span(sash: SashLayout) -> float:
    left, right, _, _ = sash.daylight
    return right - left


def _height(sash: SashLayout) -> float:
    _, _, bottom, top = sash.daylight
    return top - bottom


def _over(sash: SashLayout) -> float:
    """Along the head between the sight lines of the stiles [m]."""
    arc = sash.inner_arc
    if arc is None:
        return _span(sash)
    left, right, _, _ = sash.daylight
    return _arc_length(arc, left, right)


def _arc_length(arc: Arc, left: float, right: float) -> float:
    first, last = (math.asin(max(-1.0, min(1.0, x / arc.radius))) for x in (left, right))
    return arc.radius * (last - first)


def _edges(lite: Lite) -> tuple[float, float]:
    """Length of the left and of the right edge of a lite [m]."""
    if lite.arc is None:
        return lite.top - lite.bottom, lite.top - lite.bottom
    return lite.arc.height(lite.left) - lite.bottom, lite.arc.height(lite.right) - lite.bottom


def _top(lite: Lite) -> float:
    return lite.width if lite.arc is None else _arc_length(lite.arc, lite.left, lite.right)


def _muntins(sash: SashLayout) -> tuple[float, float]:
    """Length of all bars, and of the edges of glass along them [m]; crossings count once."""
    columns, rows = len(sash.columns), len(sash.rows)
    upright = along = 0.0
    for lite in sash.lites:
        left, right = _edges(lite)
        if lite.column > 0:
            along += left
            upright += left
        if lite.column < columns - 1:
            along += right
        if lite.row > 0:
            along += lite.width
        if lite.row < rows - 1:
            along += _top(lite)
    level = (rows - 1) * _span(sash)
    return upright + level, along


# --- areas ----------------------------------------------------------------------------


def _daylight(sash: SashLayout) -> float:
    """Area within the sight lines of all lites [m2]."""
    return float(total(Bands([lite.band for lite in sash.lites]).solids(FLAT)).volume)


def _edge_area(lite: Lite) -> float:
    """Of a lite that lies within the edge band [m2]; under an arch as of a square one as large."""
    area = float(total(Bands([lite.band]).solids(FLAT)).volume)
    height = area / lite.width
    inner = max(lite.width - 2 * EDGE_BAND, 0.0) * max(height - 2 * EDGE_BAND, 0.0)
    return area - inner


def seen_through(placed: Placed) -> float:
    """Area of the window's glass that is not behind the wood of its exterior storm [m2]."""
    sash = [lite for which in SIDES for lite in placed.layout.sash(which).lites]
    storm = [lite for panel in placed.storm_sash.panels for lite in panel.lites]
    seen = 0.0
    for lite in sash:
        box = lite.width * (lite.top - lite.bottom if lite.arc is None else _box_height(lite))
        open_ = sum(_overlap(lite, other) for other in storm)
        area = float(total(Bands([lite.band]).solids(FLAT)).volume)
        seen += area * min(open_ / box, 1.0)
    return seen


def _box_height(lite: Lite) -> float:
    return lite.crown() - lite.bottom


def _overlap(lite: Lite, other: Lite) -> float:
    """Of the boxes round two lites [m2]."""
    across = min(lite.right, other.right) - max(lite.left, other.left)
    top = min(lite.crown(), other.crown())
    up = top - max(lite.bottom, other.bottom)
    return max(across, 0.0) * max(up, 0.0)
