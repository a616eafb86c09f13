"""The short sentences of the history."""

from __future__ import annotations

from typing import Any

import pytest

from sashwright.record.says import count, named, what_changed


@pytest.mark.parametrize(
    ("before", "after", "says"),
    [
        ({"width": "32 in"}, {"width": "32 1/2 in"}, "width 32 in to 32 1/2 in"),
        ({"note": ""}, {"note": "soft\nrail"}, "note set to soft rail"),
        ({"note": "soft rail"}, {"note": ""}, "note soft rail cleared"),
        ({}, {"beside": "101"}, "beside set to 101"),
        ({"sash": {"coats": 3}}, {"sash": {"coats": 4}}, "sash coats 3 to 4"),
        ({"bevel": 12.0}, {"bevel": 14.5}, "bevel 12 to 14.5"),
        ({"panes": ["a"]}, {"panes": ["a", "b"]}, "panes a to a, b"),
        ({"gaps": []}, {"gaps": ["1/2 in"]}, "gaps none to 1/2 in"),
    ],
)
def test_tells_what_changed(before: dict[str, Any], after: dict[str, Any], says: str) -> None:
    assert what_changed("window 204", before, after) == f"window 204: {says}"


def test_tells_three_and_counts_the_rest() -> None:
    says = what_changed("house", {}, dict.fromkeys("abcde", 1))
    assert says == "house: a set to 1, b set to 1, c set to 1 and 2 more"


def test_cuts_a_long_text_short() -> None:
    says = what_changed("house", {"notes": "a"}, {"notes": "b" * 500})
    assert says.endswith("b…")
    assert len(says) < 80


def test_names_a_few_and_counts_many() -> None:
    assert named("window", ["101"]) == "window 101"
    assert named("window", ["101", "102", "103"]) == "windows 101, 102 and 103"
    assert named("window", [str(n) for n in range(24)]) == "24 windows"
    assert count(1, "family", "families") == "1 family"
    assert count(0, "family", "families") == "0 families"
