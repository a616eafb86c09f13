"""The history: told, compared, undone and done again."""

from __future__ import annotations

from typing import Any

import pytest
from django.contrib.auth.models import User

from sashwright.record import store
from tests.factories import window_document


def width_of(slug: str) -> str:
    return str(store.stored(slug, "window", "101").document["width"])


def set_width(slug: str, width: str, who: User, number: str = "101") -> int:
    """Save a width on what is there now; answer the change."""
    version = store.stored(slug, "window", number).version
    store.save_fields(slug, "window", number, {"width": width}, version, who)
    return store.changes(slug)[0].id


class TestChanges:
    def test_come_newest_first_and_not_too_many(self, elm: str, ann: User) -> None:
        for width in ("33", "34", "35"):
            set_width(elm, width, ann)
        told = store.changes(elm, limit=2)
        assert [change.says[-14:] for change in told] == ["34 in to 35 in", "33 in to 34 in"]
        assert told[0].when >= told[1].when

    def test_of_one_thing_only(self, elm: str, ann: User) -> None:
        set_width(elm, "33", ann)
        store.save_fields(elm, "family", "A", {"name": "x"}, 1, ann)
        store.save_fields(elm, "house", "", {"owner": "x"}, 1, ann)
        assert len(store.changes(elm)) == 4
        assert len(store.changes(elm, "window", "101")) == 2
        assert len(store.changes(elm, "window", "102")) == 1
        assert len(store.changes(elm, "window")) == 2
        assert len(store.changes(elm, "family", "A")) == 2
        assert len(store.changes(elm, "house")) == 2
        with pytest.raises(store.NotThere, match="There is and was no window 999"):
            store.changes(elm, "window", "999")

    def test_of_one_house_only(self, elm: str, ann: User) -> None:
        other = store.create_house({"name": "Mill"}, ann)
        set_width(elm, "33", ann)
        assert len(store.changes(other)) == 1
        with pytest.raises(store.NotThere):
            store.changes("nowhere")

    def test_of_a_removed_window_remain(self, elm: str, ann: User) -> None:
        store.remove_window(elm, "102", ann)
        removed = store.changes(elm, "window", "102")[0]
        assert removed.revisions[0].did == "removed"

    def test_of_what_was_once_called_so(self, elm: str, ann: User) -> None:
        store.renumber_window(elm, "102", "104", ann)
        assert store.changes(elm, "window", "102") == store.changes(elm, "window", "104")
        store.add_window(elm, window_document("102"), ann)
        assert [change.says for change in store.changes(elm, "window", "102")] == [
            "window 102 added"
        ]

    def test_ask_the_database_little(self, elm: str, django_assert_max_num_queries: Any) -> None:
        with django_assert_max_num_queries(3):
            store.changes(elm)


class TestCompare:
    def test_tells_fields_before_and_after(self, elm: str, ann: User) -> None:
        fields = {"width": "33", "beside": "102", "room": "hall"}
        store.save_fields(elm, "window", "101", fields, 1, ann)
        revision = store.changes(elm)[0].revisions[0]
        assert (revision.kind, revision.key, revision.version) == ("window", "101", 2)
        assert store.compare(revision.id) == [
            store.FieldChange("room", "parlor", "hall"),
            store.FieldChange("width", "32 in", "33 in"),
            store.FieldChange("beside", None, "102"),
        ]

    def test_tells_all_of_what_was_added_or_removed(self, elm: str, ann: User) -> None:
        store.add_window(elm, window_document("302"), ann)
        added = store.compare(store.changes(elm)[0].revisions[0].id)
        assert store.FieldChange("width", None, "32 in") in added
        store.remove_window(elm, "302", ann)
        removed = store.compare(store.changes(elm)[0].revisions[0].id)
        assert store.FieldChange("width", "32 in", None) in removed

    def test_of_nothing(self, db: None) -> None:
        with pytest.raises(store.NotThere, match="There is no revision 7"):
            store.compare(7)


class TestUndo:
    def test_puts_back_what_was(self, elm: str, ann: User, bob: User) -> None:
        change = set_width(elm, "33", ann)
        undoing = store.undo(change, bob)
        assert width_of(elm) == "32 in"
        last, undone, _ = store.changes(elm)
        assert (last.id, last.who) == (undoing.pk, "bob")
        assert last.says == "undid: window 101: width 32 in to 33 in"
        assert (last.undone, undone.undone) == (False, True)

    def test_again_and_again(self, elm: str, ann: User) -> None:
        first = set_width(elm, "33", ann)
        change = first
        for turn, width in enumerate(("32 in", "33 in", "32 in", "33 in")):
            change = store.undo(change, ann).pk
            assert width_of(elm) == width
            flags = {told.id: told.undone for told in store.changes(elm)}
            assert flags[first] == (turn % 2 == 0)
            assert not flags[change]
        assert store.changes(elm)[0].says == "did again: window 101: width 32 in to 33 in"
        store.undo(first, ann)
        assert width_of(elm) == "32 in"

    def test_twice_is_refused(self, elm: str, ann: User) -> None:
        change = set_width(elm, "33", ann)
        store.undo(change, ann)
        with pytest.raises(store.Refused, match="found one that is undone already"):
            store.undo(change, ann)

    def test_leaves_what_others_changed_since(self, elm: str, ann: User, bob: User) -> None:
        change = set_width(elm, "33", ann)
        store.save_fields(elm, "window", "101", {"note": "sticks"}, 2, bob)
        store.undo(change, ann)
        document = store.stored(elm, "window", "101").document
        assert (document["width"], document["note"]) == ("32 in", "sticks")

    def test_is_a_conflict_where_the_field_was_changed_since(
        self, elm: str, ann: User, bob: User
    ) -> None:
        change = set_width(elm, "33", ann)
        set_width(elm, "34", bob)
        with pytest.raises(store.Conflict) as conflict:
            store.undo(change, ann)
        assert conflict.value.who == "bob"
        assert conflict.value.fields == [store.FieldConflict("width", "33 in", "32 in", "34 in")]
        assert width_of(elm) == "34 in"
        assert len(store.changes(elm)) == 3

    def test_does_not_mind_a_later_change_back(self, elm: str, ann: User) -> None:
        change = set_width(elm, "33", ann)
        set_width(elm, "32", ann)
        store.undo(change, ann)
        assert width_of(elm) == "32 in"

    def test_of_an_addition_takes_it_away(self, elm: str, ann: User) -> None:
        store.add_window(elm, window_document("302"), ann)
        undoing = store.undo(store.changes(elm)[0].id, ann)
        with pytest.raises(store.NotThere):
            store.stored(elm, "window", "302")
        store.undo(undoing.pk, ann)
        assert store.stored(elm, "window", "302").document["width"] == "32 in"

    def test_of_an_addition_is_a_conflict_once_it_was_worked_on(
        self, elm: str, ann: User, bob: User
    ) -> None:
        store.add_window(elm, window_document("302"), ann)
        change = store.changes(elm)[0].id
        set_width(elm, "33", bob, "302")
        with pytest.raises(store.Conflict) as conflict:
            store.undo(change, ann)
        assert conflict.value.fields == [store.FieldConflict("width", "32 in", None, "33 in")]

    def test_of_an_addition_that_is_gone_already(self, elm: str, ann: User) -> None:
        store.add_window(elm, window_document("302"), ann)
        change = store.changes(elm)[0].id
        store.remove_window(elm, "302", ann)
        store.undo(change, ann)
        assert store.changes(elm, "window", "302")[-1].undone

    def test_of_a_change_to_what_is_gone(self, elm: str, ann: User) -> None:
        change = set_width(elm, "33", ann)
        store.remove_window(elm, "101", ann)
        with pytest.raises(store.NotThere, match="Window 101 has been removed since"):
            store.undo(change, ann)

    def test_is_refused_where_the_house_would_contradict_itself(self, elm: str, ann: User) -> None:
        store.add_family(elm, "C", {}, ann)
        change = store.changes(elm)[0].id
        store.save_fields(elm, "window", "101", {"family": "C"}, 1, ann)
        with pytest.raises(store.Refused, match=r"windows\.101\.family"):
            store.undo(change, ann)

    def test_of_a_whole_house(self, elm: str, ann: User) -> None:
        before = store.export_document(elm)
        undoing = store.undo(store.changes(elm)[0].id, ann)
        assert store.list_houses() == []
        store.undo(undoing.pk, ann)
        assert store.export_document(elm) == before

    def test_within_a_removed_house(self, elm: str, ann: User) -> None:
        change = set_width(elm, "33", ann)
        store.remove_house(elm, ann)
        with pytest.raises(store.NotThere, match="has been removed; put it back first"):
            store.undo(change, ann)

    def test_in_other_units_than_then(self, elm: str, ann: User) -> None:
        change = set_width(elm, "33", ann)
        store.save_fields(elm, "house", "", {"units": "metric"}, 1, ann)
        store.save_fields(elm, "window", "101", {"note": "x"}, 2, ann)
        store.undo(change, ann)
        assert width_of(elm) == "812.8 mm"

    def test_of_nothing(self, ann: User) -> None:
        with pytest.raises(store.NotThere, match="There is no change 7"):
            store.undo(7, ann)


class TestOneChange:
    def test_is_found_by_its_number(self, elm: str, ann: User) -> None:
        change = set_width(elm, "33", ann)
        assert store.change(elm, change) == store.changes(elm)[0]

    def test_of_another_house_is_not_there(self, elm: str, ann: User) -> None:
        other = store.create_house({"name": "Mill"}, ann)
        with pytest.raises(store.NotThere, match="There is no change"):
            store.change(other, set_width(elm, "33", ann))

    def test_tells_what_it_takes_back_however_often(self, elm: str, ann: User) -> None:
        change = set_width(elm, "33", ann)
        for _ in range(4):
            change = store.undo(change, ann).pk
        told = [row.undoes for row in store.changes(elm, "window", "101")[:5]]
        assert told == ["an undoing", "a change", "an undoing", "a change", "nothing"]
        assert store.change(elm, change).undoes == "an undoing"

    def test_is_not_taken_by_its_words(self, elm: str, ann: User) -> None:
        version = store.stored(elm, "house").version
        store.save_fields(elm, "house", "", {"owner": "undid: nothing"}, version, ann)
        assert store.changes(elm)[0].undoes == "nothing"
