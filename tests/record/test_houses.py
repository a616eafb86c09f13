"""Houses made, brought in, listed, read, written out and removed."""

from __future__ import annotations

from typing import Any

import pytest
from django.contrib.auth.models import User
from django.utils import timezone
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase

from sashwright.knowledge.load import load
from sashwright.record import models, store
from sashwright.window.check import house_from
from tests.factories import family_document, house_document, make_house, window_document


def everything() -> dict[str, Any]:
    """All that is in the tables, to see that a refusal changed nothing."""
    tables = (
        models.House, models.Family, models.Window, models.Change, models.Revision, models.Reading,
    )  # fmt: skip
    return {
        table.__name__: list(table._default_manager.order_by("pk").values()) for table in tables
    }


class TestCreate:
    def test_keeps_exactly_what_the_document_says(self, elm: str) -> None:
        assert store.load_house(elm) == make_house()

    def test_is_one_change_with_a_revision_for_each_part(self, elm: str, ann: User) -> None:
        (change,) = store.changes(elm)
        assert change.says == "house made with 2 families and 5 windows"
        assert change.who == "Ann Alder"
        assert (timezone.now() - change.when).total_seconds() < 60
        assert len(change.revisions) == 1 + 2 + 5
        assert {revision.did for revision in change.revisions} == {"added"}

    def test_needs_no_more_than_a_name(self, ann: User) -> None:
        slug = store.create_house({"name": "Mill Lane 3"}, ann)
        house = store.load_house(slug)
        assert house.name == "Mill Lane 3"
        assert house.windows == ()

    def test_gives_each_house_its_own_address(self, ann: User) -> None:
        slugs = [store.create_house({"name": name}, ann) for name in ("Elm 12", "Elm, 12", "水")]
        assert slugs == ["elm-12", "elm-12-2", "house"]

    def test_is_never_called_like_a_page_of_the_site(self, ann: User) -> None:
        slugs = [store.create_house({"name": name}, ann) for name in ("New", "new!", "Sign in")]
        assert slugs == ["new-2", "new-3", "sign-in-2"]

    @pytest.mark.parametrize(
        ("fields", "at"),
        [
            ({"name": ""}, "name"),
            ({"colour": "red"}, "colour"),
            ({"windows": [window_document(width="wide")]}, "windows.0.width"),
            ({"windows": [window_document(family="Z")]}, "windows.0.family"),
            ({"windows": [window_document(), window_document()]}, "windows.1.number"),
            ({"windows": [window_document(beside="999")]}, "windows.0.beside"),
            (
                {"families": {"A": family_document(sash={"wood": "cheese"})}},
                "families.A.sash.wood",
            ),
        ],
    )
    def test_refuses_a_wrong_house_and_makes_nothing(
        self, ann: User, fields: dict[str, Any], at: str
    ) -> None:
        before = everything()
        with pytest.raises(store.Refused) as refused:
            store.create_house(house_document(**fields), ann)
        assert at in {problem.field for problem in refused.value.problems}
        assert str(refused.value).count("found") >= 1
        assert everything() == before


class TestImport:
    def test_makes_a_new_house_beside_one_of_the_same_name(self, elm: str, ann: User) -> None:
        slug = store.import_house(store.export_document(elm), ann)
        assert slug == f"{elm}-2"
        assert store.load_house(slug) == store.load_house(elm)

    def test_replaces_a_house_in_one_change(self, elm: str, bob: User) -> None:
        document = house_document(
            name="12 Elm Street, rear",
            families={"B": family_document(), "C": family_document()},
            windows=[
                window_document("301", family="B", width="30"),
                window_document("101", family="C"),
            ],
        )
        assert store.import_house(document, bob, elm) == elm
        assert store.load_house(elm) == house_from(document, load())
        change = store.changes(elm)[0]
        assert change.says == "contents replaced by a file with 2 families and 2 windows"
        assert change.who == "bob"
        did = {(revision.kind, revision.key): revision.did for revision in change.revisions}
        assert did["window", "101"] == "changed"
        assert did["window", "102"] == "removed"
        assert did["family", "C"] == "added"

    def test_can_be_undone_to_the_letter(self, elm: str, ann: User) -> None:
        before = store.export_document(elm)
        document = house_document(windows=[window_document("301"), window_document("101")])
        store.import_house(document, ann, elm)
        store.undo(store.changes(elm)[0].id, ann)
        assert store.export_document(elm) == before

    def test_in_another_order_can_be_undone_after_yet_another(self, elm: str, ann: User) -> None:
        first = house_document()
        for turn in (1, 2):
            windows = first["windows"][turn:] + first["windows"][:turn]
            store.import_house({**first, "windows": windows}, ann, elm)
        store.undo(store.changes(elm)[1].id, ann)
        assert len(store.load_house(elm).windows) == 5

    def test_of_the_same_contents_is_no_change(self, elm: str, ann: User) -> None:
        store.import_house(store.export_document(elm), ann, elm)
        assert len(store.changes(elm)) == 1

    def test_of_the_same_in_other_units_changes_the_house_alone(self, elm: str, ann: User) -> None:
        document = {**store.export_document(elm, "metric"), "units": "metric"}
        store.import_house(document, ann, elm)
        (revision,) = store.changes(elm)[0].revisions
        assert store.compare(revision.id) == [store.FieldChange("units", "us", "metric")]

    def test_keeps_the_readings_of_windows_that_stay(self, elm: str, ann: User) -> None:
        store.add_reading(elm, "101", "lower", 8.0, "finished", ann)
        store.import_house(house_document(), ann, elm)
        assert [reading.number for reading in store.readings(elm)] == ["101"]

    def test_refuses_a_wrong_file_and_changes_nothing(self, elm: str, ann: User) -> None:
        before = everything()
        document = house_document(windows=[window_document(width="32"), window_document("9", x=1)])
        for slug in (None, elm):
            with pytest.raises(store.Refused, match=r"windows\.1\.x"):
                store.import_house(document, ann, slug)
        assert everything() == before

    def test_says_when_there_is_no_such_house(self, ann: User) -> None:
        with pytest.raises(store.NotThere, match="There is no house mill-lane"):
            store.import_house(house_document(), ann, "mill-lane")


class TestWalls:
    def test_go_round_the_compass(self, ann: User) -> None:
        """Whatever the order they come in, and whatever order the database gives them back in."""
        walls = {"garden": {"faces": "W"}, "bay": {"faces": 100}, "street": {"faces": "E"}}
        document = {"name": "Mill", "walls": walls}
        slug = store.create_house(document, ann)
        expected = ["street", "bay", "garden"]
        assert list(store.load_house(slug).walls) == expected
        assert list(store.stored(slug, "house").document["walls"]) == expected
        assert list(store.export_document(slug)["walls"]) == expected


class TestExport:
    def test_comes_back_as_the_same_house(self, elm: str) -> None:
        assert house_from(store.export_document(elm), load()) == make_house()

    def test_says_the_same_in_other_units(self, elm: str) -> None:
        document = store.export_document(elm, "metric")
        assert document["windows"][0]["width"] == "812.8 mm"
        assert document["units"] == "us"
        assert house_from(document, load()) == make_house()

    def test_says_families_in_full_and_windows_in_short(self, elm: str) -> None:
        document = store.export_document(elm)
        assert document["families"]["B"]["hanging"]["pulley_drop"] == "4 1/2 in"
        assert "hung" not in document["windows"][0]


class TestRoundTrips(TestCase):
    """A house comes out as it went in, whatever it holds."""

    @given(
        st.lists(
            st.builds(
                window_document,
                width=st.sampled_from(["30", "2'-10 3/8\"", "873 mm", 31.123456, "0.8123457 m"]),
                height=st.floats(50, 80),
                note=st.text(st.characters(codec="utf-8", exclude_characters="\0"), max_size=20),
                hung=st.sampled_from(["double", "single"]),
                measured=st.builds(lambda kg: {"lower": {"mass": f"{kg!r} kg"}}, st.floats(1, 40)),
                changes=st.sampled_from([{}, {"sash": {"stile": "2 1/4 in"}}, {"strips": {}}]),
            ),
            max_size=4,
        ),
        st.sampled_from(["us", "metric"]),
    )
    def test_of_documents(self, windows: list[dict[str, Any]], units: str) -> None:
        ann = User.objects.get_or_create(username="ann")[0]
        if units == "metric":
            # Bare numbers would mean millimetres there.
            windows = [{**w, "width": "800 mm", "height": f"{w['height']!r} in"} for w in windows]
        windows = [{**window, "number": str(index + 1)} for index, window in enumerate(windows)]
        families = {"A": family_document()}
        document = house_document(units=units, families=families, windows=windows)
        slug = store.create_house(document, ann)
        house = house_from(document, load())
        assert store.load_house(slug) == house
        assert house_from(store.export_document(slug), load()) == house


class TestList:
    def test_counts_and_says_who_and_when(self, elm: str, ann: User, bob: User) -> None:
        store.create_house({"name": "Mill Lane 3"}, ann)
        store.remove_window(elm, "301", bob)
        first, second = store.list_houses()
        assert (first.slug, first.name, first.place) == (elm, "12 Elm Street", "Portland, Maine")
        assert (first.windows, first.families) == (4, 2)
        assert first.changed_by == "bob"
        assert first.changed_at == store.changes(elm)[0].when
        assert (second.name, second.windows, second.changed_by) == ("Mill Lane 3", 0, "Ann Alder")


class TestRemove:
    def test_takes_a_house_out_of_everything(self, elm: str, ann: User) -> None:
        store.remove_house(elm, ann)
        assert store.list_houses() == []
        for ask in (store.load_house, store.export_document, store.next_number):
            with pytest.raises(store.NotThere, match=f"There is no house {elm}"):
                ask(elm)
        with pytest.raises(store.NotThere):
            store.stored(elm, "window", "101")

    def test_can_be_undone(self, elm: str, ann: User) -> None:
        before = store.export_document(elm)
        store.remove_house(elm, ann)
        (removed,) = store.list_removed()
        assert (removed.slug, removed.windows) == (elm, 5)
        store.undo(store.removal_of(elm), ann)
        assert store.export_document(elm) == before
        assert store.list_removed() == []
        with pytest.raises(store.NotThere):
            store.removal_of(elm)

    def test_keeps_its_address_for_its_return(self, elm: str, ann: User) -> None:
        store.remove_house(elm, ann)
        assert store.create_house(house_document(), ann) == f"{elm}-2"

    def test_keeps_its_history_to_be_read(self, elm: str, ann: User) -> None:
        store.remove_house(elm, ann)
        assert store.changes(elm)[0].says == "house removed"


class TestLoad:
    def test_does_not_mind_geometry(self, elm: str) -> None:
        """A rule or table of the program may change after a house was kept."""
        window = models.Window.objects.get(number="101")
        window.document["width"] = "6 in"
        window.save()
        assert store.load_house(elm).windows[0].width == pytest.approx(0.1524)

    def test_says_what_an_older_program_kept_wrong(self, elm: str) -> None:
        window = models.Window.objects.get(number="101")
        window.document["colour"] = "red"
        window.save()
        with pytest.raises(store.Refused, match=r"windows\.0\.colour"):
            store.load_house(elm)

    def test_for_a_window_takes_only_what_it_needs(self, elm: str) -> None:
        house = store.load_for_window(elm, "301")
        assert [window.number for window in house.windows] == ["301"]
        assert list(house.families) == ["B"]
        assert house.walls == store.load_house(elm).walls

    @pytest.mark.parametrize("number", ["103L", "103R"])
    def test_for_a_window_takes_its_neighbours(self, elm: str, number: str) -> None:
        house = store.load_for_window(elm, number)
        assert [window.number for window in house.windows] == ["103L", "103R"]

    def test_for_a_window_that_is_not_there(self, elm: str) -> None:
        with pytest.raises(store.NotThere, match="There is no window 999 in this house"):
            store.load_for_window(elm, "999")

    def test_asks_the_database_little(self, elm: str, django_assert_max_num_queries: Any) -> None:
        with django_assert_max_num_queries(4):
            store.load_house(elm)
        with django_assert_max_num_queries(5):
            store.load_for_window(elm, "103L")
        with django_assert_max_num_queries(3):
            store.list_houses()
