"""What holds the window in its frame: loads to compare with what screws, nails and locks are made for.

A check list. What old wood holds a nail by, or a lock is rated for, stands in no table here.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from sashwright.chapters.grade.meeting import Pair
from sashwright.window.layout import SashLayout, WindowLayout
from sashwright.window.resolve import Placed

FASTENERS = 0.30
"""From one screw or nail of a stop to the next [m]: about a foot, common practice."""


def fixings_of(placed: Placed, pair: Pair, pressure: float) -> Iterator[dict[str, Any]]:
    """Each thing that holds a sash, with its load under a pressure [Pa]: N to the metre, or N each.

    Inward the lower sash leans on the inside stops and the upper on the parting beads; outward the lower on
    the parting beads and the upper on the blind stops.
    """
    layout = placed.layout
    for on, does, sash in (
        ("frame.inside_stop", "the inside stops, screwed or nailed to the pulley stiles", layout.lower),
        ("frame.parting_bead", "the parting beads in their grooves", _wider(layout)),
        ("frame.blind_stop", "the blind stops, nailed to the pulley stiles", layout.upper),
    ):  # fmt: skip
        line = pressure * sash.width / 2
        yield {
            "on": on,
            "holds": does,
            "at_pa": pressure,
            "line_n_m": line,
            "each_n": line * FASTENERS,
            "apart_m": FASTENERS,
        }
    yield {
        "on": "upper.meeting_rail",
        "holds": "the sash lock between the meeting rails" if pair.together else "no sash lock",
        "at_pa": pressure,
        "line_n_m": None,
        "each_n": pressure * pair.lock_force() if pair.together else None,
        "apart_m": None,
    }
    spec = placed.family.storm_sash
    if placed.family.storm != "none" and spec.kind == "wood sash":
        held = layout.window.width * layout.window.height * pressure
        count = 2 + spec.hook_count
        yield {
            "on": "storm.hangers",
            "holds": f"the storm's hangers and hooks, {count} in all, pulled outward",
            "at_pa": pressure,
            "line_n_m": None,
            "each_n": held / count,
            "apart_m": None,
        }


def _wider(layout: WindowLayout) -> SashLayout:
    return max((layout.upper, layout.lower), key=lambda sash: sash.width)
