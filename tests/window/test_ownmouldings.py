"""A house's own mouldings: read, checked, used by name, and reckoned in their true size."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

import pytest
from pydantic import ValidationError
from shapely import Polygon
from shapely.geometry import box

from sashwright.chapters.parts import parts
from sashwright.knowledge import curves
from sashwright.knowledge.load import load
from sashwright.units import INCH
from sashwright.window.check import HouseError, house_from
from sashwright.window.mouldings import strip_section, true_outline, with_own
from sashwright.window.ownmouldings import OwnMoulding, outline_from
from sashwright.window.resolve import place
from sashwright.window.spec import House
from tests.factories import house_document, window_document

KNOWLEDGE = load()
US = {"system": "us"}

OVOLO = ["0, 0", "0, 1/32", "1/2, 17/32 round 1/2", "5/8, 17/32"]
TONGUE = [
    "0 mm, 0 mm",
    "0 mm, 1 mm",
    "6 mm, 4 mm through 2.2 mm, 3.2 mm",
    "14 mm, 7 mm round 20 mm",
]
STOP = ["0, 0", "1 1/8, 0", "1 1/8, 1/4", "7/8, 1/2 round 1/4", "0, 1/2"]
BRICK = [
    "0, 0", "2, 0", "2, 3/4", "1 3/4, 1 round 1/4", "1 1/2, 1", "1 1/8, 5/8 hollow 3/8", "3/8, 5/8",
    "3/8, 1 1/8", "0, 1 1/8",
]  # fmt: skip


def moulding(outline: list[str], kind: str = "sticking") -> OwnMoulding:
    return OwnMoulding.model_validate({"kind": kind, "outline": outline}, context=US)


def house(**families: Mapping[str, Any]) -> House:
    document = house_document(
        mouldings={
            "parlor": {"name": "Parlor ovolo", "outline": OVOLO},
            "stop": {"kind": "running", "outline": STOP},
            "brick": {"kind": "running", "outline": BRICK},
        },
        families={"A": {"sash": {"thickness": "1 3/4", "stile": "2 1/4", "muntin": "1 1/8",
                                 "moulding": {"shape": "parlor"}}, **families}},
        windows=[window_document()],
    )  # fmt: skip
    return house_from(document, KNOWLEDGE)


# --- reading ------------------------------------------------------------------------------


def test_arcs_by_radius_and_through_a_point() -> None:
    ovolo = moulding(OVOLO)
    assert ovolo.points[1][2] == pytest.approx(math.tan(math.pi / 8))
    assert ovolo.points[2][:2] == pytest.approx((0.5 * INCH, 17 / 32 * INCH))
    hollow = moulding(["0, 0", "1/2, 1/2 hollow 1/2"])
    assert hollow.points[0][2] == pytest.approx(-math.tan(math.pi / 8))
    through = moulding(["0, 0", "1, 1 through 0.2928932188134524, 0.7071067811865476"])
    assert through.points[0][2] == pytest.approx(-math.tan(math.pi / 8))


def test_a_section_may_be_written_either_way_round() -> None:
    one = moulding(BRICK, "running").points
    other = moulding(
        ["0, 0", "0, 1 1/8", "3/8, 1 1/8", "3/8, 5/8", "1 1/8, 5/8", "1 1/2, 1 hollow 3/8", "1 3/4, 1",
         "2, 3/4 round 1/4", "2, 0"], "running",
    ).points  # fmt: skip
    assert curves.enclosed(one) > 0
    assert curves.enclosed(other) == pytest.approx(curves.enclosed(one))
    assert {(round(x, 9), round(y, 9), round(b, 9)) for x, y, b in one} == {
        (round(x, 9), round(y, 9), round(b, 9)) for x, y, b in other
    }


def test_what_is_written_reads_back_the_same() -> None:
    for outline, kind in ((OVOLO, "sticking"), (TONGUE, "sticking"), (BRICK, "running")):
        made = moulding(outline, kind)
        for system in ("us", "metric"):
            text = made.model_dump(mode="json", context={"system": system})
            assert all(isinstance(corner, str) for corner in text["outline"])
            assert OwnMoulding.model_validate(text) == made
        again = OwnMoulding(
            kind=made.kind, outline=outline_from(made.points, closed=kind == "running")
        )
        for one, other in zip(again.points, made.points, strict=True):
            assert one == pytest.approx(other, abs=1e-12)


@pytest.mark.parametrize(
    ("outline", "kind", "says"),
    [
        (["0, 1/8", "1/2, 1/2"], "sticking", "starts elsewhere"),
        (["0, 0", "1/2, 1/4", "1/4, 1/2"], "sticking", "runs back toward the nose"),
        (["0, 0", "1/8, 1/2", "1/4, 1/4 round 0.15", "1/2, 1/4"], "sticking", "runs back"),
        (["0, 0", "0, 1/4"], "sticking", "without depth"),
        (["0, 0", "1/2, 0 round 1/2"], "sticking", "past the sight line"),
        (["0, 0", "1/2, 1/2 round 1/4"], "sticking", "found a radius of 6.35 mm"),
        (["0, 0", "1/4, 1/4", "1/4, 1/4", "1/2, 1/4"], "sticking", "where the one before it is"),
        (["0, 0", "1/4, 1/2", "1/4, 1/8", "1/4, 1/4", "1/2, 1/4"], "sticking", "meet"),
        (["0, 0", "1, 1", "1, 0", "0, 1"], "running", "piece 1 and piece 3 of the outline meet"),
        (["0, 0", "1, 0"], "running", "three corners"),
        (["0, 0", "1, 0", "1, 1", "0, 0"], "running", "closes itself"),
        (["0, 0", "1/2; 1/4"], "sticking", "expected a point such as"),
        (["0, 0", "1/2, 1/4 round 40"], "sticking", "expected 0"),
    ],
)
def test_each_fault_in_a_sentence(outline: list[str], kind: str, says: str) -> None:
    with pytest.raises(ValidationError) as error:
        moulding(outline, kind)
    assert says in str(error.value)


# --- used by name -------------------------------------------------------------------------


def test_a_sash_takes_the_size_of_its_moulding() -> None:
    sash = place(house(), "101", KNOWLEDGE).layout.lower
    assert sash.spec.moulding.width == pytest.approx(17 / 32 * INCH)
    assert sash.spec.moulding.depth == pytest.approx(5 / 8 * INCH)
    assert sash.profile.nose[1] == pytest.approx((1.75 - 5 / 8) * INCH)


def test_a_size_that_says_otherwise_is_told() -> None:
    with pytest.raises(HouseError) as error:
        house(upper={"moulding": {"width": "5/16"}})
    (problem,) = error.value.problems
    assert problem.field == "families.A.upper.moulding.width"
    assert "5/16" in problem.found
    assert "that of the moulding 'parlor' itself, 17/32" in problem.expected


def test_the_wrong_kind_is_told_once() -> None:
    document = {"shape": "brick"}
    with pytest.raises(HouseError) as error:
        house(sash={"moulding": document})
    assert [problem.field for problem in error.value.problems] == ["families.A.sash.moulding.shape"]
    with pytest.raises(HouseError) as error:
        house(frame={"mouldings": {"inside_stop": "parlor", "stool": "nosuch"}})
    assert [problem.field for problem in error.value.problems] == [
        "families.A.frame.mouldings.stool"
    ]
    with pytest.raises(HouseError, match="goes round the section"):
        house(frame={"mouldings": {"inside_stop": "ovolo"}})


def test_the_nearer_word_wins() -> None:
    own = house().model_copy(update={"mouldings": {"ovolo": moulding(OVOLO)}})
    assert with_own(own, KNOWLEDGE).find("moulding", "ovolo").unit == 1.0
    assert with_own(own.model_copy(update={"mouldings": {}}), KNOWLEDGE) is KNOWLEDGE


# --- areas and volumes --------------------------------------------------------------------


@pytest.mark.parametrize("outline", [OVOLO, TONGUE])
def test_what_a_moulding_removes_against_a_polygon_library(outline: list[str]) -> None:
    own = moulding(outline)
    document = house_document(
        mouldings={"own": {"outline": outline}},
        families={"A": {"sash": {"thickness": "1 3/4", "stile": "2 1/4", "muntin": "1 1/8",
                                 "moulding": {"shape": "own"}}}},
        windows=[window_document()],
    )  # fmt: skip
    sash = place(house_from(document, KNOWLEDGE), "101", KNOWLEDGE).layout.lower
    depth = own.points[-1][0]
    under = curves.flat(own.points, closed=False, per_arc=3000)
    cut = Polygon([*under, (depth, 0.0)]).area
    rabbet = sash.spec.rabbet_width * sash.spec.rabbet_depth
    assert sash.profile.removed == pytest.approx(rabbet + cut, rel=1e-7)


def test_the_muntin_as_long_as_it_is_wide_and_thick_less_its_sections() -> None:
    """The volume of an upright bar between plain rails is its section times its length, and its tenons."""
    document = house_document(
        mouldings={"parlor": {"outline": OVOLO}},
        families={"A": {"sash": {"thickness": "1 3/4", "stile": "2 1/4", "muntin": "1 1/8",
                                 "lites": "2x1", "moulding": {"shape": "parlor"}}}},
        windows=[window_document()],
    )  # fmt: skip
    answer = parts(house_from(document, KNOWLEDGE), KNOWLEDGE)
    placed = place(house_from(document, KNOWLEDGE), "101", KNOWLEDGE)
    sash = placed.layout.lower
    edge = [(inset, z) for z, inset in sash.profile.edge(3000)]
    wide, thick = sash.spec.muntin, sash.thickness
    half = Polygon([*edge, (wide / 2, thick), (wide / 2, 0.0)])
    _, _, low, high = sash.daylight
    # Coped ends: the bar runs on into each rail as far as that stands back.
    steps = 4000
    volume = 0.0
    for step in range(steps):
        z = (step + 0.5) * thick / steps
        across = half.intersection(box(-1, z - 1e-9, 1, z + 1e-9)).bounds
        inset = across[0]
        volume += 2 * (wide / 2 - inset) * (high - low + 2 * inset) * thick / steps
    near, far = sash.profile.nose
    tongue = wide - 2 * sash.spec.rabbet_width
    volume += 2 * 0.5 * INCH * tongue * (far - near)
    rows = [row for row in answer.windows[0].values["parts"] if row["name"] == "upright bar"]
    assert rows[1]["volume_cm3"] == pytest.approx(volume * 1e6, rel=2e-4)


def test_strips_have_their_section_and_its_size() -> None:
    frame = {"mouldings": {"outside_casing": "brick", "inside_stop": "stop"}}
    placed = place(house(frame=frame), "101", KNOWLEDGE)
    section = strip_section(placed.family.frame, "outside_casing", placed.knowledge)
    fine = Polygon(curves.flat(section, closed=True, per_arc=3000))
    assert fine.is_valid
    assert curves.enclosed(section) == pytest.approx(fine.area, rel=1e-7)
    assert placed.family.frame.casing_width == pytest.approx(2 * INCH)
    assert placed.family.frame.casing_thickness == pytest.approx(1.125 * INCH)
    assert placed.family.frame.inside_stop_width == pytest.approx(1.125 * INCH)
    assert strip_section(placed.family.frame, "stool", placed.knowledge) == ()


def test_arcs_stand_for_a_stretched_circle() -> None:
    row = KNOWLEDGE.moulding["ogee"]
    width, depth = 0.009, 0.014
    outline = true_outline(row, width, depth)
    fine = [(u * depth, v * width) for u, v in curves.flat(row.points, closed=False, per_arc=3000)]
    wanted = Polygon([*fine, (depth, 0.0)]).area
    found = Polygon([*curves.flat(outline, closed=False, per_arc=500), (depth, 0.0)]).area
    assert found == pytest.approx(wanted, rel=1e-3)
    assert len(outline) < 12
    assert true_outline(row, width, width)[1][2] == row.points[1][2]
