"""Everything that is wrong with a house is told at once: where, what was found, what was expected."""

from __future__ import annotations

from typing import Any

import pytest

from sashwright.knowledge.load import load
from sashwright.window.check import HouseError, house_from, window_problems
from sashwright.window.problem import LayoutError, Problem
from sashwright.window.resolve import family_of, place, place_all, place_each
from sashwright.window.spec import House

KNOWLEDGE = load()


def window(number: str = "1", **fields: Any) -> dict[str, Any]:
    return {"number": number, "family": "A", "width": 32, "height": 66, **fields}


def document(*windows: dict[str, Any], **fields: Any) -> dict[str, Any]:
    return {"name": "x", "families": {"A": {}}, "windows": list(windows or [window()]), **fields}


def told(house: dict[str, Any]) -> list[Problem]:
    """Everything that is wrong; nothing is told twice."""
    with pytest.raises(HouseError) as caught:
        house_from(house, KNOWLEDGE)
    found = caught.value.problems
    for problem in found:
        assert problem.field
        assert problem.found
        assert problem.expected
        assert f"{problem.field}: found {problem.found}, expected {problem.expected}" in str(
            caught.value
        )
    assert len(set(found)) == len(found)
    return found


def problems(house: dict[str, Any]) -> dict[str, Problem]:
    """What is wrong, by field, where each field has one problem at most."""
    found = told(house)
    by_field = {problem.field: problem for problem in found}
    assert len(by_field) == len(found)
    return by_field


def test_a_sound_house() -> None:
    house = house_from(document(window("1"), window("2", beside="1")), KNOWLEDGE)
    assert [w.number for w in house.windows] == ["1", "2"]


# --- fields -------------------------------------------------------------------------------


def test_all_fields_at_once() -> None:
    found = problems(
        {
            "name": "",
            "families": {"A": {"sash": {"thicknes": 1.5, "stile": "thick", "grain": "wild"}}},
            "windows": [window(width=200, height="no"), {"number": "!", "family": "A"}],
        }
    )
    assert set(found) == {
        "name",
        "families.A.sash.thicknes",
        "families.A.sash.stile",
        "families.A.sash.grain",
        "windows.0.width",
        "windows.0.height",
        "windows.1.number",
        "windows.1.width",
        "windows.1.height",
    }


@pytest.mark.parametrize(
    ("fields", "field", "found", "expected"),
    [
        ({"width": 200}, "width", '200" (5080 mm)', '6" (152.4 mm) to 144" (3658 mm)'),
        ({"width": "5 ft 13"}, "width", "'5 ft 13'", "a length such as"),
        ({"width": True}, "width", "True", "a length such as 34 3/8"),
        ({"storey": 99}, "storey", "99", "input should be less than or equal to 60"),
        ({"colour": "red"}, "colour", "the field 'colour'", "only the fields of the schema"),
        ({"upper": "3 by 2"}, "upper", "'3 by 2'", "lites wide by high, such as '3x2'"),
        ({"upper": {"columns": 3, "column_shares": [1]}}, "upper", "1 column shares", "3"),
        ({"head": {"shape": "segmental"}}, "head", "no rise", "the rise of the segmental head"),
        ({"head": {"rise": 4}}, "head", "a rise", "none for a square head"),
        ({"changes": {"frame": {"sill_slope": 60}}}, "changes.frame.sill_slope", "60", "0 degrees"),
        ({"measured": {"lower": {"mass": "heavy"}}}, "measured.lower.mass", "'heavy'", "a mass"),
    ],
)
def test_a_field(fields: dict[str, Any], field: str, found: str, expected: str) -> None:
    (problem,) = problems(document(window(**fields))).values()
    assert problem.field == f"windows.0.{field}"
    assert problem.found.startswith(found)
    assert problem.expected.startswith(expected)


def test_a_field_that_is_missing() -> None:
    assert problems(document({"number": "1", "family": "A", "width": 32})) == {
        "windows.0.height": Problem(
            "windows.0.height", "nothing", "a value: this field must be given"
        )
    }


def test_bare_numbers_are_in_the_units_of_the_house() -> None:
    us = house_from(document(), KNOWLEDGE)
    metric = house_from(document(window(width=813, height=1676), units="metric"), KNOWLEDGE)
    assert us.windows[0].width == 0.8128
    assert metric.windows[0].width == 0.813
    found = problems(document(window(), units="metric"))
    assert found["windows.0.width"].found == '1 17/64" (32 mm)'


def test_an_unknown_system_of_units_is_one_problem() -> None:
    assert set(problems(document(units="imperial"))) == {"units"}


# --- rows of the tables -----------------------------------------------------------------


@pytest.mark.parametrize(
    ("family", "field", "meant"),
    [
        ({"hanging": {"suspension": "coton-8"}}, "hanging.suspension", "cotton-8"),
        ({"hanging": {"pulley": "plain2"}}, "hanging.pulley", "plain-2"),
        ({"hanging": {"bias": "evn"}}, "hanging.bias", "even"),
        (
            {"hanging": {"weight_materials": ["lead", "stel"]}},
            "hanging.weight_materials.1",
            "steel",
        ),
        ({"strips": {"sides": "spring bronse"}}, "strips.sides", "spring-bronze"),
        ({"strips": {"head": "bulb-kerv"}}, "strips.head", "bulb-kerf"),
        ({"hardware": [{"item": "sash-lok"}]}, "hardware.0.item", "sash-lock"),
        ({"upper": {"wood": "mahogani"}}, "upper.wood", "mahogany"),
        ({"lower": {"coating": "oil-pant"}}, "lower.coating", "oil-paint"),
        ({"upper": {"moulding": {"shape": "ovalo"}}}, "upper.moulding.shape", "ovolo"),
        ({"lower": {"glazing": {"putty": "linsed-oil-putty"}}}, "lower.glazing.putty", "linseed"),
        ({"upper": {"glazing": {"panes": ["single-strenght"]}}}, "upper.glazing.panes.0", "single"),
    ],
)
def test_unknown_row(family: dict[str, Any], field: str, meant: str) -> None:
    (problem,) = problems(document(families={"A": family})).values()
    assert problem.field == f"families.A.{field}"
    assert "did you mean" in problem.expected
    assert meant in problem.expected


def test_a_row_of_both_sash_is_told_once() -> None:
    found = problems(document(families={"A": {"sash": {"wood": "mahogani"}}}))
    assert set(found) == {"families.A.sash.wood"}


def test_a_row_by_another_of_its_names() -> None:
    house_from(document(families={"A": {"sash": {"wood": "White Pine"}}}), KNOWLEDGE)


def test_an_unknown_row_of_a_window_is_told_at_the_window() -> None:
    own = {"sash": {"wood": "mahogani"}, "hanging": {"bias": "evn"}}
    found = problems(document(window(changes=own), window("2")))
    assert set(found) == {
        "windows.0.changes.sash.wood",
        "windows.0.changes.hanging.bias",
    }


def test_a_strip_where_it_does_not_belong_is_told() -> None:
    found = problems(document(families={"A": {"strips": {"sides": "felt", "sill": "felt"}}}))
    assert set(found) == {"families.A.strips.sides"}


def test_a_shared_pocket_wants_one_wall_and_storey() -> None:
    found = problems(document(window(), window("2", beside="1", storey=2)))
    assert set(found) == {"windows.1.beside"}


def test_an_unknown_row_of_a_family_is_not_told_again_for_each_window() -> None:
    family = {"hanging": {"bias": "evn", "weight_materials": ["leed"]}, "lower": {"wood": "pin"}}
    changed = window("2", changes={"sash": {"stile": 3}, "hanging": {"pulley": "plain-3"}})
    found = problems(document(window(), changed, families={"A": family}))
    assert set(found) == {
        "families.A.hanging.bias",
        "families.A.hanging.weight_materials.0",
        "families.A.lower.wood",
    }


def test_a_window_that_mends_its_familys_row() -> None:
    family = {"hanging": {"bias": "evn"}}
    mended = window(changes={"hanging": {"bias": "even"}})
    assert set(problems(document(mended, families={"A": family}))) == {"families.A.hanging.bias"}


# --- names that lead nowhere ---------------------------------------------------------------


def test_numbers_given_twice() -> None:
    found = problems(document(window("1"), window("2"), window("1"), window("1")))
    assert set(found) == {"windows.2.number", "windows.3.number"}
    assert found["windows.2.number"] == Problem(
        "windows.2.number", "'1'", "a number no other window has"
    )


def test_families_and_walls() -> None:
    found = problems(
        document(
            window("1", family="B"),
            window("2", wall="street"),
            families={"A": {}, "C": {}},
            walls={"front": {"faces": "S"}},
        )
    )
    # No window stands on the walls that this house has: both are told.
    assert set(found) == {"windows.0.family", "windows.0.wall", "windows.1.wall"}
    assert found["windows.0.family"].expected == "one of the house's families: A, C"
    assert found["windows.1.wall"].expected == "one of the house's walls: front"


def test_a_house_without_families() -> None:
    found = problems(document(families={}))
    assert found["windows.0.family"].expected == "one of the house's families: none yet"


def test_beside_a_window_that_is_not_there() -> None:
    found = problems(document(window("1", beside="7"), window("2", beside="2")))
    assert set(found) == {"windows.0.beside", "windows.1.beside"}
    for problem in found.values():
        assert problem.expected == "the number of another window of the house"


def test_two_windows_beside_the_same() -> None:
    found = problems(document(window("1"), window("2", beside="1"), window("3", beside="1")))
    assert set(found) == {"windows.2.beside"}
    assert "window 2 shares it already" in found["windows.2.beside"].expected


@pytest.mark.parametrize(
    "beside",
    [{"1": "2", "2": "1"}, {"1": "3", "2": "1", "3": "2"}],
    ids=["two", "three"],
)
def test_a_row_that_closes_on_itself(beside: dict[str, str]) -> None:
    windows = [window(number, beside=left) for number, left in beside.items()]
    found = problems(document(*windows))
    assert set(found) == {f"windows.{n}.beside" for n in range(len(beside))}
    for problem in found.values():
        assert problem.expected == "a row of windows that does not close on itself"


def test_a_row_in_any_order() -> None:
    house = document(window("3", beside="2"), window("1"), window("2", beside="1"))
    assert len(house_from(house, KNOWLEDGE).windows) == 3


# --- sizes that contradict each other ------------------------------------------------------


@pytest.mark.parametrize(
    ("fields", "field", "found"),
    [
        ({"width": 6, "changes": {"sash": {"stile": 3}}}, "width", "6.000 in (152.4 mm)"),
        ({"height": 10, "changes": {"sash": {"bottom_rail": 8}}}, "height", "for the lower sash"),
        ({"meeting_height": 4}, "meeting_height", "for the lower sash"),
        ({"head": {"shape": "segmental", "rise": 16}}, "head.rise", "16.000 in"),
        ({"height": 16, "head": {"shape": "full arch"}}, "height", "16.000 in"),
        ({"upper": "12x1", "width": 20}, "upper.lites", "wide"),
        ({"lower": "1x12", "height": 24}, "lower.lites", "high"),
        ({"measured": {"upper": {"width": 33}}}, "measured.upper.width", "33.000 in"),
        ({"changes": {"meeting": {"bevel": 30, "gap": "1/4"}, "sash": {"meeting_rail": 3}}},
         "meeting.bevel", "30 degrees"),
        ({"changes": {"sash": {"rabbet_depth": "15/16"}}}, "upper.rabbet_depth", "0.938 in"),
        ({"changes": {"sash": {"glazing": {"panes": ["float-1-4", "float-1-4"]}}}},
         "upper.glazing.gaps", "0 between 2 panes"),
        ({"changes": {"sash": {"glazing": {"panes": ["plate-1-4"], "bed": "1/4"}}}},
         "upper.glazing", "glass and bed"),
        ({"changes": {"sash": {"glazing": {"clearance": "1/4"}}}},
         "upper.glazing.clearance", "0.250 in"),
        ({"changes": {"sash": {"stile": "1/2", "rabbet_width": "1/2"}}}, "upper.stile", "0.500 in"),
        ({"upper": "2x1", "changes": {"sash": {"muntin": "3/8"}}}, "upper.muntin", "0.375 in"),
        ({"head": {"shape": "full arch"}, "changes": {"upper": {"top_rail": 3}}},
         "upper.top_rail", "3.000 in"),
    ],
)  # fmt: skip
def test_contradiction(fields: dict[str, Any], field: str, found: str) -> None:
    at = f"windows.0.{field}"
    assert any(p.field == at and found in p.found for p in told(document(window(**fields))))


def test_contradictions_of_several_windows_at_once() -> None:
    narrow = window("1", width=6, changes={"sash": {"stile": 3}})
    low = window("3", meeting_height=4)
    found = told(document(narrow, window("2"), low, window("4", family="B")))
    assert {problem.field.split(".")[1] for problem in found} == {"0", "2", "3"}


def test_a_muntin_counts_only_where_there_are_bars() -> None:
    house_from(document(window(changes={"sash": {"muntin": "3/8"}})), KNOWLEDGE)


def test_a_layout_error_says_how_many_more() -> None:
    own = {"sash": {"rabbet_depth": "15/16"}, "lower": {"glazing": {"clearance": "1/4"}}}
    house = House.model_validate(document(window(changes=own)), context={"system": "us"})
    with pytest.raises(LayoutError, match=r"window 1: upper\.rabbet_depth: .* \(and 2 more\)"):
        place(house, "1", KNOWLEDGE)
    with pytest.raises(LayoutError):
        place_all(house, KNOWLEDGE)
    ((_, error),) = place_each(house, KNOWLEDGE)
    assert isinstance(error, LayoutError)
    assert len(error.problems) == 3
    own_family = family_of(house, house.windows[0])
    assert window_problems(house.windows[0], own_family, KNOWLEDGE) == error.problems


# --- neighbours -----------------------------------------------------------------------


def test_neighbours_of_a_row() -> None:
    house = house_from(
        document(window("1"), window("2", beside="1"), window("3", beside="2")), KNOWLEDGE
    )
    beside = {
        placed.window.number: tuple(n and n.window.number for n in (placed.left, placed.right))
        for placed in place_all(house, KNOWLEDGE)
    }
    assert beside == {"1": (None, "2"), "2": ("1", "3"), "3": ("2", None)}
    middle = place(house, "2", KNOWLEDGE)
    assert middle.left is not None
    assert middle.left.window.number == "1"
