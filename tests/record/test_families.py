"""Families and walls: added, renamed, removed."""

from __future__ import annotations

from typing import Any

import pytest
from django.contrib.auth.models import User

from sashwright.record import store
from tests.factories import family_document


class TestKeys:
    def test_come_with_their_names(self, elm: str, ann: User) -> None:
        store.add_family(elm, "C", family_document(name=""), ann)
        assert store.family_keys(elm) == {
            "A": "parlor floor, six over one",
            "B": "attic, one over one",
            "C": "",
        }
        with pytest.raises(store.NotThere):
            store.family_keys("nowhere")


class TestAddFamily:
    def test_keeps_it_in_full_behind_the_others(self, elm: str, bob: User) -> None:
        stored = store.add_family(elm, "C", family_document(), bob)
        assert (stored.kind, stored.key, stored.version) == ("family", "C", 1)
        assert stored.document["sash"]["thickness"] == "1 3/8 in"
        assert list(store.load_house(elm).families) == ["A", "B", "C"]
        assert store.changes(elm)[0].says == "family C added"

    @pytest.mark.parametrize(
        ("key", "fields", "at"),
        [
            ("A", {}, "key"),
            ("", {}, "key"),
            ("-", {}, "key"),
            ("C", {"sash": {"wood": "cheese"}}, "sash.wood"),
            ("C", {"sash": {"stile": "wide"}}, "sash.stile"),
            ("C", {"colour": "red"}, "colour"),
        ],
    )
    def test_refuses_a_wrong_one(
        self, elm: str, ann: User, key: str, fields: dict[str, Any], at: str
    ) -> None:
        with pytest.raises(store.Refused) as refused:
            store.add_family(elm, key, family_document(**fields), ann)
        assert refused.value.problems[0].field == at
        assert list(store.load_house(elm).families) == ["A", "B"]


class TestRenameFamily:
    def test_takes_its_windows_along(self, elm: str, ann: User) -> None:
        stored = store.rename_family(elm, "A", "parlor floor", ann)
        assert stored.key == "parlor floor"
        house = store.load_house(elm)
        assert list(house.families) == ["parlor floor", "B"]
        assert [window.family for window in house.windows] == ["parlor floor"] * 4 + ["B"]
        assert store.changes(elm)[0].says == "family A renamed parlor floor"

    def test_keeps_its_history_and_can_be_undone(self, elm: str, ann: User) -> None:
        before = store.export_document(elm)
        store.rename_family(elm, "A", "P", ann)
        history = store.changes(elm, "family", "P")
        assert len(history) == 2
        family = next(r for r in history[0].revisions if r.kind == "family")
        assert store.compare(family.id) == [store.FieldChange("key", "A", "P")]
        store.undo(history[0].id, ann)
        assert store.export_document(elm) == before

    @pytest.mark.parametrize("new", ["B", "", "x" * 65])
    def test_refuses_a_key_that_is_taken_or_none(self, elm: str, ann: User, new: str) -> None:
        with pytest.raises(store.Refused) as refused:
            store.rename_family(elm, "A", new, ann)
        assert refused.value.problems[0].field == "key"
        assert list(store.load_house(elm).families) == ["A", "B"]

    def test_of_none(self, elm: str, ann: User) -> None:
        with pytest.raises(store.NotThere, match="There is no family Z in this house"):
            store.rename_family(elm, "Z", "Y", ann)


class TestRemoveFamily:
    def test_is_refused_while_it_is_used(self, elm: str, ann: User) -> None:
        with pytest.raises(store.Refused, match="found used by window 301, expected no window"):
            store.remove_family(elm, "B", ann)

    def test_can_be_undone(self, elm: str, ann: User) -> None:
        store.remove_window(elm, "301", ann)
        change = store.remove_family(elm, "B", ann)
        assert list(store.load_house(elm).families) == ["A"]
        store.undo(change.pk, ann)
        assert list(store.load_house(elm).families) == ["A", "B"]

    def test_cannot_be_left_out_of_undoing_it_for_its_windows(self, elm: str, ann: User) -> None:
        """A window cannot come back while its family is gone."""
        window = store.remove_window(elm, "301", ann)
        store.remove_family(elm, "B", ann)
        with pytest.raises(store.Refused, match=r"windows\.301\.family"):
            store.undo(window.pk, ann)


class TestRenameWall:
    def test_takes_its_windows_along(self, elm: str, ann: User) -> None:
        store.rename_wall(elm, "east", "street", ann)
        house = store.load_house(elm)
        assert list(house.walls) == ["north", "street", "south", "west"]
        assert house.windows[0].wall == "street"
        assert store.changes(elm)[0].says == "wall east renamed street"

    def test_refuses_a_name_that_is_taken_or_none(self, elm: str, ann: User) -> None:
        for new in ("south", ""):
            with pytest.raises(store.Refused):
                store.rename_wall(elm, "east", new, ann)
        with pytest.raises(store.NotThere, match="There is no wall bay"):
            store.rename_wall(elm, "bay", "x", ann)

    def test_a_wall_with_windows_cannot_be_saved_away(self, elm: str, ann: User) -> None:
        stored = store.stored(elm, "house")
        walls = {key: wall for key, wall in stored.document["walls"].items() if key != "east"}
        with pytest.raises(store.Refused, match=r"windows\.101\.wall"):
            store.save(elm, "house", "", {**stored.document, "walls": walls}, stored.version, ann)
