"""The figures of an elevation: opening, sash, meeting rails and glass."""

from __future__ import annotations

from collections.abc import Iterator

from sashwright import units
from sashwright.drawing.frame import Frame
from sashwright.drawing.model import Dimension, Item, Point, Text
from sashwright.drawing.paper import LETTERING, text_width
from sashwright.drawing.sash import View
from sashwright.drawing.twin import beside_reach
from sashwright.units import INCH
from sashwright.window.layout import Lite, SashLayout, WindowLayout
from sashwright.window.outlines.mullion import SIDES, mullion_width, neighbour
from sashwright.window.resolve import Placed

ROW = 7.0
"""From one row of dimensions to the next [paper mm]."""


def figure(metres: float, system: units.System) -> str:
    """A length as drawings letter it: inches with their mark, bare millimetres."""
    return units.format_length(metres, system, marks=system == "us")


def elevation_figures(
    placed: Placed, frame: Frame, side: View, system: units.System, lift: tuple[float, float]
) -> list[Item]:
    layout = frame.layout
    half = layout.window.width / 2
    foot, left, right = _edges(placed, frame, side)
    width = figure(layout.window.width, system)
    legend = Text((0.0, foot), _legend(system), shift=(0.0, -ROW - 5.5), size=2.1)
    return [
        Dimension((-half, foot), (half, foot), "x", -ROW, width, "width of the sash opening"),
        *_heights(frame, left, system),
        *_sash_heights(layout, right, system, lift),
        *_glass_figures(layout, side, system, lift),
        legend,
    ]


def _edges(placed: Placed, frame: Frame, side: View) -> tuple[float, float, float]:
    """Foot, left and right edge of what is drawn, as seen from ``side``."""
    family = frame.layout.family.frame
    half = frame.layout.window.width / 2
    if side == "outside":
        foot = frame.sill_height(frame.sill_nose) - frame.sill_drop
        reach = half + max(frame.casing_far, 0.0)
        beyond = [beside_reach(placed, at) for at, _ in SIDES]
    else:
        foot = min(frame.stool_top - family.stool_thickness, 0.0)
        reach = half + family.inside_casing_width + INCH
        beyond = [
            half + mullion_width(placed, at) if neighbour(placed, at) else 0 for at in (1, -1)
        ]
    return foot, -max(reach, beyond[0]), max(reach, beyond[1])


def _legend(system: units.System) -> str:
    unit = "inches" if system == "us" else "millimetres"
    return f"Figures in the lites are glass sizes, wide × high. All in {unit}."


def _heights(frame: Frame, edge: float, system: units.System) -> Iterator[Dimension]:
    layout = frame.layout
    height, meets, springing = layout.window.height, layout.lower.top, layout.head_at_side
    yield Dimension(
        (edge, 0.0), (edge, meets), "y", -ROW, figure(meets, system),
        "height of the meeting rails above the sill",
    )  # fmt: skip
    if layout.head_arc is not None:
        yield Dimension(
            (edge, meets), (edge, springing), "y", -ROW, figure(springing - meets, system),
            "from the meeting rails to the springing",
        )  # fmt: skip
    yield Dimension(
        (edge, 0.0), (edge, height), "y", -2 * ROW, figure(height, system),
        "height of the sash opening",
    )  # fmt: skip


def _sash_heights(
    layout: WindowLayout, edge: float, system: units.System, lift: tuple[float, float]
) -> Iterator[Dimension]:
    for sash, row, up in ((layout.lower, ROW, lift[1]), (layout.upper, 2 * ROW, -lift[0])):
        low, high = sash.bottom + up, sash.top + up
        yield Dimension(
            (edge, low), (edge, high), "y", row, figure(sash.height, system),
            f"height of the {sash.which} sash",
        )  # fmt: skip


def _glass_figures(
    layout: WindowLayout, side: View, system: units.System, lift: tuple[float, float]
) -> Iterator[Text]:
    """The glass size in the first lite of each size, left to right and from the top."""
    covered = layout.upper.bottom - lift[0]
    for sash, up in ((layout.upper, -lift[0]), (layout.lower, lift[1])):
        seen: set[str] = set()
        sign = 1.0 if side == "outside" else -1.0
        for lite in sorted(sash.lites, key=lambda lite: (-lite.row, sign * lite.left)):
            width, height = glass_size(sash, lite)
            wide, high = figure(width, system), figure(height, system)
            hidden = sash.which == "lower" and lite.top + up > covered + sash.top_rail
            if f"{wide} {high}" in seen or hidden:
                continue
            seen.add(f"{wide} {high}")
            x = sign * (lite.left + lite.right) / 2
            y = (lite.bottom + min(lite.top, lite.crown())) / 2 + up
            yield from _glass_size(lite, (x, y), f"{wide} ×", high)


def _glass_size(lite: Lite, at: Point, wide: str, high: str) -> Iterator[Text]:
    """Width over height: both or neither, so that neither is taken for the other."""
    longest = max(text_width(words, LETTERING) for words in (wide, high))
    for words, lift in ((wide, 0.6), (high, -2.8)):
        room = lite.width * 0.94 * text_width(words, LETTERING) / longest
        yield Text(at, words, "figure", LETTERING, shift=(0.0, lift), room=room)


def glass_size(sash: SashLayout, lite: Lite) -> tuple[float, float]:
    """Cut size of a lite's glass [m]; its height at the crown where it is arched."""
    grown = sash.spec.rabbet_width - sash.spec.glazing.clearance
    return lite.width + 2 * grown, lite.crown(grown) - (lite.bottom - grown)
