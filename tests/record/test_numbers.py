"""Which window number comes next."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import TypeAdapter

from sashwright.record.numbers import FIRST, next_number
from sashwright.window.spec import Number

NUMBERS = st.from_regex(r"[A-Za-z0-9][A-Za-z0-9.-]{0,9}", fullmatch=True)


@pytest.mark.parametrize(
    ("after", "expected"),
    [
        ("204", "205"),
        ("199", "200"),
        ("007", "008"),
        ("B7", "B8"),
        ("2-14", "2-15"),
        ("107L", "107R"),
        ("107R", "108"),
        ("107a", "107b"),
        ("107Z", "108"),
        ("door", "door-2"),
        ("door-2", "door-3"),
    ],
)
def test_counts_on_as_the_number_is_made(after: str, expected: str) -> None:
    assert next_number(after, {after}) == expected


def test_begins_somewhere() -> None:
    assert next_number(None, set()) == FIRST


def test_passes_over_what_is_taken() -> None:
    assert next_number("204", {"204", "205", "206"}) == "207"
    assert next_number("107L", {"107L", "107R", "108"}) == "109"


@given(NUMBERS, st.sets(NUMBERS, max_size=6))
def test_suggests_a_free_number_that_is_one(after: str, taken: set[str]) -> None:
    number = next_number(after, taken | {after})
    assert number not in taken | {after}
    TypeAdapter(Number).validate_python(number)
