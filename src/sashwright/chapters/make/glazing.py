"""The glass of a sash or a storm as panes to cut, with putty, points and templates of arched ones."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from sashwright.chapters.make.cut import GlassPart, Template
from sashwright.chapters.make.wood import Maker
from sashwright.knowledge.tables import Knowledge
from sashwright.units import INCH
from sashwright.window.bands import Bands
from sashwright.window.contradictions import glass_thickness
from sashwright.window.glass import panes_of, putty_nodes
from sashwright.window.layout import Lite, SashLayout
from sashwright.window.pieces import Pane

POINT_SPACING = 8 * INCH
"""Between glazing points, at most [m]: 8 to 10 in, Kidder, Building Construction and Superintendence."""
LEAST_POINTS = 2
"""On each side of a pane; common practice."""
ARC_STEPS = 32
"""Pieces that a template's arc is drawn in."""


@dataclass(frozen=True, slots=True)
class Glazed:
    """One lite with what goes into it."""

    lite: Lite
    panes: tuple[Pane, ...]
    """From outside to inside."""
    putty: float
    """[m3]"""


def glazed_lites(panel: SashLayout, knowledge: Knowledge) -> list[Glazed]:
    """Every lite of a sash with its panes and putty."""
    bands = Bands([lite.band for lite in panel.lites])
    panes = panes_of(panel, bands, knowledge)
    nodes = putty_nodes(panel, glass_thickness(panel.spec, knowledge))
    each = len(panel.lites)
    return [
        # Panes come layer by layer from the bed outward.
        Glazed(lite, tuple(reversed(panes[at::each])), solid.volume)
        for at, (lite, solid) in enumerate(zip(panel.lites, bands.solids(nodes), strict=True))
    ]


def unit_glass(maker: Maker, panels: Sequence[SashLayout], knowledge: Knowledge) -> list[GlassPart]:
    """Panes of a sash or a storm of two ``panels``, like ones together."""
    found, below = [], 0
    for panel in panels:
        for each in glazed_lites(panel, knowledge):
            found.append(glass_part(maker, panel, each, below, knowledge))
        below += len(panel.rows)
    return gathered_glass(found)


def glass_part(
    maker: Maker, panel: SashLayout, glazed: Glazed, below: int, knowledge: Knowledge
) -> GlassPart:
    """The pane of one lite; ``below`` are rows of lites in a panel under this one."""
    pane, glazing = glazed.panes[0], panel.spec.glazing
    rows = [knowledge.find("glass", each.glass) for each in glazed.panes]
    template = _template(glazed.lite, pane)
    name = "arched lite" if template else "lite"
    return GlassPart(
        maker.window,
        maker.unit,
        f"sealed unit, {name}" if len(glazed.panes) > 1 else name,
        1,
        pane.width,
        pane.height,
        rows[0].key,
        template is not None,
        template,
        putty_edge(pane),
        points_of(pane),
        maker.mark("GL"),
        (f"{glazed.lite.column + 1}.{glazed.lite.row + 1 + below}",),
        tuple(row.key for row in rows),
        tuple(glazing.coatings),
        pane.solid.volume / pane.thickness,
        pane.thickness,
        glazing.putty,
        glazed.putty,
        glazing.clearance,
        rows[0].kind != "old sheet",
    )


def gathered_glass(parts: Iterable[GlassPart]) -> list[GlassPart]:
    """Panes alike on one line."""
    groups: dict[tuple[object, ...], list[GlassPart]] = {}
    for part in parts:
        edges = part.template and (round(part.template.left, 7), round(part.template.right, 7))
        sizes = (round(part.cut_width, 7), round(part.cut_height, 7), edges)
        key = (part.window, part.unit, part.name, part.panes, part.coatings, *sizes)
        groups.setdefault(key, []).append(part)
    marks: Counter[tuple[str, str]] = Counter()
    found = []
    for group in groups.values():
        first = group[0]
        marks[first.unit, first.mark] += 1
        place = marks[first.unit, first.mark]
        mark = first.mark if place == 1 else f"{first.mark}{place}"
        count = sum(part.count for part in group)
        lites = tuple(lite for part in group for lite in part.lites)
        found.append(replace(first, mark=mark, count=count, lites=lites))
    return found


def sides_of(pane: Pane) -> tuple[float, ...]:
    """Lengths of a pane's edges [m]: foot, right, head or arc, left."""
    if pane.springing is None or pane.radius is None:
        return pane.width, pane.height, pane.width, pane.height
    left, right = pane.springing
    chord = math.hypot(pane.width, right - left)
    arc = 2 * pane.radius * math.asin(min(chord / (2 * pane.radius), 1.0))
    return pane.width, right, arc, left


def putty_edge(pane: Pane) -> float:
    """All round a pane [m]."""
    return sum(sides_of(pane))


def points_of(pane: Pane) -> int:
    """Glazing points of a pane: no further apart than the spacing, and some on every side."""
    return sum(max(LEAST_POINTS, math.ceil(side / POINT_SPACING - 1e-9)) for side in sides_of(pane))


def putty_of(parts: Iterable[GlassPart]) -> float:
    """Volume of putty that panes take [m3]."""
    return sum(part.count * part.putty_volume for part in parts)


def _template(lite: Lite, pane: Pane) -> Template | None:
    if lite.arc is None or pane.springing is None or pane.radius is None:
        return None
    left, right = pane.springing
    grown = pane.radius - lite.arc.radius
    x, y = -(lite.left - grown), lite.arc.centre - (lite.bottom - grown)
    first = math.atan2(right - y, pane.width - x)
    last = math.atan2(left - y, -x)
    arc = [
        (x + pane.radius * math.cos(angle), y + pane.radius * math.sin(angle))
        for angle in (first + (last - first) * step / ARC_STEPS for step in range(ARC_STEPS + 1))
    ]
    outline = ((0.0, 0.0), (pane.width, 0.0), *arc)
    return Template(pane.radius, (x, y), left, right, outline)
