"""Who changed what, compared and taken back."""

from __future__ import annotations

from django.contrib.auth.models import User
from django.test import Client
from django.urls import reverse

from sashwright.record import store


def test_the_history_of_a_house_and_of_a_window(here: Client, elm: str, bob: User) -> None:
    store.save_fields(elm, "window", "101", {"width": "33 in"}, 1, bob)
    store.save_fields(elm, "window", "102", {"room": "library"}, 1, bob)
    whole = here.get(reverse("history", args=[elm])).content.decode()
    assert "Window 101: width 32 in to 33 in" in whole
    assert "Window 102: room parlor to library" in whole
    one = here.get(
        reverse("history", args=[elm]), {"kind": "window", "key": "101"}
    ).content.decode()
    assert "width 32 in to 33 in" in one
    assert "library" not in one
    assert here.get(reverse("history", args=[elm]), {"kind": "ghost"}).status_code == 200


def test_a_change_field_by_field(here: Client, elm: str, bob: User) -> None:
    store.save_fields(elm, "window", "101", {"width": "33 in", "room": "library"}, 1, bob)
    change = store.changes(elm, limit=1)[0]
    page = here.get(reverse("compare", args=[elm, change.id])).content.decode()
    for words in ("Width of opening", "32 in", "33 in", "Room", "parlor", "library", "bob"):
        assert words in page


def test_undoing_from_the_history(here: Client, elm: str, bob: User) -> None:
    store.save_fields(elm, "window", "101", {"width": "33 in"}, 1, bob)
    change = store.changes(elm, limit=1)[0]
    back = reverse("history", args=[elm])
    answer = here.post(reverse("undo", args=[change.id]), {"next": back}, follow=True)
    page = answer.content.decode()
    assert "Undid: window 101: width 32 in to 33 in." in page
    assert store.stored(elm, "window", "101").document["width"] == "32 in"
    twice = here.post(reverse("undo", args=[change.id]), {"next": back}, follow=True)
    assert "Not undone" in twice.content.decode()
    assert here.get(reverse("undo", args=[change.id])).status_code == 405
