"""Twin and triple units: pockets shared in the mullions."""

from __future__ import annotations

import pytest

from sashwright.chapters.answer import WindowAnswer
from sashwright.chapters.hang import hang
from tests.chapters.houses import KNOWLEDGE, PLAIN, Document, findings, house_of, only

ROW = (PLAIN, {**PLAIN, "beside": "1"}, {**PLAIN, "beside": "2"})


def row(count: int, family: Document) -> list[WindowAnswer]:
    """So many windows side by side."""
    return list(hang(house_of(family, *ROW[:count]), KNOWLEDGE).windows)


def test_a_window_alone_shares_nothing() -> None:
    (alone,) = row(1, {})
    assert not [f for f in findings(alone, "note", "pocket") if "mullion" in f.says]


def test_twin() -> None:
    left, right = row(2, {})
    assert only(left, "note", "pocket", "mullion").says.startswith(
        "Shares a mullion pocket with 2:"
    )
    assert only(right, "note", "pocket", "mullion").says.startswith(
        "Shares a mullion pocket with 1:"
    )


def test_triple() -> None:
    first, middle, last = row(3, {})
    assert "with 2:" in only(first, "note", "pocket", "mullion").says
    assert "with 1 and 3:" in only(middle, "note", "pocket", "mullion").says
    assert "with 2:" in only(last, "note", "pocket", "mullion").says


@pytest.mark.parametrize("count", [2, 3])
@pytest.mark.parametrize("mullion", [4.5, 3.25, 3.0, 2.875])
def test_weights_of_both_windows_pass_each_other(count: int, mullion: float) -> None:
    """From both stiles' backs: the weight's middle 13/16 in and half of it, twice; 1/16 in between."""
    for answer in row(count, {"pocket": {"mullion": mullion}}):
        for which in ("upper", "lower"):
            size = answer.values[which]["weight_size_mm"]
            if size is None:
                thickest = mullion - 2 * 13 / 16 - 1 / 16
                assert thickest < 1.25, "the slimmest stock is 1 1/4 in"
                continue
            between = mullion - 2 * (13 / 16 + size / 25.4 / 2)
            assert between >= 1 / 16 - 1e-4


def test_a_narrow_mullion_makes_weights_slim() -> None:
    """3 in: half is 1 1/2, less 13/16 and 1/32, twice: 1 5/16 in."""
    (alone,) = row(1, {"pocket": {"mullion": 3}})
    assert alone.values["lower"]["weight_size_mm"] == pytest.approx(38.1)
    for answer in row(3, {"pocket": {"mullion": 3}}):
        assert answer.values["lower"]["thickest_weight_mm"] == pytest.approx(
            1.3125 * 25.4, abs=1e-3
        )
        assert answer.values["lower"]["weight_size_mm"] == pytest.approx(31.75)


def test_a_mullion_too_narrow_for_any() -> None:
    for answer in row(2, {"pocket": {"mullion": 2.5}}):
        only(answer, "fail", "lower.weight", "wider pocket")


def test_a_wide_mullion_still_leaves_the_outer_pocket_to_rule() -> None:
    for answer in row(2, {"pocket": {"mullion": 12, "across": 1.5}}):
        assert answer.values["lower"]["thickest_weight_mm"] == pytest.approx(1.25 * 25.4, abs=1e-3)


def test_a_neighbour_that_is_not_asked_about_still_counts() -> None:
    house = house_of({"pocket": {"mullion": 3}}, *ROW)
    (middle,) = hang(house, KNOWLEDGE, ["2"]).windows
    assert middle.values["lower"]["weight_size_mm"] == pytest.approx(31.75)
    assert "with 1 and 3:" in only(middle, "note", "pocket", "mullion").says
