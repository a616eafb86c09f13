"""The cutting list against printed lumber and glass arithmetic, sums by hand, and the parts chapter."""

from __future__ import annotations

import itertools
import math
from typing import Any

import pytest

from sashwright.chapters.make.chapter import make
from sashwright.chapters.make.curves import segments
from sashwright.chapters.make.cut import CutPart
from sashwright.chapters.make.cutlist import CutList, cut_list
from sashwright.chapters.make.rough import board_feet
from sashwright.chapters.parts import parts
from sashwright.knowledge.load import load
from sashwright.units import INCH
from sashwright.window.check import house_from
from sashwright.window.spec import House

KNOWLEDGE = load()
FOOT = 12 * INCH
BOARD_FOOT_M3 = 2.359737e-3
"""NIST SP 811 (2008), appendix B.8."""
POUND = 0.45359237
THIRTY_SECOND = INCH / 32


def house(family: dict[str, Any] | None = None, **window: Any) -> House:
    document = {
        "name": "by hand",
        "families": {"A": {"storm": "winter", "screen": {"kind": "full"}, **(family or {})}},
        "windows": [{"number": "1", "family": "A", "width": "32", "height": "66", **window}],
    }
    return house_from(document, KNOWLEDGE)


def listed(of: House, *scope: Any, **more: Any) -> CutList:
    return cut_list(of, KNOWLEDGE, scope=scope, **more)


def part(found: CutList, unit: str, name: str) -> CutPart:
    (only,) = (each for each in found.parts if (each.unit, each.name) == (unit, name))
    return only


EVERYTHING = house({"sash": {"lites": "3x2"}, "upper": {"horn": "1 1/2"}})
ALL = ("sash", "storm", "screen", "frame")


# --- lumber -----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("thick", "wide", "long", "printed"),
    [
        # Woodworker's magazine e-tip 4, "Board feet": 1 by 9 by 96 in is 6, at 1 1/2 in thick 9.
        (1.0, 9.0, 96.0, 6.0),
        (1.5, 9.0, 96.0, 9.0),
        # A handbook's page on measuring hardwood boards: 16 in by 8 ft by 2 in is 21.3.
        (2.0, 16.0, 96.0, 21.3),
        # A lumber trade glossary: 10 ft by 12 in by 1 in is 10.
        (1.0, 12.0, 120.0, 10.0),
    ],
)
def test_printed_examples_of_board_feet(
    thick: float, wide: float, long: float, printed: float
) -> None:
    found = board_feet(round(4 * thick), wide * INCH, long * INCH)
    assert found == pytest.approx(printed, abs=0.05)
    if printed != 21.3:
        assert found == pytest.approx(printed, rel=1e-12)


def test_board_feet_are_the_nist_volume() -> None:
    totals = listed(EVERYTHING, *ALL).totals
    assert totals.rough_m3 / totals.board_feet == pytest.approx(BOARD_FOOT_M3, rel=1e-6)


def test_a_sill_by_hand() -> None:
    """32 in opening, casings of 4 1/2 in at its edge, 14 degrees, 1 3/4 in: sizes worked out on paper.

    Long: 32 + 2 x (4 1/2 + 1/16) = 41 1/8; rough 42 1/8. Through the wall: nose 1 1/2 before a casing of
    1 1/8 on a blind stop of 7/8 behind 1 15/16 of bead, play and sash, 5 7/16 out; inner edge 3/4 behind the
    lower sash, 2 3/16 in; 7 5/8 level, 7.858 along the slope; rough 8 1/8. Out of 8/4.
    """
    sill = part(listed(house(), "frame"), "frame", "sill")
    assert sill.length == pytest.approx(41.125 * INCH, abs=1e-9)
    assert sill.width == pytest.approx(7.625 / math.cos(math.radians(14)) * INCH, abs=1e-9)
    assert (sill.rough_length, sill.rough_width) == pytest.approx((42.125 * INCH, 8.125 * INCH))
    assert sill.quarters == 8
    assert sill.board_feet == pytest.approx(2 * 8.125 * 42.125 / 144)


def test_a_pulley_stile_and_its_bead_by_hand() -> None:
    """66 in high on a slope of 14 degrees: the stile's outer edge is 1 15/16 out, the bead's 1/2."""
    found = listed(house(), "frame")
    stile = part(found, "frame", "pulley stile")
    slope = math.tan(math.radians(14))
    assert stile.count == 2
    assert stile.length == pytest.approx((66 + 1.9375 * slope + 2 * 0.375) * INCH, abs=1e-9)
    # Six inches of wall, less 7/8 of blind stop.
    assert stile.width == pytest.approx(5.125 * INCH, abs=1e-9)
    bead = part(found, "frame", "parting bead")
    assert bead.length == pytest.approx((66 + 0.5 * slope) * INCH, abs=1e-9)
    assert bead.width == pytest.approx(0.75 * INCH, abs=1e-9)


def test_lineal_feet_by_hand() -> None:
    """Parting bead: two of 67 1/8 in and one of 33 in, rough: 167 1/4 in, 13.94 feet."""
    (bead,) = (
        run for run in listed(house(), "frame").totals.mouldings if run.profile == "parting bead"
    )
    assert bead.pieces == 3
    assert bead.rough_length / FOOT == pytest.approx((2 * 67.125 + 33) / 12, abs=1e-6)
    assert bead.length < bead.rough_length


def test_sticking_runs_by_hand() -> None:
    """One over one: each sash has two stiles and two rails, stuck on one edge over their rough length."""
    found = listed(house(), "sash")
    (run,) = found.totals.mouldings
    assert run.pieces == 8
    upper, lower = (part(found, f"{which} sash", "stile") for which in ("upper", "lower"))
    rails = 4 * 32.875 * INCH  # 31 7/8 in from edge to edge, and the inch that is cut off
    assert run.rough_length == pytest.approx(
        2 * upper.rough_length + 2 * lower.rough_length + rails
    )


def test_a_scarf_by_hand() -> None:
    """Five inches gone of a 1 3/8 in rail, 2 in beyond, 1 in 6 through 1 3/8, a through tenon of 2 in."""
    rotten = {"on": "lower.bottom_rail", "fault": "decay", "severity": "severe", "length": "5"}
    found = cut_list(house(condition={"found": [rotten]}), KNOWLEDGE)
    (splice,) = (each for each in found.parts if each.unit == "splice")
    assert splice.length == pytest.approx((5 + 2 + 6 * 1.375 + 2) * INCH)
    assert splice.width == pytest.approx(3 * INCH)
    assert splice.joint_ends[0].tenon == pytest.approx(2 * INCH)


# --- glass ------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("rabbet", "over"),
    # Millwork shops' notes on measuring windows: glass over daylight, each way, eastern and western stock.
    [("3/16", 5 / 16), ("1/4", 7 / 16)],
)
def test_glass_over_daylight(rabbet: str, over: float) -> None:
    sash = {
        "rabbet_width": rabbet,
        "glazing": {"clearance": "1/32"},
        "moulding": {"width": "3/16"},
    }
    found = listed(house({"sash": sash}), "sash")
    pane = next(each for each in found.glass if each.unit == "lower sash")
    daylight = 32 - 2 * 1 / 16 - 2 * 2
    assert pane.cut_width / INCH == pytest.approx(daylight + over, abs=1e-9)


def test_united_inches() -> None:
    """Width and height added: 7 and 9 in make 16 (a how-to page on pricing glass and frames)."""
    found = listed(house(), "sash")
    pane = found.glass[0]
    assert pane.united_inches == pytest.approx((pane.cut_width + pane.cut_height) / INCH)
    sized = pane.__class__(
        **{name: getattr(pane, name) for name in pane.__dataclass_fields__}
        | {"cut_width": 7 * INCH, "cut_height": 9 * INCH}
    )
    assert sized.united_inches == pytest.approx(16)


def test_putty_by_the_foot() -> None:
    """Shops reckon 0.05 lb of putty for a foot of a 3/16 by 1/2 in rabbet (from memory)."""
    family = {"sash": {"rabbet_width": "3/16", "rabbet_depth": "1/2"}}
    totals = listed(house(family), "sash").totals
    (putty,) = totals.putty
    by_foot = putty.mass_kg / POUND / (totals.putty_edge_m / FOOT)
    assert by_foot == pytest.approx(0.05, rel=0.25)


def test_points_by_hand() -> None:
    """No further apart than 8 in: 4 on a side of 28 1/4 in, 4 on one of 31 1/2 in."""
    pane = next(p for p in listed(house(), "sash").glass if p.unit == "lower sash")
    wide, high = (math.ceil(side / INCH / 8) for side in (pane.cut_width, pane.cut_height))
    assert (wide, high) == (4, 4)
    assert pane.points == 16


@pytest.mark.parametrize("head", [{"shape": "full arch"}, {"shape": "segmental", "rise": "6"}])
def test_templates_are_true(head: dict[str, str]) -> None:
    """Every point of the arc lies on the circle, and the outline holds the area of the glass's solid."""
    family = {"sash": {"lites": "2x2", "top_rail": "2"}}
    found = listed(house(family, head=head), "sash", "storm")
    arched = [pane for pane in found.glass if pane.arched]
    assert len(arched) >= 3
    for pane in arched:
        template = pane.template
        assert template is not None
        x, y = template.centre
        for at in template.outline[2:]:
            assert math.dist(at, (x, y)) == pytest.approx(template.radius, rel=1e-9)
        assert template.outline[2] == pytest.approx((pane.cut_width, template.right))
        assert template.outline[-1] == pytest.approx((0.0, template.left))
        crown = max(high for _, high in template.outline)
        assert crown == pytest.approx(pane.cut_height, abs=2e-4)
        ring = [*template.outline, template.outline[0]]
        shoelace = sum(a[0] * b[1] - b[0] * a[1] for a, b in itertools.pairwise(ring)) / 2
        # 32 chords of an arc lose less than a thousandth of what lies under it.
        assert shoelace == pytest.approx(pane.area, rel=1e-3)


# --- sums -------------------------------------------------------------------------


def test_totals_are_the_sums_of_the_parts() -> None:
    found = listed(EVERYTHING, *ALL)
    totals = found.totals
    by_hand = sum(
        each.count
        * each.quarters
        / 4
        * (each.rough_width / INCH)
        * (each.rough_length / INCH)
        / 144
        for each in found.parts
    )
    assert totals.board_feet == pytest.approx(by_hand)
    assert totals.board_feet == pytest.approx(sum(row.board_feet for row in totals.lumber))
    assert totals.pieces == sum(each.count for each in found.parts)
    assert totals.finished_m3 < totals.rough_m3
    assert sum(row.count for row in totals.glass) == sum(pane.count for pane in found.glass)


@pytest.mark.parametrize("of", [EVERYTHING, house(head={"shape": "segmental", "rise": "5"})])
def test_the_volume_is_that_of_the_parts_chapter(of: House) -> None:
    (answer,) = parts(of, KNOWLEDGE).windows
    found = listed(of, "sash")
    for which in ("upper", "lower"):
        mine = [each for each in found.parts if each.unit == f"{which} sash"]
        volume = sum(each.finished_volume for each in mine)
        assert volume * 1e6 == pytest.approx(answer.values[which]["wood_cm3"], rel=1e-9)
        putty = sum(p.count * p.putty_volume for p in found.glass if p.unit == f"{which} sash")
        assert putty * 1e6 == pytest.approx(answer.values[which]["putty_cm3"], rel=1e-9)


def test_storm_and_screen_weigh_what_their_solids_weigh() -> None:
    """Volume times density of the listed parts and panes, with putty and paint, is the season's mass."""
    found = listed(EVERYTHING, "storm", "screen")
    for made in found.made:
        wood = sum(p.finished_volume for p in found.parts if p.unit == made.unit)
        glass = sum(p.count * p.area * p.thickness for p in found.glass if p.unit == made.unit)
        assert made.mass_kg is not None
        # Wood Handbook: eastern white pine at 12 % is 390 kg/m3 or so; glass is 2500. Putty, paint, hooks and
        # cloth come on top.
        light = wood * 360 + glass * 2480
        assert light < made.mass_kg < light + wood * 60 + 2.5


def test_the_answer_says_what_the_list_says() -> None:
    found, answer = listed(EVERYTHING, *ALL), make(EVERYTHING, KNOWLEDGE, scope=ALL)
    (window,) = answer.windows
    assert len(window.values["parts"]) == len(found.parts)
    assert answer.values["board_feet"] == pytest.approx(found.totals.board_feet)
    assert window.values["board_feet"] == pytest.approx(found.totals.board_feet)
    told = sum(step.result for step in window.working if step.step.startswith("board feet"))
    assert told == pytest.approx(found.totals.board_feet)


def test_segments_of_an_arch_by_hand() -> None:
    """A half circle of 18 in with a 2 in rail: three segments of 60 degrees.

    Chord of the outer edge: 2 x 18 x sin 30 = 18 in; from its crown to the inner corners: 18 - 16 cos 30.
    """
    found = segments(18 * INCH, 16 * INCH, math.pi)
    assert found.pieces == 3
    assert found.length == pytest.approx(18 * INCH)
    assert found.width == pytest.approx((18 - 16 * math.sqrt(3) / 2) * INCH)
    # A flat arch comes out of one board.
    assert segments(100 * INCH, 98 * INCH, math.radians(20)).pieces == 1


def test_an_arched_frame_has_the_volume_of_its_rings() -> None:
    """Outside casing over a half circle of 16 in, 4 1/2 in wide and 1 1/8 thick."""
    found = listed(house(head={"shape": "full arch"}), "frame")
    head = part(found, "frame", "outside casing, head")
    ring = math.pi / 2 * (20.5**2 - 16**2) * 1.125
    assert head.count == 3
    assert head.finished_volume == pytest.approx(ring * INCH**3, rel=1e-9)
