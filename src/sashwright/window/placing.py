"""Laying out a window: from sizes typed in to where everything lies."""

from __future__ import annotations

import math

from sashwright.knowledge.tables import Knowledge
from sashwright.window.bands import Arc
from sashwright.window.contradictions import (
    head_problems,
    inside_storm_problems,
    lite_problems,
    placing_problems,
    section_problems,
)
from sashwright.window.layout import SashLayout, Which, WindowLayout
from sashwright.window.mouldings import (
    frame_problems,
    sash_problems,
    settled_family,
    settled_sash,
)
from sashwright.window.problem import LayoutError
from sashwright.window.profile import Profile, profile
from sashwright.window.spec import Family, Lites, Sash, SashMeasured, Window


def sash_of(window: Window, family: Family, which: Which) -> Sash:
    """The section of one sash of a window: the family's, with the window's own lites."""
    sash = family.upper_sash if which == "upper" else family.lower_sash
    lites: Lites | None = window.upper if which == "upper" else window.lower
    return sash if lites is None else sash.model_copy(update={"lites": lites})


def profile_of(sash: Sash, knowledge: Knowledge) -> Profile:
    """The section of a sash's members along their glazed edge. Raises ``KnowledgeError``."""
    moulding = sash.moulding
    row = knowledge.find("moulding", moulding.shape)
    return profile(
        sash.thickness,
        sash.rabbet_width,
        sash.rabbet_depth,
        moulding.width,
        moulding.depth,
        row.outline,
        true_size=row.unit is not None,
    )


def lay_out(window: Window, family: Family, knowledge: Knowledge) -> WindowLayout:
    """Lay out a window whose family already carries the window's own changes.

    Raises ``LayoutError`` with every contradiction found, and ``KnowledgeError`` for an unknown row.
    """
    upper, lower = sash_of(window, family, "upper"), sash_of(window, family, "lower")
    problems = [
        *sash_problems(upper, "upper", knowledge),
        *sash_problems(lower, "lower", knowledge),
        *sash_problems(family.storm_sash, "storm_sash", knowledge),
        *frame_problems(family.frame, knowledge),
    ]
    if problems:
        raise LayoutError(window.number, problems)
    upper, lower = settled_sash(upper, knowledge), settled_sash(lower, knowledge)
    family = settled_family(family, knowledge)
    problems = [
        *head_problems(window),
        *section_problems(upper, "upper", knowledge),
        *section_problems(lower, "lower", knowledge),
    ]
    if problems:
        raise LayoutError(window.number, problems)
    layout = _place(window, family, upper, lower, knowledge)
    problems = [
        *placing_problems(layout),
        *inside_storm_problems(layout),
        *lite_problems(layout.upper),
        *lite_problems(layout.lower),
    ]
    if problems:
        raise LayoutError(window.number, problems)
    return layout


def _place(
    window: Window, family: Family, upper: Sash, lower: Sash, knowledge: Knowledge
) -> WindowLayout:
    frame, meeting = family.frame, family.meeting
    head_arc = _head_arc(window)
    closing = frame.parting_bead_thickness + frame.track_play - meeting.gap
    check_length = window.width - 2 * (frame.parting_bead_projection + frame.bead_clearance)
    slope = math.tan(math.radians(meeting.bevel))
    meets = _meeting_height(window, family, upper, lower)

    def build(which: Which, sash: Sash, measured: SashMeasured) -> SashLayout:
        outer = which == "upper"
        width = measured.width or window.width - 2 * frame.side_clearance
        arc = None
        if outer:
            bottom = meets - sash.meeting_rail
            top = window.height - frame.head_clearance
            if head_arc is not None:
                # Never narrower than the sash: the sides' clearance rules in a full arch.
                radius = max(head_arc.radius - frame.head_clearance, width / 2)
                arc = Arc(head_arc.centre, radius)
                top = arc.centre + radius
            if measured.height:
                bottom = top - measured.height
        else:
            bottom, top = frame.sill_clearance, meets
            if measured.height:
                top = bottom + measured.height
        share = meeting.lower_share if not outer else 1 - meeting.lower_share
        check = (
            (share * closing, -slope if outer else slope)
            if meeting.style == "check"
            else (0.0, 0.0)
        )
        play = frame.track_play / 2
        face = -frame.parting_bead_thickness - play - sash.thickness if outer else play
        return SashLayout(
            which,
            sash,
            profile_of(sash, knowledge),
            width,
            bottom,
            top,
            face,
            bottom_rail=sash.meeting_rail if outer else sash.bottom_rail,
            top_rail=sash.top_rail if outer else sash.meeting_rail,
            bevel=0.0 if outer else math.tan(math.radians(frame.sill_slope)),
            check=check,
            check_length=check_length if meeting.style == "check" else 0.0,
            arc=arc,
            hung=not outer or window.hung == "double",
        )

    measured = window.measured
    return WindowLayout(
        window,
        family,
        build("upper", upper, measured.upper),
        build("lower", lower, measured.lower),
        head_arc,
    )


def _head_arc(window: Window) -> Arc | None:
    half = window.width / 2
    if window.head.shape == "square":
        return None
    if window.head.shape == "full arch":
        return Arc(window.height - half, half)
    rise = window.head.rise or 0.0
    radius = (half**2 + rise**2) / (2 * rise)
    return Arc(window.height - radius, radius)


def _meeting_height(window: Window, family: Family, upper: Sash, lower: Sash) -> float:
    """Top of the meeting rails: as given, else where both sash show equal daylight (at the crown)."""
    if window.meeting_height is not None:
        return window.meeting_height
    frame = family.frame
    under = window.height - frame.head_clearance - upper.top_rail
    over = frame.sill_clearance + lower.bottom_rail + lower.meeting_rail
    return (under + over) / 2
