"""Storm sash and screens fill their rabbet, less their clearances, and their pieces make them up."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from sashwright.window.problem import LayoutError
from sashwright.window.resolve import Placed, place
from sashwright.window.spec import House
from sashwright.window.storm import OutsidePiece, screen, storm_sash
from tests.window.strategies import GLASSES, INCH, KNOWLEDGE, house_documents, sixteenths
from tests.window.test_geometry import grown_area

HUNDREDTH_MM = 1e-5
TENTH_GRAM = 1e-4
EPSILON = 1e-9
"""The last bits of a sum of lengths [m]."""


@st.composite
def storm_houses(draw: st.DrawFn) -> House:
    """A random window with a random rabbet, storm sash and screen."""
    document = draw(house_documents())
    family: dict[str, Any] = document["families"]["A"]
    family["frame"] |= {
        "storm_rabbet_width": draw(sixteenths(0.25, 1.5)),
        "storm_rabbet_depth": draw(sixteenths(0.75, 2)),
        "blind_stop_projection": draw(sixteenths(0, 1)),
        "blind_stop_thickness": draw(sixteenths(0.5, 1.25)),
    }
    family["storm"] = "winter"
    family["storm_sash"] = {
        "lites": draw(st.sampled_from(["plain", "meeting rail", "matched"])),
        "stile": draw(sixteenths(1.5, 3)),
        "top_rail": draw(sixteenths(1.5, 3)),
        "middle_rail": draw(sixteenths(1.5, 3)),
        "bottom_rail": draw(sixteenths(2, 5)),
        "clearance": draw(sixteenths(0, 0.125)),
        "sill_gap": draw(sixteenths(0, 0.25)),
        "glazing": {"panes": [draw(st.sampled_from(GLASSES))]},
    }
    family["screen"] = {
        "kind": draw(st.sampled_from(["full", "half"])),
        "middle_rail": draw(st.sampled_from([0.0, 1.5 * INCH])),
    }
    return House.model_validate(document)


def placed(house: House) -> Placed:
    """The only window of a random house; draws whose sizes contradict each other do not count."""
    try:
        return place(house, "1", KNOWLEDGE)
    except LayoutError:
        assume(False)
        raise


def storm_of(window: Placed) -> OutsidePiece:
    try:
        return storm_sash(window.layout, KNOWLEDGE)
    except LayoutError:
        assume(False)
        raise


def pieces_of(window: Placed) -> list[OutsidePiece]:
    try:
        cloth = screen(window.layout, KNOWLEDGE)
    except LayoutError:
        cloth = None
    return [storm_of(window), *([] if cloth is None else [cloth])]


@given(storm_houses())
@settings(max_examples=100)
def test_nothing_overlaps_the_casing(house: House) -> None:
    window = placed(house)
    rabbet = storm_of(window).rabbet
    clearance = window.family.storm_sash.clearance
    for piece in pieces_of(window):
        outline = piece.outline
        # Sides: the casing's edge less the clearance, never beyond.
        assert outline.half <= rabbet.half - clearance + EPSILON
        # Head: at every place across, under the casing's edge.
        for share in (0.0, 0.25, 0.5, 0.75, 1.0):
            x = share * outline.half
            edge = rabbet.top if rabbet.arc is None else rabbet.arc.height(x)
            head = outline.top if outline.arc is None else outline.arc.height(x)
            assert head <= edge + EPSILON
        if outline.arc is not None:
            assert rabbet.arc is not None
            assert outline.arc.radius <= rabbet.arc.radius - clearance + EPSILON
        # Foot: over the sloping sill at every depth.
        for depth in (0.0, 0.5, 1.0):
            z = outline.face + depth * piece.thickness
            foot = outline.bottom + outline.slope * depth * piece.thickness
            assert foot >= rabbet.slope * z - EPSILON


@given(storm_houses())
@settings(max_examples=100)
def test_clearances_and_piece_make_up_the_rabbet(house: House) -> None:
    window = placed(house)
    storm = storm_of(window)
    frame, spec = window.family.frame, window.family.storm_sash
    between = window.window.width + 2 * (frame.storm_rabbet_width - frame.blind_stop_projection)
    assert storm.width + 2 * spec.clearance == pytest.approx(between, abs=HUNDREDTH_MM)
    # Out at the weather face the sill lies lower, by its slope.
    reach = (
        frame.parting_bead_thickness
        + frame.track_play
        + window.layout.upper.thickness
        + frame.blind_stop_thickness
        + spec.thickness
    )
    low = -reach * math.tan(math.radians(frame.sill_slope)) + spec.sill_gap
    high = (
        window.window.height
        + frame.storm_rabbet_width
        - frame.blind_stop_projection
        - spec.clearance
    )
    assert storm.height == pytest.approx(high - low, abs=HUNDREDTH_MM)


@given(storm_houses())
@settings(max_examples=100)
def test_pieces_add_up_to_the_storm(house: House) -> None:
    """A board of the outline, less the lites through the section and the bevel, is all its wood."""
    window = placed(house)
    storm = storm_of(window)
    sash = storm.panels[-1]
    area = storm.width * (sash.stile_top - storm.outline.bottom)
    if sash.arc is not None:
        half, radius = sash.half, sash.arc.radius
        angle = math.asin(min(1.0, half / radius))
        area += radius**2 * angle - half * math.sqrt(max(radius**2 - half**2, 0.0))
    volume = area * storm.thickness - storm.width * storm.outline.slope * storm.thickness**2 / 2
    nodes = sash.profile.nodes
    for weight, inset in zip(nodes.weight, nodes.inset, strict=True):
        void = sum(grown_area(lite, float(inset)) for p in storm.panels for lite in p.lites)
        volume -= float(weight) * void
    density = storm.mass.wood_density
    assert storm.pieces.wood.volume * density == pytest.approx(volume * density, abs=TENTH_GRAM)


@given(storm_houses())
@settings(max_examples=100)
def test_the_middle_rail_stands_before_the_meeting_rails(house: House) -> None:
    window = placed(house)
    storm = storm_of(window)
    spec = window.family.storm_sash
    lite_counts = [len(panel.lites) for panel in storm.panels]
    if spec.lites == "plain":
        assert lite_counts == [1]
        return
    low, high = storm.panels
    upper = window.layout.upper
    assert low.top == high.bottom
    assert low.top == pytest.approx(upper.bottom + upper.bottom_rail / 2, abs=HUNDREDTH_MM)
    assert low.daylight[3] + spec.middle_rail == pytest.approx(high.daylight[2], abs=HUNDREDTH_MM)
    (middle,) = [part for part in storm.pieces.parts if part.name == "middle rail"]
    assert middle.width == pytest.approx(spec.middle_rail, abs=HUNDREDTH_MM)
    assert middle.length == pytest.approx(storm.width, abs=HUNDREDTH_MM)
    matched = [len(window.layout.sash(which).lites) for which in ("lower", "upper")]
    assert lite_counts == (matched if spec.lites == "matched" else [1, 1])
    # Every pane has a place of its own.
    places = [(pane.column, pane.row) for pane in storm.pieces.panes]
    assert len(set(places)) == len(places) == sum(lite_counts)
    assert storm.pieces.layers == 1


@given(storm_houses())
@settings(max_examples=100)
def test_masses_are_sums(house: House) -> None:
    window = placed(house)
    for piece in pieces_of(window):
        assert {part.sash for part in piece.pieces.parts} == {piece.owner}
        assert piece.total == piece.mass.total + piece.mesh
        assert (piece.mesh > 0) == (piece.owner == "screen")
        assert (piece.mass.glass > 0) == (piece.owner == "storm")
        x, y, z = piece.mass.centre
        assert abs(x) < piece.width / 2
        assert piece.outline.bottom < y < piece.outline.top
        assert 0 < z < piece.thickness


# --- by hand --------------------------------------------------------------------------


def piece(kind: str, width: str = "32", **family: Any) -> OutsidePiece:
    document = {
        "name": "by hand",
        "families": {"A": family},
        "windows": [{"number": "1", "family": "A", "width": width, "height": "66"}],
    }
    window = place(House.model_validate(document, context={"system": "us"}), "1", KNOWLEDGE)
    found = window.storm_sash if kind == "storm" else window.screen
    assert found is not None
    return found


def test_a_plain_storm_by_hand() -> None:
    """32 by 66 in, rabbet flush with the opening: 31 7/8 in wide.

    The weather face stands 1/2 + 1/16 + 1 3/8 + 7/8 + 1 1/8 = 3 15/16 in out, where the sill of 14
    degrees is 0.982 in lower; 1/8 in of gap. So 66 - 1/16 + 0.982 - 0.125 = 66.794 in high.
    """
    storm = piece("storm", storm_sash={"lites": "plain"})
    assert storm.width / INCH == pytest.approx(31.875, abs=1e-9)
    assert storm.height / INCH == pytest.approx(66.794, abs=5e-4)
    names = [part.name for part in storm.pieces.parts]
    assert names == ["left stile", "right stile", "bottom rail", "top rail"]
    (pane,) = storm.pieces.panes
    # Daylight 27 3/8 by 60.544 in; the glass laps 1/4 - 1/16 on every side.
    assert pane.width / INCH == pytest.approx(27.375 + 0.375, abs=1e-9)
    assert pane.height / INCH == pytest.approx(66.794 - 6.25 + 0.375, abs=5e-4)
    # 27.75 x 60.919 in of single strength, 5.913 kg/m2.
    assert storm.mass.glass == pytest.approx(27.75 * 60.919 * INCH**2 * 5.913, rel=1e-4)
    # A pair of hangers of 60 g and two hooks of 40 g.
    assert storm.mass.hardware == pytest.approx(0.2, abs=1e-12)


def test_a_half_screen_by_hand() -> None:
    """Closes at the top of the meeting rails; daylight cloth only."""
    half = piece("screen", screen={"kind": "half", "mesh": "bronze-18x14"})
    full = piece("screen", screen={"kind": "full", "middle_rail": "0"})
    meets = half.rabbet.layout.lower.top
    assert half.outline.top == meets
    assert full.height > half.height
    light = (half.width - 4 * INCH) * (half.height - 5 * INCH)
    assert half.mesh == pytest.approx(light * 0.680, rel=1e-9)
    area = half.width * half.height - light
    bevel = half.width * half.outline.slope * half.thickness**2 / 2
    assert half.pieces.wood.volume == pytest.approx(area * half.thickness - bevel, rel=1e-12)


def test_no_screen_where_the_family_has_none() -> None:
    document = {
        "name": "bare",
        "families": {"A": {}},
        "windows": [{"number": "1", "family": "A", "width": 0.8, "height": 1.6}],
    }
    window = place(House.model_validate(document), "1", KNOWLEDGE)
    assert window.screen is None


@pytest.mark.parametrize(
    ("family", "field", "found"),
    [
        ({"frame": {"storm_rabbet_width": "0"}}, "frame.storm_rabbet_width", "no rabbet"),
        (
            {"frame": {"storm_rabbet_width": "1/16"}, "storm_sash": {"clearance": "1/8"}},
            "storm_sash.clearance",
            "3.2 mm",
        ),
        ({"storm_sash": {"rabbet_depth": "1"}}, "storm_sash.rabbet_depth", "1.000 in"),
        ({"storm_sash": {"stile": "8"}}, "storm_sash.stile", "a light -"),
    ],
)
def test_contradictions_say_what_is_wrong(family: dict[str, Any], field: str, found: str) -> None:
    with pytest.raises(LayoutError) as refused:
        piece("storm", width="15", **family)
    problem = next(p for p in refused.value.problems if p.field == field)
    assert problem.found.startswith(found)
    assert problem.expected
