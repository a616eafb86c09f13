"""A storm sash or a screen seen from outside, to scale, with its mark and the sizes to make it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Literal

from sashwright import units
from sashwright.chapters.answer import WindowAnswer
from sashwright.drawing.dimensions import ROW, figure
from sashwright.drawing.model import (
    Dimension,
    Drawing,
    Item,
    Polygon,
    Text,
    Vertex,
    drawing,
    part,
    rectangle,
)
from sashwright.drawing.sash import bars, high_rail, lite_outline, sash_outline
from sashwright.window.layout import SashLayout
from sashwright.window.resolve import Placed
from sashwright.window.storm import OutsidePiece

Piece = Literal["storm", "screen"]

NAMES: dict[Piece, str] = {"storm": "storm sash", "screen": "screen"}
MARK = 7.0
"""Height of the mark [mm]."""


def storm_elevation(
    placed: Placed,
    answer: WindowAnswer | None = None,
    piece: Piece = "storm",
    system: units.System = "us",
    dimensions: bool = True,
) -> Drawing:
    """The storm sash or the screen of a window.

    Parameters
    ----------
    answer
        The season chapter's answer for the window: its mark, and the mass.

    Raises
    ------
    LayoutError, KnowledgeError
        Where the piece cannot be laid out. A window without a screen is drawn as a note.
    """
    found = placed.storm_sash if piece == "storm" else placed.screen
    title = f"Window {placed.window.number}, {NAMES[piece]}"
    if found is None:
        note = Text((0.0, 0.0), f"no {NAMES[piece]}")
        return drawing(title, "The window has none.", (note,), 0.1)
    values = {} if answer is None else answer.values
    mark = str(values.get("mark") or placed.window.mark or "")
    items = [*_piece(found, piece), *_mark(found, mark)]
    if dimensions:
        items += _figures(found, system)
    return drawing(title, describe(found, piece, values, mark, system), items, 0.1)


def describe(
    found: OutsidePiece, piece: Piece, values: Any, mark: str, system: units.System
) -> str:
    """What the drawing shows, in words."""

    def length(metres: float) -> str:
        return units.format_length(metres, system)

    marked = f", mark {mark}" if mark else ""
    said = f"Elevation of the {NAMES[piece]}{marked}, seen from outside: "
    said += f"{length(found.width)} wide, {length(found.height)} high"
    if found.outline.arc is not None:
        said += f", arched to a radius of {length(found.outline.arc.radius)}"
    if len(found.panels) > 1:
        said += f"; middle of its middle rail {length(_middle(found))} above its foot"
    mass = (values.get(piece) or {}).get("mass_kg")
    return said + (f"; {units.format_mass(mass, system)}." if mass else ".")


# --- what is drawn --------------------------------------------------------------------------------


def _piece(found: OutsidePiece, piece: Piece) -> Iterator[Item]:
    low, high = found.panels[0], found.panels[-1]
    left, right, foot_top, _ = low.daylight
    for name, side in (("left", -1.0), ("right", 1.0)):
        corners = tuple(Vertex(side * x, y) for x, y in _stile(found))
        yield part(f"{piece}.{name}_stile", f"{name} stile", (Polygon(corners, "edge wood"),))
    foot = rectangle(left, found.outline.bottom, right, foot_top, "edge wood")
    yield part(f"{piece}.bottom_rail", "bottom rail", (foot,))
    if len(found.panels) > 1:
        middle = rectangle(left, low.daylight[3], right, high.daylight[2], "edge wood")
        yield part(f"{piece}.middle_rail", "middle rail", (middle,))
    yield part(f"{piece}.top_rail", "top rail", (high_rail(high),))
    for panel in found.panels:
        yield from _opening(panel, piece)
    yield _edge(found)


def _stile(found: OutsidePiece) -> Iterator[tuple[float, float]]:
    """Corners of a stile with x counted outward from the middle."""
    high, bottom = found.panels[-1], found.outline.bottom
    half, sight = high.half, high.half - high.spec.stile
    yield sight, bottom
    yield half, bottom
    yield half, high.top if high.arc is None else high.arc.height(half)
    yield sight, high.top if high.inner_arc is None else high.inner_arc.height(sight)


def _opening(panel: SashLayout, piece: Piece) -> Iterator[Item]:
    """Bars and lites of a panel; of a screen the cloth."""
    if piece == "screen":
        cloth = [lite_outline(lite, 0.0, "edge void") for lite in panel.lites]
        hatched = [Polygon(one.points, one.pen, "metal") for one in cloth]
        yield part("screen.cloth", "insect cloth", hatched)
        return
    for bar in bars(panel):
        yield part("storm.bars", "bar of the storm sash", bar.items)
    for lite in panel.lites:
        items = [lite_outline(lite, panel.spec.rabbet_width, "fine")]
        items.append(lite_outline(lite, 0.0, "edge glass"))
        yield part("storm.lite", "lite of the storm sash", items, "lite")


def _edge(found: OutsidePiece) -> Polygon:
    """The outline of the whole piece, heavier than what is in it."""
    high = found.panels[-1]
    whole = sash_outline(high, "sash-edge")
    points = [
        Vertex(x, found.outline.bottom if index < 2 else y, bulge)
        for index, (x, y, bulge) in enumerate(whole.points)
    ]
    return Polygon(tuple(points), "sash-edge")


def _mark(found: OutsidePiece, mark: str) -> Iterator[Text]:
    left, right, bottom, top = found.panels[0].daylight
    middle = (bottom + top) / 2
    yield Text(
        ((left + right) / 2, middle), mark, "title halo", MARK, shift=(0.0, -0.36 * MARK),
        room=found.width,
    )  # fmt: skip


# --- figures --------------------------------------------------------------------------------------


def _middle(found: OutsidePiece) -> float:
    """Of the middle rail above the foot [m]."""
    return found.panels[0].top - found.outline.bottom


def _figures(found: OutsidePiece, system: units.System) -> Iterator[Item]:
    half, bottom, top = found.width / 2, found.outline.bottom, found.outline.top
    width = figure(found.width, system)
    yield Dimension((-half, bottom), (half, bottom), "x", -ROW, width, "width")
    height = figure(top - bottom, system)
    ends = ((-half, bottom), (-half, top))
    yield Dimension(*ends, "y", -ROW, height, "height, from the low edge of its foot")
    beside = []
    if len(found.panels) > 1:
        beside.append((_middle(found), "to the middle of the middle rail"))
    if found.outline.arc is not None:
        high = found.panels[-1]
        beside.append((found.outline.arc.height(high.half) - bottom, "to the springing"))
    for row, (length, name) in enumerate(beside, 1):
        ends = ((half, bottom), (half, bottom + length))
        yield Dimension(*ends, "y", row * ROW, figure(length, system), name)
    thick = units.format_length(found.thickness, system)
    text = f"{thick} thick, foot bevelled as the sill"
    yield Text((0.0, bottom), text, shift=(0.0, -ROW - 5.5), size=2.4)
