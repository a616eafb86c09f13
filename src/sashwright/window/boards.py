"""The members of a window whose moisture moves its clearances, and how far each moves."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sashwright.knowledge.tables import Wood
from sashwright.window.layout import SashLayout, Which, WindowLayout
from sashwright.window.spec import CoatingState, Grain

Stands = Literal["in the opening", "between", "in the room"]
"""In which air: a sash between outdoors and room; frame and beads beside it; the stop before it."""
Across = Literal["width", "thickness"]
"""Which way the grain's rings matter: across the board's face, or through it."""

BANDS = ("low", "usual", "high")
"""Where a movement lies between what the grain allows; the order of every band."""


@dataclass(frozen=True, slots=True)
class Coat:
    """What covers a face: a row of the coating table, how many coats, and in what state."""

    coating: str
    coats: int
    state: CoatingState


BARE = Coat("none", 0, "bare")


@dataclass(frozen=True, slots=True)
class Board:
    """A member whose moisture is followed.

    Moisture passes through ``thickness`` from face to face, and from an edge into ``depth`` [m]; a face
    or edge without a coat is closed. ``moisture`` is that at which its sizes hold [-].
    """

    name: str
    wood: str
    grain: Grain
    moisture: float
    stands: Stands
    thickness: float
    depth: float
    outer: Coat | None
    inner: Coat | None
    edge: Coat | None


def boards_of(layout: WindowLayout) -> tuple[Board, ...]:
    """All members that are followed: those of both sash, and the frame's."""
    return (
        *sash_boards(layout.upper),
        *sash_boards(layout.lower),
        *_frame_boards(layout),
    )


def sash_boards(sash: SashLayout) -> tuple[Board, Board, Board]:
    """The stile, the outer rail and the meeting rail of a sash.

    A stile's sliding edge is bare, as good practice has it; a rail's is coated like its faces.
    """
    spec = sash.spec
    coat = Coat(spec.coating, spec.coats, spec.coating_state)

    def member(name: str, thickness: float, depth: float, edge: Coat) -> Board:
        return Board(
            f"{sash.which}.{name}",
            spec.wood,
            spec.grain,
            spec.moisture / 100,
            "in the opening",
            thickness,
            depth,
            coat,
            coat,
            edge,
        )

    outer = sash.top_rail if sash.which == "upper" else sash.bottom_rail
    return (
        member("stile", spec.thickness, spec.stile, BARE),
        member("rail", spec.thickness, outer, coat),
        member("meeting rail", spec.thickness + max(sash.check[0], 0.0), spec.meeting_rail, coat),
    )


def _frame_boards(layout: WindowLayout) -> tuple[Board, Board, Board]:
    frame = layout.family.frame
    coat = Coat(frame.coating, frame.coats, frame.coating_state)
    room = Coat(frame.coating, frame.coats, "painted")

    def member(
        name: str, stands: Stands, thickness: float, outer: Coat | None, inner: Coat
    ) -> Board:
        return Board(
            name,
            frame.wood,
            frame.grain,
            frame.moisture / 100,
            stands,
            thickness,
            thickness,
            outer,
            inner,
            None,
        )

    return (
        # Nobody paints a pulley stile's back.
        member("pulley stile", "between", frame.pulley_stile, BARE, coat),
        member("parting bead", "between", frame.parting_bead_thickness, coat, coat),
        member("inside stop", "in the room", frame.inside_stop_thickness, None, room),
    )


def movement(wood: Wood, grain: Grain, across: Across) -> tuple[float, float, float]:
    """Coefficient of dimensional change for each 1 %: low, usual and high [-].

    Flat-sawn boards have their rings along the face: their width moves tangentially, their thickness
    radially; quarter-sawn ones the other way about. The usual value is the clear case, as the Wood
    Handbook reckons; since few boards are cut so clearly, the band reaches to the mean of both. Mixed
    grain may be either.
    """
    small, large = sorted((wood.movement_radial, wood.movement_tangential))
    mean = (small + large) / 2
    if grain == "mixed":
        return small, mean, large
    tangential = (grain == "flat") == (across == "width")
    return (mean, large, large) if tangential else (small, small, mean)


def sash_of(name: str) -> Which | None:
    """Which sash a board belongs to, by its name; None for the frame's."""
    if name.startswith("upper."):
        return "upper"
    return "lower" if name.startswith("lower.") else None
