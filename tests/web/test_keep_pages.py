"""What comes next: the calendar of a house, visits, all houses, a window's whole history."""

from __future__ import annotations

import json
from datetime import timedelta

import pytest
from django.contrib.auth.models import User
from django.test import Client
from django.utils import timezone
from icalendar import Calendar

from sashwright.record import store
from sashwright.record.errors import NotThere, Refused
from sashwright.record.visits import add_visit, change_visit, remove_visit, visits

DAY = "2026-04-07"


@pytest.fixture
def seen(elm: str, owner: User) -> str:
    """A house of which one window was surveyed, with worn paint."""
    version = store.stored(elm, "window", "101").version
    condition = {
        "condition": {
            "on": DAY,
            "by": "the surveyor",
            "found": [{"on": "frame.paint", "fault": "paint-worn"}],
        }
    }
    store.save_fields(elm, "window", "101", condition, version, owner)
    return elm


def text(client: Client, address: str, status: int = 200) -> str:
    answer = client.get(address)
    assert answer.status_code == status, address
    return answer.content.decode()


def items(client: Client, slug: str, number: str = "101") -> dict[str, dict[str, object]]:
    found = json.loads(text(client, f"/{slug}/answers/keep.json?window={number}"))
    return {each["what"]: each for each in found["windows"][0]["values"]["items"]}


# --- visits in the record ---------------------------------------------------------


def test_a_visit_is_kept_changed_removed_and_undone(elm: str, owner: User) -> None:
    row = add_visit(elm, DAY, [{"what": "cord", "window": "101"}], owner, by="Ada", note="windy")
    assert (row.key, row.form.by, row.done[0].window) == ("1", "Ada", "101")
    assert store.changes(elm)[0].says == f"visit {DAY}: 1 thing done at window 101"
    changed = change_visit(elm, "1", {"note": "calm"}, row.version, owner)
    assert changed.form.note == "calm"
    change = remove_visit(elm, "1", owner)
    assert visits(elm) == []
    store.undo(change.pk, owner)
    assert [each.key for each in visits(elm)] == ["1"]
    assert add_visit(elm, DAY, [], owner, note="only looked").key == "2"
    assert [each.key for each in visits(elm, "102")] == []


def test_a_visit_of_nothing_and_to_nowhere(elm: str, owner: User) -> None:
    with pytest.raises(Refused, match="nothing done"):
        add_visit(elm, DAY, [], owner)
    with pytest.raises(NotThere, match="no window 999"):
        add_visit(elm, DAY, [{"what": "cord", "window": "999"}], owner)
    with pytest.raises(Refused):
        add_visit(elm, "some day", [{"what": "cord"}], owner)
    assert visits(elm) == []


# --- pages ------------------------------------------------------------------------


def test_due_now_and_year_by_year(here: Client, seen: str) -> None:
    page = text(here, f"/{seen}/keep")
    assert "Due now" in page
    assert "found faulty" in page
    assert "Year by year" in page
    assert f'href="/{seen}/windows/101/history"' in page


def test_a_visit_sets_the_clock_again(here: Client, seen: str) -> None:
    assert items(here, seen)["paint"]["status"] == "due"
    page = text(here, f"/{seen}/keep/visit")
    assert 'value="paint@101"' in page
    today = timezone.localdate().isoformat()
    posted = {
        "on": today, "by": "Ada", "done": ["paint@101", "wash@all"], "own": "Broken pane replaced",
        "own_window": "102", "note": "a nest in the head",
    }  # fmt: skip
    assert here.post(f"/{seen}/keep/visit", posted).status_code == 302
    (row,) = visits(seen)
    assert {(done.what, done.window) for done in row.done} == {
        ("paint", "101"), ("wash", None), ("Broken pane replaced", "102"),
    }  # fmt: skip
    assert items(here, seen)["paint"]["status"] == "later"
    assert items(here, seen)["paint"]["last"] == today
    assert items(here, seen, "102")["wash"]["last"] == today
    page = text(here, f"/{seen}/keep")
    assert "a nest in the head" in page


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ({}, "what was done, or a note"),
        ({"note": "so", "on": "2999-01-01"}, "not come yet"),
        ({"note": "so", "on": "yesterday"}, "such as 2026-08-15"),
        ({"done": "paint@999"}, "no window 999"),
    ],
)
def test_a_visit_that_cannot_be(here: Client, seen: str, fields: dict[str, str], says: str) -> None:
    answer = here.post(f"/{seen}/keep/visit", fields)
    assert answer.status_code == 422
    assert says in answer.content.decode()
    assert visits(seen) == []


def test_the_calendar_file(here: Client, seen: str) -> None:
    answer = here.get(f"/{seen}/keep.ics")
    assert answer["Content-Type"].startswith("text/calendar")
    events = Calendar.from_ical(answer.content).walk("VEVENT")
    assert any("Paint outside: 101" in str(event["summary"]) for event in events)


def test_due_in_all_houses(here: Client, seen: str, owner: User) -> None:
    other = store.create_house({"name": "Bare House"}, owner)
    page = text(here, "/due")
    assert f'href="/{seen}/keep"' in page
    assert f'href="/{other}/keep"' not in page


def test_the_whole_history_of_a_window(here: Client, seen: str, owner: User) -> None:
    at = timezone.now() - timedelta(days=1)
    store.set_stage(seen, "101", "upper", "removed", owner, at=at)
    store.add_reading(seen, "101", "upper", 7.0, "before painting", owner)
    add_visit(seen, DAY, [{"what": "wash"}], owner, by="Ada")
    page = text(here, f"/{seen}/windows/101/history")
    for words in (
        "Surveyed: 1 finding", "Upper sash removed", "Upper sash weighed", "Wash and wax", "Ada",
        "condition",
    ):  # fmt: skip
        assert words in page, words
    order = [page.index(words) for words in ("Upper sash removed.", "Surveyed: 1 finding")]
    assert order == sorted(order), "the last first"
    without = text(here, f"/{seen}/windows/101/history?without=changes")
    assert "Upper sash removed." in without
    assert without.count('<span class="kind">Change</span>') == 0
    assert page.count('<span class="kind">Change</span>') > 0
    assert "There is no window 999" in text(here, f"/{seen}/windows/999/history", 404)


def test_whoever_only_looks_notes_no_visit(client: Client, seen: str, bob: User) -> None:
    client.force_login(bob)
    assert client.get(f"/{seen}/keep").status_code == 200
    assert client.post(f"/{seen}/keep/visit", {"note": "hello"}).status_code == 403
