"""Documents compared and merged."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sashwright.record.errors import FieldConflict
from sashwright.record.merge import FieldChange, differences, merge, with_fields

KEYS = st.sampled_from("abc")
LEAVES = st.one_of(st.integers(0, 3), st.sampled_from(["x", "y"]), st.just([1, 2]))
DOCUMENTS = st.dictionaries(
    KEYS, st.recursive(LEAVES, lambda inner: st.dictionaries(KEYS, inner, max_size=3)), max_size=3
)


def leaves(document: dict[str, Any]) -> dict[str, Any]:
    """Every field of a document by its path; tables without fields do not count."""
    return {change.path: change.after for change in differences({}, document)}


class TestDifferences:
    def test_tells_each_field_by_its_path_in_order(self) -> None:
        before = {"width": "32 in", "head": {"shape": "square"}, "note": "x"}
        after = {"width": "33 in", "head": {"shape": "segmental", "rise": "4 in"}}
        assert differences(before, after) == [
            FieldChange("width", "32 in", "33 in"),
            FieldChange("head.shape", "square", "segmental"),
            FieldChange("head.rise", None, "4 in"),
            FieldChange("note", "x", None),
        ]

    def test_takes_a_list_as_one_value(self) -> None:
        assert differences({"panes": ["a", "b"]}, {"panes": ["a"]}) == [
            FieldChange("panes", ["a", "b"], ["a"])
        ]

    def test_takes_a_table_and_a_short_form_as_one_value(self) -> None:
        assert differences({"lites": "3x2"}, {"lites": {"columns": 3}}) == [
            FieldChange("lites", "3x2", {"columns": 3})
        ]

    def test_finds_nothing_between_an_empty_table_and_none(self) -> None:
        assert differences({"changes": {}}, {}) == []

    @given(DOCUMENTS)
    def test_finds_nothing_in_the_same(self, document: dict[str, Any]) -> None:
        assert differences(document, document) == []


class TestMerge:
    def test_keeps_both_sides_changes(self) -> None:
        base = {"width": "32 in", "height": "60 in", "note": ""}
        mine = {**base, "width": "33 in"}
        theirs = {**base, "note": "sticks"}
        merged, conflicts = merge(base, mine, theirs)
        assert merged == {"width": "33 in", "height": "60 in", "note": "sticks"}
        assert conflicts == []

    def test_goes_into_tables(self) -> None:
        base = {"measured": {"upper": {"mass": "8 kg"}, "lower": {}}}
        mine = {"measured": {"upper": {"mass": "8.2 kg"}, "lower": {}}}
        theirs = {"measured": {"upper": {"mass": "8 kg"}, "lower": {"mass": "9 kg"}}}
        merged, conflicts = merge(base, mine, theirs)
        assert merged == {"measured": {"upper": {"mass": "8.2 kg"}, "lower": {"mass": "9 kg"}}}
        assert conflicts == []

    def test_tells_what_both_changed_differently(self) -> None:
        _, conflicts = merge({"w": 1, "h": 2}, {"w": 3, "h": 2}, {"w": 4, "h": 2})
        assert conflicts == [FieldConflict("w", 1, 3, 4)]

    def test_takes_the_same_change_on_both_sides_for_one(self) -> None:
        assert merge({"w": 1}, {"w": 3}, {"w": 3}) == ({"w": 3}, [])

    def test_tells_a_change_of_what_the_other_took_away(self) -> None:
        base = {"walls": {"bay": {"faces": 10}}}
        mine = {"walls": {"bay": {"faces": 20}}}
        _, conflicts = merge(base, mine, {"walls": {}})
        assert conflicts == [FieldConflict("walls.bay.faces", 10, 20, None)]

    def test_takes_a_table_and_a_short_form_as_one_value(self) -> None:
        shares = {"columns": 3, "column_shares": [1.0, 2.0, 1.0]}
        _, conflicts = merge({"lites": "1x1"}, {"lites": "3x2"}, {"lites": shares})
        assert conflicts == [FieldConflict("lites", "1x1", "3x2", shares)]

    @given(DOCUMENTS, DOCUMENTS)
    def test_gives_the_one_side_that_changed(
        self, base: dict[str, Any], mine: dict[str, Any]
    ) -> None:
        for sides in ((mine, base), (base, mine)):
            merged, conflicts = merge(base, *sides)
            assert conflicts == []
            assert leaves(merged) == leaves(mine)

    @given(DOCUMENTS, DOCUMENTS, DOCUMENTS)
    def test_is_the_same_from_both_sides(
        self, base: dict[str, Any], mine: dict[str, Any], theirs: dict[str, Any]
    ) -> None:
        merged, conflicts = merge(base, mine, theirs)
        other, mirrored = merge(base, theirs, mine)
        assert {c.path for c in conflicts} == {c.path for c in mirrored}
        if not conflicts:
            assert leaves(merged) == leaves(other)

    @given(DOCUMENTS, DOCUMENTS, DOCUMENTS)
    def test_loses_no_change_without_telling(
        self, base: dict[str, Any], mine: dict[str, Any], theirs: dict[str, Any]
    ) -> None:
        merged, conflicts = merge(base, mine, theirs)
        disputed = tuple(conflict.path for conflict in conflicts)
        for side in (mine, theirs):
            for change in differences(base, side):
                if not change.path.startswith(disputed):
                    assert leaves(merged).get(change.path) == change.after or isinstance(
                        change.after, dict
                    )


class TestWithFields:
    def test_sets_and_takes_away(self) -> None:
        document = {"width": "32 in", "beside": "101", "head": {"shape": "square"}}
        fields = {"width": "33", "beside": None, "head.rise": "4 in", "measured.lower.mass": "8 kg"}
        assert with_fields(document, fields) == {
            "width": "33",
            "head": {"shape": "square", "rise": "4 in"},
            "measured": {"lower": {"mass": "8 kg"}},
        }
        assert document["head"] == {"shape": "square"}

    def test_refuses_a_field_inside_of_a_value(self) -> None:
        with pytest.raises(KeyError, match=r"upper\.columns"):
            with_fields({"upper": "3x2"}, {"upper.columns": 4})
