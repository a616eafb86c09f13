"""Joints drawn are those that the parts are reckoned with."""

from __future__ import annotations

from typing import Any

import pytest

from sashwright.chapters.parts import parts
from sashwright.drawing.joints import JOINTS, joint_drawing, joints_of
from sashwright.drawing.model import Dimension, Drawing, Polygon, Text, walk
from sashwright.knowledge.load import load
from sashwright.units import INCH
from sashwright.window.check import house_from
from sashwright.window.resolve import Placed, place
from tests.factories import house_document, window_document

KNOWLEDGE = load()


def window(**sash: Any) -> Placed:
    document = house_document(
        families={"A": {"sash": {"thickness": "1 3/4", **sash}}}, windows=[window_document()]
    )
    return place(house_from(document, KNOWLEDGE), "101", KNOWLEDGE)


def figures(drawn: Drawing) -> dict[str, str]:
    """What each dimension says, by what it is of."""
    return {item.title: item.text for item in walk(drawn.items) if isinstance(item, Dimension)}


def lengths(drawn: Drawing) -> dict[str, float]:
    """How long each is drawn [m]."""
    axis = {"x": 0, "y": 1}
    return {
        item.title: item.end[axis[item.axis]] - item.start[axis[item.axis]]
        for item in walk(drawn.items)
        if isinstance(item, Dimension)
    }


def test_the_corner_by_hand() -> None:
    # Rail 3 in; rabbet and moulding take 3/16; a third of the rest is haunch.
    said = figures(joint_drawing(window(bottom_rail="3"), "corner"))
    assert said["width of the bottom rail"] == '3"'
    assert said["rabbet and moulding"] == '3/16"'
    assert said["haunch"] == '15/16"'
    assert said["tenon"] == '1 7/8"'
    assert said["length of the tenon"] == '2"'
    assert said["thickness of the tenon"] == '3/4"'
    assert said["rabbet"] == said["moulding"] == '1/2"'


@pytest.mark.parametrize("tenon", ["through", "blind"])
def test_the_tenon_drawn_is_the_one_in_the_list_of_parts(tenon: str) -> None:
    placed = window(tenon=tenon)
    rows = parts(_house(placed), KNOWLEDGE).windows[0].values["parts"]
    (rail,) = [row for row in rows if row["name"] == "bottom rail"]
    drawn = lengths(joint_drawing(placed, "corner"))["length of the tenon"]
    assert drawn * 1000 == pytest.approx((rail["length_mm"] - rail["shoulder_mm"]) / 2, abs=0.01)


def _house(placed: Placed) -> Any:
    tenon = placed.layout.lower.spec.tenon
    document = house_document(
        families={"A": {"sash": {"thickness": "1 3/4", "tenon": tenon}}},
        windows=[window_document()],
    )
    return house_from(document, KNOWLEDGE)


def test_horns_close_the_mortise_of_the_meeting_rail() -> None:
    bridle = figures(joint_drawing(window(), "meeting"))
    assert "horn" not in bridle
    assert "haunch" not in bridle
    assert figures(joint_drawing(window(horn="2"), "meeting"))["horn"] == '2"'


def test_muntins_of_both_directions_and_none() -> None:
    said = figures(joint_drawing(window(lites="2x1"), "muntin"))
    assert said["width of the muntin"] == '7/8"'
    assert said["width of the tenon"] == '1/2"'
    assert said["length of the tenon"] == '1/2"'
    across = joint_drawing(window(lites="1x2"), "muntin")
    assert figures(across) == said
    none = joint_drawing(window(), "muntin")
    assert [item.text for item in none.items if isinstance(item, Text)] == [
        "Neither sash has muntins."
    ]
    assert tuple(joints_of(window())) == JOINTS[:2]
    assert tuple(joints_of(window(lites="1x2"))) == JOINTS


def test_the_end_of_the_muntin_lies_about_its_tenon() -> None:
    drawn = joint_drawing(window(lites="2x1"), "muntin")
    tenon = next(i for i in walk(drawn.items) if isinstance(i, Polygon) and i.hatch)
    xs, ys = [v.x for v in tenon.points], [v.y for v in tenon.points]
    assert max(xs) - min(xs) == pytest.approx(0.75 * INCH)
    assert max(ys) - min(ys) == pytest.approx(0.5 * INCH)


def test_an_unknown_joint() -> None:
    with pytest.raises(ValueError, match="expected one of corner, meeting, muntin"):
        joint_drawing(window(), "dovetail")
