"""What the survey found: parts named as the drawing names them, typical findings, what contradicts."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest

from sashwright.drawing.elevation import elevation
from sashwright.drawing.model import Group
from sashwright.knowledge.load import load
from sashwright.record.housefile.writing import house_text
from sashwright.window.check import HouseError, house_from
from sashwright.window.components import kind_named, named, pieces_of
from sashwright.window.resolve import Placed, place
from sashwright.window.spec import House
from sashwright.window.surveyed import hazard, surveyed
from tests.factories import family_document, house_document, window_document

KNOWLEDGE = load()
STORMY = {"storm": "winter", "screen": {"kind": "full"}, "sash": {"lites": "3x2"}}


def house(*conditions: dict[str, Any], **fields: Any) -> House:
    windows = [
        window_document(str(101 + index), condition=condition)
        for index, condition in enumerate(conditions)
    ]
    document = house_document(families={"A": family_document(**STORMY)}, windows=windows)
    return house_from({**document, **fields}, KNOWLEDGE)


def laid(of: House, number: str = "101") -> Placed:
    return place(of, number, KNOWLEDGE)


def found(of: House, number: str = "101") -> set[tuple[str, str, str]]:
    rows = surveyed(laid(of, number).layout, of, KNOWLEDGE)
    return {(p.name, row.found.fault, row.source) for row in rows for p in row.pieces}


def refused(*conditions: dict[str, Any], **fields: Any) -> str:
    with pytest.raises(HouseError) as told:
        house(*conditions, **fields)
    assert len(told.value.problems) == 1
    return str(told.value)


def one(on: str, fault: str, **more: Any) -> dict[str, Any]:
    return {"found": [{"on": on, "fault": fault, **more}]}


def names_in(item: Any) -> set[str]:
    mine = {value for key, value in getattr(item, "data", ()) if key == "part"}
    return mine.union(*(names_in(inner) for inner in getattr(item, "items", ())))


# --- parts ------------------------------------------------------------------------


def test_parts_are_named_as_the_drawing_names_them() -> None:
    placed = laid(house({}))
    pieces = pieces_of(placed.layout)
    for side in ("outside", "inside"):
        drawn = names_in(Group(tuple(elevation(placed, side).items)))
        drawn = {name for name in drawn if not name.startswith(("storm.", "screen."))}
        assert len(drawn) > 20
        assert drawn - {"window"} <= set(pieces), drawn - set(pieces)


def test_kind_of_a_name_without_a_window_agrees() -> None:
    for name, piece in pieces_of(laid(house({})).layout).items():
        assert kind_named(name) == piece.kind, name
    assert kind_named("lower.chimney") is None


def test_sizes_are_those_of_the_sash() -> None:
    placed = laid(house({}))
    pieces = pieces_of(placed.layout)
    assert pieces["upper.sash"].area == pytest.approx(placed.upper.pieces.painted_area)
    lites = named("upper.lite", pieces)
    assert len(lites) == 6
    assert sum(lite.length for lite in lites) == pytest.approx(pieces["upper.putty"].length)
    # 32 in opening less 1/8, less two stiles of 2 in: 27 7/8.
    assert pieces["lower.bottom_rail"].length == pytest.approx(27.875 * 0.0254)


def test_a_short_name_means_all_its_parts() -> None:
    pieces = pieces_of(laid(house({})).layout)
    assert [piece.name for piece in named("lower.cord", pieces)] == [
        "lower.cord.left",
        "lower.cord.right",
    ]
    assert [piece.name for piece in named("sill", pieces)] == ["frame.sill"]
    assert len(named("pulley", pieces)) == 2
    assert named("lower", pieces) == []


# --- what holds -------------------------------------------------------------------


def test_defaults_change_nothing() -> None:
    assert found(house({})) == set()


def test_typical_findings_hold_unless_said_otherwise() -> None:
    typical = {
        "found": [{"on": "sill", "fault": "decay"}, {"on": "lower.putty", "fault": "putty-cracked"}]
    }
    sill, putty = ("frame.sill", "decay", "house"), ("lower.putty", "putty-cracked", "house")
    of = house(
        {},
        {"sound": ["sill"]},
        {"as_typical": False},
        one("sill", "decay", severity="severe"),
        typical=typical,
    )
    assert found(of) == {sill, putty}
    assert found(of, "102") == {putty}
    assert found(of, "103") == set()
    assert found(of, "104") == {("frame.sill", "decay", "own"), putty}


def test_the_family_comes_before_the_house() -> None:
    family = family_document(**STORMY, typical=one("sill", "decay", severity="slight"))
    document = house_document(families={"A": family}, windows=[window_document("101")])
    of = house_from({**document, "typical": one("sill", "decay", severity="severe")}, KNOWLEDGE)
    (row,) = surveyed(laid(of).layout, of, KNOWLEDGE)
    assert (row.source, row.severity) == ("family", "slight")


def test_like_another_window_without_its_readings() -> None:
    of = house(
        one("sill", "decay", probe="1", moisture=25, note="left end"),
        {"like": "101", "found": [{"on": "lower.sash", "fault": "sticks"}]},
        {"like": "101", "sound": ["sill"]},
    )
    assert found(of, "102") == {("lower.sash", "sticks", "own"), ("frame.sill", "decay", "like")}
    copied = surveyed(laid(of, "102").layout, of, KNOWLEDGE)[1].found
    assert (copied.probe, copied.moisture, copied.note) == (None, None, "")
    assert found(of, "103") == set()


def test_typical_findings_pass_over_parts_that_a_window_has_not() -> None:
    assert found(house({}, typical=one("lower.lite.9.9", "glass-cracked"))) == set()


def test_the_nearest_test_for_lead_holds() -> None:
    of = house(
        {},
        {"lead": {"result": "absent", "by": "laboratory", "on": "2026-04-02"}},
        typical={"lead": {"result": "present"}},
    )
    assert hazard(laid(of).layout, of, "lead").result == "present"
    assert hazard(laid(of, "102").layout, of, "lead").result == "absent"


def test_the_file_gives_back_the_same_house() -> None:
    of = house(
        {
            **one("sill", "paint-peeling", area="40 in2", note="by the storm", photos=["a.jpg"]),
            "sound": ["lower.bottom_rail"],
            "on": "2026-04-07",
        },
        pricing={
            "rates": {"joiner": "70.50"},
            "allowances": [{"name": "more", "amount": "12.30"}],
            "options": [{"key": "a", "name": "b", "amount": "-5.00"}],
        },
    )
    assert house_from(tomllib.loads(house_text(of)), KNOWLEDGE) == of


# --- what contradicts -------------------------------------------------------------


@pytest.mark.parametrize(
    ("condition", "says"),
    [
        (one("lower.bottom_rial", "decay"), "expected a part of this window, such as lower.bottom_rail"),
        (one("lower.lite.4.1", "glass-cracked"), "expected a part of this window"),
        (one("sill", "rotten"), "found 'rotten', expected a row of the table fault"),
        (one("sill", "cord-broken"), "'cord-broken' on sill, expected a fault of sill"),
        (one("lower.cord", "cord-broken", severity="slight"), "expected one of severe"),
        (one("sill", "decay", count=2), "found a count for decay, expected a length"),
        (one("lower.sash", "sticks", length="2"), "found a length for sticks, expected no measure"),
        (one("sill", "decay", length="60"), "found 60 in, expected at most 32 in"),
        (one("lower.cord", "cord-frayed", count=3), "expected at most 2: there are no more"),
        (one("sill", "decay", length="6", area="1 ft2"), "expected one measure of how far it goes"),
        ({"sound": ["nose"]}, "condition.sound.0: found 'nose'"),
        ({"like": "999"}, "expected the number of another window of the house"),
        ({"like": "101"}, "expected the number of another window of the house"),
    ],
)  # fmt: skip
def test_one_clear_sentence(condition: dict[str, Any], says: str) -> None:
    assert says in refused(condition)


def test_like_goes_one_step_only() -> None:
    said = refused({}, {"like": "101"}, {"like": "102"})
    assert "'102', which is like 101 itself, expected a window with findings of its own" in said


def test_typical_findings_are_checked_too() -> None:
    assert "typical.found.0.on" in refused({}, typical=one("chimney", "decay"))
    assert "typical.found.0.severity" in refused(
        {}, typical=one("lower.cord", "cord-broken", severity="slight")
    )


def test_decisions_hours_and_prices_name_rows_that_exist() -> None:
    def window(**fields: Any) -> dict[str, Any]:
        return house_document(windows=[window_document("101", **fields)])

    for document, at in (
        (window(decision={"alternative": "burn"}), "windows.0.decision.alternative"),
        (window(spent=[{"task": "burn", "hours": 1}]), "windows.0.spent.0.task"),
        ({**window(), "pricing": {"rates": {"wizard": "9.00"}}}, "pricing.rates.wizard"),
        (
            {**window(), "pricing": {"allowances": [{"name": "a", "amount": "1", "window": "9"}]}},
            "pricing.allowances.0.window",
        ),
    ):
        with pytest.raises(HouseError) as told:
            house_from(document, KNOWLEDGE)
        assert [problem.field for problem in told.value.problems] == [at]
