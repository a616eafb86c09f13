"""Several people at once, each with a connection of their own to a database in a file."""

from __future__ import annotations

import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

import pytest
from django.contrib.auth.models import User
from django.db import connection, connections

from sashwright.record import models, rows, store
from tests.factories import house_document, window_document

pytestmark = [
    pytest.mark.django_db(transaction=True),
    pytest.mark.usefixtures("database_file"),
]

WORKERS = 6


@pytest.fixture
def elm(database_file: None) -> str:
    return store.create_house(house_document(), store.local_owner())


def at_once(*acts: Callable[[], object]) -> list[object]:
    """What each act answers or raises, all of them begun at the same moment."""
    barrier = threading.Barrier(len(acts))

    def run(act: Callable[[], object]) -> object:
        barrier.wait()
        try:
            return act()
        except Exception as error:  # what is raised is the answer
            return error
        finally:
            connections.close_all()

    with ThreadPoolExecutor(len(acts)) as pool:
        return list(pool.map(run, acts))


def saving(slug: str, who: User, version: int, **fields: object) -> Callable[[], object]:
    return lambda: store.save_fields(slug, "window", "101", fields, version, who)


def test_the_file_is_set_up_for_many_readers(elm: str) -> None:
    if connection.vendor != "sqlite":
        pytest.skip("about SQLite only")
    with connection.cursor() as cursor:
        found = {
            name: cursor.execute(f"PRAGMA {name}").fetchone()[0]
            for name in ("journal_mode", "synchronous", "foreign_keys", "busy_timeout")
        }
    assert found == {
        "journal_mode": "wal", "synchronous": 1, "foreign_keys": 1, "busy_timeout": 20000,
    }  # fmt: skip


def test_different_fields_all_arrive(elm: str) -> None:
    who = store.local_owner()
    fields = {
        "room": "study", "note": "sticks", "width": "33", "height": "63", "wall": "west", "storey": 2,
    }  # fmt: skip
    answers = at_once(*(saving(elm, who, 1, **{key: fields[key]}) for key in fields))
    assert [type(answer) for answer in answers] == [store.Stored] * len(fields)
    now = store.stored(elm, "window", "101")
    assert now.version == 1 + len(fields)
    assert {key: now.document[key] for key in fields} == {
        **fields, "width": "33 in", "height": "63 in",
    }  # fmt: skip


def test_of_the_same_field_one_wins_and_the_others_are_told(elm: str) -> None:
    who = store.local_owner()
    answers = at_once(*(saving(elm, who, 1, width=f"{33 + n}") for n in range(WORKERS)))
    won = [answer for answer in answers if isinstance(answer, store.Stored)]
    lost = [answer for answer in answers if isinstance(answer, store.Conflict)]
    assert (len(won), len(lost)) == (1, WORKERS - 1)
    assert store.stored(elm, "window", "101") == won[0]
    assert {conflict.theirs.version for conflict in lost} == {2}


def test_of_the_same_number_one_is_added(elm: str) -> None:
    who = store.local_owner()
    answers = at_once(
        *(lambda: store.add_window(elm, window_document("302"), who) for _ in range(WORKERS))
    )
    assert sum(isinstance(answer, store.Stored) for answer in answers) == 1
    assert sum(isinstance(answer, store.Refused) for answer in answers) == WORKERS - 1
    assert models.Window.objects.filter(number="302").count() == 1


def test_an_undoing_is_done_once(elm: str) -> None:
    who = store.local_owner()
    store.save_fields(elm, "window", "101", {"width": "33"}, 1, who)
    change = store.changes(elm)[0].id
    answers = at_once(*(lambda: store.undo(change, who) for _ in range(WORKERS)))
    assert sum(isinstance(answer, models.Change) for answer in answers) == 1
    assert sum(isinstance(answer, store.Refused) for answer in answers) == WORKERS - 1
    assert store.stored(elm, "window", "101").document["width"] == "32 in"


@pytest.mark.parametrize("tries", [None, 0], ids=["as it is", "writers never pause"])
def test_readers_see_whole_changes(
    elm: str, tries: int | None, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The key of a family and the windows that name it always go together."""
    if tries is not None:
        monkeypatch.setattr(rows, "_TRIES", tries)
    who = store.local_owner()

    def rename() -> None:
        for turn in range(20):
            old, new = ("A", "P") if turn % 2 == 0 else ("P", "A")
            store.rename_family(elm, old, new, who)

    def read() -> set[bool]:
        return {
            {window.family for window in house.windows} <= house.families.keys()
            for house in (store.load_house(elm) for _ in range(60))
        }

    answers = at_once(rename, read, read)
    assert answers == [None, {True}, {True}]


def test_the_owner_is_made_once(database_file: None) -> None:
    answers = at_once(*(store.local_owner for _ in range(WORKERS)))
    assert {answer.pk for answer in answers if isinstance(answer, User)} == {User.objects.get().pk}
    assert all(isinstance(answer, User) for answer in answers)
