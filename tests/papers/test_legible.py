"""What can be printed, and what becomes of the rest."""

from __future__ import annotations

import pytest

from sashwright.papers.legible import STAND_IN, clean, cleaned, missing, stand_in, texts


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("as it is, Łódź ½ – ok", "as it is, Łódź ½ – ok"),
        ("a\x00b\x1bc\x7f", "abc"),
        ("one\r\ntwo\u2028three\x0bfour", "one\ntwo\nthree\nfour"),
        ("tab\tstop", "tab stop"),
        ("\u202eevil\u2066", "evil"),
        ("\ue000\U000f0000\ufdd0", ""),
    ],
)
def test_control_characters_go_and_line_breaks_stay(text: str, expected: str) -> None:
    assert clean(text) == expected


def test_the_papers_own_signs_can_be_printed() -> None:
    assert not missing("×±–…’“”°½⅜≤′″ αβγ Дом " + STAND_IN, machine_fonts=False)


def test_what_no_font_has_is_found() -> None:
    assert missing("a\U0001f9f7b\U00013000", machine_fonts=False) == {"\U0001f9f7", "\U00013000"}


def test_trees_are_changed_text_by_text() -> None:
    tree = {"a": ["x\x00", {"b": "y😀"}], "n": 3, "none": None, "yes": True}
    assert cleaned(tree) == {"a": ["x", {"b": "y😀"}], "n": 3, "none": None, "yes": True}
    assert stand_in(tree, frozenset("😀"))["a"][1] == {"b": f"y{STAND_IN}"}
    assert sorted(texts(tree)) == ["x\x00", "y😀"]
