"""One person saves, or two at once: nothing is lost unnoticed."""

from __future__ import annotations

from typing import Any

import pytest
from django.contrib.auth.models import User

from sashwright.record import models, store


class TestSave:
    def test_keeps_a_window(self, elm: str, bob: User) -> None:
        was = store.stored(elm, "window", "101")
        document = {**was.document, "width": "32 1/2"}
        now = store.save(elm, "window", "101", document, was.version, bob)
        assert now.document == {**was.document, "width": "32 1/2 in"}
        assert (now.key, now.version, now.merged) == ("101", was.version + 1, False)
        assert store.stored(elm, "window", "101") == now
        change = store.changes(elm)[0]
        assert (change.says, change.who) == ("window 101: width 32 in to 32 1/2 in", "bob")

    def test_keeps_a_family(self, elm: str, ann: User) -> None:
        was = store.stored(elm, "family", "A")
        document = {**was.document, "name": "front rooms"}
        store.save(elm, "family", "A", document, was.version, ann)
        assert store.load_house(elm).families["A"].name == "front rooms"
        says = "family A: name parlor floor, six over one to front rooms"
        assert store.changes(elm)[0].says == says

    def test_keeps_a_house(self, elm: str, ann: User) -> None:
        was = store.stored(elm, "house")
        store.save(elm, "house", "", {**was.document, "name": "Elm House"}, was.version, ann)
        assert store.list_houses()[0].name == "Elm House"
        assert store.changes(elm)[0].says == "house: name 12 Elm Street to Elm House"

    def test_says_what_it_is_told_to(self, elm: str, ann: User) -> None:
        store.save_fields(elm, "window", "101", {"note": "x"}, 1, ann, says="noted on site")
        assert store.changes(elm)[0].says == "noted on site"

    def test_of_the_same_is_no_change(self, elm: str, ann: User) -> None:
        was = store.stored(elm, "window", "101")
        document = {**was.document, "width": "2'-8\""}
        assert store.save(elm, "window", "101", document, was.version, ann) == was
        assert len(store.changes(elm)) == 1

    def test_in_other_units_is_no_change_either(self, elm: str, ann: User) -> None:
        house = store.stored(elm, "house")
        store.save(elm, "house", "", {**house.document, "units": "metric"}, house.version, ann)
        was = store.stored(elm, "window", "101")
        assert was.document["width"] == "812.8 mm"
        assert store.save(elm, "window", "101", was.document, was.version, ann) == was
        assert len(store.changes(elm)) == 2
        now = store.save_fields(elm, "window", "101", {"width": "800"}, was.version, ann)
        assert now.document["width"] == "800 mm"
        (change,) = store.compare(store.changes(elm)[0].revisions[0].id)
        assert change == store.FieldChange("width", "812.8 mm", "800 mm")

    @pytest.mark.parametrize(
        ("kind", "key", "fields", "at"),
        [
            ("window", "101", {"width": "wide"}, "width"),
            ("window", "101", {"width": "6"}, "upper.lites"),
            ("window", "101", {"family": "Z"}, "family"),
            ("window", "101", {"number": "102"}, "number"),
            ("window", "103R", {"beside": "103R"}, "beside"),
            ("window", "101", {"width": None}, "width"),
            ("family", "A", {"sash.stile": "wide"}, "sash.stile"),
            ("family", "A", {"sash.wood": "cheese"}, "sash.wood"),
            (
                "family",
                "B",
                {"sash.bottom_rail": "24", "sash.top_rail": "24"},
                "windows.301.height",
            ),
            ("house", "", {"name": ""}, "name"),
            ("house", "", {"walls.north.faces": "up"}, "walls.north.faces"),
            ("house", "", {"changeover.front": "nowhere"}, "changeover.front"),
            ("house", "", {"running.heating": "a dragon"}, "running.heating"),
            ("house", "", {"families": {"A": {}}}, "families"),
            ("family", "A", {"sash.lites.columns": 2}, "sash.lites.columns"),
        ],
    )
    def test_refuses_what_is_wrong_by_its_own_fields(
        self, elm: str, ann: User, kind: Any, key: str, fields: dict[str, Any], at: str
    ) -> None:
        with pytest.raises(store.Refused) as refused:
            store.save_fields(elm, kind, key, fields, 1, ann)
        assert at in [problem.field for problem in refused.value.problems]
        assert len(store.changes(elm)) == 1

    def test_says_what_is_not_there(self, elm: str, ann: User) -> None:
        document = store.stored(elm, "window", "101").document
        for slug, kind, key in (
            ("mill", "window", "101"), (elm, "window", "999"), (elm, "family", "Z"),
        ):  # fmt: skip
            with pytest.raises(store.NotThere):
                store.save(slug, kind, key, document, 1, ann)  # type: ignore[arg-type]

    def test_does_not_hold_up_work_for_an_old_fault(self, elm: str, ann: User) -> None:
        """A window that a changed rule now finds faulty can be put right field by field."""
        row = models.Window.objects.get(number="101")
        row.document["width"] = "6 in"
        row.save()
        assert store.save_fields(elm, "window", "101", {"note": "narrow"}, 1, ann).version == 2
        assert store.save_fields(elm, "family", "A", {"sash.coats": 4}, 1, ann).version == 2
        with pytest.raises(store.Refused, match=r"^upper\.lites: found lites"):
            store.save_fields(elm, "window", "102", {"width": "6"}, 1, ann)


class TestTwoPeople:
    def test_different_fields_are_merged(self, elm: str, ann: User, bob: User) -> None:
        was = store.stored(elm, "window", "101")
        store.save(elm, "window", "101", {**was.document, "width": "33"}, was.version, ann)
        document = {**was.document, "note": "sticks", "measured": {"lower": {"mass": "18 lb"}}}
        now = store.save(elm, "window", "101", document, was.version, bob)
        assert now.merged
        assert now.version == was.version + 2
        assert now.document["width"] == "33 in"
        assert now.document["note"] == "sticks"
        assert now.document["measured"]["lower"]["mass"] == "18 lb"
        assert store.changes(elm)[0].says == (
            "window 101: note set to sticks, measured lower mass set to 18 lb"
        )

    def test_the_same_field_alike_is_agreed(self, elm: str, ann: User, bob: User) -> None:
        store.save_fields(elm, "window", "101", {"width": "33"}, 1, ann)
        now = store.save_fields(elm, "window", "101", {"width": "33 in"}, 1, bob)
        assert now.version == 2
        assert len(store.changes(elm)) == 2

    def test_the_same_field_differently_is_a_conflict(self, elm: str, ann: User, bob: User) -> None:
        was = store.stored(elm, "window", "101")
        store.save_fields(elm, "window", "101", {"width": "33", "note": "a"}, 1, ann)
        before = store.stored(elm, "window", "101")
        with pytest.raises(store.Conflict) as conflict:
            store.save(elm, "window", "101", {**was.document, "width": "34"}, was.version, bob)
        error = conflict.value
        assert error.theirs == before
        assert error.fields == [store.FieldConflict("width", "32 in", "34 in", "33 in")]
        assert error.who == "Ann Alder"
        assert error.when == store.changes(elm)[0].when
        assert str(error) == "Window 101 was changed by Ann Alder in the meantime: width."
        assert store.stored(elm, "window", "101") == before
        assert len(store.changes(elm)) == 2

    def test_a_conflict_is_settled_by_saving_on_the_newer_version(
        self, elm: str, ann: User, bob: User
    ) -> None:
        store.save_fields(elm, "window", "101", {"width": "33"}, 1, ann)
        with pytest.raises(store.Conflict) as conflict:
            store.save_fields(elm, "window", "101", {"width": "34"}, 1, bob)
        version = conflict.value.theirs.version
        now = store.save_fields(elm, "window", "101", {"width": "34"}, version, bob)
        assert now.document["width"] == "34 in"

    def test_right_apart_but_wrong_together_is_a_conflict(
        self, elm: str, ann: User, bob: User
    ) -> None:
        """One adds a second pane and its gap, the other makes the rabbet shallower."""
        panes = {
            "sash.thickness": "1 3/4",
            "sash.rabbet_depth": "1",
            "sash.glazing": {"panes": ["double-strength"] * 2, "gaps": ["1/2"]},
        }
        one = store.save_fields(elm, "family", "B", {"sash.thickness": "2"}, 1, ann)
        version = one.version
        store.save_fields(elm, "family", "B", panes, version, ann)
        with pytest.raises(store.Conflict) as conflict:
            store.save_fields(elm, "family", "B", {"sash.moulding.depth": "7/8"}, version, bob)
        paths = {field.path for field in conflict.value.fields}
        assert "sash.moulding.depth" in paths
        assert "sash.glazing.panes" in paths

    def test_wrong_by_itself_is_refused_whatever_the_other_did(
        self, elm: str, ann: User, bob: User
    ) -> None:
        store.save_fields(elm, "window", "101", {"room": "study"}, 1, ann)
        with pytest.raises(store.Refused) as refused:
            store.save_fields(elm, "window", "101", {"width": "6"}, 1, bob)
        assert refused.value.problems[0].field == "upper.lites"
        assert len(store.changes(elm)) == 2

    def test_a_removed_window_cannot_be_saved(self, elm: str, ann: User, bob: User) -> None:
        was = store.stored(elm, "window", "101")
        store.remove_window(elm, "101", ann)
        with pytest.raises(store.NotThere, match="There is no window 101 in this house"):
            store.save(elm, "window", "101", was.document, was.version, bob)

    def test_a_version_that_never_was_overwrites_nothing(self, elm: str, ann: User) -> None:
        """As after an older backup was put back while a page stood open."""
        was = store.stored(elm, "window", "101")
        for version in (0, 7):
            with pytest.raises(store.Conflict) as conflict:
                store.save_fields(elm, "window", "101", {"width": "34"}, version, ann)
            assert [field.path for field in conflict.value.fields] == ["width"]
        assert store.stored(elm, "window", "101") == was

    def test_long_after_others_saved_often(self, elm: str, ann: User, bob: User) -> None:
        for version, width in enumerate(("33", "34", "35"), start=1):
            store.save_fields(elm, "window", "101", {"width": width}, version, ann)
        now = store.save_fields(elm, "window", "101", {"room": "study"}, 1, bob)
        assert (now.document["width"], now.document["room"]) == ("35 in", "study")
