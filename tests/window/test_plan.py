"""Rooms in plan: which walls look outdoors, what does not fit."""

import pytest

from sashwright.window.plan import bearing, outside_edges, overlap, plan_problems
from sashwright.window.rooms import Door, Room


def room(left: float, front: float, width: float, depth: float, storey: int = 1) -> Room:
    return Room(left=left, front=front, width=width, depth=depth, storey=storey)


TWO = {"left": room(0, 0, 4, 5), "right": room(4, 1, 3, 4)}


def test_a_lone_room_looks_out_on_all_sides() -> None:
    edges = outside_edges("a", {"a": room(1, 2, 4, 5)})
    assert {(e.side, round(e.length, 9)) for e in edges} == {
        ("front", 4), ("back", 4), ("left", 5), ("right", 5),
    }  # fmt: skip


def test_a_party_wall_is_taken_out_and_the_rest_left() -> None:
    right = [e for e in outside_edges("left", TWO) if e.side == "right"]
    assert [(e.low, e.high) for e in right] == [(0.0, 1.0)]
    assert not [e for e in outside_edges("right", TWO) if e.side == "left"]


def test_a_room_of_another_storey_hides_nothing() -> None:
    rooms = {"below": room(0, 0, 4, 5), "above": room(4, 0, 4, 5, storey=2)}
    assert len(outside_edges("below", rooms)) == 4


def test_outside_edges_add_up_to_the_outline_of_a_filled_plan() -> None:
    rooms = {"a": room(0, 0, 4, 3), "b": room(4, 0, 5, 3), "c": room(0, 3, 9, 4)}
    total = sum(edge.length for key in rooms for edge in outside_edges(key, rooms))
    assert total == pytest.approx(2 * (9 + 7))


def test_sides_turn_with_the_front() -> None:
    # Seen from above, a front to the south has its right side to the east.
    assert [bearing(s, 180.0) for s in ("front", "right", "back", "left")] == [180, 90, 0, 270]


def test_what_does_not_fit_is_said_once() -> None:
    rooms = {"a": room(0, 0, 4, 4), "b": room(3, 3, 4, 4)}
    doors = (Door(between=("a", "c")), Door(between=("b", "b")))
    found = [str(problem.field) for problem in plan_problems(rooms, doors)]
    assert found == ["rooms.b", "doors.0.between", "doors.1.between"]
    assert overlap(rooms["a"], rooms["b"]) == pytest.approx(1.0)
