"""Clearances of a window, what moves them, and how far wood of each grain moves."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import assume, given

from sashwright.knowledge.load import load
from sashwright.physics.moisture import dimensional_change
from sashwright.window.boards import boards_of, movement, sash_of
from sashwright.window.clearances import Clearance, clearances
from sashwright.window.problem import LayoutError
from sashwright.window.resolve import Placed, place
from sashwright.window.spec import House
from tests.window.strategies import houses

INCH = 0.0254
KNOWLEDGE = load()
HAIR = 1e-12


def placed(family: dict[str, Any] | None = None, **window: Any) -> Placed:
    document = {
        "name": "one",
        "families": {"A": family or {}},
        "windows": [{"number": "1", "family": "A", "width": "32", "height": "62 1/2", **window}],
    }
    house = House.model_validate(document, context={"system": "us"})
    return place(house, "1", KNOWLEDGE)


def gaps(window: Placed) -> dict[str, Clearance]:
    return {each.place: each for each in clearances(window.layout, KNOWLEDGE)}


def closing(each: Clearance, through: str | None = None) -> float:
    """Sum of all that closes a gap, as if all swelled alike."""
    return sum(mover.size for mover in each.movers if through in (None, mover.across))


def test_gaps_are_those_of_the_specification() -> None:
    frame = {
        "side_clearance": "3/32",
        "head_clearance": "1/16",
        "sill_clearance": "1/32",
        "track_play": "1/8",
        "bead_clearance": "1/16",
    }
    found = gaps(placed({"frame": frame, "meeting": {"gap": "3/64"}}))
    assert {name: pytest.approx(each.gap / INCH) for name, each in found.items()} == {
        "upper.sides": 3 / 32,
        "upper.faces": 1 / 8,
        "lower.sides": 3 / 32,
        "lower.faces": 1 / 8,
        "rails": 3 / 32,
        "meeting": 3 / 64,
        "notch": 1 / 16,
    }


def test_a_measured_sash_beats_the_specification() -> None:
    measured = {"lower": {"width": "31 3/4", "height": "32 1/2"}}
    plain, found = gaps(placed()), gaps(placed(measured=measured))
    assert found["lower.sides"].gap == pytest.approx(INCH / 8)
    assert found["upper.sides"].gap == pytest.approx(INCH / 16)
    taller = 32.5 * INCH - placed().layout.lower.height
    assert found["rails"].gap == pytest.approx(plain["rails"].gap - taller)


def test_sides_close_by_one_stile_and_one_pulley_stile() -> None:
    """By hand, white pine, 5 points damper: 2 in x 0.00212 x 5 and 1 1/8 in x 0.00071 x 5."""
    pine = KNOWLEDGE.wood["eastern-white-pine"]
    sides = gaps(placed())["lower.sides"]
    closed = sum(
        dimensional_change(mover.size, movement(pine, "flat", mover.across)[1], 0.08, 0.13)
        for mover in sides.movers
    )
    assert closed == pytest.approx((2 * 0.00212 + 1.125 * 0.00071) * 5 * INCH)
    assert {mover.board for mover in sides.movers} == {"lower.stile", "pulley stile"}


def test_height_is_taken_by_three_rails() -> None:
    family = {"sash": {"top_rail": "2 1/4", "bottom_rail": "4", "meeting_rail": "1 1/4"}}
    rails = gaps(placed(family))["rails"]
    assert {mover.board: mover.size / INCH for mover in rails.movers} == pytest.approx(
        {"upper.rail": 2.25, "lower.rail": 4.0, "lower.meeting rail": 1.25}
    )


@given(houses)
def test_what_swells_through_the_wall_alike_takes_its_gaps_along(house: House) -> None:
    """Were bead, stop, sash and track all to grow by 1 %, so would the play between them."""
    try:
        window = place(house, "1", KNOWLEDGE)
    except LayoutError:
        assume(False)
        raise
    for name, each in gaps(window).items():
        if each.kind in ("faces", "meeting"):
            assert closing(each) == pytest.approx(-each.gap, abs=HAIR), name
        if each.kind == "strip":
            play = window.family.frame.track_play
            assert closing(each) == pytest.approx(play / 2, abs=HAIR)


@given(houses)
def test_every_mover_is_a_board_that_is_followed(house: House) -> None:
    try:
        window = place(house, "1", KNOWLEDGE)
    except LayoutError:
        assume(False)
        raise
    boards = {board.name: board for board in boards_of(window.layout)}
    assert len(boards) == 9
    for each in gaps(window).values():
        assert each.movers
        assert {mover.board for mover in each.movers} <= set(boards)
    for board in boards.values():
        assert board.thickness > 0
        assert board.depth > 0


def test_a_fixed_upper_sash_has_no_gap_to_slide_in() -> None:
    found = gaps(placed(hung="single"))
    assert "upper.sides" not in found
    assert "lower.sides" in found
    assert "rails" in found


def test_plain_meeting_rails_neither_close_nor_pass_the_bead() -> None:
    found = gaps(placed({"meeting": {"style": "plain"}}))
    assert not {"meeting", "notch"} & set(found)


def test_only_a_rib_has_a_groove() -> None:
    assert "lower.strip" not in gaps(placed({"strips": {"sides": "spring-bronze"}}))
    strip = gaps(placed({"strips": {"sides": "interlocking-rib"}}))["lower.strip"]
    # Half of 1/8 less 1/32 in, less half of the play of 1/16.
    assert strip.gap == pytest.approx((3 / 64 - 1 / 32) * INCH)


def test_boards_have_their_faces_and_edges() -> None:
    family = {
        "sash": {"coating": "acrylic-paint", "coats": 2, "coating_state": "failed"},
        "lower": {"coating_state": "primed", "moisture": "9 %"},
        "frame": {"wood": "heart pine", "moisture": 10},
    }
    boards = {board.name: board for board in boards_of(placed(family).layout)}
    stile, rail = boards["lower.stile"], boards["lower.rail"]
    assert stile.outer == stile.inner == rail.edge
    assert stile.outer is not None
    assert (stile.outer.coating, stile.outer.coats, stile.outer.state) == (
        "acrylic-paint",
        2,
        "primed",
    )
    assert stile.edge is not None
    assert stile.edge.state == "bare"
    assert stile.moisture == pytest.approx(0.09)
    assert boards["upper.stile"].outer != stile.outer
    assert boards["upper.meeting rail"].thickness > boards["upper.stile"].thickness
    assert boards["pulley stile"].wood == "heart pine"
    assert boards["inside stop"].outer is None
    assert [sash_of(name) for name in ("upper.rail", "lower.stile", "parting bead")] == [
        "upper",
        "lower",
        None,
    ]


@pytest.mark.parametrize(
    ("grain", "across", "expected"),
    # White pine: C_R 0.00071, C_T 0.00212 (Wood Handbook, table 13-5), their mean 0.001415.
    [
        ("flat", "width", (0.001415, 0.00212, 0.00212)),
        ("flat", "thickness", (0.00071, 0.00071, 0.001415)),
        ("quarter", "width", (0.00071, 0.00071, 0.001415)),
        ("quarter", "thickness", (0.001415, 0.00212, 0.00212)),
        ("mixed", "width", (0.00071, 0.001415, 0.00212)),
        ("mixed", "thickness", (0.00071, 0.001415, 0.00212)),
    ],
)
def test_movement_by_grain(grain: Any, across: Any, expected: tuple[float, float, float]) -> None:
    pine = KNOWLEDGE.wood["eastern-white-pine"]
    assert movement(pine, grain, across) == pytest.approx(expected)
