"""Entries that devices kept while out of reach: each taken in once, none lost, none in another's place."""

from __future__ import annotations

import threading
import uuid
from typing import TYPE_CHECKING, Any

import pytest
from django.db import connections
from django.utils import timezone
from hypothesis import given
from hypothesis import strategies as st

from sashwright.record import inbox, store
from sashwright.record.errors import Conflict
from sashwright.record.inbox import Taken
from sashwright.record.models import Sent, Window
from tests.factories import house_document, window_document
from tests.pictures import picture_file

if TYPE_CHECKING:
    from django.contrib.auth.models import User


def entry(kind: str, who: User, house: str, **fields: Any) -> dict[str, Any]:
    common = {"key": str(uuid.uuid4()), "kind": kind, "who": who.pk, "house": house}
    return {**common, "at": timezone.now().isoformat(), **fields}


def id_of(house: str, number: str) -> dict[str, int]:
    return {"id": Window.objects.get(house__slug=house, number=number, gone=False).pk}


def document(house: str, number: str = "101") -> dict[str, Any]:
    return store.stored(house, "window", number).document


def added(house: str, who: User, number: str = "104") -> dict[str, Any]:
    return entry("add-window", who, house, document=window_document(number))


# --- once ---------------------------------------------------------------------------


def test_sent_again_it_gets_the_same_answer_and_does_nothing(elm: str, ann: User) -> None:
    sent = added(elm, ann)
    first = inbox.take(sent, ann)
    edition = store.change_count(elm)
    second = inbox.take(sent, ann)
    assert (first.status, first.again) == ("kept", False)
    assert (second.status, second.again, second.id) == ("kept", True, first.id)
    assert store.change_count(elm) == edition
    assert store.window_numbers(elm).count("104") == 1
    assert Sent.objects.count() == 1


def test_a_key_stands_for_one_entry(elm: str, ann: User, bob: User) -> None:
    sent = added(elm, ann)
    inbox.take(sent, ann)
    other = inbox.take({**sent, "document": window_document("105")}, ann)
    assert other.status == "refused"
    assert "another entry under this key" in str(other.trouble)
    stolen = inbox.take({**sent, "who": bob.pk}, bob)
    assert stolen.status == "refused"
    assert store.window_numbers(elm)[-1] == "104"


def test_the_same_entry_on_many_lines_at_once(database_file: None, transactional_db: None) -> None:
    who = store.local_owner()
    elm = store.create_house(house_document(), who)
    sent, found = added(elm, who), []

    def send() -> None:
        try:
            found.append(inbox.take(sent, who))
        finally:
            connections.close_all()

    lines = [threading.Thread(target=send) for _ in range(6)]
    for line in lines:
        line.start()
    for line in lines:
        line.join()
    assert [each.status for each in found] == ["kept"] * 6
    assert [each.again for each in found].count(False) == 1
    assert store.window_numbers(elm).count("104") == 1


def test_what_is_refused_leaves_no_trace_and_may_come_again(elm: str, ann: User) -> None:
    sent = added(elm, ann, "101")
    refused = inbox.take(sent, ann)
    assert refused.status == "refused"
    assert "number" in str(refused.trouble)
    assert not Sent.objects.exists()
    store.remove_window(elm, "101", ann)
    assert inbox.take(sent, ann).status == "kept"


@pytest.mark.parametrize(
    "wrong",
    [
        {}, {"kind": "spoon"}, {"key": "1"}, {"at": "yesterday"}, {"at": "2026-05-01T10:00:00"},
        {"document": 3}, {"more": 1}, {"house": "nowhere"}, {"document": {"number": "104"}},
    ],
)  # fmt: skip
def test_nonsense_is_refused_with_a_sentence(elm: str, ann: User, wrong: dict[str, Any]) -> None:
    sent = {**added(elm, ann), **wrong} if wrong else {}
    edition = store.change_count(elm)
    answer = inbox.take(sent, ann)
    assert answer.status == "refused"
    assert str(answer.trouble)
    assert store.change_count(elm) == edition


def test_what_somebody_else_wrote_down_is_not_sent_in_ones_own_name(
    elm: str, ann: User, bob: User
) -> None:
    answer = inbox.take(added(elm, ann), bob)
    assert answer.status == "refused"
    assert "somebody else" in str(answer.trouble)


# --- fields ---------------------------------------------------------------------------


def fields(
    house: str, who: User, base: int, was: dict[str, Any] | None = None, **to: Any
) -> dict[str, Any]:
    window = id_of(house, "101")
    return entry("set-fields", who, house, window=window, base=base, was=was or {}, fields=to)


def test_different_fields_are_merged_and_the_same_is_in_dispute(
    elm: str, ann: User, bob: User
) -> None:
    base = store.stored(elm, "window", "101").version
    assert inbox.take(fields(elm, ann, base, room="library", width="33"), ann).status == "kept"
    assert inbox.take(fields(elm, bob, base, height="60"), bob).status == "merged"
    late = inbox.take(fields(elm, bob, base, room="study", note="sticks"), bob)
    assert late.status == "conflict"
    assert isinstance(late.trouble, Conflict)
    assert [(f.path, f.mine, f.theirs) for f in late.trouble.fields] == [
        ("room", "study", "library")
    ]
    now = document(elm)
    assert (now["room"], now["width"], now["height"]) == ("library", "33 in", "60 in")
    assert now["note"] == ""
    # The person decides for their own, having seen the other's.
    assert late.window is not None
    mine = fields(elm, bob, late.window.version, room="study", note="sticks")
    assert inbox.take(mine, bob).status == "kept"
    assert document(elm)["room"] == "study"


def test_one_device_does_not_dispute_with_itself(elm: str, ann: User) -> None:
    base = store.stored(elm, "window", "101").version
    chain = [
        fields(elm, ann, base, room="library"),
        fields(elm, ann, base, {"room": "library"}, room="study"),
        fields(elm, ann, base, {"room": "study"}, width="33"),
        fields(elm, ann, base, {"room": "study", "width": "33"}, width="32"),
    ]
    assert [inbox.take(each, ann).status for each in chain] == ["kept"] * 4
    assert (document(elm)["room"], document(elm)["width"]) == ("study", "32 in")


def test_a_chain_still_sees_what_another_did_in_between(elm: str, ann: User, bob: User) -> None:
    base = store.stored(elm, "window", "101").version
    first, second, third = (
        fields(elm, ann, base, room="library"),
        fields(elm, ann, base, {"room": "library"}, height="60"),
        fields(elm, ann, base, {"room": "library", "height": "60"}, note="sticks"),
    )
    inbox.take(first, ann)
    inbox.take(fields(elm, bob, base, height="61"), bob)
    assert inbox.take(second, ann).status == "conflict"
    # Theirs stays where only what was in dispute before is laid under.
    assert inbox.take(third, ann).status == "merged"
    assert (document(elm)["height"], document(elm)["note"]) == ("61 in", "sticks")


def test_what_is_entered_stays_with_its_window_when_that_gets_another_number(
    elm: str, ann: User, bob: User
) -> None:
    base = store.stored(elm, "window", "101").version
    sent = fields(elm, ann, base, room="library")
    store.renumber_window(elm, "101", "110", bob)
    store.renumber_window(elm, "102", "101", bob)
    assert inbox.take(sent, ann).status in ("kept", "merged")
    assert document(elm, "110")["room"] == "library"
    assert document(elm, "101")["room"] == "parlor"


def test_a_removed_window_refuses_and_says_so(elm: str, ann: User, bob: User) -> None:
    sent = fields(elm, ann, 1, room="library")
    change = store.remove_window(elm, "101", bob)
    answer = inbox.take(sent, ann)
    assert answer.status == "refused"
    assert str(answer.trouble) == "Window 101 was removed; the history can put it back."
    store.undo(change.pk, bob)
    assert inbox.take(sent, ann).status in ("kept", "merged")


VALUES = {"room": st.sampled_from(["a", "b", "c"]), "note": st.sampled_from(["x", "y", "z"]),
          "width": st.sampled_from(["31 in", "32 in", "33 in"])}  # fmt: skip
STEP = st.tuples(st.booleans(), st.sampled_from(sorted(VALUES)), st.integers(0, 2))


@pytest.mark.django_db
@given(steps=st.lists(STEP, max_size=7))
def test_whatever_two_devices_do_nothing_is_overwritten_unseen(
    steps: list[tuple[bool, str, int]],
) -> None:
    """Two devices edit in any order from one version, the second sends after the first.

    A plain model, field by field: the first device's last value stands, unless the second one changed the
    field too; then it is in dispute unless both want the same.
    """
    who = store.local_owner()
    elm = store.create_house(house_document(), who)
    base = store.stored(elm, "window", "101").version
    start = document(elm)
    choices = {"room": "abc", "note": "xyz", "width": ("31 in", "32 in", "33 in")}
    laid: list[dict[str, Any]] = [{}, {}]
    outbox: list[list[dict[str, Any]]] = [[], []]
    for second, path, at in steps:
        value = choices[path][at]
        outbox[second].append(fields(elm, who, base, dict(laid[second]), **{path: value}))
        laid[second][path] = value
    for sent in outbox[0]:
        assert inbox.take(sent, who).status == "kept"
    expected = {path: laid[0].get(path, start[path]) for path in VALUES}
    seen = {path: start[path] for path in VALUES}
    for sent in outbox[1]:
        ((path, value),) = sent["fields"].items()
        answer = inbox.take(sent, who)
        if expected[path] in (seen[path], value):
            assert answer.status in ("kept", "merged")
            expected[path] = value
        elif value == seen[path]:
            assert answer.status in ("kept", "merged")
        else:
            assert answer.status == "conflict"
        seen[path] = value
        assert {name: document(elm)[name] for name in VALUES} == expected


# --- windows made on the device -------------------------------------------------------


def test_what_is_on_a_window_that_the_device_made(elm: str, ann: User) -> None:
    made = added(elm, ann)
    window = {"made": made["key"]}
    found = {"on": "lower.bottom_rail", "fault": "decay", "length": "8 in", "probe": "1/2 in"}
    follow = [
        entry("set-fields", ann, elm, window=window, fields={"note": "paint thick"}),
        entry("finding", ann, elm, window=window, found=found),
        entry("rest", ann, elm, window=window, act="as-typical"),
        entry("reading", ann, elm, window=window, which="lower", mass="18 lb 6"),
    ]
    early = inbox.take(follow[0], ann)
    assert early.status == "refused"
    assert "not come in" in str(early.trouble)
    answers = [inbox.take(each, ann) for each in [made, *follow]]
    assert [each.status for each in answers] == ["kept"] * 5
    photo = entry("photo", ann, elm, window=window, component="lower.bottom_rail")
    assert inbox.take(photo, ann, picture_file()).status == "kept"
    now = document(elm, "104")
    assert now["note"] == "paint thick"
    assert now["condition"]["found"][0]["probe"] == "1/2 in"
    assert (now["condition"]["by"], now["condition"]["as_typical"]) == ("Ann Alder", True)
    assert now["measured"]["lower"]["mass"] == "18 lb 6 oz"
    assert [row.window for row in store.photographs(elm)] == ["104"]


# --- survey ---------------------------------------------------------------------------


def test_findings_of_two_surveyors_are_both_kept(elm: str, ann: User, bob: User) -> None:
    window = id_of(elm, "101")
    # As the device says it; the record says half an inch otherwise.
    decay = {"on": "lower.bottom_rail", "fault": "decay", "length": "8.5 in"}
    split = {"on": "lower.left_stile", "fault": "split"}
    for who, found in ((ann, decay), (bob, split)):
        assert (
            inbox.take(entry("finding", who, elm, window=window, found=found), who).status == "kept"
        )
    assert [each["fault"] for each in document(elm)["condition"]["found"]] == ["decay", "split"]
    sound = entry("sound", bob, elm, window=window, on="lower.left_stile")
    assert inbox.take(sound, bob).status == "kept"
    assert [each["fault"] for each in document(elm)["condition"]["found"]] == ["decay"]
    gone = entry("finding", bob, elm, window=window, found=decay, act="remove")
    assert inbox.take(gone, bob).status == "kept"
    assert document(elm)["condition"]["found"] == []
    late = inbox.take({**gone, "key": str(uuid.uuid4())}, bob)
    assert late.status == "refused"
    all_sound = entry("rest", bob, elm, window=window, act="all-sound")
    assert inbox.take(all_sound, bob).status == "kept"
    assert document(elm)["condition"]["as_typical"] is False


def test_a_finding_must_fit_the_window(elm: str, ann: User) -> None:
    wrong = {"on": "lower.bottom_rail", "fault": "broken-pane"}
    answer = inbox.take(entry("finding", ann, elm, window=id_of(elm, "101"), found=wrong), ann)
    assert answer.status == "refused"
    assert "found" in document(elm)["condition"]


# --- readings -------------------------------------------------------------------------


def test_a_reading_that_comes_late_does_not_replace_a_later_one(
    elm: str, ann: User, bob: User
) -> None:
    sent = entry(
        "reading", ann, elm, window=id_of(elm, "101"), which="lower", mass="18 lb",
        at="2026-05-01T09:00:00+00:00",
    )  # fmt: skip
    store.add_reading(elm, "101", "lower", 9.0, "finished", bob)
    assert inbox.take(sent, ann).status == "kept"
    assert document(elm)["measured"]["lower"]["mass"] == "9 kg"
    assert [row.value_kg for row in store.readings(elm)] == pytest.approx([9.0, 8.164663])
    assert store.readings(elm)[1].when.isoformat() == "2026-05-01T09:00:00+00:00"
    bad = inbox.take({**sent, "key": str(uuid.uuid4()), "mass": "heavy"}, ann)
    assert "expected a mass" in str(bad.trouble)


# --- photographs and undoing ----------------------------------------------------------


def test_a_photograph_comes_once_and_without_its_place(elm: str, ann: User) -> None:
    picture = picture_file(place=True)
    sent = entry("photo", ann, elm, window=id_of(elm, "101"), note="soft")
    assert inbox.take(sent, ann).status == "refused"
    assert [inbox.take(sent, ann, picture).again for _ in range(3)] == [False, True, True]
    (row,) = store.photographs(elm)
    path, _ = store.photograph_file(elm, row.key)
    assert (row.key, row.note) == (sent["key"], "soft")
    assert b"\x88\x25" not in path.read_bytes()[:400]
    other = inbox.take(sent, ann, picture_file(seed=2))
    assert other.status == "refused"
    broken = inbox.take({**sent, "key": str(uuid.uuid4())}, ann, b"nothing")
    assert broken.status == "refused"


def test_an_entry_is_taken_back_whether_its_answer_came_or_not(elm: str, ann: User) -> None:
    made = added(elm, ann)
    back = entry("undo", ann, elm, of=made["key"])
    assert inbox.take(back, ann).status == "refused"
    inbox.take(made, ann)
    assert inbox.take(back, ann).status == "kept"
    assert "104" not in store.window_numbers(elm)
    assert inbox.take(back, ann).again
    again: Taken = inbox.take(made, ann)
    assert (again.status, again.window) == ("kept", None)
    assert "104" not in store.window_numbers(elm)
