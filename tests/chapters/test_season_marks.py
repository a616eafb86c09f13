"""Marks in walking order: unique, readable, and never changed once given."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import TypeAdapter

from sashwright.chapters.season import marks_of, with_marks
from sashwright.chapters.season.marks import from_roman, roman, walk
from sashwright.window.check import HouseError, house_problems
from sashwright.window.names import Number
from sashwright.window.spec import House, Window
from tests.chapters.houses import KNOWLEDGE, PLAIN, house_of

NUMBER: TypeAdapter[str] = TypeAdapter(Number)


def windows(*each: dict[str, Any], **changeover: Any) -> House:
    return house_of({}, *({**PLAIN, **window} for window in each), changeover=changeover)


# --- the walk -------------------------------------------------------------------------


def at(wall: str, along: str, storey: int = 1) -> dict[str, Any]:
    return {"wall": wall, "along": along, "storey": storey}


ROUND = (at("south", "60"), at("north", "60"), at("west", "60"), at("east", "60"),
         at("south", "200"), at("south", "60", 2))  # fmt: skip
"""Windows 1 to 6."""


def test_clockwise_from_the_front() -> None:
    """From the south front by west and north: on a wall from right to left, seen from outside."""
    house = windows(*ROUND, front="south")
    assert [group[0].number for group in walk(house)] == ["5", "1", "3", "2", "4", "6"]
    assert marks_of(house) == {
        "5": "101", "1": "102", "3": "103", "2": "104", "4": "105", "6": "201",
    }  # fmt: skip


def test_the_other_way_round() -> None:
    house = windows(*ROUND, front="south", walk="counterclockwise")
    assert [group[0].number for group in walk(house)] == ["1", "5", "4", "2", "3", "6"]


def test_the_first_wall_is_the_front_where_none_is_named() -> None:
    assert [group[0].number for group in walk(windows(*ROUND))] == ["2", "4", "5", "1", "3", "6"]


def test_windows_without_a_place_follow_in_the_order_of_the_record() -> None:
    house = windows({"wall": "north"}, {"wall": "north"}, at("north", "40"))
    assert list(marks_of(house).values()) == ["102", "103", "101"]


# --- how marks look -------------------------------------------------------------------


def test_running_figures_and_roman_numerals() -> None:
    house = windows(*ROUND, front="south", marks="running")
    assert [marks_of(house)[n] for n in "513246"] == ["1", "2", "3", "4", "5", "6"]
    house = windows(*ROUND, front="south", marks="running", numerals="roman")
    assert [marks_of(house)[n] for n in "513246"] == ["I", "II", "III", "IV", "V", "VI"]


def test_the_windows_own_numbers() -> None:
    house = windows({"number": "204"}, {"number": "11a", "mark": "204"}, marks="window number")
    assert marks_of(house) == {"204": "204-2", "11a": "204"}


def test_basements() -> None:
    house = windows({"storey": -1}, {"storey": 0}, {"storey": -2})
    assert list(marks_of(house).values()) == ["B101", "001", "B201"]


def test_twins_share_a_number_with_letters_from_the_left() -> None:
    house = windows(
        {"number": "c", "wall": "south", "beside": "b"},
        {"number": "a", "wall": "south"},
        {"number": "b", "wall": "south", "beside": "a"},
        {"number": "d", "wall": "west"},
    )
    assert marks_of(house) == {"a": "101A", "b": "101B", "c": "101C", "d": "102"}
    roman_house = windows(
        {"number": "a"}, {"number": "b", "beside": "a"}, marks="running", numerals="roman"
    )
    # With a dash: IC and ID would look like numerals.
    assert marks_of(roman_house) == {"a": "I-A", "b": "I-B"}


def test_a_twin_added_to_a_single_keeps_the_single() -> None:
    house = windows({"number": "a", "mark": "103"}, {"number": "b", "beside": "a"})
    assert marks_of(house) == {"a": "103", "b": "103B"}


@given(st.integers(1, 3999))
def test_roman_numerals_read_back(number: int) -> None:
    assert from_roman(roman(number)) == number


@pytest.mark.parametrize("letters", ["", "IIX", "VX", "IIII", "ABC", "MMMM"])
def test_what_is_no_roman_numeral(letters: str) -> None:
    assert from_roman(letters) is None


def test_roman_numerals_end_somewhere() -> None:
    assert [roman(n) for n in (4, 9, 40, 1899, 2026)] == ["IV", "IX", "XL", "MDCCCXCIX", "MMXXVI"]
    with pytest.raises(ValueError, match="expected 1 to 3999"):
        roman(0)


# --- unique and stable ----------------------------------------------------------------

window = st.fixed_dictionaries(
    {
        "wall": st.sampled_from(["north", "east", "south", "west"]),
        "storey": st.integers(-1, 3),
        "along": st.one_of(st.none(), st.floats(0.1, 20.0)),
        "twin": st.booleans(),
    }
)
rules = st.sampled_from(
    [
        {},
        {"marks": "running"},
        {"marks": "running", "numerals": "roman"},
        {"marks": "window number"},
        {"front": "south", "walk": "counterclockwise"},
    ]
)


def built(rows: list[dict[str, Any]], changeover: dict[str, Any], first: int = 0) -> House:
    """A house of these windows; a twin stands to the right of the one before it."""
    made: list[Window] = []
    for index, row in enumerate(rows):
        left = made[-1].number if row["twin"] and index > first else None
        wall, storey = (made[-1].wall, made[-1].storey) if left else (row["wall"], row["storey"])
        made.append(
            Window(
                number=f"w{index}",
                family="A",
                width=0.8,
                height=1.6,
                wall=wall,
                storey=storey,
                along=row["along"],
                beside=left,
            )
        )
    return House.model_validate(
        {"name": "h", "families": {"A": {}}, "windows": made, "changeover": changeover}
    )


@given(st.lists(window, min_size=1, max_size=30), rules)
@settings(max_examples=60)
def test_marks_are_unique_and_fit_to_be_cut(
    rows: list[dict[str, Any]], changeover: dict[str, Any]
) -> None:
    house = built(rows, changeover)
    marks = marks_of(house)
    assert list(marks) == [each.number for each in house.windows]
    assert len({mark.upper() for mark in marks.values()}) == len(rows)
    for mark in marks.values():
        assert NUMBER.validate_python(mark) == mark
    kept = with_marks(house)
    assert marks_of(kept) == marks
    assert not list(house_problems(kept, KNOWLEDGE))


@given(st.lists(window, min_size=2, max_size=20), st.integers(1, 19), rules, st.randoms())
@settings(max_examples=60)
def test_no_mark_moves_when_windows_are_added(
    rows: list[dict[str, Any]], few: int, changeover: dict[str, Any], chance: Any
) -> None:
    few = min(few, len(rows) - 1)
    everything = built(rows, changeover, first=0)
    first = everything.model_copy(update={"windows": everything.windows[:few]})
    kept = with_marks(first)
    # Later windows come in anywhere in the record, some as twins of those that are there.
    together = [*kept.windows, *everything.windows[few:]]
    chance.shuffle(together)
    later = everything.model_copy(update={"windows": tuple(together)})
    before, after = marks_of(first), marks_of(later)
    for number, mark in before.items():
        assert after[number] == mark
    assert len({mark.upper() for mark in after.values()}) == len(rows)


def test_a_lost_piece_leaves_its_number_free_for_nobody() -> None:
    """The newcomer takes the number after the highest, not the hole that a lost storm left."""
    house = windows({"mark": "101"}, {"mark": "104"}, {})
    assert list(marks_of(house).values()) == ["101", "104", "105"]


def test_a_hundred_windows_on_a_storey() -> None:
    house = windows(*({"storey": 1 + 10 * (n % 2)} for n in range(230)))
    marks = marks_of(house)
    assert len(set(marks.values())) == 230


# --- checked --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("each", "changeover", "field"),
    [
        (({"mark": "7"}, {"mark": "7"}), {}, "windows.1.mark"),
        (({"mark": "7a"}, {"mark": "7A"}), {}, "windows.1.mark"),
        (({},), {"front": "nowhere"}, "changeover.front"),
        (({},), {"numerals": "roman"}, "changeover"),
        (({},), {"warm": "40 F", "cool": "50 F"}, "changeover"),
        (({"mark": "no spaces"},), {}, "windows.0.mark"),
    ],
)
def test_what_cannot_be_is_refused(
    each: tuple[dict[str, Any], ...], changeover: dict[str, Any], field: str
) -> None:
    with pytest.raises(HouseError) as refused:
        windows(*each, **changeover)
    assert [problem.field for problem in refused.value.problems] == [field]
