"""Sizes that contradict each other, found before and after a window is laid out."""

from __future__ import annotations

from collections.abc import Iterator

from sashwright.knowledge.tables import Knowledge
from sashwright.window.layout import SashLayout, WindowLayout
from sashwright.window.problem import Problem
from sashwright.window.spec import Sash, Window

LEAST_LITE = 0.020
LEAST_NOSE = 0.003
LEAST_TONGUE = 0.0015
LEAST_FRONT_PUTTY = 0.0015
LEAST_CLEAR = 0.001
"""Smallest sizes that can be made at all [m]; below them the sizes typed in contradict each other."""


def glass_thickness(sash: Sash, knowledge: Knowledge) -> float:
    """Panes and spaces together [m]."""
    glazing = sash.glazing
    panes = sum(knowledge.find("glass", key).thickness for key in glazing.panes)
    return float(panes + sum(glazing.gaps))


def _mm(metres: float) -> str:
    return f"{metres / 0.0254:.3f} in ({metres * 1000:.1f} mm)"


def head_problems(window: Window) -> Iterator[Problem]:
    head, half = window.head, window.width / 2
    if head.shape == "segmental" and (head.rise or 0.0) >= half:
        yield Problem(
            "head.rise",
            _mm(head.rise or 0.0),
            f"less than half the width, {_mm(half)}; or a full arch",
        )
    if head.shape == "full arch" and half >= window.height:
        yield Problem(
            "height", _mm(window.height), f"more than half the width, {_mm(half)}, for a full arch"
        )


def section_problems(sash: Sash, which: str, knowledge: Knowledge) -> Iterator[Problem]:
    moulding, glazing = sash.moulding, sash.glazing
    if len(glazing.gaps) != len(glazing.panes) - 1:
        yield Problem(
            f"{which}.glazing.gaps",
            f"{len(glazing.gaps)} between {len(glazing.panes)} panes",
            f"{len(glazing.panes) - 1}",
        )
    if len(glazing.coatings) > 2 * len(glazing.panes):
        yield Problem(
            f"{which}.glazing.coatings",
            f"{len(glazing.coatings)} for {len(glazing.panes)} panes",
            f"at most {2 * len(glazing.panes)}, one for each face",
        )
    nose = sash.thickness - sash.rabbet_depth - moulding.depth
    if nose < LEAST_NOSE:
        yield Problem(
            f"{which}.rabbet_depth",
            f"{_mm(sash.rabbet_depth)} with a moulding {_mm(moulding.depth)} deep in a sash "
            f"{_mm(sash.thickness)} thick",
            f"at least {_mm(LEAST_NOSE)} left between them",
        )
    room = sash.rabbet_depth - glazing.bed - glass_thickness(sash, knowledge)
    if room < LEAST_FRONT_PUTTY:
        yield Problem(
            f"{which}.glazing",
            f"glass and bed {_mm(sash.rabbet_depth - room)} deep in a rabbet {_mm(sash.rabbet_depth)} deep",
            f"at least {_mm(LEAST_FRONT_PUTTY)} left for the front putty",
        )
    if glazing.clearance >= sash.rabbet_width:
        yield Problem(
            f"{which}.glazing.clearance",
            _mm(glazing.clearance),
            f"less than the rabbet's width, {_mm(sash.rabbet_width)}, so that the glass laps the wood",
        )
    widest = max(sash.rabbet_width, moulding.width)
    for name in ("stile", "top_rail", "meeting_rail", "bottom_rail"):
        if getattr(sash, name) - widest < LEAST_TONGUE:
            yield Problem(
                f"{which}.{name}",
                _mm(getattr(sash, name)),
                f"more than its rabbet and moulding, {_mm(widest)}",
            )
    bars = sash.lites.columns > 1 or sash.lites.rows > 1
    tongue = sash.muntin - 2 * sash.rabbet_width
    if bars and (tongue < LEAST_TONGUE or sash.muntin < 2 * moulding.width):
        yield Problem(
            f"{which}.muntin",
            _mm(sash.muntin),
            f"at least {_mm(max(2 * sash.rabbet_width + LEAST_TONGUE, 2 * moulding.width))} "
            "for its two rabbets and mouldings",
        )


def placing_problems(layout: WindowLayout) -> Iterator[Problem]:
    window, upper, lower = layout.window, layout.upper, layout.lower
    for sash in (upper, lower):
        left, right, bottom, top = sash.daylight
        if right - left < LEAST_LITE:
            yield Problem(
                "width",
                _mm(window.width),
                f"room for two stiles and glass in the {sash.which} sash",
            )
        if top - bottom < LEAST_LITE:
            yield Problem(
                "meeting_height" if window.meeting_height else "height",
                f"{_mm(sash.height)} for the {sash.which} sash",
                "room for its rails and glass",
            )
        if sash.width > window.width:
            yield Problem(
                f"measured.{sash.which}.width",
                _mm(sash.width),
                f"at most the opening, {_mm(window.width)}",
            )
        deepest = abs(sash.check[1]) * sash.spec.meeting_rail / 2 - sash.check[0]
        if deepest > sash.thickness / 4:
            yield Problem(
                "meeting.bevel",
                f"{layout.family.meeting.bevel:g} degrees, cutting {_mm(deepest)} into the {sash.which} rail",
                "less than a quarter of the sash's thickness",
            )
        if sash.check_length < 0:
            yield Problem(
                "frame.parting_bead_projection", "no room between the beads", "a smaller projection"
            )
        if layout.full_travel(sash.which) < -1e-9:
            yield Problem(
                "height",
                f"the {sash.which} sash reaches past the opening",
                "both sash within the opening",
            )
    if upper.arc is not None:
        inner = upper.arc.radius - upper.top_rail
        sight = upper.half - upper.spec.stile
        if inner < sight - 1e-12:
            yield Problem(
                "upper.top_rail",
                _mm(upper.top_rail),
                f"at most {_mm(upper.arc.radius - sight)}, so that the arch meets the stiles",
            )


def inside_storm_problems(layout: WindowLayout) -> Iterator[Problem]:
    """An inside panel must stand clear of the lower sash, and of the room face that it opens from."""
    panel = layout.family.inside_storm
    if panel.kind == "none":
        return
    wood = glass_to_room_face(layout.lower.spec)
    if panel.distance <= wood + LEAST_CLEAR:
        yield Problem(
            "inside_storm.distance",
            _mm(panel.distance),
            f"more than {_mm(wood + LEAST_CLEAR)}, so that the panel stands clear of the lower sash",
        )


def glass_to_room_face(sash: Sash) -> float:
    """From the glass to the room face of its sash [m]."""
    return sash.thickness - sash.rabbet_depth + sash.glazing.bed


def lite_problems(sash: SashLayout) -> Iterator[Problem]:
    if sash.inner_arc is not None and sash.inner_arc.radius < -sash.daylight[0] - 1e-12:
        return
    narrowest = min(right - left for left, right in sash.columns)
    lowest = min(top - bottom for bottom, top in sash.rows)
    if narrowest < LEAST_LITE:
        yield Problem(
            f"{sash.which}.lites",
            f"lites {_mm(narrowest)} wide",
            f"at least {_mm(LEAST_LITE)} of daylight",
        )
    if lowest < LEAST_LITE:
        yield Problem(
            f"{sash.which}.lites",
            f"lites {_mm(lowest)} high (to the springing, if arched)",
            f"at least {_mm(LEAST_LITE)} of daylight",
        )
