"""A sash taken apart into every piece: wood, glass and putty."""

from __future__ import annotations

import math

import numpy as np

from sashwright.knowledge.tables import Knowledge
from sashwright.window.bands import NOTHING, Bands, Solid
from sashwright.window.contradictions import glass_thickness
from sashwright.window.glass import panes_of, putty_nodes
from sashwright.window.layout import SashLayout, WindowLayout
from sashwright.window.members import grooves_of, members_of
from sashwright.window.pieces import SashParts, total
from sashwright.window.profile import Nodes

FLAT = Nodes(np.zeros(1), np.ones(1), np.zeros(1))
"""A slice of unit thickness at the sight line: its volume is an area."""


def take_apart(sash: SashLayout, layout: WindowLayout, knowledge: Knowledge) -> SashParts:
    """Every piece of one sash of a window.

    Raises ``KnowledgeError`` where the specification names a row that no table has.
    """
    return pieces_of(sash, knowledge, grooves_of(sash, layout, knowledge))


def pieces_of(sash: SashLayout, knowledge: Knowledge, grooves: Solid = NOTHING) -> SashParts:
    """Every piece of a sash wherever it hangs, the given grooves cut from each stile."""
    lites = Bands([lite.band for lite in sash.lites])
    panes = panes_of(sash, lites, knowledge)
    glass = glass_thickness(sash.spec, knowledge)
    putty = total(lites.solids(putty_nodes(sash, glass)))
    parts = members_of(sash, grooves)
    daylight = total(lites.solids(FLAT)).volume
    outline = outline_area(sash)
    return SashParts(sash.which, parts, panes, putty, 2 * (outline - daylight))


def outline_area(sash: SashLayout) -> float:
    """Of one face of the sash, horns included."""
    horns = 2 * sum(sash.horns) * sash.spec.stile
    area = sash.width * (sash.stile_top - sash.horns[1] - sash.bottom) + horns
    if sash.arc is not None:
        # Between the chord at the stiles' tops and the arc.
        radius, half = sash.arc.radius, sash.half
        root = math.sqrt(max(radius**2 - half**2, 0.0))
        area += radius**2 * math.asin(min(half / radius, 1.0)) - half * root
    return area
