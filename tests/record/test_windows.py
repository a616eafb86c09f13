"""Windows added, removed and renumbered."""

from __future__ import annotations

from typing import Any

import pytest
from django.contrib.auth.models import User

from sashwright.record import store
from tests.factories import house_document, window_document


def numbers(slug: str) -> list[str]:
    return [window.number for window in store.load_house(slug).windows]


class TestAdd:
    def test_puts_a_window_behind_the_others(self, elm: str, bob: User) -> None:
        stored = store.add_window(elm, window_document("302", width="2'-6\""), bob)
        assert (stored.kind, stored.key, stored.version) == ("window", "302", 1)
        assert stored.document["width"] == "30 in"
        assert numbers(elm)[-1] == "302"
        change = store.changes(elm)[0]
        assert (change.says, change.who) == ("window 302 added", "bob")

    def test_takes_bare_numbers_in_the_units_of_the_house(self, ann: User) -> None:
        slug = store.create_house(
            house_document(units="metric", families={"A": {}}, windows=[]), ann
        )
        stored = store.add_window(slug, window_document(width="813", height=1588), ann)
        assert stored.document["width"] == "813 mm"
        assert stored.document["height"] == "1588 mm"

    def test_adds_many_as_one_change(self, elm: str, ann: User) -> None:
        stored = store.add_windows(elm, [window_document("401"), window_document("402")], ann)
        assert [one.key for one in stored] == ["401", "402"]
        assert store.changes(elm)[0].says == "windows 401 and 402 added"
        assert len(store.changes(elm)) == 2

    def test_lets_new_windows_stand_beside_each_other(self, elm: str, ann: User) -> None:
        pair = [window_document("401L"), window_document("401R", beside="401L")]
        assert store.add_windows(elm, pair, ann)[1].document["beside"] == "401L"

    @pytest.mark.parametrize(
        ("fields", "at"),
        [
            ({"number": "101"}, "number"),
            ({"number": "a b"}, "number"),
            ({"width": "wide"}, "width"),
            ({"width": "6"}, "upper.lites"),
            ({"family": "Z"}, "family"),
            ({"wall": "bay"}, "wall"),
            ({"beside": "103L"}, "beside"),
            ({"beside": "999"}, "beside"),
            ({"changes": {"sash": {"wood": "cheese"}}}, "changes.sash.wood"),
            ({"note": "a\0b"}, "window"),
        ],
    )
    def test_refuses_a_wrong_one_by_its_own_fields(
        self, elm: str, ann: User, fields: dict[str, Any], at: str
    ) -> None:
        with pytest.raises(store.Refused) as refused:
            store.add_window(elm, {**window_document("302"), **fields}, ann)
        assert refused.value.problems[0].field == at
        assert len(store.changes(elm)) == 1

    def test_refuses_all_for_one_and_says_which(self, elm: str, ann: User) -> None:
        documents = [window_document("401"), window_document("402", width="6")]
        with pytest.raises(store.Refused, match=r"^windows\.1\.upper\.lites"):
            store.add_windows(elm, documents, ann)
        documents = [window_document("401", x=1), window_document("402", width="")]
        with pytest.raises(store.Refused) as refused:
            store.add_windows(elm, documents, ann)
        assert [p.field for p in refused.value.problems] == ["windows.0.x", "windows.1.width"]
        assert "401" not in numbers(elm)

    def test_refuses_a_number_given_twice(self, elm: str, ann: User) -> None:
        with pytest.raises(store.Refused, match="a number no other window has"):
            store.add_windows(elm, [window_document("401"), window_document("401")], ann)

    def test_of_none_is_no_change(self, elm: str, ann: User) -> None:
        assert store.add_windows(elm, [], ann) == []
        assert len(store.changes(elm)) == 1


class TestNextNumber:
    def test_follows_the_last_window_or_the_one_named(self, elm: str, ann: User) -> None:
        assert store.next_number(elm) == "302"
        assert store.next_number(elm, "101") == "103"
        assert store.next_number(elm, "204") == "205"

    def test_may_use_the_number_of_a_removed_window(self, elm: str, ann: User) -> None:
        store.remove_window(elm, "102", ann)
        assert store.next_number(elm, "101") == "102"

    def test_of_an_empty_house(self, ann: User) -> None:
        assert store.next_number(store.create_house({"name": "Mill"}, ann)) == "101"


class TestRemove:
    def test_takes_one_window_away(self, elm: str, bob: User) -> None:
        change = store.remove_window(elm, "102", bob)
        assert change.says == "window 102 removed"
        assert numbers(elm) == ["101", "103L", "103R", "301"]
        with pytest.raises(store.NotThere, match="There is no window 102"):
            store.stored(elm, "window", "102")

    def test_leaves_its_neighbour_standing_alone(self, elm: str, ann: User) -> None:
        change = store.remove_window(elm, "103L", ann)
        assert "beside" not in store.stored(elm, "window", "103R").document
        store.undo(change.pk, ann)
        assert store.stored(elm, "window", "103R").document["beside"] == "103L"
        assert numbers(elm) == ["101", "102", "103L", "103R", "301"]

    def test_says_when_it_is_not_there(self, elm: str, ann: User) -> None:
        with pytest.raises(store.NotThere, match="There is no window 999 in this house"):
            store.remove_window(elm, "999", ann)

    def test_frees_its_number_for_another(self, elm: str, ann: User) -> None:
        removal = store.remove_window(elm, "102", ann)
        store.add_window(elm, window_document("102", room="hall"), ann)
        with pytest.raises(store.Refused, match="a number no other window has"):
            store.undo(removal.pk, ann)
        assert store.stored(elm, "window", "102").document["room"] == "hall"


class TestRenumber:
    def test_takes_along_neighbour_readings_and_history(self, elm: str, ann: User) -> None:
        store.add_reading(elm, "103L", "lower", 8.0, "finished", ann)
        stored = store.renumber_window(elm, "103L", "104", ann)
        assert (stored.key, stored.document["number"]) == ("104", "104")
        assert store.stored(elm, "window", "103R").document["beside"] == "104"
        assert [reading.which for reading in store.readings(elm, "104")] == ["lower"]
        says = [change.says for change in store.changes(elm, "window", "104")]
        assert says[0] == "window 103L renumbered 104"
        assert says[-1].startswith("house made")
        assert numbers(elm) == ["101", "102", "104", "103R", "301"]

    def test_can_be_undone(self, elm: str, ann: User) -> None:
        before = store.export_document(elm)
        store.renumber_window(elm, "103L", "104", ann)
        store.undo(store.changes(elm)[0].id, ann)
        assert store.export_document(elm) == before

    @pytest.mark.parametrize("new", ["102", "a b", "", "12345678901234567"])
    def test_refuses_a_number_that_is_taken_or_none(self, elm: str, ann: User, new: str) -> None:
        with pytest.raises(store.Refused) as refused:
            store.renumber_window(elm, "101", new, ann)
        assert refused.value.problems[0].field == "number"
        assert numbers(elm)[0] == "101"

    def test_to_the_same_number_is_no_change(self, elm: str, ann: User) -> None:
        assert store.renumber_window(elm, "101", "101", ann).version == 1
        assert len(store.changes(elm)) == 1

    def test_also_happens_when_the_number_is_saved(self, elm: str, ann: User) -> None:
        stored = store.stored(elm, "window", "103L")
        document = {**stored.document, "number": "104"}
        assert store.save(elm, "window", "103L", document, stored.version, ann).key == "104"
        assert store.stored(elm, "window", "103R").document["beside"] == "104"


class TestNumbers:
    def test_stand_in_the_order_of_the_house(self, elm: str, ann: User) -> None:
        store.remove_window(elm, "102", ann)
        assert store.window_numbers(elm) == ["101", "103L", "103R", "301"]
        assert store.window_numbers(elm, "B") == ["301"]
        assert store.window_numbers(elm, "Z") == []
        with pytest.raises(store.NotThere):
            store.window_numbers("nowhere")

    def test_the_house_tells_when_it_changed_last(self, elm: str, ann: User) -> None:
        before = store.changed_at(elm)
        store.remove_window(elm, "102", ann)
        assert store.changed_at(elm) > before
        with pytest.raises(store.NotThere):
            store.changed_at("nowhere")


class TestKeepMarks:
    def test_is_one_change_that_can_be_undone(self, elm: str, ann: User) -> None:
        change = store.keep_marks(elm, {"101": "104", "301": "301"}, ann)
        assert change is not None
        assert change.says == "marks 104 and 301 kept"
        marks = {window.number: window.mark for window in store.load_house(elm).windows}
        assert marks == {"101": "104", "102": None, "103L": None, "103R": None, "301": "301"}
        assert store.keep_marks(elm, {"101": "104"}, ann) is None
        store.undo(change.pk, ann)
        assert store.load_house(elm).windows[0].mark is None

    def test_refuses_what_cannot_be_cut(self, elm: str, ann: User) -> None:
        with pytest.raises(store.Refused):
            store.keep_marks(elm, {"101": "104", "102": "a mark"}, ann)
        with pytest.raises(store.NotThere):
            store.keep_marks(elm, {"999": "104"}, ann)
        assert len(store.changes(elm)) == 1
