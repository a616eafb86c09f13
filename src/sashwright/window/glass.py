"""Glass to cut and putty to lay, lite by lite."""

from __future__ import annotations

import numpy as np

from sashwright.knowledge.tables import Knowledge
from sashwright.window.bands import Bands
from sashwright.window.layout import Lite, SashLayout
from sashwright.window.pieces import Pane
from sashwright.window.profile import LINE_SHARES, LINE_WEIGHTS, Nodes


def _springing(lite: Lite, grown: float) -> tuple[float, float] | None:
    if lite.arc is None:
        return None
    arc = lite.arc._replace(radius=lite.arc.radius + grown)
    low = lite.bottom - grown
    return arc.height(lite.left - grown) - low, arc.height(lite.right + grown) - low


def panes_of(sash: SashLayout, lites: Bands, knowledge: Knowledge) -> tuple[Pane, ...]:
    """Every pane of a sash, cut to clear its rabbet; the innermost layer first."""
    glazing = sash.spec.glazing
    grown = sash.spec.rabbet_width - glazing.clearance
    panes: list[Pane] = []
    back = sash.spec.rabbet_depth - glazing.bed
    # From the bed outward: the last pane of the list is the innermost.
    for key, gap in zip(reversed(glazing.panes), (*reversed(glazing.gaps), 0.0), strict=True):
        thickness = knowledge.find("glass", key).thickness
        nodes = Nodes(np.array([back - thickness / 2]), np.array([thickness]), np.array([grown]))
        for lite, piece in zip(sash.lites, lites.solids(nodes), strict=True):
            panes.append(
                Pane(
                    sash.which,
                    lite.column,
                    lite.row,
                    key,
                    lite.width + 2 * grown,
                    lite.crown(grown) - (lite.bottom - grown),
                    thickness,
                    piece,
                    _springing(lite, grown),
                    None if lite.arc is None else lite.arc.radius + grown,
                )
            )
        back -= thickness + gap
    return tuple(panes)


def putty_nodes(sash: SashLayout, glass: float) -> Nodes:
    """Putty as differences of the lite grown by two insets: bed, edge of the glass, bevelled front."""
    spec = sash.spec
    rabbet, bed = spec.rabbet_width, spec.glazing.bed
    grown = rabbet - spec.glazing.clearance
    back = spec.rabbet_depth - bed
    front = back - glass
    z = front * LINE_SHARES
    w = front * LINE_WEIGHTS
    # The front slopes from the weather face at the rabbet's edge to the sight line at the glass.
    slope = rabbet * (1 - z / front)
    depth = [spec.rabbet_depth - bed / 2] * 2 + [back - glass / 2] * 2 + [*z, *z]
    amount = [bed, -bed, glass, -glass, *w, *-w]
    inset = [rabbet, 0.0, rabbet, grown, *[rabbet] * 3, *slope]
    return Nodes(np.array(depth), np.array(amount), np.array(inset))
