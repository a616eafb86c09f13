"""A room renamed: its windows and doors go with it, in one change."""

from __future__ import annotations

import pytest
from django.contrib.auth.models import User

from sashwright.record import store
from tests.airhouse import airy_document


@pytest.fixture
def airy(ann: User) -> str:
    return store.create_house(airy_document(), ann)


def test_windows_and_doors_go_along(airy: str, ann: User) -> None:
    before = base = store.export_document(airy)
    count = len(store.changes(airy))
    store.rename_room(airy, "chamber", "north room", ann)
    house = store.load_house(airy)
    assert list(house.rooms) == ["parlor", "kitchen", "north room"]
    assert {w.number for w in house.windows if w.room == "north room"} == {"201", "202"}
    assert [door.between for door in house.doors] == [
        ("parlor", "kitchen"), ("parlor", "north room"),
    ]  # fmt: skip
    changes = store.changes(airy)
    assert len(changes) == count + 1
    assert changes[0].says == "room chamber renamed north room"
    store.undo(changes[0].id, ann)
    assert store.export_document(airy) == before == base


@pytest.mark.parametrize("new", ["kitchen", "", "x" * 65])
def test_a_name_that_is_taken_or_none_is_refused(airy: str, ann: User, new: str) -> None:
    before = store.export_document(airy)
    with pytest.raises(store.Refused):
        store.rename_room(airy, "chamber", new, ann)
    assert store.export_document(airy) == before


def test_there_must_be_such_a_room(airy: str, ann: User) -> None:
    with pytest.raises(store.NotThere, match="There is no room ballroom"):
        store.rename_room(airy, "ballroom", "hall", ann)


def test_the_same_name_is_no_change(airy: str, ann: User) -> None:
    edition = store.changes(airy)[0].id
    store.rename_room(airy, "chamber", "chamber", ann)
    assert store.changes(airy)[0].id == edition
