"""Storm sash and screen of one window: sizes to make, what they weigh, what is wrong with them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from sashwright.chapters.answer import Finding, Step, mm
from sashwright.chapters.parts import glass_rows, wood_rows
from sashwright.chapters.season.handling import Handling
from sashwright.chapters.words import Words
from sashwright.knowledge.tables import Knowledge
from sashwright.units import INCH
from sashwright.window.contradictions import glass_thickness
from sashwright.window.layout import SashLayout, Which
from sashwright.window.resolve import Placed
from sashwright.window.storm import OutsidePiece

LEAST_LAP = INCH / 4
"""Least lap of a piece on the blind stop [m]; judgement."""
LEAST_AIR_SPACE = 0.75 * INCH
"""Between the glass of window and storm [m]; common practice. Beyond about 1 in more gains nothing."""
HAIR = 1e-9


def piece_values(piece: OutsidePiece, handling: Handling) -> dict[str, Any]:
    """Sizes and mass of a storm sash or screen."""
    outline, mass = piece.outline, piece.mass
    middle = piece.panels[0].top if len(piece.panels) > 1 else None
    wood = piece.panels[0].spec.wood
    return {
        "width_mm": mm(piece.width),
        "height_mm": mm(piece.height),
        "thickness_mm": mm(piece.thickness),
        "bottom_mm": mm(outline.bottom),
        "top_mm": mm(outline.top),
        "arc_radius_mm": None if outline.arc is None else mm(outline.arc.radius),
        "side_height_mm": mm(piece.panels[-1].stile_top - outline.bottom),
        "bevel": outline.slope,
        "middle_rail_at_mm": None if middle is None else mm(middle - outline.bottom),
        "lap_mm": mm(piece.rabbet.width - (piece.rabbet.half - outline.half)),
        "parts": list(wood_rows(piece.pieces, mass, wood)),
        "glass": list(glass_rows(piece.pieces.panes)),
        "mass_kg": piece.total,
        "mass_uncertainty_kg": mass.uncertainty,
        "mass_parts_kg": {
            "wood": mass.wood,
            "glass": mass.glass,
            "putty": mass.putty,
            "hardware": mass.hardware,
            "paint": mass.paint,
            "mesh": piece.mesh,
        },
        "top_above_ground_mm": None if handling.top is None else mm(handling.top),
        "reach": handling.reach,
        "people": handling.people,
        "minutes": handling.minutes,
    }


# --- the space between ----------------------------------------------------------------


def air_spaces(placed: Placed) -> dict[Which, float]:
    """Between the glass of the storm and that of each sash [m]."""
    storm = placed.storm_sash
    inner = _glass_faces(storm.panels[0], placed.knowledge)[1]
    sides: tuple[Which, Which] = ("upper", "lower")
    return {
        which: _glass_faces(placed.layout.sash(which), placed.knowledge)[0] - inner
        for which in sides
    }


def _glass_faces(sash: SashLayout, knowledge: Knowledge) -> tuple[float, float]:
    """Depths z of the outer and the inner face of a sash's glass [m]."""
    inner = sash.face + sash.spec.rabbet_depth - sash.spec.glazing.bed
    return inner - glass_thickness(sash.spec, knowledge), inner


# --- findings -------------------------------------------------------------------------


def storm_findings(placed: Placed, words: Words) -> Iterator[Finding]:
    """How the storm sash sits in its rabbet."""
    storm, frame = placed.storm_sash, placed.family.frame
    spec = placed.family.storm_sash
    lap = frame.storm_rabbet_width - spec.clearance
    if lap < LEAST_LAP - HAIR:
        yield Finding(
            "caution",
            "storm",
            f"The storm sash laps the blind stop by only {words.fine(lap)} at each side.",
            f"less than {words.fine(LEAST_LAP)}: it will not close the joint, nor hold if it shrinks",
            "judgement",
        )
    proud = spec.thickness - frame.storm_rabbet_depth
    if proud > HAIR:
        yield Finding(
            "note",
            "storm",
            f"The storm sash stands {words.fine(proud)} proud of its rabbet.",
            f"{words.fine(spec.thickness)} thick in a rabbet {words.fine(frame.storm_rabbet_depth)} deep",
            "geometry of the frame",
        )
    space = min(air_spaces(placed).values())
    if space < LEAST_AIR_SPACE - HAIR:
        yield Finding(
            "note",
            "storm",
            f"Only {words.fine(space)} of air stand between the storm and the window's glass.",
            f"less than {words.fine(LEAST_AIR_SPACE)} insulates noticeably worse",
            "common practice",
        )
    if spec.kind == "wood sash" and spec.weep_holes == 0 and spec.sill_gap <= HAIR:
        yield Finding(
            "caution",
            "storm",
            "Nothing drains the space behind the storm sash: leave a gap at the sill or bore weep holes.",
            "no weep holes and no gap at the sill",
            "common practice: weeps are kept open, never caulked",
        )
    if storm.outline.arc is not None:
        yield Finding(
            "note",
            "storm",
            "The head of the storm sash is curved: take a pattern of the casing before it is sawn.",
            f"radius {words.length(storm.outline.arc.radius)} by the record",
            "common practice",
        )


def screen_findings(placed: Placed, words: Words) -> Iterator[Finding]:
    """What a screen leaves uncovered."""
    if placed.family.screen.kind == "half" and placed.layout.upper.hung:
        yield Finding(
            "note",
            "screen",
            "The half screen covers the lower sash only: with the upper sash lowered, insects come in.",
            "the upper sash is hung",
            "geometry of the window",
        )


# --- working --------------------------------------------------------------------------


def piece_steps(placed: Placed, piece: OutsidePiece) -> Iterator[Step]:
    """How the sizes and the mass come about."""
    frame, spec = placed.family.frame, placed.family.storm_sash
    name = "storm sash" if piece.owner == "storm" else "screen"
    yield Step(
        f"width of the {name}",
        "opening + 2 (rabbet - blind stop) - 2 x clearance",
        {
            "opening_m": placed.window.width,
            "rabbet_m": frame.storm_rabbet_width,
            "blind_stop_m": frame.blind_stop_projection,
            "clearance_m": spec.clearance,
        },
        piece.width,
        "m",
        "geometry of the frame",
    )
    yield Step(
        f"height of the {name}",
        "head of its rabbet - clearance - (z of its weather face x slope of the sill + gap)",
        {
            "top_m": piece.outline.top,
            "z_face_m": piece.outline.face,
            "slope": piece.outline.slope,
            "sill_gap_m": spec.sill_gap,
        },
        piece.height,
        "m",
        "geometry of the frame",
    )
    mass = piece.mass
    yield Step(
        f"mass of the {name}",
        "wood + glass + putty + hardware + paint + cloth, from its solids",
        {
            "wood_kg": mass.wood,
            "glass_kg": mass.glass,
            "putty_kg": mass.putty,
            "hardware_kg": mass.hardware,
            "paint_kg": mass.paint,
            "cloth_kg": piece.mesh,
        },
        piece.total,
        "kg",
        f"densities of the tables; range at two standard deviations: {mass.uncertainty:.2f} kg",
    )
