"""Every clearance of a window, and which members close it as they swell.

Wood moves across the grain. A sash grows in width by its two stiles, in height by its rails, through the
wall by its thickness; rails and stiles hardly grow along the grain (0.2 mm over 800 mm for 5 % of
moisture, and the frame along with them), so that is left out. What is counted in full to be on the safe
side: a pulley stile's face moves in by all of its swelling, a rail's edge out by all of its own.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from sashwright.knowledge.tables import Knowledge
from sashwright.window.boards import Across
from sashwright.window.layout import SashLayout, Which, WindowLayout

Kind = Literal["sides", "faces", "rails", "meeting", "notch", "strip"]


@dataclass(frozen=True, slots=True)
class Mover:
    """A member that closes a clearance as it swells, in proportion to ``size`` [m]; below zero it opens."""

    board: str
    across: Across
    size: float


@dataclass(frozen=True, slots=True)
class Clearance:
    """A gap [m], at the moisture contents for which the window's sizes hold, and what moves it."""

    place: str
    kind: Kind
    name: str
    gap: float
    movers: tuple[Mover, ...]


def clearances(layout: WindowLayout, knowledge: Knowledge) -> tuple[Clearance, ...]:
    """The clearances of a window with both sash shut, each sash in the middle of its track.

    ``sides`` is between sash and pulley stile, each side. ``faces`` is the play between the beads or
    stops before and behind a sash. ``rails`` is the play of both sash between head and sill, which leaves
    the meeting rails level where there is none. ``meeting`` is between the closing faces of check rails,
    ``notch`` between the end of a check rail and the parting bead. ``strip`` is between an interlocking
    rib and the wall of its groove with the sash pushed against its bead.
    """
    found: list[Clearance] = []
    sides: tuple[Which, Which] = ("upper", "lower")
    for which in sides:
        if layout.sash(which).hung:
            found += _track(layout, which, knowledge)
    found.append(_rails(layout))
    if layout.family.meeting.style == "check":
        found += [_meeting(layout), _notch(layout)]
    return tuple(found)


def _track(layout: WindowLayout, which: Which, knowledge: Knowledge) -> Iterator[Clearance]:
    sash, frame = layout.sash(which), layout.family.frame
    yield Clearance(
        f"{which}.sides",
        "sides",
        f"{which} sash to each pulley stile",
        (layout.window.width - sash.width) / 2,
        (
            Mover(f"{which}.stile", "width", sash.spec.stile),
            Mover("pulley stile", "thickness", frame.pulley_stile),
        ),
    )
    play = _play(layout, sash)
    yield Clearance(
        f"{which}.faces", "faces", f"play of the {which} sash in its track", frame.track_play, play
    )
    strip = knowledge.find("weatherstrip", layout.family.strips.sides)
    if strip.kind == "interlocking rib" and strip.kerf_width > 0:
        yield Clearance(
            f"{which}.strip",
            "strip",
            f"rib in its groove, {which} sash",
            (strip.kerf_width - strip.thickness) / 2 - frame.track_play / 2,
            _scaled(play, -0.5),
        )


def _play(layout: WindowLayout, sash: SashLayout) -> tuple[Mover, ...]:
    """What takes up the play of a sash in its track.

    Bead and stop are fixed on the pulley stile along their middles; its width between them widens the
    track as it swells. The upper sash's track begins at the outer edge of the pulley stile.
    """
    frame, which = layout.family.frame, sash.which
    bead, track = frame.parting_bead_thickness / 2, sash.thickness + frame.track_play
    stop = frame.inside_stop_width / 2 if which == "lower" else 0.0
    movers = [
        Mover(f"{which}.stile", "thickness", sash.thickness),
        Mover("parting bead", "thickness", bead),
        Mover("pulley stile", "width", -(track + bead + stop)),
    ]
    if stop:
        movers.append(Mover("inside stop", "width", stop))
    return tuple(movers)


def _rails(layout: WindowLayout) -> Clearance:
    upper, lower = layout.upper, layout.lower
    over = layout.window.height - upper.top
    level = upper.bottom + upper.spec.meeting_rail - lower.top
    return Clearance(
        "rails",
        "rails",
        "play of both sash between head and sill",
        over + level + lower.bottom,
        (
            Mover("upper.rail", "width", upper.top_rail),
            Mover("lower.rail", "width", lower.bottom_rail),
            Mover("lower.meeting rail", "width", lower.spec.meeting_rail),
        ),
    )


def _meeting(layout: WindowLayout) -> Clearance:
    """Space between the sash, half of each one's play included, less what thickens the check rails."""
    frame = layout.family.frame
    movers: list[Mover] = [Mover("parting bead", "thickness", -frame.parting_bead_thickness)]
    for sash in (layout.upper, layout.lower):
        movers += _scaled(_play(layout, sash), 0.5)
        movers.append(Mover(f"{sash.which}.meeting rail", "thickness", sash.check[0]))
    return Clearance(
        "meeting", "meeting", "meeting rails", layout.family.meeting.gap, _joined(movers)
    )


def _notch(layout: WindowLayout) -> Clearance:
    frame = layout.family.frame
    return Clearance(
        "notch",
        "notch",
        "meeting rail to each parting bead",
        frame.bead_clearance,
        (
            Mover("pulley stile", "thickness", frame.pulley_stile),
            Mover("parting bead", "width", frame.parting_bead_projection),
        ),
    )


def _scaled(movers: Iterable[Mover], factor: float) -> tuple[Mover, ...]:
    return tuple(Mover(each.board, each.across, factor * each.size) for each in movers)


def _joined(movers: Iterable[Mover]) -> tuple[Mover, ...]:
    """Movers of one board in one direction as one."""
    sizes: dict[tuple[str, Across], float] = {}
    for each in movers:
        key = (each.board, each.across)
        sizes[key] = sizes.get(key, 0.0) + each.size
    return tuple(Mover(board, across, size) for (board, across), size in sizes.items())
