"""The sections of a window as it hangs in winter, with their pieces, where its drawings show them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sashwright.chapters.heat.cut import Cut, Layer
from sashwright.chapters.heat.cuts import Cutting
from sashwright.chapters.heat.flows import Convention, SectionFlow
from sashwright.chapters.heat.whole import Whole
from sashwright.window.layout import Which, WindowLayout
from sashwright.window.outlines.shape import Point
from sashwright.window.resolve import Placed

ORDER = (
    "head", "jamb_upper", "mullion_upper", "muntin_upper", "meeting", "jamb_lower", "mullion_lower",
    "muntin_lower", "sill",
)  # fmt: skip
"""Sections from the head down."""


@dataclass(frozen=True, slots=True)
class Piece:
    """One cut piece: what it is of, and its outline [m] in the coordinates of the drawing."""

    kind: str
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Pictured:
    """A section ready to be drawn."""

    flow: SectionFlow
    pieces: tuple[Piece, ...]
    upright: bool
    """Depth runs to the right, otherwise up."""
    sights: tuple[float, ...]
    """Where glass begins, along the wall [m]."""
    towards: tuple[int, ...]
    """Which way the glass lies from there: 1 up or to the right, -1 down or to the left."""

    @property
    def coldest(self) -> float:
        """Lowest temperature factor on the room's side [-]."""
        return min(self.flow.factor_glass, self.flow.factor_frame)


def pictured(placed: Placed, convention: Convention = "en") -> dict[str, Pictured]:
    """Sections of a window as it is found in winter, by name, from the head down.

    Raises
    ------
    LayoutError, KnowledgeError
        Where a storm sash cannot be laid out.
    """
    whole = Whole(placed)
    storm = whole.place(whole.choices.builds[whole.choices.as_found])
    flows = whole.flows(storm, convention)
    interior = whole.choices.interior if storm == "interior" else None
    found = {
        cut.name: _pictured(flows[cut.name], cut)
        for cut in Cutting(placed, storm, interior, _no_centre).cuts()
    }
    runs = whole.geometry.runs
    return {name: found[name] for name in ORDER if name in found and runs[name].length > 0}


def _no_centre(
    _: WindowLayout, __: Which, panes: tuple[Layer, ...], ___: int
) -> tuple[tuple[float, ...], tuple[float, float]]:
    """Pieces have no conductances."""
    return (1.0,) * (len(panes) - 1), (0.0, 0.0)


def _pictured(flow: SectionFlow, cut: Cut) -> Pictured:
    way = 1 if cut.upright else cut.side

    def place(points: Sequence[Point]) -> tuple[Point, ...]:
        if cut.upright:
            return tuple((z, s + cut.origin) for z, s in points)
        return tuple((way * (s + cut.origin), z) for z, s in points)

    return Pictured(
        flow,
        tuple(Piece(solid.kind, place(solid.points)) for solid in cut.solids),
        cut.upright,
        tuple(way * (edge.sight + cut.origin) for edge in cut.edges),
        tuple(way * edge.towards for edge in cut.edges),
    )
